//! The chain is as wide as chains of its speeds are.
//!
//! - Looks at: the chain's width across the pins and its number of speeds.
//! - Why: a chain that is two tenths too wide rubs on the next sprocket in every gear; the print on the box does not
//!   show it.
//! - Source: from memory: 5.9 mm for 10 speeds, 5.5 for 11, 5.25 for 12, 4.95 for 13; within 0.15 mm
//! - Fits: 5.3 mm and 12 speeds.
//! - Does not fit: 5.9 mm and 12 speeds.
//! - Not known: nobody measured across the pins.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{Severity, figure};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "from memory: 5.9 mm for 10 speeds, 5.5 for 11, 5.25 for 12, 4.95 for 13; within 0.15 mm";
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
    let Some((_, usual_mm)) = USUAL_MM.iter().find(|(of, _)| *of == speeds) else { return };
    if !compare::same_within(width_mm, *usual_mm, 0.15) {
        out.say(
            vec![model.chain.at("outer_width"), model.chain.at("speeds")],
            "The chain is not as wide as chains of its speeds are.".into(),
            format!(
                "It measures {} mm; with {speeds} speeds {} mm are usual.",
                figure(width_mm, 2),
                figure(*usual_mm, 2)
            ),
            "Measure across a pin again, and read what is stamped on the plates.".into(),
        );
    }
}

/// What is usual, by speeds.
const USUAL_MM: [(u32, f64); 4] = [(10, 5.9), (11, 5.5), (12, 5.25), (13, 4.95)];

/// 5.3 mm and 12 speeds.
pub fn fits(_: &mut Build) {}

/// 5.9 mm and 12 speeds.
pub fn does_not_fit(build: &mut Build) {
    build.parts.chain.make("").outer_width_mm = Some(5.9.into());
}

/// Nobody measured across the pins.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.chain.make("").outer_width_mm = None);
