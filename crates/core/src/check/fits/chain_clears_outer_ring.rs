//! The chain on the inner ring clears the outer one.
//!
//! - Looks at: in each gear that is not locked off: the drift of the chain from the inner ring to the sprocket,
//!   where it passes the tips of the outer ring.
//! - Why: a chain that brushes the outer ring is lifted by its shifting pins, rattles, and climbs under load.
//! - Source: similar triangles; full tips, so that it errs on the safe side
//! - Fits: 0.1 mm of room on the smallest sprocket in use.
//! - Does not fit: a crank whose rings stand 7 mm apart, further out.
//! - Not known: the distance between the rings is not known.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::compute::Avoid;
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::number::{CHAIN_LINE, Side};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "similar triangles; full tips, so that it errs on the safe side";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "tips cut away for shifting leave a little more room than full ones");
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let worked = &case.worked.transmission;
    if worked.absent {
        return;
    }
    if fact!(case.model.crankset, rings).is_ok_and(|rings| rings.len() == 1) {
        return;
    }
    let chain = crate::compute::drivetrain(case.model).chain;
    let facts = (
        worked.across.as_ref().map_err(Clone::clone),
        fact!(case.model.frame, chainstay_mm),
        fact!(case.model.crankset, ring_thickness_mm),
        fact!(chain, outer_width_mm),
    );
    if let Err(missing) = all(facts) {
        out.not_known_as(Severity::Note, &missing, "whether the chain on the inner ring clears the outer one");
        return;
    }
    let Ok(gears) = &worked.gears else { return };
    let used = gears.iter().filter(|line| !line.avoid.contains(&Avoid::LockedOff));
    let rubbing: Vec<_> = used
        .filter_map(|line| line.ring_room_mm.filter(|room_mm| *room_mm < 0.0).map(|room_mm| (line, room_mm)))
        .collect();
    let Some((line, room_mm)) = rubbing.iter().min_by(|(_, a), (_, b)| a.total_cmp(b)) else { return };
    let last = rubbing.iter().map(|(line, _)| line.gear.sprocket).max().unwrap_or(line.gear.sprocket);
    out.say(
        vec![About::number(&CHAIN_LINE, Side::None), About::path("settings.inner_ring_from_sprocket")],
        format!("The chain touches the larger ring in {} × {}.", line.gear.ring, line.gear.sprocket),
        format!("Where it passes the tips it would stand {} into them.", mm(-room_mm)),
        format!("With the smaller ring, leave the sprockets up to {last} alone or lock them off; or move the rings."),
    );
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// Rings close together.
pub fn does_not_fit(build: &mut Build) {
    let crankset = build.parts.crankset.make("");
    crankset.ring_spacing_mm = Some(6.5.into());
}

/// Nobody measured the rings.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.crankset.make("").ring_spacing_mm = None);
