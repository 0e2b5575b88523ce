//! The tyre is neither too narrow nor too wide for the rim.
//!
//! - Looks at: each tyre's nominal width and its rim's inner width.
//! - Why: on too wide a rim the tyre stands square and leaves the rim at a pothole; on too narrow a one it rolls over
//!   in a bend.
//! - Source: the standard's table of rim widths for each tyre width (ISO 5775-1, straight-sided and crotchet rims),
//!   from memory
//! - Fits: 28 on 21.
//! - Does not fit: 23 on a rim of 25.
//! - Not known: nobody measured the front rim's inner width.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, sizes, take};
use crate::fact;
use crate::finding::{figure, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the standard's table of rim widths for each tyre width (ISO 5775-1, straight-sided and crotchet rims), from memory";
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
        let facts = all((size, fact!(end.wheel, rim_inner_width_mm)));
        let Some((size, rim_mm)) = take(facts, &mut lacking) else { continue };
        let Some((least_mm, most_mm)) = rims_for(size.width_mm) else { continue };
        if compare::falls_short(rim_mm, least_mm) || compare::exceeds(rim_mm, most_mm) {
            let way = if rim_mm > most_mm { "wide" } else { "narrow" };
            out.say(
                vec![end.tyre.at("etrto"), end.wheel.at("rim_inner_width")],
                format!("The {} rim is too {way} for its tyre.", end.side.word()),
                format!(
                    "A tyre of {} goes onto rims of {} to {} inside, and this one has {}.",
                    figure(size.width_mm, 0),
                    figure(least_mm, 0),
                    mm(most_mm),
                    mm(rim_mm)
                ),
                "Choose another width of tyre, unless the makers of both name this pair in writing.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the tyres suit the width of their rims");
}

/// Nominal tyre widths up to the first figure go onto rims from the second to the third, inside, mm.
pub(crate) const RIMS_MM: [(f64, f64, f64); 9] = [
    (20.0, 13.0, 15.0),
    (24.0, 13.0, 19.0),
    (25.0, 13.0, 21.0),
    (28.0, 15.0, 23.0),
    (32.0, 15.0, 25.0),
    (34.0, 17.0, 25.0),
    (40.0, 17.0, 27.0),
    (47.0, 17.0, 29.0),
    (57.0, 19.0, 35.0),
];

/// Narrowest and widest rim for a tyre; none for a tyre outside the table.
fn rims_for(tyre_mm: f64) -> Option<(f64, f64)> {
    let row = RIMS_MM.iter().find(|(up_to_mm, ..)| tyre_mm <= *up_to_mm)?;
    (tyre_mm >= 18.0).then_some((row.1, row.2))
}

/// 28 on 21.
pub fn fits(_: &mut Build) {}

/// 23 on a rim of 25.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tyre.make("front").etrto = Some("23-622".into());
    build.parts.wheel.make("front").rim_inner_width_mm = Some(25.0.into());
}

/// Nobody measured the front rim's inner width.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("front").rim_inner_width_mm = None);
