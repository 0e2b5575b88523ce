//! Front end: steerer, spacers, stem.

use super::{Area, Cover, Forms, Sides, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Spacers under the stem.
    SPACERS_UNDER = {
        id: "spacers-under",
        name: "spacers under the stem",
        kind: Kind::Length,
        area: Area::FrontEnd,
        sides: Sides::One,
        definition: "Height of the loose spacers between the headset's top cover and the stem's clamp; the cover is not counted.",
        how: "Caliper on each spacer, summed; then once over the whole stack.",
        tolerance: tolerance(0.5),
        customary: customary(0.0, 45.0),
        forms: Forms { cover: &[Cover::NotCounted, Cover::Counted], ..Forms::PLAIN },
    }
    /// Spacers over the stem.
    SPACERS_OVER = {
        id: "spacers-over",
        name: "spacers over the stem",
        kind: Kind::Length,
        area: Area::FrontEnd,
        sides: Sides::One,
        definition: "Height of the loose spacers between the top of the stem's clamp and the top cap.",
        how: "Caliper on each spacer, summed.",
        tolerance: tolerance(0.5),
        customary: customary(0.0, 40.0),
        forms: Forms::PLAIN,
    }
    /// Steerer cut.
    STEERER_CUT = {
        id: "steerer-cut",
        name: "steerer, cut length",
        kind: Kind::Length,
        area: Area::FrontEnd,
        sides: Sides::One,
        definition: "Along the steerer from the crown-race seat to the saw cut.",
        how: "Dry stack of everything the steerer passes through, measured over all, less the set-down; two people read it. After the cut: steel rule from the crown-race seat.",
        tolerance: tolerance(1.0),
        customary: customary(120.0, 320.0),
        forms: Forms::PLAIN,
    }
    /// Steerer set-down.
    STEERER_BELOW = {
        id: "steerer-below",
        name: "steerer, below the top of the stack",
        kind: Kind::Length,
        area: Area::FrontEnd,
        sides: Sides::One,
        definition: "How far the cut steerer ends below the top of the topmost thing it passes through, stem or spacer.",
        how: "Depth gauge through the cap's hole before the cap goes on.",
        tolerance: tolerance(0.5),
        customary: customary(1.0, 5.0),
        forms: Forms::PLAIN,
    }
    /// Steerer against the stem's clamp.
    STEERER_PROUD = {
        id: "steerer-proud",
        name: "steerer, proud of the stem's clamp",
        kind: Kind::Length,
        area: Area::FrontEnd,
        sides: Sides::One,
        definition: "How far the cut steerer ends above the top of the stem's clamp; negative when it ends inside the clamp.",
        how: "Depth gauge at the top of the clamp, spacers off.",
        tolerance: tolerance(0.5),
        customary: customary(-4.0, 40.0),
        forms: Forms::PLAIN,
    }
    /// Stem length.
    STEM_LENGTH = {
        id: "stem-length",
        name: "stem length",
        kind: Kind::Length,
        area: Area::FrontEnd,
        sides: Sides::One,
        definition: "Centre of the steerer to centre of the bar, along the stem.",
        how: "Printed on the stem; rule from the cap's bolt to the middle of the bar clamp as a check.",
        tolerance: tolerance(0.5),
        customary: customary(60.0, 150.0),
        forms: Forms::PLAIN,
    }
    /// Stem angle.
    STEM_ANGLE = {
        id: "stem-angle",
        name: "stem angle",
        kind: Kind::Angle,
        area: Area::FrontEnd,
        sides: Sides::One,
        definition: "Angle of the stem from square to the steerer, as fitted; up positive.",
        how: "Printed on the stem, with the sign of the way it is fitted; digital level on the stem, less 90° less the head angle, as a check.",
        tolerance: tolerance(0.5),
        customary: customary(-25.0, 25.0),
        forms: Forms::PLAIN,
    }
}
