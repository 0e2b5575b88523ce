//! The rotors are thicker than their least.
//!
//! - Looks at: thickness of each rotor at its thinnest place, or as new, and the thickness at which its maker wants it
//!   gone.
//! - Why: a thin rotor overheats, warps and breaks, and its pads come out so far that the pistons leave their seals.
//! - Source: the least thickness that is stamped on the rotor
//! - Fits: new rotors of 1.8 mm, least 1.5.
//! - Does not fit: a used rotor of 1.4 mm.
//! - Not known: a used rotor that nobody measured.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, take};
use crate::fact;
use crate::finding::{Severity, figure};
use crate::model::Missing;
use crate::part::Condition;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the least thickness that is stamped on the rotor";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["rotor"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let least = take(fact!(end.rotor, thickness_min_mm), &mut lacking);
        let new = fact!(end.rotor, condition).is_ok_and(|condition| condition == Condition::New);
        let now = fact!(end.rotor, thickness_mm);
        let now = if new { now.or_else(|_| fact!(end.rotor, thickness_new_mm)) } else { now };
        let (Some(least_mm), Some(now_mm)) = (least, take(now, &mut lacking)) else { continue };
        let side = end.side.word();
        let about = vec![end.rotor.at("thickness"), end.rotor.at("thickness_min")];
        let why = format!("It measures {} mm and its least is {} mm.", figure(now_mm, 2), figure(least_mm, 2));
        if compare::falls_short(now_mm, least_mm) {
            out.say(about, format!("The {side} rotor is worn out."), why, "Replace it, and look at the pads.".into());
        } else if compare::falls_short(now_mm, least_mm + NEARLY_MM) {
            let action = "Replace it now: it will not last a season, and the bike is apart.";
            out.say_as(Severity::Caution, about, format!("The {side} rotor is nearly worn out."), why, action.into());
        }
    }
    out.not_known(&lacking, "whether the rotors are thick enough");
}

/// With less than this above the least, a rotor is near its end.
const NEARLY_MM: f64 = 0.1;

/// New rotors of 1.8 mm, least 1.5.
pub fn fits(_: &mut Build) {}

/// A used rotor of 1.4 mm.
pub fn does_not_fit(build: &mut Build) {
    let rotor = build.parts.rotor.make("front");
    rotor.condition = Some(Condition::UsedWorn.into());
    rotor.thickness_mm = Some(1.4.into());
}

/// A used rotor that nobody measured.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.rotor.make("front").condition = Some(Condition::UsedWorn.into()));
