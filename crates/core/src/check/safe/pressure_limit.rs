//! No tyre is blown up beyond its lowest limit.
//!
//! - Looks at: the pressure set for each tyre; the highest of tyre and rim, and 5 bar where the rim has no hooks; the
//!   tyre's lowest.
//! - Why: the lower of two limits counts: above it the bead leaves the rim, below the tyre's lowest it rolls off in a
//!   bend.
//! - Source: the lower of the two makers' limits counts (ISO 4210-1, from memory); 5.0 bar on road rims without hooks,
//!   as reported
//! - Fits: 4.7 and 4.9 bar, where tyre and rim allow 6.9.
//! - Does not fit: 8 bar in front.
//! - Not known: the front tyre's highest pressure was not read.

use crate::build::Build;
use crate::check::words::bar_of;
use crate::check::{Case, Report, Weight, take};
use crate::compute::HOOKLESS_KPA;
use crate::fact;
use crate::finding::About;
use crate::model::Missing;
use crate::part::RimBead;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the lower of the two makers' limits counts (ISO 4210-1, from memory); 5.0 bar on road rims without hooks, as reported";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for (end, set) in model.ends.iter().zip([
        ("pressure_front", fact!(model.settings, pressure_front_kpa)),
        ("pressure_rear", fact!(model.settings, pressure_rear_kpa)),
    ]) {
        let (setting, set) = set;
        let tyre = take(fact!(end.tyre, pressure_max_kpa), &mut lacking)
            .map(|most| (most, "tyre", end.tyre.at("pressure_max")));
        let rim = take(fact!(end.wheel, pressure_max_kpa), &mut lacking)
            .map(|most| (most, "rim", end.wheel.at("pressure_max")));
        let bead = take(fact!(end.wheel, bead), &mut lacking).filter(|bead| *bead == RimBead::Hookless);
        let hookless = bead.map(|_| (HOOKLESS_KPA, "rim without hooks", end.wheel.at("bead")));
        let lowest = [tyre, rim, hookless].into_iter().flatten().min_by(|a, b| a.0.total_cmp(&b.0));
        let least = take(fact!(end.tyre, pressure_min_kpa), &mut lacking);
        let side = end.side.word();
        let set = take(set, &mut lacking);
        let Some((most_kpa, limited_by, about)) = lowest else { continue };
        if let Some(set_kpa) = set.filter(|set_kpa| *set_kpa > most_kpa) {
            out.say(
                vec![About::path(&format!("settings.{setting}")), about],
                format!("The {side} tyre is planned above its limit."),
                format!("{} are planned and the {limited_by} allows {}.", bar_of(set_kpa), bar_of(most_kpa)),
                format!("Stay at or below {}; a rider who needs more needs a wider tyre.", bar_of(most_kpa)),
            );
        } else if let Some(least_kpa) = least.filter(|least_kpa| set.unwrap_or(most_kpa) < *least_kpa) {
            out.say(
                vec![end.tyre.at("pressure_min"), about],
                format!("The {side} tyre is below the lowest pressure printed on it."),
                format!(
                    "It wants {} at least, and {} are to be ridden.",
                    bar_of(least_kpa),
                    bar_of(set.unwrap_or(most_kpa))
                ),
                "Set a pressure between the limits, or fit a tyre and rim whose limits leave room.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the tyres are within their pressure limits");
}


/// 4.7 and 4.9 bar, where tyre and rim allow 6.9.
pub fn fits(_: &mut Build) {}

/// 8 bar in front.
pub fn does_not_fit(build: &mut Build) {
    build.settings.pressure_front_kpa = Some(800.0.into());
}

/// The front tyre's highest pressure was not read.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.tyre.make("front").pressure_max_kpa = None);
