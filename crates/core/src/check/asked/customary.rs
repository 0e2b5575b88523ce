//! An asked figure that no rider has.
//!
//! - Looks at: every asked number, as received and in the workshop's own definition, against the customary range.
//! - Why: 72.8 for 728 is a slip of the pen that a tired eye reads over; it is found here, or at the stand, or after the
//!   saw.
//! - Source: common practice, no source; the ranges of adult road bikes stand with each number of the registry.
//! - Fits: every figure of the sample lies within its range.
//! - Does not fit: a saddle height was typed in centimetres.
//! - Not known: nothing; only what is asked is looked at.

use crate::build::Build;
use crate::check::words::{and_list, is_or_are, spoken, with_unit};
use crate::check::{Case, Report, Weight, sentence};
use crate::compute::How;
use crate::finding::About;
use crate::number::{self, Customary, Number, SADDLE_HEIGHT, Side};

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: ranges of adult road bikes";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut about = Vec::new();
    let mut names = Vec::new();
    let mut each = Vec::new();
    for ((id, side), asked) in &case.model.build.asked {
        let (Some(number), Some(given)) = (number::by_id(id), &asked.value) else { continue };
        let Some(range) = number.customary else { continue };
        let converted = case.worked.target.values.get(&(*id, first_side(number, *side)));
        let converted = converted.filter(|value| value.how == How::Converted).map(|value| value.value);
        let name = spoken(number, *side);
        let value = |value: f64| with_unit(number.kind, value);
        if outside(given.value, range) {
            let hint = likely_slip(given.value, range)
                .map_or_else(String::new, |(slip, meant)| format!("; {slip} it would be {}", value(meant)));
            each.push(format!(
                "the {name} is {}, usual are {} to {}{hint}",
                value(given.value),
                value(range.low),
                value(range.high)
            ));
        } else if let Some(house) = converted.filter(|house| outside(*house, range)) {
            each.push(format!(
                "the {name} is {} as received and {} in the workshop's own definition, usual are {} to {}",
                value(given.value),
                value(house),
                value(range.low),
                value(range.high)
            ));
        } else {
            continue;
        }
        about.push(About::number(number, *side));
        names.push(name);
    }
    if names.is_empty() {
        return;
    }
    out.say(
        about,
        format!("The asked {} {} outside what riders have.", and_list(&names), is_or_are(names.len())),
        format!("{}.", sentence(&each.join("; "))),
        "Read the fit sheet again, unit and sign too; if it stands, ask the fitter.".into(),
    );
}

/// Asked for both sides at once, the left one stands for both.
fn first_side(number: &Number, side: Side) -> Side {
    if side == Side::None { number.sides.each()[0] } else { side }
}

fn outside(value: f64, range: Customary) -> bool {
    value < range.low || range.high < value
}

/// The slip that would bring the value into its range, and the value it would then have.
fn likely_slip(value: f64, range: Customary) -> Option<(&'static str, f64)> {
    [("meant as centimetres", value * 10.0), ("with one digit less", value / 10.0), ("with the other sign", -value)]
        .into_iter()
        .find(|(_, meant)| !outside(*meant, range))
}

/// Every figure of the sample is usual.
pub fn fits(_: &mut Build) {}

/// A saddle height in centimetres.
pub fn does_not_fit(build: &mut Build) {
    build.asked.entry((SADDLE_HEIGHT.id, Side::None)).or_default().value = Some(72.8.into());
}

/// No fact can be missing.
pub const NOT_KNOWN: Option<fn(&mut Build)> = None;
