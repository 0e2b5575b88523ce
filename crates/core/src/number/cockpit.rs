//! Cockpit: bar, levers, tape, computer, and where the hands are.

use super::{Across, Area, BarPoint, Forms, Line, SaddlePoint, Sides, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Hood trough forward of the bottom bracket.
    HOOD_X = {
        id: "hood-x",
        name: "hood, forward of the bottom bracket",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "Level distance from the bottom-bracket centre forward to the lowest point of the hood's trough, on its centre line, bare hood.",
        how: "Bike level on its tyres; plumb line or line laser through the bottom-bracket centre, steel rule to the trough.",
        tolerance: tolerance(2.0),
        customary: customary(430.0, 600.0),
        forms: Forms::PLAIN,
    }
    /// Hood trough above the bottom bracket.
    HOOD_Y = {
        id: "hood-y",
        name: "hood, above the bottom bracket",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "Height of the lowest point of the hood's trough, on its centre line, above the bottom-bracket centre, bare hood.",
        how: "Bike level on its tyres; height gauge from the floor to the trough, less the height of the bottom-bracket centre.",
        tolerance: tolerance(2.0),
        customary: customary(520.0, 720.0),
        forms: Forms::PLAIN,
    }
    /// Bar clamp centre forward of the bottom bracket.
    BAR_X = {
        id: "bar-x",
        name: "bar, forward of the bottom bracket",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "Level distance from the bottom-bracket centre forward to the centre of the bar in its clamp.",
        how: "Plumb line through the bottom-bracket centre; rule to the front edge of the bar, less half its diameter.",
        tolerance: tolerance(2.0),
        customary: customary(380.0, 530.0),
        forms: Forms::PLAIN,
    }
    /// Bar clamp centre above the bottom bracket.
    BAR_Y = {
        id: "bar-y",
        name: "bar, above the bottom bracket",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "Height of the centre of the bar in its clamp above the bottom-bracket centre.",
        how: "Height gauge to the top of the bare bar beside the clamp, less half its diameter and the height of the bottom-bracket centre.",
        tolerance: tolerance(2.0),
        customary: customary(500.0, 720.0),
        forms: Forms::PLAIN,
    }
    /// Bar ahead of the front axle.
    BAR_AHEAD = {
        id: "bar-ahead",
        name: "bar, ahead of the front axle",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "Level distance from the front axle forward to the foremost point of the bare bar, levers left out; behind the axle is negative.",
        how: "Plumb line at the front of the bend; rule to the axle; bike level, wheel straight.",
        tolerance: tolerance(3.0),
        customary: customary(-120.0, 80.0),
        forms: Forms::PLAIN,
    }
    /// Saddle reference to hood trough.
    SADDLE_TO_HOOD = {
        id: "saddle-to-hood",
        name: "saddle to hood",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "Straight distance, seen from the side, from the saddle's reference point (the middle of its top where it is 80 mm wide) to the lowest point of the hood's trough.",
        how: "Tape from the marked reference point to the trough, held in the bike's plane; a check on the four co-ordinates.",
        tolerance: tolerance(2.0),
        customary: customary(600.0, 820.0),
        forms: Forms {
            line: &[Line::Straight, Line::Horizontal],
            from: &[SaddlePoint::Width, SaddlePoint::Nose],
            to: &[BarPoint::HoodTrough],
            ..Forms::PLAIN
        },
    }
    /// Saddle nose to bar.
    SADDLE_TO_BAR = {
        id: "saddle-to-bar",
        name: "saddle to bar",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "Straight distance, seen from the side, from the saddle's nose to the centre of the bar in its clamp.",
        how: "Tape from the nose to the front edge of the bar beside the clamp, less half the bar's diameter.",
        tolerance: tolerance(2.0),
        customary: customary(440.0, 680.0),
        forms: Forms {
            line: &[Line::Straight, Line::Horizontal],
            from: &[SaddlePoint::Nose],
            to: &[BarPoint::ClampCentre, BarPoint::BarFront, BarPoint::BarRear],
            ..Forms::PLAIN
        },
    }
    /// Saddle above bar.
    SADDLE_BAR_DROP = {
        id: "saddle-bar-drop",
        name: "drop, saddle to bar",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "How far the centre of the bar in its clamp lies below the saddle's reference point.",
        how: "Difference of the two heights above the floor; straightedge and level from the saddle as a check.",
        tolerance: tolerance(2.0),
        customary: customary(-30.0, 180.0),
        forms: Forms { to: &[BarPoint::ClampCentre, BarPoint::BarTop, BarPoint::HoodTrough], ..Forms::PLAIN },
    }
    /// Saddle above hood.
    SADDLE_HOOD_DROP = {
        id: "saddle-hood-drop",
        name: "drop, saddle to hood",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "How far the lowest point of the hood's trough lies below the saddle's reference point.",
        how: "Difference of the two heights above the floor.",
        tolerance: tolerance(2.0),
        customary: customary(0.0, 160.0),
        forms: Forms::PLAIN,
    }
    /// Bar width at the hoods.
    BAR_WIDTH = {
        id: "bar-width",
        name: "bar width at the hoods",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "Across the bar at the middle of the lever clamps, centre of the tube to centre of the tube.",
        how: "Caliper or rule outside to outside on the bare bar beside the clamps, less one tube diameter.",
        tolerance: tolerance(1.0),
        customary: customary(320.0, 460.0),
        forms: Forms { across: &[Across::Centres, Across::Outsides], ..Forms::PLAIN },
    }
    /// Bar width at the ends.
    BAR_WIDTH_ENDS = {
        id: "bar-width-ends",
        name: "bar width at the ends",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "Across the open ends of the bar, centre of the tube to centre of the tube.",
        how: "Rule outside to outside at the bare ends, less one tube diameter.",
        tolerance: tolerance(2.0),
        customary: customary(340.0, 560.0),
        forms: Forms { across: &[Across::Centres, Across::Outsides], ..Forms::PLAIN },
    }
    /// Bar width over everything.
    BAR_WIDTH_OUTSIDE = {
        id: "bar-width-outside",
        name: "bar width, outside to outside",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "Greatest width of the bare bar, outside to outside, square to the bike, wherever that is.",
        how: "Caliper or two squares on a straight rule, at the widest place, no tape.",
        tolerance: tolerance(1.0),
        customary: customary(340.0, 600.0),
        forms: Forms::PLAIN,
    }
    /// Flare of the drops.
    BAR_FLARE = {
        id: "bar-flare",
        name: "bar flare, hood to drop",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "How far the open end of the bar stands further out than the bar at the middle of the lever clamp, square to the bike, centre of the tube to centre of the tube.",
        how: "Rule from the bike's plane to both places, outsides of the tube.",
        tolerance: tolerance(1.0),
        customary: customary(-10.0, 100.0),
        forms: Forms::PLAIN,
    }
    /// Bar roll.
    BAR_ROLL = {
        id: "bar-roll",
        name: "bar roll",
        kind: Kind::Angle,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "How far the bar is turned in its clamp from the attitude in which its maker gives reach and drop; nose up positive.",
        how: "Digital level on the bar's end or ramp, zeroed on the level bike; the angle there less the angle the maker's drawing shows.",
        tolerance: tolerance(0.5),
        customary: customary(-10.0, 10.0),
        forms: Forms::PLAIN,
    }
    /// Hood gap.
    HOOD_GAP = {
        id: "hood-gap",
        name: "hood gap, inside to inside",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "Distance between the inner faces of the two hoods, square to the bike, at the lowest points of the troughs.",
        how: "Inside caliper or two rules slid apart between the bare hoods.",
        tolerance: tolerance(1.0),
        customary: customary(260.0, 420.0),
        forms: Forms::PLAIN,
    }
    /// Hood toe-in.
    HOOD_TOE_IN = {
        id: "hood-toe-in",
        name: "hood toe-in",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "How far the tip of the hood stands inward of its root, square to the bike.",
        how: "Rule from the bike's plane, or half the difference between the two widths at tips and roots when both sides are alike.",
        tolerance: tolerance(1.0),
        customary: customary(-10.0, 40.0),
        forms: Forms::PLAIN,
    }
    /// Lean of the hood.
    HOOD_LEAN = {
        id: "hood-lean",
        name: "hood lean, inward",
        kind: Kind::Angle,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "Angle between the plane of the hood's body and the plane of the drop it sits on; tip inward is positive.",
        how: "Digital level or angle gauge across the hood and across the drop below it; the difference counts.",
        tolerance: tolerance(1.0),
        customary: customary(-5.0, 20.0),
        forms: Forms::PLAIN,
    }
    /// Lever from the bar's end.
    LEVER_FROM_END = {
        id: "lever-from-end",
        name: "lever, from the bar's end",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "Along the outside of the bare bar from its open end, no plug, to where the underside of the hood meets the bar.",
        how: "Flexible tape or steel rule laid along the outer side of the bend; both sides with the same tape.",
        tolerance: tolerance(1.0),
        customary: customary(120.0, 330.0),
        forms: Forms::PLAIN,
    }
    /// Lever reach.
    LEVER_REACH = {
        id: "lever-reach",
        name: "lever reach",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "From the front of the bare bar to the inside of the brake blade where the finger lies, blade at rest.",
        how: "Rule square to the bar at the finger's place.",
        tolerance: tolerance(1.0),
        customary: customary(30.0, 110.0),
        forms: Forms::PLAIN,
    }
    /// Tape turns.
    TAPE_TURNS = {
        id: "tape-turns",
        name: "tape turns, end to lever",
        kind: Kind::Plain,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "Full turns of bar tape from the bar's end to the lever's clamp.",
        how: "Count the edges along the underside.",
        tolerance: tolerance(0.5),
        customary: customary(5.0, 30.0),
        forms: Forms::PLAIN,
    }
    /// Least overlap of the tape.
    TAPE_OVERLAP = {
        id: "tape-overlap",
        name: "tape overlap, outside of the bend",
        kind: Kind::Percent,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "The least part of the tape's width, as wound, that lies on the turn before: on the outside of the tightest bend.",
        how: "Rule along the outside of the bend, edge to edge of five turns; a fifth of it, less the width of the tape, over the width.",
        tolerance: tolerance(5.0),
        customary: customary(0.0, 70.0),
        forms: Forms::PLAIN,
    }
    /// Tape left over.
    TAPE_LEFT = {
        id: "tape-left",
        name: "tape left over",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "What is left of one side's roll when it has been wound, passed the lever and been cut at its stop, unstretched.",
        how: "Lay what was cut off flat and measure it.",
        tolerance: tolerance(100.0),
        customary: customary(-200.0, 1200.0),
        forms: Forms::PLAIN,
    }
    /// Tape stop.
    TAPE_STOP = {
        id: "tape-stop",
        name: "tape stop, from the mount's centre",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        definition: "From the centre of the computer mount, or of the stem where there is none, along the tops to the edge of the tape.",
        how: "Rule along the tops.",
        tolerance: tolerance(1.0),
        customary: customary(20.0, 160.0),
        forms: Forms::PLAIN,
    }
    /// Computer offset.
    COMPUTER_OFFSET = {
        id: "computer-offset",
        name: "computer, ahead of the bar",
        kind: Kind::Length,
        area: Area::Cockpit,
        sides: Sides::One,
        definition: "Level distance from the centre of the bar in its clamp forward to the centre of the computer.",
        how: "Rule along the mount.",
        tolerance: tolerance(2.0),
        customary: customary(-120.0, 140.0),
        forms: Forms::PLAIN,
    }
}
