//! A drawing of the core as a picture: the roles become strokes, the style gives them pens. A rule along its foot says how
//! large it is.

use crate::words;
use maud::{Markup, html};
use std::fmt::Write as _;
use witnessmark_core::draw::{Drawing, Mark, Role, Shape};
use witnessmark_core::field::Kind;

/// The pen of an outline.
const PEN_MM: f64 = 3.0;

/// What a picture is cut to, and what it says to those who do not see it.
pub(in crate::pages) struct Paper<'a> {
    /// It has room for these, drawn on it or not: pictures cut to the same drawings are of one scale.
    pub(in crate::pages) room_for: &'a [&'a Drawing],
    /// Blank paper round them.
    pub(in crate::pages) margin_mm: f64,
    /// The picture in words.
    pub(in crate::pages) says: &'a str,
}

/// Drawings on one paper, back to front, and on top of them whatever else is to be laid on it.
pub(in crate::pages) fn picture(drawings: &[&Drawing], paper: &Paper<'_>, over: &Markup) -> Markup {
    let Paper { room_for, margin_mm, says } = *paper;
    let bounds: Vec<_> = room_for.iter().filter_map(|drawing| drawing.bounds()).collect();
    let low = |pick: fn(&witnessmark_core::draw::Point2) -> f64| {
        bounds.iter().map(|(low, _)| pick(low)).fold(f64::INFINITY, f64::min)
    };
    let high = |pick: fn(&witnessmark_core::draw::Point2) -> f64| {
        bounds.iter().map(|(_, high)| pick(high)).fold(f64::NEG_INFINITY, f64::max)
    };
    if bounds.is_empty() {
        return html! {};
    }
    let (left, right) = (low(|point| point.x_mm) - margin_mm, high(|point| point.x_mm) + margin_mm);
    let (bottom, top) = (low(|point| point.y_mm) - margin_mm - 40.0, high(|point| point.y_mm) + margin_mm);
    html! {
        svg viewBox={ (tenth(left)) " " (tenth(-top)) " " (tenth(right - left)) " " (tenth(top - bottom)) } role="img" aria-label=(says) {
            (rule(left, right, bottom))
            @for (place, drawing) in drawings.iter().enumerate() {
                g class=(if place + 1 == drawings.len() { "subject" } else { "behind" }) {
                    @for mark in &drawing.marks { (outline(mark)) }
                }
            }
            (over)
        }
    }
}

/// A mark: a tube as an outline with its filling, a line as a line.
fn outline(mark: &Mark) -> Markup {
    let about = mark.about.join(" ");
    let class = match mark.role {
        Role::Ground => "ground",
        Role::Wheel => "wheel",
        Role::Frame => "frame",
        Role::Part if about.starts_with("parts.chain") => "chain",
        Role::Part => "part",
        Role::Asked => "asked",
        Role::Measured => "measured",
    };
    let shape = |class: &str, width: Option<f64>| match &mark.shape {
        Shape::Path(points) => {
            let mut path = String::new();
            for (at, point) in points.iter().enumerate() {
                let pen = if at == 0 { 'M' } else { 'L' };
                // Writing into a string does not fail.
                let _ = write!(path, "{pen}{} {}", tenth(point.x_mm), tenth(-point.y_mm));
            }
            html! { path class=(class) d=(path) stroke-width=[width.map(tenth)] {} }
        }
        Shape::Circle { centre, radius_mm } => html! {
            circle class=(class) cx=(tenth(centre.x_mm)) cy=(tenth(-centre.y_mm)) r=(tenth(*radius_mm)) stroke-width=[width.map(tenth)] {}
        },
    };
    let tube = matches!(mark.role, Role::Frame | Role::Wheel) && mark.thickness_mm > 2.0 * PEN_MM;
    html! {
        @if tube {
            (shape(class, Some(mark.thickness_mm)))
            (shape("filling", Some(mark.thickness_mm - 2.0 * PEN_MM)))
        } @else {
            (shape(class, Some(mark.thickness_mm).filter(|width| *width > 0.0)))
        }
    }
}

/// The rule along the foot: a stroke every 10 mm, or every 50 where there are many, a longer one with its figure every
/// tenth or fourth.
fn rule(left: f64, right: f64, bottom: f64) -> Markup {
    let (step, long) = if right - left > 900.0 { (50.0, 4.0) } else { (10.0, 10.0) };
    let foot = -bottom - 6.0;
    let first = (left / step).ceil();
    let mut strokes = String::new();
    let mut figures = Vec::new();
    let mut at = first;
    // A bike is some two metres long and a transmission some half a metre: fewer than a hundred strokes.
    while at * step <= right && at - first < 200.0 {
        let is_long = at.rem_euclid(long) == 0.0;
        let _ = write!(strokes, "M{} {}v-{}", tenth(at * step), tenth(foot), if is_long { 16 } else { 8 });
        // A figure that would leave the picture is left out.
        if is_long && at * step + 0.05 * (right - left) <= right {
            figures.push(at * step);
        }
        at += 1.0;
    }
    html! {
        g.rule {
            path d=(strokes) {}
            @for x in figures { text x=(tenth(x + 4.0)) y=(tenth(foot - 10.0)) { (words::plain(Kind::Length, x)) } }
        }
    }
}

/// A tenth of a millimetre is finer than any pen.
pub(in crate::pages) fn tenth(value: f64) -> f64 {
    let tenths = (value * 10.0).round() / 10.0;
    if tenths == 0.0 { 0.0 } else { tenths }
}
