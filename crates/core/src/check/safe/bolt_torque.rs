//! The torque that was applied is the lowest limit of the parts joined, or a little less.
//!
//! - Looks at: the torque applied at each bolt, and what each of the parts that it joins states.
//! - Why: too much crushes carbon and strips threads, unseen; half as much as asked is nearly always a slip of the wrench
//!   or of the pen.
//! - Source: common practice, no source: the lowest limit among the joined parts counts
//! - Fits: each bolt is at its torque.
//! - Does not fit: 7 N·m at a face plate whose bar allows 5.
//! - Not known: a torque was applied, and the bar's limit is not told.

use crate::build::Build;
use crate::check::words::nm;
use crate::check::{Case, Report, Weight, compare, sentence};
use crate::finding::{About, Severity};
use crate::model::{Missing, in_words};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: the lowest limit among the joined parts counts";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// Below this share of the torque a reading is taken for a slip.
const LEAST_SHARE: f64 = 0.5;

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for bolt in &case.worked.fasteners.list {
        let Some(applied_nm) = bolt.applied_nm() else { continue };
        lacking = lacking.and(&bolt.silent);
        let Some(limit) = bolt.lowest() else { continue };
        let about = || vec![About::path(&format!("{}.applied", bolt.path())), About::path(&limit.path)];
        if compare::exceeds(applied_nm, limit.nm) {
            out.say(
                about(),
                format!("{} was tightened too far.", sentence(&bolt.name)),
                format!("{} were applied; {} says {}.", nm(applied_nm), in_words(&limit.path), nm(limit.nm)),
                "Let it go, take the parts apart and look at them; carbon that was crushed is replaced.".into(),
            );
        } else if applied_nm < LEAST_SHARE * limit.nm {
            out.say_as(
                Severity::Caution,
                about(),
                format!("{} is at less than half of its torque.", sentence(&bolt.name)),
                format!("{} were applied, and {} are the lowest limit.", nm(applied_nm), nm(limit.nm)),
                "Put the wrench on it again, or write down the lower torque that is meant here.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether a bolt was tightened too far");
}

/// Each bolt is at its torque.
pub fn fits(_: &mut Build) {}

/// 7 N·m at a face plate whose bar allows 5.
pub fn does_not_fit(build: &mut Build) {
    build.fasteners.entry("stem-face-plate".into()).or_default().applied_nm = Some(7.0.into());
}

/// The bar's limit is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bar.make("").stem_clamp_torque_nm = None);
