//! Straps lie on film.
//!
//! - Looks at: whether clear film lies where a transponder or a strap is fixed, on bikes that are built for an event.
//! - Why: a strap with sand under it cuts through the paint of a stay in one stage race.
//! - Source: common practice, no source: film under every strap
//! - Fits: Film on the stay.
//! - Does not fit: Bare paint.
//! - Not known: Nobody noted whether there is film.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: film under every strap";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "it is a matter of paint");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let frame = &case.model.frame;
    if case.model.build.job.event.is_none() {
        return;
    }
    match fact!(frame, strap_film) {
        Err(missing) => out.not_known(&missing, "whether film lies under transponder and straps"),
        Ok(true) => {}
        Ok(false) => out.say(
            vec![frame.at("strap_film")],
            "A transponder's strap will cut the paint.".into(),
            "The bike is built for an event, and no film lies where things are strapped to it.".into(),
            "Put clear film on fork leg and stay before the first start.".into(),
        ),
    }
}

/// Film on the stay.
pub fn fits(build: &mut Build) {
    build.job.event = Some("a race".into());
}

/// Bare paint.
pub fn does_not_fit(build: &mut Build) {
    build.job.event = Some("a race".into());
    build.parts.frame.make("").strap_film = Some(false.into());
}

/// Nobody noted whether there is film.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.job.event = Some("a race".into());
    build.parts.frame.make("").strap_film = None;
});
