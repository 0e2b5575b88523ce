//! The wrenches were within their calibration and their range.
//!
//! - Looks at: each wrench that a torque was applied with, when it was last calibrated, for how long that is good, its
//!   range, and the day on which it was used.
//! - Why: a wrench that was dropped, or reads from the bottom of its range, is off by a fifth and clicks all the same.
//! - Source: ISO 6789, from memory: twelve months or 5000 clicks, whichever comes first
//! - Fits: calibrated in January, used in March.
//! - Does not fit: its calibration ran out before it was used.
//! - Not known: nobody noted when it was calibrated.

use crate::build::{Build, Wrench};
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity};
use crate::model::Missing;
use std::collections::BTreeMap;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "ISO 6789, from memory: twelve months or 5000 clicks, whichever comes first";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a checked wrench on the same bolts puts it right");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// What was done with one wrench.
#[derive(Default)]
struct Use {
    due: Vec<String>,
    out_of_range: Vec<String>,
}

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut uses: BTreeMap<&str, Use> = BTreeMap::new();
    let mut lacking = Missing::default();
    for bolt in &case.worked.fasteners.list {
        let Some(used) = &bolt.wrench else { continue };
        let one = uses.entry(&used.name).or_default();
        match used.was_due {
            Some(true) => one.due.push(bolt.name.clone()),
            Some(false) => {}
            None => {
                let told = used.wrench.as_ref();
                for (fact, told) in [
                    ("calibrated_on", told.is_some_and(|wrench| wrench.calibrated_on.is_some())),
                    ("good_for_days", told.is_some_and(|wrench| wrench.good_for_days.is_some())),
                ] {
                    if !told {
                        lacking = lacking.and(&Missing::fact(format!("wrenches.{}.{fact}", used.name)));
                    }
                }
                if bolt.record.as_ref().is_some_and(|record| record.on.is_none()) {
                    lacking = lacking.and(&Missing::fact(format!("{}.on", bolt.path())));
                }
            }
        }
        if used.in_range == Some(false) {
            one.out_of_range.push(bolt.name.clone());
        }
    }
    for (name, one) in &uses {
        if !one.due.is_empty() {
            out.say(
                vec![About::path(&format!("wrenches.{name}.calibrated_on"))],
                format!("The wrench “{name}” was due for calibration."),
                format!("Its calibration had run out when it was used on: {}.", and_list(&one.due)),
                "Have it checked, and go over these bolts with one that is within its date.".into(),
            );
        }
        if !one.out_of_range.is_empty() {
            out.say(
                vec![About::path(&format!("wrenches.{name}.low")), About::path(&format!("wrenches.{name}.high"))],
                format!("The wrench “{name}” was used outside its range."),
                format!("It is not good for the torque of: {}.", and_list(&one.out_of_range)),
                "Use one in the middle of whose range the torque lies.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the wrenches were within their calibration");
}

fn small(build: &mut Build) -> &mut Wrench {
    build.wrenches.entry("small".into()).or_default()
}

/// Calibrated in January, used in March.
pub fn fits(_: &mut Build) {}

/// Its calibration ran out before it was used.
pub fn does_not_fit(build: &mut Build) {
    small(build).good_for_days = Some(14.into());
}

/// Nobody noted when it was calibrated.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| small(build).calibrated_on = None);
