//! A tyre without a tube has a rim that holds air.
//!
//! - Looks at: whether a tube is fitted, and whether the rim's bed is sealed; whether the tyre is made for it.
//! - Why: air leaves through every spoke hole, and a tyre made for a tube lets go of the rim without one.
//! - Source: common practice, no source: a sealed bed and a tubeless-ready tyre, or a tube
//! - Fits: sealant in tubeless-ready tyres on sealed rims.
//! - Does not fit: sealant in a tyre that is made for a tube.
//! - Not known: nobody looked whether the rear rim is sealed.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::model::Missing;
use crate::part::{AirSeal, TyreKind};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: a sealed bed and a tubeless-ready tyre, or a tube";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tube", "wheel", "tyre"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        if end.tube.part.is_none() {
            continue;
        }
        if take(fact!(end.tube, kind), &mut lacking) != Some(AirSeal::Sealant) {
            continue;
        }
        let side = end.side.word();
        if take(fact!(end.wheel, tubeless_bed), &mut lacking) == Some(false) {
            out.say(
                vec![end.tube.at("kind"), end.wheel.at("tubeless_bed")],
                format!("The {side} rim does not hold air without a tube."),
                "Sealant is listed, and the rim's bed is not sealed.".into(),
                "Tape the bed with a tape 2 mm wider than it, or fit a tube.".into(),
            );
        }
        if let Some(kind) = take(fact!(end.tyre, kind), &mut lacking)
            && kind != TyreKind::TubelessReady
        {
            out.say(
                vec![end.tube.at("kind"), end.tyre.at("kind")],
                format!("The {side} tyre may not be ridden without a tube."),
                format!("Sealant is listed, and the tyre is «{}».", kind.name()),
                "Fit a tube, or a tyre that is made for sealant.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether tyres and rims hold air without a tube");
}

/// Sealant in tubeless-ready tyres on sealed rims.
pub fn fits(_: &mut Build) {}

/// Sealant in a tyre that is made for a tube.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tyre.make("rear").kind = Some(TyreKind::Tube.into());
}

/// Nobody looked whether the rear rim is sealed.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("rear").tubeless_bed = None);
