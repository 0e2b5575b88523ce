//! The chain in every gear at every length from 90 to 130 links, timed, beside `scipy.optimize.brentq` over the same
//! geometry in the same run.
//!
//! Run by `cargo xtask bench`. Both sides must find the same lengths possible and the same angles. Below it, what the
//! transmission and the wires cost in a plan.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark stops where it fails and prints what it measured"
)]

use std::hint::black_box;
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::Instant;
use witnessmark_core::Build;
use witnessmark_core::build::sample::sample;
use witnessmark_core::compute::{ChainPlan, LENGTHS, transmission, wiring, work_out};
use witnessmark_core::model::Model;

const ROUNDS: usize = 200;

/// The other side's program.
const SCIPY: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../reference/bench/chain.py");

fn main() {
    let build = sample();
    let model = Model::new(&build);
    let worked = work_out(&model);
    let plan = worked.transmission.chain.as_ref().unwrap();
    let gears = plan.swings.len();
    let cells = gears * LENGTHS.count();
    let swings = best(|| drop(black_box(transmission(black_box(&model)))));
    let table = best(|| drop(black_box(black_box(plan).at_every_length())));
    println!("{gears} gears × {} lengths, best of {ROUNDS}", LENGTHS.count());
    println!("  the whole transmission, one length                {swings:9.1} µs");
    println!("  every gear at every length                        {table:9.1} µs   {cells} cells");
    match theirs(&build, plan) {
        Some((micros, apart_deg, tight)) => println!(
            "  the same by scipy.optimize.brentq                 {micros:9.1} µs   {:.0} times as long; {tight} angles agree to {apart_deg:.0e}°",
            micros / table
        ),
        None => println!("  no Python with SciPy here: nothing to compare with"),
    }
    let wires = best(|| drop(black_box(wiring(&model, &worked.chassis, &worked.front, &worked.rear))));
    println!("  the shift wires                                    {wires:8.1} µs");
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

/// Time, the largest difference of an angle, and how many there are.
fn theirs(build: &Build, plan: &ChainPlan) -> Option<(f64, f64, usize)> {
    let python = std::env::var("WITNESSMARK_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let mut child = Command::new(python)
        .arg(SCIPY)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .ok()?;
    let at = |gear: usize| *plan.swings[gear].as_ref().unwrap().drive();
    let (small, large) = (at(0), at(plan.largest));
    let axle = small.rear_axle;
    let (near, far) = (small.pivot - axle, large.pivot - axle);
    let cage = small.cage;
    let figures = [
        near.x_mm,
        near.y_mm,
        far.x_mm,
        far.y_mm,
        axle.x_mm,
        axle.y_mm,
        f64::from(cage.upper_teeth),
        f64::from(cage.lower_teeth),
        cage.pivot_to_upper_mm,
        cage.pivot_to_lower_mm,
        cage.upper_from_lower_deg,
        cage.forward_stop_deg,
        cage.rear_stop_deg,
    ];
    let words = |list: &[u32]| list.iter().map(u32::to_string).collect::<Vec<_>>().join(" ");
    let figures: Vec<String> = figures.iter().map(f64::to_string).collect();
    let rings = &build.parts.crankset.at("")?.rings.as_ref()?.value;
    let sprockets = &build.parts.cassette.at("")?.sprockets.as_ref()?.value;
    let text = format!("{}\n{}\n{}\n", figures.join(" "), words(rings), words(sprockets));
    child.stdin.take()?.write_all(text.as_bytes()).ok()?;
    let output = child.wait_with_output().ok().filter(|output| output.status.success())?;
    let said = String::from_utf8(output.stdout).ok()?;
    let mut said = said.split_whitespace();
    let micros: f64 = said.next()?.parse().ok()?;
    let (mut apart_deg, mut tight) = (0.0_f64, 0);
    for gear in 0..plan.swings.len() {
        for links in LENGTHS {
            let theirs: Option<f64> = said.next().unwrap().parse().ok();
            let ours = plan.in_gear(gear, links).and_then(|cage| cage.cage_deg());
            assert_eq!(ours.is_some(), theirs.is_some(), "gear {gear}, {links} links");
            if let Some((ours, theirs)) = ours.zip(theirs) {
                apart_deg = apart_deg.max((ours - theirs).abs());
                tight += 1;
            }
        }
    }
    assert!(apart_deg < 1e-6, "{apart_deg}");
    Some((micros, apart_deg, tight))
}
