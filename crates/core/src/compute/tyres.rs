//! Tyre pressures: the limits, what stands on each wheel, where a trial starts, and how soon the air is to be topped up.
//!
//! The limits come first: the highest pressure of tyre, rim and a bead without hooks. Where one of them is not known, no
//! pressure is named at all. Below that, a pressure which the rider likes is carried over by load and width, which is the
//! part to be trusted; without one, a printed rule of thumb gives a start and no more.

use super::{Chassis, Front, Mass, Rear};
use crate::build::Liked;
use crate::choice;
use crate::fact;
use crate::field::Given;
use crate::known;
use crate::model::{End, Known, Missing, Model};
use crate::number::{MASS, RIDER_LOAD, Side, TYRE_WIDTH};
use crate::part::{AirSeal, RimBead};
use jiff::civil::Date;
use witnessmark_mechanics::mass::Axles;
use witnessmark_mechanics::tyre::{LikedPressure, OtherTyre, Section, carried_kpa, chart_pressure_kpa, contact_mm2};

/// The most on a road rim without hooks: ETRTO and ISO 5775-1, as reported.
pub const HOOKLESS_KPA: f64 = 500.0;
/// How far a rider's weight lies ahead of the saddle's reference, of the way to the hoods: an estimate, no source; with it
/// race positions come out with 43 to 46 % on the front wheel, as they are read.
pub const RIDER_AHEAD_SHARE: f64 = 0.30;
/// How far off that may be, either way.
pub const RIDER_AHEAD_PLUS_MINUS: f64 = 0.07;
/// How far off the printed rule of thumb may be, of itself.
pub const CHART_SHARE: f64 = 0.10;
/// How much less is ridden without a tube: common practice, no source.
pub const WITHOUT_TUBE_KPA: f64 = 30.0;
/// A tyre wants air when so much of its pressure is gone: an assumption.
pub const TOP_UP_SHARE: f64 = 0.05;
/// Newtons that a gram weighs.
const NEWTONS_A_GRAM: f64 = 9.806_65e-3;

choice! {
    /// How the load on a wheel is known.
    pub enum LoadFrom {
        /// A scale under the wheel.
        Scale = "read on a scale",
        /// Estimated from the position.
        Position = "estimated from the position",
    }
}

choice! {
    /// Where the pressure to start from comes from.
    pub enum StartFrom {
        /// A pressure that the rider likes, carried over.
        Liked = "carried over from what the rider likes",
        /// A printed rule of thumb.
        Chart = "a rule of thumb: 15 % of the width",
    }
}

/// What stands on a wheel, rider and bike together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelLoad {
    /// The load.
    pub mass_g: f64,
    /// The least it may be.
    pub low_g: f64,
    /// The most it may be.
    pub high_g: f64,
    /// How it is known.
    pub from: LoadFrom,
}

/// A limit of the pressure.
#[derive(Clone, Debug, PartialEq)]
pub struct PressureLimit {
    /// How much.
    pub kpa: f64,
    /// Whose: "tyre", "rim", "rim without hooks".
    pub whose: &'static str,
    /// The fact that says so.
    pub path: String,
}

/// Where a trial starts.
#[derive(Clone, Debug, PartialEq)]
pub struct PressureStart {
    /// The pressure to start from; never above the lowest limit.
    pub kpa: f64,
    /// The least that the doubt leaves.
    pub low_kpa: f64,
    /// The most that it leaves; never above the lowest limit.
    pub high_kpa: f64,
    /// Where it comes from.
    pub from: StartFrom,
    /// The limit that holds it down: the load asks for more than tyre and rim allow.
    pub held_by: Option<PressureLimit>,
    /// The lowest pressure printed on the tyre holds it up.
    pub raised_to_least: bool,
    /// Of the liked bike, the share on the front wheel was not told; it is taken to be this bike's.
    pub share_assumed: bool,
}

/// How soon a tyre wants air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TopUp {
    /// Days until it does; 1 is the morning of every ride.
    pub days: u32,
    /// By the loss that was read in the first night, and not by custom.
    pub by_reading: bool,
    /// The day on which the sealant is to be topped up.
    pub sealant_on: Option<Date>,
}

/// One tyre.
#[derive(Clone, Debug, PartialEq)]
pub struct TyreAtWheel {
    /// Which wheel.
    pub side: Side,
    /// What stands on it.
    pub load: Known<WheelLoad>,
    /// Width of the tyre on this rim.
    pub width_mm: Known<f64>,
    /// It was measured on another rim, and is worked out for this one.
    pub width_carried: bool,
    /// Every limit that is known, lowest first.
    pub limits: Vec<PressureLimit>,
    /// The limits that are not known.
    pub limits_missing: Missing,
    /// The lowest pressure printed on the tyre.
    pub least_kpa: Known<f64>,
    /// Where a trial starts.
    pub start: Known<PressureStart>,
    /// The pressure that is set.
    pub set_kpa: Option<f64>,
    /// How far it sinks at that pressure, by the membrane.
    pub drop_mm: Known<f64>,
    /// The area on the road at that pressure, at most.
    pub contact_mm2: Known<f64>,
    /// How soon it wants air.
    pub top_up: Known<TopUp>,
}

impl TyreAtWheel {
    /// The lowest limit, known where every one of them is.
    pub fn most(&self) -> Known<&PressureLimit> {
        if self.limits_missing != Missing::default() {
            return Err(self.limits_missing.clone());
        }
        self.limits.first().ok_or_else(|| Missing::refused("no limit of the pressure is stated"))
    }
}

/// Both tyres.
#[derive(Clone, Debug, PartialEq)]
pub struct Tyres {
    /// In front.
    pub front: TyreAtWheel,
    /// At the rear.
    pub rear: TyreAtWheel,
    /// Share of rider and bike that stands on the front wheel.
    pub front_share: Known<f64>,
}

impl Tyres {
    /// The tyre of a wheel.
    pub fn at(&self, side: Side) -> &TyreAtWheel {
        if side == Side::Rear { &self.rear } else { &self.front }
    }
}

/// The tyres of this bike.
pub fn tyres(model: &Model<'_>, chassis: &Chassis, front: &Front, rear: &Rear, mass: &Mass) -> Tyres {
    let loads = loads(model, chassis, front, rear, mass);
    let front_share = loads.clone().map(|[front, rear]| front.mass_g / (front.mass_g + rear.mass_g));
    let [at_front, at_rear] = [0, 1].map(|at| {
        let end = &model.ends[at];
        let load = loads.clone().map(|loads| loads[at]);
        one(model, end, load, front_share.clone(), mass)
    });
    Tyres { front: at_front, rear: at_rear, front_share }
}

fn value<T: Clone>(given: Option<&Given<T>>) -> Option<T> {
    given.map(|given| given.value.clone())
}

/// Mass of the bike as ridden: as weighed, or else the list.
fn bike_g(model: &Model<'_>, mass: &Mass) -> Known<f64> {
    let weighed = model.build.reading_of(&MASS, Side::None).and_then(|reading| value(reading.value.as_ref()));
    weighed.map_or_else(|| mass.sum.clone().map(|sum| sum.mass_g), Ok)
}

fn rider_g(model: &Model<'_>) -> Known<f64> {
    value(model.build.rider.mass_g.as_ref()).ok_or_else(|| Missing::fact("rider.mass"))
}

fn loads(model: &Model<'_>, chassis: &Chassis, front: &Front, rear: &Rear, mass: &Mass) -> Known<[WheelLoad; 2]> {
    let read = |side| {
        model.build.reading_of(&RIDER_LOAD, side).and_then(|reading| {
            let mass_g = value(reading.value.as_ref())?;
            let off_g = value(reading.plus_minus.as_ref()).unwrap_or(RIDER_LOAD.tolerance.value);
            Some(WheelLoad { mass_g, low_g: mass_g - off_g, high_g: mass_g + off_g, from: LoadFrom::Scale })
        })
    };
    if let (Some(front), Some(rear)) = (read(Side::Front), read(Side::Rear)) {
        return Ok([front, rear]);
    }
    known!(
        rider_g = rider_g(model),
        bike_g = bike_g(model, mass),
        saddle = rear.points.clone(),
        hoods = both_hoods_x_mm(front),
        front_axle = chassis.front_axle.clone(),
        rear_axle = chassis.rear_axle.clone(),
    );
    let axles = Axles { rear_x_mm: rear_axle.x_mm, front_x_mm: front_axle.x_mm };
    // A bike whose balance is not known stands on its wheels as race bikes do.
    let bike_share = mass.balance.as_ref().map_or(0.45, super::Balance::front_share);
    let with = |ahead: f64| {
        let x_mm = saddle.reference.x_mm + ahead * (hoods - saddle.reference.x_mm);
        rider_g * axles.front_share(x_mm) + bike_g * bike_share
    };
    let whole_g = rider_g + bike_g;
    let (middle, low, high) = (
        with(RIDER_AHEAD_SHARE),
        with(RIDER_AHEAD_SHARE - RIDER_AHEAD_PLUS_MINUS),
        with(RIDER_AHEAD_SHARE + RIDER_AHEAD_PLUS_MINUS),
    );
    let from = LoadFrom::Position;
    Ok([
        WheelLoad { mass_g: middle, low_g: low, high_g: high, from },
        WheelLoad { mass_g: whole_g - middle, low_g: whole_g - high, high_g: whole_g - low, from },
    ])
}

fn both_hoods_x_mm(front: &Front) -> Known<f64> {
    known!(left = front.hood_left.clone(), right = front.hood_right.clone());
    Ok(f64::midpoint(left.trough.x_mm, right.trough.x_mm))
}

fn one(model: &Model<'_>, end: &End<'_>, load: Known<WheelLoad>, share: Known<f64>, mass: &Mass) -> TyreAtWheel {
    let (width_mm, width_carried) = width(model, end);
    let (limits, limits_missing) = limits(end);
    let set_kpa = if end.side == Side::Front {
        fact!(model.settings, pressure_front_kpa)
    } else {
        fact!(model.settings, pressure_rear_kpa)
    }
    .ok();
    let sinks = sinks(end, &load, &width_mm, set_kpa);
    let mut tyre = TyreAtWheel {
        side: end.side,
        contact_mm2: sinks.clone().map(|(_, contact)| contact),
        drop_mm: sinks.map(|(drop, _)| drop),
        top_up: top_up(end, set_kpa),
        least_kpa: fact!(end.tyre, pressure_min_kpa),
        start: Err(Missing::default()),
        load,
        width_mm,
        width_carried,
        limits,
        limits_missing,
        set_kpa,
    };
    tyre.start = start(model, end, &tyre, share, mass);
    tyre
}

/// Width on this rim: as read on the bike, or the tyre's own, carried over where it was measured on another rim.
fn width(model: &Model<'_>, end: &End<'_>) -> (Known<f64>, bool) {
    let read = model.build.reading_of(&TYRE_WIDTH, end.side).and_then(|reading| value(reading.value.as_ref()));
    if let Some(read_mm) = read {
        return (Ok(read_mm), false);
    }
    let measured = fact!(end.tyre, width_measured_mm);
    let rims = (fact!(end.tyre, measured_on_rim_mm), fact!(end.wheel, rim_inner_width_mm));
    match (&measured, rims) {
        (Ok(width_mm), (Ok(then_mm), Ok(now_mm))) if (then_mm - now_mm).abs() > 0.05 => {
            let on_this = Section { width_mm: *width_mm, rim_inner_mm: then_mm }.width_on_mm(now_mm);
            let refused = || Missing::refused("the tyre is not wider than the rim");
            (on_this.ok_or_else(refused), true)
        }
        _ => (measured, false),
    }
}

fn limits(end: &End<'_>) -> (Vec<PressureLimit>, Missing) {
    let mut limits = Vec::new();
    let mut missing = Missing::default();
    for (whose, fact, path) in [
        ("tyre", fact!(end.tyre, pressure_max_kpa), format!("{}.pressure_max", end.tyre.path)),
        ("rim", fact!(end.wheel, pressure_max_kpa), format!("{}.pressure_max", end.wheel.path)),
    ] {
        match fact {
            Ok(kpa) => limits.push(PressureLimit { kpa, whose, path }),
            Err(lacking) => missing = missing.and(&lacking),
        }
    }
    match fact!(end.wheel, bead) {
        Ok(RimBead::Hookless) => limits.push(PressureLimit {
            kpa: HOOKLESS_KPA,
            whose: "rim without hooks",
            path: format!("{}.bead", end.wheel.path),
        }),
        Ok(RimBead::Hooked | RimBead::Glued) => {}
        Err(lacking) => missing = missing.and(&lacking),
    }
    limits.sort_by(|a, b| a.kpa.total_cmp(&b.kpa));
    (limits, missing)
}

fn start(model: &Model<'_>, end: &End<'_>, tyre: &TyreAtWheel, share: Known<f64>, mass: &Mass) -> Known<PressureStart> {
    known!(
        most = tyre.most().cloned(),
        load = tyre.load.clone(),
        width_mm = tyre.width_mm.clone(),
        seal = fact!(end.tube, kind),
        share = share,
        bike_g = bike_g(model, mass),
    );
    let side_share = if end.side == Side::Front { share } else { 1.0 - share };
    let carried = liked(&model.build.liked, end.side, bike_g, side_share);
    let mut share_assumed = false;
    let (middle, low, high, from) = if let Some((liked, told, liked_seal)) = carried {
        share_assumed = !told;
        let to = |load_g: f64| {
            carried_kpa(liked, OtherTyre { load: load_g, width_mm })
                .ok_or_else(|| Missing::refused("a liked pressure cannot be carried from these figures"))
        };
        let other = without_tube(seal) - liked_seal.map_or_else(|| without_tube(seal), without_tube);
        let at = to(load.mass_g)? - other;
        // The same rider in the same position errs alike on both bikes; what is left is the gauge and the width.
        (at, at * 0.95, at * 1.05, StartFrom::Liked)
    } else {
        let at = |load_g: f64| {
            chart_pressure_kpa(load_g * NEWTONS_A_GRAM, width_mm)
                .map(|kpa| kpa - without_tube(seal))
                .ok_or_else(|| Missing::refused("no pressure follows from this load and width"))
        };
        (
            at(load.mass_g)?,
            at(load.low_g)? * (1.0 - CHART_SHARE),
            at(load.high_g)? * (1.0 + CHART_SHARE),
            StartFrom::Chart,
        )
    };
    let least_kpa = tyre.least_kpa.clone().unwrap_or(0.0);
    let kpa = middle.max(least_kpa).min(most.kpa);
    Ok(PressureStart {
        kpa,
        low_kpa: low.max(least_kpa).min(kpa),
        high_kpa: high.min(most.kpa).max(kpa),
        from,
        raised_to_least: middle < least_kpa,
        held_by: (middle > most.kpa).then_some(most),
        share_assumed,
    })
}

fn without_tube(seal: AirSeal) -> f64 {
    if seal == AirSeal::Sealant { WITHOUT_TUBE_KPA } else { 0.0 }
}

/// What the rider likes at a wheel, with the load it was ridden at; whether the share on that wheel was told; what sealed it.
fn liked(liked: &Liked, side: Side, bike_g: f64, share: f64) -> Option<(LikedPressure, bool, Option<AirSeal>)> {
    let (pressure, width) = if side == Side::Front {
        (&liked.pressure_front_kpa, &liked.width_front_mm)
    } else {
        (&liked.pressure_rear_kpa, &liked.width_rear_mm)
    };
    let pressure_kpa = value(pressure.as_ref())?;
    let width_mm = value(width.as_ref())?;
    let whole_g = value(liked.rider_mass_g.as_ref())? + value(liked.bike_mass_g.as_ref()).unwrap_or(bike_g);
    let told = value(liked.front_share_percent.as_ref())
        .map(|percent| if side == Side::Front { percent / 100.0 } else { 1.0 - percent / 100.0 });
    let load = whole_g * told.unwrap_or(share);
    Some((LikedPressure { pressure_kpa, load, width_mm }, told.is_some(), value(liked.seal.as_ref())))
}

/// How far the tyre sinks at the pressure set, and what lies on the road.
fn sinks(end: &End<'_>, load: &Known<WheelLoad>, width_mm: &Known<f64>, set: Option<f64>) -> Known<(f64, f64)> {
    let setting = if end.side == Side::Front { "settings.pressure_front" } else { "settings.pressure_rear" };
    known!(
        load = load.clone(),
        width_mm = width_mm.clone(),
        rim_inner_mm = fact!(end.wheel, rim_inner_width_mm),
        radius_mm = fact!(end.tyre, outer_radius_mm),
        kpa = set.ok_or_else(|| Missing::fact(setting)),
    );
    let load_n = load.mass_g * NEWTONS_A_GRAM;
    let drop_mm = Section { width_mm, rim_inner_mm }
        .drop_mm(radius_mm, load_n, kpa)
        .ok_or_else(|| Missing::refused("the tyre would sink to its rim, or is not wider than it"))?;
    Ok((drop_mm, contact_mm2(load_n, kpa)))
}

fn top_up(end: &End<'_>, set_kpa: Option<f64>) -> Known<TopUp> {
    known!(seal = fact!(end.tube, kind));
    let tube = end.tube.part;
    let filled = tube.and_then(|tube| value(tube.filled_on.as_ref()).zip(value(tube.refill_days.as_ref())));
    let sealant_on = filled
        .filter(|_| seal == AirSeal::Sealant)
        .and_then(|(on, days)| on.checked_add(jiff::Span::new().days(i64::from(days))).ok());
    let loss = tube.and_then(|tube| value(tube.loss_overnight_kpa.as_ref())).filter(|loss| *loss > 0.0);
    if let (Some(loss_kpa), Some(set_kpa)) = (loss, set_kpa) {
        let nights = (TOP_UP_SHARE * set_kpa / loss_kpa).floor().clamp(1.0, 14.0);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 14")]
        return Ok(TopUp { days: nights as u32, by_reading: true, sealant_on });
    }
    Ok(TopUp { days: customary_days(seal), by_reading: false, sealant_on })
}

/// Days after which a tyre wants air, by what keeps it in: common practice, no source. Latex every morning.
pub const fn customary_days(seal: AirSeal) -> u32 {
    match seal {
        AirSeal::Latex => 1,
        AirSeal::Sealant => 5,
        AirSeal::Plastic | AirSeal::Butyl => 7,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a pressure that is not known is to stop the test")]

    use super::*;
    use crate::build::sample::sample;
    use crate::build::{Build, Reading};
    use crate::compute::work_out;

    fn of(build: &Build) -> Tyres {
        work_out(&Model::new(build)).tyres
    }

    #[test]
    fn more_stands_on_the_rear_and_the_rear_starts_higher() {
        let all = of(&sample());
        assert!((0.41..0.47).contains(&all.front_share.clone().unwrap()), "{:?}", all.front_share);
        let (front, rear) = (all.front.start.unwrap(), all.rear.start.unwrap());
        assert!(front.kpa < rear.kpa && front.from == StartFrom::Chart);
        assert!(front.low_kpa < front.kpa && front.kpa < front.high_kpa);
        // A rider of 68 kg on 28 mm: what the trade starts from lies between 4 and 5 bar.
        assert!((350.0..520.0).contains(&front.kpa) && (400.0..520.0).contains(&rear.kpa), "{front:?} {rear:?}");
    }

    #[test]
    fn no_pressure_is_named_while_a_limit_is_not_known() {
        for (path, lacking) in [
            ("parts.wheel.front.pressure_max", "parts.wheel.front.pressure_max"),
            ("parts.tyre.front.pressure_max", "parts.tyre.front.pressure_max"),
            ("parts.wheel.front.bead", "parts.wheel.front.bead"),
        ] {
            let mut build = sample();
            build.set(path, None).unwrap();
            assert_eq!(of(&build).front.start.unwrap_err().paths, [lacking]);
        }
    }

    #[test]
    fn no_start_is_above_the_lowest_limit_whatever_the_load() {
        let mut build = sample();
        for rider_g in [50_000.0, 80_000.0, 110_000.0, 150_000.0] {
            for hookless in [false, true] {
                build.rider.mass_g = Some(rider_g.into());
                let bead = if hookless { RimBead::Hookless } else { RimBead::Hooked };
                build.parts.wheel.make("rear").bead = Some(bead.into());
                let rear = of(&build).rear;
                let most = rear.most().unwrap().kpa;
                let start = rear.start.unwrap();
                assert!(start.high_kpa <= most && start.kpa <= most && start.low_kpa <= start.kpa);
                assert!((most - if hookless { 500.0 } else { 690.0 }).abs() < 1e-9);
                if rider_g > 140_000.0 {
                    assert!(start.held_by.is_some(), "so heavy a rider is held down by the limit");
                }
            }
        }
    }

    #[test]
    fn a_liked_pressure_stays_on_the_same_tyre_and_falls_on_a_wider_one() {
        let mut build = sample();
        let now = of(&build);
        build.liked = Liked {
            pressure_front_kpa: Some(460.0.into()),
            width_front_mm: Some(28.4.into()),
            rider_mass_g: Some(68_000.0.into()),
            seal: Some(AirSeal::Sealant.into()),
            ..Liked::default()
        };
        let same = of(&build).front.start.unwrap();
        assert!((same.kpa - 460.0).abs() < 1e-9 && same.from == StartFrom::Liked && same.share_assumed);
        assert_eq!(of(&build).rear.start, now.rear.start, "nothing is liked at the rear");
        build.parts.tyre.make("front").width_measured_mm = Some(31.0.into());
        let wider = of(&build).front.start.unwrap();
        assert!((wider.kpa - 460.0 * (28.4f64 / 31.0).powf(1.5)).abs() < 1e-6);
        build.liked.seal = Some(AirSeal::Butyl.into());
        assert!((of(&build).front.start.unwrap().kpa - (wider.kpa - 30.0)).abs() < 1e-6, "no tube, a little less");
    }

    #[test]
    fn a_scale_under_the_wheels_goes_before_the_estimate() {
        let mut build = sample();
        for (side, load_g) in [(Side::Front, 35_000.0), (Side::Rear, 41_000.0)] {
            let reading = Reading { value: Some(load_g.into()), ..Reading::default() };
            build.measured.insert((RIDER_LOAD.id, side), reading);
        }
        let all = of(&build);
        assert_eq!(all.front.load.clone().unwrap().from, LoadFrom::Scale);
        assert!((all.front_share.unwrap() - 35.0 / 76.0).abs() < 1e-12);
    }

    #[test]
    fn a_tyre_measured_on_another_rim_is_carried_over() {
        let mut build = sample();
        build.parts.tyre.make("front").measured_on_rim_mm = Some(19.0.into());
        let front = of(&build).front;
        assert!(front.width_carried);
        assert!((front.width_mm.unwrap() - 28.4 - 0.8).abs() < 0.1, "0.4 mm for each millimetre of rim");
    }

    #[test]
    fn latex_wants_air_every_morning_and_a_reading_goes_before_the_custom() {
        let mut build = sample();
        build.parts.tube.make("front").kind = Some(AirSeal::Latex.into());
        assert_eq!(of(&build).front.top_up.unwrap().days, 1);
        build.parts.tube.make("rear").loss_overnight_kpa = Some(8.0.into());
        let rear = of(&build).rear.top_up.unwrap();
        assert!(rear.by_reading && rear.days == 3, "{rear:?}");
        assert_eq!(rear.sealant_on, Some(jiff::civil::date(2027, 5, 15)));
    }
}
