//! On a rim without hooks the tyre is wide enough.
//!
//! - Looks at: each tyre's nominal width, and the inner width of a rim without hooks.
//! - Why: a narrow tyre on a wide rim without hooks has its sidewalls upright, and the bead slides up under load.
//! - Source: ETRTO 2023 as a rim maker reports it: 29 is the least on a rim of 25 (seen 2026-11-25), so 4 mm wider; from
//!   memory, others report 5 mm; the pairing lists of the makers go first.
//! - Fits: rims with hooks.
//! - Does not fit: 28 on a rim without hooks of 25.
//! - Not known: a rim without hooks whose width nobody measured.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, sizes, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;
use crate::part::RimBead;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "ETRTO 2023 as a rim maker reports it: 4 mm wider than the rim inside; from memory, others report 5 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tyre", "wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        if take(fact!(end.wheel, bead), &mut lacking) != Some(RimBead::Hookless) {
            continue;
        }
        let size = fact!(end.tyre, etrto).and_then(|text| sizes::tyre(&text));
        let facts = all((size, fact!(end.wheel, rim_inner_width_mm)));
        let Some((size, rim_mm)) = take(facts, &mut lacking) else { continue };
        if compare::falls_short(size.width_mm, rim_mm + WIDER_MM) {
            let severity = if compare::falls_short(size.width_mm, rim_mm + LEAST_WIDER_MM) {
                Severity::Stop
            } else {
                Severity::Caution
            };
            out.say_as(
                severity,
                vec![end.tyre.at("etrto"), end.wheel.at("rim_inner_width")],
                format!("The {} tyre is too narrow for a rim without hooks.", end.side.word()),
                format!(
                    "It is {} by its size and the rim {} inside; {} more is the least, and some makers ask for {}.",
                    mm(size.width_mm),
                    mm(rim_mm),
                    mm(LEAST_WIDER_MM),
                    mm(WIDER_MM)
                ),
                format!("Fit a tyre of {} or more that the rim's maker lists.", mm((rim_mm + WIDER_MM).ceil())),
            );
        }
    }
    out.not_known(&lacking, "whether the tyres are wide enough for rims without hooks");
}

/// How much wider than the rim the tyre must be.
const LEAST_WIDER_MM: f64 = 4.0;
/// How much wider it is to be by those who ask for more; between the two a list of pairs decides.
const WIDER_MM: f64 = 5.0;

/// Rims with hooks.
pub fn fits(_: &mut Build) {}

/// 28 on a rim without hooks of 25.
pub fn does_not_fit(build: &mut Build) {
    let wheel = build.parts.wheel.make("front");
    wheel.bead = Some(RimBead::Hookless.into());
    wheel.rim_inner_width_mm = Some(25.0.into());
}

/// A rim without hooks whose width nobody measured.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    let wheel = build.parts.wheel.make("front");
    (wheel.bead, wheel.rim_inner_width_mm) = (Some(RimBead::Hookless.into()), None);
});
