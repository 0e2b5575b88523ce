//! Saddle on post in frame.

use crate::model::{Known, Missing, Model, Place};
use crate::part::{self, Saddle};
use crate::{fact, known};
use witnessmark_mechanics::saddle::{
    Insertion, Post, RailClamp, SaddlePoints, SaddleSetting, SaddleShape, SeatTube, ShiftRange, saddle_position,
};

/// Saddle and post.
#[derive(Clone, Debug, PartialEq)]
pub struct Rear {
    /// The seat tube's axis.
    pub seat_tube: Known<SeatTube>,
    /// Clamp, reference point and nose.
    pub points: Known<SaddlePoints>,
    /// How deep the post sits.
    pub insertion: Known<Insertion>,
    /// The rail positions that the clamp allows.
    pub rail_range: Known<ShiftRange>,
}

/// Works out the saddle.
pub fn rear(model: &Model<'_>) -> Rear {
    Rear {
        seat_tube: seat_tube(model),
        points: points(model),
        insertion: insertion(model),
        rail_range: rail_range_of(&model.saddle, &model.post),
    }
}

pub(crate) fn seat_tube(model: &Model<'_>) -> Known<SeatTube> {
    known!(angle_deg = fact!(model.frame, seat_angle_deg), behind = fact!(model.frame, seat_axis_behind_bb_mm),);
    Ok(SeatTube { angle_deg, axis_x_at_bb_mm: -behind })
}

pub(crate) fn shape(model: &Model<'_>) -> Known<SaddleShape> {
    known!(
        nose_to_reference_mm = fact!(model.saddle, nose_to_reference_mm),
        nose_below_mm = fact!(model.saddle, nose_below_reference_mm),
        clamp_to_top_mm = fact!(model.saddle, rail_to_top_mm),
    );
    Ok(SaddleShape { nose_to_reference_mm, nose_above_reference_mm: -nose_below_mm, clamp_to_top_mm })
}

/// How far the reference point stands ahead of the middle of the usable rail.
pub(crate) fn reference_ahead_of_middle_mm(model: &Model<'_>) -> Known<f64> {
    known!(
        to_middle = fact!(model.saddle, nose_to_middle_of_rail_mm),
        to_reference = fact!(model.saddle, nose_to_reference_mm),
    );
    Ok(to_middle - to_reference)
}

fn points(model: &Model<'_>) -> Known<SaddlePoints> {
    known!(
        seat_tube = seat_tube(model),
        shape = shape(model),
        offset_mm = fact!(model.post, layback_mm),
        collar_mm = fact!(model.frame, seat_tube_mm),
        exposed_mm = fact!(model.settings, post_extension_mm),
        rail_position_mm = fact!(model.settings, rail_position_mm),
        tilt_deg = fact!(model.settings, saddle_tilt_deg),
        ahead_mm = reference_ahead_of_middle_mm(model),
    );
    let setting =
        SaddleSetting { extension_mm: collar_mm + exposed_mm, rail_shift_mm: rail_position_mm + ahead_mm, tilt_deg };
    Ok(saddle_position(seat_tube, Post { offset_mm }, shape, setting))
}

fn insertion(model: &Model<'_>) -> Known<Insertion> {
    known!(
        post_length_mm = fact!(model.post, length_mm),
        collar_mm = fact!(model.frame, seat_tube_mm),
        exposed_mm = fact!(model.settings, post_extension_mm),
    );
    // A post that stays as it is has no cut to fill in.
    let cut_mm = model.build.settings.post_cut_mm.as_ref().map_or(0.0, |cut| cut.value);
    Ok(Insertion { post_length_mm: post_length_mm - cut_mm, extension_mm: collar_mm + exposed_mm, collar_mm })
}

/// The rail positions (middle of the usable rail ahead of the middle of the clamp) that keep the clamp on the rail.
pub(crate) fn rail_range_of(saddle: &Place<'_, Saddle>, post: &Place<'_, part::Post>) -> Known<ShiftRange> {
    known!(straight_rail_mm = fact!(saddle, rail_usable_mm), clamp_length_mm = fact!(post, clamp_length_mm));
    RailClamp { straight_rail_mm, clamp_length_mm, reference_ahead_of_middle_mm: 0.0 }
        .shift_range()
        .ok_or_else(|| Missing::refused("the clamp is longer than the saddle's usable rail"))
}
