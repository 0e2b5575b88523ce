//! The numbers that race rules ask for and nobody else: over everything, ahead of an axle, rolled out.

use super::chassis::Chassis;
use super::cockpit::Front;
use super::transmission::Transmission;
use crate::model::{Known, Missing, Model, Place};
use crate::number::{Number, Side};
use crate::part::{Tyre, Wheel};
use crate::{fact, known};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::gears::Gear;

/// Width at the ends, centre to centre: as stated, or as the bar's own figures give it.
fn width_at_ends_mm(model: &Model<'_>, front: &Front) -> Known<f64> {
    let stated = if model.one_piece() { fact!(model.cockpit, width_ends_mm) } else { fact!(model.bar, width_ends_mm) };
    stated.or_else(|missing| front.end_width_mm.clone().map_err(|_| missing))
}

/// The wider of hoods and ends, and one tube.
pub(super) fn bar_width_outside(model: &Model<'_>, front: &Front) -> Known<f64> {
    known!(hoods = model.width_at_hoods_mm(), ends = width_at_ends_mm(model, front), tube = model.tube_mm());
    Ok(hoods.max(ends) + tube)
}

/// Half of what the ends are wider than the hoods.
pub(super) fn bar_flare(model: &Model<'_>, front: &Front) -> Known<f64> {
    known!(hoods = model.width_at_hoods_mm(), ends = width_at_ends_mm(model, front));
    Ok((ends - hoods) / 2.0)
}

/// Foremost point of the bar ahead of the front axle. The point that is foremost unrolled is taken, turned with the bar:
/// within 1 mm for rolls up to 10°.
pub(super) fn bar_ahead(model: &Model<'_>, front: &Front, chassis: &Chassis) -> Known<f64> {
    known!(
        clamp = front.bar_clamp.clone(),
        curve = front.curve.clone(),
        axle = chassis.front_axle.clone(),
        roll_deg = fact!(model.settings, bar_roll_deg),
        tube_mm = model.tube_mm(),
    );
    let bend = curve.foremost_arc_mm().map_or(curve.at(curve.length_mm()), |arc_mm| curve.at(arc_mm));
    let bend = Point2 { x_mm: bend.x_mm, y_mm: bend.y_mm }.rotated_deg(roll_deg);
    Ok(clamp.x_mm + bend.x_mm + tube_mm / 2.0 - axle.x_mm)
}

/// How far a hood leans to the drop it sits on: sin = toe-in ÷ tip from the bar's centre, as in `mechanics::cockpit::hood`.
pub(super) fn hood_lean(model: &Model<'_>, side: Side) -> Known<f64> {
    let (toe_in, lever) = if side == Side::Right {
        (fact!(model.settings, toe_in_right_mm), &model.lever_right)
    } else {
        (fact!(model.settings, toe_in_left_mm), &model.lever_left)
    };
    known!(toe_in_mm = toe_in, tip_out_mm = fact!(lever, tip_out_mm));
    let sin = toe_in_mm / tip_out_mm;
    if sin.abs() > 1.0 {
        return Err(Missing::refused(format!("a hood of {tip_out_mm} mm cannot stand {toe_in_mm} mm inward")));
    }
    Ok(sin.asin().to_degrees())
}

/// Over both tyres.
pub(super) fn bike_length(model: &Model<'_>, chassis: &Chassis) -> Known<f64> {
    known!(
        ground = chassis.ground.clone(),
        front_mm = fact!(model.tyre_front, outer_radius_mm),
        rear_mm = fact!(model.tyre_rear, outer_radius_mm),
    );
    Ok(ground.wheelbase_mm + front_mm + rear_mm)
}

/// A number that no part tells: it has to be read off the bike.
pub(super) fn only_read(number: &Number) -> Known<f64> {
    Err(Missing::fact(format!("measured.{}.value", number.id)))
}

/// The largest ring on the smallest sprocket, as far as the rear wheel rolls: rolled out with the rider on where that was
/// done.
pub(super) fn development_longest(worked: &Transmission) -> Known<f64> {
    known!(rings = worked.rings.clone(), sprockets = worked.sprockets.clone(), rear = worked.rolling.clone());
    let (Some(&ring), Some(&sprocket)) = (rings.first(), sprockets.first()) else {
        return Err(Missing::refused("the crankset has no ring, or the cassette no sprocket"));
    };
    Ok(Gear { ring, sprocket }.development_mm(rear.rolling.circumference_mm))
}

fn wheel<'a>(model: &Model<'a>, side: Side) -> Place<'a, Wheel> {
    let (path, place) = if side == Side::Rear { ("parts.wheel.rear", "rear") } else { ("parts.wheel.front", "front") };
    Place { path, part: model.build.parts.wheel.at(place) }
}

/// As its maker states it.
pub(super) fn rim_depth(model: &Model<'_>, side: Side) -> Known<f64> {
    fact!(wheel(model, side), rim_depth_mm)
}

/// As its maker states it.
pub(super) fn spokes(model: &Model<'_>, side: Side) -> Known<f64> {
    fact!(wheel(model, side), spokes).map(f64::from)
}

/// Twice the radius.
pub(super) fn wheel_diameter(model: &Model<'_>, side: Side) -> Known<f64> {
    let tyre: &Place<'_, Tyre> = if side == Side::Rear { &model.tyre_rear } else { &model.tyre_front };
    fact!(tyre, outer_radius_mm).map(|radius_mm| 2.0 * radius_mm)
}
