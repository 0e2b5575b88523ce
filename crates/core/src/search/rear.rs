//! Every way to the asked saddle: saddles, posts and tilts; extension and rail position follow exactly.

use crate::compute::{Target, rail_range_of};
use crate::finding::mm;
use crate::model::{Known, Missing, Model, Place};
use crate::part::{Post, Saddle};
use crate::{fact, known};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::saddle::{
    Insertion, InsertionLimits, Post as PostShape, SaddleSetting, SaddleShape, SaddleWanted, SeatTube, saddle_position,
    saddle_setting_for,
};

/// The result of the search at the rear.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RearReach {
    /// Combinations tried.
    pub tried: u64,
    /// The ways, best first: every combination, reached or not.
    pub ways: Vec<RearWay>,
    /// Why there was nothing to search.
    pub missing: Option<Missing>,
}

/// One combination.
#[derive(Clone, Debug, PartialEq)]
pub struct RearWay {
    /// The path of the saddle.
    pub saddle: String,
    /// The path of the post.
    pub post: String,
    /// Saddle tilt.
    pub tilt_deg: f64,
    /// Top of the collar to the centre of the rail clamp.
    pub post_extension_mm: f64,
    /// Middle of the usable rail forward of the middle of the clamp, inside the rail's marks where they are known.
    pub rail_position_mm: f64,
    /// The reference point less where it is asked to be.
    pub off: Point2,
    /// The same as a distance.
    pub miss_mm: f64,
    /// What is given up, in words; empty when nothing is.
    pub sacrifices: Vec<String>,
    /// How many limits it breaks.
    broken: usize,
    /// How many parts are not on the bike yet.
    new_parts: usize,
}

/// Every way to the asked saddle, best first.
pub fn rear_ways(model: &Model<'_>, target: &Target) -> RearReach {
    let nothing = |missing| RearReach { missing: Some(missing), ..RearReach::default() };
    let Some(wanted) = target.saddle else {
        return nothing(Missing::refused("nobody has asked where the saddle is to be, or the figures do not say"));
    };
    match ways(model, wanted) {
        Ok(mut ways) => {
            ways.sort_by(|a, b| {
                (a.broken, a.new_parts)
                    .cmp(&(b.broken, b.new_parts))
                    .then(a.miss_mm.total_cmp(&b.miss_mm))
                    .then(a.rail_position_mm.abs().total_cmp(&b.rail_position_mm.abs()))
            });
            RearReach { tried: ways.len() as u64, ways, missing: None }
        }
        Err(missing) => nothing(missing),
    }
}

fn ways(model: &Model<'_>, wanted: Point2) -> Known<Vec<RearWay>> {
    let build = model.build;
    known!(
        seat_tube = crate::compute::seat_tube(model),
        collar_mm = fact!(model.frame, seat_tube_mm),
        tilts = tilts(model),
    );
    let frame = Frame {
        seat_tube,
        collar_mm,
        insertion_min_mm: fact!(model.frame, post_insertion_min_mm).unwrap_or(f64::NEG_INFINITY),
        depth_max_mm: fact!(model.frame, post_depth_max_mm).unwrap_or(f64::INFINITY),
    };
    let mut all = Vec::new();
    let mut missing = Missing::default();
    for (saddle_path, saddle, new_saddle) in
        super::front::candidates("saddle", &build.parts.saddle, &build.shelf.saddle)
    {
        for (post_path, post, new_post) in super::front::candidates("post", &build.parts.post, &build.shelf.post) {
            for tilt_deg in &tilts {
                let parts = Parts {
                    saddle: Place { path: "parts.saddle", part: Some(saddle) },
                    post: Place { path: "parts.post", part: Some(post) },
                };
                match way(&frame, &parts, wanted, *tilt_deg) {
                    Ok(mut way) => {
                        for (new, path) in [(new_saddle, &saddle_path), (new_post, &post_path)] {
                            if new {
                                way.sacrifices.push(format!("get the {}", super::shelf_part(path)));
                            }
                        }
                        way.new_parts = usize::from(new_saddle) + usize::from(new_post);
                        way.saddle.clone_from(&saddle_path);
                        way.post.clone_from(&post_path);
                        all.push(way);
                    }
                    Err(more) => missing = missing.and(&more),
                }
            }
        }
    }
    if all.is_empty() { Err(missing.or_fact("parts.saddle.rail_to_top")) } else { Ok(all) }
}

struct Frame {
    seat_tube: SeatTube,
    collar_mm: f64,
    insertion_min_mm: f64,
    depth_max_mm: f64,
}

struct Parts<'a> {
    saddle: Place<'a, Saddle>,
    post: Place<'a, Post>,
}

fn way(frame: &Frame, parts: &Parts<'_>, wanted: Point2, tilt_deg: f64) -> Known<RearWay> {
    known!(
        to_reference = fact!(parts.saddle, nose_to_reference_mm),
        to_middle = fact!(parts.saddle, nose_to_middle_of_rail_mm),
        clamp_to_top_mm = fact!(parts.saddle, rail_to_top_mm),
        offset_mm = fact!(parts.post, layback_mm),
        length_mm = fact!(parts.post, length_mm),
    );
    let shape = SaddleShape { nose_to_reference_mm: to_reference, nose_above_reference_mm: 0.0, clamp_to_top_mm };
    let post = PostShape { offset_mm };
    let exact = saddle_setting_for(SaddleWanted { reference: wanted, tilt_deg }, frame.seat_tube, post, shape)
        .ok_or_else(|| Missing::refused("the rails run along the seat tube at this tilt: there is nothing to solve"))?;
    let ahead = to_middle - to_reference;
    let mut sacrifices = Vec::new();
    let mut broken = 0;
    let mut rail_mm = exact.rail_shift_mm - ahead;
    let mut extension_mm = exact.extension_mm;
    match rail_range_of(&parts.saddle, &parts.post) {
        Ok(range) => {
            let inside = rail_mm.clamp(range.least_mm, range.most_mm);
            if (inside - rail_mm).abs() > 1e-9 {
                rail_mm = inside;
                // The leg comes first: with the rails at their mark, the post keeps the straight height.
                extension_mm = extension_keeping_height(frame, post, shape, rail_mm + ahead, tilt_deg, wanted)
                    .unwrap_or(exact.extension_mm);
            }
        }
        Err(_) => sacrifices.push("not known whether the clamp stays on the rails".into()),
    }
    let setting = SaddleSetting { extension_mm, rail_shift_mm: rail_mm + ahead, tilt_deg };
    let reference = saddle_position(frame.seat_tube, post, shape, setting).reference;
    let off = Point2 { x_mm: reference.x_mm - wanted.x_mm, y_mm: reference.y_mm - wanted.y_mm };
    let miss_mm = off.length_mm();
    if miss_mm > 0.05 {
        let way = if off.x_mm > 0.0 { "further forward" } else { "further back" };
        sacrifices.push(format!("saddle {} {way} than asked, rails at their mark", mm(miss_mm)));
        broken += usize::from(miss_mm > crate::number::SADDLE_SETBACK.tolerance.value);
    }
    let insertion = Insertion { post_length_mm: length_mm, extension_mm, collar_mm: frame.collar_mm };
    let limits = InsertionLimits {
        post_mark_mm: fact!(parts.post, insertion_min_mm).unwrap_or(f64::NEG_INFINITY),
        frame_least_mm: frame.insertion_min_mm,
        frame_most_mm: frame.depth_max_mm - fact!(parts.post, inside_below_mm).unwrap_or(0.0),
    };
    let margin = insertion.margin(limits);
    if margin.over_least_mm < 0.0 {
        broken += 1;
        sacrifices.push(format!("post {} short of its least insertion", mm(-margin.over_least_mm)));
    }
    if margin.under_most_mm < 0.0 {
        broken += 1;
        sacrifices.push(format!("post {} too deep: to be cut, or a shorter one", mm(-margin.under_most_mm)));
    }
    if insertion.exposed_mm() < 0.0 {
        broken += 1;
        sacrifices.push("the rail clamp would have to sit below the collar".into());
    }
    Ok(RearWay {
        saddle: String::new(),
        post: String::new(),
        tilt_deg,
        post_extension_mm: insertion.exposed_mm(),
        rail_position_mm: rail_mm,
        off,
        miss_mm,
        sacrifices,
        broken,
        new_parts: 0,
    })
}

/// The extension at which the straight height is as asked, with the rails where they are: the height grows with the
/// extension, and the asked one lies between the collar's end and twice the height.
fn extension_keeping_height(
    frame: &Frame,
    post: PostShape,
    shape: SaddleShape,
    rail_shift_mm: f64,
    tilt_deg: f64,
    wanted: Point2,
) -> Option<f64> {
    let height = wanted.length_mm();
    let at = |extension_mm: f64| {
        let setting = SaddleSetting { extension_mm, rail_shift_mm, tilt_deg };
        saddle_position(frame.seat_tube, post, shape, setting).reference.length_mm() - height
    };
    let bracket = witnessmark_mechanics::roots::Bracket { low: height * 0.5, high: height * 1.5, tolerance: 1e-9 };
    witnessmark_mechanics::roots::root(bracket, at)
}

fn tilts(model: &Model<'_>) -> Known<Vec<f64>> {
    if let Some(list) = &model.build.search.saddle_tilt_deg {
        return Ok(list.value.clone());
    }
    let key = (crate::number::SADDLE_TILT.id, crate::number::Side::None);
    match model.build.asked.get(&key).and_then(|asked| asked.value.as_ref()) {
        Some(asked) => Ok(vec![asked.value]),
        None => fact!(model.settings, saddle_tilt_deg).map(|set| vec![set]),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::build::sample::sample;
    use crate::compute;

    #[test]
    fn the_fitted_parts_reach_the_asked_saddle_and_the_plan_agrees() {
        let mut build = sample();
        let model = Model::new(&build);
        let found = rear_ways(&model, &compute::target(&model));
        let best = found.ways[0].clone();
        assert!(best.miss_mm < 1e-9 && best.sacrifices.is_empty(), "{best:?}");
        build.settings.post_extension_mm = Some(best.post_extension_mm.into());
        build.settings.rail_position_mm = Some(best.rail_position_mm.into());
        let model = Model::new(&build);
        let worked = compute::work_out(&model);
        let wanted = worked.target.saddle.unwrap();
        assert!(worked.rear.points.unwrap().reference.distance_mm(wanted) < 1e-6);
    }

    #[test]
    fn rails_at_their_mark_keep_the_height_and_give_up_the_setback() {
        let mut build = sample();
        build.parts.post.make("").layback_mm = Some(40.0.into());
        let model = Model::new(&build);
        let target = compute::target(&model);
        let best = rear_ways(&model, &target).ways[0].clone();
        assert!(best.miss_mm > 5.0 && !best.sacrifices.is_empty(), "{best:?}");
        let wanted = target.saddle.unwrap();
        let reached = Point2 { x_mm: wanted.x_mm + best.off.x_mm, y_mm: wanted.y_mm + best.off.y_mm };
        assert!((reached.length_mm() - wanted.length_mm()).abs() < 1e-6);
        assert!((best.rail_position_mm - 17.0).abs() < 1e-9, "72 mm of rail less 38 mm of clamp, half of it");
    }

    #[test]
    fn a_post_that_would_go_too_deep_is_said_to() {
        let mut build = sample();
        build.parts.post.make("").length_mm = Some(450.0.into());
        let model = Model::new(&build);
        let best = rear_ways(&model, &compute::target(&model)).ways[0].clone();
        assert!(best.sacrifices.iter().any(|words| words.contains("too deep")), "{best:?}");
    }
}
