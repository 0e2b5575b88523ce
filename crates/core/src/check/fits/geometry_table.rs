//! The frame's table agrees with itself.
//!
//! - Looks at: stack, reach, head angle, head tube, lower headset, fork, drop and chainstay, which together give a front
//!   axle; and the front centre and wheelbase that the maker states.
//! - Why: a misprint in the table moves the whole position, and the stem is ordered for a frame that does not exist.
//! - Source: the geometry of the frame; 2 mm is what rounding to whole millimetres and tenths of a degree explains.
//! - Fits: the table closes within 2 mm.
//! - Does not fit: the reach is printed 10 mm too long.
//! - Not known: nobody knows how the fork's length was taken, and the two ways differ by 2 to 3 mm.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight};
use crate::compute::{cover_read_otherwise, frame_table};
use crate::fact;
use crate::finding::{About, Severity, deg, mm};
use crate::model::Model;
use witnessmark_mechanics::frame::{
    Correction, Disagreement, Figure, ForkLength, FrameTable, LevelFrontCentre, StatedChecks, disagreement,
    straight_front_centre_mm,
};

/// Where the limit comes from.
pub const SOURCE: &str = "geometry of the frame; 2 mm is what rounding explains";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a table that disagrees with itself is asked about first");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let table = match &case.worked.chassis.table {
        Ok(table) => *table,
        Err(missing) => {
            out.not_known(missing, &question(model));
            return;
        }
    };
    let found = disagreement(&table, stated(model));
    if !found.is_real() || only_the_cover(model, &table) {
        return;
    }
    if let Some(level) = read_as_level(model, &table) {
        out.say_as(
            Severity::Note,
            vec![About::path("parts.frame.front_centre")],
            "The stated front centre seems to be taken along the ground.".into(),
            format!(
                "Straight from the bottom bracket to the axle it would be {}, and then the table closes.",
                mm(level)
            ),
            format!("Enter {} as the front centre, or ask the maker.", mm(level)),
        );
        return;
    }
    let likely: Vec<&Correction> = found.ranked().iter().filter(|one| one.explains()).take(3).collect();
    let mut about = vec![About::path("parts.frame")];
    about.extend(likely.iter().map(|one| About::path(path(one.figure))));
    let would_close: Vec<String> = likely.iter().map(|one| correction_in_words(one)).collect();
    let cure = if would_close.is_empty() {
        "no single figure explains it".to_owned()
    } else {
        format!("it would close with {}", would_close.join(", or "))
    };
    out.say(
        about,
        "The frame's table contradicts itself.".into(),
        format!("{}; {cure}.", crate::check::sentence(&and_list(&misses_in_words(&found)))),
        "Measure those figures on the frame, or ask its maker, before stem and bar are chosen.".into(),
    );
}

/// What the table must also give, as far as it is stated.
fn stated(model: &Model<'_>) -> StatedChecks {
    StatedChecks {
        front_centre_mm: fact!(model.frame, front_centre_mm).ok(),
        wheelbase_mm: fact!(model.frame, wheelbase_mm).ok(),
    }
}

/// What cannot be judged; with both ways of taking the fork's length worked out where only that is missing.
fn question(model: &Model<'_>) -> String {
    let miss = |way| frame_table(model, way).map(|table| disagreement(&table, stated(model)).misses.largest_mm());
    match (miss(ForkLength::AlongAxis), miss(ForkLength::Straight)) {
        (Ok(along_mm), Ok(straight_mm)) => format!(
            "whether the frame's table closes; it misses by {} if the fork's length runs along the steering axis and by {} \
             if it runs straight to the axle",
            mm(along_mm),
            mm(straight_mm)
        ),
        _ => "whether the frame's table closes".to_owned(),
    }
}

/// Reading the cover the other way round closes the table: that is said by the check of the cover.
fn only_the_cover(model: &Model<'_>, table: &FrameTable) -> bool {
    cover_read_otherwise(model, table).is_ok_and(|other| !disagreement(&other, stated(model)).is_real())
}

/// The straight front centre, where the stated one fits the table only when it is taken along the ground.
fn read_as_level(model: &Model<'_>, table: &FrameTable) -> Option<f64> {
    let checks = stated(model);
    let straight_mm = straight_front_centre_mm(LevelFrontCentre {
        horizontal_mm: checks.front_centre_mm?,
        bb_drop_mm: table.bb_drop_mm,
    });
    let read = StatedChecks { front_centre_mm: Some(straight_mm), ..checks };
    (!disagreement(table, read).is_real()).then_some(straight_mm)
}

fn misses_in_words(found: &Disagreement) -> Vec<String> {
    let misses = found.misses;
    let mut words = Vec::new();
    let by =
        |miss: f64, more: &str, less: &str| format!("{} too {}", mm(miss.abs()), if miss > 0.0 { more } else { less });
    let counts = |miss: f64| miss.abs() > witnessmark_mechanics::frame::ROUNDED_TABLE_MISS_MM;
    if counts(misses.fork_closure_mm) {
        words.push(format!("the fork puts its axle {}", by(misses.fork_closure_mm, "high", "low")));
    }
    if let Some(miss) = misses.front_centre_mm.filter(|miss| counts(*miss)) {
        words.push(format!("the front centre comes out {}", by(miss, "long", "short")));
    }
    if let Some(miss) = misses.wheelbase_mm.filter(|miss| counts(*miss)) {
        words.push(format!("the wheelbase comes out {}", by(miss, "long", "short")));
    }
    words
}

fn correction_in_words(one: &Correction) -> String {
    let value = |value: f64| if one.figure == Figure::HeadAngle { deg(value) } else { mm(value) };
    format!("a {} of {} instead of {}", name(one.figure), value(one.corrected), value(one.stated))
}

fn name(figure: Figure) -> &'static str {
    match figure {
        Figure::ForkLength => "fork length",
        Figure::LowerStack => "lower headset stack",
        Figure::HeadTube => "head tube",
        Figure::ForkOffset => "fork offset",
        Figure::HeadAngle => "head angle",
        Figure::Stack => "stack",
        Figure::Reach => "reach",
        Figure::BbDrop => "bottom-bracket drop",
        Figure::Chainstay => "chainstay",
        Figure::FrontCentre => "front centre",
        Figure::Wheelbase => "wheelbase",
    }
}

fn path(figure: Figure) -> &'static str {
    match figure {
        Figure::ForkLength => "parts.fork.length",
        Figure::LowerStack => "parts.headset.lower_stack",
        Figure::HeadTube => "parts.frame.head_tube",
        Figure::ForkOffset => "parts.fork.offset",
        Figure::HeadAngle => "parts.frame.head_angle",
        Figure::Stack => "parts.frame.stack",
        Figure::Reach => "parts.frame.reach",
        Figure::BbDrop => "parts.frame.bb_drop",
        Figure::Chainstay => "parts.frame.chainstay",
        Figure::FrontCentre => "parts.frame.front_centre",
        Figure::Wheelbase => "parts.frame.wheelbase",
    }
}

/// The sample's table closes.
pub fn fits(_: &mut Build) {}

/// A misprint in the reach.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").reach_mm = Some(397.0.into());
}

/// Nobody knows how the fork's length was taken.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").length_is = None);
