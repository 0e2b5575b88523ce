//! Rings, sprockets, chain and derailleurs: what each gear does and how the chain lies in it.

mod limit;

pub use limit::GearLimits;

use super::chain::{self, ChainPlan};
use crate::finding::figure;
use crate::model::{Known, Missing, Model, Place};
use crate::number::{self, Number};
use crate::part::{Cassette, Chain, FrontDerailleur, RearDerailleur, TyreSize};
use crate::rulebook::Verdict;
use crate::{fact, known};
use witnessmark_mechanics::chain::{LEAST_TEETH, Lies, TwoWheels, even_at_least};
use witnessmark_mechanics::chain_line::{OuterRing, RingAtStay, Row, UpperRun};
use witnessmark_mechanics::gears::{Fraction, Gear, RollOut, Rolling, Turning, speed_kmh};
use witnessmark_mechanics::wear::ChainReading;

/// Most rings of a crank.
pub const MOST_RINGS: usize = 3;

/// Most sprockets of a cassette.
pub const MOST_SPROCKETS: usize = 20;

/// Two gears within this of each other do the same; common practice, no source.
pub const NEARLY: f64 = 0.03;

/// A chain further out of line than this wears and sounds, where another gear does nearly the same; common practice, no
/// source: the angle says nothing for certain about noise or wear, so it is shown and only named together with a better
/// gear.
pub const OUT_OF_LINE_DEG: f64 = 2.5;

/// Turns of the crank a minute for which speeds are shown where the rider names none.
pub const CADENCE_PER_MINUTE: f64 = 90.0;

/// The parts of a transmission in their places.
#[derive(Clone, Debug)]
pub(crate) struct Drivetrain<'a> {
    pub(crate) cassette: Place<'a, Cassette>,
    pub(crate) chain: Place<'a, Chain>,
    pub(crate) rear_derailleur: Place<'a, RearDerailleur>,
    pub(crate) front_derailleur: Place<'a, FrontDerailleur>,
}

/// Looks the parts of the transmission up.
pub(crate) fn drivetrain<'a>(model: &Model<'a>) -> Drivetrain<'a> {
    let parts = &model.build.parts;
    Drivetrain {
        cassette: Place { path: "parts.cassette", part: parts.cassette.at("") },
        chain: Place { path: "parts.chain", part: parts.chain.at("") },
        rear_derailleur: Place { path: "parts.rear_derailleur", part: parts.rear_derailleur.at("") },
        front_derailleur: Place { path: "parts.front_derailleur", part: parts.front_derailleur.at("") },
    }
}

impl Drivetrain<'_> {
    /// Nothing of a transmission but perhaps cranks is listed: there is nothing to judge yet.
    pub(crate) fn is_absent(&self) -> bool {
        self.cassette.part.is_none() && self.chain.part.is_none() && self.rear_derailleur.part.is_none()
    }
}

/// How the rolling circumference was had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RollingFrom {
    /// Rolled out with the rider on.
    RolledOut,
    /// From the radius of the tyre without a rider.
    Radius,
    /// From the size printed on the tyre alone: bead seat and width.
    Size,
}

/// How far the rear wheel rolls in a turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RearRolling {
    /// The circumference and how well it is known.
    pub rolling: Rolling,
    /// How it was had.
    pub from: RollingFrom,
}

/// Why a gear is better left alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Avoid {
    /// The settings lock it off.
    LockedOff,
    /// The chain does not reach.
    TooShort,
    /// The chain hangs slack.
    Slack,
    /// The lower run touches the chain on the upper wheel.
    RubsItself,
    /// The chain touches the larger ring beside it.
    RubsRing,
    /// It is far out of line, and another gear does nearly the same.
    OutOfLine,
    /// It takes the bike further in a turn of the crank than the race's rules allow this rider.
    OverLimit,
    /// There is no way for the chain: wheels stand in one another.
    NoWay,
}

/// One gear, worked out as far as the facts go.
#[derive(Clone, Debug, PartialEq)]
pub struct GearLine {
    /// Place of its ring, the largest being 0.
    pub ring_place: usize,
    /// Place of its sprocket, the smallest being 0.
    pub sprocket_place: usize,
    /// Its teeth.
    pub gear: Gear,
    /// Its ratio in lowest terms.
    pub ratio: Fraction,
    /// How far the bike goes in a turn of the crank.
    pub development_mm: Option<f64>,
    /// How well that is known, either way.
    pub development_plus_minus_mm: Option<f64>,
    /// Speed at [`Transmission::cadence_per_minute`].
    pub speed_kmh: Option<f64>,
    /// How much harder the next smaller sprocket is, per cent; none on the smallest.
    pub step_percent: Option<f64>,
    /// Gears of other rings that do nearly the same: their places in the list.
    pub nearly: Vec<usize>,
    /// How far the chain is out of line; above zero when it runs inward on its way back.
    pub line_deg: Option<f64>,
    /// Room between the chain and the larger ring beside it.
    pub ring_room_mm: Option<f64>,
    /// How the chain lies in it.
    pub cage: Option<chain::CageInGear>,
    /// What the limits of the race say of it; none where no limit with a figure is in force.
    pub limit: Option<Verdict>,
    /// Why it is better left alone; empty for a good gear.
    pub avoid: Vec<Avoid>,
}

/// How far out rings and sprockets stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Across {
    /// Each ring, largest first.
    pub rings_mm: Vec<f64>,
    /// Each sprocket, smallest first.
    pub sprockets_mm: Vec<f64>,
}

/// Lengths of chain by the rules of thumb, which know nothing of the cage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThumbRules {
    /// Round the largest ring and sprocket, a pair of plates more, rounded up to whole pairs.
    pub wrapped: u32,
    /// The sum in inches: twice (twice the stay, a quarter of both tooth counts, one inch), rounded up to whole pairs.
    pub inches: u32,
}

impl ThumbRules {
    /// Either way: the cage decides about a pair of plates, and the rules do not look at it.
    pub const PLUS_MINUS_LINKS: u32 = 2;

    /// The longer of the two: a chain can be shortened.
    pub fn links(&self) -> u32 {
        self.wrapped.max(self.inches)
    }
}

/// Teeth to be taken up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capacity {
    /// Difference of the rings and of the sprockets, together.
    pub needed_teeth: u32,
    /// What the derailleur's maker states.
    pub stated_teeth: Option<u32>,
    /// What the cage takes up between its stops, by geometry.
    pub geometry_teeth: Option<f64>,
}

/// Everything about the transmission.
#[derive(Clone, Debug, PartialEq)]
pub struct Transmission {
    /// Nothing of it but perhaps cranks is listed.
    pub absent: bool,
    /// Teeth of the rings, largest first.
    pub rings: Known<Vec<u32>>,
    /// Teeth of the sprockets, smallest first.
    pub sprockets: Known<Vec<u32>>,
    /// How far the rear wheel rolls.
    pub rolling: Known<RearRolling>,
    /// Turns of the crank a minute for the speeds.
    pub cadence_per_minute: f64,
    /// What the race's rules ask of the longest gear.
    pub limits: Known<GearLimits>,
    /// Where rings and sprockets stand.
    pub across: Known<Across>,
    /// Every gear, ring by ring, the smallest sprocket first.
    pub gears: Known<Vec<GearLine>>,
    /// The chain, where the cage is known.
    pub chain: Known<ChainPlan>,
    /// Its length by the rules of thumb.
    pub rules: Known<ThumbRules>,
    /// Links as chosen: the settings', else the recommended, else by the rules of thumb.
    pub links: Known<u32>,
    /// Teeth to be taken up.
    pub capacity: Known<Capacity>,
    /// Room between the tips of each ring and the chainstay, largest ring first.
    pub stay_room_mm: Known<Vec<f64>>,
    /// How much longer than new the chain is.
    pub wear_percent: Known<f64>,
}

/// Works the transmission out.
pub fn transmission(model: &Model<'_>) -> Transmission {
    let parts = drivetrain(model);
    let rings = teeth(fact!(model.crankset, rings), Wheels::Rings);
    let sprockets = teeth(fact!(parts.cassette, sprockets), Wheels::Sprockets);
    let rolling = rear_rolling(model);
    let across = across(model, &parts, &rings, &sprockets);
    let cadence_per_minute = fact!(model.settings, cadence_per_minute).unwrap_or(CADENCE_PER_MINUTE);
    let rules = rules(model, &rings, &sprockets);
    let chain = chain::plan(model, &parts, &rings, &sprockets);
    let links = chosen_links(model, &chain, &rules);
    let limits = GearLimits::of(model);
    let gears =
        gears(model, &parts, &Found { rings: &rings, sprockets: &sprockets, rolling: &rolling, across: &across }).map(
            |mut gears| {
                lay(&mut gears, chain.as_ref().ok(), links.as_ref().ok().copied());
                hold_against(&mut gears, limits.as_ref().ok());
                name_the_bad(model, &mut gears);
                if let Ok(rolling) = &rolling {
                    set_speeds(&mut gears, rolling, cadence_per_minute);
                }
                gears
            },
        );
    Transmission {
        absent: parts.is_absent(),
        capacity: capacity(&parts, &rings, &sprockets, chain.as_ref().ok()),
        stay_room_mm: stay_room(model, across.as_ref()),
        wear_percent: wear_percent(&parts),
        rings,
        sprockets,
        rolling,
        cadence_per_minute,
        limits,
        across,
        gears,
        chain,
        rules,
        links,
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Wheels {
    Rings,
    Sprockets,
}

/// Tooth counts in their order, largest ring and smallest sprocket first, whatever the order in which they were typed.
fn teeth(given: Known<Vec<u32>>, of: Wheels) -> Known<Vec<u32>> {
    let mut teeth = given?;
    let (most, one) = match of {
        Wheels::Rings => (MOST_RINGS, "ring"),
        Wheels::Sprockets => (MOST_SPROCKETS, "sprocket"),
    };
    if teeth.is_empty() {
        return Err(Missing::refused(format!("no {one} is listed")));
    }
    if teeth.len() > most {
        return Err(Missing::refused(format!("{} {one}s are listed and {most} are the most", teeth.len())));
    }
    if let Some(few) = teeth.iter().find(|count| **count < LEAST_TEETH) {
        return Err(Missing::refused(format!("a {one} of {few} teeth carries no chain")));
    }
    teeth.sort_unstable();
    if of == Wheels::Rings {
        teeth.reverse();
    }
    Ok(teeth)
}

/// How far the rear wheel rolls in a turn: rolled out, else from its radius, else from the tyre's size.
pub(crate) fn rear_rolling(model: &Model<'_>) -> Known<RearRolling> {
    let tyre = &model.tyre_rear;
    if let (Ok(distance_mm), Ok(turns)) = (fact!(tyre, rolled_mm), fact!(tyre, rolled_turns)) {
        // A tape on the floor is read to a few millimetres; where nobody said how well, five are taken.
        const TAPE_MM: f64 = 5.0;
        let plus_minus_mm = fact!(tyre, rolled_plus_minus_mm).unwrap_or(TAPE_MM);
        if let Some(rolling) = Rolling::from_roll_out(RollOut { distance_mm, turns, plus_minus_mm }) {
            return Ok(RearRolling { rolling, from: RollingFrom::RolledOut });
        }
    }
    let read = fact!(tyre, outer_radius_mm).map(|radius_mm| (radius_mm, 1.0, RollingFrom::Radius));
    let (radius_mm, plus_minus_mm, from) = read.or_else(|missing| {
        // A tyre stands about as high over its bead seat as it is wide; some stand 4 mm higher or lower.
        const HEIGHT_MM: f64 = 4.0;
        let size = fact!(tyre, etrto).ok().and_then(|text| TyreSize::read(&text)).ok_or(missing)?;
        let width_mm = fact!(tyre, width_measured_mm).unwrap_or(size.width_mm);
        let radius_mm = size.seat_mm / 2.0 + width_mm;
        if !(200.0..=400.0).contains(&radius_mm) {
            return Err(Missing::refused(format!(
                "no road tyre has a radius of {radius_mm} mm, as the rear tyre's size says"
            )));
        }
        Ok((radius_mm, HEIGHT_MM, RollingFrom::Size))
    })?;
    Rolling::from_outer_radius(radius_mm, plus_minus_mm)
        .map(|rolling| RearRolling { rolling, from })
        .ok_or_else(|| Missing::refused("the rear tyre has no radius"))
}

fn count(list: &[u32]) -> u32 {
    u32::try_from(list.len()).unwrap_or(u32::MAX)
}

fn across(
    model: &Model<'_>,
    parts: &Drivetrain<'_>,
    rings: &Known<Vec<u32>>,
    sprockets: &Known<Vec<u32>>,
) -> Known<Across> {
    known!(
        rings = rings.clone(),
        sprockets = sprockets.clone(),
        chain_line_mm = fact!(model.crankset, chain_line_mm),
        cassette_mm = fact!(parts.cassette, chain_line_mm),
        spacing_mm = fact!(parts.cassette, spacing_mm),
    );
    let ring_spacing_mm = if rings.len() > 1 { fact!(model.crankset, ring_spacing_mm)? } else { 0.0 };
    let row = |middle_mm, spacing_mm, list: &[u32]| {
        let row = Row { middle_mm, spacing_mm, count: count(list) };
        (0..count(list)).map(|place| row.out_mm(place)).collect::<Vec<f64>>()
    };
    Ok(Across {
        rings_mm: row(chain_line_mm, ring_spacing_mm, &rings),
        sprockets_mm: row(cassette_mm, spacing_mm, &sprockets),
    })
}

fn rules(model: &Model<'_>, rings: &Known<Vec<u32>>, sprockets: &Known<Vec<u32>>) -> Known<ThumbRules> {
    known!(rings = rings.clone(), sprockets = sprockets.clone(), centres_mm = fact!(model.frame, chainstay_mm),);
    let (ring_teeth, sprocket_teeth) = (rings[0], sprockets[sprockets.len() - 1]);
    let wheels = TwoWheels { ring_teeth, sprocket_teeth, centres_mm };
    let inches = 2.0 * (2.0 * centres_mm / 25.4 + f64::from(ring_teeth) / 4.0 + f64::from(sprocket_teeth) / 4.0 + 1.0);
    wheels.rule_links().zip(even_at_least(inches)).map(|(wrapped, inches)| ThumbRules { wrapped, inches }).ok_or_else(
        || {
            Missing::refused(format!(
                "a ring of {ring_teeth} and a sprocket of {sprocket_teeth} teeth overlap on a chainstay of {centres_mm} mm"
            ))
        },
    )
}

fn chosen_links(model: &Model<'_>, chain: &Known<ChainPlan>, rules: &Known<ThumbRules>) -> Known<u32> {
    if let Ok(links) = fact!(model.settings, chain_links) {
        return Ok(links);
    }
    match chain {
        Ok(chain) => chain.recommended.ok_or_else(|| {
            Missing::refused(if chain.shortest.is_none() {
                "there is no way for a chain round the largest ring and the largest sprocket"
            } else {
                "no even number of links is long enough for the largest pair and taut in the smallest"
            })
        }),
        Err(_) => rules.as_ref().map(ThumbRules::links).map_err(Clone::clone),
    }
}

/// The numbers of the transmission that are planned.
pub(super) fn numbers(model: &Model<'_>, worked: &Transmission) -> [(&'static Number, Known<f64>); 9] {
    let parts = drivetrain(model);
    [
        (&number::CHAIN_LINE, fact!(model.crankset, chain_line_mm)),
        (&number::ROLLING, worked.rolling.as_ref().map(|rear| rear.rolling.circumference_mm).map_err(Clone::clone)),
        (&number::CHAIN_LINKS, worked.links.as_ref().map(|links| f64::from(*links)).map_err(Clone::clone)),
        (&number::CHAIN_WEAR, worked.wear_percent.clone()),
        (&number::CAGE_BIG_BIG, worked.cage_angle(|_, chain| Some(chain.largest))),
        (&number::CAGE_SMALL_SMALL, worked.cage_angle(|gears, _| smallest_in_use(gears))),
        (&number::DERAILLEUR_GAP, fact!(parts.rear_derailleur, wheel_gap_mm)),
        (&number::FRONT_DERAILLEUR_HEIGHT, fact!(parts.front_derailleur, height_over_teeth_mm)),
        (&number::FRONT_DERAILLEUR_ANGLE, fact!(parts.front_derailleur, nose_out_deg)),
    ]
}

/// The gear of the innermost ring with the smallest sprocket that is not locked off.
pub fn smallest_in_use(gears: &[GearLine]) -> Option<usize> {
    let inner = gears.last()?.ring_place;
    gears.iter().position(|line| line.ring_place == inner && !line.avoid.contains(&Avoid::LockedOff))
}

impl Transmission {
    /// The cage's angle in the gear that is picked.
    fn cage_angle(&self, pick: impl Fn(&[GearLine], &ChainPlan) -> Option<usize>) -> Known<f64> {
        known!(
            chain = self.chain.as_ref().map_err(Clone::clone),
            gears = self.gears.as_ref().map_err(Clone::clone),
            links = self.links.clone(),
        );
        let line = pick(gears, chain).map(|at| &gears[at]);
        let cage = line.and_then(|line| line.cage);
        cage.and_then(|cage| cage.cage_deg()).ok_or_else(|| {
            Missing::refused(match cage.map(|cage| cage.lies) {
                Some(Lies::TooShort { by_links }) => {
                    format!("{links} links are too short by {} there", figure(by_links, 1))
                }
                Some(Lies::Slack { by_links }) => format!("{links} links hang slack by {} there", figure(by_links, 1)),
                _ => "there is no way for the chain".to_owned(),
            })
        })
    }
}

struct Found<'a> {
    rings: &'a Known<Vec<u32>>,
    sprockets: &'a Known<Vec<u32>>,
    rolling: &'a Known<RearRolling>,
    across: &'a Known<Across>,
}

fn gears(model: &Model<'_>, parts: &Drivetrain<'_>, found: &Found<'_>) -> Known<Vec<GearLine>> {
    known!(rings = found.rings.clone(), sprockets = found.sprockets.clone());
    let chainstay_mm = fact!(model.frame, chainstay_mm).ok();
    let widths = fact!(model.crankset, ring_thickness_mm).ok().zip(fact!(parts.chain, outer_width_mm).ok());
    let mut gears = Vec::with_capacity(rings.len() * sprockets.len());
    for (ring_place, &ring) in rings.iter().enumerate() {
        for (sprocket_place, &sprocket) in sprockets.iter().enumerate() {
            let gear = Gear { ring, sprocket };
            let Some(ratio) = gear.ratio() else { continue };
            let run = found.across.as_ref().ok().zip(chainstay_mm).map(|(across, chainstay_mm)| UpperRun {
                ring_teeth: ring,
                sprocket_teeth: sprocket,
                ring_out_mm: across.rings_mm[ring_place],
                sprocket_out_mm: across.sprockets_mm[sprocket_place],
                chainstay_mm,
            });
            let outer = ring_place.checked_sub(1).zip(widths).zip(found.across.as_ref().ok()).map(
                |((outer, (thickness_mm, chain_width_mm)), across)| OuterRing {
                    teeth: rings[outer],
                    out_mm: across.rings_mm[outer],
                    thickness_mm,
                    chain_width_mm,
                },
            );
            let rolling = found.rolling.as_ref().ok().map(|rear| rear.rolling);
            gears.push(GearLine {
                ring_place,
                sprocket_place,
                gear,
                ratio,
                development_mm: rolling.map(|rolling| gear.development_mm(rolling.circumference_mm)),
                development_plus_minus_mm: rolling.map(|rolling| gear.development_mm(rolling.plus_minus_mm)),
                speed_kmh: None,
                step_percent: sprocket_place
                    .checked_sub(1)
                    .map(|harder| gear.step_to(Gear { ring, sprocket: sprockets[harder] }) * 100.0),
                nearly: Vec::new(),
                line_deg: run.and_then(|run| run.angle_deg()),
                ring_room_mm: run.zip(outer).and_then(|(run, outer)| run.room_to_outer_ring_mm(outer)),
                cage: None,
                limit: None,
                avoid: Vec::new(),
            });
        }
    }
    pair_up(&mut gears);
    Ok(gears)
}

/// Notes for each gear which gears of other rings do nearly the same.
fn pair_up(gears: &mut [GearLine]) {
    for one in 0..gears.len() {
        gears[one].nearly = (0..gears.len())
            .filter(|&other| gears[other].ring_place != gears[one].ring_place)
            .filter(|&other| gears[other].gear.is_nearly(gears[one].gear, NEARLY))
            .collect();
    }
}

fn set_speeds(gears: &mut [GearLine], rear: &RearRolling, cadence_per_minute: f64) {
    for line in gears {
        let development_mm = line.gear.development_mm(rear.rolling.circumference_mm);
        line.speed_kmh = Some(speed_kmh(Turning { development_mm, cadence_per_minute }));
    }
}

/// Lays a chain of so many links into every gear.
fn lay(gears: &mut [GearLine], chain: Option<&ChainPlan>, links: Option<u32>) {
    let Some((chain, links)) = chain.zip(links) else { return };
    for (at, line) in gears.iter_mut().enumerate() {
        line.cage = chain.in_gear(at, links);
        if line.cage.is_none() {
            line.avoid.push(Avoid::NoWay);
        }
    }
}

/// Holds each gear against the limits of the race.
fn hold_against(gears: &mut [GearLine], limits: Option<&GearLimits>) {
    for line in gears {
        let way = line.development_mm.zip(line.development_plus_minus_mm);
        line.limit = limits.zip(way).and_then(|(limits, (way_mm, off_mm))| limits.verdict(way_mm, off_mm));
    }
}

/// Notes for each gear why it is better left alone.
fn name_the_bad(model: &Model<'_>, gears: &mut [GearLine]) {
    let locks = Locks::of(model);
    for at in 0..gears.len() {
        let line = &gears[at];
        let mut avoid = line.avoid.clone();
        if locks.lock_off(line, gears) {
            avoid.push(Avoid::LockedOff);
        }
        avoid.extend(line.cage.and_then(|cage| cage.objection()));
        if line.ring_room_mm.is_some_and(|room_mm| room_mm < 0.0) {
            avoid.push(Avoid::RubsRing);
        }
        if let Some(angle_deg) = line.line_deg.map(f64::abs).filter(|angle_deg| *angle_deg > OUT_OF_LINE_DEG) {
            let straighter = |other: &usize| gears[*other].line_deg.is_some_and(|line_deg| line_deg.abs() < angle_deg);
            if line.nearly.iter().any(straighter) {
                avoid.push(Avoid::OutOfLine);
            }
        }
        if line.limit == Some(Verdict::Outside) {
            avoid.push(Avoid::OverLimit);
        }
        gears[at].avoid = avoid;
    }
}

/// Which pairs the settings lock off.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Locks {
    inner_from: Option<u32>,
    outer_to: Option<u32>,
}

impl Locks {
    pub(crate) fn of(model: &Model<'_>) -> Self {
        Locks {
            inner_from: fact!(model.settings, inner_ring_from_sprocket).ok(),
            outer_to: fact!(model.settings, outer_ring_to_sprocket).ok(),
        }
    }

    fn lock_off(self, line: &GearLine, gears: &[GearLine]) -> bool {
        let inner = gears.last().is_some_and(|last| last.ring_place == line.ring_place);
        self.pair_is_off(Pair { outer: line.ring_place == 0, inner, sprocket: line.gear.sprocket })
    }

    /// The pair is locked off. A single ring, which is outer and inner in one, is never locked.
    pub(crate) fn pair_is_off(self, pair: Pair) -> bool {
        if pair.outer && pair.inner {
            return false;
        }
        (pair.inner && self.inner_from.is_some_and(|from| pair.sprocket < from))
            || (pair.outer && self.outer_to.is_some_and(|to| pair.sprocket > to))
    }
}

/// A sprocket with the outermost ring, the innermost, or both at once.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pair {
    pub(crate) outer: bool,
    pub(crate) inner: bool,
    pub(crate) sprocket: u32,
}

fn capacity(
    parts: &Drivetrain<'_>,
    rings: &Known<Vec<u32>>,
    sprockets: &Known<Vec<u32>>,
    chain: Option<&ChainPlan>,
) -> Known<Capacity> {
    known!(rings = rings.clone(), sprockets = sprockets.clone());
    let difference = |list: &[u32]| list.iter().max().zip(list.iter().min()).map_or(0, |(most, least)| most - least);
    Ok(Capacity {
        needed_teeth: difference(&rings) + difference(&sprockets),
        stated_teeth: fact!(parts.rear_derailleur, capacity).ok(),
        geometry_teeth: chain.and_then(|chain| chain.take_up_teeth),
    })
}

fn stay_room(model: &Model<'_>, across: Result<&Across, &Missing>) -> Known<Vec<f64>> {
    let rings_mm = fact!(model.crankset, rings).map(|rings| rings.len());
    let faces_mm = match rings_mm {
        Ok(1) => fact!(model.frame, stay_face_mm).map(|face_mm| vec![face_mm]),
        Ok(_) => two_faces(model),
        Err(missing) => Err(missing),
    };
    known!(
        faces_mm = faces_mm,
        across = across.cloned().map_err(Clone::clone),
        thickness_mm = fact!(model.crankset, ring_thickness_mm),
    );
    let room =
        |(&ring_out_mm, &stay_face_mm): (&f64, &f64)| RingAtStay { ring_out_mm, thickness_mm, stay_face_mm }.room_mm();
    Ok(across.rings_mm.iter().zip(&faces_mm).map(room).collect())
}

fn wear_percent(parts: &Drivetrain<'_>) -> Known<f64> {
    let read = fact!(parts.chain, worn_length_mm).ok().zip(fact!(parts.chain, worn_pitches).ok());
    read.and_then(|(length_mm, pitches)| ChainReading { length_mm, pitches }.elongation_percent())
        .map_or_else(|| fact!(parts.chain, elongation_percent), Ok)
}

fn two_faces(model: &Model<'_>) -> Known<Vec<f64>> {
    known!(outer_mm = fact!(model.frame, stay_face_mm), inner_mm = fact!(model.frame, stay_face_inner_ring_mm));
    Ok(vec![outer_mm, inner_mm])
}
