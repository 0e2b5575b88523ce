//! Frame and routing: how the bike stands on its wheels.

use super::{Area, Forms, Sides, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Wheelbase.
    WHEELBASE = {
        id: "wheelbase",
        name: "wheelbase",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Along the ground between the two points under the axles, wheels straight.",
        how: "Rule axle to axle on both sides, wheels straight; the two agree within 1 mm.",
        tolerance: tolerance(3.0),
        customary: customary(930.0, 1060.0),
        forms: Forms::PLAIN,
    }
    /// Front centre.
    FRONT_CENTRE = {
        id: "front-centre",
        name: "front centre",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Straight from the bottom-bracket centre to the front axle.",
        how: "Steel tape, bottom-bracket axle to front axle, wheel straight.",
        tolerance: tolerance(3.0),
        customary: customary(545.0, 660.0),
        forms: Forms::PLAIN,
    }
    /// Trail.
    TRAIL = {
        id: "trail",
        name: "trail",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "On the ground, how far the tyre's contact lies behind the point where the steering axis meets the ground.",
        how: "Worked out from head angle, fork offset and wheel radius; it is not taken with a tape.",
        tolerance: tolerance(2.0),
        customary: customary(45.0, 72.0),
        forms: Forms::PLAIN,
    }
    /// Wheel flop.
    WHEEL_FLOP = {
        id: "wheel-flop",
        name: "wheel flop",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Trail times the sine and cosine of the head angle: how far the head of the bike would sink with the bar turned square.",
        how: "Worked out; it is not taken with a tape.",
        tolerance: tolerance(1.0),
        customary: customary(10.0, 24.0),
        forms: Forms::PLAIN,
    }
    /// Head angle as the bike stands.
    HEAD_ANGLE = {
        id: "head-angle",
        name: "head angle as it stands",
        kind: Kind::Angle,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Angle of the steering axis to the ground at the rear of the head tube, on the fitted tyres.",
        how: "Digital level along the head tube, zeroed on the floor, bike unloaded.",
        tolerance: tolerance(0.5),
        customary: customary(69.0, 75.5),
        forms: Forms::PLAIN,
    }
    /// Bottom-bracket height.
    BB_HEIGHT = {
        id: "bb-height",
        name: "bottom-bracket height",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Height of the bottom-bracket centre above the ground, tyres fitted, no rider.",
        how: "Height gauge to the crank bolt's centre.",
        tolerance: tolerance(3.0),
        customary: customary(255.0, 290.0),
        forms: Forms::PLAIN,
    }
    /// Front axle ahead of the bottom bracket.
    FRONT_AXLE_AHEAD = {
        id: "front-axle-ahead",
        name: "front axle, ahead of the bottom bracket",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Level distance from the bottom-bracket centre forward to the front axle, wheel straight.",
        how: "Plumb lines at bottom bracket and axle, rule along the floor.",
        tolerance: tolerance(2.0),
        customary: customary(540.0, 680.0),
        forms: Forms::PLAIN,
    }
    /// Rear axle behind the bottom bracket.
    REAR_AXLE_BEHIND = {
        id: "rear-axle-behind",
        name: "rear axle, behind the bottom bracket",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Level distance from the bottom-bracket centre back to the rear axle.",
        how: "Plumb lines at bottom bracket and axle, rule along the floor.",
        tolerance: tolerance(2.0),
        customary: customary(390.0, 450.0),
        forms: Forms::PLAIN,
    }
    /// Length over everything.
    BIKE_LENGTH = {
        id: "bike-length",
        name: "length over the wheels",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Level distance from the foremost point of the front tyre to the rearmost point of the rear tyre, wheel straight.",
        how: "Squares against both tyres, tape along the floor.",
        tolerance: tolerance(5.0),
        customary: customary(1500.0, 1800.0),
        forms: Forms::PLAIN,
    }
    /// Width inside the fork.
    FORK_INSIDE = {
        id: "fork-inside",
        name: "fork, inside width",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Greatest distance between the inner faces of the fork's blades, anywhere along them.",
        how: "Inside caliper, wheel out.",
        tolerance: tolerance(0.5),
        customary: customary(60.0, 120.0),
        forms: Forms::PLAIN,
    }
    /// Width inside the rear triangle.
    STAYS_INSIDE = {
        id: "stays-inside",
        name: "rear triangle, inside width",
        kind: Kind::Length,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Greatest distance between the inner faces of the stays, anywhere along them.",
        how: "Inside caliper, wheel out.",
        tolerance: tolerance(0.5),
        customary: customary(60.0, 150.0),
        forms: Forms::PLAIN,
    }
    /// Toe overlap: steer angle at contact.
    TOE_CONTACT = {
        id: "toe-overlap",
        name: "steer angle at which the toe meets the tyre",
        kind: Kind::Angle,
        area: Area::FrameAndRouting,
        sides: Sides::One,
        definition: "Smallest angle of the bar at which the front tyre can touch the toe of a shoe, over the whole turn of the crank; 60 stands for 60 or more.",
        how: "Shoe on the forward pedal, bar turned by hand until the tyre touches; angle by phone or gauge on the stem.",
        tolerance: tolerance(1.5),
        customary: None,
        forms: Forms::PLAIN,
    }
}
