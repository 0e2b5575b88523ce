//! The bar may be cut as much as it is to be, and what is left holds its plugs.
//!
//! - Looks at: what is to be cut off each end, how much the bar's maker allows, the straight run at the end, and how far
//!   the plugs reach in.
//! - Why: past its maker's mark a bar may be thinner than the plug and the hand need; a plug that reaches into the bend
//!   does not hold, and an open tube punches a disc out of whoever falls on it.
//! - Source: the bar maker's word; that a plug wants a straight bore is common practice, no source
//! - Fits: 10 mm off a bar whose maker allows 15, with 50 mm left for plugs that reach in 25.
//! - Does not fit: 20 mm off the same bar.
//! - Not known: The maker's word on cutting was not found.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::model::{Missing, Model};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the bar maker's word; that a plug wants a straight bore is common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let Some(cut_mm) = to_be_cut(model) else { return };
    let setting = About::path("settings.bar_cut");
    let (at, straight, allowed) = if model.one_piece() {
        (model.cockpit.at("end_cut_max"), fact!(model.cockpit, end_length_mm), fact!(model.cockpit, end_cut_max_mm))
    } else {
        (model.bar.at("end_cut_max"), fact!(model.bar, end_length_mm), fact!(model.bar, end_cut_max_mm))
    };
    let mut lacking = Missing::default();
    if let Some(most_mm) = take(allowed, &mut lacking)
        && compare::exceeds(cut_mm, most_mm)
    {
        let may = if most_mm == 0.0 {
            "its maker does not let it be cut".to_owned()
        } else {
            format!("its maker allows {}", mm(most_mm))
        };
        out.say(
            vec![setting.clone(), at],
            "More is to be cut off the bar than its maker allows.".into(),
            format!("{} are to come off each end, and {may}.", mm(cut_mm)),
            "Set the levers for the bar as it is, or choose a bar with shorter drops.".into(),
        );
    }
    let Some(straight_mm) = take(straight, &mut lacking) else {
        out.not_known(&lacking, "whether the bar may be cut so far");
        return;
    };
    let left_mm = straight_mm - cut_mm;
    if left_mm <= 0.0 {
        out.say(
            vec![setting],
            "The cut goes into the bend of the bar.".into(),
            format!("{} are to come off each end, and its straight run is {} long.", mm(cut_mm), mm(straight_mm)),
            "Cut less: a bend is not cut, and no plug holds in it.".into(),
        );
        out.not_known(&lacking, "whether the bar may be cut so far");
        return;
    }
    for (side, plug) in [("left", &model.end_plug_left), ("right", &model.end_plug_right)] {
        if plug.part.is_none() {
            continue;
        }
        let Some(reaches_mm) = take(fact!(plug, insertion_mm), &mut lacking) else { continue };
        if compare::falls_short(left_mm, reaches_mm) {
            out.say_as(
                Severity::Caution,
                vec![setting.clone(), plug.at("insertion")],
                format!("After the cut the {side} end plug reaches into the bend."),
                format!("{} of straight run are left, and the plug reaches in {}.", mm(left_mm), mm(reaches_mm)),
                "Cut less, or take a shorter plug that expands.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the bar may be cut so far");
}

/// What is to be cut off each end, where anything is.
fn to_be_cut(model: &Model<'_>) -> Option<f64> {
    model.build.settings.bar_cut_mm.as_ref().map(|cut| cut.value).filter(|cut_mm| *cut_mm > 0.0)
}

/// The cut leaves nothing of the straight run at the end.
pub(super) fn leaves_nothing(model: &Model<'_>) -> bool {
    let straight =
        if model.one_piece() { fact!(model.cockpit, end_length_mm) } else { fact!(model.bar, end_length_mm) };
    all((to_be_cut(model).ok_or_else(Missing::default), straight)).is_ok_and(|(cut_mm, run_mm)| run_mm <= cut_mm)
}

/// 10 mm off a bar whose maker allows 15.
pub fn fits(build: &mut Build) {
    build.settings.bar_cut_mm = Some(10.0.into());
    build.parts.bar.make("").end_cut_max_mm = Some(15.0.into());
    for side in ["left", "right"] {
        build.parts.end_plug.make(side).insertion_mm = Some(25.0.into());
    }
}

/// 20 mm off the same bar.
pub fn does_not_fit(build: &mut Build) {
    fits(build);
    build.settings.bar_cut_mm = Some(20.0.into());
}

/// The maker's word on cutting was not found.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    fits(build);
    build.parts.bar.make("").end_cut_max_mm = None;
});
