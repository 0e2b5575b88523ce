//! The side drawing: drive side towards you, planned as drawn, asked as outline, measured as dots.

use super::{Callout, Drawing, Mark, Role, Shape};
use crate::compute::{Numbers, Worked};
use crate::fact;
use crate::model::Model;
use crate::number::{self, Number, Side};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::frame::{square_to_axis, steering_axis};

/// Draws the bike from its drive side. What is not known is not drawn.
pub fn side(model: &Model<'_>, worked: &Worked, numbers: &Numbers) -> Drawing {
    let mut drawing = Drawing::default();
    wheels(model, worked, &mut drawing);
    frame(model, worked, &mut drawing);
    steering(model, worked, &mut drawing);
    saddle(model, worked, &mut drawing);
    crank(model, &mut drawing);
    asked(worked, &mut drawing);
    measured(numbers, &mut drawing);
    drawing
}

fn at(x_mm: f64, y_mm: f64) -> Point2 {
    Point2 { x_mm, y_mm }
}

fn addresses(list: &[&str]) -> Vec<String> {
    list.iter().map(|address| (*address).to_owned()).collect()
}

fn path(drawing: &mut Drawing, role: Role, points: Vec<Point2>, thickness_mm: f64, about: &[&str]) {
    drawing.marks.push(Mark { role, shape: Shape::Path(points), thickness_mm, about: addresses(about) });
}

fn circle(drawing: &mut Drawing, role: Role, centre: Point2, radius_mm: f64, thickness_mm: f64, about: &[&str]) {
    drawing.marks.push(Mark {
        role,
        shape: Shape::Circle { centre, radius_mm },
        thickness_mm,
        about: addresses(about),
    });
}

fn call(drawing: &mut Drawing, at: Point2, number: &Number, side: Side) {
    let about = crate::finding::About::number(number, side).address();
    drawing.callouts.push(Callout { at, about });
}

fn wheels(model: &Model<'_>, worked: &Worked, drawing: &mut Drawing) {
    let chassis = &worked.chassis;
    let ends = [
        (&chassis.rear_axle, &model.tyre_rear, "parts.tyre.rear", "tyre-width.rear"),
        (&chassis.front_axle, &model.tyre_front, "parts.tyre.front", "tyre-width.front"),
    ];
    for (axle, tyre, part, width) in ends {
        let (Ok(axle), Ok(radius_mm)) = (axle, fact!(tyre, outer_radius_mm)) else { continue };
        let section_mm = fact!(tyre, width_measured_mm).unwrap_or(0.0);
        circle(drawing, Role::Wheel, *axle, radius_mm - section_mm / 2.0, section_mm, &[part, width]);
        circle(drawing, Role::Wheel, *axle, 12.0, 0.0, &[part]);
    }
    if let (Ok(ground), Ok(front), Ok(rear)) = (&chassis.ground, &chassis.front_axle, &chassis.rear_axle) {
        let under = |point: Point2| {
            let height = ground.height_of(point);
            let (sin, cos) = ground.tilt_deg.to_radians().sin_cos();
            at(point.x_mm + height * sin, point.y_mm - height * cos)
        };
        let (a, b) = (under(*rear), under(*front));
        let along = at((b.x_mm - a.x_mm) * 0.4, (b.y_mm - a.y_mm) * 0.4);
        let ends = vec![at(a.x_mm - along.x_mm, a.y_mm - along.y_mm), at(b.x_mm + along.x_mm, b.y_mm + along.y_mm)];
        path(drawing, Role::Ground, ends, 0.0, &["wheelbase", "bb-height"]);
        call(drawing, at(f64::midpoint(a.x_mm, b.x_mm), f64::midpoint(a.y_mm, b.y_mm)), &number::WHEELBASE, Side::None);
        call(drawing, b, &number::TRAIL, Side::None);
    }
}

fn frame(model: &Model<'_>, worked: &Worked, drawing: &mut Drawing) {
    let chassis = &worked.chassis;
    let bb = at(0.0, 0.0);
    let collar =
        worked.rear.seat_tube.as_ref().ok().zip(fact!(model.frame, seat_tube_mm).ok()).map(|(tube, length)| {
            let (foot, up) = (at(tube.axis_x_at_bb_mm, 0.0), tube.upwards());
            (foot, at(foot.x_mm + up.x_mm * length, foot.y_mm + up.y_mm * length))
        });
    if let Ok(rear) = &chassis.rear_axle {
        path(drawing, Role::Frame, vec![bb, *rear], 20.0, &["parts.frame"]);
        if let Some((_, top)) = collar {
            // Seat stays meet the seat tube a hand below the collar; where exactly says nothing about the fit.
            let joint = at(top.x_mm * 0.82, top.y_mm * 0.82);
            path(drawing, Role::Frame, vec![*rear, joint], 15.0, &["parts.frame"]);
        }
    }
    if let Some((foot, top)) = collar {
        path(drawing, Role::Frame, vec![foot, top], 32.0, &["parts.frame"]);
    }
    if let (Ok(top), Ok(angle), Ok(tube)) =
        (&chassis.head_tube_top, &chassis.head_angle_deg, fact!(model.frame, head_tube_mm))
    {
        let axis = steering_axis(*angle);
        let bottom = at(top.x_mm - axis.x_mm * tube, top.y_mm - axis.y_mm * tube);
        let along = |share: f64| at(top.x_mm - axis.x_mm * tube * share, top.y_mm - axis.y_mm * tube * share);
        if let Some((_, collar)) = collar {
            path(
                drawing,
                Role::Frame,
                vec![at(collar.x_mm * 0.94, collar.y_mm * 0.94), along(0.2)],
                30.0,
                &["parts.frame"],
            );
        }
        path(drawing, Role::Frame, vec![bb, along(0.8)], 42.0, &["parts.frame"]);
        path(drawing, Role::Frame, vec![bottom, *top], 46.0, &["parts.frame", "parts.headset", "head-angle"]);
        if let (Ok(axle), Ok(lower), Ok(offset)) =
            (&chassis.front_axle, fact!(model.headset, lower_stack_mm), fact!(model.fork, offset_mm))
        {
            let crown = at(bottom.x_mm - axis.x_mm * lower, bottom.y_mm - axis.y_mm * lower);
            let square = square_to_axis(*angle);
            let before = at(axle.x_mm - square.x_mm * offset, axle.y_mm - square.y_mm * offset);
            let bend = at(crown.x_mm + (before.x_mm - crown.x_mm) * 0.6, crown.y_mm + (before.y_mm - crown.y_mm) * 0.6);
            path(drawing, Role::Frame, vec![crown, bend, *axle], 24.0, &["parts.fork"]);
        }
    }
    circle(drawing, Role::Frame, bb, 20.0, 0.0, &["parts.frame", "bb-height"]);
}

fn steering(model: &Model<'_>, worked: &Worked, drawing: &mut Drawing) {
    let chassis = &worked.chassis;
    let (Ok(top), Ok(angle)) = (&chassis.head_tube_top, &chassis.head_angle_deg) else { return };
    let axis = steering_axis(*angle);
    let along = |height: f64| at(top.x_mm + axis.x_mm * height, top.y_mm + axis.y_mm * height);
    let cover = fact!(model.headset, cover_height_mm).unwrap_or(0.0);
    let under = fact!(model.settings, spacers_under_mm).unwrap_or(0.0);
    let over = fact!(model.settings, spacers_over_mm).unwrap_or(0.0);
    if cover > 0.0 {
        path(drawing, Role::Part, vec![along(0.0), along(cover)], 44.0, &["parts.headset"]);
    }
    if under > 0.0 {
        path(
            drawing,
            Role::Part,
            vec![along(cover), along(cover + under)],
            36.0,
            &["spacers-under", "settings.spacers_under"],
        );
        call(drawing, along(cover + under / 2.0), &number::SPACERS_UNDER, Side::None);
    }
    let clamp_path = model.steerer_clamp_path();
    if let (Ok(stem), Ok(clamp)) = (&worked.front.stem, &worked.front.bar_clamp) {
        let height = stem.clamp_height_mm;
        path(
            drawing,
            Role::Part,
            vec![along(cover + under), along(cover + under + height)],
            38.0,
            &[clamp_path, "steerer-cut", "steerer-proud"],
        );
        path(
            drawing,
            Role::Part,
            vec![along(cover + under + height / 2.0), *clamp],
            30.0,
            &[clamp_path, "stem-length", "stem-angle"],
        );
        call(drawing, along(cover + under + height), &number::STEERER_CUT, Side::None);
        call(drawing, *clamp, &number::BAR_Y, Side::None);
        if over > 0.0 {
            path(
                drawing,
                Role::Part,
                vec![along(cover + under + height), along(cover + under + height + over)],
                36.0,
                &["spacers-over", "settings.spacers_over"],
            );
        }
        bar(model, worked, *clamp, drawing);
    }
}

fn bar(model: &Model<'_>, worked: &Worked, clamp: Point2, drawing: &mut Drawing) {
    let roll = fact!(model.settings, bar_roll_deg).unwrap_or(0.0);
    let Ok(curve) = &worked.front.curve else { return };
    let flare_cos = curve.flare_deg().to_radians().cos();
    let steps = 48;
    let points = (0..=steps)
        .map(|step| {
            let on = curve.at(curve.length_mm() * f64::from(step) / f64::from(steps));
            let turned = at(on.x_mm, on.y_mm * flare_cos).rotated_deg(roll);
            at(clamp.x_mm + turned.x_mm, clamp.y_mm + turned.y_mm)
        })
        .collect();
    let part = if model.one_piece() { "parts.cockpit" } else { "parts.bar" };
    path(drawing, Role::Part, points, 24.0, &[part, "bar-roll", "settings.bar_roll"]);
    // The drive side is towards you: the right lever is the one that is seen.
    for side in [Side::Left, Side::Right] {
        let Ok(hood) = worked.front.hood(side) else { continue };
        let root = at(hood.clamp_point.x_mm, hood.clamp_point.y_mm);
        let trough = at(hood.trough.x_mm, hood.trough.y_mm);
        let word = side.word();
        let about = [
            format!("parts.lever.{word}"),
            format!("hood-x.{word}"),
            format!("hood-y.{word}"),
            format!("lever-from-end.{word}"),
            format!("settings.lever_from_end_{word}"),
        ];
        let about: Vec<&str> = about.iter().map(String::as_str).collect();
        path(drawing, Role::Part, vec![root, trough], 26.0, &about);
        circle(drawing, Role::Part, trough, 5.0, 0.0, &about);
        call(drawing, trough, &number::HOOD_X, side);
    }
}

fn saddle(model: &Model<'_>, worked: &Worked, drawing: &mut Drawing) {
    let Ok(points) = &worked.rear.points else { return };
    if let (Ok(tube), Ok(length)) = (&worked.rear.seat_tube, fact!(model.frame, seat_tube_mm)) {
        let up = tube.upwards();
        let collar = at(tube.axis_x_at_bb_mm + up.x_mm * length, up.y_mm * length);
        // The clamp's height on the axis: the clamp itself may lie behind or ahead of it.
        let reach = (points.clamp.x_mm - collar.x_mm) * up.x_mm + (points.clamp.y_mm - collar.y_mm) * up.y_mm;
        let head = at(collar.x_mm + up.x_mm * reach, collar.y_mm + up.y_mm * reach);
        path(
            drawing,
            Role::Part,
            vec![collar, head, points.clamp],
            26.0,
            &["parts.post", "post-extension", "post-insertion", "settings.post_extension"],
        );
        call(drawing, collar, &number::POST_EXTENSION, Side::None);
    }
    let length = fact!(model.saddle, length_mm).unwrap_or(0.0);
    let tilt = fact!(model.settings, saddle_tilt_deg).unwrap_or(0.0);
    let back = at(-length, 0.0).rotated_deg(tilt);
    let tail = at(points.nose.x_mm + back.x_mm, points.nose.y_mm + back.y_mm);
    path(
        drawing,
        Role::Part,
        vec![tail, points.reference, points.nose],
        16.0,
        &["parts.saddle", "saddle-height", "saddle-setback", "saddle-tilt", "rail-position"],
    );
    circle(drawing, Role::Part, points.clamp, 9.0, 0.0, &["parts.post", "rail-position", "settings.rail_position"]);
    call(drawing, points.reference, &number::SADDLE_HEIGHT, Side::None);
    call(drawing, points.nose, &number::SADDLE_SETBACK, Side::None);
}

fn crank(model: &Model<'_>, drawing: &mut Drawing) {
    let Ok(length) = fact!(model.crankset, arm_length_mm) else { return };
    if let Some(teeth) = fact!(model.crankset, rings).ok().and_then(|rings| rings.first().copied()) {
        // Pitch radius of a ring: half-inch pitch over twice the sine of half its angle.
        let radius = 12.7 / (2.0 * (std::f64::consts::PI / f64::from(teeth)).sin());
        circle(drawing, Role::Part, at(0.0, 0.0), radius, 0.0, &["parts.crankset"]);
    }
    // The arm lies outside the ring.
    path(
        drawing,
        Role::Part,
        vec![at(0.0, 0.0), at(length, 0.0)],
        16.0,
        &["parts.crankset", "crank-length", "toe-overlap"],
    );
    circle(drawing, Role::Part, at(length, 0.0), 9.0, 0.0, &["parts.pedal", "pedal-clearance"]);
}

/// The asked position: rings to be filled.
fn asked(worked: &Worked, drawing: &mut Drawing) {
    let target = &worked.target;
    let spots: [(Option<Point2>, &[&str]); 4] = [
        (target.saddle, &["saddle-height", "saddle-setback"]),
        (target.bar, &["bar-x", "bar-y"]),
        (target.hood_left, &["hood-x.left", "hood-y.left"]),
        (target.hood_right, &["hood-x.right", "hood-y.right"]),
    ];
    for (spot, about) in spots {
        if let Some(spot) = spot {
            circle(drawing, Role::Asked, spot, 14.0, 0.0, about);
        }
    }
}

/// The measured position: dots, where two readings place a point.
fn measured(numbers: &Numbers, drawing: &mut Drawing) {
    let read = |number: &Number, side: Side| numbers.of(number, side)?.measured.as_ref().map(|read| read.value);
    for side in [Side::Left, Side::Right] {
        if let (Some(x), Some(y)) = (read(&number::HOOD_X, side), read(&number::HOOD_Y, side)) {
            let word = side.word();
            let about = [format!("hood-x.{word}"), format!("hood-y.{word}")];
            circle(drawing, Role::Measured, at(x, y), 6.0, 0.0, &[&about[0], &about[1]]);
        }
    }
    if let (Some(x), Some(y)) = (read(&number::BAR_X, Side::None), read(&number::BAR_Y, Side::None)) {
        circle(drawing, Role::Measured, at(x, y), 6.0, 0.0, &["bar-x", "bar-y"]);
    }
    if let (Some(height), Some(rise)) =
        (read(&number::SADDLE_HEIGHT, Side::None), read(&number::SADDLE_HEIGHT_VERTICAL, Side::None))
    {
        let behind = (height * height - rise * rise).max(0.0).sqrt();
        circle(drawing, Role::Measured, at(-behind, rise), 6.0, 0.0, &["saddle-height", "saddle-height-vertical"]);
    }
}
