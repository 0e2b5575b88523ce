//! Backwards: from the asked position to every combination of parts and settings that comes near it.
//!
//! The second front door of the house. It asks `compute` and the mechanics; nothing in this crate asks it.
//!
//! The search is exact: it enumerates, and misses nothing inside the sets it is given. That is affordable because the
//! hoods' place relative to the bar's clamp depends on bar, roll and levers alone, and the clamp's place on stem and
//! spacers alone: each is worked out once, and every pair costs an addition and a comparison.

pub mod complete;
pub mod complete_exact;
pub mod complete_sample;
#[cfg(test)]
mod complete_tests;
pub mod complete_why;
pub mod fitting;
#[cfg(test)]
mod fitting_tests;
mod front;
mod rear;

pub use front::{FrontReach, FrontWay, MOST_COMBINATIONS, MOST_KEPT, front_ways};
pub use rear::{RearReach, RearWay, rear_ways};

use crate::build::Build;
use crate::compute::target;
use crate::model::Model;

/// What can be reached.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// Stem, spacers, bar, roll, levers → hoods.
    pub front: FrontReach,
    /// Saddle, post, tilt → the saddle's reference point.
    pub rear: RearReach,
}

/// Every combination of the parts fitted and on the shelf, and of the settings to try, best first.
pub fn reach(build: &Build) -> Reach {
    let model = Model::new(build);
    let target = target(&model);
    Reach { front: front_ways(&model, &target), rear: rear_ways(&model, &target) }
}

/// A part by its path, in words: the fitted one by its kind, one of the shelf with the name it has there.
pub fn shelf_part(path: &str) -> String {
    match path.split('.').collect::<Vec<_>>().as_slice() {
        ["shelf", kind, name] => format!("{} {name}", kind.replace('_', " ")),
        [_, kind] => kind.replace('_', " "),
        _ => path.to_owned(),
    }
}
