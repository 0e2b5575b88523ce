//! The bottom bracket is made for this shell.
//!
//! - Looks at: thread or bore, and width, of the frame's shell; the shell that the bottom bracket is made for.
//! - Why: cups for another width leave the spindle loose or the bearings crushed, and another thread or bore does not
//!   go in at all.
//! - Source: common practice, no source: thread or bore as named, width alike within 0.5 mm
//! - Fits: a threaded shell of 68 mm and cups for it.
//! - Does not fit: cups for a shell of 86.5 mm.
//! - Not known: nobody measured the width of the shell.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, all, compare, sentence, take};
use crate::fact;
use crate::finding::mm;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: thread or bore as named, width alike within 0.5 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "bottom_bracket"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (frame, cups) = (&model.frame, &model.bottom_bracket);
    let mut lacking = Missing::default();
    let mut about = Vec::new();
    let mut each = Vec::new();
    if let Some((shell, made_for)) = take(all((fact!(frame, shell), fact!(cups, shell))), &mut lacking)
        && !compare::same_name(&shell, &made_for)
    {
        about.extend([frame.at("shell"), cups.at("shell")]);
        each.push(format!("the shell is «{shell}» and the bottom bracket is made for «{made_for}»"));
    }
    if let Some((width_mm, made_for_mm)) =
        take(all((fact!(frame, shell_width_mm), fact!(cups, shell_width_mm))), &mut lacking)
        && !compare::same_within(width_mm, made_for_mm, WIDTH_WITHIN_MM)
    {
        about.extend([frame.at("shell_width"), cups.at("shell_width")]);
        each.push(format!("the shell is {} wide and the bottom bracket is made for {}", mm(width_mm), mm(made_for_mm)));
    }
    if !each.is_empty() {
        out.say(
            about,
            "The bottom bracket does not fit the shell.".into(),
            format!("{}.", sentence(&and_list(&each))),
            "Measure bore and width of the shell with a caliper and order by that, not by the name in a catalogue."
                .into(),
        );
    }
    out.not_known(&lacking, "whether the bottom bracket fits the shell");
}

/// Facing takes a few tenths off a shell; cups and their washers bridge so much.
const WIDTH_WITHIN_MM: f64 = 0.5;

/// A threaded shell of 68 mm and cups for it.
pub fn fits(_: &mut Build) {}

/// Cups for a shell of 86.5 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bottom_bracket.make("").shell_width_mm = Some(86.5.into());
}

/// Nobody measured the width of the shell.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").shell_width_mm = None);
