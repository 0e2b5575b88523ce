//! Frame, fork and tyres: how the bike stands and steers.

use crate::model::{Known, Missing, Model};
use crate::part::ForkLengthIs;
use crate::{fact, known};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::frame::{ForkLength, FrameTable, LevelTable, rear_axle, steering_axis};
use witnessmark_mechanics::ground::{Ground, Steering, Wheels};

/// How the bike stands and steers.
#[derive(Clone, Debug, PartialEq)]
pub struct Chassis {
    /// Centre of the top of the head tube.
    pub head_tube_top: Known<Point2>,
    /// Head angle of the table, axles level.
    pub head_angle_deg: Known<f64>,
    /// Front axle, from the drop of the bottom bracket.
    pub front_axle: Known<Point2>,
    /// Rear axle.
    pub rear_axle: Known<Point2>,
    /// The ground under the fitted tyres.
    pub ground: Known<Ground>,
    /// The steering on that ground.
    pub steering: Known<Steering>,
    /// The whole table with the fork's length, where everything is known.
    pub table: Known<FrameTable>,
}

/// Works out how the bike stands.
pub fn chassis(model: &Model<'_>) -> Chassis {
    let front_axle = front_axle(model);
    let rear_axle = rear(model);
    let ground = ground(model, front_axle.as_ref(), rear_axle.as_ref());
    let steering = steering(model, ground.as_ref());
    Chassis {
        head_tube_top: head_tube_top(model),
        head_angle_deg: fact!(model.frame, head_angle_deg),
        front_axle,
        rear_axle,
        ground,
        steering,
        table: table(model),
    }
}

/// Centre of the top of the head tube; a cover that the table counts is taken off.
pub(crate) fn head_tube_top(model: &Model<'_>) -> Known<Point2> {
    known!(x_mm = fact!(model.frame, reach_mm), y_mm = fact!(model.frame, stack_mm));
    let top = Point2 { x_mm, y_mm };
    if !fact!(model.frame, stack_counts_cover).unwrap_or(false) {
        return Ok(top);
    }
    known!(cover_mm = fact!(model.headset, cover_height_mm), head_angle_deg = fact!(model.frame, head_angle_deg),);
    let axis = steering_axis(head_angle_deg);
    Ok(Point2 { x_mm: top.x_mm - cover_mm * axis.x_mm, y_mm: top.y_mm - cover_mm * axis.y_mm })
}

fn front_axle(model: &Model<'_>) -> Known<Point2> {
    known!(
        top = head_tube_top(model),
        head_angle_deg = fact!(model.frame, head_angle_deg),
        fork_offset_mm = fact!(model.fork, offset_mm),
        bb_drop_mm = fact!(model.frame, bb_drop_mm),
    );
    let table = LevelTable { stack_mm: top.y_mm, reach_mm: top.x_mm, head_angle_deg, fork_offset_mm, bb_drop_mm };
    Ok(table.front_axle())
}

fn rear(model: &Model<'_>) -> Known<Point2> {
    known!(stay = fact!(model.frame, chainstay_mm), drop = fact!(model.frame, bb_drop_mm));
    rear_axle(stay, drop)
        .ok_or_else(|| Missing::refused(format!("a chainstay of {stay} mm cannot reach below a drop of {drop} mm")))
}

fn ground(model: &Model<'_>, front: Result<&Point2, &Missing>, rear: Result<&Point2, &Missing>) -> Known<Ground> {
    known!(
        front_axle = front.copied().map_err(Clone::clone),
        rear_axle = rear.copied().map_err(Clone::clone),
        front_radius_mm = fact!(model.tyre_front, outer_radius_mm),
        rear_radius_mm = fact!(model.tyre_rear, outer_radius_mm),
    );
    Ground::from_wheels(Wheels { front_axle, rear_axle, front_radius_mm, rear_radius_mm })
        .ok_or_else(|| Missing::refused("the two wheels overlap: there is no ground under both"))
}

fn steering(model: &Model<'_>, ground: Result<&Ground, &Missing>) -> Known<Steering> {
    known!(
        ground = ground.copied().map_err(Clone::clone),
        head_angle_deg = fact!(model.frame, head_angle_deg),
        fork_offset_mm = fact!(model.fork, offset_mm),
        front_radius_mm = fact!(model.tyre_front, outer_radius_mm),
    );
    Ok(Steering { head_angle_deg, fork_offset_mm, front_radius_mm, ground_tilt_deg: ground.tilt_deg })
}

fn table(model: &Model<'_>) -> Known<FrameTable> {
    match fact!(model.fork, length_is) {
        Ok(ForkLengthIs::AlongAxis) => frame_table(model, ForkLength::AlongAxis),
        Ok(ForkLengthIs::Straight) => frame_table(model, ForkLength::Straight),
        // Everything that is missing is named, not only this.
        Err(missing) => match frame_table(model, ForkLength::AlongAxis) {
            Ok(_) => Err(missing),
            Err(others) => Err(others.and(&missing)),
        },
    }
}

/// The frame's table with the fork's length, taken to be meant in this way.
pub fn frame_table(model: &Model<'_>, fork_length_is: ForkLength) -> Known<FrameTable> {
    known!(
        top = head_tube_top(model),
        head_angle_deg = fact!(model.frame, head_angle_deg),
        head_tube_mm = fact!(model.frame, head_tube_mm),
        lower_stack_mm = fact!(model.headset, lower_stack_mm),
        fork_length_mm = fact!(model.fork, length_mm),
        fork_offset_mm = fact!(model.fork, offset_mm),
        bb_drop_mm = fact!(model.frame, bb_drop_mm),
        chainstay_mm = fact!(model.frame, chainstay_mm),
    );
    Ok(FrameTable {
        stack_mm: top.y_mm,
        reach_mm: top.x_mm,
        head_angle_deg,
        head_tube_mm,
        lower_stack_mm,
        fork_length_mm,
        fork_length_is,
        fork_offset_mm,
        bb_drop_mm,
        chainstay_mm,
    })
}

/// The same table if its stack and reach counted the top cover where they are taken not to, or the other way round.
pub fn cover_read_otherwise(model: &Model<'_>, table: &FrameTable) -> Known<FrameTable> {
    known!(cover_mm = fact!(model.headset, cover_height_mm));
    let counted = fact!(model.frame, stack_counts_cover).unwrap_or(false);
    let axis = steering_axis(table.head_angle_deg);
    let along_mm = if counted { cover_mm } else { -cover_mm };
    Ok(FrameTable {
        stack_mm: table.stack_mm + along_mm * axis.y_mm,
        reach_mm: table.reach_mm + along_mm * axis.x_mm,
        ..*table
    })
}
