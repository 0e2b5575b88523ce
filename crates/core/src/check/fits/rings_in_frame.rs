//! The rings clear the chainstay.
//!
//! - Looks at: the rings, and the smallest and largest that the frame's maker allows; a single ring has a limit of its
//!   own.
//! - Why: a ring that is a few teeth too large saws into the stay when the frame twists in a sprint.
//! - Source: the ring sizes that the frame's maker allows
//! - Fits: 52 and 36 where 34 to 54 are allowed.
//! - Does not fit: an outer ring of 56.
//! - Not known: the frame's largest ring is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Given;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the ring sizes that the frame's maker allows";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["crankset", "frame"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let frame = &model.frame;
    let mut lacking = Missing::default();
    if let Some(rings) = take(fact!(model.crankset, rings), &mut lacking) {
        let single = rings.len() == 1;
        let least = take(fact!(frame, ring_min), &mut lacking);
        let (fact, most) = if single {
            ("single_ring_max", fact!(frame, single_ring_max))
        } else {
            ("ring_max", fact!(frame, ring_max))
        };
        let most = take(most, &mut lacking);
        let large = rings.iter().max().filter(|outer| most.is_some_and(|most| **outer > most));
        let small = rings.iter().min().filter(|inner| least.is_some_and(|least| **inner < least));
        for (ring, limit, fact, way) in [(large, most, fact, "most"), (small, least, "ring_min", "least")] {
            let (Some(ring), Some(limit)) = (ring, limit) else { continue };
            out.say(
                vec![model.crankset.at("rings"), frame.at(fact)],
                format!("The frame does not allow a ring of {ring} teeth."),
                format!("The ring has {ring} teeth and the frame's maker allows at {way} {limit}."),
                "Choose rings within the frame's range; where the maker is silent, 3 mm must stay free at the stay."
                    .into(),
            );
        }
    }
    out.not_known(&lacking, "whether the rings clear the chainstay");
}

/// 52 and 36 where 34 to 54 are allowed.
pub fn fits(_: &mut Build) {}

/// An outer ring of 56.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").rings = Some(Given { value: vec![56, 40], typed: "56; 40".into(), origin: None });
}

/// The frame's largest ring is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").ring_max = None);
