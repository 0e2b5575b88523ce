//! The cassette slides onto this freehub.
//!
//! - Looks at: the spline of the rear wheel's freehub and the spline that the cassette slides onto.
//! - Why: splines differ in depth, number and thread; a cassette that does not slide on costs a freehub body and a
//!   week.
//! - Source: common practice, no source: splines named alike
//! - Fits: both say spline S-11.
//! - Does not fit: a wheel with another spline.
//! - Not known: nobody knows what freehub the wheel has.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: splines named alike";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["wheel", "cassette"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let [_, rear] = &model.ends;
    let facts = all((fact!(rear.wheel, freehub), fact!(model.cassette, freehub)));
    let Some((wheel, cassette)) = out.need(facts, "whether the cassette slides onto the freehub") else { return };
    if !compare::same_name(&wheel, &cassette) {
        out.say(
            vec![rear.wheel.at("freehub"), model.cassette.at("freehub")],
            "The cassette does not fit the freehub.".into(),
            format!("The wheel has «{wheel}» and the cassette wants «{cassette}»."),
            format!("Ask the hub's maker for a freehub body «{cassette}», or choose a cassette for «{wheel}»."),
        );
    }
}

/// Both say spline S-11.
pub fn fits(_: &mut Build) {}

/// A wheel with another spline.
pub fn does_not_fit(build: &mut Build) {
    build.parts.wheel.make("rear").freehub = Some("spline S-12".into());
}

/// Nobody knows what freehub the wheel has.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("rear").freehub = None);
