//! The taped bar to scale, left and right beside each other: the same drawing that the screen shows, on paper.

use super::page::{At, Ink, Mark, at, pen};
use super::picture::letters;
use super::sheet::{Sheet, Type, wide};
use witnessmark_core::draw::{self, Drawing, Point2, Role, Shape};
use witnessmark_core::model::Model;
use witnessmark_core::number::Side;
use witnessmark_core::{Build, Plan};

/// Height of the picture.
const HIGH: f64 = 44.0;
/// Between the two bars.
const GAP: f64 = 8.0;

/// Both bars to one scale; nothing where neither is known.
pub(super) fn both(sheet: &mut Sheet<'_>, build: &Build, plan: &Plan) {
    let model = Model::new(build);
    let drawn = [Side::Left, Side::Right].map(|side| (side.word(), draw::tape(&model, &plan.worked, side)));
    let bounds: Vec<(Point2, Point2)> = drawn.iter().filter_map(|(_, drawing)| drawing.bounds()).collect();
    let of = |pick: fn(&(Point2, Point2)) -> f64, fold: fn(f64, f64) -> f64| bounds.iter().map(pick).reduce(fold);
    let sides = (
        of(|(low, _)| low.x_mm, f64::min),
        of(|(_, high)| high.x_mm, f64::max),
        of(|(low, _)| low.y_mm, f64::min),
        of(|(_, high)| high.y_mm, f64::max),
    );
    let (Some(left), Some(right), Some(bottom), Some(top)) = sides else { return };
    let width = (sheet.width() - GAP) / 2.0;
    // Words stand above the bars and to the right of them.
    let scale = ((width - 12.0) / (right - left).max(1.0)).min((HIGH - 12.0) / (top - bottom).max(1.0));
    let mut marks = Vec::new();
    for (place, (word, drawing)) in drawn.iter().enumerate().filter(|(_, (_, drawing))| !drawing.marks.is_empty()) {
        let view = View { left, top, scale, x: f64::from(u8::from(place == 1)) * (width + GAP), y: 7.0 };
        view.bar(drawing, &mut marks);
        view.words(sheet, word, drawing, &mut marks);
    }
    sheet.picture(
        HIGH,
        marks,
        "both taped bars to scale, each in its own plane with its tops laid straight: a stroke for each turn",
    );
}

/// How the plane of a bar lies on the paper.
struct View {
    left: f64,
    top: f64,
    scale: f64,
    x: f64,
    y: f64,
}

impl View {
    fn to(&self, point: Point2) -> At {
        at(self.x + (point.x_mm - self.left) * self.scale, self.y + (self.top - point.y_mm) * self.scale)
    }

    fn bar(&self, drawing: &Drawing, marks: &mut Vec<Mark>) {
        const OUTLINE: f64 = 0.35;
        for mark in &drawing.marks {
            let Shape::Path(points) = &mark.shape else { continue };
            let points: Vec<_> = points.iter().map(|point| self.to(*point)).collect();
            let mut stroke = |ink: Ink, width: f64| {
                marks.push(Mark::Line { points: points.clone(), pen: pen(ink, width), closed: false });
            };
            let thick = mark.thickness_mm * self.scale;
            match mark.role {
                Role::Wheel => {
                    stroke(Ink::Pencil, thick);
                    stroke(Ink::Paper, thick - 2.0 * OUTLINE);
                }
                Role::Frame => {
                    stroke(Ink::Black, thick);
                    stroke(Ink::Band, thick - 2.0 * OUTLINE);
                }
                Role::Measured => stroke(Ink::Dye, thick),
                Role::Part | Role::Ground | Role::Asked => stroke(Ink::Black, 0.25),
            }
        }
    }

    fn words(&self, sheet: &Sheet<'_>, word: &str, drawing: &Drawing, marks: &mut Vec<Mark>) {
        let mut say = |text: &str, type_: Type, place: At, before: bool| {
            let shaped = sheet.face.shape(type_.weight, text);
            let x = if before { place.x - wide(type_, &shaped) } else { place.x };
            marks.push(letters(shaped, type_, at(x, place.y)));
        };
        say(word, Type::STRONG, at(self.x, 3.5), false);
        for callout in &drawing.callouts {
            let place = self.to(callout.at);
            match callout.about.split('.').next() {
                Some("tape-turns") => say("end", Type::SMALL, at(place.x - 1.5, place.y + 1.0), true),
                Some("lever-from-end") => say("lever", Type::SMALL, at(place.x + 5.5, place.y - 1.0), false),
                _ => say("stop", Type::SMALL, at(place.x - 2.5, place.y - 5.5), false),
            }
        }
    }
}
