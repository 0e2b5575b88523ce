//! The service plan: what wears on this very bike, how soon it is looked at, at what it is done with, and what is due.
//!
//! An interval is days, kilometres, or both, and the earlier one wins. Kilometres become days by what the rider rides in a
//! year; where that is not told, only the days count. Each service starts anew from the day on which it was last done, and
//! the first time from the day of hand-over.
//!
//! The intervals are common practice of road racing and no law; what a maker prints goes before them, and facts of the parts
//! (wear limits, days of a sealant, the agreed re-check) go before both.

use crate::build::Build;
use crate::choice;
use crate::fact;
use crate::field::Given;
use crate::finding::figure;
use crate::model::{Known, Missing, Model};
use crate::number::{Area, Side};
use crate::part::{AirSeal, BrakeFluid, Lubricant, Material, PowerMeter, Shifting};
use jiff::civil::Date;

/// Where the intervals come from.
pub const SOURCE: &str = "common practice, no source: intervals of road racing; what a maker prints goes before them";
/// The days before a service is due in which it is called soon.
pub const SOON_DAYS: i32 = 14;

choice! {
    /// Why a service is due on its day.
    pub enum DueBy {
        /// It was agreed.
        Agreed = "agreed",
        /// A fact of the part says so.
        Part = "by the part",
        /// By time.
        Days = "by time",
        /// By what is ridden in the meantime.
        Distance = "by distance",
    }
}

choice! {
    /// How a service stands on a day, most urgent first.
    pub enum Standing {
        /// Its day has come.
        Due = "due",
        /// Its day comes within a fortnight.
        Soon = "soon",
        /// It has time.
        Later = "later",
        /// There is no day to count from.
        NotKnown = "not known",
    }
}

/// How often.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Interval {
    /// Days.
    pub days: Option<u32>,
    /// Kilometres.
    pub km: Option<u32>,
}

/// One service of this bike.
#[derive(Clone, Debug, PartialEq)]
pub struct Service {
    /// Its id, under which the document keeps when it was last done: `chain-wear`.
    pub id: String,
    /// What is looked at or done.
    pub name: String,
    /// The part, by its path.
    pub part: String,
    /// Where in the walk-round it stands.
    pub area: Area,
    /// How often.
    pub interval: Interval,
    /// It is done once, and not again.
    pub once: bool,
    /// At what it is done with: the wear limit, with the fact of the part where there is one.
    pub limit: Option<String>,
    /// What is done.
    pub action: &'static str,
    /// The day it was last done.
    pub last: Option<Date>,
    /// What was read then: thickness, elongation, play.
    pub read: Option<String>,
    /// Who did it then.
    pub done_by: Option<String>,
    /// The day on which it is due.
    pub due_on: Known<Date>,
    /// Why then.
    pub by: DueBy,
}

impl Service {
    /// How it stands on a day.
    pub fn standing(&self, day: Date) -> Standing {
        match &self.due_on {
            Err(_) => Standing::NotKnown,
            Ok(due) if *due <= day => Standing::Due,
            Ok(due) if (*due - day).get_days() <= SOON_DAYS => Standing::Soon,
            Ok(_) => Standing::Later,
        }
    }

    /// Where its day comes from.
    pub fn source(&self) -> &'static str {
        match self.by {
            DueBy::Agreed => "agreed with the rider (job.recheck_on)",
            DueBy::Part => "a fact of the part, as its maker or the one who filled it says",
            DueBy::Days | DueBy::Distance => SOURCE,
        }
    }
}

/// The service plan of a bike.
#[derive(Clone, Debug, PartialEq)]
pub struct ServicePlan {
    /// The day from which everything counts that was never done.
    pub from: Known<Date>,
    /// What the rider rides in a year.
    pub km_a_year: Option<f64>,
    /// Every service, earliest first; what has no day comes last.
    pub list: Vec<Service>,
}

impl ServicePlan {
    /// What is due on this day or before.
    pub fn due(&self, day: Date) -> impl Iterator<Item = &Service> {
        self.list.iter().filter(move |service| service.standing(day) == Standing::Due)
    }

    /// The service with this id.
    pub fn of(&self, id: &str) -> Option<&Service> {
        self.list.iter().find(|service| service.id == id)
    }
}

/// The service plan of this bike: pure, like everything here; the day is asked of [`Service::standing`].
pub fn service(build: &Build) -> ServicePlan {
    let model = Model::new(build);
    let from = value(build.job.handed_over_on.as_ref()).ok_or_else(|| Missing::fact("job.handed_over_on"));
    let km_a_year = value(build.rider.km_a_year.as_ref()).filter(|km| *km > 0.0);
    let mut plan = Planner { build, from: from.clone(), km_a_year, list: Vec::new() };
    bolts(&model, &mut plan);
    front_end(&model, &mut plan);
    transmission(&model, &mut plan);
    wheels_and_brakes(&model, &mut plan);
    saddle_and_cockpit(&model, &mut plan);
    let mut list = plan.list;
    // Results with a day first, by the day; a sort that keeps the order of the walk-round among equals.
    list.sort_by_key(|service| service.due_on.clone().map_or(Date::MAX, |day| day));
    ServicePlan { from, km_a_year, list }
}

fn value<T: Clone>(given: Option<&Given<T>>) -> Option<T> {
    given.map(|given| given.value.clone())
}

fn later(day: Date, days: i64) -> Option<Date> {
    day.checked_add(jiff::Span::new().days(days)).ok()
}

/// What the tables below say of a service.
struct Line {
    id: String,
    name: String,
    part: String,
    area: Area,
    days: u32,
    km: Option<u32>,
    limit: Option<String>,
    action: &'static str,
    fixed: Option<(Date, DueBy)>,
    once: bool,
}

impl Line {
    fn new(id: impl Into<String>, name: impl Into<String>, part: &str, area: Area, days: u32) -> Self {
        Line {
            id: id.into(),
            name: name.into(),
            part: part.to_owned(),
            area,
            days,
            km: None,
            limit: None,
            action: "",
            fixed: None,
            once: false,
        }
    }

    fn km(self, km: u32) -> Self {
        Line { km: Some(km), ..self }
    }

    fn limit(self, limit: impl Into<String>) -> Self {
        Line { limit: Some(limit.into()), ..self }
    }

    fn action(self, action: &'static str) -> Self {
        Line { action, ..self }
    }

    /// A day that an agreement or a part names; it goes before the interval the first time.
    fn on(self, day: Option<Date>, by: DueBy) -> Self {
        Line { fixed: day.map(|day| (day, by)), ..self }
    }

    fn once(self) -> Self {
        Line { once: true, ..self }
    }
}

/// The plan as it grows.
struct Planner<'a> {
    build: &'a Build,
    from: Known<Date>,
    km_a_year: Option<f64>,
    list: Vec<Service>,
}

impl Planner<'_> {
    fn add(&mut self, line: Line) {
        let record = self.build.serviced.get(&line.id);
        let last = record.and_then(|record| value(record.on.as_ref()));
        let read = record.and_then(|record| value(record.read.as_ref()));
        let done_by = record.and_then(|record| value(record.by.as_ref()));
        if line.once && last.is_some() {
            return;
        }
        let (days, by) = self.days(line.days, line.km);
        let counted = || {
            let from = last.map_or_else(|| self.from.clone(), Ok)?;
            later(from, days).ok_or_else(|| Missing::refused("its day lies beyond the calendar"))
        };
        let (due_on, by) = match line.fixed {
            Some((day, by)) if last.is_none_or(|last| last < day) => (Ok(day), by),
            _ => (counted(), by),
        };
        self.list.push(Service {
            id: line.id,
            name: line.name,
            part: line.part,
            area: line.area,
            interval: Interval { days: Some(line.days), km: line.km },
            once: line.once,
            limit: line.limit,
            action: line.action,
            last,
            read,
            done_by,
            due_on,
            by,
        });
    }

    /// Days until it is due, and whether time or distance decides.
    fn days(&self, days: u32, km: Option<u32>) -> (i64, DueBy) {
        let by_time = (i64::from(days), DueBy::Days);
        let Some((km, a_year)) = km.zip(self.km_a_year) else { return by_time };
        #[allow(clippy::cast_possible_truncation, reason = "at most a hundred thousand kilometres over one a year")]
        let by_distance = (f64::from(km) / a_year * 365.25).floor().clamp(1.0, 36_525.0) as i64;
        if by_distance < by_time.0 { (by_distance, DueBy::Distance) } else { by_time }
    }
}

fn bolts(model: &Model<'_>, plan: &mut Planner<'_>) {
    if model.frame.part.is_none() && model.stem.part.is_none() && model.cockpit.part.is_none() {
        return;
    }
    let agreed = value(model.build.job.recheck_on.as_ref());
    plan.add(
        Line::new("first-recheck", "first re-check of every bolt", model.frame.path, Area::Finish, 21)
            .km(300)
            .on(agreed, DueBy::Agreed)
            .once()
            .action("Look at every painted line, put the wrench on each bolt, feel headset and hubs for play."),
    );
    plan.add(
        Line::new("bolts", "bolts that hold the rider", model.frame.path, Area::Finish, 90)
            .limit("a painted line that is broken")
            .action(
                "Look at the painted lines; put the wrench on stem, bar, post and rails. Also after every journey.",
            ),
    );
}

fn front_end(model: &Model<'_>, plan: &mut Planner<'_>) {
    if model.headset.part.is_some() {
        let inside = fact!(model.headset, hose_passage) == Ok(true);
        plan.add(
            Line::new(
                "headset",
                "headset bearings",
                model.headset.path,
                Area::FrontEnd,
                if inside { 180 } else { 365 },
            )
            .limit("a notch straight ahead, rust, or play that the cap does not take out")
            .action("Turn and feel, then open, clean and grease. With hoses inside, count in the time for them."),
        );
    }
    for (id, name, place, material) in [
        ("bar-look", "bar under the tape", model.bar.path, fact!(model.bar, material)),
        ("cockpit-look", "cockpit under the tape", model.cockpit.path, fact!(model.cockpit, material)),
    ] {
        if material == Ok(Material::Carbon) {
            plan.add(
                Line::new(id, name, place, Area::Cockpit, 365)
                    .limit("a mark, a soft place or a crack; after any crash at once")
                    .action("Take the tape off and look, above all at the clamps."),
            );
        }
    }
}

fn transmission(model: &Model<'_>, plan: &mut Planner<'_>) {
    let area = Area::Transmission;
    let chain = &model.chain;
    if chain.part.is_some() {
        let percent = match fact!(chain, speeds) {
            Ok(12..) => "0.5 %",
            Ok(11) => "0.5 to 0.75 %",
            Ok(_) => "0.75 to 1 %",
            Err(_) => "0.5 % with twelve sprockets, 0.75 % with fewer",
        };
        plan.add(
            Line::new("chain-wear", "wear of the chain", chain.path, area, 30)
                .km(400)
                .limit(format!("{percent} longer than new"))
                .action("Gauge that leaves the rollers' play out, at three places. Count the joining link's openings."),
        );
        if fact!(chain, lubricant) == Ok(Lubricant::Wax) {
            plan.add(
                Line::new("chain-wax", "wax on the chain", chain.path, area, 30)
                    .km(300)
                    .action("Wax again, sooner after rain; a trace of oil and it does not hold."),
            );
        }
    }
    if model.cassette.part.is_some() {
        plan.add(
            Line::new("cassette", "cassette and rings", model.cassette.path, area, 365)
                .km(10_000)
                .limit("hooked teeth, or a new chain that skips")
                .action("Look at the teeth most used; a cassette lasts two to four chains."),
        );
    }
    if model.bottom_bracket.part.is_some() {
        plan.add(
            Line::new("bottom-bracket", "bottom-bracket bearings", model.bottom_bracket.path, area, 150)
                .km(7500)
                .limit("rough, with play, or creaking")
                .action("Chain off, turn and feel; press-fit: note how often it was seated anew."),
        );
    }
    if let Ok(meter) = fact!(model.crankset, power_meter)
        && meter != PowerMeter::None
    {
        plan.add(
            Line::new("power-meter", "power meter", model.crankset.path, area, 365)
                .action("Hang a known mass on it, hold against the reading; put the wrench on its bolts."),
        );
    }
    if model.pedal.part.is_some() {
        plan.add(
            Line::new("pedals", "pedals and cleats", model.pedal.path, area, 365)
                .km(6500)
                .limit("play of the axle, or a cleat that lets go")
                .action("Bearings cleaned and greased, cleats looked at."),
        );
    }
    if model.rear_derailleur.part.is_some() {
        plan.add(
            Line::new("hanger", "derailleur hanger", model.rear_derailleur.path, area, 365)
                .limit("more than 4 mm at the rim; aim for 2")
                .action("Alignment gauge at four places; after every fall and journey."),
        );
    }
    let shifting = [fact!(model.lever_left, shifting), fact!(model.lever_right, shifting)];
    if shifting.contains(&Ok(Shifting::Cable)) {
        plan.add(
            Line::new("shift-cables", "shift cables", model.lever_right.path, area, 365)
                .limit("a frayed strand")
                .action("New inner cables; outer ones every second time."),
        );
    }
    if shifting.contains(&Ok(Shifting::Wireless)) {
        plan.add(
            Line::new("lever-cells", "cells of the levers", model.lever_right.path, area, 365)
                .action("New cells before the season."),
        );
    }
    if model.battery.part.is_some() {
        plan.add(
            Line::new("battery", "battery of the shifting", model.battery.path, area, 365)
                .limit("less than 70 % of its first life, or five years")
                .action("Read how long a charge lasts against the first season's."),
        );
    }
}

fn wheels_and_brakes(model: &Model<'_>, plan: &mut Planner<'_>) {
    let area = Area::WheelsAndBrakes;
    for end in &model.ends {
        let (side, front) = (end.side.word(), end.side == Side::Front);
        let id = |name: &str| format!("{name}-{side}");
        if end.tyre.part.is_some() {
            let line = Line::new(id("tyre"), format!("{side} tyre"), end.tyre.path, area, 1100)
                .km(if front { 6500 } else { 3750 })
                .limit("the wear mark gone, squared, a cut to the casing, or three years old")
                .action("Look for cuts each week; a tyre goes from the front to the rear, never the other way.");
            plan.add(line);
        }
        if let Ok(seal) = fact!(end.tube, kind) {
            plan.add(tube(end, seal, id("sealant"), id("tube")));
        }
        if end.caliper.part.is_some() {
            let least = fact!(end.caliper, pad_thickness_min_mm).map_or_else(
                |_| "0.5 mm of lining, or what its maker prints".to_owned(),
                |mm| format!("{} mm of lining", figure(mm, 2)),
            );
            plan.add(
                Line::new(id("pads"), format!("pads of the {side} brake"), end.caliper.path, area, 30)
                    .km(500)
                    .limit(least)
                    .action("Look after every wet race too; the lever's way tells sooner than the eye."),
            );
            if let Ok(BrakeFluid::MineralOil | BrakeFluid::Dot) = fact!(end.caliper, brake) {
                plan.add(
                    Line::new(id("brake-fluid"), format!("fluid of the {side} brake"), end.caliper.path, area, 365)
                        .limit("dark, or a lever that comes to the bar")
                        .action("Bleed with new fluid of its own kind; sooner after overheating."),
                );
            }
        }
        if end.rotor.part.is_some() {
            let least = fact!(end.rotor, thickness_min_mm)
                .map_or_else(|_| "the thickness stamped on it".to_owned(), |mm| format!("{} mm thick", figure(mm, 2)));
            plan.add(
                Line::new(id("rotor"), format!("{side} rotor"), end.rotor.path, area, 180)
                    .limit(least)
                    .action("Micrometer at four places of the track, at each change of pads too."),
            );
        }
        if end.wheel.part.is_some() {
            plan.add(
                Line::new(id("wheel"), format!("{side} wheel"), end.wheel.path, area, 180)
                    .limit("more than 0.3 mm out, a spoke that gives way, play at the hub")
                    .action("True, tension, bearings; at the rear the freehub's ratchet greased."),
            );
        }
    }
}

fn tube(end: &crate::model::End<'_>, seal: AirSeal, sealant: String, tube: String) -> Line {
    let (side, area) = (end.side.word(), Area::WheelsAndBrakes);
    match seal {
        AirSeal::Sealant => {
            let days = fact!(end.tube, refill_days).unwrap_or(75);
            let filled = fact!(end.tube, filled_on).ok().and_then(|filled| later(filled, i64::from(days)));
            Line::new(sealant, format!("sealant in the {side} tyre"), end.tube.path, area, days)
                .on(filled, DueBy::Part)
                .limit("nothing sloshes when the wheel is shaken")
                .action("Top up through the valve; clean the tyre out once a year.")
        }
        AirSeal::Latex => Line::new(tube, format!("latex tube in the {side} tyre"), end.tube.path, area, 365)
            .limit("sticky, or losing more each night than it did")
            .action("New tube each year; pump up on the morning of each ride."),
        AirSeal::Plastic | AirSeal::Butyl => {
            Line::new(tube, format!("tube in the {side} tyre"), end.tube.path, area, 1100)
                .limit("a valve that leaks or a foot that comes off")
                .action("New with the tyre.")
        }
    }
}

fn saddle_and_cockpit(model: &Model<'_>, plan: &mut Planner<'_>) {
    if model.post.part.is_some() {
        plan.add(
            Line::new("post", "post in the frame", model.post.path, Area::Saddle, 120)
                .limit("seized, or a crack at the collar")
                .action("Mark, draw, clean, paste again, back to the mark."),
        );
    }
    if model.tape.part.is_some() {
        plan.add(
            Line::new("tape", "bar tape", model.tape.path, Area::Cockpit, 270)
                .limit("hard with sweat, loose, or after any crash")
                .action("New tape, wound by the card in the file; the levers' marks read again first."),
        );
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a service that is not there is to stop the test")]

    use super::*;
    use crate::build::ServiceRecord;
    use crate::build::sample::sample;
    use crate::part::is_name;
    use jiff::civil::date;
    use std::collections::BTreeSet;

    fn handed_over() -> Build {
        let mut build = sample();
        build.job.handed_over_on = Some(date(2027, 3, 14).into());
        build
    }

    #[test]
    fn everything_counts_from_the_day_of_hand_over() {
        let plan = service(&handed_over());
        assert_eq!(plan.of("brake-fluid-front").unwrap().due_on, Ok(date(2028, 3, 13)));
        assert_eq!(plan.of("chain-wear").unwrap().due_on, Ok(date(2027, 4, 13)));
        assert!(plan.list.is_sorted_by_key(|service| service.due_on.clone().unwrap()));
        assert!(plan.list.len() > 20);
    }

    #[test]
    fn before_hand_over_only_what_an_agreement_or_a_part_names_has_a_day() {
        let mut build = sample();
        build.job.handed_over_on = None;
        let plan = service(&build);
        let known: Vec<&str> =
            plan.list.iter().filter(|service| service.due_on.is_ok()).map(|service| service.id.as_str()).collect();
        assert_eq!(known, ["first-recheck", "sealant-front", "sealant-rear"]);
        assert_eq!(plan.of("chain-wear").unwrap().due_on.clone().unwrap_err().paths, ["job.handed_over_on"]);
        assert_eq!(plan.of("chain-wear").unwrap().standing(date(2040, 1, 1)), Standing::NotKnown);
    }

    #[test]
    fn who_rides_far_is_due_by_distance_and_the_earlier_wins() {
        let mut build = handed_over();
        build.rider.km_a_year = Some(12_000.0.into());
        let plan = service(&build);
        let chain = plan.of("chain-wear").unwrap();
        assert_eq!((chain.by, chain.due_on.clone()), (DueBy::Distance, Ok(date(2027, 3, 26))));
        let fluid = plan.of("brake-fluid-rear").unwrap();
        assert_eq!(fluid.by, DueBy::Days);
        build.rider.km_a_year = Some(100.0.into());
        assert_eq!(service(&build).of("chain-wear").unwrap().by, DueBy::Days);
    }

    #[test]
    fn a_service_that_was_done_counts_from_then_and_one_that_is_done_once_is_over() {
        let mut build = handed_over();
        for id in ["chain-wear", "first-recheck", "sealant-front"] {
            let record = ServiceRecord {
                on: Some(date(2027, 6, 1).into()),
                read: Some("0.3 %, gauge".into()),
                by: Some("Ben".into()),
                ..ServiceRecord::default()
            };
            build.serviced.insert(id.into(), record);
        }
        let plan = service(&build);
        assert_eq!(plan.of("chain-wear").unwrap().due_on, Ok(date(2027, 7, 1)));
        assert!(plan.of("first-recheck").is_none());
        assert_eq!(plan.of("chain-wear").unwrap().read.as_deref(), Some("0.3 %, gauge"));
        assert_eq!(plan.of("chain-wear").unwrap().done_by.as_deref(), Some("Ben"));
        assert_eq!(plan.of("brake-fluid-front").unwrap().read, None);
        assert_eq!(plan.of("sealant-front").unwrap().due_on, Ok(date(2027, 8, 15)));
    }

    #[test]
    fn on_a_day_some_are_due_some_come_soon_and_the_rest_has_time() {
        let plan = service(&handed_over());
        let at = |id: &str, day| plan.of(id).unwrap().standing(day);
        assert_eq!(at("chain-wear", date(2027, 4, 12)), Standing::Soon);
        assert_eq!(at("chain-wear", date(2027, 4, 13)), Standing::Due);
        assert_eq!(at("chain-wear", date(2027, 3, 20)), Standing::Later);
        assert_eq!(plan.due(date(2027, 3, 15)).count(), 0);
        assert_eq!(plan.due(date(2031, 1, 1)).count(), plan.list.len());
    }

    #[test]
    fn the_limit_is_the_parts_own_where_it_has_one() {
        let plan = service(&handed_over());
        assert_eq!(plan.of("rotor-front").unwrap().limit.as_deref(), Some("1.5 mm thick"));
        assert_eq!(plan.of("chain-wear").unwrap().limit.as_deref(), Some("0.5 % longer than new"));
    }

    #[test]
    fn ids_are_names_and_stand_once_and_an_empty_document_wants_no_service() {
        let plan = service(&handed_over());
        let mut seen = BTreeSet::new();
        assert!(plan.list.iter().all(|service| is_name(&service.id) && seen.insert(service.id.clone())));
        assert!(plan.list.iter().all(|service| service.action.ends_with('.')));
        assert!(service(&Build::default()).list.is_empty());
    }
}
