//! Pressed cups are a little larger than their bore.
//!
//! - Looks at: bore of the shell and outside diameter of the cups, where they are pressed in.
//! - Why: with too little to press the cups creep and creak; with too much the shell is split and the bearing runs
//!   tight.
//! - Source: common practice, no source: cups 0.02 to 0.15 mm larger than the bore
//! - Fits: cups that are screwed in: there is nothing to press.
//! - Does not fit: cups of 46.3 mm for a bore of 46.
//! - Not known: the bore of a shell for pressed cups was not measured.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, take};
use crate::fact;
use crate::finding::{Severity, figure};
use crate::model::Missing;
use crate::part::ShellHold;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: cups 0.02 to 0.15 mm larger than the bore";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(
    Severity::Caution,
    "a hundredth of a millimetre is read by a steady hand only; it is to be measured again first",
);
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "bottom_bracket"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let pressed = |hold| matches!(hold, ShellHold::Pressed | ShellHold::ScrewedTogether);
    let hold = fact!(model.bottom_bracket, hold);
    let mut lacking = Missing::default();
    let question = "whether the pressed cups sit tight without splitting the shell";
    if let Some(true) = take(hold.map(pressed), &mut lacking) {
        let facts = all((fact!(model.frame, shell_bore_mm), fact!(model.bottom_bracket, cup_diameter_mm)));
        if let Some((bore_mm, cup_mm)) = take(facts, &mut lacking) {
            let press_mm = cup_mm - bore_mm;
            if !(LEAST_MM..=MOST_MM).contains(&press_mm) {
                let way = if press_mm < LEAST_MM { "loose" } else { "too tight" };
                out.say(
                    vec![model.frame.at("shell_bore"), model.bottom_bracket.at("cup_diameter")],
                    format!("The cups are {way} in the shell."),
                    format!(
                        "The cups measure {} mm and the bore {} mm; the cups should be {} to {} mm larger.",
                        figure(cup_mm, 2),
                        figure(bore_mm, 2),
                        figure(LEAST_MM, 2),
                        figure(MOST_MM, 2)
                    ),
                    "Measure both again in two directions; then find other cups, or a compound that the frame's maker allows.".into(),
                );
            }
        }
    }
    out.not_known_as(Severity::Note, &lacking, question);
}

/// The least that the cups should be larger.
const LEAST_MM: f64 = 0.02;
/// The most.
const MOST_MM: f64 = 0.15;

/// Cups that are screwed in: there is nothing to press.
pub fn fits(_: &mut Build) {}

/// Cups of 46.3 mm for a bore of 46.
pub fn does_not_fit(build: &mut Build) {
    let cups = build.parts.bottom_bracket.make("");
    cups.hold = Some(ShellHold::Pressed.into());
    cups.cup_diameter_mm = Some(46.3.into());
    build.parts.frame.make("").shell_bore_mm = Some(46.0.into());
}

/// The bore of a shell for pressed cups was not measured.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.bottom_bracket.make("").hold = Some(ShellHold::Pressed.into()));
