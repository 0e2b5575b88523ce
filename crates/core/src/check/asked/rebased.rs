//! Other cranks or pedals than those of the fit move the saddle.
//!
//! - Looks at: crank length and pedal stack of the fit and of this bike, where a saddle height is asked.
//! - Why: a leg stretches to the pedal and not to the bottom bracket; on cranks 5 mm shorter the same leg wants the saddle
//!   5 mm higher, and a copied height leaves the rider too low.
//! - Source: common practice, no source: the distance from pedal to saddle is kept unless the fitter says otherwise.
//! - Fits: cranks and pedals are those of the fit.
//! - Does not fit: the fit was made on 172.5 mm cranks and 170 mm are fitted.
//! - Not known: the sheet does not say which cranks the fit was made on.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, sentence, take};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::model::{Missing, Place};
use crate::number::{SADDLE_HEIGHT, SADDLE_HEIGHT_VERTICAL, Side};

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: pedal to saddle is kept";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "the saddle has been moved already; it is only to be agreed");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let asked = |number| model.build.asked_of(number, Side::None).is_some_and(|asked| asked.value.is_some());
    if !asked(&SADDLE_HEIGHT) && !asked(&SADDLE_HEIGHT_VERTICAL) {
        return;
    }
    let fit = Place { path: "fit", part: Some(&model.build.fit) };
    let mut lacking = Missing::default();
    let cranks =
        (take(fact!(fit, crank_length_mm), &mut lacking), take(fact!(model.crankset, arm_length_mm), &mut lacking));
    let pedals = (take(fact!(fit, pedal_stack_mm), &mut lacking), take(fact!(model.pedal, stack_mm), &mut lacking));
    let mut each = Vec::new();
    if let (Some(then_mm), Some(now_mm)) = cranks
        && !compare::same_within(then_mm, now_mm, 0.0)
    {
        each.push(format!("the fit was made on cranks of {} and these have {}", mm(then_mm), mm(now_mm)));
    }
    if let (Some(then_mm), Some(now_mm)) = pedals
        && !compare::same_within(then_mm, now_mm, 0.0)
    {
        each.push(format!("its pedals and shoes stood {} high and these stand {}", mm(then_mm), mm(now_mm)));
    }
    let moved_mm = case.worked.target.rebased_mm;
    if !each.is_empty() {
        let way = if moved_mm >= 0.0 { "further from" } else { "nearer to" };
        out.say(
            vec![
                About::number(&SADDLE_HEIGHT, Side::None),
                About::path("fit.crank_length"),
                About::path("parts.crankset"),
            ],
            format!("The saddle is planned {} {way} the bottom bracket than on the fit.", mm(moved_mm.abs())),
            format!("{}; the distance from pedal to saddle is kept.", sentence(&each.join("; "))),
            "Let the fitter agree to it, or enter the height anew for these cranks and pedals.".into(),
        );
    }
    out.not_known(&lacking, "how far the saddle must move because cranks or pedals differ from those of the fit");
}

/// The sample's cranks and pedals are those of the fit.
pub fn fits(_: &mut Build) {}

/// The fit was made on longer cranks.
pub fn does_not_fit(build: &mut Build) {
    build.fit.crank_length_mm = Some(172.5.into());
}

/// Nobody said on which cranks.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.fit.crank_length_mm = None);
