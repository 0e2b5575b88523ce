//! Toe to tyre, pedal to ground.

use super::chassis::Chassis;
use crate::model::{Known, Missing, Model};
use crate::{fact, known};
use witnessmark_mechanics::lean::PedalLean;
use witnessmark_mechanics::toe::{Foot, FrontWheel, ToeOverlap};

/// Beyond this the bar is not turned while pedalling; a toe that is still clear there counts as clear.
pub(super) const FULL_TURN_DEG: f64 = 60.0;

/// Toe and pedal clearances.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearance {
    /// Steer angle at which the tyre meets the toe; [`FULL_TURN_DEG`] where it does not.
    pub toe_contact_deg: Known<f64>,
    /// Lean at which the pedal meets the ground.
    pub pedal_lean_deg: Known<f64>,
}

/// Works out the clearances.
pub fn clearance(model: &Model<'_>, chassis: &Chassis) -> Clearance {
    Clearance { toe_contact_deg: toe_contact(model, chassis), pedal_lean_deg: pedal_lean(model, chassis) }
}

fn toe_contact(model: &Model<'_>, chassis: &Chassis) -> Known<f64> {
    known!(
        head_angle_deg = chassis.head_angle_deg.clone(),
        axis_point = chassis.head_tube_top.clone(),
        axle = chassis.front_axle.clone(),
        outer_radius_mm = fact!(model.tyre_front, outer_radius_mm),
        width_mm = fact!(model.tyre_front, width_measured_mm),
        crank_mm = fact!(model.crankset, arm_length_mm),
        stance_mm = fact!(model.crankset, stance_mm),
        foot_from_crank_mm = fact!(model.pedal, foot_from_crank_mm),
        tip_ahead_mm = fact!(model.pedal, toe_ahead_mm),
        toe_height_mm = fact!(model.pedal, toe_above_mm),
        toe_radius_mm = fact!(model.pedal, toe_radius_mm),
    );
    let overlap = ToeOverlap {
        wheel: FrontWheel { head_angle_deg, axis_point, axle, outer_radius_mm, section_radius_mm: width_mm / 2.0 },
        foot: Foot {
            crank_mm,
            tip_ahead_mm,
            toe_height_mm,
            toe_radius_mm,
            lateral_mm: stance_mm / 2.0 + foot_from_crank_mm,
        },
    };
    Ok(overlap.contact_steer_deg(FULL_TURN_DEG).unwrap_or(FULL_TURN_DEG))
}

fn pedal_lean(model: &Model<'_>, chassis: &Chassis) -> Known<f64> {
    known!(
        ground = chassis.ground.clone(),
        crank_mm = fact!(model.crankset, arm_length_mm),
        stance_mm = fact!(model.crankset, stance_mm),
        below_axle_mm = fact!(model.pedal, below_axle_mm),
        pedal_width_mm = fact!(model.pedal, width_mm),
        tyre_width_mm = fact!(model.tyre_rear, width_measured_mm),
    );
    PedalLean {
        edge_height_mm: ground.bb_height_mm - crank_mm - below_axle_mm,
        edge_lateral_mm: stance_mm / 2.0 + pedal_width_mm,
        tyre_section_radius_mm: tyre_width_mm / 2.0,
    }
    .lean_deg()
    .ok_or_else(|| Missing::refused("the pedal reaches the ground with the bike upright"))
}
