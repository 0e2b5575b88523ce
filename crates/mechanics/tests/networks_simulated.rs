//! Simulated surveys: the intervals hold the truth as often as they promise, mistakes are found as often as theory says,
//! and sound readings are blamed as seldom.
//!
//! A short run stands in the suite; `WITNESSMARK_SURVEYS=10000 cargo test --release -p witnessmark-mechanics --test
//! networks_simulated -- --nocapture` is the long one. Seeds are fixed and printed, so a run can be repeated.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a test fails by panicking; counts and numbers of spots are small"
)]

#[allow(dead_code, reason = "what is compared here is counted, not held against a cell")]
mod table;

use witnessmark_mechanics::adjustment::{Adjustment, Alarm};
use witnessmark_mechanics::chance::chi_square_exceeded_by;
use witnessmark_mechanics::network::{Between, Figure, Network, Reading, Spot, Stand, Taken};

const ZERO: Figure = Figure::Known(0.0);
const UNKNOWNS: usize = 24;

/// How many surveys are simulated.
fn surveys() -> usize {
    std::env::var("WITNESSMARK_SURVEYS").ok().and_then(|text| text.parse().ok()).unwrap_or(400)
}

/// How far a share that is counted may lie from the share it should be: four standard deviations of the count.
fn room(share: f64, count: usize) -> f64 {
    4.0 * (share * (1.0 - share) / count as f64).sqrt() + 1e-9
}

/// `xorshift64*`, and Box and Muller's normal deviates.
struct Random(u64);

impl Random {
    fn share(&mut self) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let (u, v) = (1.0 - self.share(), self.share());
        (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
    }
}

/// A survey of forty readings from the computed table: its plan is kept, its values are simulated.
struct Plan {
    spots: Vec<Spot>,
    stand: Stand,
    readings: Vec<Reading>,
    truth: Vec<f64>,
}

impl Plan {
    fn of(survey: &str) -> Self {
        let at = Figure::unknown;
        let side = |x: usize, y: usize| Spot { x_mm: at(x), y_mm: at(y), z_mm: ZERO };
        let hood = |x: usize, y: usize, factor: f64| Spot { z_mm: Figure::Unknown { at: 13, factor }, ..side(x, y) };
        let spots = vec![
            Spot { x_mm: ZERO, y_mm: ZERO, z_mm: ZERO },
            side(0, 1),
            side(2, 1),
            side(3, 4),
            side(5, 6),
            side(7, 8),
            hood(9, 10, -1.0),
            hood(11, 12, 1.0),
            side(14, 15),
            side(16, 17),
            side(18, 19),
        ];
        let mine = |line: &table::Line| line.text("survey") == survey;
        let readings = table::lines("network-readings.csv").iter().filter(|line| mine(line)).map(reading_of).collect();
        let truth = table::lines("network-unknowns.csv")
            .iter()
            .filter(|line| mine(line))
            .map(|line| line.get("value"))
            .collect();
        Plan { spots, stand: Stand { level_deg: at(20), floor_deg: at(21), height_mm: at(22) }, readings, truth }
    }

    fn network<'a>(&'a self, readings: &'a [Reading]) -> Network<'a> {
        Network { spots: &self.spots, stand: self.stand, readings }
    }

    /// Read without a mistake.
    fn exact(&self) -> Vec<Reading> {
        let network = self.network(&self.readings);
        self.readings
            .iter()
            .map(|reading| Reading { value: network.would_read(reading.taken, &self.truth), ..*reading })
            .collect()
    }

    fn adjusted(&self, readings: &[Reading]) -> Adjustment {
        self.network(readings).adjust(&self.truth).unwrap()
    }
}

/// Read with the scatter that the uncertainties promise.
fn scattered(exact: &[Reading], random: &mut Random) -> Vec<Reading> {
    let scatter = |reading: &Reading| Reading { value: reading.value + reading.sd * random.normal(), ..*reading };
    exact.iter().map(scatter).collect()
}

fn reading_of(line: &table::Line) -> Reading {
    let spot = |name: &str| line.get(name) as usize;
    let (a, b, c, d) = (spot("a"), spot("b"), spot("c"), spot("d"));
    let between = Between { from: a, to: b };
    let taken = match line.text("taken") {
        "distance" => Taken::Distance(between),
        "across" => Taken::Across(between),
        "height" => Taken::Height(a),
        "ahead" => Taken::Ahead(between),
        "above" => Taken::Above(between),
        "slope" => Taken::Slope(between),
        "off" => Taken::Off { spot: a, line: Between { from: b, to: c } },
        "along" => Taken::Along { between, line: Between { from: c, to: d } },
        "angle" => Taken::Angle(Figure::unknown(23)),
        _ => Taken::FloorSlope,
    };
    Reading { taken, value: line.get("value"), sd: line.get("sd") }
}

#[test]
fn the_intervals_hold_the_truth_95_times_in_100_and_the_tests_raise_the_alarm_as_often_as_they_promise() {
    const SEED: u64 = 20_260_301;
    let count = surveys();
    let mut random = Random(SEED);
    let alarm = Alarm::customary();
    let plan = Plan::of("0");
    let exact = plan.exact();
    let mut held = [0_usize; UNKNOWNS];
    let (mut blamed, mut tested, mut with_alarm, mut as_a_whole) = (0_usize, 0_usize, 0_usize, 0_usize);
    let limit = chi_square_exceeded_by(0.05, 16.0).unwrap();
    for _ in 0..count {
        let adjusted = plan.adjusted(&scattered(&exact, &mut random));
        for (unknown, held) in held.iter_mut().enumerate() {
            let sd = adjusted.variance_of(&[(unknown, 1.0)]).unwrap().sqrt();
            *held += usize::from((adjusted.value(unknown) - plan.truth[unknown]).abs() <= 1.959_964 * sd);
        }
        let raised = (0..adjusted.readings()).filter_map(|at| adjusted.deviate(at)).map(f64::abs);
        let raised: Vec<bool> = raised.map(|deviate| deviate > alarm.beyond).collect();
        blamed += raised.iter().filter(|raised| **raised).count();
        tested += raised.len();
        with_alarm += usize::from(raised.contains(&true));
        as_a_whole += usize::from(adjusted.chi_square() > limit);
    }
    let shares: Vec<f64> = held.iter().map(|held| *held as f64 / count as f64).collect();
    let mean = shares.iter().sum::<f64>() / shares.len() as f64;
    let false_share = blamed as f64 / tested as f64;
    let whole_share = as_a_whole as f64 / count as f64;
    println!(
        "seed {SEED}, {count} surveys of {} readings: 95 % intervals hold the truth in {:.2} % (unknowns {:.2} to {:.2} %); \
         false alarms {:.4} % a reading (theory 0.1), {:.2} % a survey; chi-square fails {:.2} % (theory 5)",
        exact.len(),
        100.0 * mean,
        100.0 * shares.iter().copied().fold(1.0, f64::min),
        100.0 * shares.iter().copied().fold(0.0, f64::max),
        100.0 * false_share,
        100.0 * with_alarm as f64 / count as f64,
        100.0 * whole_share,
    );
    for (unknown, share) in shares.iter().enumerate() {
        assert!((share - 0.95).abs() < room(0.95, count).max(0.01), "unknown {unknown}: {share}");
    }
    assert!((whole_share - 0.05).abs() < room(0.05, count), "{whole_share}");
    // Misfits of one survey hang together, so the count scatters more than that of as many independent readings.
    assert!((false_share - 0.001).abs() < 2.0 * room(0.001, tested), "{false_share}");
}

#[test]
fn mistakes_of_ten_millimetres_are_found_as_often_as_theory_says() {
    const SEED: u64 = 20_260_302;
    let count = surveys().div_ceil(8);
    let mut random = Random(SEED);
    let alarm = Alarm::customary();
    // Theory is of first order: the survey of the table whose points are known best bends least.
    let plan = Plan::of("15");
    let exact = plan.exact();
    let planned = plan.network(&exact).plan(&plan.truth).unwrap();
    let (mut found_in_all, mut promised_in_all, mut blamed_rightly, mut readings) = (0.0, 0.0, 0_usize, 0_usize);
    for at in (0..exact.len()).filter(|at| !exact[*at].taken.is_angle()) {
        let redundancy = planned.redundancy(at);
        if redundancy < 0.01 {
            continue;
        }
        let promised = alarm.share_raised(10.0 * redundancy.sqrt() / exact[at].sd);
        let mut found = 0_usize;
        for _ in 0..count {
            let mut read = scattered(&exact, &mut random);
            read[at].value += 10.0;
            let adjusted = plan.adjusted(&read);
            let deviates: Vec<f64> =
                (0..read.len()).map(|other| adjusted.deviate(other).map_or(0.0, f64::abs)).collect();
            found += usize::from(deviates[at] > alarm.beyond);
            let worst = (0..read.len()).max_by(|a, b| deviates[*a].total_cmp(&deviates[*b])).unwrap();
            blamed_rightly += usize::from(worst == at && deviates[at] > alarm.beyond);
        }
        let share = found as f64 / count as f64;
        assert!((share - promised).abs() < room(promised, count) + 0.02, "reading {at}: {share}, theory {promised}");
        found_in_all += share;
        promised_in_all += promised;
        readings += 1;
    }
    let mean = |sum: f64| 100.0 * sum / readings as f64;
    println!(
        "seed {SEED}, {count} surveys for each of {readings} lengths: 10 mm too long raises the alarm over that very reading \
         in {:.2} % (theory {:.2}); it is also the one that stands out most in {:.2} %",
        mean(found_in_all),
        mean(promised_in_all),
        100.0 * blamed_rightly as f64 / (readings * count) as f64,
    );
    let room = 4.0 * (0.25 / (readings * count) as f64).sqrt() + 0.002;
    assert!((found_in_all - promised_in_all).abs() / readings as f64 <= room);
}
