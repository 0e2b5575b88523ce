//! What to set so that a point comes where it is wanted: the same formulas as the forward ones, asked the other way round.

use super::chassis::Chassis;
use super::cockpit::stem_in_place;
use super::saddle::{reference_ahead_of_middle_mm, seat_tube, shape};
use crate::model::{Known, Missing, Model};
use crate::{fact, known};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::cockpit::{ClampWanted, StemAndSpacers, stem_and_spacers_for};
use witnessmark_mechanics::saddle::{Post, SaddleWanted, saddle_setting_for};

/// Post and rails as they are to be set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PostAndRails {
    /// Top of the collar to the centre of the rail clamp, along the post.
    pub post_extension_mm: f64,
    /// Middle of the usable rail forward of the middle of the clamp.
    pub rail_position_mm: f64,
}

/// The stem length and spacers that bring the bar's clamp there, with a stem of the present angle and clamp height.
/// Whether such a stem can be bought, and such a stack is allowed, is for the caller.
pub fn stem_for(model: &Model<'_>, chassis: &Chassis, target: Point2) -> Known<StemAndSpacers> {
    known!(
        head_tube_top = chassis.head_tube_top.clone(),
        head_angle_deg = chassis.head_angle_deg.clone(),
        cover_mm = fact!(model.headset, cover_height_mm),
        stem = stem_in_place(model),
    );
    stem_and_spacers_for(ClampWanted {
        target,
        head_tube_top,
        head_angle_deg,
        cover_mm,
        clamp_height_mm: stem.clamp_height_mm,
        stem_angle_deg: stem.angle_deg,
    })
    .ok_or_else(|| Missing::refused("a stem along the steerer reaches nowhere"))
}

/// The post extension and rail position that bring the saddle's reference point there, tilt kept.
/// Whether post and rails allow it is for the caller.
pub fn saddle_setting(model: &Model<'_>, reference: Point2) -> Known<PostAndRails> {
    known!(
        seat_tube = seat_tube(model),
        shape = shape(model),
        offset_mm = fact!(model.post, layback_mm),
        collar_mm = fact!(model.frame, seat_tube_mm),
        tilt_deg = fact!(model.settings, saddle_tilt_deg),
        ahead_mm = reference_ahead_of_middle_mm(model),
    );
    saddle_setting_for(SaddleWanted { reference, tilt_deg }, seat_tube, Post { offset_mm }, shape)
        .map(|setting| PostAndRails {
            post_extension_mm: setting.extension_mm - collar_mm,
            rail_position_mm: setting.rail_shift_mm - ahead_mm,
        })
        .ok_or_else(|| Missing::refused("the rails run along the post"))
}
