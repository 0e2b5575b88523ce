//! What reaches the asked position, as plain data.

use schemars::JsonSchema;
use serde::Serialize;
use witnessmark_core::draw::Point2;
use witnessmark_core::search::{FrontReach, FrontWay, Reach, RearReach, RearWay};

/// What reaches the asked position.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ReachJson {
    /// The version of this form.
    pub form: u32,
    /// Stem, spacers, bar, roll and levers to the hoods.
    pub front: FrontReachJson,
    /// Saddle, post and tilt to the saddle's reference point.
    pub rear: RearReachJson,
}

/// The ways to the hoods.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FrontReachJson {
    /// Combinations tried.
    pub tried: u64,
    /// Combinations within the limit; there may be more than are listed.
    pub within: u64,
    /// The limit, mm.
    pub within_mm: f64,
    /// The nearest miss, mm; of all combinations where none comes within the limit.
    pub nearest_mm: Option<f64>,
    /// Why there was nothing to search, in words.
    pub missing: Option<String>,
    /// The ways, best first.
    pub ways: Vec<FrontWayJson>,
}

/// One way to the hoods.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FrontWayJson {
    /// The path of the stem, or of the one-piece cockpit.
    pub stem: String,
    /// The stem goes the other way up than printed.
    pub flipped: bool,
    /// The path of the bar; the same as `stem` for a one-piece cockpit.
    pub bar: String,
    /// Spacers under the stem, mm.
    pub spacers_under: f64,
    /// Bar roll, degrees.
    pub bar_roll: f64,
    /// Bar's end to the underside of the hood, mm.
    pub lever_from_end: f64,
    /// Tip of the hood inward of its root, mm.
    pub toe_in: f64,
    /// Hood gap, inside to inside, mm.
    pub hood_gap: f64,
    /// The further of the two hoods less where it is asked to be: forward, up, mm.
    pub off: [f64; 2],
    /// The same as a distance, mm.
    pub miss: f64,
    /// What is given up, in words; empty when nothing is.
    pub sacrifices: Vec<String>,
}

/// The ways to the saddle.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RearReachJson {
    /// Combinations tried.
    pub tried: u64,
    /// Why there was nothing to search, in words.
    pub missing: Option<String>,
    /// The ways, best first: every combination, reached or not.
    pub ways: Vec<RearWayJson>,
}

/// One way to the saddle.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RearWayJson {
    /// The path of the saddle.
    pub saddle: String,
    /// The path of the post.
    pub post: String,
    /// Saddle tilt, degrees.
    pub tilt: f64,
    /// Top of the collar to the centre of the rail clamp, mm.
    pub post_extension: f64,
    /// Middle of the usable rail forward of the middle of the clamp, mm.
    pub rail_position: f64,
    /// The reference point less where it is asked to be: forward, up, mm.
    pub off: [f64; 2],
    /// The same as a distance, mm.
    pub miss: f64,
    /// What is given up, in words; empty when nothing is.
    pub sacrifices: Vec<String>,
}

/// What reaches the asked position, as plain data.
///
/// ```
/// use witnessmark_core::{Build, search::reach};
/// let nothing_asked = witnessmark_web::api::mirror_reach(&reach(&Build::default()));
/// assert!(nothing_asked.front.missing.is_some() && nothing_asked.front.ways.is_empty());
/// ```
pub fn mirror_reach(reach: &Reach) -> ReachJson {
    ReachJson { form: super::FORM, front: front(&reach.front), rear: rear(&reach.rear) }
}

fn front(reach: &FrontReach) -> FrontReachJson {
    FrontReachJson {
        tried: reach.tried,
        within: reach.within,
        within_mm: reach.within_mm,
        nearest_mm: reach.nearest_mm,
        missing: reach.missing.as_ref().map(ToString::to_string),
        ways: reach.ways.iter().map(front_way).collect(),
    }
}

pub(super) fn front_way(way: &FrontWay) -> FrontWayJson {
    FrontWayJson {
        stem: way.stem.clone(),
        flipped: way.flipped,
        bar: way.bar.clone(),
        spacers_under: way.spacers_under_mm,
        bar_roll: way.bar_roll_deg,
        lever_from_end: way.lever_from_end_mm,
        toe_in: way.toe_in_mm,
        hood_gap: way.hood_gap_mm,
        off: pair(way.off),
        miss: way.miss_mm,
        sacrifices: way.sacrifices.clone(),
    }
}

fn rear(reach: &RearReach) -> RearReachJson {
    RearReachJson {
        tried: reach.tried,
        missing: reach.missing.as_ref().map(ToString::to_string),
        ways: reach.ways.iter().map(rear_way).collect(),
    }
}

pub(super) fn rear_way(way: &RearWay) -> RearWayJson {
    RearWayJson {
        saddle: way.saddle.clone(),
        post: way.post.clone(),
        tilt: way.tilt_deg,
        post_extension: way.post_extension_mm,
        rail_position: way.rail_position_mm,
        off: pair(way.off),
        miss: way.miss_mm,
        sacrifices: way.sacrifices.clone(),
    }
}

fn pair(point: Point2) -> [f64; 2] {
    [point.x_mm, point.y_mm]
}
