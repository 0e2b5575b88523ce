//! The chain at both extremes: round the largest ring and sprocket, and in the smallest pair that is used.

use super::{Drawing, Mark, Role, Shape};
use crate::compute::{ChainPlan, Worked, smallest_in_use};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::chain::{Drive, Lies, Path, Swing, Wheel, mean_radius_mm, place};

/// The chain drawn in one gear.
#[derive(Clone, Debug, PartialEq)]
pub struct ChainDrawing {
    /// Place of the gear in the list of gears.
    pub gear: usize,
    /// Links of the chain drawn.
    pub links: u32,
    /// The cage's angle.
    pub cage_deg: f64,
    /// It is drawn at an end of the swing, because the chain does not lie tight in this gear.
    pub at_an_end: bool,
    /// The lines, in the frame of the bike.
    pub drawing: Drawing,
}

/// Draws both extremes, the largest pair first; nothing where the cage is not known.
pub fn chain(worked: &Worked) -> Vec<ChainDrawing> {
    let transmission = &worked.transmission;
    let (Ok(plan), Ok(gears)) = (&transmission.chain, &transmission.gears) else { return Vec::new() };
    let links = transmission.links.as_ref().ok().copied().or(plan.shortest);
    let pairs = [Some(plan.largest), smallest_in_use(gears)];
    let drawn = |(gear, links): (usize, u32)| in_gear(plan, gear, links);
    pairs.into_iter().filter_map(|gear| gear.zip(links)).filter_map(drawn).collect()
}

fn in_gear(plan: &ChainPlan, gear: usize, links: u32) -> Option<ChainDrawing> {
    let swing = plan.swings.get(gear)?.as_ref().ok()?;
    let (cage_deg, at_an_end) = match swing.lies(f64::from(links)) {
        Lies::Tight { cage_deg } => (cage_deg, false),
        Lies::TooShort { .. } => (swing.forward_deg, true),
        Lies::Slack { .. } => (swing.rear_deg, true),
    };
    let drive = swing.drive();
    let path = drive.path_at(cage_deg).ok()?;
    let wheels = drive.wheels(cage_deg);
    let mut drawing = Drawing::default();
    stay(&mut drawing, drive);
    stops(&mut drawing, swing);
    for (wheel, about) in wheels.iter().zip([
        "parts.crankset",
        "parts.rear_derailleur.lower_wheel",
        "parts.rear_derailleur.upper_wheel",
        "parts.cassette",
    ]) {
        circle(&mut drawing, wheel.centre, mean_radius_mm(wheel.teeth), about);
    }
    let cage = vec![wheels[place::UPPER].centre, drive.pivot, wheels[place::LOWER].centre];
    line(
        &mut drawing,
        Role::Part,
        cage,
        6.0,
        &["parts.rear_derailleur", "cage-angle-big-big", "cage-angle-small-small"],
    );
    circle(&mut drawing, drive.pivot, 4.0, "parts.rear_derailleur.pivot_below");
    line(&mut drawing, Role::Part, outline(&path, &wheels), 3.0, &["parts.chain", "chain-links"]);
    Some(ChainDrawing { gear, links, cage_deg, at_an_end, drawing })
}

fn stay(drawing: &mut Drawing, drive: &Drive) {
    line(drawing, Role::Frame, vec![Point2::ORIGIN, drive.rear_axle], 14.0, &["parts.frame"]);
}

/// The cage at both ends of its swing, as an outline.
fn stops(drawing: &mut Drawing, swing: &Swing) {
    for (deg, about) in
        [(swing.forward_deg, "parts.rear_derailleur.cage_forward"), (swing.rear_deg, "parts.rear_derailleur.cage_rear")]
    {
        let lower = swing.drive().wheels(deg)[place::LOWER].centre;
        line(drawing, Role::Asked, vec![swing.drive().pivot, lower], 0.0, &[about]);
    }
}

fn line(drawing: &mut Drawing, role: Role, points: Vec<Point2>, thickness_mm: f64, about: &[&str]) {
    let about = about.iter().map(|address| (*address).to_owned()).collect();
    drawing.marks.push(Mark { role, shape: Shape::Path(points), thickness_mm, about });
}

fn circle(drawing: &mut Drawing, centre: Point2, radius_mm: f64, about: &str) {
    let shape = Shape::Circle { centre, radius_mm };
    drawing.marks.push(Mark { role: Role::Part, shape, thickness_mm: 0.0, about: vec![about.to_owned()] });
}

/// Degrees between two points of a drawn arc.
const ARC_DEG: f64 = 4.0;

/// The closed line of the chain: each run, and the arc on the wheel it meets.
fn outline(path: &Path<4>, wheels: &[Wheel; 4]) -> Vec<Point2> {
    let mut points = Vec::new();
    for (at, run) in path.runs.iter().enumerate() {
        points.push(run.from);
        points.push(run.to);
        let next = (at + 1) % wheels.len();
        let (wheel, wrap_deg) = (&wheels[next], path.wraps_deg[next]);
        let turn = match wheel.sense {
            witnessmark_mechanics::chain::Sense::Clockwise => -1.0,
            witnessmark_mechanics::chain::Sense::Anticlockwise => 1.0,
        };
        // A wrap is at most a turn, so an arc has at most ninety points.
        let steps = (wrap_deg / ARC_DEG).clamp(0.0, 90.0).floor();
        let mut step = 1.0;
        while step <= steps {
            let turned = (run.to - wheel.centre).rotated_deg(turn * wrap_deg * step / (steps + 1.0));
            points.push(wheel.centre + turned);
            step += 1.0;
        }
    }
    if let Some(first) = points.first().copied() {
        points.push(first);
    }
    points
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops at what it did not expect")]

    use super::*;
    use crate::build::sample::sample;
    use crate::compute;
    use crate::model::Model;

    fn drawn(change: fn(&mut crate::build::Build)) -> Vec<ChainDrawing> {
        let mut build = sample();
        change(&mut build);
        chain(&compute::work_out(&Model::new(&build)))
    }

    #[test]
    fn the_drawn_chain_is_as_long_as_its_links() {
        let both = drawn(|_| {});
        assert_eq!(both.len(), 2);
        for one in &both {
            let mark = one.drawing.marks.iter().find(|mark| mark.about[0] == "parts.chain").unwrap();
            let Shape::Path(points) = &mark.shape else { panic!("a chain is a line") };
            let length_mm: f64 = points.windows(2).map(|pair| pair[0].distance_mm(pair[1])).sum();
            // Arcs are drawn by chords of four degrees: shorter by a five-thousandth of the arcs.
            assert!((length_mm / 12.7 - f64::from(one.links)).abs() < 0.05, "{length_mm}");
            assert!(!one.at_an_end);
        }
    }

    #[test]
    fn a_chain_that_is_too_short_is_drawn_with_the_cage_at_its_stop() {
        let both = drawn(|build| build.settings.chain_links = Some(104.into()));
        assert!(both[0].at_an_end);
        assert!((both[0].cage_deg - -15.0).abs() < 1e-9);
    }

    #[test]
    fn nothing_is_drawn_of_a_cage_that_nobody_measured() {
        assert!(drawn(|build| build.parts.rear_derailleur.make("").cage_rear_deg = None).is_empty());
    }
}
