//! The side drawing of the page: the bike alone, without rings, dots, signs or rule.

use maud::{Markup, html};
use std::fmt::Write as _;
use witnessmark_core::Plan;
use witnessmark_core::draw::paper::Paper;
use witnessmark_core::draw::{Mark, Role, Shape};

/// The pen of an outline, mm of the bike.
const PEN_MM: f64 = 5.0;

pub(super) fn figure(plan: &Plan) -> Markup {
    let Some(paper) = Paper::of(&plan.drawing) else { return html! {} };
    let of = |role: Role| plan.drawing.marks.iter().filter(move |mark| mark.role == role);
    let (width, height) = (paper.right_mm - paper.left_mm, paper.top_mm - paper.bottom_mm);
    html! {
        figure {
            svg.bike viewBox={ (tenth(paper.left_mm)) " " (tenth(-paper.top_mm)) " " (tenth(width)) " " (tenth(height)) }
                role="img" aria-label="The bike from its drive side, to scale." {
                @for mark in of(Role::Ground) { (drawn(mark, PEN_MM / 2.0, "ground")) }
                @for mark in of(Role::Wheel) { (tube(mark, "tyre")) }
                // All outlines before all fillings: tubes that meet become one shape.
                @for mark in of(Role::Frame) { (drawn(mark, mark.thickness_mm.max(PEN_MM), "ink")) }
                @for mark in of(Role::Frame).filter(|mark| mark.thickness_mm > 2.0 * PEN_MM) {
                    (drawn(mark, mark.thickness_mm - 2.0 * PEN_MM, "hollow"))
                }
                @for mark in of(Role::Part) { (drawn(mark, mark.thickness_mm.max(PEN_MM), "ink")) }
            }
            figcaption { "From the drive side, to scale." }
        }
    }
}

fn tube(mark: &Mark, filling: &str) -> Markup {
    html! {
        (drawn(mark, mark.thickness_mm.max(PEN_MM), "ink"))
        @if mark.thickness_mm > 2.0 * PEN_MM { (drawn(mark, mark.thickness_mm - 2.0 * PEN_MM, filling)) }
    }
}

fn drawn(mark: &Mark, width_mm: f64, class: &str) -> Markup {
    let width = tenth(width_mm);
    match &mark.shape {
        Shape::Path(points) => {
            let mut path = String::new();
            for (at, point) in points.iter().enumerate() {
                let pen = if at == 0 { 'M' } else { 'L' };
                // Writing into a string does not fail.
                let _ = write!(path, "{pen}{} {}", tenth(point.x_mm), tenth(-point.y_mm));
            }
            html! { path class=(class) d=(path) stroke-width=(width) {} }
        }
        Shape::Circle { centre, radius_mm } => html! {
            circle class=(class) cx=(tenth(centre.x_mm)) cy=(tenth(-centre.y_mm)) r=(tenth(*radius_mm)) stroke-width=(width) {}
        },
    }
}

/// A tenth of a millimetre is finer than any pen.
fn tenth(value: f64) -> f64 {
    let tenths = (value * 10.0).round() / 10.0;
    // No "-0" in a picture.
    if tenths == 0.0 { 0.0 } else { tenths }
}
