//! A rim without hooks has a tyre that is approved for it.
//!
//! - Looks at: how each rim holds the bead; whether the tyre is tubeless-ready, and approved for rims without hooks.
//! - Why: without hooks nothing but the bead itself holds the tyre; one that is not made for it leaves the rim all at
//!   once.
//! - Source: common practice, no source: only tyres that their maker approves for rims without hooks, and tubeless
//!   ones only
//! - Fits: rims with hooks.
//! - Does not fit: a tyre that is not approved on a rim without hooks.
//! - Not known: a rim without hooks, and nobody knows whether the tyre is approved.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::model::Missing;
use crate::part::{RimBead, TyreKind};

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: only tyres that their maker approves for rims without hooks, and tubeless ones only";
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
        let mut each = Vec::new();
        if take(fact!(end.tyre, hookless_approved), &mut lacking) == Some(false) {
            each.push("the tyre's maker does not allow it on such a rim".to_owned());
        }
        if let Some(kind) = take(fact!(end.tyre, kind), &mut lacking)
            && kind != TyreKind::TubelessReady
        {
            each.push(format!("the tyre is «{}»", kind.name()));
        }
        if !each.is_empty() {
            out.say(
                vec![end.wheel.at("bead"), end.tyre.at("hookless_approved")],
                format!("The {} tyre may leave its rim.", end.side.word()),
                format!("The rim has no hooks, and {}.", and_list(&each)),
                "Fit a tyre from the list that the rim's maker publishes, or a rim with hooks.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the tyres may be ridden on these rims");
}

/// Rims with hooks.
pub fn fits(_: &mut Build) {}

/// A tyre that is not approved on a rim without hooks.
pub fn does_not_fit(build: &mut Build) {
    build.parts.wheel.make("front").bead = Some(RimBead::Hookless.into());
    build.parts.tyre.make("front").hookless_approved = Some(false.into());
}

/// A rim without hooks, and nobody knows whether the tyre is approved.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.wheel.make("front").bead = Some(RimBead::Hookless.into());
    build.parts.tyre.make("front").hookless_approved = None;
});
