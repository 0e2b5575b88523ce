//! The side drawing: planned in solid lines, asked as rings, measured as dots, and the signs of a few numbers.
//!
//! The picture's unit is the millimetre. Colours and pens are the style's; only widths that are widths of tubes stand
//! here.

use crate::{sign, words};
use maud::{Markup, html};
use std::fmt::Write as _;
use witnessmark_core::Plan;
use witnessmark_core::compute::PlannedNumber;
use witnessmark_core::draw::{Callout, Mark, Role, Shape};
use witnessmark_core::field::Kind;

/// Blank paper round the bike.
const MARGIN_MM: f64 = 40.0;
/// The height of a callout with the gap below it.
const LABEL_MM: f64 = 92.0;
/// The room of a callout along the drawing.
const LABEL_WIDTH_MM: f64 = 296.0;
/// The pen of an outline.
const PEN_MM: f64 = 5.0;

/// The drawing with its frame.
pub(crate) fn figure(plan: &Plan) -> Markup {
    html! {
        figure #drawing {
            @match paper(plan) {
                Some(paper) => { (picture(plan, &paper)) }
                None => {
                    p.quiet {
                        "Nothing to draw yet. The frame’s stack, reach and angles, the fork and the tyres place the "
                        "first lines."
                    }
                }
            }
            figcaption {
                span { (key("asked")) "asked" }
                span { (key("planned")) "planned" }
                span { (key("measured")) "measured" }
                span.scale { "to scale, drive side; rule in mm from the bottom bracket" }
            }
        }
    }
}

fn key(class: &str) -> Markup {
    html! {
        svg.key viewBox="-10 -10 20 20" aria-hidden="true" {
            @match class {
                "asked" => { circle.asked r="7" {} }
                "planned" => { path.solid d="M-10 0h20" {} }
                _ => { circle.measured r="5" {} }
            }
        }
    }
}

/// The part of the plane that is drawn, mm, y up.
struct Paper {
    left: f64,
    right: f64,
    bottom: f64,
    top: f64,
}

fn paper(plan: &Plan) -> Option<Paper> {
    let (low, high) = plan.drawing.bounds()?;
    // Of a bike of which nothing is known the bottom bracket is left, and that alone is no drawing.
    if high.x_mm - low.x_mm < 100.0 {
        return None;
    }
    Some(Paper {
        left: low.x_mm - MARGIN_MM,
        right: high.x_mm + MARGIN_MM,
        bottom: low.y_mm - MARGIN_MM - 50.0,
        top: high.y_mm + MARGIN_MM,
    })
}

fn picture(plan: &Plan, paper: &Paper) -> Markup {
    let marks = &plan.drawing.marks;
    let (width, height) = (paper.right - paper.left, paper.top - paper.bottom);
    let of = |role: Role| marks.iter().filter(move |mark| mark.role == role);
    html! {
        svg viewBox={ (tenth(paper.left)) " " (tenth(-paper.top)) " " (tenth(width)) " " (tenth(height)) }
            role="img" aria-label="Side drawing of the bike, to scale. Every value in it stands in the tables below." {
            (rule(paper))
            g.ground { @for mark in of(Role::Ground) { (outline(mark, mark.thickness_mm, None)) } }
            g.wheels { @for mark in of(Role::Wheel) { (tube(mark)) } }
            // All outlines before all fillings: tubes that meet become one shape.
            g.frame {
                @for mark in of(Role::Frame) { (outline(mark, mark.thickness_mm, Some("ink"))) }
                @for mark in of(Role::Frame) { (outline(mark, mark.thickness_mm - 2.0 * PEN_MM, Some("paper"))) }
            }
            g.planned { @for mark in of(Role::Part) { (outline(mark, mark.thickness_mm, Some("solid"))) } }
            g.asked { @for mark in of(Role::Asked) { (outline(mark, 0.0, None)) } }
            g.measured { @for mark in of(Role::Measured) { (outline(mark, 0.0, None)) } }
            g.callouts { @for label in labels(plan, paper) { (label) } }
        }
    }
}

/// A mark as a tube of its own: an outline and its filling.
fn tube(mark: &Mark) -> Markup {
    html! {
        (outline(mark, mark.thickness_mm, Some("ink")))
        @if mark.thickness_mm > 0.0 { (outline(mark, mark.thickness_mm - 2.0 * PEN_MM, Some("paper"))) }
    }
}

/// A mark drawn with a pen of this width; a width of nothing is left to the style.
fn outline(mark: &Mark, width_mm: f64, class: Option<&str>) -> Markup {
    let about = mark.about.join(" ");
    let width = (width_mm > 0.0).then(|| tenth(width_mm));
    match &mark.shape {
        Shape::Path(points) => {
            let mut path = String::new();
            for (at, point) in points.iter().enumerate() {
                let pen = if at == 0 { 'M' } else { 'L' };
                // Writing into a string does not fail.
                let _ = write!(path, "{pen}{} {}", tenth(point.x_mm), tenth(-point.y_mm));
            }
            html! { path class=[class] d=(path) stroke-width=[width] data-at=(about) {} }
        }
        Shape::Circle { centre, radius_mm } => html! {
            circle class=[class] cx=(tenth(centre.x_mm)) cy=(tenth(-centre.y_mm)) r=(tenth(*radius_mm))
                stroke-width=[width] data-at=(about) {}
        },
    }
}

/// The rule along the foot of the paper: a stroke every 50 mm, a longer one with its figure every 200.
fn rule(paper: &Paper) -> Markup {
    let foot = -paper.bottom - 6.0;
    let step = 50.0;
    let first = (paper.left / step).ceil();
    let mut strokes = String::new();
    let mut figures = Vec::new();
    let mut at = first;
    // A bike is some two metres long, so some forty strokes.
    while at * step <= paper.right && at - first < 200.0 {
        let x = at * step;
        let long = at.rem_euclid(4.0) == 0.0;
        let _ = write!(strokes, "M{} {}v-{}", tenth(x), tenth(foot), if long { 22 } else { 11 });
        if long {
            figures.push(x);
        }
        at += 1.0;
    }
    html! {
        g.rule {
            path d=(strokes) {}
            @for x in figures { text x=(tenth(x + 5.0)) y=(tenth(foot - 12.0)) { (words::plain(Kind::Length, x)) } }
        }
    }
}

/// The signs of the numbers that have a place on the drawing: those behind the bottom bracket along the left edge, those
/// ahead of it along the right one, and those on the ground between the wheels, each with a thin line to its place.
fn labels(plan: &Plan, paper: &Paper) -> Vec<Markup> {
    let known = |callout: &&Callout| number_at(plan, &callout.about).is_some_and(|one| one.planned.is_ok());
    let mut all: Vec<&Callout> = plan.drawing.callouts.iter().filter(known).collect();
    all.sort_by(|a, b| b.at.y_mm.total_cmp(&a.at.y_mm));
    let (high, low): (Vec<&Callout>, Vec<&Callout>) = all.into_iter().partition(|callout| callout.at.y_mm > 0.0);
    let (behind, ahead): (Vec<&Callout>, Vec<&Callout>) = high.into_iter().partition(|callout| callout.at.x_mm < 0.0);

    let mut drawn = Vec::new();
    for (list, left) in [(behind, paper.left + 4.0), (ahead, paper.right - LABEL_WIDTH_MM)] {
        for (at, callout) in (0_u32..).zip(list) {
            drawn.push(label(plan, callout, left, paper.top - f64::from(at) * LABEL_MM));
        }
    }
    for (at, callout) in (0_u32..).zip(low) {
        drawn.push(label(plan, callout, -165.0 + f64::from(at) * LABEL_WIDTH_MM, callout.at.y_mm + 1.6 * LABEL_MM));
    }
    drawn
}

/// One sign: what it is called, its planned value and the three strokes, with its upper left corner at this place.
fn label(plan: &Plan, callout: &Callout, left: f64, top: f64) -> Markup {
    let Some(one) = number_at(plan, &callout.about) else { return html! {} };
    let value = one.planned.as_ref().ok().map(|value| words::with_unit(one.number.kind, *value));
    let short = one.number.name.split(',').next().unwrap_or(one.number.name);
    let name = format!("{short} {}", one.side.word());
    // The line leaves the label at the side that looks at the place, at the height of the value.
    let (x, y) = if callout.at.y_mm < 0.0 {
        (left + 30.0, top - LABEL_MM)
    } else if callout.at.x_mm > left {
        (left + LABEL_WIDTH_MM, top - 56.0)
    } else {
        (left - 8.0, top - 56.0)
    };
    html! {
        g class={ "callout " (sign::class_of(one.verdict)) } data-at=(callout.about) {
            path.leader d={ "M" (tenth(x)) " " (tenth(-y)) "L" (tenth(callout.at.x_mm)) " " (tenth(-callout.at.y_mm)) } {}
            g transform={ "translate(" (tenth(left)) " " (tenth(-top)) ")" } {
                text.name x="0" y="24" { (name.trim_end()) }
                svg y="34" width="104" height="46" viewBox="2 0 68 30" { (sign::strokes(one)) }
                text.value x="110" y="70" { (value.unwrap_or_default()) }
            }
        }
    }
}

fn number_at<'a>(plan: &'a Plan, address: &str) -> Option<&'a PlannedNumber> {
    plan.numbers.each().iter().find(|one| super::address::of_number(one.number.id, one.side) == address)
}

/// A tenth of a millimetre is finer than any pen.
fn tenth(value: f64) -> f64 {
    let tenths = (value * 10.0).round() / 10.0;
    // No "-0" in a picture.
    if tenths == 0.0 { 0.0 } else { tenths }
}
