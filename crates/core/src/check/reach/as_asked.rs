//! What else was asked for is planned so.
//!
//! - Looks at: every number that was asked for besides the position: bar width, crank length, tilt, spacers and the rest.
//! - Why: a bar 20 mm wider, or cranks 2.5 mm longer, than the rider asked for are ordered by mistake more often than not.
//! - Source: common practice, no source: the tolerances of the numbers, or those that the rider asked for.
//! - Fits: a bar of 400 mm is asked for and fitted.
//! - Does not fit: 400 mm are asked for and a bar of 420 mm is fitted.
//! - Not known: the width of the bar is not told.

use crate::build::Build;
use crate::check::reach::position;
use crate::check::words::{is_many, is_or_are, spoken, with_unit};
use crate::check::{Case, Report, Weight};
use crate::finding::About;

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: the tolerance of the number";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    for line in case.numbers.each() {
        let number = line.number;
        let Some(asked) = line.asked.filter(|_| line.was_asked()) else { continue };
        if position::JUDGED.iter().any(|judged| judged.id == number.id) {
            continue;
        }
        let name = spoken(number, line.side);
        let question = format!("whether the bike gets the asked {name}");
        let Some(planned) = out.need(line.planned.clone(), &question) else { continue };
        let off = planned - asked.value;
        if !crate::check::compare::exceeds(off.abs(), line.tolerance) {
            continue;
        }
        let is = is_or_are(if is_many(number) { 2 } else { 1 });
        let way = if off > 0.0 { "more" } else { "less" };
        out.say(
            vec![About::number(number, line.side)],
            format!("The {name} {is} {} {way} than asked.", with_unit(number.kind, off.abs())),
            format!(
                "{} is planned and {} is asked.",
                with_unit(number.kind, planned),
                with_unit(number.kind, asked.value)
            ),
            "Choose the part or the setting that gives it, or agree the other value with the rider.".into(),
        );
    }
}

/// The sample's bar is as wide as asked.
pub fn fits(_: &mut Build) {}

/// A wider bar.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bar.make("").width_hoods_mm = Some(420.0.into());
}

/// Nobody told the bar's width.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bar.make("").width_hoods_mm = None);
