//! Transmission: cranks and pedals, gears, chain, derailleurs.

use super::{Area, Forms, Sides, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Crank length.
    CRANK_LENGTH = {
        id: "crank-length",
        name: "crank length",
        kind: Kind::Length,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Bottom-bracket centre to pedal-axle centre.",
        how: "Printed on the arm.",
        tolerance: tolerance(0.5),
        customary: customary(145.0, 180.0),
        forms: Forms::PLAIN,
    }
    /// Pedal clearance angle.
    PEDAL_CLEARANCE = {
        id: "pedal-clearance",
        name: "lean at which the pedal meets the ground",
        kind: Kind::Angle,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Lean of the bike at which the lower outer edge of a pedal at the bottom of its stroke touches the ground, tyre not pressed in.",
        how: "Worked out; as a check lean the bike against a digital level until the pedal touches.",
        tolerance: tolerance(1.0),
        customary: None,
        forms: Forms::PLAIN,
    }
    /// Chain line.
    CHAIN_LINE = {
        id: "chain-line",
        name: "chain line",
        kind: Kind::Length,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Bike's plane to the middle between the rings, square across; with one ring, to the middle of its teeth.",
        how: "Seat tube's middle to the ring's teeth by rule, both rings, halved; or frame face to ring by caliper.",
        tolerance: tolerance(0.5),
        customary: customary(40.0, 52.0),
        forms: Forms::PLAIN,
    }
    /// Rolling circumference.
    ROLLING = {
        id: "rolling-circumference",
        name: "rolling circumference, rear",
        kind: Kind::Length,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "How far the rear wheel rolls in one turn, rider on, tyre at its pressure.",
        how: "Mark floor and tyre, roll five turns straight, tape from mark to mark, divide by five.",
        tolerance: tolerance(10.0),
        customary: customary(1900.0, 2250.0),
        forms: Forms::PLAIN,
    }
    /// Links of the chain.
    CHAIN_LINKS = {
        id: "chain-links",
        name: "links of the chain",
        kind: Kind::Plain,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Inner and outer pairs of plates of the closed chain, each counted one, the joining link as well.",
        how: "Count by tens along the chain and mark each ten; count twice.",
        tolerance: tolerance(0.0),
        customary: customary(100.0, 124.0),
        forms: Forms::PLAIN,
    }
    /// Chain wear.
    CHAIN_WEAR = {
        id: "chain-wear",
        name: "chain, longer than new",
        kind: Kind::Percent,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Length pin to pin over 24 pitches or more, pulled tight, against 12.7 mm a pitch.",
        how: "Rule pin to pin over 24 pitches (304.8 mm new), or a gauge that does not count the play of the rollers; at three places.",
        tolerance: tolerance(0.1),
        customary: customary(-0.2, 1.5),
        forms: Forms::PLAIN,
    }
    /// Cage angle, largest pair.
    CAGE_BIG_BIG = {
        id: "cage-angle-big-big",
        name: "cage angle, largest ring and sprocket",
        kind: Kind::Angle,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "From level ahead down to the line from cage pivot to lower wheel, seen from the drive side, largest ring and largest sprocket; straight down is −90°.",
        how: "Turn in by hand, on the stand; digital level along the line from pivot to lower wheel.",
        tolerance: tolerance(5.0),
        customary: customary(-120.0, 30.0),
        forms: Forms::PLAIN,
    }
    /// Cage angle, smallest pair.
    CAGE_SMALL_SMALL = {
        id: "cage-angle-small-small",
        name: "cage angle, smallest pair used",
        kind: Kind::Angle,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "The same with the smallest ring and the smallest sprocket that is used with it; straight back is −180°.",
        how: "Turn in on the stand; digital level along the line from pivot to lower wheel.",
        tolerance: tolerance(5.0),
        customary: customary(-230.0, -90.0),
        forms: Forms::PLAIN,
    }
    /// Derailleur gap.
    DERAILLEUR_GAP = {
        id: "derailleur-gap",
        name: "gap, upper wheel to largest sprocket",
        kind: Kind::Length,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Least distance between the tips of the cage's upper wheel and of the largest sprocket, chain on the largest sprocket and the inner ring, wheel turning forward.",
        how: "Gauge or hexagon key of the maker's size between the tips, crank turned back to where the chain is still.",
        tolerance: tolerance(1.0),
        customary: customary(3.0, 15.0),
        forms: Forms::PLAIN,
    }
    /// Front derailleur height.
    FRONT_DERAILLEUR_HEIGHT = {
        id: "front-derailleur-height",
        name: "front derailleur, over the teeth",
        kind: Kind::Length,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Least gap between the lower edge of the outer plate and the tips of the outer ring, the plate over the teeth.",
        how: "Feeler or coin of known thickness; turn the ring once round and take the least.",
        tolerance: tolerance(0.5),
        customary: customary(0.5, 4.0),
        forms: Forms::PLAIN,
    }
    /// Front derailleur angle.
    FRONT_DERAILLEUR_ANGLE = {
        id: "front-derailleur-angle",
        name: "front derailleur, nose out",
        kind: Kind::Angle,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Outer plate against the outer ring, seen from above: nose outward positive, parallel zero.",
        how: "Rule along the plate's flat against a rule along the ring; 1 mm over 57 mm is one degree.",
        tolerance: tolerance(0.5),
        customary: customary(-1.0, 2.0),
        forms: Forms::PLAIN,
    }
    /// Longest gear, rolled out.
    DEVELOPMENT_LONGEST = {
        id: "development-longest",
        name: "longest gear, rolled out",
        kind: Kind::Length,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "How far the bike rolls in a straight line with one turn of the crank in the longest gear that can be used.",
        how: "Tyres at race pressure; mark floor and tyre, turn the crank once round, tape from mark to mark.",
        tolerance: tolerance(80.0),
        customary: customary(4000.0, 12000.0),
        forms: Forms::PLAIN,
    }
}
