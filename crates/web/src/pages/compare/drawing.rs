//! Both bikes on one bottom bracket, to scale: A in ink, B in the strong colour and dashed, so that they are told apart
//! without colour too.

use maud::{Markup, html};
use std::fmt::Write as _;
use witnessmark_core::draw::{Drawing, Mark, Role, Shape};

/// Blank paper round the bikes.
const MARGIN_MM: f64 = 40.0;

pub(in crate::pages) fn figure(bikes: &[Drawing]) -> Markup {
    let marks = |bike: usize, roles: &[Role]| -> Vec<&Mark> {
        let all = bikes.get(bike).into_iter().flat_map(|drawing| &drawing.marks);
        all.filter(|mark| roles.contains(&mark.role)).collect()
    };
    let drawn = |bike| marks(bike, &[Role::Wheel, Role::Frame, Role::Part, Role::Measured]);
    // The bottom bracket alone is no bike.
    let bare = |bike| drawn(bike).len() < 3;
    let missing: Vec<&str> =
        [(0, "A"), (1, "B")].into_iter().filter(|(bike, _)| bare(*bike)).map(|(_, letter)| letter).collect();
    let corners = bikes.iter().filter_map(Drawing::bounds);
    let bounds = corners.reduce(|(low, high), (other_low, other_high)| {
        let mut both = (low, high);
        both.0.x_mm = low.x_mm.min(other_low.x_mm);
        both.0.y_mm = low.y_mm.min(other_low.y_mm);
        both.1.x_mm = high.x_mm.max(other_high.x_mm);
        both.1.y_mm = high.y_mm.max(other_high.y_mm);
        both
    });
    html! {
        figure #overlay {
            @if let Some((low, high)) = bounds.filter(|(low, high)| high.x_mm - low.x_mm > 100.0) {
                svg viewBox={ (tenth(low.x_mm - MARGIN_MM)) " " (tenth(-high.y_mm - MARGIN_MM)) " " (tenth(high.x_mm - low.x_mm + 2.0 * MARGIN_MM)) " " (tenth(high.y_mm - low.y_mm + 2.0 * MARGIN_MM)) }
                    role="img" aria-label="Side drawing of both bikes on one bottom bracket, to scale. Every value in it stands in the tables below." {
                    g.a { @for mark in drawn(0) { (outline(mark)) } }
                    g.b { @for mark in drawn(1) { (outline(mark)) } }
                }
            }
            figcaption {
                span { (key("a")) "A" }
                span { (key("b")) "B" }
                span.scale { "both to scale on one bottom bracket; tubes by their centre lines, small rings where something was read" }
                @if !missing.is_empty() { span { "Not enough is known of " (missing.join(" and ")) " to draw it." } }
            }
        }
    }
}

/// A stroke as the bike is drawn with.
pub(in crate::pages) fn key(letter: &str) -> Markup {
    html! { svg.overlay-key viewBox="0 0 60 12" aria-hidden="true" { g class=(letter) { path d="M2 6h56" {} } } }
}

fn outline(mark: &Mark) -> Markup {
    match &mark.shape {
        Shape::Path(points) => {
            let mut path = String::new();
            for (at, point) in points.iter().enumerate() {
                // Writing into a string does not fail.
                let _ = write!(path, "{}{} {}", if at == 0 { 'M' } else { 'L' }, tenth(point.x_mm), tenth(-point.y_mm));
            }
            html! { path d=(path) {} }
        }
        Shape::Circle { centre, radius_mm } => {
            html! { circle cx=(tenth(centre.x_mm)) cy=(tenth(-centre.y_mm)) r=(tenth(*radius_mm)) {} }
        }
    }
}

/// A tenth of a millimetre is finer than any pen.
fn tenth(value: f64) -> f64 {
    let tenths = (value * 10.0).round() / 10.0;
    if tenths == 0.0 { 0.0 } else { tenths }
}
