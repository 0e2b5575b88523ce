//! The chain is as wide as chains of its speeds are.
//!
//! - Looks at: the chain's width across the pins and its number of speeds.
//! - Why: a chain that is two tenths too wide rubs on the next sprocket in every gear; the print on the box does not
//!   show it.
//! - Source: two tables of outer widths, as read: 5.84 to 6.2 mm for 10 speeds, 5.46 to 5.74 for 11, 5.15 to 5.3 for
//!   12, 4.9 for 13
//! - Fits: 5.3 mm and 12 speeds.
//! - Does not fit: 5.9 mm and 12 speeds.
//! - Not known: nobody measured across the pins.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{Severity, figure};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "two tables of outer widths, as read: 5.84 to 6.2 mm for 10 speeds, 5.46 to 5.74 for 11, 5.15 to 5.3 for 12, 4.9 for 13";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a reading that is likelier wrong than the chain");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["chain"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (width_mm, speeds) = match all((fact!(model.chain, outer_width_mm), fact!(model.chain, speeds))) {
        Ok(facts) => facts,
        Err(missing) => {
            out.not_known_as(Severity::Note, &missing, "whether the chain is as wide as it should be");
            return;
        }
    };
    let Some((_, least_mm, most_mm)) = WIDTHS_MM.iter().find(|(of, ..)| *of == speeds) else { return };
    if compare::falls_short(width_mm, least_mm - WITHIN_MM) || compare::exceeds(width_mm, most_mm + WITHIN_MM) {
        out.say(
            vec![model.chain.at("outer_width"), model.chain.at("speeds")],
            "The chain is not as wide as chains of its speeds are.".into(),
            format!(
                "It measures {} mm; chains of {speeds} speeds measure {}.",
                figure(width_mm, 2),
                span(*least_mm, *most_mm)
            ),
            "Measure across a pin again, and read what is stamped on the plates.".into(),
        );
    }
}

/// "5.15 to 5.3 mm"; one figure where all makers agree.
fn span(least_mm: f64, most_mm: f64) -> String {
    if least_mm < most_mm {
        format!("{} to {} mm", figure(least_mm, 2), figure(most_mm, 2))
    } else {
        format!("{} mm", figure(least_mm, 2))
    }
}

/// Speeds, and the narrowest and widest chain of the tables.
const WIDTHS_MM: [(u32, f64, f64); 4] = [(10, 5.84, 6.2), (11, 5.46, 5.74), (12, 5.15, 5.3), (13, 4.9, 4.9)];
/// A caliper across a pin is good for so much.
const WITHIN_MM: f64 = 0.1;

/// 5.3 mm and 12 speeds.
pub fn fits(_: &mut Build) {}

/// 5.9 mm and 12 speeds.
pub fn does_not_fit(build: &mut Build) {
    build.parts.chain.make("").outer_width_mm = Some(5.9.into());
}

/// Nobody measured across the pins.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.chain.make("").outer_width_mm = None);
