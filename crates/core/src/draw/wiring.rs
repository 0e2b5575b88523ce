//! The tree of shift wires along the bike: every unit in its place, every wire along its way.

use super::{Callout, Drawing, Mark, Role, Shape};
use crate::compute::{Worked, stations};
use crate::fact;
use crate::model::Model;
use crate::number::Side;
use crate::part::Station;
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::chain::tip_radius_mm;
use witnessmark_mechanics::frame::steering_axis;
use witnessmark_mechanics::saddle::Insertion;

/// Units that sit nearer to one another than this are drawn below one another, so that each can be read and touched.
const APART_MM: f64 = 58.0;

/// Radius of a unit as drawn.
const UNIT_MM: f64 = 25.0;

/// Draws the wires in the frame of the bike; a wire or unit whose place is not known is left out. Callouts stand at the
/// units, by their paths.
pub fn wiring(model: &Model<'_>, worked: &Worked) -> Drawing {
    let mut drawing = Drawing::default();
    let wiring = &worked.wiring;
    let mut seats: Vec<Option<Point2>> = Vec::new();
    for unit in &wiring.units {
        let seat = unit.station.and_then(|station| point(model, worked, station)).map(|mut seat| {
            // Each step down leaves one of the others behind, so there are at most as many steps as others.
            for _ in 0..seats.len() {
                if !seats.iter().flatten().any(|other: &Point2| other.distance_mm(seat) < APART_MM - 1.0) {
                    break;
                }
                seat.y_mm -= APART_MM;
            }
            seat
        });
        seats.push(seat);
    }
    for wire in &wiring.wires {
        let Some((one, other)) = wire.ends[0].unit.zip(wire.ends[1].unit) else { continue };
        let Some((from, to)) = seats[one].zip(seats[other]) else { continue };
        let Some((start, end)) = wiring.units[one].station.zip(wiring.units[other].station) else { continue };
        let passed = stations(start, end);
        let between = passed.iter().skip(1).take(passed.len().saturating_sub(2));
        let mut points = vec![from];
        points.extend(between.filter_map(|station| point(model, worked, *station)));
        points.push(to);
        let about = vec![wire.path.clone(), format!("{}.length", wire.path)];
        drawing.marks.push(Mark { role: Role::Part, shape: Shape::Path(points), thickness_mm: 4.0, about });
    }
    for (unit, seat) in wiring.units.iter().zip(&seats) {
        let Some(centre) = *seat else { continue };
        let shape = Shape::Circle { centre, radius_mm: UNIT_MM };
        drawing.marks.push(Mark { role: Role::Part, shape, thickness_mm: 0.0, about: vec![unit.path.clone()] });
        drawing.callouts.push(Callout { at: centre, about: unit.path.clone() });
    }
    drawing
}

/// A station in the side view.
fn point(model: &Model<'_>, worked: &Worked, station: Station) -> Option<Point2> {
    let chassis = &worked.chassis;
    let seat_tube = |up_mm: f64| {
        let tube = worked.rear.seat_tube.as_ref().ok()?;
        Some(Point2::at(tube.axis_x_at_bb_mm, 0.0) + tube.upwards() * up_mm)
    };
    match station {
        Station::LeverLeft | Station::LeverRight => {
            let side = if station == Station::LeverLeft { Side::Left } else { Side::Right };
            worked.front.hood(side).as_ref().ok().map(|hood| hood.clamp_point.side_view())
        }
        Station::BarEndLeft | Station::BarEndRight => {
            let (curve, clamp) = (worked.front.curve.as_ref().ok()?, worked.front.bar_clamp.as_ref().ok()?);
            let roll_deg = fact!(model.settings, bar_roll_deg).unwrap_or(0.0);
            let end = curve.at(curve.length_mm());
            let flat = Point2::at(end.x_mm, end.y_mm * curve.flare_deg().to_radians().cos());
            Some(*clamp + flat.rotated_deg(roll_deg))
        }
        Station::Stem => worked.front.bar_clamp.as_ref().ok().copied(),
        Station::HeadTube => chassis.head_tube_top.as_ref().ok().copied(),
        Station::DownTube => {
            let (top, angle_deg) = (chassis.head_tube_top.as_ref().ok()?, chassis.head_angle_deg.as_ref().ok()?);
            let head_tube_mm = fact!(model.frame, head_tube_mm).ok()?;
            Some(*top + steering_axis(*angle_deg) * -head_tube_mm)
        }
        Station::Shell => Some(Point2::ORIGIN),
        Station::SeatTube => {
            let seat_tube_mm = fact!(model.frame, seat_tube_mm).ok()?;
            let inserted_mm = worked.rear.insertion.as_ref().map_or(0.0, Insertion::inserted_mm);
            seat_tube((seat_tube_mm - inserted_mm).max(0.0))
        }
        Station::FrontDerailleur => {
            let ring = *worked.transmission.rings.as_ref().ok()?.first()?;
            seat_tube(tip_radius_mm(ring)? + 25.0)
        }
        Station::RearDerailleur => {
            // The port sits about as far below the axle as the cage's pivot.
            let axle = chassis.rear_axle.as_ref().ok()?;
            Some(*axle + Point2::at(-10.0, -60.0))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::build::sample::sample;
    use crate::compute;

    #[test]
    fn every_unit_and_every_wire_of_the_sample_is_drawn_and_wires_end_in_their_units() {
        let build = sample();
        let model = Model::new(&build);
        let worked = compute::work_out(&model);
        let drawing = wiring(&model, &worked);
        assert_eq!(drawing.callouts.len(), worked.wiring.units.len());
        let mut wires = 0;
        for mark in &drawing.marks {
            if let Shape::Path(points) = &mark.shape {
                wires += 1;
                for end in [points[0], points[points.len() - 1]] {
                    assert!(drawing.callouts.iter().any(|unit| unit.at == end), "{}", mark.about[0]);
                }
            }
        }
        assert_eq!(wires, worked.wiring.wires.len());
    }

    #[test]
    fn an_empty_document_draws_nothing() {
        let build = crate::build::Build::default();
        let model = Model::new(&build);
        assert!(wiring(&model, &compute::work_out(&model)).marks.is_empty());
    }
}
