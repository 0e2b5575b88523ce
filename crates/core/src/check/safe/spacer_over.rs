//! The spacer over the stem is as fork and stem want it.
//!
//! - Looks at: the spacers over the stem, whether fork, stem or cockpit asks for one, and the most that the fork allows.
//! - Why: makers disagree on purpose. One wants the clamp on a full length of steerer, the next supports that zone from
//!   inside and forbids what stands above it; the wrong one of the two breaks the end of the steerer.
//! - Source: the word of the makers of fork and stem.
//! - Fits: 5 mm over the stem of a fork that asks for a spacer and allows 10.
//! - Does not fit: none over the stem of the same fork.
//! - Not known: there is none over the stem and nobody knows whether the fork asks for one.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, compare, take};
use crate::fact;
use crate::finding::{About, mm};
use crate::model::Missing;
use crate::number::{SPACERS_OVER, Side};

/// Where the limit comes from.
pub const SOURCE: &str = "the word of the makers of fork and stem";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let question = "whether the spacer over the stem is as its makers want it";
    let mut lacking = Missing::default();
    let Some(over_mm) = take(fact!(model.settings, spacers_over_mm), &mut lacking) else {
        out.not_known(&lacking, question);
        return;
    };
    let about = |path: &str| vec![About::number(&SPACERS_OVER, Side::None), About::path(path)];
    if compare::exceeds(over_mm, 0.0) {
        let Some(most_mm) = out.need(fact!(model.fork, spacer_over_max_mm), question) else { return };
        if compare::exceeds(over_mm, most_mm) {
            let allowed = if most_mm > 0.0 { format!("{} at most", mm(most_mm)) } else { "none".to_owned() };
            out.say(
                about("parts.fork.spacer_over_max"),
                "More stands over the stem than the fork allows.".into(),
                format!("{} are planned over the stem and the fork's maker allows {allowed}.", mm(over_mm)),
                format!("Cut the steerer {} shorter, if the position is settled.", mm(over_mm - most_mm)),
            );
        }
        return;
    }
    let (name, own) = if model.one_piece() {
        ("cockpit", fact!(model.cockpit, spacer_over_required))
    } else {
        ("stem", fact!(model.stem, spacer_over_required))
    };
    let mut want = Vec::new();
    if take(fact!(model.fork, spacer_over_required), &mut lacking) == Some(true) {
        want.push("fork".to_owned());
    }
    if take(own, &mut lacking) == Some(true) {
        want.push(name.to_owned());
    }
    if want.is_empty() {
        out.not_known(&lacking, question);
        return;
    }
    let forbids = fact!(model.fork, spacer_over_max_mm).is_ok_and(|most| most <= 0.0);
    let cure = if forbids {
        "Find another stem: this fork allows none.".to_owned()
    } else {
        "Put a spacer over the stem, 5 mm are usual, and leave the steerer longer by as much.".to_owned()
    };
    out.say(
        about(model.steerer_clamp_path()),
        "A spacer is wanted over the stem and none is planned.".into(),
        format!("It is asked for by the maker of the {}.", and_list(&want)),
        cure,
    );
}

/// The sample has a spacer over its stem.
pub fn fits(_: &mut Build) {}

/// None over the stem.
pub fn does_not_fit(build: &mut Build) {
    build.settings.spacers_over_mm = Some(0.0.into());
}

/// None over the stem, and nobody knows what the fork wants.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.settings.spacers_over_mm = Some(0.0.into());
    build.parts.fork.make("").spacer_over_required = None;
});
