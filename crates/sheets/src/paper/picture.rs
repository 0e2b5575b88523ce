//! The pictures of the sheets: the sign of the house, the side drawing of the bike, and a code for a camera.

use super::face::{Face, Shaped, Weight};
use super::page::{At, Ink, Mark, Pen, at, line, pen, rectangle};
use super::sheet::{Type, wide};
use crate::words;
use std::rc::Rc;
use witnessmark_core::Plan;
use witnessmark_core::compute::{PlannedNumber, Verdict};
use witnessmark_core::draw::paper::{Label, Paper as Plane};
use witnessmark_core::draw::sign::{ROW, Values, WIDTH};
use witnessmark_core::draw::{Mark as Drawn, Point2, Role, Shape};
use witnessmark_core::field::Kind;
use witnessmark_core::finding::About;

/// The sign of a number, so many millimetres wide, from its upper left corner.
pub(crate) fn sign(number: &PlannedNumber, width: f64) -> Vec<Mark> {
    let unit = width / WIDTH;
    let values: Values = number.into();
    let corner = |x: f64, y: f64| at(x * unit, y * unit);
    let slab = |left: f64, right: f64, top: f64, foot: f64, ink: Ink| Mark::Fill {
        corners: vec![corner(left, top), corner(right, top), corner(right, foot), corner(left, foot)],
        ink,
    };
    let mut marks = Vec::new();
    if let Some((left, right)) = values.band() {
        marks.push(slab(left, right, 0.0, 3.0 * ROW, Ink::Band));
    }
    if let Some((left, right)) = values.spread() {
        marks.push(slab(left, right, 2.0 * ROW, 3.0 * ROW, Ink::Spread));
    }
    let ink = if number.verdict == Verdict::Moved { Ink::Dye } else { Ink::Black };
    for (row, stroke) in values.strokes().iter().enumerate() {
        if let Some(stroke) = stroke {
            let corners = stroke.outline(row).into_iter().map(|point| corner(point.x_mm, point.y_mm)).collect();
            marks.push(Mark::Fill { corners, ink });
        }
    }
    marks
}

/// The height of a sign of this width.
pub(crate) fn sign_height(width: f64) -> f64 {
    3.0 * ROW * width / WIDTH
}

/// The side drawing with the signs of its numbers, so wide, from its upper left corner; and its height. `None` where too
/// little is known for a drawing.
pub(crate) fn bike(plan: &Plan, face: &Face, width: f64, most: f64) -> Option<(f64, Vec<Mark>)> {
    let plane = Plane::of(&plan.drawing)?;
    let (wide_mm, high_mm) = (plane.right_mm - plane.left_mm, plane.top_mm - plane.bottom_mm);
    let scale = (width / wide_mm).min(most / high_mm);
    let spare = (width - wide_mm * scale) / 2.0;
    let view = View { plane, scale, spare };
    let mut marks = Vec::new();
    view.rule(face, &mut marks);
    let of = |role: Role| plan.drawing.marks.iter().filter(move |mark| mark.role == role);
    for drawn in of(Role::Ground) {
        marks.extend(view.drawn(drawn, Some(pen(Ink::Pencil, 0.25)), None));
    }
    for drawn in of(Role::Wheel) {
        view.tube(drawn, Ink::Tyre, &mut marks);
    }
    // All outlines before all fillings: tubes that meet become one shape.
    for drawn in of(Role::Frame) {
        marks.extend(view.drawn(drawn, Some(view.pen_of(drawn, Ink::Black, 0.0)), None));
    }
    for drawn in of(Role::Frame).filter(|drawn| drawn.thickness_mm > 0.0) {
        marks.extend(view.drawn(drawn, Some(view.pen_of(drawn, Ink::Paper, OUTLINE)), None));
    }
    for drawn in of(Role::Part) {
        let filled = (drawn.thickness_mm == 0.0 && is_small(drawn)).then_some(Ink::Black);
        marks.extend(view.drawn(drawn, Some(view.pen_of(drawn, Ink::Black, 0.0)), filled));
    }
    for drawn in of(Role::Asked) {
        marks.extend(view.drawn(drawn, Some(pen(Ink::Dye, 0.5)), None));
    }
    for drawn in of(Role::Measured) {
        marks.extend(view.drawn(drawn, Some(pen(Ink::Paper, 0.3)), Some(Ink::Black)));
    }
    view.labels(plan, face, &mut marks);
    Some((high_mm * scale, marks))
}

/// The pen of a tube's outline, on paper.
const OUTLINE: f64 = 0.45;

/// A filled dot rather than a ring: clamps and axles, whose inside says nothing.
fn is_small(drawn: &Drawn) -> bool {
    matches!(drawn.shape, Shape::Circle { radius_mm, .. } if radius_mm < 12.0)
}

/// How the plane of the bike lies on the paper.
struct View {
    plane: Plane,
    scale: f64,
    spare: f64,
}

impl View {
    fn to(&self, point: Point2) -> At {
        let x = (point.x_mm - self.plane.left_mm) * self.scale + self.spare;
        at(x, (self.plane.top_mm - point.y_mm) * self.scale)
    }

    fn pen_of(&self, drawn: &Drawn, ink: Ink, thinner: f64) -> Pen {
        let width = (drawn.thickness_mm * self.scale - 2.0 * thinner).max(0.3);
        let is_tube = drawn.role == Role::Frame || drawn.role == Role::Part;
        Pen { ink, width, round: is_tube && drawn.thickness_mm > 0.0 }
    }

    fn drawn(&self, drawn: &Drawn, pen: Option<Pen>, fill: Option<Ink>) -> Option<Mark> {
        match &drawn.shape {
            Shape::Path(points) => {
                let points = points.iter().map(|point| self.to(*point)).collect();
                Some(Mark::Line { points, pen: pen?, closed: false })
            }
            Shape::Circle { centre, radius_mm } => {
                Some(Mark::Circle { centre: self.to(*centre), radius: radius_mm * self.scale, fill, pen })
            }
        }
    }

    /// A mark as a tube of its own: an outline and its filling.
    fn tube(&self, drawn: &Drawn, filling: Ink, marks: &mut Vec<Mark>) {
        marks.extend(self.drawn(drawn, Some(self.pen_of(drawn, Ink::Black, 0.0)), None));
        if drawn.thickness_mm > 0.0 {
            marks.extend(self.drawn(drawn, Some(self.pen_of(drawn, filling, OUTLINE / 2.0)), None));
        }
    }

    fn rule(&self, face: &Face, marks: &mut Vec<Mark>) {
        let foot = (self.plane.top_mm - self.plane.bottom_mm) * self.scale - 0.6;
        for stroke in self.plane.rule() {
            let x = self.to(Point2 { x_mm: stroke.x_mm, y_mm: 0.0 }).x;
            let high = if stroke.long { 2.0 } else { 1.0 };
            marks.push(line(at(x, foot), at(x, foot - high), pen(Ink::Pencil, 0.2)));
            // A figure that would leave the drawing is left out.
            let fits = x + 8.0 < (self.plane.right_mm - self.plane.left_mm) * self.scale + 2.0 * self.spare;
            if stroke.long && fits {
                let shaped = face.shape(Weight::Regular, &words::plain(Kind::Length, stroke.x_mm));
                marks.push(letters(shaped, Type::SMALL.size(6.5), at(x + 0.5, foot - 0.8)));
            }
        }
    }

    fn labels(&self, plan: &Plan, face: &Face, marks: &mut Vec<Mark>) {
        let number_at = |about: &str| {
            let is = |one: &&PlannedNumber| About::number(one.number, one.side).address() == about;
            plan.numbers.each().iter().find(is).filter(|one| one.planned.is_ok())
        };
        let known = plan.drawing.callouts.iter().filter(|callout| number_at(&callout.about).is_some());
        for Label { callout, corner, leader } in self.plane.labels(known) {
            let Some(one) = number_at(&callout.about) else { continue };
            marks.push(line(self.to(leader), self.to(callout.at), pen(Ink::Pencil, 0.15)));
            let corner = self.to(corner);
            let short = one.number.name.split(',').next().unwrap_or(one.number.name);
            let name = format!("{short} {}", one.side.word());
            let name_type = Type::SMALL.size(6.5);
            let shaped = face.shape(Weight::Regular, name.trim_end());
            // Paper behind the words, where they come to lie over a wheel.
            let named = wide(name_type, &shaped);
            let backing = at(corner.x - 0.3, corner.y + 0.1);
            marks.push(rectangle(backing, named + 0.8, name_type.line(), Ink::Paper));
            marks.push(letters(shaped, name_type, at(corner.x, corner.y + name_type.base())));
            let sign_width = 8.0;
            let below = corner.y + name_type.line() + 0.5;
            let before_sign = marks.len();
            marks.extend(sign(one, sign_width).into_iter().map(|mark| mark.moved(at(corner.x, below))));
            let value =
                one.planned.as_ref().map_or_else(|_| String::new(), |value| words::with_unit(one.number.kind, *value));
            let ink = if one.verdict == Verdict::Moved { Ink::Dye } else { Ink::Black };
            let value_type = Type::STRONG.size(8.5).ink(ink);
            let shaped = face.shape(Weight::Bold, &value);
            let at = at(corner.x + sign_width + 0.8, below + sign_height(sign_width) / 2.0 + 1.05);
            let backing = self::at(corner.x - 0.3, below - 0.3);
            let size = (sign_width + 1.6 + wide(value_type, &shaped), sign_height(sign_width) + 0.5);
            marks.insert(before_sign, rectangle(backing, size.0, size.1, Ink::Paper));
            marks.push(letters(shaped, value_type, at));
        }
    }
}

/// Letters on a base line that begins here.
pub(crate) fn letters(shaped: Shaped, letters: Type, at: At) -> Mark {
    Mark::Letters { at, size_pt: letters.size_pt, ink: letters.ink, letters: Rc::new(shaped) }
}
