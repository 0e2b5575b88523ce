//! A survey of forty readings, timed, beside `scipy.optimize.least_squares` on the same network.
//!
//! Run by `cargo xtask bench`. Both sides start at the same typical bike, are given the derivatives, and deliver values,
//! standard uncertainties, redundancy numbers and normalised misfits; they must agree. Below it the time of the whole
//! survey: from the document to points, numbers, doubts, the next reading and the sentences.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    clippy::cast_precision_loss,
    reason = "a benchmark stops where it fails and prints what it measured"
)]

#[path = "../tests/surveyed/mod.rs"]
mod surveyed;

use std::fmt::Write as _;
use std::hint::black_box;
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::Instant;
use surveyed::{Bike, P, Random};
use witnessmark_core::Build;
use witnessmark_core::build::Taken;
use witnessmark_core::survey::{Item, survey};
use witnessmark_mechanics::adjustment::Adjustment;
use witnessmark_mechanics::network::{Between, Figure, Network, Reading, Spot, Stand, Taken as Read};

const ROUNDS: usize = 200;
const SEED: u64 = 20_260_303;

/// The points of the survey in the order of the network, and where their coordinates stand among the unknowns; −1 is a
/// coordinate that is nought. The left hood has minus the half width.
const SPOTS: [(P, [i32; 3]); 11] = [
    (P::BottomBracket, [-1, -1, -1]),
    (P::RearAxle, [0, 1, -1]),
    (P::FrontAxle, [2, 1, -1]),
    (P::SaddleNose, [3, 4, -1]),
    (P::SaddleTop, [5, 6, -1]),
    (P::BarClamp, [7, 8, -1]),
    (P::HoodLeft, [9, 10, 13]),
    (P::HoodRight, [11, 12, 13]),
    (P::HeadTop, [14, 15, -1]),
    (P::HeadBottom, [16, 17, -1]),
    (P::Collar, [-1, -1, -1]),
];
const TYPICAL: [f64; 22] = [
    -405.0, 70.0, 580.0, -60.0, 708.0, -195.0, 710.0, 475.0, 612.0, 565.0, 615.0, 565.0, 615.0, 190.0, 385.0, 548.0,
    427.0, 412.0, 0.0, 0.0, 270.0, -2.0,
];
const LEVEL: usize = 18;
const FLOOR: usize = 19;
const HEIGHT: usize = 20;
const SADDLE: usize = 21;

fn main() {
    let (mut build, bike) = Bike::sample();
    bike.forty(&mut build);
    scatter(&mut build);
    let items: Vec<Item> = survey(&build).readings.into_iter().map(|fared| fared.item).collect();
    let (ours, values) = ours(&items);
    let theirs = theirs(&items, &values);
    let whole = best(|| {
        black_box(survey(black_box(&build)));
    });
    println!("{} readings, {} unknowns, best of {ROUNDS} (seed of the scatter {SEED})", items.len(), TYPICAL.len());
    println!("  adjusted here, with all uncertainties and tests   {ours:9.1} µs");
    match theirs {
        Some(theirs) => println!(
            "  the same by scipy.optimize.least_squares          {:9.1} µs   {:.0} times as long; values agree to {:.0e} mm, \
             uncertainties to {:.0e} of themselves",
            theirs.micros,
            theirs.micros / ours,
            theirs.apart_mm,
            theirs.apart_share
        ),
        None => println!("  no Python with SciPy here: nothing to compare with"),
    }
    println!("  the whole survey, document to sentences            {whole:9.1} µs");
}

/// The scatter of a hand, so that nobody converges on the first step.
fn scatter(build: &mut Build) {
    let sds: Vec<f64> = survey(build).readings.iter().map(|fared| fared.item.sd).collect();
    let mut random = Random::new(SEED);
    for (reading, sd) in build.survey.values_mut().zip(sds) {
        for given in [&mut reading.value_mm, &mut reading.angle_deg].into_iter().flatten() {
            given.value = ((given.value + sd * random.normal()) * 10.0).round() / 10.0;
        }
    }
}

/// The shortest of many rounds, microseconds.
fn best(mut work: impl FnMut()) -> f64 {
    (0..ROUNDS)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed().as_secs_f64() * 1e6
        })
        .fold(f64::INFINITY, f64::min)
}

fn place(point: P) -> usize {
    SPOTS.iter().position(|(other, _)| *other == point).unwrap()
}

fn ours(items: &[Item]) -> (f64, Vec<(f64, f64)>) {
    let figure = |at: i32, factor: f64| match usize::try_from(at) {
        Ok(at) => Figure::Unknown { at, factor },
        Err(_) => Figure::Known(0.0),
    };
    let spots: Vec<Spot> = SPOTS
        .iter()
        .map(|(point, [x, y, z])| Spot {
            x_mm: figure(*x, 1.0),
            y_mm: figure(*y, 1.0),
            z_mm: figure(*z, if *point == P::HoodLeft { -1.0 } else { 1.0 }),
        })
        .collect();
    let stand = Stand {
        level_deg: Figure::unknown(LEVEL),
        floor_deg: Figure::unknown(FLOOR),
        height_mm: Figure::unknown(HEIGHT),
    };
    let readings: Vec<Reading> = items
        .iter()
        .map(|item| {
            let between = Between { from: place(item.from), to: place(item.to) };
            let taken = match item.what {
                Taken::Straight => Read::Distance(between),
                Taken::Across => Read::Across(between),
                Taken::Height => Read::Height(between.to),
                Taken::Ahead => Read::Ahead(between),
                Taken::Slope => Read::Slope(between),
                Taken::SaddleTilt => Read::Angle(Figure::unknown(SADDLE)),
                _ => Read::FloorSlope,
            };
            Reading { taken, value: item.value.unwrap(), sd: item.sd }
        })
        .collect();
    let network = Network { spots: &spots, stand, readings: &readings };
    let all = |adjusted: &Adjustment| -> Vec<(f64, f64)> {
        let tests: f64 = (0..readings.len()).filter_map(|at| adjusted.deviate(at)).sum();
        black_box(tests);
        (0..TYPICAL.len()).map(|at| (adjusted.value(at), adjusted.variance_of(&[(at, 1.0)]).unwrap().sqrt())).collect()
    };
    let micros = best(|| {
        black_box(all(&black_box(&network).adjust(&TYPICAL).unwrap()));
    });
    (micros, all(&network.adjust(&TYPICAL).unwrap()))
}

struct Theirs {
    micros: f64,
    apart_mm: f64,
    apart_share: f64,
}

/// The same by `SciPy`, in the environment that the chore made, or in any Python that has it.
fn theirs(items: &[Item], ours: &[(f64, f64)]) -> Option<Theirs> {
    let python = std::env::var("WITNESSMARK_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let mut child = Command::new(python)
        .args(["-c", SCIPY])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .ok()?;
    let mut text = String::new();
    for (_, [x, y, z]) in SPOTS {
        let _ = write!(text, "{x} {y} {z} ");
    }
    text.push('\n');
    for value in TYPICAL {
        let _ = write!(text, "{value} ");
    }
    for item in items {
        let kind = item.what as usize;
        let _ = write!(text, "\n{kind} {} {} {} {}", place(item.from), place(item.to), item.value.unwrap(), item.sd);
    }
    child.stdin.take()?.write_all(text.as_bytes()).ok()?;
    let output = child.wait_with_output().ok().filter(|output| output.status.success())?;
    let figures: Vec<f64> =
        String::from_utf8(output.stdout).ok()?.split_whitespace().map(|word| word.parse().unwrap()).collect();
    let pairs = || figures[1..].chunks(2).zip(ours);
    let apart_mm = pairs().map(|(theirs, ours)| (theirs[0] - ours.0).abs()).fold(0.0, f64::max);
    let apart_share = pairs().map(|(theirs, ours)| (theirs[1] / ours.1 - 1.0).abs()).fold(0.0, f64::max);
    assert!(apart_mm < 1e-5 && apart_share < 1e-6, "{apart_mm} mm, {apart_share}");
    Some(Theirs { micros: figures[0], apart_mm, apart_share })
}

/// Whole arrays at a time, with the derivatives by hand: as fast as such a program is written.
const SCIPY: &str = r#"
import sys, time
import numpy as np
from scipy.optimize import least_squares

lines = sys.stdin.read().splitlines()
where = np.array(lines[0].split(), dtype=int).reshape(-1, 3)
start = np.array(lines[1].split(), dtype=float)
rows = np.array([line.split() for line in lines[2:]], dtype=float)
kind, a, b = rows[:, 0].astype(int), rows[:, 1].astype(int), rows[:, 2].astype(int)
value, sd = rows[:, 3], rows[:, 4]
n, m = len(rows), len(start)
sign = np.ones(where.shape)
sign[6, 2] = -1
where = np.where(where < 0, m, where)  # one past the end: a nought
LEVEL, FLOOR, HEIGHT, SADDLE = 18, 19, 20, 21
DEG = np.pi / 180
straight, across, height, ahead, slope, tilt, floor = (np.flatnonzero(kind == k) for k in (0, 1, 2, 3, 5, 8, 9))

def places(p):
    return sign * np.append(p, 0.0)[where]

def misfits(p):
    spots = places(p)
    step = spots[b] - spots[a]
    f = np.empty(n)
    f[straight] = np.sqrt((step[straight] ** 2).sum(axis=1))
    f[across] = step[across, 2]
    sin, cos = np.sin(p[FLOOR] * DEG), np.cos(p[FLOOR] * DEG)
    f[height] = p[HEIGHT] + spots[b[height], 1] * cos - spots[b[height], 0] * sin
    sin, cos = np.sin(p[LEVEL] * DEG), np.cos(p[LEVEL] * DEG)
    f[ahead] = step[ahead, 0] * cos + step[ahead, 1] * sin
    f[slope] = np.arctan2(step[slope, 1], step[slope, 0]) / DEG - p[LEVEL]
    f[tilt] = p[SADDLE] - p[LEVEL]
    f[floor] = p[FLOOR] - p[LEVEL]
    return (f - value) / sd

def jacobian(p):
    spots = places(p)
    step = spots[b] - spots[a]
    J = np.zeros((n, m + 1))
    def put(rows, ends, slopes, factor):
        for axis in range(3):
            np.add.at(J, (rows, where[ends[rows], axis]), factor * slopes[:, axis] * sign[ends[rows], axis])
    def apart(rows, slopes):
        put(rows, b, slopes, 1.0)
        put(rows, a, slopes, -1.0)
    apart(straight, step[straight] / np.sqrt((step[straight] ** 2).sum(axis=1))[:, None])
    apart(across, np.tile([0.0, 0.0, 1.0], (len(across), 1)))
    sin, cos = np.sin(p[FLOOR] * DEG), np.cos(p[FLOOR] * DEG)
    put(height, b, np.tile([-sin, cos, 0.0], (len(height), 1)), 1.0)
    J[height, HEIGHT] = 1.0
    J[height, FLOOR] = (-spots[b[height], 1] * sin - spots[b[height], 0] * cos) * DEG
    sin, cos = np.sin(p[LEVEL] * DEG), np.cos(p[LEVEL] * DEG)
    apart(ahead, np.tile([cos, sin, 0.0], (len(ahead), 1)))
    J[ahead, LEVEL] = (step[ahead, 1] * cos - step[ahead, 0] * sin) * DEG
    square = (step[slope, :2] ** 2).sum(axis=1) * DEG
    apart(slope, np.column_stack([-step[slope, 1] / square, step[slope, 0] / square, np.zeros(len(slope))]))
    J[slope, LEVEL] = -1.0
    J[tilt, SADDLE], J[tilt, LEVEL] = 1.0, -1.0
    J[floor, FLOOR], J[floor, LEVEL] = 1.0, -1.0
    return J[:, :m] / sd[:, None]

def adjusted():
    found = least_squares(misfits, start, jac=jacobian, method="lm", x_scale="jac", xtol=1e-12, ftol=1e-12, gtol=1e-12)
    J = found.jac
    Q = np.linalg.inv(J.T @ J)
    redundancy = 1 - np.einsum("ij,jk,ik->i", J, Q, J)
    deviates = found.fun / np.sqrt(np.maximum(redundancy, 1e-12))
    return found.x, np.sqrt(np.diag(Q)), deviates

best = np.inf
for _ in range(100):
    begin = time.perf_counter()
    x, sds, deviates = adjusted()
    best = min(best, time.perf_counter() - begin)
print(best * 1e6, *np.column_stack([x, sds]).ravel())
"#;
