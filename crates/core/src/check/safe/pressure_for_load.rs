//! The pressure suits what stands on the wheel.
//!
//! - Looks at: the pressure set, the load on each wheel, the tyre's measured width, what keeps the air in, and a pressure
//!   that the rider likes elsewhere, where one is told.
//! - Why: far too little lets the tyre roll off in a corner and cuts the tube on a stone; far too much skips over what it
//!   should grip.
//! - Source: Berto's 15 % chart by a fit (quoted), within its doubt; a liked pressure by load and width^1.5
//! - Fits: 4.7 and 4.9 bar under 68 kg on 28 mm.
//! - Does not fit: 2.2 bar in front.
//! - Not known: the rider's mass is not told.

use crate::build::Build;
use crate::check::words::bar_of;
use crate::check::{Case, Report, Weight};
use crate::field::Choice;
use crate::finding::{About, Severity, figure};
use crate::model::Missing;
use crate::number::Side;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "Berto's 15 % chart by a fit (quoted), within its doubt; a liked pressure by load and width^1.5";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "no formula gives the best pressure; the rider decides between the limits");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// So far outside of the doubt a pressure is taken for a slip.
const OUTSIDE: f64 = 1.3;

/// The check. A bike without a pressure set is asked for it by the check of limits.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for (side, setting) in [(Side::Front, "settings.pressure_front"), (Side::Rear, "settings.pressure_rear")] {
        let tyre = case.worked.tyres.at(side);
        let Some(set_kpa) = tyre.set_kpa else { continue };
        let start = match &tyre.start {
            Ok(start) => start,
            Err(missing) => {
                lacking = lacking.and(missing);
                continue;
            }
        };
        let low = set_kpa * OUTSIDE < start.low_kpa;
        if low || set_kpa > start.high_kpa * OUTSIDE {
            let load = tyre.load.as_ref().map_or(0.0, |load| load.mass_g);
            out.say(
                vec![About::path(setting)],
                format!(
                    "The pressure of the {} tyre is far {} what its load asks for.",
                    side.word(),
                    if low { "below" } else { "above" }
                ),
                format!(
                    "{} are set; with {} kg on the wheel a trial starts between {} and {} ({}).",
                    bar_of(set_kpa),
                    figure(load / 1000.0, 0),
                    bar_of(start.low_kpa),
                    bar_of(start.high_kpa),
                    start.from.name()
                ),
                "Read the gauge and its unit again; then start there, ride, and change by 0.2 bar.".into(),
            );
        }
        if let Some(limit) = &start.held_by {
            out.say_as(
                Severity::Caution,
                vec![About::path(&limit.path)],
                format!("The {} wheel carries more than its tyre may be inflated for.", side.word()),
                format!("A trial would start above {}, which is the limit of the {}.", bar_of(limit.kpa), limit.whose),
                "Fit a wider tyre: it carries the same at a lower pressure.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the pressures suit what stands on the wheels");
}

/// 4.7 and 4.9 bar under 68 kg on 28 mm.
pub fn fits(_: &mut Build) {}

/// 2.2 bar in front.
pub fn does_not_fit(build: &mut Build) {
    build.settings.pressure_front_kpa = Some(220.0.into());
}

/// The rider's mass is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.rider.mass_g = None);
