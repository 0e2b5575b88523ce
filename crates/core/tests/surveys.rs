//! Surveys of a bike whose points are known: what comes out, what is said, and which slip is found.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where it fails")]

mod surveyed;

use surveyed::{Bike, P, misread, named, said};
use witnessmark_core::build::sample::sample;
use witnessmark_core::build::{Build, Reading, SurveyLine, Taken};
use witnessmark_core::number::{self, Side};
use witnessmark_core::plan::plan;
use witnessmark_core::survey::{Agreement, survey};

#[test]
fn exact_readings_give_every_number_as_the_plan_works_it_out() {
    let (mut build, bike) = Bike::sample();
    bike.forty(&mut build);
    let (planned, surveyed) = (plan(&build), survey(&build));
    let mut compared = 0;
    for one in &surveyed.numbers {
        let Ok(value) = one.value.as_ref() else {
            let unread = ["bar-width-ends", "post-extension"];
            assert!(unread.contains(&one.number.id), "{}: {:?}", one.number.id, one.value);
            continue;
        };
        let other = planned.numbers.of(one.number, one.side).unwrap().planned.clone().unwrap();
        assert!((value.value - other).abs() < 1e-6, "{} {:?}: {} {other}", one.number.id, one.side, value.value);
        assert!(value.sd > 0.0 && value.sd < 5.0, "{}: {}", one.number.id, value.sd);
        compared += 1;
    }
    assert_eq!(compared, 22);
    assert!(surveyed.suspects.is_empty() && surveyed.whole.unwrap().agrees());
}

/// A careful survey with fine instruments was once refused as contradicting itself: near a perfect fit the sum of squares
/// cannot be told to better than its rounding, and the allowance was finer than that.
#[test]
fn readings_that_agree_to_a_tenth_of_a_millimetre_settle() {
    for step in [0.01, 0.02, 0.05, 0.1, 0.2, 0.5] {
        let (mut build, bike) = Bike::sample();
        bike.forty(&mut build);
        for reading in build.survey.values_mut() {
            if let Some(value) = &mut reading.value_mm {
                value.value = (value.value / step).round() * step;
            }
        }
        let surveyed = survey(&build);
        assert!(
            surveyed.whole.as_ref().is_some_and(witnessmark_core::survey::Whole::agrees),
            "rounded to {step}: {:?}",
            surveyed.whole
        );
    }
}

#[test]
fn a_bike_that_stands_crooked_on_a_crooked_floor_has_the_same_position() {
    let (mut build, mut bike) = Bike::sample();
    bike.forty(&mut build);
    let upright = survey(&build);
    let sample_floor_deg = bike.floor_deg;
    bike.level_deg = 1.4;
    bike.floor_deg = -0.7;
    bike.height_mm = 268.0;
    bike.forty(&mut build);
    let crooked = survey(&build);
    for (one, other) in upright.points.iter().zip(&crooked.points) {
        assert!(one.at.distance_mm(other.at) < 1e-6, "{:?}", one.point);
    }
    let (nose_down, sd) = crooked.stand.nose_down_deg.unwrap();
    assert!((nose_down - 1.4).abs() < 1e-6 && sd < 0.2, "{nose_down} {sd}");
    // The head angle is that on the floor: it changes with the floor.
    let head = |survey: &witnessmark_core::survey::Survey| survey.of(&number::HEAD_ANGLE, Side::None).unwrap().value;
    assert!((head(&crooked) - head(&upright) + 0.7 + sample_floor_deg).abs() < 1e-6, "{}", head(&crooked));
}

#[test]
fn lines_can_be_read_to_and_along() {
    let (mut build, bike) = Bike::sample();
    bike.forty(&mut build);
    bike.put_along(&mut build, Taken::Off, P::FrontAxle, P::FrontAxle, Some(SurveyLine::HeadTube));
    bike.put_along(&mut build, Taken::Along, P::BottomBracket, P::SaddleTop, Some(SurveyLine::SeatTube));
    bike.put(&mut build, Taken::Slope, P::BottomBracket, P::Collar);
    bike.put(&mut build, Taken::Above, P::HoodRight, P::SaddleTop);
    let surveyed = survey(&build);
    let fits = |place: usize| {
        let fared = &surveyed.readings[place];
        (fared.fitted.unwrap() - fared.item.value.unwrap()).abs() < 1e-6
    };
    assert_eq!(surveyed.readings.len(), 44);
    assert!((40..44).all(fits));
    let offset = surveyed.readings[40].item.value.unwrap();
    assert!((offset - 44.0).abs() < 1.0, "the fork's offset: {offset}");
}

#[test]
fn a_tape_read_ten_millimetres_too_long_is_found_and_the_slip_is_named() {
    let (mut build, bike) = Bike::sample();
    bike.forty(&mut build);
    let sound = survey(&build);
    let name = named(&build, Taken::Straight, P::RearAxle, P::SaddleTop);
    misread(&mut build, &name, |value| value.round() + 20.0);
    let surveyed = survey(&build);
    assert_eq!(surveyed.suspects.len(), 1);
    assert!(surveyed.suspects[0].set_aside, "{:?}", surveyed.suspects);
    let doubted = &surveyed.suspects[0].readings[0];
    assert_eq!(surveyed.readings[doubted.place.unwrap()].item.name, name);
    assert!((doubted.value - doubted.allowed - 20.0).abs() < 1.0, "{doubted:?}");
    let sentences = said(&surveyed, "survey/misread");
    let read = doubted.value;
    assert!(sentences[0].contains(&format!("as {read} read for {}", read - 20.0)), "{sentences:?}");
    // Set aside, it moves nothing.
    for (one, other) in sound.points.iter().zip(&surveyed.points) {
        assert!(one.at.distance_mm(other.at) < 1e-6, "{:?}", one.point);
    }
}

#[test]
fn each_classic_slip_is_recognised() {
    let (sample, bike) = Bike::sample();
    let tape = (Taken::Straight, P::SaddleNose, P::BarClamp);
    type Slip = (&'static str, fn(f64) -> f64);
    let slips: [Slip; 6] = [
        ("read for", |value| value + 100.0),
        ("inch side", |value| value / 25.4),
        ("centimetres", |value| value / 10.0),
        ("two figures exchanged", |value| {
            let (hundreds, rest) = ((value / 100.0).floor(), (value % 100.0).floor());
            let (tens, ones) = ((rest / 10.0).floor(), rest % 10.0);
            tens * 100.0 + hundreds * 10.0 + ones
        }),
        ("hooked behind it", |value| value + 15.9),
        ("near edge of the bar", |value| value - 15.9),
    ];
    for (words, slip) in slips {
        let mut build = sample.clone();
        bike.forty(&mut build);
        let name = named(&build, tape.0, tape.1, tape.2);
        misread(&mut build, &name, slip);
        let surveyed = survey(&build);
        let all = [said(&surveyed, "survey/misread"), said(&surveyed, "survey/inseparable")].concat().join(" ");
        assert!(all.contains(words) && all.contains("saddle nose to bar clamp"), "{words}: {all}");
    }
}

#[test]
fn left_taken_for_right_is_recognised_where_the_sides_differ() {
    let (mut build, mut bike) = Bike::sample();
    let left = bike.points.get_mut(&P::HoodLeft).unwrap();
    left.x_mm -= 18.0;
    left.y_mm += 10.0;
    bike.forty(&mut build);
    let right = bike.read(Taken::Straight, P::SaddleNose, P::HoodRight, None);
    let name = named(&build, Taken::Straight, P::SaddleNose, P::HoodLeft);
    misread(&mut build, &name, |_| right);
    let surveyed = survey(&build);
    let all = [said(&surveyed, "survey/misread"), said(&surveyed, "survey/inseparable")].concat().join(" ");
    assert!(all.to_lowercase().contains("was it the right hood and not the left hood"), "{all}");
    // And the sides are said to differ.
    let hood = surveyed.sides.iter().find(|one| one.number.id == "hood-x").unwrap();
    assert_eq!(hood.agreement, Agreement::Moved);
    assert!((hood.left - hood.right + 18.0).abs() < 1.0);
}

#[test]
fn readings_that_cannot_be_told_apart_are_named_together_and_stay_in() {
    let (mut build, bike) = Bike::sample();
    build.survey.clear();
    for point in [P::BottomBracket, P::RearAxle, P::FrontAxle] {
        bike.put(&mut build, Taken::Height, point, point);
    }
    bike.put(&mut build, Taken::Straight, P::RearAxle, P::FrontAxle);
    bike.put(&mut build, Taken::Straight, P::BottomBracket, P::RearAxle);
    // Height, plumb and tape: any one of the three may be the wrong one.
    bike.put(&mut build, Taken::Height, P::BarClamp, P::BarClamp);
    bike.put(&mut build, Taken::Ahead, P::BottomBracket, P::BarClamp);
    let tape = bike.put(&mut build, Taken::Straight, P::BottomBracket, P::BarClamp);
    misread(&mut build, &tape, |value| value + 25.0);
    let surveyed = survey(&build);
    assert!(surveyed.readings.iter().all(|fared| !fared.set_aside));
    assert!(surveyed.suspects[0].readings.len() >= 3, "{:?}", surveyed.suspects);
    let sentences = said(&surveyed, "survey/inseparable");
    assert!(sentences[0].contains("cannot be told apart") && sentences[0].contains("bar clamp"), "{sentences:?}");
}

#[test]
fn a_worn_tape_is_found_by_all_its_readings_and_no_single_one_is_blamed() {
    let (mut build, bike) = Bike::sample();
    bike.forty(&mut build);
    for reading in build.survey.values_mut().filter(|one| one.what.as_ref().unwrap().value == Taken::Straight) {
        reading.value_mm.as_mut().unwrap().value += 6.0;
    }
    let surveyed = survey(&build);
    let worn = surveyed.worn_end.unwrap();
    assert!((worn.too_long.size - 6.0).abs() < 0.2, "{worn:?}");
    assert!(surveyed.suspects.is_empty());
    assert!(said(&surveyed, "survey/tape_end")[0].contains("6 mm too long"), "{:?}", surveyed.findings);
}

#[test]
fn what_was_not_read_is_said_and_the_next_reading_leads_to_it() {
    let (sample, bike) = Bike::sample();
    let mut build = sample;
    build.survey.clear();
    let nothing = survey(&build);
    assert!(nothing.missing.is_some() && nothing.findings[0].not_known);
    bike.put(&mut build, Taken::Straight, P::BottomBracket, P::SaddleTop);
    bike.put(&mut build, Taken::Ahead, P::BottomBracket, P::SaddleTop);
    let little = survey(&build);
    let height = little.of(&number::SADDLE_HEIGHT, Side::None).unwrap();
    assert!(height.hidden.is_infinite(), "nothing checks it");
    assert!(little.of(&number::HOOD_X, Side::Left).is_none());
    assert!(said(&little, "survey/open")[0].contains("obody read to the left hood"));
    assert!(said(&little, "survey/unchecked")[0].contains("saddle top"));
    assert!(said(&little, "survey/assumed")[0].contains("axles stands level"));

    // Taking what is proposed, over and over, ends with nothing open and next to no hidden mistake.
    let mut open = usize::MAX;
    for _ in 0..40 {
        let now = survey(&build);
        let outlook = now.outlook.unwrap();
        assert!(outlook.open <= open, "a reading opens nothing");
        open = outlook.open;
        let Some(next) = now.next.first() else { break };
        bike.put(&mut build, next.what, next.from, next.to);
    }
    let done = survey(&build).outlook.unwrap();
    assert_eq!(done.open, 0);
    assert!(done.stand_unread == 0 && done.hidden_mm < 6.0 && done.worst_sd_mm < 1.8, "{done:?}");
}

#[test]
fn a_plumb_line_alone_says_how_far_ahead_a_point_is_though_nobody_read_its_height() {
    let (mut build, mut bike) = Bike::sample();
    build.survey.clear();
    bike.level_deg = 0.25;
    bike.put(&mut build, Taken::Ahead, P::BottomBracket, P::SaddleNose);
    bike.put(&mut build, Taken::Ahead, P::BottomBracket, P::BarClamp);
    let surveyed = survey(&build);
    let setback = surveyed.of(&number::SADDLE_SETBACK, Side::None).unwrap();
    assert!((setback.value - -bike.points[&P::SaddleNose].x_mm).abs() < setback.plus_minus(), "{setback:?}");
    assert!((2.0..5.0).contains(&setback.sd), "a tape's worth, and what the tilt leaves open: {setback:?}");
    assert!(
        surveyed.of(&number::BAR_Y, Side::None).is_none() && surveyed.of(&number::SADDLE_TO_BAR, Side::None).is_none()
    );
}

#[test]
fn the_outlook_that_was_forecast_is_the_outlook_that_comes() {
    let (mut build, bike) = Bike::sample();
    bike.forty(&mut build);
    let now = survey(&build);
    let next = now.next[0].clone();
    bike.put(&mut build, next.what, next.from, next.to);
    let then = survey(&build).outlook.unwrap();
    assert!((then.hidden_mm - next.then.hidden_mm).abs() < 1e-6, "{then:?} {next:?}");
    assert!((then.worst_sd_mm - next.then.worst_sd_mm).abs() < 1e-6);
    assert!(then.hidden_mm <= now.outlook.unwrap().hidden_mm + 0.05);
}

#[test]
fn a_reading_without_value_points_or_line_is_asked_for_and_stops_nothing() {
    let (mut build, bike) = Bike::sample();
    bike.ten_minutes(&mut build);
    let sound = survey(&build);
    let planned = bike.put(&mut build, Taken::Straight, P::FrontAxle, P::SaddleTop);
    build.survey.get_mut(&planned).unwrap().value_mm = None;
    let broken = bike.put(&mut build, Taken::Straight, P::FrontAxle, P::SaddleNose);
    build.survey.get_mut(&broken).unwrap().to = None;
    let same = bike.put(&mut build, Taken::Straight, P::FrontAxle, P::FrontAxle);
    let surveyed = survey(&build);
    assert_eq!(surveyed.unusable.len(), 2, "{:?}", surveyed.unusable);
    assert!(surveyed.unusable.iter().any(|(name, _)| *name == same));
    assert_eq!(surveyed.readings.iter().filter(|fared| fared.fitted.is_none()).count(), 1);
    for (one, other) in sound.numbers.iter().zip(&surveyed.numbers) {
        if let (Ok(one), Ok(other)) = (&one.value, &other.value) {
            assert!((one.value - other.value).abs() < 1e-9);
        }
    }
}

#[test]
fn an_empty_document_has_no_survey_and_says_so() {
    let nothing = survey(&Build::default());
    assert_eq!(nothing.findings.len(), 1);
    assert!(nothing.numbers.is_empty());
}

#[test]
fn a_difference_of_left_and_right_that_the_readings_plus_minus_could_feign_is_none() {
    let mut build = sample();
    let mut said = |plus_minus: f64| {
        for (side, value) in [(Side::Left, 614.0), (Side::Right, 617.0)] {
            let plus_minus = Some(plus_minus.into());
            let reading = Reading { value: Some(value.into()), plus_minus, ..Default::default() };
            build.measured.insert((number::HOOD_Y.id, side), reading);
        }
        let findings = plan(&build).findings;
        findings.iter().any(|finding| finding.what == "Left and right are read differently.")
    };
    assert!(said(1.0));
    assert!(!said(4.0));
}
