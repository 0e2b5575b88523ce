//! The steerer ends just below the top of the stack.
//!
//! - Looks at: the set-down as set and as read, against the fork maker's limits or, where none are told, against custom.
//! - Why: flush, the cap bears on the steerer and the bearings stay loose; too low, the topmost part holds on nothing.
//! - Source: the fork maker's limits; common practice, no source, where none are told: 2 to 3 mm.
//! - Fits: 3 mm where the fork asks for 2 to 4.
//! - Does not fit: 1 mm on the same fork.
//! - Not known: nobody has said how far the steerer is to end below the stack.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, compare, sentence};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::number::{STEERER_BELOW, Side};

/// The custom, least and most.
const CUSTOM_MM: (f64, f64) = (2.0, 3.0);
/// Where the limit comes from.
pub const SOURCE: &str = "the fork maker's limits; common practice, no source, where none are told: 2 to 3 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let set = fact!(model.settings, set_down_mm);
    let Some(set_mm) = out.need(set, "how far the steerer ends below the top of the stack") else { return };
    let read = case.number(&STEERER_BELOW, Side::None).and_then(|line| line.measured.as_ref()).map(|read| read.value);
    let (least, most) = (fact!(model.fork, set_down_min_mm), fact!(model.fork, set_down_max_mm));
    let told = least.is_ok() || most.is_ok();
    let (least_mm, most_mm) = (least.unwrap_or(CUSTOM_MM.0), most.unwrap_or(CUSTOM_MM.1));
    let outside = |value_mm: f64| compare::falls_short(value_mm, least_mm) || compare::exceeds(value_mm, most_mm);
    let mut each = Vec::new();
    if outside(set_mm) {
        each.push(format!("{} is planned", mm(set_mm)));
    }
    if let Some(read_mm) = read.filter(|read| outside(*read)) {
        each.push(format!("{} was read", mm(read_mm)));
    }
    if each.is_empty() {
        return;
    }
    let (severity, whose) =
        if told { (Severity::Stop, "the fork's maker asks for") } else { (Severity::Caution, "custom is") };
    let low = compare::falls_short(read.unwrap_or(set_mm), least_mm);
    out.say_as(
        severity,
        vec![About::number(&STEERER_BELOW, Side::None)],
        if low {
            "The steerer ends too high for the cap.".into()
        } else {
            "The steerer ends too low for the cap.".into()
        },
        format!("{}, and {whose} {} to {}.", sentence(&and_list(&each)), mm(least_mm), mm(most_mm)),
        if low {
            "Put a thin spacer over the stem, or take the end off by as much as is lacking.".into()
        } else {
            "Take a spacer from over the stem, or plan the cut longer.".into()
        },
    );
}

/// The sample's set-down is within its fork's limits.
pub fn fits(_: &mut Build) {}

/// Nearly flush.
pub fn does_not_fit(build: &mut Build) {
    build.settings.set_down_mm = Some(1.0.into());
}

/// Nobody has said.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.settings.set_down_mm = None);
