//! The chain in every gear and at every length: how long it must be, how long it may be, and where the cage stands.

use super::transmission::{Avoid, Drivetrain, Locks, Pair};
use crate::model::{Known, Missing, Model};
use crate::part::RearDerailleur;
use crate::{fact, known};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::chain::{
    Cage, Drive, Lies, OnCassette, PivotTravel, Refusal, Swing, even_at_least, even_at_most, mean_radius_mm,
};
use witnessmark_mechanics::frame::rear_axle;

/// Links left before the cage's stop ahead in the largest pair: common practice, no source. One link is one pair of
/// plates less half; it keeps the cage some ten degrees from its stop, which a bent hanger or a worn stop may eat.
pub const MARGIN_LINKS: f64 = 1.0;

/// The lengths looked at, links.
pub const LENGTHS: std::ops::RangeInclusive<u32> = 90..=130;

/// How well the facts are known where nobody says better, either way; common practice, no source.
mod doubt {
    pub(super) const STAY_MM: f64 = 1.0;
    pub(super) const STOP_DEG: f64 = 3.0;
    pub(super) const CAGE_MM: f64 = 1.0;
    pub(super) const PIVOT_MM: f64 = 3.0;
    /// Where the pivot was read on one sprocket only.
    pub(super) const PIVOT_ONCE_MM: f64 = 10.0;
}

/// Where the pivot's place comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PivotFrom {
    /// Read on the smallest and on the largest sprocket.
    BothEnds,
    /// Read on a middle sprocket; it is taken to follow the sprockets by two thirds of their radius.
    Middle,
}

/// What keeps the chain from being longer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Longest {
    /// The cage at its rear end.
    Slack,
    /// The lower run on the chain of the upper wheel.
    RubsItself,
}

/// The longest chain in a gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LongestIn {
    /// Place of the gear in the list of gears.
    pub gear: usize,
    /// Even number of links.
    pub links: u32,
    /// What keeps it from being longer.
    pub by: Longest,
}

/// How the chain lies in a gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CageInGear {
    /// Too short, tight with the cage at an angle, or slack.
    pub lies: Lies,
    /// Degrees left before the end ahead, where it is tight.
    pub ahead_in_hand_deg: Option<f64>,
    /// Degrees left before the end behind, where it is tight.
    pub behind_in_hand_deg: Option<f64>,
    /// Room between the lower run and the chain on the upper wheel, where it is tight and the chain's height known.
    pub self_gap_mm: Option<f64>,
}

impl CageInGear {
    /// The cage's angle, where the chain is tight.
    pub fn cage_deg(&self) -> Option<f64> {
        if let Lies::Tight { cage_deg } = self.lies { Some(cage_deg) } else { None }
    }

    pub(crate) fn objection(&self) -> Option<Avoid> {
        match self.lies {
            Lies::TooShort { .. } => Some(Avoid::TooShort),
            Lies::Slack { .. } => Some(Avoid::Slack),
            Lies::Tight { .. } => self.self_gap_mm.filter(|gap_mm| *gap_mm < 0.0).map(|_| Avoid::RubsItself),
        }
    }
}

/// The derailleur maker's own cage, where another is fitted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnCage {
    /// Shortest safe chain with it.
    pub shortest: u32,
    /// Teeth it takes up.
    pub take_up_teeth: Option<f64>,
    /// Links by which the largest pair needs more with the fitted cage, before rounding.
    pub added_links: f64,
}

/// The chain, worked out round the true cage.
#[derive(Clone, Debug, PartialEq)]
pub struct ChainPlan {
    /// The swing of the cage in each gear, in the order of the gears.
    pub swings: Vec<Result<Swing, Refusal>>,
    /// Height of the chain's plates.
    pub height_mm: Option<f64>,
    /// Where the pivot's place comes from.
    pub pivot_from: PivotFrom,
    /// Place of the gear of the largest ring and the largest sprocket.
    pub largest: usize,
    /// Place of the gear of the smallest ring and the smallest sprocket, locked off or not.
    pub smallest: usize,
    /// Shortest even number of links with the margin in the largest pair; none where the chain finds no way there.
    pub shortest: Option<u32>,
    /// What keeps the chain from being longer, over the gears that are not locked off.
    pub longest: Option<LongestIn>,
    /// Shortest of the lengths that are right at both ends.
    pub recommended: Option<u32>,
    /// Half the width of the interval in which both ends surely lie.
    pub plus_minus_links: f64,
    /// Teeth the cage takes up between its stops, in the smallest pair.
    pub take_up_teeth: Option<f64>,
    /// Smallest sprocket from which the inner ring would be usable with the shortest chain.
    pub inner_from: Option<u32>,
    /// The maker's own cage, where another is fitted and it is known.
    pub own: Option<OwnCage>,
}

impl ChainPlan {
    /// How a chain of so many links lies in the gear at this place; none where there is no way for it.
    pub fn in_gear(&self, gear: usize, links: u32) -> Option<CageInGear> {
        let swing = self.swings.get(gear)?.as_ref().ok()?;
        let lies = swing.lies(f64::from(links));
        let Lies::Tight { cage_deg } = lies else {
            return Some(CageInGear { lies, ahead_in_hand_deg: None, behind_in_hand_deg: None, self_gap_mm: None });
        };
        Some(CageInGear {
            lies,
            ahead_in_hand_deg: Some(swing.forward_deg - cage_deg),
            behind_in_hand_deg: Some(cage_deg - swing.rear_deg),
            self_gap_mm: self.height_mm.and_then(|height_mm| swing.self_gap_mm(cage_deg, height_mm)),
        })
    }

    /// Every length of [`LENGTHS`] in every gear: rows of lengths, each with the gears in their order.
    pub fn at_every_length(&self) -> Vec<(u32, Vec<Option<CageInGear>>)> {
        let row = |links| (links, (0..self.swings.len()).map(|gear| self.in_gear(gear, links)).collect());
        LENGTHS.map(row).collect()
    }
}

/// The five figures of a cage, fitted or the maker's own.
struct CageFacts {
    upper_teeth: u32,
    lower_teeth: u32,
    to_upper_mm: f64,
    to_lower_mm: f64,
    between_mm: Option<f64>,
}

/// Everything a chain's path needs beside the pair of teeth.
struct Layout {
    rear_axle: Point2,
    travel: PivotTravel,
    smallest: u32,
    largest: u32,
    cage: Cage,
}

impl Layout {
    fn drive(&self, ring_teeth: u32, sprocket_teeth: u32) -> Drive {
        let on = OnCassette { sprocket: sprocket_teeth, smallest: self.smallest, largest: self.largest };
        Drive {
            ring_teeth,
            sprocket_teeth,
            rear_axle: self.rear_axle,
            pivot: self.rear_axle + self.travel.at(on),
            cage: self.cage,
        }
    }
}

/// Works the chain out; what the cage's facts lack, it names.
pub(super) fn plan(
    model: &Model<'_>,
    parts: &Drivetrain<'_>,
    rings: &Known<Vec<u32>>,
    sprockets: &Known<Vec<u32>>,
) -> Known<ChainPlan> {
    known!(
        rings = rings.clone(),
        sprockets = sprockets.clone(),
        stay_mm = fact!(model.frame, chainstay_mm),
        drop_mm = fact!(model.frame, bb_drop_mm),
        cage = fitted_cage(parts),
        pivot = pivot(parts, sprockets),
    );
    let rear_axle = rear_axle(stay_mm, drop_mm).ok_or_else(|| {
        Missing::refused(format!("a chainstay of {stay_mm} mm cannot reach below a drop of {drop_mm} mm"))
    })?;
    let (travel, pivot_from) = pivot;
    let layout = Layout { rear_axle, travel, smallest: sprockets[0], largest: sprockets[sprockets.len() - 1], cage };
    let height_mm = fact!(parts.chain, height_mm).ok();
    let own = own_cage(parts, &cage).map(|cage| Layout { cage, ..layout });
    let mut plan = with(&Layout { ..layout }, &rings, &sprockets, Locks::of(model), height_mm);
    plan.pivot_from = pivot_from;
    plan.plus_minus_links = plus_minus(&plan, pivot_from);
    plan.own = own.and_then(|own| compare(&plan, &own, &rings, &sprockets));
    Ok(plan)
}

fn with(layout: &Layout, rings: &[u32], sprockets: &[u32], locks: Locks, height_mm: Option<f64>) -> ChainPlan {
    let swings: Vec<Result<Swing, Refusal>> = rings
        .iter()
        .flat_map(|&ring| sprockets.iter().map(move |&sprocket| (ring, sprocket)))
        .map(|(ring, sprocket)| layout.drive(ring, sprocket).swing())
        .collect();
    let (largest, smallest) = (sprockets.len() - 1, (rings.len() - 1) * sprockets.len());
    let mut plan = ChainPlan {
        height_mm,
        pivot_from: PivotFrom::BothEnds,
        largest,
        smallest,
        shortest: shortest(&swings[largest]),
        longest: None,
        recommended: None,
        plus_minus_links: 0.0,
        take_up_teeth: swings[smallest].as_ref().ok().map(Swing::take_up_teeth),
        inner_from: None,
        own: None,
        swings,
    };
    let allowed = |gear: &usize| {
        let (ring, sprocket) = (gear / sprockets.len(), sprockets[gear % sprockets.len()]);
        !locks.pair_is_off(Pair { outer: ring == 0, inner: ring + 1 == rings.len(), sprocket })
    };
    plan.longest = (0..plan.swings.len())
        .filter(allowed)
        .filter_map(|gear| longest_in(&plan, gear))
        .min_by_key(|longest| longest.links);
    plan.recommended = plan
        .shortest
        .zip(plan.longest)
        .filter(|(shortest, longest)| *shortest <= longest.links)
        .map(|(shortest, _)| shortest);
    plan.inner_from = plan.shortest.and_then(|links| {
        (smallest..plan.swings.len())
            .find(|&gear| longest_in(&plan, gear).is_some_and(|longest| longest.links >= links))
            .map(|gear| sprockets[gear - smallest])
    });
    plan
}

fn shortest(swing: &Result<Swing, Refusal>) -> Option<u32> {
    swing.as_ref().ok().and_then(|swing| even_at_least(swing.least_links + MARGIN_LINKS))
}

/// The longest even chain in a gear: tight, and clear of itself where its height is known.
fn longest_in(plan: &ChainPlan, gear: usize) -> Option<LongestIn> {
    let swing = plan.swings[gear].as_ref().ok()?;
    let mut links = even_at_most(swing.most_links)?;
    let mut by = Longest::Slack;
    // Shorter by a pair each time, down to the shortest that reaches at all.
    while f64::from(links) >= swing.least_links {
        let rubs = plan.in_gear(gear, links).and_then(|cage| cage.self_gap_mm).is_some_and(|gap_mm| gap_mm < 0.0);
        if !rubs {
            return Some(LongestIn { gear, links, by });
        }
        by = Longest::RubsItself;
        links = links.checked_sub(2)?;
    }
    Some(LongestIn { gear, links, by })
}

fn fitted_cage(parts: &Drivetrain<'_>) -> Known<Cage> {
    let derailleur = &parts.rear_derailleur;
    known!(
        upper_teeth = fact!(derailleur, upper_wheel),
        lower_teeth = fact!(derailleur, lower_wheel),
        to_upper_mm = fact!(derailleur, pivot_to_upper_mm),
        to_lower_mm = fact!(derailleur, pivot_to_lower_mm),
        forward_stop_deg = fact!(derailleur, cage_forward_deg),
        rear_stop_deg = fact!(derailleur, cage_rear_deg),
    );
    let facts = CageFacts {
        upper_teeth,
        lower_teeth,
        to_upper_mm,
        to_lower_mm,
        between_mm: fact!(derailleur, wheel_to_wheel_mm).ok(),
    };
    let angle = between_wheels(&facts, fact!(derailleur, upper_wheel_ahead).ok());
    let upper_from_lower_deg = angle.map_err(|lacks| match lacks {
        Lacks::Distance => Missing::fact("parts.rear_derailleur.wheel_to_wheel"),
        Lacks::Side => Missing::fact("parts.rear_derailleur.upper_wheel_ahead"),
        Lacks::Triangle => Missing::refused(format!(
            "no cage has its wheels {to_upper_mm} mm and {to_lower_mm} mm from the pivot and {} mm apart",
            facts.between_mm.unwrap_or_default()
        )),
    })?;
    Ok(Cage {
        upper_teeth,
        lower_teeth,
        pivot_to_upper_mm: to_upper_mm,
        pivot_to_lower_mm: to_lower_mm,
        upper_from_lower_deg,
        forward_stop_deg,
        rear_stop_deg,
    })
}

/// What the angle between the lines to the two wheels waits for.
enum Lacks {
    Distance,
    Side,
    Triangle,
}

fn between_wheels(facts: &CageFacts, ahead: Option<bool>) -> Result<f64, Lacks> {
    /// An upper wheel this close to the pivot stands on it, whatever the side.
    const ON_PIVOT_MM: f64 = 0.5;
    /// Wheels this nearly in one line with the pivot have no side.
    const IN_LINE_DEG: f64 = 3.0;
    if facts.to_upper_mm <= ON_PIVOT_MM {
        return Ok(0.0);
    }
    let between_mm = facts.between_mm.ok_or(Lacks::Distance)?;
    let angle_deg =
        Cage::angle_between_wheels_deg(facts.to_upper_mm, facts.to_lower_mm, between_mm).ok_or(Lacks::Triangle)?;
    let in_line = !(IN_LINE_DEG..=180.0 - IN_LINE_DEG).contains(&angle_deg);
    match ahead {
        Some(false) => Ok(-angle_deg),
        Some(true) => Ok(angle_deg),
        None if in_line => Ok(angle_deg),
        None => Err(Lacks::Side),
    }
}

/// The derailleur follows the sprockets by about this share of their radius; common practice, no source.
const FOLLOWS: f64 = 2.0 / 3.0;

fn pivot(parts: &Drivetrain<'_>, sprockets: &Known<Vec<u32>>) -> Known<(PivotTravel, PivotFrom)> {
    let derailleur = &parts.rear_derailleur;
    let ends = || -> Known<PivotTravel> {
        known!(
            behind_smallest_mm = fact!(derailleur, pivot_behind_smallest_mm),
            below_smallest_mm = fact!(derailleur, pivot_below_smallest_mm),
            behind_largest_mm = fact!(derailleur, pivot_behind_largest_mm),
            below_largest_mm = fact!(derailleur, pivot_below_largest_mm),
        );
        Ok(PivotTravel {
            smallest: Point2::at(-behind_smallest_mm, -below_smallest_mm),
            largest: Point2::at(-behind_largest_mm, -below_largest_mm),
        })
    };
    ends().map(|travel| (travel, PivotFrom::BothEnds)).or_else(|missing| {
        let (Ok(behind_mm), Ok(below_mm)) = (fact!(derailleur, pivot_behind_mm), fact!(derailleur, pivot_below_mm))
        else {
            return Err(missing);
        };
        let sprockets = sprockets.clone()?;
        let middle = Point2::at(-behind_mm, -below_mm);
        let middle_teeth = sprockets[sprockets.len() / 2];
        let at = |teeth: u32| {
            let lower_mm = FOLLOWS * (mean_radius_mm(teeth) - mean_radius_mm(middle_teeth));
            middle + Point2::at(0.0, -lower_mm)
        };
        let travel = PivotTravel { smallest: at(sprockets[0]), largest: at(sprockets[sprockets.len() - 1]) };
        Ok((travel, PivotFrom::Middle))
    })
}

/// The maker's own cage between the same stops, where another is fitted and enough is known of it.
fn own_cage(parts: &Drivetrain<'_>, fitted: &Cage) -> Option<Cage> {
    let own: &RearDerailleur = parts.rear_derailleur.part?;
    let facts = CageFacts {
        upper_teeth: own.own_upper_wheel.as_ref()?.value,
        lower_teeth: own.own_lower_wheel.as_ref()?.value,
        to_upper_mm: own.own_pivot_to_upper_mm.as_ref()?.value,
        to_lower_mm: own.own_pivot_to_lower_mm.as_ref()?.value,
        between_mm: own.own_wheel_to_wheel_mm.as_ref().map(|given| given.value),
    };
    let ahead = own.upper_wheel_ahead.as_ref().map(|given| given.value);
    let upper_from_lower_deg = between_wheels(&facts, ahead).ok()?;
    Some(Cage {
        upper_teeth: facts.upper_teeth,
        lower_teeth: facts.lower_teeth,
        pivot_to_upper_mm: facts.to_upper_mm,
        pivot_to_lower_mm: facts.to_lower_mm,
        upper_from_lower_deg,
        ..*fitted
    })
}

fn compare(plan: &ChainPlan, own: &Layout, rings: &[u32], sprockets: &[u32]) -> Option<OwnCage> {
    let large = own.drive(rings[0], sprockets[sprockets.len() - 1]).swing();
    let small = own.drive(rings[rings.len() - 1], sprockets[0]).swing();
    let fitted = plan.swings[plan.largest].as_ref().ok()?;
    Some(OwnCage {
        shortest: shortest(&large)?,
        take_up_teeth: small.ok().map(|swing| swing.take_up_teeth()),
        added_links: fitted.least_links - large.ok()?.least_links,
    })
}

/// How far both ends of the range of lengths may be off: the larger of the two, each the root of the sum of squares of
/// what one fact does.
fn plus_minus(plan: &ChainPlan, pivot_from: PivotFrom) -> f64 {
    let pivot_mm = match pivot_from {
        PivotFrom::BothEnds => doubt::PIVOT_MM,
        PivotFrom::Middle => doubt::PIVOT_ONCE_MM,
    };
    let at_end = |gear: usize, forward: bool| {
        let Some(Ok(swing)) = plan.swings.get(gear) else { return 0.0 };
        let (drive, end_deg) = (*swing.drive(), if forward { swing.forward_deg } else { swing.rear_deg });
        let links = |drive: &Drive, deg: f64| drive.path_at(deg).map_or(f64::NAN, |path| path.links);
        let here = links(&drive, end_deg);
        let mut longer = drive;
        let along = drive.rear_axle * (doubt::STAY_MM / drive.rear_axle.length_mm());
        longer.rear_axle = longer.rear_axle + along;
        longer.pivot = longer.pivot + along;
        let mut moved = drive;
        moved.pivot = moved.pivot + Point2::at(0.0, pivot_mm);
        let mut larger = drive;
        larger.cage.pivot_to_lower_mm += doubt::CAGE_MM;
        let off = [
            links(&longer, end_deg) - here,
            links(&moved, end_deg) - here,
            links(&larger, end_deg) - here,
            links(&drive, end_deg + doubt::STOP_DEG) - here,
        ];
        off.iter().filter(|off| off.is_finite()).map(|off| off * off).sum::<f64>().sqrt()
    };
    at_end(plan.largest, true).max(at_end(plan.smallest, false))
}
