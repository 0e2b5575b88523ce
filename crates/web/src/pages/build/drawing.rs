//! The side drawing: planned in solid lines, asked as rings, measured as dots, and the signs of a few numbers.
//!
//! The picture's unit is the millimetre. Colours and pens are the style's; only widths that are widths of tubes stand
//! here.

use crate::{sign, words};
use maud::{Markup, html};
use std::fmt::Write as _;
use witnessmark_core::Plan;
use witnessmark_core::compute::PlannedNumber;
use witnessmark_core::draw::paper::{Label, Paper};
use witnessmark_core::draw::{Callout, Mark, Role, Shape};
use witnessmark_core::field::Kind;

/// The pen of an outline.
const PEN_MM: f64 = 5.0;

/// The drawing with its frame.
pub(crate) fn figure(plan: &Plan) -> Markup {
    html! {
        figure #drawing {
            @match Paper::of(&plan.drawing) {
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

fn picture(plan: &Plan, paper: &Paper) -> Markup {
    let marks = &plan.drawing.marks;
    let (width, height) = (paper.right_mm - paper.left_mm, paper.top_mm - paper.bottom_mm);
    let of = |role: Role| marks.iter().filter(move |mark| mark.role == role);
    html! {
        svg viewBox={ (tenth(paper.left_mm)) " " (tenth(-paper.top_mm)) " " (tenth(width)) " " (tenth(height)) }
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

/// The rule along the foot of the paper.
fn rule(paper: &Paper) -> Markup {
    let foot = -paper.bottom_mm - 6.0;
    let mut strokes = String::new();
    for stroke in paper.rule() {
        let _ = write!(strokes, "M{} {}v-{}", tenth(stroke.x_mm), tenth(foot), if stroke.long { 22 } else { 11 });
    }
    html! {
        g.rule {
            path d=(strokes) {}
            @for stroke in paper.rule().into_iter().filter(|stroke| stroke.long) {
                text x=(tenth(stroke.x_mm + 5.0)) y=(tenth(foot - 12.0)) { (words::plain(Kind::Length, stroke.x_mm)) }
            }
        }
    }
}

/// The signs of the numbers that have a place on the drawing.
fn labels(plan: &Plan, paper: &Paper) -> Vec<Markup> {
    let known = |callout: &&Callout| number_at(plan, &callout.about).is_some_and(|one| one.planned.is_ok());
    paper.labels(plan.drawing.callouts.iter().filter(known)).iter().map(|one| label(plan, one)).collect()
}

/// One sign: what it is called, its planned value and the three strokes.
fn label(plan: &Plan, label: &Label<'_>) -> Markup {
    let Label { callout, corner, leader } = label;
    let Some(one) = number_at(plan, &callout.about) else { return html! {} };
    let value = one.planned.as_ref().ok().map(|value| words::with_unit(one.number.kind, *value));
    let short = one.number.name.split(',').next().unwrap_or(one.number.name);
    let name = format!("{short} {}", one.side.word());
    let (x, y) = (leader.x_mm, leader.y_mm);
    html! {
        g class={ "callout " (sign::class_of(one.verdict)) } data-at=(callout.about) {
            path.leader d={ "M" (tenth(x)) " " (tenth(-y)) "L" (tenth(callout.at.x_mm)) " " (tenth(-callout.at.y_mm)) } {}
            g transform={ "translate(" (tenth(corner.x_mm)) " " (tenth(-corner.y_mm)) ")" } {
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
