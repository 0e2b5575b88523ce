//! The frame leads what moves the shifting.
//!
//! - Looks at: what moves the rear derailleur; whether the frame has stops and guides for cables, or holes and
//!   grommets for wires.
//! - Why: a frame made for wires alone has no stop for a cable, and one for cables has no hole for a plug; neither can
//!   be drilled.
//! - Source: the frame maker's word on its routing
//! - Fits: a wired derailleur and a frame with holes for wires.
//! - Does not fit: a frame without holes for wires.
//! - Not known: nobody said whether wires can be run.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::model::Missing;
use crate::part::Shifting;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the frame maker's word on its routing";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "rear_derailleur"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let frame = &model.frame;
    let mut lacking = Missing::default();
    let (leads, fact, what) = match take(fact!(model.rear_derailleur, shifting), &mut lacking) {
        Some(Shifting::Wired) => (fact!(frame, wire_routing), "wire_routing", "wires"),
        Some(Shifting::Cable) => (fact!(frame, cable_routing), "cable_routing", "cables"),
        // Radio needs no way through the frame.
        Some(Shifting::Wireless | Shifting::None) => return,
        None => (Ok(true), "", ""),
    };
    if take(leads, &mut lacking) == Some(false) {
        out.say(
            vec![frame.at(fact), model.rear_derailleur.at("shifting")],
            format!("The frame does not lead {what}."),
            format!("The rear derailleur is moved by {what}, and the frame has no way for them."),
            "Choose shifting that this frame was made for.".into(),
        );
    }
    out.not_known(&lacking, "whether the frame leads what moves the shifting");
}

/// A wired derailleur and a frame with holes for wires.
pub fn fits(_: &mut Build) {}

/// A frame without holes for wires.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").wire_routing = Some(false.into());
}

/// Nobody said whether wires can be run.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").wire_routing = None);
