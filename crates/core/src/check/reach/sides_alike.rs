//! Left and right are alike.
//!
//! - Looks at: every number that is taken on both sides, as set and as read.
//! - Why: levers 3 mm apart in height are seen by the rider before the first corner, and sat out with a twisted back.
//! - Source: common practice, no source: the two sides agree within 1 mm, or within the number's own tolerance where it is
//!   no length.
//! - Fits: both sides are set alike; where the rider asked for a difference, the difference is kept.
//! - Does not fit: the right lever is set 3 mm further up the bar than the left one.
//! - Not known: a hood was read on one side only.

use crate::build::Build;
use crate::check::words::{and_list, with_unit};
use crate::check::{Case, Report, Weight, compare, sentence};
use crate::compute::PlannedNumber;
use crate::field::Kind;
use crate::finding::About;
use crate::model::Missing;
use crate::number::{self, HOOD_Y, Number, Side, Sides};

/// Two sides that are meant to be one length.
const WITHIN_MM: f64 = 1.0;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: left and right agree within 1 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// What a mechanic sets on each side; the other numbers follow from these and from the levers.
const SET: [&Number; 5] =
    [&number::LEVER_FROM_END, &number::HOOD_TOE_IN, &number::LEVER_REACH, &number::TAPE_TURNS, &number::TAPE_STOP];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let planned = |line: &PlannedNumber| Some((line.planned.clone().ok()?, 0.0));
    let measured =
        |line: &PlannedNumber| line.measured.as_ref().map(|read| (read.value, read.plus_minus.unwrap_or(0.0)));
    let sided: Vec<&'static Number> = number::all().filter(|number| number.sides == Sides::LeftRight).collect();

    let set: Vec<Unequal> = SET.iter().filter_map(|number| unequal(case, number, planned)).collect();
    // Hoods that differ because the settings do need not be said twice.
    let set =
        if set.is_empty() { sided.iter().filter_map(|number| unequal(case, number, planned)).collect() } else { set };
    say(out, &set, "planned", "Set both sides alike, or let the rider ask for the difference.");
    let read: Vec<Unequal> = sided.iter().filter_map(|number| unequal(case, number, measured)).collect();
    say(
        out,
        &read,
        "read",
        "Read both sides again with the same tape from the same point, then set the one that is off.",
    );

    let mut lacking = Missing::default();
    for number in SET {
        let (left, right) = (case.planned(number, Side::Left), case.planned(number, Side::Right));
        // Set on neither side, there is nothing to compare yet.
        if let (Ok(_), Err(missing)) | (Err(missing), Ok(_)) = (left, right) {
            lacking = lacking.and(&missing);
        }
    }
    out.not_known(&lacking, "whether left and right are set alike");

    let mut lacking = Missing::default();
    for number in sided {
        let (left, right) = (case.number(number, Side::Left), case.number(number, Side::Right));
        let read = |line: Option<&PlannedNumber>| line.is_some_and(|line| line.measured.is_some());
        let alone = match (read(left), read(right)) {
            (true, false) => Side::Right,
            (false, true) => Side::Left,
            _ => continue,
        };
        lacking = lacking.and(&Missing::fact(format!("measured.{}.{}", number.id, alone.word())));
    }
    out.not_known(&lacking, "whether left and right agree on the bike");
}

struct Unequal {
    number: &'static Number,
    left: f64,
    right: f64,
}

/// The two sides, where they differ by more than was asked for, more than is still alike, and more than the plus-minus of
/// both readings together could feign.
fn unequal(
    case: &Case<'_>,
    number: &'static Number,
    value: impl Fn(&PlannedNumber) -> Option<(f64, f64)>,
) -> Option<Unequal> {
    let (left_line, right_line) = (case.number(number, Side::Left)?, case.number(number, Side::Right)?);
    let ((left, left_margin), (right, right_margin)) = (value(left_line)?, value(right_line)?);
    let wanted = match (left_line.asked, right_line.asked) {
        (Some(left), Some(right)) => right.value - left.value,
        _ => 0.0,
    };
    let within = if number.kind == Kind::Length { WITHIN_MM } else { number.tolerance.value };
    let within = within.max(left_margin.hypot(right_margin));
    compare::exceeds((right - left - wanted).abs(), within).then_some(Unequal { number, left, right })
}

fn say(out: &mut Report, all: &[Unequal], how: &str, action: &str) {
    if all.is_empty() {
        return;
    }
    let about =
        all.iter().flat_map(|one| [Side::Left, Side::Right].map(|side| About::number(one.number, side))).collect();
    let each: Vec<String> = all
        .iter()
        .map(|one| {
            format!(
                "{} {} left and {} right",
                one.number.name.replace(", ", " "),
                with_unit(one.number.kind, one.left),
                with_unit(one.number.kind, one.right)
            )
        })
        .collect();
    out.say(
        about,
        format!("Left and right are {how} differently."),
        format!("{}.", sentence(&and_list(&each))),
        action.into(),
    );
}

/// The sample's sides are alike.
pub fn fits(_: &mut Build) {}

/// One lever further up.
pub fn does_not_fit(build: &mut Build) {
    build.settings.lever_from_end_right_mm = Some(199.0.into());
}

/// One side was read.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.measured.entry((HOOD_Y.id, Side::Left)).or_default().value = Some(615.0.into()));
