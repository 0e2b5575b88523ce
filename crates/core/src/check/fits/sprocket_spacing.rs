//! The sprockets stand as far apart as the derailleur steps.
//!
//! - Looks at: the cassette's spacing, and what is usual for its number of speeds.
//! - Why: a lever moves the derailleur by the spacing of its own family; a cassette of another family drifts off it,
//!   sprocket by sprocket.
//! - Source: from memory: 3.95 mm for 10 speeds, 3.7 for 11, 3.55 for 12, 3.3 for 13; within 0.15 mm
//! - Fits: 3.6 mm and 12 speeds.
//! - Does not fit: 3.95 mm and 12 speeds.
//! - Not known: the spacing is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{Severity, figure};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "from memory: 3.95 mm for 10 speeds, 3.7 for 11, 3.55 for 12, 3.3 for 13; within 0.15 mm";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "families differ by a tenth, and a few makers go their own way");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["cassette"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((fact!(model.cassette, spacing_mm), fact!(model.cassette, speeds)));
    let (spacing_mm, speeds) = match facts {
        Ok(facts) => facts,
        Err(missing) => {
            out.not_known_as(
                Severity::Note,
                &missing,
                "whether the sprockets stand as far apart as the derailleur steps",
            );
            return;
        }
    };
    let Some((_, usual_mm)) = USUAL_MM.iter().find(|(of, _)| *of == speeds) else { return };
    if !compare::same_within(spacing_mm, *usual_mm, WITHIN_MM) {
        out.say(
            vec![model.cassette.at("spacing"), model.cassette.at("speeds")],
            "The sprockets do not stand as far apart as is usual for their number.".into(),
            format!(
                "They stand {} mm apart; with {speeds} speeds {} mm are usual.",
                figure(spacing_mm, 2),
                figure(*usual_mm, 2)
            ),
            "Measure over all sprockets and divide; if it stands, fit a lever and derailleur that step so far.".into(),
        );
    }
}

/// What is usual, by speeds.
const USUAL_MM: [(u32, f64); 4] = [(10, 3.95), (11, 3.7), (12, 3.55), (13, 3.3)];
/// Makers of one number of speeds differ by so much.
const WITHIN_MM: f64 = 0.15;

/// 3.6 mm and 12 speeds.
pub fn fits(_: &mut Build) {}

/// 3.95 mm and 12 speeds.
pub fn does_not_fit(build: &mut Build) {
    build.parts.cassette.make("").spacing_mm = Some(3.95.into());
}

/// The spacing is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.cassette.make("").spacing_mm = None);
