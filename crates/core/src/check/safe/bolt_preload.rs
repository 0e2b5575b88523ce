//! No screw is pulled beyond what it bears.
//!
//! - Looks at: torque, thread, strength class and compound of each screw with a head, and the wrench it was tightened with.
//! - Why: grease halves the friction for which a torque was meant, and the screw is pulled half as hard again; a soft
//!   stainless one lengthens, and is loose a week later.
//! - Source: ISO 898-1, proof loads; ISO 3506-1, 0.2 % limits; friction by the classes of VDI 2230, from memory
//! - Fits: 12.9 screws of 5 mm at 5 N·m.
//! - Does not fit: the same of class 8.8.
//! - Not known: nobody read the class off the face plate's screws.

use crate::build::{Build, StrengthClass};
use crate::check::words::nm;
use crate::check::{Case, Report, Weight, sentence};
use crate::finding::{About, Severity, figure};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "ISO 898-1, proof loads; ISO 3506-1, 0.2 % limits; friction by the classes of VDI 2230, from memory";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "it is the worst case of an estimate, and the maker's torque counts");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for bolt in &case.worked.fasteners.list {
        let preload = match &bolt.preload {
            None => continue,
            Some(Err(missing)) => {
                lacking = lacking.and(missing);
                continue;
            }
            Some(Ok(preload)) => preload,
        };
        match (&preload.proof_n, preload.most_of_proof()) {
            (Ok(proof_n), Ok(share)) if share > 1.0 => out.say(
                vec![
                    About::path(&format!("{}.strength", bolt.path())),
                    About::path(&format!("{}.applied", bolt.path())),
                ],
                format!("{}: the screw may be pulled beyond what it bears.", sentence(&bolt.name)),
                format!(
                    "At {} it is pulled by {} to {} kN, by its friction; it bears {} kN.",
                    nm(preload.torque_nm),
                    figure(preload.pull_n.low / 1000.0, 1),
                    figure(preload.pull_n.high / 1000.0, 1),
                    figure(proof_n / 1000.0, 1)
                ),
                "Ask the maker for which screw and which compound the torque is meant, and fit that screw.".into(),
            ),
            (Err(missing), _) => lacking = lacking.and(missing),
            _ => {}
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether each screw bears what its torque pulls");
}

/// 12.9 screws of 5 mm at 5 N·m.
pub fn fits(_: &mut Build) {}

/// The same of class 8.8.
pub fn does_not_fit(build: &mut Build) {
    let record = build.fasteners.entry("stem-face-plate".into()).or_default();
    record.strength = Some(StrengthClass::Steel8.into());
}

/// Nobody read the class off the face plate's screws.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.fasteners.entry("stem-face-plate".into()).or_default().strength = None);
