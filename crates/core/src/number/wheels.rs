//! Wheels and brakes: what the geometry needs of the tyres, for now.

use super::{Area, Forms, Sides, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Tyre width as measured.
    TYRE_WIDTH = {
        id: "tyre-width",
        name: "tyre width as fitted",
        kind: Kind::Length,
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        definition: "Greatest width of the tyre on its rim at its pressure, a day after fitting.",
        how: "Caliper at four places round the wheel, the widest counts.",
        tolerance: tolerance(0.5),
        customary: customary(20.0, 45.0),
        forms: Forms::PLAIN,
    }
}
