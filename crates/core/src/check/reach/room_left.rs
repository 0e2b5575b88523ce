//! Room is left to move, should the rider want it.
//!
//! - Looks at: how far the bar can still go up and down on its spacers, the saddle fore and aft on its rails, and the post
//!   up in its frame.
//! - Why: a position changes within the first weeks; what has 5 mm left is set on the stand, what has none needs a part.
//! - Source: common practice, no source: 5 mm of room each way.
//! - Fits: 15 mm under the stem and 12 over it, rails near their middle, a post deep in the frame.
//! - Does not fit: the stem sits on the top cover and cannot go lower.
//! - Not known: nobody has said how many spacers sit under the stem; worth a note.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::model::{Known, Missing};
use crate::number::{POST_EXTENSION, RAIL_POSITION, SPACERS_UNDER, Side};

/// Room that is enough.
const ENOUGH_MM: f64 = 5.0;
/// What stays over a stem whose fork wants a spacer there.
const STAYS_OVER_MM: f64 = 5.0;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: 5 mm of room each way";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "the bike is as asked; it is a remark on what may come");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let mut about = Vec::new();
    let mut each = Vec::new();
    let mut room = |room_mm: Option<f64>, thing: &str, way: &str, place: About| {
        if let Some(room_mm) = room_mm.filter(|room| compare::falls_short(*room, ENOUGH_MM)) {
            let far = if compare::exceeds(room_mm, 0.0) { mm(room_mm) } else { "no".to_owned() };
            each.push(format!("the {thing} can go {far} {way}"));
            if !about.contains(&place) {
                about.push(place);
            }
        }
    };
    let bar = About::number(&SPACERS_UNDER, Side::None);
    room(take(fact!(model.settings, spacers_under_mm), &mut lacking), "bar", "lower", bar.clone());
    room(take(up(case), &mut lacking), "bar", "higher", bar);

    let rails = About::number(&RAIL_POSITION, Side::None);
    let set = fact!(model.settings, rail_position_mm);
    if let Some((range, set_mm)) = take(all((case.worked.rear.rail_range.clone(), set)), &mut lacking) {
        room(Some(range.most_mm - set_mm), "saddle", "further forward", rails.clone());
        room(Some(set_mm - range.least_mm), "saddle", "further back", rails);
    }
    let post = take(all((case.worked.rear.insertion.clone(), fact!(model.post, insertion_min_mm))), &mut lacking);
    if let Some((insertion, mark_mm)) = post {
        let least_mm = fact!(model.frame, post_insertion_min_mm).map_or(mark_mm, |frame_mm| frame_mm.max(mark_mm));
        let place = About::number(&POST_EXTENSION, Side::None);
        room(Some(insertion.inserted_mm() - least_mm), "saddle", "higher", place);
    }
    if !each.is_empty() {
        out.say(
            about,
            "Little room is left to move the position.".into(),
            format!("As planned, {}.", and_list(&each)),
            "Agree with the rider that the position is final before the steerer is cut and the post shortened.".into(),
        );
    }
    out.not_known(&lacking, "how much room is left to move the position");
}

/// How far the stem can still be raised on the cut steerer: by the spacers over it, as far as the fork allows them under.
fn up(case: &Case<'_>) -> Known<f64> {
    let model = case.model;
    let (under_mm, over_mm) = all((fact!(model.settings, spacers_under_mm), fact!(model.settings, spacers_over_mm)))?;
    let stays_mm = if fact!(model.fork, spacer_over_required).unwrap_or(false) { STAYS_OVER_MM } else { 0.0 };
    let on_steerer_mm = (over_mm - stays_mm).max(0.0);
    // A maximum that is not told is asked for by the check of the maximum.
    let allowed_mm = fact!(model.fork, spacers_max_mm).map_or(f64::INFINITY, |most_mm| most_mm - under_mm);
    Ok(on_steerer_mm.min(allowed_mm))
}

/// More spacers over the stem.
pub fn fits(build: &mut Build) {
    build.settings.spacers_over_mm = Some(12.0.into());
}

/// The stem sits on the cover.
pub fn does_not_fit(build: &mut Build) {
    build.settings.spacers_under_mm = Some(0.0.into());
}

/// Nobody has said how many spacers.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.settings.spacers_under_mm = None);
