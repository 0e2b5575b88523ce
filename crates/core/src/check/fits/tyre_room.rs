//! The tyres have room in fork and frame.
//!
//! - Looks at: the width of each tyre as measured on its rim, and the widest that fork and frame allow.
//! - Why: a tyre grows on a wide rim and with the days; where it touches, it saws through the stay, or stops the wheel.
//! - Source: the widest tyre that the maker of fork or frame allows.
//! - Fits: tyres of 28.4 mm where 32 are allowed.
//! - Does not fit: a rear tyre that measures 33.5 mm.
//! - Not known: nobody measured the front tyre.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, all, compare, sentence, take};
use crate::fact;
use crate::finding::{About, mm};
use crate::model::Missing;
use crate::number::{Side, TYRE_WIDTH};

/// Where the limit comes from.
pub const SOURCE: &str = "the widest tyre that the maker of fork or frame allows, as measured";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tyre", "fork", "frame"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let mut about = Vec::new();
    let mut each = Vec::new();
    let mut wheels = Vec::new();
    let front = all((fact!(model.tyre_front, width_measured_mm), fact!(model.fork, tyre_width_max_mm)));
    let rear = all((fact!(model.tyre_rear, width_measured_mm), fact!(model.frame, tyre_width_max_mm)));
    for (side, pair, holder) in [(Side::Front, front, "fork"), (Side::Rear, rear, "frame")] {
        let Some((width_mm, most_mm)) = take(pair, &mut lacking) else { continue };
        if compare::exceeds(width_mm, most_mm) {
            about.push(About::number(&TYRE_WIDTH, side));
            about.push(About::path(&format!("parts.{holder}.tyre_width_max")));
            wheels.push(format!("{} tyre", side.word()));
            each.push(format!(
                "the {} tyre measures {} and the {holder} allows {}",
                side.word(),
                mm(width_mm),
                mm(most_mm)
            ));
        }
    }
    if !each.is_empty() {
        let are = crate::check::words::is_or_are(wheels.len());
        out.say(
            about,
            format!("The {} {are} too wide.", and_list(&wheels)),
            format!("{}.", sentence(&each.join("; "))),
            "Fit a narrower tyre, or the same on a narrower rim, and measure it a day later.".into(),
        );
    }
    out.not_known(&lacking, "whether the tyres have room");
}

/// The sample's tyres have room.
pub fn fits(_: &mut Build) {}

/// A rear tyre that grew.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tyre.make("rear").width_measured_mm = Some(33.5.into());
}

/// Nobody measured the front tyre.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.tyre.make("front").width_measured_mm = None);
