//! What the fitter meant by a figure.
//!
//! - Looks at: every asked number whose definition leaves a choice that the sheet does not make.
//! - Why: the same figure under two definitions puts the rider in two places: straight or upright saddle height alone are
//!   25 mm apart, spacers with or without the top cover 10 to 25 mm.
//! - Source: common practice, no source; the definitions in use are listed with each number of the registry.
//! - Fits: every figure comes with its definition.
//! - Does not fit: a bar width is given and nobody said whether centre to centre or outside to outside.
//! - Not known: a setback was taken at the nose of a saddle that nobody measured.

use crate::build::Build;
use crate::check::words::{harm, is_many, spoken, spoken_key, with_unit};
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity};
use crate::number::{self, Side};

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: definitions in use among fitters";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    for open in &case.worked.target.open {
        let Some(number) = number::by_id(open.key.0) else { continue };
        let name = spoken(number, open.key.1);
        let about = vec![About::number(number, open.key.1)];
        let was = if is_many(number) { "were" } else { "was" };
        let received = with_unit(number.kind, open.received);
        let readings: Vec<String> = open
            .readings
            .iter()
            .map(|(words, value)| match value {
                Some(value) => format!("{words} (then {})", with_unit(number.kind, *value)),
                None => words.clone(),
            })
            .collect();
        if open.decided {
            out.say_as(
                Severity::Note,
                about,
                format!("The {name} {was} asked as {received} without saying how."),
                format!("Only one reading lets the other figures agree: {}.", readings.join("; ")),
                "Let the fitter confirm it in writing before anything is ordered.".into(),
            );
        } else {
            let apart = open.apart_mm.or_else(|| spread(open.readings.iter().filter_map(|(_, value)| *value)));
            let by = apart.map_or_else(String::new, |apart| format!("up to {}", with_unit(number.kind, apart)));
            out.say(
                about,
                format!("The {name} {was} asked as {received}, and it is not said how."),
                format!("It can be read as {}; read wrongly, {}.", readings.join("; or as "), harm(number, &by)),
                format!("Ask the fitter how the {name} {was} taken."),
            );
        }
    }
    for (key, missing) in &case.worked.target.unconverted {
        out.not_known(missing, &format!("what the asked {} is in the workshop's own definition", spoken_key(*key)));
    }
}

fn spread(values: impl Iterator<Item = f64>) -> Option<f64> {
    let values: Vec<f64> = values.collect();
    let least = values.iter().copied().reduce(f64::min)?;
    let most = values.iter().copied().reduce(f64::max)?;
    (values.len() > 1).then_some(most - least)
}

/// Every figure of the sample comes with its definition.
pub fn fits(_: &mut Build) {}

/// A bar width with nobody's word on how it was taken.
pub fn does_not_fit(build: &mut Build) {
    build.asked.entry((number::BAR_WIDTH.id, Side::None)).or_default().form.across = None;
}

/// A setback of the nose, on a saddle nobody measured.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.fit.nose_to_reference_mm = None);
