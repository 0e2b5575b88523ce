//! The mass of the bike as bars of one scale, an area each, and the bike with the place at which its mass lies.
//!
//! Places along a bar are shares of its length: 0 at nothing, 1 at what the heaviest area may weigh at most.

use super::{Callout, Drawing, Mark, Role, Shape};
use crate::compute::{AreaMass, Worked};
use witnessmark_mechanics::Point2;

/// An area as a bar with its doubt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MassBar {
    /// The area.
    pub area: AreaMass,
    /// Where its bar ends.
    pub share: f64,
    /// The least it may be.
    pub low: f64,
    /// The most it may be.
    pub high: f64,
}

/// Every area as a bar, in the order of the walk-round.
pub fn mass_bars(worked: &Worked) -> Vec<MassBar> {
    let areas = &worked.mass.areas;
    let full_g = areas.iter().map(|area| area.mass_g + area.plus_minus_g).fold(0.0, f64::max);
    let share = |mass_g: f64| if full_g > 0.0 { (mass_g / full_g).clamp(0.0, 1.0) } else { 0.0 };
    areas
        .iter()
        .map(|area| MassBar {
            area: *area,
            share: share(area.mass_g),
            low: share(area.mass_g - area.plus_minus_g),
            high: share(area.mass_g + area.plus_minus_g),
        })
        .collect()
}

/// Radius of the mark at the centre of mass.
const MARK_MM: f64 = 26.0;

/// The centre of mass in the side view, with a plumb line to the ground; nothing where it is not known. Callouts stand at the
/// centre (`mass`) and below the axles (`wheel-load`).
pub fn balance(worked: &Worked) -> Drawing {
    let mut drawing = Drawing::default();
    let chassis = &worked.chassis;
    let known = (&worked.mass.balance, &chassis.front_axle, &chassis.rear_axle, &chassis.ground);
    let (Ok(balance), Ok(front), Ok(rear), Ok(ground)) = known else { return drawing };
    let centre = balance.centre;
    let floor_mm = -ground.bb_height_mm;
    let line = |points: Vec<Point2>, about: &str| Mark {
        role: Role::Part,
        shape: Shape::Path(points),
        thickness_mm: 0.0,
        about: vec![about.to_owned()],
    };
    drawing.marks.push(line(vec![centre, Point2::at(centre.x_mm, floor_mm)], "mass"));
    for axle in [front, rear] {
        drawing.marks.push(line(vec![*axle, Point2::at(axle.x_mm, floor_mm)], "wheel-load"));
    }
    let mark = Shape::Circle { centre, radius_mm: MARK_MM };
    drawing.marks.push(Mark { role: Role::Part, shape: mark, thickness_mm: 0.0, about: vec!["mass".into()] });
    // A cross through the mark, as a centre of mass is drawn.
    let (across, up) = (Point2::at(MARK_MM, 0.0), Point2::at(0.0, MARK_MM));
    drawing.marks.push(line(vec![centre + across * -1.0, centre + across], "mass"));
    drawing.marks.push(line(vec![centre + up * -1.0, centre + up], "mass"));
    drawing.callouts.push(Callout { at: centre, about: "mass".into() });
    drawing.callouts.push(Callout { at: Point2::at(front.x_mm, floor_mm), about: "wheel-load.front".into() });
    drawing.callouts.push(Callout { at: Point2::at(rear.x_mm, floor_mm), about: "wheel-load.rear".into() });
    drawing
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a mass that is not known is to stop the test")]

    use super::*;
    use crate::build::sample::sample;
    use crate::compute::work_out;
    use crate::model::Model;

    #[test]
    fn the_heaviest_area_reaches_the_end_of_its_scale_and_bars_keep_their_proportion() {
        let build = sample();
        let bars = mass_bars(&work_out(&Model::new(&build)));
        assert!(bars.len() > 4);
        let longest = bars.iter().map(|bar| bar.high).fold(0.0, f64::max);
        assert!((longest - 1.0).abs() < 1e-12);
        for bar in &bars {
            assert!(bar.low <= bar.share && bar.share <= bar.high);
            let per_gram = bar.share / bar.area.mass_g;
            assert!((per_gram - bars[0].share / bars[0].area.mass_g).abs() < 1e-12, "one scale for all");
        }
    }

    #[test]
    fn the_centre_is_drawn_where_the_balance_puts_it_and_between_the_axles() {
        let build = sample();
        let worked = work_out(&Model::new(&build));
        let drawn = balance(&worked);
        let at = |about: &str| drawn.callouts.iter().find(|one| one.about == about).unwrap().at;
        let centre = at("mass");
        assert_eq!(centre, worked.mass.balance.as_ref().unwrap().centre);
        assert!(at("wheel-load.rear").x_mm < centre.x_mm && centre.x_mm < at("wheel-load.front").x_mm);
        // The lever arms say the same as the loads.
        let arms =
            (centre.x_mm - at("wheel-load.rear").x_mm) / (at("wheel-load.front").x_mm - at("wheel-load.rear").x_mm);
        assert!((arms - worked.mass.balance.unwrap().front_share()).abs() < 0.005);
    }

    #[test]
    fn an_empty_document_draws_nothing() {
        let build = crate::build::Build::default();
        let worked = work_out(&Model::new(&build));
        assert!(mass_bars(&worked).is_empty() && balance(&worked).marks.is_empty());
    }
}
