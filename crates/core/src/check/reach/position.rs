//! The rider sits and holds on where it was asked.
//!
//! - Looks at: saddle, hoods and, where the bar itself was asked for, bar: planned with these parts, against asked.
//! - Why: the position is what the bike is built for; a few millimetres are felt on the first ride, and the stem that would
//!   put them right is another one.
//! - Source: common practice, no source: the tolerances of the numbers, or those that the rider asked for.
//! - Fits: saddle and hoods come within their tolerance.
//! - Does not fit: a stem 10 mm shorter brings the hands nearer.
//! - Not known: the lever's hood was not measured, and so nobody can say where the hands come.

use crate::build::Build;
use crate::check::compare::exceeds;
use crate::check::words::{Off, and_list, off_by};
use crate::check::{Case, Report, Weight, all, sentence, take};
use crate::compute::{saddle_setting, stem_for};
use crate::fact;
use crate::finding::{About, figure, mm};
use crate::model::Missing;
use crate::number::{
    BAR_X, BAR_Y, HOOD_X, HOOD_Y, Number, SADDLE_BAR_DROP, SADDLE_HEIGHT, SADDLE_HEIGHT_VERTICAL, SADDLE_HOOD_DROP,
    SADDLE_SETBACK, SADDLE_TO_BAR, SADDLE_TO_HOOD, Side,
};
use witnessmark_mechanics::Point2;

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: position within 1 to 2 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The numbers that this check judges; those asked for besides are judged one by one.
pub(crate) const JUDGED: [&Number; 11] = [
    &SADDLE_HEIGHT,
    &SADDLE_HEIGHT_VERTICAL,
    &SADDLE_SETBACK,
    &HOOD_X,
    &HOOD_Y,
    &BAR_X,
    &BAR_Y,
    &SADDLE_TO_HOOD,
    &SADDLE_HOOD_DROP,
    &SADDLE_TO_BAR,
    &SADDLE_BAR_DROP,
];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    saddle(case, out);
    if asked_any(case, &[&BAR_X, &BAR_Y, &SADDLE_TO_BAR, &SADDLE_BAR_DROP]) {
        bar(case, out);
        if !asked_any(case, &[&HOOD_X, &HOOD_Y, &SADDLE_TO_HOOD, &SADDLE_HOOD_DROP]) {
            return;
        }
    }
    hands(case, out);
}

fn saddle(case: &Case<'_>, out: &mut Report) {
    let question = "whether the rider sits where asked";
    if !asked_any(case, &[&SADDLE_HEIGHT, &SADDLE_HEIGHT_VERTICAL, &SADDLE_SETBACK]) {
        let missing = Missing::fact("asked.saddle-height").and(&Missing::fact("asked.saddle-setback"));
        out.not_known(&missing, "where the rider is to sit");
        return;
    }
    let Some(points) = out.need(case.worked.rear.points.clone(), question) else { return };
    let about = vec![About::number(&SADDLE_HEIGHT, Side::None), About::number(&SADDLE_SETBACK, Side::None)];
    let Some(target) = case.worked.target.saddle else {
        // One co-ordinate is asked for and the other is not, or the definitions leave both open.
        one_by_one(case, out, &[&SADDLE_HEIGHT, &SADDLE_HEIGHT_VERTICAL, &SADDLE_SETBACK], Side::None, question);
        return;
    };
    let height = off(case, &SADDLE_HEIGHT, Side::None);
    let back = off(case, &SADDLE_SETBACK, Side::None);
    // A setback grows to the rear, and the sentence speaks of forward.
    let forward = Off { off_mm: -back.off_mm, ..back };
    let words = off_by(forward, height);
    if words.is_empty() {
        return;
    }
    let cure = saddle_setting(case.model, target).map_or_else(
        |_| "Set the post and the rails anew.".to_owned(),
        |setting| {
            format!(
                "Set the post {} out and the rails {} forward, if insertion and marks allow it.",
                mm(setting.post_extension_mm),
                mm(setting.rail_position_mm)
            )
        },
    );
    let asked = case.model.build.asked.contains_key(&(SADDLE_SETBACK.id, Side::None));
    let why = if asked { "asked" } else { "asked or follows from what was asked" };
    out.say(
        about,
        format!("The saddle comes {words}."),
        format!(
            "It is planned {} behind the bottom bracket and {} above it; {} behind and {} above are {why}.",
            mm(-points.reference.x_mm),
            mm(points.reference.y_mm),
            mm(-target.x_mm),
            mm(target.y_mm)
        ),
        cure,
    );
}

fn hands(case: &Case<'_>, out: &mut Report) {
    let question = "whether the hands come where asked";
    let target = &case.worked.target;
    if !asked_any(case, &[&HOOD_X, &HOOD_Y, &SADDLE_TO_HOOD, &SADDLE_HOOD_DROP]) {
        let missing = Missing::fact("asked.hood-x").and(&Missing::fact("asked.hood-y"));
        out.not_known(&missing, "where the hands are to be");
        return;
    }
    let mut lacking = Missing::default();
    let mut about = Vec::new();
    let mut each = Vec::new();
    let mut move_by = Vec::new();
    for (side, wanted) in [(Side::Left, target.hood_left), (Side::Right, target.hood_right)] {
        let Some(hood) = take(case.worked.front.hood(side).clone(), &mut lacking) else { continue };
        let Some(wanted) = wanted else { continue };
        let words = off_by(off(case, &HOOD_X, side), off(case, &HOOD_Y, side));
        if !words.is_empty() {
            let trough = Point2 { x_mm: hood.trough.x_mm, y_mm: hood.trough.y_mm };
            about.extend([About::number(&HOOD_X, side), About::number(&HOOD_Y, side)]);
            each.push((side, words, trough, wanted));
            move_by.push(wanted - trough);
        }
    }
    out.not_known(&lacking, question);
    if each.is_empty() {
        if lacking == Missing::default() && target.hood_left.is_none() && target.hood_right.is_none() {
            for side in [Side::Left, Side::Right] {
                one_by_one(case, out, &[&HOOD_X, &HOOD_Y, &SADDLE_TO_HOOD, &SADDLE_HOOD_DROP], side, question);
            }
        }
        return;
    }
    let alike = each.len() == 2 && each[0].1 == each[1].1;
    let (what, why) = if alike {
        (format!("The hands come {}.", each[0].1), places(each[0].2, each[0].3))
    } else {
        let words: Vec<String> =
            each.iter().map(|(side, words, ..)| format!("the {} hand comes {words}", side.word())).collect();
        let whys: Vec<String> =
            each.iter().map(|(side, _, now, wanted)| format!("{}: {}", side.word(), places(*now, *wanted))).collect();
        (format!("{}.", sentence(&and_list(&words))), whys.join("; "))
    };
    out.say(about, what, format!("{}.", sentence(&why)), cure_for_hands(case, &move_by));
}

fn places(now: Point2, wanted: Point2) -> String {
    format!(
        "the hood's trough is planned {} forward of the bottom bracket and {} above it; {} forward and {} above are asked",
        mm(now.x_mm),
        mm(now.y_mm),
        mm(wanted.x_mm),
        mm(wanted.y_mm)
    )
}

/// What would bring the hands there: the stem and the spacers, the bar and the levers kept as they are.
fn cure_for_hands(case: &Case<'_>, move_by: &[Point2]) -> String {
    let share = 1.0 / f64::from(u32::try_from(move_by.len()).unwrap_or(1));
    let step = move_by.iter().fold(Point2 { x_mm: 0.0, y_mm: 0.0 }, |sum, one| sum + *one * share);
    let Ok(clamp) = &case.worked.front.bar_clamp else { return "Choose another stem or another stack.".into() };
    if case.model.one_piece() {
        return "Look for a cockpit of another length, or set spacers and levers anew.".into();
    }
    let allowed_mm = fact!(case.model.fork, spacers_max_mm).unwrap_or(f64::INFINITY);
    match stem_for(case.model, &case.worked.chassis, *clamp + step) {
        Ok(answer) if answer.spacers_mm < 0.0 => format!(
            "With this stem's angle it comes there only {} below the top cover: look for a stem of about {} that falls more.",
            mm(-answer.spacers_mm),
            whole_mm(answer.length_mm)
        ),
        Ok(answer) if exceeds(answer.spacers_mm, allowed_mm) => format!(
            "With this stem's angle it would take {} of spacers, and the fork allows {}: look for a stem of about {} that \
             rises more.",
            mm(answer.spacers_mm),
            mm(allowed_mm),
            whole_mm(answer.length_mm)
        ),
        Ok(answer) => format!(
            "With this stem's angle a stem of {} on {} of spacers brings it there; look what can be had.",
            whole_mm(answer.length_mm),
            mm(answer.spacers_mm)
        ),
        Err(_) => "Choose another stem or another stack.".into(),
    }
}

/// Stems are made in whole millimetres at best.
fn whole_mm(length_mm: f64) -> String {
    format!("{} mm", figure(length_mm, 0))
}

fn bar(case: &Case<'_>, out: &mut Report) {
    let question = "whether the bar comes where asked";
    let Some(clamp) = out.need(case.worked.front.bar_clamp.clone(), question) else { return };
    let Some(target) = case.worked.target.bar else {
        one_by_one(case, out, &[&BAR_X, &BAR_Y, &SADDLE_TO_BAR, &SADDLE_BAR_DROP], Side::None, question);
        return;
    };
    let words = off_by(off(case, &BAR_X, Side::None), off(case, &BAR_Y, Side::None));
    if words.is_empty() {
        return;
    }
    out.say(
        vec![About::number(&BAR_X, Side::None), About::number(&BAR_Y, Side::None)],
        format!("The bar comes {words}."),
        format!(
            "Its clamp is planned {} forward of the bottom bracket and {} above it; {} forward and {} above are asked.",
            mm(clamp.x_mm),
            mm(clamp.y_mm),
            mm(target.x_mm),
            mm(target.y_mm)
        ),
        cure_for_hands(case, &[target - clamp]),
    );
}

/// Where no point can be placed, each figure that was received is held against its own plan.
fn one_by_one(case: &Case<'_>, out: &mut Report, numbers: &[&'static Number], side: Side, question: &str) {
    let mut about = Vec::new();
    let mut each = Vec::new();
    let mut judged = false;
    for number in numbers {
        let Some(line) = case.number(number, side) else { continue };
        let (Some(asked), Ok(planned)) = (line.asked, &line.planned) else { continue };
        judged = true;
        let this = Off { off_mm: planned - asked.value, tolerance_mm: line.tolerance };
        if this.counts() {
            about.push(About::number(number, side));
            each.push(format!(
                "the {} comes to {} and {} is asked",
                crate::check::words::spoken(number, side),
                mm(*planned),
                mm(asked.value)
            ));
        }
    }
    if !each.is_empty() {
        out.say(
            about,
            "The position comes out otherwise than asked.".into(),
            format!("{}.", sentence(&and_list(&each))),
            "Set it anew, or choose another stem; and ask the fitter for the figure that is lacking.".into(),
        );
    } else if !judged {
        // Asked for in words that leave the place open: the check of definitions asks; here it is only not judged.
        let open: Missing = numbers
            .iter()
            .filter(|number| case.model.build.asked_of(number, side).is_some())
            .fold(Missing::default(), |all, number| all.and(&Missing::fact(format!("asked.{}", number.id))));
        out.not_known(&open, question);
    }
}

fn asked_any(case: &Case<'_>, numbers: &[&Number]) -> bool {
    case.model
        .build
        .asked
        .iter()
        .any(|((id, _), asked)| asked.value.is_some() && numbers.iter().any(|number| number.id == *id))
}

/// Planned less asked; nothing where one of them is not known.
fn off(case: &Case<'_>, number: &'static Number, side: Side) -> Off {
    let Some(line) = case.number(number, side) else { return Off { off_mm: 0.0, tolerance_mm: 0.0 } };
    let asked = line.asked.map(|asked| asked.value).ok_or_else(Missing::default);
    let off_mm = all((line.planned.clone(), asked)).map_or(0.0, |(planned, asked)| planned - asked);
    Off { off_mm, tolerance_mm: line.tolerance }
}

/// The sample's parts bring the rider where asked.
pub fn fits(_: &mut Build) {}

/// A shorter stem.
pub fn does_not_fit(build: &mut Build) {
    build.parts.stem.make("").length_mm = Some(100.0.into());
}

/// Nobody measured the levers' hoods.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.lever.make("left").trough_out_mm = None;
    build.parts.lever.make("right").trough_out_mm = None;
});
