//! The gears, as plain data.

use super::ask::{Id, Refused};
use crate::app::App;
use axum::Json;
use axum::extract::State;
use schemars::JsonSchema;
use serde::Serialize;
use witnessmark_core::Plan;
use witnessmark_core::compute::{CageInGear, GearLimits, GearLine, Lies, RollingFrom};
use witnessmark_core::field::Choice;
use witnessmark_core::rulebook::{Asks, Limit};

/// What each gear does.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GearsJson {
    /// The version of this form.
    pub form: u32,
    /// Why there are no gears, in words.
    pub lacks: Option<String>,
    /// How far the rear wheel rolls in a turn, mm.
    pub rolling: Option<f64>,
    /// How well that is known, either way, mm.
    pub rolling_plus_minus: Option<f64>,
    /// How it was had: `rolled out`, `radius` or `size`.
    pub rolling_from: Option<&'static str>,
    /// Why it is not known, in words.
    pub rolling_lacks: Option<String>,
    /// Turns of the crank a minute for the speeds.
    pub cadence: f64,
    /// What the race's rules ask of the longest gear.
    pub limits: Vec<GearLimitJson>,
    /// Why that is not known, in words.
    pub limits_lack: Option<String>,
    /// Whether it depends on a year of birth that is not known.
    pub limits_by_age: bool,
    /// Every gear, ring by ring, the smallest sprocket first.
    pub gears: Vec<GearJson>,
}

/// A limit of the longest gear on the day of the race.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GearLimitJson {
    /// Its id, never used twice.
    pub id: &'static str,
    /// Under whose rules.
    pub rules: &'static str,
    /// Its article.
    pub article: &'static str,
    /// For whom, in the body's own word; empty where it is for everybody.
    pub class: &'static str,
    /// The longest way in a turn of the crank, mm; `null` where there is none or its figure was not found.
    pub longest: Option<f64>,
    /// Known to be without a limit.
    pub none: bool,
    /// `in force`, `announced`, `suspended` or `withdrawn`.
    pub status: &'static str,
    /// How it was seen: `document`, `page`, `quoted` or `from memory`.
    pub seen: &'static str,
    /// Where it was seen.
    pub source: &'static str,
}

/// One gear.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GearJson {
    /// Teeth of the ring.
    pub ring: u32,
    /// Teeth of the sprocket.
    pub sprocket: u32,
    /// The ratio in lowest terms: above the line, below the line.
    pub ratio: [u32; 2],
    /// Turns of the wheel for one of the crank.
    pub turns: f64,
    /// How far the bike goes in a turn of the crank, mm.
    pub development: Option<f64>,
    /// How well that is known, either way, mm.
    pub development_plus_minus: Option<f64>,
    /// Speed at the cadence, km/h.
    pub speed: Option<f64>,
    /// How much harder the next smaller sprocket is, per cent; `null` on the smallest.
    pub step: Option<f64>,
    /// Gears of other rings that do nearly the same: ring, sprocket.
    pub nearly: Vec<[u32; 2]>,
    /// How far the chain is out of line, degrees, above zero when it runs inward on its way back.
    pub line: Option<f64>,
    /// Room between the chain and the larger ring beside it, mm.
    pub ring_room: Option<f64>,
    /// How the chain as chosen lies in it.
    pub cage: Option<CageJson>,
    /// What the limits in force say of it; `null` where none has a figure.
    pub limit: Option<&'static str>,
    /// Why it is better left alone; empty for a good gear.
    pub avoid: Vec<&'static str>,
}

/// How a chain lies in a gear.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CageJson {
    /// `tight`, `short` or `slack`.
    pub lies: &'static str,
    /// The cage's angle, degrees: pivot to lower wheel, 0 ahead, −90 straight down.
    pub cage: Option<f64>,
    /// Links by which it is too short or slack.
    pub by_links: Option<f64>,
    /// Degrees left before the stop ahead.
    pub ahead: Option<f64>,
    /// Degrees left before the stop behind.
    pub behind: Option<f64>,
    /// Room between the lower run and the chain on the upper wheel, mm.
    pub self_gap: Option<f64>,
}

/// The gears as plain data.
///
/// ```
/// use witnessmark_core::{Build, plan};
/// let nothing = witnessmark_web::api::mirror_gears(&plan(&Build::default()));
/// assert!(nothing.gears.is_empty() && nothing.lacks.is_some());
/// ```
pub fn mirror_gears(plan: &Plan) -> GearsJson {
    let worked = &plan.worked.transmission;
    let rear = worked.rolling.as_ref().ok();
    let gears: &[GearLine] = worked.gears.as_deref().unwrap_or_default();
    GearsJson {
        form: super::FORM,
        lacks: worked.gears.as_ref().err().map(ToString::to_string),
        rolling: rear.map(|rear| rear.rolling.circumference_mm),
        rolling_plus_minus: rear.map(|rear| rear.rolling.plus_minus_mm),
        rolling_from: rear.map(|rear| match rear.from {
            RollingFrom::RolledOut => "rolled out",
            RollingFrom::Radius => "radius",
            RollingFrom::Size => "size",
        }),
        rolling_lacks: worked.rolling.as_ref().err().map(ToString::to_string),
        cadence: worked.cadence_per_minute,
        limits: worked.limits.iter().flat_map(limits).collect(),
        limits_lack: worked.limits.as_ref().err().map(ToString::to_string),
        limits_by_age: worked.limits.as_ref().is_ok_and(|limits| !limits.depend_on_age.is_empty()),
        gears: gears.iter().map(|line| gear(line, gears)).collect(),
    }
}

fn limits(limits: &GearLimits) -> Vec<GearLimitJson> {
    limits.limits.iter().copied().map(limit).collect()
}

fn limit(limit: &Limit) -> GearLimitJson {
    GearLimitJson {
        id: limit.id,
        rules: limit.rules.name(),
        article: limit.article,
        class: limit.ages.map_or("", |ages| ages.class),
        longest: match limit.asks {
            Asks::Within(range) => Some(range.high).filter(|high| high.is_finite()),
            _ => None,
        },
        none: limit.asks == Asks::Nothing,
        status: limit.status.name(),
        seen: limit.seen.name(),
        source: limit.source,
    }
}

fn gear(line: &GearLine, gears: &[GearLine]) -> GearJson {
    GearJson {
        ring: line.gear.ring,
        sprocket: line.gear.sprocket,
        ratio: [line.ratio.over, line.ratio.under],
        turns: line.gear.turns(),
        development: line.development_mm,
        development_plus_minus: line.development_plus_minus_mm,
        speed: line.speed_kmh,
        step: line.step_percent,
        nearly: line
            .nearly
            .iter()
            .filter_map(|at| gears.get(*at))
            .map(|other| [other.gear.ring, other.gear.sprocket])
            .collect(),
        line: line.line_deg,
        ring_room: line.ring_room_mm,
        cage: line.cage.as_ref().map(cage),
        limit: line.limit.map(|verdict| verdict.name()),
        avoid: line.avoid.iter().map(|avoid| witnessmark_sheets::transmission::word(*avoid)).collect(),
    }
}

pub(super) fn cage(cage: &CageInGear) -> CageJson {
    let (lies, by_links) = match cage.lies {
        Lies::Tight { .. } => ("tight", None),
        Lies::TooShort { by_links } => ("short", Some(by_links)),
        Lies::Slack { by_links } => ("slack", Some(by_links)),
    };
    CageJson {
        lies,
        cage: cage.cage_deg(),
        by_links,
        ahead: cage.ahead_in_hand_deg,
        behind: cage.behind_in_hand_deg,
        self_gap: cage.self_gap_mm,
    }
}

pub(super) async fn gears_of(State(app): State<App>, Id(id): Id) -> Result<Json<GearsJson>, Refused> {
    Ok(Json(mirror_gears(&super::loaded(&app, &id).await?.plan)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use witnessmark_core::build::sample::sample;
    use witnessmark_core::plan;

    #[test]
    fn every_gear_of_the_sample_is_mirrored_with_its_reasons_in_words() {
        let plan = plan(&sample());
        let gears = mirror_gears(&plan);
        let core = plan.worked.transmission.gears.as_deref().unwrap_or_default();
        assert_eq!(gears.gears.len(), core.len());
        assert!(gears.rolling.is_some() && gears.rolling_from.is_some() && gears.lacks.is_none());
        for (json, line) in gears.gears.iter().zip(core) {
            assert_eq!((json.ring, json.sprocket), (line.gear.ring, line.gear.sprocket));
            assert_eq!(json.avoid.len(), line.avoid.len());
            assert_eq!(json.cage.as_ref().and_then(|cage| cage.cage), line.cage.and_then(|cage| cage.cage_deg()));
        }
    }
}
