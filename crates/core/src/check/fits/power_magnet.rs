//! A power meter that counts by a magnet has its magnet.
//!
//! - Looks at: whether the power meter needs a magnet on the frame, and whether it is there.
//! - Why: without it the meter shows nothing, and on a carbon frame there is no place left for it once the cranks are
//!   in.
//! - Source: the crank maker's word
//! - Fits: A meter that needs none.
//! - Does not fit: One that needs a magnet, and none is fitted.
//! - Not known: Nobody said whether the meter needs a magnet.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::PowerMeter;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the crank maker's word";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "it is glued on in a minute, while the cranks are out");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let cranks = &case.model.crankset;
    let mut lacking = Missing::default();
    if take(fact!(cranks, power_meter), &mut lacking).is_some_and(|meter| meter != PowerMeter::None)
        && take(fact!(cranks, magnet_needed), &mut lacking) == Some(true)
        && take(fact!(cranks, magnet_fitted), &mut lacking) == Some(false)
    {
        out.say(
            vec![cranks.at("magnet_fitted"), cranks.at("magnet_needed")],
            "The power meter has no magnet to count by.".into(),
            "It needs one on the frame, and none is fitted.".into(),
            "Glue the magnet where the maker wants it before the cranks go in, and try it.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the power meter has its magnet");
}

/// A meter that needs none.
pub fn fits(_: &mut Build) {}

/// One that needs a magnet, and none is fitted.
pub fn does_not_fit(build: &mut Build) {
    let cranks = build.parts.crankset.make("");
    cranks.magnet_needed = Some(true.into());
    cranks.magnet_fitted = Some(false.into());
}

/// Nobody said whether the meter needs a magnet.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.crankset.make("").magnet_needed = None;
});
