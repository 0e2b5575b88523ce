//! The spacers that are listed make up the stack that is planned.
//!
//! - Looks at: the heights of the listed spacers, under and over the stem, and the stack as set.
//! - Why: a stack planned at 15 mm and made up of 10 moves the bar by 5 and the saw by 5.
//! - Source: common practice, no source: the sum agrees within 0.5 mm.
//! - Fits: 10 and 5 mm under the stem make 15, and 5 mm over it.
//! - Does not fit: 25 mm are planned under the stem and 15 are listed.
//! - Not known: a spacer is listed without its height.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, take};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::model::{Known, Missing};
use crate::number::{SPACERS_OVER, SPACERS_UNDER, Side};
use crate::part::SpacerPlace;

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: the sum of the spacers agrees within 0.5 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a spacer is ordered, or the setting follows the drawer");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let Some(listed) = take(listed(case), &mut lacking) else {
        out.not_known(&lacking, "whether the listed spacers make up the stack");
        return;
    };
    for (number, setting, listed_mm, place) in [
        (&SPACERS_UNDER, fact!(model.settings, spacers_under_mm), listed.under_mm, "under"),
        (&SPACERS_OVER, fact!(model.settings, spacers_over_mm), listed.over_mm, "over"),
    ] {
        let Some(set_mm) = take(setting, &mut lacking) else { continue };
        if compare::same_within(set_mm, listed_mm, number.tolerance.value) {
            continue;
        }
        let (why, action) = if listed_mm < set_mm {
            let lack = mm(set_mm - listed_mm);
            (
                format!("{lack} are lacking"),
                format!("List or order {lack} of spacers {place} the stem, or plan {}.", mm(listed_mm)),
            )
        } else {
            let more = mm(listed_mm - set_mm);
            (
                format!("{more} have no place"),
                format!("Take {more} off the list, or plan {} {place} the stem.", mm(listed_mm)),
            )
        };
        out.say(
            vec![About::number(number, Side::None)],
            format!("The listed spacers do not make up the stack {place} the stem."),
            format!("{} are planned and {} are listed; {why}.", mm(set_mm), mm(listed_mm)),
            action,
        );
    }
    out.not_known(&lacking, "whether the listed spacers make up the stack");
}

struct Listed {
    under_mm: f64,
    over_mm: f64,
}

/// The sums of what is listed, or what is missing of any spacer.
fn listed(case: &Case<'_>) -> Known<Listed> {
    let mut lacking = Missing::default();
    let mut sums = Listed { under_mm: 0.0, over_mm: 0.0 };
    for (name, spacer) in &case.model.build.parts.spacer.0 {
        let height = spacer.height_mm.as_ref().map(|given| given.value);
        let sits = spacer.sits.as_ref().map(|given| given.value);
        match (height, sits) {
            (Some(height_mm), Some(SpacerPlace::Under)) => sums.under_mm += height_mm,
            (Some(height_mm), Some(SpacerPlace::Over)) => sums.over_mm += height_mm,
            _ => {
                for (fact, known) in [("height", height.is_some()), ("sits", sits.is_some())] {
                    if !known {
                        lacking = lacking.and(&Missing::fact(format!("parts.spacer.{name}.{fact}")));
                    }
                }
            }
        }
    }
    if lacking == Missing::default() { Ok(sums) } else { Err(lacking) }
}

/// The sample's spacers make up its stack.
pub fn fits(_: &mut Build) {}

/// A taller stack than is on hand.
pub fn does_not_fit(build: &mut Build) {
    build.settings.spacers_under_mm = Some(25.0.into());
}

/// A spacer without its height.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.spacer.make("ten").height_mm = None);
