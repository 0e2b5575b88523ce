//! Finish: what is taken last, when everything is on the bike.

use super::{Area, Forms, Sides, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Mass as weighed.
    MASS = {
        id: "mass",
        name: "mass as weighed",
        kind: Kind::Mass,
        area: Area::Finish,
        sides: Sides::One,
        definition: "Mass of the bike with what the reading's note says was on it.",
        how: "Hanging scale, three weighings, the middle one counts; note pedals, cages, mount, computer, bottles.",
        tolerance: tolerance(30.0),
        customary: customary(5500.0, 12000.0),
        forms: Forms::PLAIN,
    }
}
