//! The bar is as wide as the standard for bicycles asks.
//!
//! - Looks at: the bar's greatest width, outside to outside, whether it races or not.
//! - Why: the standard by which bicycles are sold allows no bar outside its limits; a workshop that builds one
//!   answers for it.
//! - Source: ISO 4210-2:2015 4.7.1: 350 to 1000 mm over everything, where the maker says nothing else
//! - Fits: 445 mm over everything.
//! - Does not fit: 300 mm at the hoods on straight drops.
//! - Not known: Nobody told the width of the bar.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare};
use crate::finding::{About, Severity, mm};
use crate::number::{BAR_WIDTH_OUTSIDE, Side};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "ISO 4210-2:2015 4.7.1: 350 to 1000 mm over everything, where the maker says nothing else";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a race body may ask for more, and is checked by itself");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let width = case.planned(&BAR_WIDTH_OUTSIDE, Side::None);
    let width_mm = match width {
        Ok(width_mm) => width_mm,
        Err(missing) => {
            return out.not_known_as(Severity::Note, &missing, "whether the bar is as wide as the standard asks");
        }
    };
    if compare::falls_short(width_mm, LEAST_MM) || compare::exceeds(width_mm, MOST_MM) {
        out.say(
            vec![About::number(&BAR_WIDTH_OUTSIDE, Side::None)],
            format!("The bar is too {} for the standard.", if width_mm < LEAST_MM { "narrow" } else { "wide" }),
            format!(
                "It is {} over everything; the standard for bicycles has {} to {}.",
                mm(width_mm),
                mm(LEAST_MM),
                mm(MOST_MM)
            ),
            "Fit a bar within these, or get its maker's word in writing.".into(),
        );
    }
}

/// Narrowest bar.
const LEAST_MM: f64 = 350.0;
/// Widest bar.
const MOST_MM: f64 = 1000.0;

/// 445 mm over everything.
pub fn fits(_: &mut Build) {}

/// 300 mm at the hoods on straight drops.
pub fn does_not_fit(build: &mut Build) {
    let bar = build.parts.bar.make("");
    bar.width_hoods_mm = Some(300.0.into());
    bar.width_ends_mm = Some(300.0.into());
    bar.flare_deg = Some(0.0.into());
}

/// Nobody told the width of the bar.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.bar.make("").width_hoods_mm = None;
});
