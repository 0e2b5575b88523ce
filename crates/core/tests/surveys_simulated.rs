//! Simulated surveys through the whole house, from the document to the numbers: their plus-minus holds the truth as often
//! as it promises, and a slip is named rightly, named among others, or missed as often as is printed here.
//!
//! A short run stands in the suite; `WITNESSMARK_SURVEYS=10000 cargo test --release -p witnessmark-core --test
//! surveys_simulated -- --nocapture` is the long one. Seeds are fixed and printed.

#![allow(
    clippy::unwrap_used,
    clippy::cast_precision_loss,
    clippy::disallowed_methods,
    reason = "a test stops where it fails; counts are small; the length of the run comes from the environment"
)]

mod surveyed;

use surveyed::{Bike, Random};
use witnessmark_core::build::Build;
use witnessmark_core::survey::{Survey, survey};

fn surveys() -> usize {
    std::env::var("WITNESSMARK_SURVEYS").ok().and_then(|text| text.parse().ok()).unwrap_or(150)
}

fn scattered(exact: &Build, sds: &[f64], random: &mut Random) -> Build {
    let mut build = exact.clone();
    for (reading, sd) in build.survey.values_mut().zip(sds) {
        for given in [&mut reading.value_mm, &mut reading.angle_deg].into_iter().flatten() {
            given.value += sd * random.normal();
        }
    }
    build
}

fn forty() -> (Build, Survey, Vec<f64>) {
    let (mut build, bike) = Bike::sample();
    bike.forty(&mut build);
    let sound = survey(&build);
    let sds = sound.readings.iter().map(|fared| fared.item.sd).collect();
    (build, sound, sds)
}

#[test]
fn the_plus_minus_of_every_number_holds_the_truth_95_times_in_100() {
    const SEED: u64 = 20_260_311;
    let count = surveys();
    let mut random = Random::new(SEED);
    let (exact, sound, sds) = forty();
    let mut held = vec![0_usize; sound.numbers.len()];
    let mut in_doubt = 0_usize;
    for _ in 0..count {
        let one = survey(&scattered(&exact, &sds, &mut random));
        in_doubt += usize::from(!one.suspects.is_empty() || one.worn_end.is_some());
        for ((held, number), truth) in held.iter_mut().zip(&one.numbers).zip(&sound.numbers) {
            if let (Ok(value), Ok(truth)) = (&number.value, &truth.value) {
                *held += usize::from((value.value - truth.value).abs() <= value.plus_minus());
            }
        }
    }
    let known = sound.numbers.iter().map(|number| number.value.is_ok());
    let shares: Vec<f64> =
        held.iter().zip(known).filter(|(_, known)| *known).map(|(held, _)| *held as f64 / count as f64).collect();
    let mean = shares.iter().sum::<f64>() / shares.len() as f64;
    println!(
        "seed {SEED}, {count} surveys of {} readings: the plus-minus of {} numbers holds the truth in {:.2} % ({:.2} to {:.2} %); \
         {:.2} % of these sound surveys put a reading in doubt",
        sds.len(),
        shares.len(),
        100.0 * mean,
        100.0 * shares.iter().copied().fold(1.0, f64::min),
        100.0 * shares.iter().copied().fold(0.0, f64::max),
        100.0 * in_doubt as f64 / count as f64,
    );
    // Four standard deviations of a count, or the one per cent that is asked for.
    let room = (4.0 * (0.95 * 0.05 / count as f64).sqrt()).max(0.01);
    for (share, number) in shares.iter().zip(sound.numbers.iter().filter(|number| number.value.is_ok())) {
        assert!((share - 0.95).abs() <= room, "{}: {share}", number.number.id);
    }
    assert!(in_doubt as f64 <= 0.05 * count as f64 + 4.0 * (0.05 * count as f64).sqrt(), "{in_doubt}");
}

#[test]
fn a_slip_is_named_alone_or_among_others_and_hardly_ever_hung_on_a_sound_reading_alone() {
    const SEED: u64 = 20_260_312;
    let count = surveys().div_ceil(100);
    let mut random = Random::new(SEED);
    let (exact, sound, sds) = forty();
    for slip_mm in [10.0, 20.0] {
        let (mut alone, mut among, mut wrong, mut missed) = (0_usize, 0_usize, 0_usize, 0_usize);
        for (place, fared) in sound.readings.iter().enumerate() {
            if fared.item.is_angle() || fared.is_unchecked() {
                continue;
            }
            for _ in 0..count {
                let mut build = scattered(&exact, &sds, &mut random);
                build.survey.get_mut(&fared.item.name).unwrap().value_mm.as_mut().unwrap().value += slip_mm;
                let one = survey(&build);
                let named = one
                    .suspects
                    .iter()
                    .any(|suspect| suspect.readings.iter().any(|doubted| doubted.place == Some(place)));
                let blamed_alone = one.suspects.iter().any(|suspect| {
                    suspect.set_aside && suspect.readings.iter().all(|doubted| doubted.place != Some(place))
                });
                match (one.suspects.is_empty(), named, blamed_alone) {
                    (true, ..) => missed += 1,
                    (false, true, false) if one.suspects.iter().all(|suspect| suspect.readings.len() == 1) => {
                        alone += 1;
                    }
                    (false, true, _) => among += 1,
                    (false, false, _) => wrong += 1,
                }
            }
        }
        let all = alone + among + wrong + missed;
        let share = |part: usize| 100.0 * part as f64 / all as f64;
        println!(
            "seed {SEED}, {all} surveys with one slip of {slip_mm} mm: named alone {:.1} %, named among others {:.1} %, only \
             others named {:.1} %, missed {:.1} %",
            share(alone),
            share(among),
            share(wrong),
            share(missed),
        );
        assert!(share(wrong) < 3.0 + 400.0 / all as f64, "{}", share(wrong));
        if slip_mm > 15.0 {
            assert!(share(alone) > 60.0 && share(missed) < 10.0, "{} {}", share(alone), share(missed));
        }
    }
}
