//! The mass of the bike as it is weighed: part by part with its doubt, where it lies, and what the scale says of the list.
//!
//! What the weighing says was not on the bike is not counted. Of a part whose doubt nobody told, the custom of its origin
//! stands in. Where a part lies follows from the points of the bike; for what has no point of its own a place is estimated,
//! and said to be.

use super::{Chassis, Front, Rear};
use crate::build::Weighing;
use crate::choice;
use crate::fact;
use crate::field::{Choice, Given, Origin, Record, Value};
use crate::known;
use crate::model::{Known, Missing, Model};
use crate::number::{Area, MASS, Side};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::mass::{Axles, Lump, MOST_PARTS, OnWheels, Wanted, explain, standard_u, sum};

/// What is on no list and yet on a finished bike: paste, grease, fluid, film, short bolts. Common practice, no source.
pub const UNLISTED_LEAST_G: f64 = 40.0;
/// The most of it that nobody wonders about.
pub const UNLISTED_MOST_G: f64 = 150.0;
/// How well a scale reads where the reading does not say.
pub const SCALE_PLUS_MINUS_G: f64 = 10.0;
/// So many explanations are kept, the likeliest first.
pub const MOST_EXPLANATIONS: usize = 8;

choice! {
    /// What a bike may be weighed with or without.
    pub enum Inclusion {
        /// The pedals.
        Pedals = "pedals",
        /// The bottle cages.
        Cages = "bottle cages",
        /// The computer's mount.
        Mount = "computer mount",
        /// The computer.
        Computer = "computer",
        /// The bottles.
        Bottles = "bottles",
    }
}

/// One part on the list.
#[derive(Clone, Debug, PartialEq)]
pub struct MassItem {
    /// Its path: `parts.tyre.front`.
    pub path: String,
    /// What the workshop calls it, or its kind and place.
    pub name: String,
    /// Where in the walk-round it stands.
    pub area: Area,
    /// Its mass.
    pub mass_g: Known<f64>,
    /// How far off that may be, either way.
    pub plus_minus_g: f64,
    /// Nobody told that; it is the custom of where the fact comes from.
    pub plus_minus_by_custom: bool,
    /// It was on the bike when it was weighed, or nobody said that it was not.
    pub counted: bool,
    /// Where it lies.
    pub place: Option<MassPlace>,
}

/// Where a part lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MassPlace {
    /// Its centre.
    pub at: Point2,
    /// How far off that may be along the bike, either way.
    pub plus_minus_mm: f64,
    /// It is a point of the bike, and not an estimate.
    pub is_a_point: bool,
}

/// The mass of one area of the bike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AreaMass {
    /// Which.
    pub area: Area,
    /// The mass of the parts that are counted and known.
    pub mass_g: f64,
    /// How far off that may be: the root of the sum of the squares.
    pub plus_minus_g: f64,
    /// Parts that are counted and have no mass.
    pub unknown: usize,
}

/// The sum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MassSum {
    /// Everything that is counted.
    pub mass_g: f64,
    /// How far off where the parts err each for itself: twice the standard uncertainty.
    pub plus_minus_g: f64,
    /// How far off where all err together.
    pub together_g: f64,
}

/// Where the mass lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Centre of mass of the parts that have a place.
    pub centre: Point2,
    /// What stands on each wheel, bike level, no rider.
    pub wheels: OnWheels,
    /// Share of the mass that lies at a point of the bike, and not at an estimate.
    pub at_points: f64,
    /// Mass of the parts that are counted and have no place.
    pub unplaced_g: f64,
}

impl Balance {
    /// Share of the bike on its front wheel.
    pub fn front_share(&self) -> f64 {
        self.wheels.front_g / (self.wheels.front_g + self.wheels.rear_g)
    }
}

/// A set of parts that could explain a difference.
#[derive(Clone, Debug, PartialEq)]
pub struct Explanation {
    /// The parts, by their place in the list.
    pub items: Vec<usize>,
    /// What they weigh together.
    pub mass_g: f64,
    /// What is left to explain when they do.
    pub rest_g: f64,
}

/// The scale against the list.
#[derive(Clone, Debug, PartialEq)]
pub struct ScaleAgainstList {
    /// As read.
    pub read_g: f64,
    /// How well.
    pub plus_minus_g: f64,
    /// Scale less list.
    pub difference_g: f64,
    /// The least difference that agrees.
    pub agrees_from_g: f64,
    /// The greatest.
    pub agrees_to_g: f64,
    /// Sets of parts on the list that could explain it: taken to be on the bike and not there, or the other way round.
    /// Fewest parts first, then the closest.
    pub explanations: Vec<Explanation>,
    /// How many more such sets there are.
    pub more: usize,
}

impl ScaleAgainstList {
    /// They agree.
    pub fn agrees(&self) -> bool {
        self.agrees_from_g <= self.difference_g && self.difference_g <= self.agrees_to_g
    }
}

/// The mass of the bike.
#[derive(Clone, Debug, PartialEq)]
pub struct Mass {
    /// Every part.
    pub items: Vec<MassItem>,
    /// By area, in the order of the walk-round.
    pub areas: Vec<AreaMass>,
    /// Bottles that were on when it was weighed.
    pub bottles_g: Option<f64>,
    /// The sum as weighed.
    pub sum: Known<MassSum>,
    /// What it was weighed with (`Some(true)`) or without, or nobody said.
    pub inclusions: Vec<(Inclusion, Option<bool>)>,
    /// Where it lies.
    pub balance: Known<Balance>,
    /// The scale against the list; nothing where it was not weighed.
    pub scale: Option<Known<ScaleAgainstList>>,
}

/// Adds the bike up.
pub fn mass(model: &Model<'_>, chassis: &Chassis, front: &Front, rear: &Rear) -> Mass {
    let weighing = &model.build.weighing;
    let points = Points::of(model, chassis, front, rear);
    let items: Vec<MassItem> = model
        .build
        .parts
        .each()
        .into_iter()
        .map(|(kind, place, record)| {
            let path = crate::build::part_path("parts", kind.key, place);
            let mass_g = record.number("mass_g").ok_or_else(|| Missing::fact(format!("{path}.mass")));
            let told = record.number("mass_plus_minus_g");
            let plus_minus_g =
                told.unwrap_or_else(|| customary_doubt(record) * mass_g.as_ref().copied().unwrap_or(0.0));
            MassItem {
                name: name_of(record, kind.key, place),
                area: kind.area,
                mass_g,
                plus_minus_g,
                plus_minus_by_custom: told.is_none(),
                counted: inclusion(kind.key).and_then(|what| included(weighing, what)).unwrap_or(true),
                place: points.place(kind.key, place),
                path,
            }
        })
        .collect();
    let bottles = (included(weighing, Inclusion::Bottles) == Some(true))
        .then(|| value(weighing.bottles_g.as_ref()).ok_or_else(|| Missing::fact("weighing.bottles")));
    let sum = total(&items, bottles.as_ref());
    Mass {
        areas: areas(&items),
        inclusions: Inclusion::NAMES
            .iter()
            .filter_map(|name| Inclusion::from_name(name))
            .map(|what| (what, included(weighing, what)))
            .collect(),
        balance: balance(&items, chassis),
        scale: scale(model, &items, &sum),
        bottles_g: bottles.and_then(Result::ok),
        sum,
        items,
    }
}

fn value<T: Clone>(given: Option<&Given<T>>) -> Option<T> {
    given.map(|given| given.value.clone())
}

fn inclusion(kind: &str) -> Option<Inclusion> {
    Some(match kind {
        "pedal" => Inclusion::Pedals,
        "bottle_cage" => Inclusion::Cages,
        "computer_mount" => Inclusion::Mount,
        "display" => Inclusion::Computer,
        _ => return None,
    })
}

fn included(weighing: &Weighing, what: Inclusion) -> Option<bool> {
    value(
        match what {
            Inclusion::Pedals => &weighing.with_pedals,
            Inclusion::Cages => &weighing.with_cages,
            Inclusion::Mount => &weighing.with_mount,
            Inclusion::Computer => &weighing.with_computer,
            Inclusion::Bottles => &weighing.with_bottles,
        }
        .as_ref(),
    )
}

fn name_of(record: &dyn Record, kind: &str, place: &str) -> String {
    let told = record.fields().iter().position(|field| field.name == "name").and_then(|index| record.get(index));
    match told.map(|leaf| leaf.value) {
        Some(Value::Text(name)) => name,
        _ => format!("{} {}", place.replace('-', " "), kind.replace('_', " ")).trim().to_owned(),
    }
}

/// How far off a mass may be, of itself, by where it comes from: common practice, no source.
fn customary_doubt(record: &dyn Record) -> f64 {
    let fact =
        |name: &str| record.fields().iter().position(|field| field.name == name).and_then(|index| record.get(index));
    let origin = fact("mass_g").and_then(|mass| mass.origin).or_else(|| match fact("facts_from")?.value {
        Value::Text(word) => Origin::from_name(&word),
        _ => None,
    });
    match origin {
        Some(Origin::Measured) => 0.002,
        Some(Origin::Sheet | Origin::Printed) => 0.05,
        Some(Origin::Catalogue) => 0.07,
        Some(Origin::Assumed) => 0.15,
        None => 0.1,
    }
}

fn total(items: &[MassItem], bottles: Option<&Known<f64>>) -> Known<MassSum> {
    let mut missing = Missing::default();
    let mut lumps = Vec::new();
    for item in items.iter().filter(|item| item.counted) {
        match &item.mass_g {
            Ok(mass_g) => lumps.push(lump(*mass_g, item.plus_minus_g, None)),
            Err(lacking) => missing = missing.and(lacking),
        }
    }
    match bottles {
        Some(Ok(mass_g)) => lumps.push(lump(*mass_g, 0.0, None)),
        Some(Err(lacking)) => missing = missing.and(lacking),
        None => {}
    }
    if missing != Missing::default() {
        return Err(missing);
    }
    let sum = sum(lumps).ok_or_else(|| Missing::refused("no part is listed yet"))?;
    let half_width = |u_g: f64| 3f64.sqrt() * u_g;
    Ok(MassSum { mass_g: sum.mass_g, plus_minus_g: 2.0 * sum.mass_u_g, together_g: half_width(sum.together_u_g) })
}

fn lump(mass_g: f64, plus_minus_g: f64, place: Option<MassPlace>) -> Lump {
    let place =
        place.unwrap_or(MassPlace { at: Point2 { x_mm: 0.0, y_mm: 0.0 }, plus_minus_mm: 0.0, is_a_point: false });
    Lump { mass_g, mass_u_g: standard_u(plus_minus_g), at: place.at, at_u_mm: standard_u(place.plus_minus_mm) }
}

fn areas(items: &[MassItem]) -> Vec<AreaMass> {
    let mut all: Vec<AreaMass> = Vec::new();
    for item in items.iter().filter(|item| item.counted) {
        let at = all.iter().position(|one| one.area == item.area).unwrap_or_else(|| {
            all.push(AreaMass { area: item.area, mass_g: 0.0, plus_minus_g: 0.0, unknown: 0 });
            all.len() - 1
        });
        match item.mass_g {
            Ok(mass_g) => {
                all[at].mass_g += mass_g;
                all[at].plus_minus_g = all[at].plus_minus_g.hypot(item.plus_minus_g);
            }
            Err(_) => all[at].unknown += 1,
        }
    }
    all.sort_by_key(|one| one.area);
    all
}

/// What may have no place and still leave a balance worth telling, of the whole.
const MOST_UNPLACED: f64 = 0.02;

fn balance(items: &[MassItem], chassis: &Chassis) -> Known<Balance> {
    known!(front = chassis.front_axle.clone(), rear = chassis.rear_axle.clone());
    let (mut lumps, mut at_points_g, mut unplaced_g) = (Vec::new(), 0.0, 0.0);
    let mut missing = Missing::default();
    for item in items.iter().filter(|item| item.counted) {
        match (&item.mass_g, item.place) {
            (Ok(mass_g), Some(place)) => {
                at_points_g += if place.is_a_point { *mass_g } else { 0.0 };
                lumps.push(lump(*mass_g, item.plus_minus_g, Some(place)));
            }
            (Ok(mass_g), None) => unplaced_g += mass_g,
            (Err(lacking), _) => missing = missing.and(lacking),
        }
    }
    if missing != Missing::default() {
        return Err(missing);
    }
    let whole = sum(lumps.iter().copied()).ok_or_else(|| Missing::refused("no part has a place yet"))?;
    if unplaced_g > MOST_UNPLACED * (whole.mass_g + unplaced_g) {
        return Err(Missing::refused(format!(
            "{unplaced_g:.0} g of parts have no place, because points of the bike are not known"
        )));
    }
    let wheels = Axles { rear_x_mm: rear.x_mm, front_x_mm: front.x_mm }
        .loads(lumps)
        .ok_or_else(|| Missing::refused("the front axle does not lie ahead of the rear one"))?;
    Ok(Balance { centre: whole.centre, wheels, at_points: at_points_g / whole.mass_g, unplaced_g })
}

fn scale(model: &Model<'_>, items: &[MassItem], sum: &Known<MassSum>) -> Option<Known<ScaleAgainstList>> {
    let reading = model.build.reading_of(&MASS, Side::None)?;
    let read_g = value(reading.value.as_ref())?;
    let plus_minus_g = value(reading.plus_minus.as_ref()).unwrap_or(SCALE_PLUS_MINUS_G);
    Some(sum.clone().map(|sum| against(items, sum, read_g, plus_minus_g)))
}

fn against(items: &[MassItem], sum: MassSum, read_g: f64, plus_minus_g: f64) -> ScaleAgainstList {
    let doubt_g = sum.plus_minus_g.hypot(plus_minus_g);
    let difference_g = read_g - sum.mass_g;
    let (agrees_from_g, agrees_to_g) = (UNLISTED_LEAST_G - doubt_g, UNLISTED_MOST_G + doubt_g);
    let mut all = Vec::new();
    if difference_g < agrees_from_g || agrees_to_g < difference_g {
        let usual_g = f64::midpoint(UNLISTED_LEAST_G, UNLISTED_MOST_G);
        let spread_g = (UNLISTED_MOST_G - UNLISTED_LEAST_G) / 2.0;
        // Too light: counted parts that are not there. Too heavy: parts said not to be on it that were.
        let light = difference_g < agrees_from_g;
        let wanted_g = if light { usual_g - difference_g } else { difference_g - usual_g };
        let (places, masses): (Vec<usize>, Vec<f64>) = items
            .iter()
            .enumerate()
            .filter(|(_, item)| item.counted == light)
            .filter_map(|(place, item)| item.mass_g.as_ref().ok().map(|mass_g| (place, *mass_g)))
            .unzip();
        explain(&masses, Wanted { mass_g: wanted_g, within_g: doubt_g + spread_g }, |set, mass_g| {
            let items = set.iter().map(|at| places[*at]).collect();
            all.push(Explanation { items, mass_g, rest_g: wanted_g - mass_g });
        });
        all.sort_by(|a, b| a.items.len().cmp(&b.items.len()).then(a.rest_g.abs().total_cmp(&b.rest_g.abs())));
    }
    let more = all.len().saturating_sub(MOST_EXPLANATIONS);
    all.truncate(MOST_EXPLANATIONS);
    debug_assert!(all.iter().all(|one| one.items.len() <= MOST_PARTS), "no set is larger than is searched");
    ScaleAgainstList { read_g, plus_minus_g, difference_g, agrees_from_g, agrees_to_g, explanations: all, more }
}

/// The points of the bike at which parts lie.
struct Points {
    front_axle: Option<Point2>,
    rear_axle: Option<Point2>,
    head_tube_top: Option<Point2>,
    collar: Option<Point2>,
    clamp: Option<Point2>,
    hoods: [Option<Point2>; 2],
    saddle: Option<Point2>,
    rail_clamp: Option<Point2>,
    computer_ahead_mm: f64,
}

impl Points {
    fn of(model: &Model<'_>, chassis: &Chassis, front: &Front, rear: &Rear) -> Self {
        let trough =
            |side| front.hood(side).as_ref().ok().map(|hood| Point2 { x_mm: hood.trough.x_mm, y_mm: hood.trough.y_mm });
        let collar = rear.seat_tube.as_ref().ok().copied().zip(fact!(model.frame, seat_tube_mm).ok());
        Points {
            front_axle: chassis.front_axle.as_ref().ok().copied(),
            rear_axle: chassis.rear_axle.as_ref().ok().copied(),
            head_tube_top: chassis.head_tube_top.as_ref().ok().copied(),
            collar: collar.map(|(tube, along_mm)| {
                let (foot, up) = (tube.foot(), tube.upwards());
                Point2::at(foot.x_mm + along_mm * up.x_mm, foot.y_mm + along_mm * up.y_mm)
            }),
            clamp: front.bar_clamp.as_ref().ok().copied(),
            hoods: [trough(Side::Left), trough(Side::Right)],
            saddle: rear.points.as_ref().ok().map(|points| points.reference),
            rail_clamp: rear.points.as_ref().ok().map(|points| points.clamp),
            computer_ahead_mm: fact!(model.settings, computer_offset_mm).unwrap_or(0.0),
        }
    }

    /// Where a part of this kind lies. A part on an axle, at the shell or at a hood lies at a point of the bike; the rest
    /// are estimates, by hand, with a width that surely holds them.
    fn place(&self, kind: &str, place: &str) -> Option<MassPlace> {
        let front = place == "front";
        let axle = if front { self.front_axle } else { self.rear_axle };
        let shell = Some(Point2 { x_mm: 0.0, y_mm: 0.0 });
        let between = |a: Option<Point2>, b: Option<Point2>| {
            a.zip(b).map(|(a, b)| Point2 { x_mm: f64::midpoint(a.x_mm, b.x_mm), y_mm: f64::midpoint(a.y_mm, b.y_mm) })
        };
        let moved = |point: Option<Point2>, x_mm: f64, y_mm: f64| {
            point.map(|point| Point2 { x_mm: point.x_mm + x_mm, y_mm: point.y_mm + y_mm })
        };
        let frame = between(between(shell, self.head_tube_top), between(self.rear_axle, self.collar));
        let hood = if place == "right" { self.hoods[1] } else { self.hoods[0] };
        let (at, plus_minus_mm, is_a_point) = match kind {
            "wheel" | "tyre" | "tube" | "rotor" | "axle" => (axle, 5.0, true),
            "cassette" => (self.rear_axle, 5.0, true),
            "bottom_bracket" | "crankset" | "pedal" => (shell, 10.0, true),
            "lever" => (hood, 25.0, true),
            "saddle" => (self.saddle, 40.0, true),
            "caliper" if front => (moved(axle, -40.0, 60.0), 40.0, false),
            "caliper" => (moved(axle, 40.0, 60.0), 40.0, false),
            "rear_derailleur" => (moved(self.rear_axle, 0.0, -60.0), 40.0, false),
            "front_derailleur" => (moved(shell, -20.0, 110.0), 30.0, false),
            "chain" => (between(self.rear_axle, shell), 40.0, false),
            "bar" | "cockpit" => (moved(self.clamp, 35.0, -40.0), 30.0, false),
            "tape" | "end_plug" => (between(self.clamp, hood), 60.0, false),
            "computer_mount" | "display" => (moved(self.clamp, self.computer_ahead_mm, 10.0), 30.0, false),
            "stem" => (between(self.head_tube_top, self.clamp), 20.0, false),
            "headset" | "spacer" => (self.head_tube_top, 25.0, false),
            "fork" => (between(self.front_axle, self.head_tube_top), 40.0, false),
            "frame" => (frame, 60.0, false),
            "post" => (between(self.rail_clamp, self.collar), 40.0, false),
            "bottle_cage" | "hose" | "wire" | "junction" | "battery" | "radio_unit" => (frame, 200.0, false),
            _ => (frame, 300.0, false),
        };
        at.map(|at| MassPlace { at, plus_minus_mm, is_a_point })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a sum that is not known is to stop the test")]

    use super::*;
    use crate::build::sample::sample;
    use crate::build::{Build, Reading};
    use crate::compute::{chassis, front, rear};

    fn of(build: &Build) -> Mass {
        let model = Model::new(build);
        let chassis = chassis(&model);
        mass(&model, &chassis, &front(&model, &chassis), &rear(&model))
    }

    fn weighed(build: &mut Build, read_g: f64) {
        build.measured.insert((MASS.id, Side::None), Reading { value: Some(read_g.into()), ..Reading::default() });
    }

    /// A list that was weighed part by part.
    fn exact() -> Build {
        let mut build = sample();
        for (path, leaf) in build.leaves() {
            if let Some(part) = path.strip_suffix(".mass").filter(|part| part.starts_with("parts.")) {
                let doubt = Given { value: Value::Number(1.0), typed: "1".into(), ..leaf };
                build.set(&format!("{part}.mass_plus_minus"), Some(doubt)).unwrap();
            }
        }
        build
    }

    #[test]
    fn areas_and_items_add_up_to_the_sum() {
        let all = of(&sample());
        let sum = all.sum.unwrap();
        let by_area: f64 = all.areas.iter().map(|area| area.mass_g).sum();
        let by_item: f64 = all.items.iter().map(|item| item.mass_g.clone().unwrap()).sum();
        assert!((by_area - sum.mass_g).abs() < 1e-9 && (by_item - sum.mass_g).abs() < 1e-9);
        assert!(sum.plus_minus_g < sum.together_g);
        assert!(all.areas.is_sorted_by_key(|area| area.area));
    }

    #[test]
    fn what_was_not_on_the_bike_is_not_counted_and_bottles_are() {
        let mut build = sample();
        let with = of(&build).sum.unwrap().mass_g;
        build.weighing.with_pedals = Some(false.into());
        let without = of(&build).sum.unwrap().mass_g;
        assert!((with - without - 230.0).abs() < 1e-9);
        build.weighing.with_bottles = Some(true.into());
        assert_eq!(of(&build).sum.unwrap_err().paths, ["weighing.bottles"]);
        build.weighing.bottles_g = Some(650.0.into());
        assert!((of(&build).sum.unwrap().mass_g - without - 650.0).abs() < 1e-9);
    }

    #[test]
    fn a_race_bike_stands_a_little_more_on_its_rear_wheel() {
        let balance = of(&sample()).balance.unwrap();
        assert!((0.40..0.50).contains(&balance.front_share()), "{balance:?}");
        assert!((0.4..0.9).contains(&balance.at_points) && balance.unplaced_g.abs() < 1e-9);
        assert!(balance.centre.y_mm > 150.0 && balance.centre.y_mm < 300.0);
    }

    #[test]
    fn a_scale_that_reads_a_little_more_agrees_and_one_that_lacks_the_cassette_names_it() {
        let mut build = exact();
        let sum = of(&build).sum.unwrap().mass_g;
        weighed(&mut build, sum + 90.0);
        let agreed = of(&build).scale.unwrap().unwrap();
        assert!(agreed.agrees() && agreed.explanations.is_empty());
        weighed(&mut build, sum + 90.0 - 228.0);
        let all = of(&build);
        let short = all.scale.unwrap().unwrap();
        assert!(!short.agrees());
        let single: Vec<&str> = short
            .explanations
            .iter()
            .filter(|one| one.items.len() == 1)
            .map(|one| all.items[one.items[0]].path.as_str())
            .collect();
        assert!(single.contains(&"parts.cassette"), "{single:?}");
        assert!(short.more > 0, "pairs and threes are counted");
    }

    #[test]
    fn a_scale_that_reads_too_much_asks_what_was_said_not_to_be_on() {
        let mut build = exact();
        build.weighing.with_pedals = Some(false.into());
        let sum = of(&build).sum.unwrap().mass_g;
        weighed(&mut build, sum + 95.0 + 230.0);
        let all = of(&build);
        let heavy = all.scale.unwrap().unwrap();
        assert!(!heavy.agrees());
        assert_eq!(all.items[heavy.explanations[0].items[0]].path, "parts.pedal");
    }

    #[test]
    fn a_part_without_a_mass_leaves_the_sum_unknown_and_the_areas_counted() {
        let mut build = sample();
        build.parts.saddle.make("").mass_g = None;
        let all = of(&build);
        assert_eq!(all.sum.unwrap_err().paths, ["parts.saddle.mass"]);
        assert_eq!(all.areas.iter().map(|area| area.unknown).sum::<usize>(), 1);
        assert!(of(&Build::default()).sum.is_err());
    }
}
