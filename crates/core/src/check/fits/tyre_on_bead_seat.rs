//! Tyre and rim have the same bead seat.
//!
//! - Looks at: the bead seat in each tyre's size, and the diameter of its rim's bead seat.
//! - Why: a tyre for 630 slips over a rim for 622 and comes off; one for 584 never goes on. 622 is the only size of
//!   road wheel.
//! - Source: ISO 5775-1 (tyre and rim designations): the second figure of a tyre's size is the bead seat; 622 mm is
//!   common to both
//! - Fits: 28-622 on 622.
//! - Does not fit: a front tyre for 584.
//! - Not known: the front tyre's size was not read.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, sizes, take};
use crate::fact;
use crate::finding::{figure, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "ISO 5775-1 (tyre and rim designations): the second figure of a tyre's size is the bead seat; 622 mm is common to both";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tyre", "wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let size = fact!(end.tyre, etrto).and_then(|text| sizes::tyre(&text));
        let facts = all((size, fact!(end.wheel, bead_seat_diameter_mm)));
        let Some((size, seat_mm)) = take(facts, &mut lacking) else { continue };
        if !compare::same_within(size.seat_mm, seat_mm, 0.5) {
            out.say(
                vec![end.tyre.at("etrto"), end.wheel.at("bead_seat_diameter")],
                format!("The {} tyre is not for this rim.", end.side.word()),
                format!("The tyre sits on {} and the rim's bead seat measures {}.", mm(size.seat_mm), mm(seat_mm)),
                format!("Order a tyre whose size ends in {}.", figure(seat_mm, 0)),
            );
        }
    }
    out.not_known(&lacking, "whether the tyres sit on their rims");
}

/// 28-622 on 622.
pub fn fits(_: &mut Build) {}

/// A front tyre for 584.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tyre.make("front").etrto = Some("28-584".into());
}

/// The front tyre's size was not read.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.tyre.make("front").etrto = None);
