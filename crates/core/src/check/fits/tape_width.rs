//! The rim tape reaches from wall to wall.
//!
//! - Looks at: the width of the tape on each rim that is ridden without a tube, and the inner width of the rim.
//! - Why: a tape that is too narrow lets air out by the spoke holes, in the night before the race or in a hot
//!   descent; one that is too wide stands up at the walls, and the bead does not seat.
//! - Source: common practice, no source: 2 to 5 mm wider than the rim is inside; none where the bed has no holes
//! - Fits: Tape of 25 mm in rims of 21.
//! - Does not fit: Tape of 21 mm in the same front rim.
//! - Not known: Nobody noted how wide the rear tape is.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, figure, mm};
use crate::model::Missing;
use crate::part::AirSeal;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: 2 to 5 mm wider than the rim is inside; none where the bed has no holes";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "it is mended with a roll of tape, before the tyre goes on");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tube", "wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for end in &case.model.ends {
        if end.tube.part.is_none()
            || take(fact!(end.tube, kind), &mut lacking).is_some_and(|kind| kind != AirSeal::Sealant)
        {
            continue;
        }
        let facts = all((fact!(end.wheel, tape_width_mm), fact!(end.wheel, rim_inner_width_mm)));
        let Some((tape_mm, rim_mm)) = take(facts, &mut lacking) else { continue };
        let (least_mm, most_mm) = (rim_mm + WIDER_MM.0, rim_mm + WIDER_MM.1);
        let narrow = compare::falls_short(tape_mm, least_mm);
        // A width of nothing says that the bed has no holes.
        if tape_mm > 0.0 && (narrow || compare::exceeds(tape_mm, most_mm)) {
            let way = if narrow { "narrow" } else { "wide" };
            out.say(
                vec![end.wheel.at("tape_width"), end.wheel.at("rim_inner_width")],
                format!("The {} rim's tape is too {way}.", end.side.word()),
                format!("The rim is {} wide inside and the tape {}.", mm(rim_mm), mm(tape_mm)),
                format!("Tape the rim anew with a tape of {} to {}.", figure(least_mm, 0), mm(most_mm)),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the rim tape reaches from wall to wall");
}

/// So much wider than the rim inside, at least and at most.
const WIDER_MM: (f64, f64) = (2.0, 5.0);

/// Tape of 25 mm in rims of 21.
pub fn fits(_: &mut Build) {}

/// Tape of 21 mm in the same front rim.
pub fn does_not_fit(build: &mut Build) {
    build.parts.wheel.make("front").tape_width_mm = Some(21.0.into());
}

/// Nobody noted how wide the rear tape is.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.wheel.make("rear").tape_width_mm = None;
});
