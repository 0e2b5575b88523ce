//! The search backwards and the plan, timed, beside the same enumeration vectorised in `NumPy`.
//!
//! Run by `cargo xtask bench`. Both sides try the same combinations of one bike and must find the same number of them within
//! the limit. `NumPy` is given the places of clamps and hands ready-made and only combines them; the search here starts from
//! the document.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark stops where it fails and prints what it measured"
)]

use std::fmt::Write as _;
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use witnessmark_core::Build;
use witnessmark_core::build::sample::sample;
use witnessmark_core::compute::{bar_figures, target};
use witnessmark_core::draw::Point2;
use witnessmark_core::field::{Given, Value};
use witnessmark_core::model::Model;
use witnessmark_core::search::front_ways;
use witnessmark_mechanics::bar::BarCurve;
use witnessmark_mechanics::cockpit::{LeverBody, LeverPlacement, Stack, Stem, bar_clamp, hood_offset};

const ROUNDS: usize = 5;
const WITHIN_MM: f64 = 3.0;

/// The sets that are tried.
struct Sets {
    spacers: Vec<f64>,
    lengths: Vec<f64>,
    angles: Vec<f64>,
    rolls: Vec<f64>,
    from_ends: Vec<f64>,
    toe_ins: Vec<f64>,
}

fn steps(low: i32, high: i32, step: f64) -> Vec<f64> {
    (low..=high).map(|at| f64::from(at) * step).collect()
}

fn sets() -> Sets {
    Sets {
        spacers: steps(0, 12, 2.5),
        lengths: steps(8, 14, 10.0),
        angles: vec![-17.0, -12.0, -10.0, -8.0, -6.0],
        rolls: steps(-12, 12, 0.5),
        from_ends: steps(180, 215, 1.0),
        toe_ins: steps(0, 24, 0.5),
    }
}

fn build(sets: &Sets) -> Build {
    let mut build = sample();
    let mut put = |path: &str, value: Value| {
        build.set(path, Some(Given { value, typed: String::new(), origin: None })).unwrap();
    };
    put("search.spacers_under", Value::Numbers(sets.spacers.clone()));
    put("search.bar_roll", Value::Numbers(sets.rolls.clone()));
    put("search.lever_from_end", Value::Numbers(sets.from_ends.clone()));
    put("search.toe_in", Value::Numbers(sets.toe_ins.clone()));
    put("search.within", Value::Number(WITHIN_MM));
    let stem = build.parts.stem.0.remove("").unwrap();
    for (at, length) in sets.lengths.iter().enumerate() {
        for (beside, angle) in sets.angles.iter().enumerate() {
            let mut stem = stem.clone();
            stem.length_mm = Some((*length).into());
            stem.angle_deg = Some((*angle).into());
            build.shelf.stem.0.insert(format!("s{at}-{beside}"), stem);
        }
    }
    build
}

/// The same places, worked out by the mechanics alone, as lines of figures for the other side.
fn figures(build: &Build, sets: &Sets) -> String {
    let model = Model::new(build);
    let target = target(&model);
    let (left, right) = (target.hood_left.unwrap(), target.hood_right.unwrap());
    let mut text = format!("{} {} {} {} {WITHIN_MM}\n", left.x_mm, left.y_mm, right.x_mm, right.y_mm);
    let top = Point2 { x_mm: 387.0, y_mm: 552.0 };
    let mut clamps = String::new();
    for length_mm in &sets.lengths {
        for angle_deg in &sets.angles {
            for sign in [1.0, -1.0] {
                for spacers_under_mm in &sets.spacers {
                    let stack = Stack { cover_mm: 9.0, spacers_under_mm: *spacers_under_mm, clamp_height_mm: 40.0 };
                    let at = bar_clamp(top, 73.2, stack, Stem { length_mm: *length_mm, angle_deg: sign * angle_deg });
                    let _ = write!(clamps, "{} {} ", at.x_mm, at.y_mm);
                }
            }
        }
    }
    let curve = BarCurve::from_figures(&bar_figures(&model).unwrap()).unwrap();
    let lever = LeverBody {
        clamp_above_foot_mm: 16.0,
        trough_along_mm: -2.0,
        trough_out_mm: 42.0,
        tip_out_mm: 96.0,
        hood_width_mm: 34.0,
    };
    let mut hands = String::new();
    for roll in &sets.rolls {
        for from_end_mm in &sets.from_ends {
            for toe_in_mm in &sets.toe_ins {
                let place = LeverPlacement { from_end_mm: *from_end_mm, toe_in_mm: *toe_in_mm };
                let side = |hand| hood_offset(&curve, *roll, lever, place, hand).unwrap();
                let (left, right) = (side(witnessmark_mechanics::Side::Left), side(witnessmark_mechanics::Side::Right));
                let _ = write!(hands, "{} {} {} {} ", left.x_mm, left.y_mm, right.x_mm, right.y_mm);
            }
        }
    }
    let _ = write!(text, "{clamps}\n{hands}\n");
    text
}

fn best<T>(mut run: impl FnMut() -> T) -> (Duration, T) {
    let mut shortest = Duration::MAX;
    let mut last = None;
    for _ in 0..ROUNDS {
        let start = Instant::now();
        let value = run();
        shortest = shortest.min(start.elapsed());
        last = Some(value);
    }
    (shortest, last.unwrap())
}

fn main() {
    let whole = sample();
    let (time, plan) = best(|| {
        for _ in 0..99 {
            std::hint::black_box(witnessmark_core::plan(&whole));
        }
        witnessmark_core::plan(&whole)
    });
    println!("plan: {:.3} ms for a full build, {} numbers", time.as_secs_f64() * 10.0, plan.numbers.each().len());

    let sets = sets();
    let build = build(&sets);
    let model = Model::new(&build);
    let target = target(&model);
    let (ours, found) = best(|| front_ways(&model, &target));
    #[allow(clippy::cast_precision_loss, reason = "some ten million")]
    let rate = found.tried as f64 / ours.as_secs_f64() / 1e6;
    println!(
        "reach: {} combinations in {:.1} ms, {rate:.1} million a second on one core; {} within {WITHIN_MM} mm",
        found.tried,
        ours.as_secs_f64() * 1e3,
        found.within
    );

    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/../../reference/bench/reach.py");
    let python = std::env::var("WITNESSMARK_PYTHON").unwrap_or_else(|_| "python3".into());
    let child =
        Command::new(python).arg(script).arg(ROUNDS.to_string()).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn();
    let Ok(mut child) = child else { return println!("NumPy: no Python here, nothing to compare with") };
    child.stdin.take().unwrap().write_all(figures(&build, &sets).as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "the NumPy side failed");
    let text = String::from_utf8(output.stdout).unwrap();
    let mut words = text.split_whitespace();
    let seconds: f64 = words.next().unwrap().parse().unwrap();
    let tried: u64 = words.next().unwrap().parse().unwrap();
    let within: u64 = words.next().unwrap().parse().unwrap();
    assert_eq!((tried, within), (found.tried, found.within), "both sides try and find the same");
    println!("NumPy: the same {tried} combinations, the same {within} found, in {:.1} ms", seconds * 1e3);
    println!("ratio: {:.1} times as fast as NumPy", seconds / ours.as_secs_f64());
}
