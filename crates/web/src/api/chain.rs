//! The chain in every gear at every length, as plain data.

use super::ask::{Id, Refused};
use super::gears::{CageJson, cage};
use super::{MarkJson, mark_json};
use crate::app::App;
use axum::Json;
use axum::extract::State;
use schemars::JsonSchema;
use serde::Serialize;
use witnessmark_core::Plan;
use witnessmark_core::compute::{ChainPlan, GearLine, LENGTHS, Longest, PivotFrom, ThumbRules};
use witnessmark_core::draw::{self, ChainDrawing};

/// How long the chain is and where the cage stands.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ChainJson {
    /// The version of this form.
    pub form: u32,
    /// Links as chosen: the settings', else the recommended, else by the rules of thumb.
    pub links: Option<u32>,
    /// Why there is no such number, in words.
    pub links_lack: Option<String>,
    /// By the rules of thumb, which do not look at the cage.
    pub rules_of_thumb: Option<ThumbRulesJson>,
    /// Teeth to be taken up.
    pub capacity: Option<CapacityJson>,
    /// Round the true cage; `null` where the cage is not known.
    pub worked_out: Option<WorkedChainJson>,
    /// Why it is not worked out, in words.
    pub lacks: Option<String>,
    /// The chain drawn to scale at both extremes.
    pub drawings: Vec<ChainDrawingJson>,
}

/// Lengths by the rules of thumb.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ThumbRulesJson {
    /// Wrapped round the largest ring and sprocket, a pair of plates more.
    pub wrapped: u32,
    /// The sum in inches.
    pub inches: u32,
    /// How far they may be off, either way.
    pub plus_minus: u32,
}

/// Teeth to be taken up.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CapacityJson {
    /// Difference of the rings and of the sprockets, together.
    pub needed: u32,
    /// What the derailleur's maker states.
    pub stated: Option<u32>,
    /// What the cage takes up between its stops, by geometry.
    pub geometry: Option<f64>,
}

/// The chain round the true cage.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WorkedChainJson {
    /// Shortest even number of links that is safe in the largest pair.
    pub shortest: Option<u32>,
    /// Longest even number of links that stays tight and clear in every gear that is used.
    pub longest: Option<u32>,
    /// The gear that decides it: ring, sprocket.
    pub longest_in: Option<[u32; 2]>,
    /// What keeps it from being longer: `slack` or `rubs itself`.
    pub longest_by: Option<&'static str>,
    /// The number to cut to; `null` where no number is right at both ends.
    pub recommended: Option<u32>,
    /// How far both ends may be off, links.
    pub plus_minus: f64,
    /// Smallest sprocket from which the inner ring would be usable with the shortest chain.
    pub inner_from: Option<u32>,
    /// Links that the largest pair needs more than with the maker's own cage, where another is fitted.
    pub added_by_cage: Option<f64>,
    /// Shortest safe chain with the maker's own cage.
    pub own_shortest: Option<u32>,
    /// The pivot was read at `both ends` of the cassette, or on a `middle` sprocket.
    pub pivot_from: &'static str,
    /// The lengths of the table below.
    pub lengths: Vec<u32>,
    /// Every gear.
    pub gears: Vec<ChainGearJson>,
}

/// The chain in one gear.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ChainGearJson {
    /// Teeth of the ring.
    pub ring: u32,
    /// Teeth of the sprocket.
    pub sprocket: u32,
    /// Links with the cage at its end ahead.
    pub least_links: Option<f64>,
    /// Links with the cage at its end behind.
    pub most_links: Option<f64>,
    /// How the chain lies at each of the lengths; `null` where there is no way for it.
    pub at: Vec<Option<CageJson>>,
}

/// The chain drawn in one gear.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ChainDrawingJson {
    /// Teeth of the ring.
    pub ring: u32,
    /// Teeth of the sprocket.
    pub sprocket: u32,
    /// Links of the chain drawn.
    pub links: u32,
    /// The cage's angle, degrees.
    pub cage: f64,
    /// It is drawn at an end of the swing, because the chain does not lie tight in this gear.
    pub at_an_end: bool,
    /// The lines, in the frame of the bike.
    pub marks: Vec<MarkJson>,
}

/// The chain as plain data.
///
/// ```
/// use witnessmark_core::{Build, plan};
/// let nothing = witnessmark_web::api::mirror_chain(&plan(&Build::default()));
/// assert!(nothing.worked_out.is_none() && nothing.lacks.is_some() && nothing.drawings.is_empty());
/// ```
pub fn mirror_chain(plan: &Plan) -> ChainJson {
    let worked = &plan.worked.transmission;
    let gears: &[GearLine] = worked.gears.as_deref().unwrap_or_default();
    ChainJson {
        form: super::FORM,
        links: worked.links.as_ref().ok().copied(),
        links_lack: worked.links.as_ref().err().map(ToString::to_string),
        rules_of_thumb: worked.rules.as_ref().ok().map(|rules| ThumbRulesJson {
            wrapped: rules.wrapped,
            inches: rules.inches,
            plus_minus: ThumbRules::PLUS_MINUS_LINKS,
        }),
        capacity: worked.capacity.as_ref().ok().map(|capacity| CapacityJson {
            needed: capacity.needed_teeth,
            stated: capacity.stated_teeth,
            geometry: capacity.geometry_teeth,
        }),
        worked_out: worked.chain.as_ref().ok().map(|chain| worked_chain(chain, gears)),
        lacks: worked.chain.as_ref().err().map(ToString::to_string),
        drawings: draw::chain(&plan.worked).iter().filter_map(|drawn| drawing(drawn, gears)).collect(),
    }
}

fn worked_chain(chain: &ChainPlan, gears: &[GearLine]) -> WorkedChainJson {
    let pair = |at: usize| gears.get(at).map(|line| [line.gear.ring, line.gear.sprocket]);
    let each = gears.iter().enumerate().map(|(at, line)| {
        let swing = chain.swings.get(at).and_then(|swing| swing.as_ref().ok());
        ChainGearJson {
            ring: line.gear.ring,
            sprocket: line.gear.sprocket,
            least_links: swing.map(|swing| swing.least_links),
            most_links: swing.map(|swing| swing.most_links),
            at: LENGTHS.map(|links| chain.in_gear(at, links).as_ref().map(cage)).collect(),
        }
    });
    WorkedChainJson {
        shortest: chain.shortest,
        longest: chain.longest.map(|longest| longest.links),
        longest_in: chain.longest.and_then(|longest| pair(longest.gear)),
        longest_by: chain.longest.map(|longest| match longest.by {
            Longest::Slack => "slack",
            Longest::RubsItself => "rubs itself",
        }),
        recommended: chain.recommended,
        plus_minus: chain.plus_minus_links,
        inner_from: chain.inner_from,
        added_by_cage: chain.own.map(|own| own.added_links),
        own_shortest: chain.own.map(|own| own.shortest),
        pivot_from: match chain.pivot_from {
            PivotFrom::BothEnds => "both ends",
            PivotFrom::Middle => "middle",
        },
        lengths: LENGTHS.collect(),
        gears: each.collect(),
    }
}

fn drawing(drawn: &ChainDrawing, gears: &[GearLine]) -> Option<ChainDrawingJson> {
    let gear = gears.get(drawn.gear)?.gear;
    Some(ChainDrawingJson {
        ring: gear.ring,
        sprocket: gear.sprocket,
        links: drawn.links,
        cage: drawn.cage_deg,
        at_an_end: drawn.at_an_end,
        marks: drawn.drawing.marks.iter().map(mark_json).collect(),
    })
}

pub(super) async fn chain_of(State(app): State<App>, Id(id): Id) -> Result<Json<ChainJson>, Refused> {
    Ok(Json(mirror_chain(&super::loaded(&app, &id).await?.plan)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use witnessmark_core::build::sample::sample;
    use witnessmark_core::plan;

    #[test]
    fn every_gear_is_there_at_every_length_and_the_recommended_one_is_tight_in_the_largest_pair() {
        let json = mirror_chain(&plan(&sample()));
        let worked = json.worked_out.as_ref();
        let (recommended, lengths) = (worked.and_then(|chain| chain.recommended), LENGTHS.count());
        assert_eq!(json.drawings.len(), 2);
        assert_eq!(recommended.map(|links| links % 2), Some(0));
        for gear in worked.iter().flat_map(|chain| &chain.gears) {
            assert_eq!(gear.at.len(), lengths);
        }
        let at = LENGTHS.clone().position(|links| Some(links) == recommended).unwrap_or_default();
        let largest = worked.and_then(|chain| chain.gears.get(11)?.at.get(at)?.as_ref());
        assert_eq!(largest.map(|cage| cage.lies), Some("tight"));
    }
}
