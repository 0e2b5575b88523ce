//! The tape of one side, to scale: the bar in its own plane with its tops laid straight back behind it, and on it every turn.
//!
//! The plane of the bar is that of its drop: x ahead of the clamp, y up. The tops leave that plane; here they go on straight
//! where the curve begins, so that all that is taped lies in one view. A turn's edge runs across the half of the bar that is
//! seen while it goes half a pitch along it, and on a bend it opens outside and closes inside, as it does on the bike.

use super::{Callout, Drawing, Mark, Role, Shape};
use crate::compute::{TapeSide, Worked};
use crate::fact;
use crate::model::Model;
use crate::number::Side;
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::bar::BarCurve;

/// Straight pieces of this length are a curve to the eye.
const FINE_MM: f64 = 4.0;
/// How wide the band of the lever is drawn.
const BAND_MM: f64 = 12.0;

/// Draws the tape of a side; nothing where it is not known. Callouts stand at the bar's end (`tape-turns`), at the lever's
/// clamp (`lever-from-end`) and at the stop (`tape-stop`), each with its side.
pub fn tape(model: &Model<'_>, worked: &Worked, side: Side) -> Drawing {
    let mut drawing = Drawing::default();
    let bar = (model.width_at_hoods_mm(), model.tube_mm());
    let known = (worked.tape.side(side), &worked.front.curve, bar, fact!(model.tape, thickness_mm));
    let (Ok(wound), Ok(curve), (Ok(across_mm), Ok(tube_mm)), Ok(thickness_mm)) = known else { return drawing };
    let bar = Bar { curve, tops_mm: across_mm / 2.0 };
    let about = |id: &str| vec![format!("{id}.{}", side.word())];
    let taped_mm = tube_mm + 2.0 * thickness_mm;
    let length_mm = wound.end_to_lever_mm + wound.lever_to_stop_mm;

    let bare = bar.stretch(0.0, curve.length_mm() + bar.tops_mm);
    drawing.marks.push(Mark { role: Role::Wheel, shape: Shape::Path(bare), thickness_mm: tube_mm, about: Vec::new() });
    let taped = Shape::Path(bar.stretch(0.0, length_mm));
    drawing.marks.push(Mark { role: Role::Frame, shape: taped, thickness_mm: taped_mm, about: about("tape-turns") });
    for (from_mm, to_mm) in edges(wound, length_mm) {
        let line = Shape::Path(bar.slant(from_mm, to_mm, taped_mm / 2.0));
        drawing.marks.push(Mark { role: Role::Part, shape: line, thickness_mm: 0.0, about: about("tape-turns") });
    }
    // Where the tape begins and where it ends it is cut square.
    for along_mm in [0.0, length_mm] {
        let line = Shape::Path(bar.square(along_mm, taped_mm / 2.0));
        drawing.marks.push(Mark { role: Role::Part, shape: line, thickness_mm: 0.0, about: about("tape-stop") });
    }
    let band = bar.stretch(wound.end_to_lever_mm - BAND_MM / 2.0, wound.end_to_lever_mm + BAND_MM / 2.0);
    let band =
        Mark { role: Role::Measured, shape: Shape::Path(band), thickness_mm: taped_mm, about: about("lever-from-end") };
    drawing.marks.push(band);
    for (id, along_mm) in [("tape-turns", 0.0), ("lever-from-end", wound.end_to_lever_mm), ("tape-stop", length_mm)] {
        drawing.callouts.push(Callout { at: bar.at(along_mm).0, about: about(id).remove(0) });
    }
    drawing
}

/// Where the edge of each turn enters and leaves the half of the bar that is seen, from the bar's end.
fn edges(wound: &TapeSide, length_mm: f64) -> impl Iterator<Item = (f64, f64)> {
    let pitch_mm = wound.pitch_mm;
    // A pitch of next to nothing is no pitch; a roll has a few dozen turns.
    let turns = if pitch_mm > 1.0 { (length_mm / pitch_mm).floor() } else { 0.0 };
    let mut turn = 0.0;
    std::iter::from_fn(move || {
        turn += 1.0;
        (turn <= turns).then(|| {
            let from_mm = turn * pitch_mm;
            (from_mm, (from_mm + pitch_mm / 2.0).min(length_mm))
        })
    })
}

/// The bar of one side, walked from its end.
struct Bar<'a> {
    curve: &'a BarCurve,
    tops_mm: f64,
}

impl Bar<'_> {
    /// The place so far from the bar's end, and the direction square to the bar there.
    fn at(&self, along_mm: f64) -> (Point2, Point2) {
        let arc_mm = self.curve.length_mm() - along_mm.clamp(0.0, self.curve.length_mm() + self.tops_mm);
        let place = self.curve.at(arc_mm.max(0.0));
        let forward = Point2::direction(place.tangent_deg);
        let point = Point2::at(place.x_mm, place.y_mm) + forward * arc_mm.min(0.0);
        (point, Point2::direction(place.tangent_deg + 90.0))
    }

    /// The centre line between two places.
    fn stretch(&self, from_mm: f64, to_mm: f64) -> Vec<Point2> {
        self.steps(from_mm, to_mm).map(|(along_mm, _)| self.at(along_mm).0).collect()
    }

    /// A line that crosses the bar from its inside to its outside between two places.
    fn slant(&self, from_mm: f64, to_mm: f64, radius_mm: f64) -> Vec<Point2> {
        self.steps(from_mm, to_mm)
            .map(|(along_mm, share)| {
                let (point, across) = self.at(along_mm);
                // Half round a tube, seen from the side, is a cosine.
                point + across * (-radius_mm * (share * core::f64::consts::PI).cos())
            })
            .collect()
    }

    /// A line straight across the bar.
    fn square(&self, along_mm: f64, radius_mm: f64) -> Vec<Point2> {
        let (point, across) = self.at(along_mm);
        vec![point + across * -radius_mm, point + across * radius_mm]
    }

    /// Places from one to the other, each with the share of the way.
    fn steps(&self, from_mm: f64, to_mm: f64) -> impl Iterator<Item = (f64, f64)> + use<> {
        let most = self.curve.length_mm() + self.tops_mm;
        let (from_mm, to_mm) = (from_mm.max(0.0), to_mm.min(most));
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a bar is some hundreds of mm long")]
        let count = ((to_mm - from_mm) / FINE_MM).ceil().clamp(6.0, 1000.0) as u32;
        (0..=count).map(move |step| {
            let share = f64::from(step) / f64::from(count);
            (from_mm + share * (to_mm - from_mm), share)
        })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::panic, reason = "a side that is not known is to stop the test")]

    use super::*;
    use crate::build::sample::sample;
    use crate::compute::work_out;

    #[test]
    fn every_turn_is_drawn_and_the_drawing_is_as_long_as_the_bar() {
        let build = sample();
        let model = Model::new(&build);
        let worked = work_out(&model);
        let wound = worked.tape.left.as_ref().unwrap();
        let drawn = tape(&model, &worked, Side::Left);
        let is_turn = |mark: &&Mark| mark.role == Role::Part && mark.about == ["tape-turns.left"];
        let lines = drawn.marks.iter().filter(is_turn).count();
        let turns = (wound.turns_to_lever + wound.turns_to_stop).floor();
        assert!((f64::from(u32::try_from(lines).unwrap()) - turns).abs() < 1e-9, "{lines} lines, {turns} turns");
        let taped = drawn.marks.iter().find(|mark| mark.role == Role::Frame).unwrap();
        let Shape::Path(points) = &taped.shape else { panic!("the tape is a line with a thickness") };
        let length_mm: f64 = points.windows(2).map(|pair| pair[0].distance_mm(pair[1])).sum();
        let by_sum_mm = wound.end_to_lever_mm + wound.lever_to_stop_mm;
        assert!((length_mm - by_sum_mm).abs() < 1.0, "{length_mm} drawn, {by_sum_mm} wound");
    }

    #[test]
    fn the_stop_stands_as_far_from_the_end_of_the_tops_as_it_is_asked_to() {
        let build = sample();
        let model = Model::new(&build);
        let worked = work_out(&model);
        let drawn = tape(&model, &worked, Side::Right);
        let stop = drawn.callouts.iter().find(|one| one.about == "tape-stop.right").unwrap();
        let Shape::Path(bare) = &drawn.marks[0].shape else { panic!("the bar is a line with a thickness") };
        let middle = bare.last().unwrap();
        assert!((stop.at.distance_mm(*middle) - 60.0).abs() < 1e-6, "{stop:?} {middle:?}");
    }

    #[test]
    fn an_unknown_side_draws_nothing() {
        let build = crate::build::Build::default();
        let model = Model::new(&build);
        assert!(tape(&model, &work_out(&model), Side::Left).marks.is_empty());
    }
}
