//! The survey to scale: points with their ellipses, the lines that were read, and the one to read next in the strong colour.

use super::Surveyed;
use super::next::Proposal;
use maud::{Markup, html};
use witnessmark_core::build::{SurveyPoint as P, Taken};
use witnessmark_core::draw::Point2;
use witnessmark_core::field::Choice;
use witnessmark_core::number::{self, Side};
use witnessmark_core::survey::{Placed, Survey};

/// Blank paper round the bike.
const MARGIN_MM: f64 = 70.0;
/// The largest ellipse is drawn about so large, as its half axis.
const LARGEST_MM: f64 = 90.0;
/// Ellipses are drawn so many times as large as they are.
const SCALES: [f64; 6] = [50.0, 20.0, 10.0, 5.0, 2.0, 1.0];
/// Points nearer to each other than this share a name on the drawing.
const TOGETHER_MM: f64 = 55.0;

/// The room of a name along the drawing.
const NAME_MM: f64 = 300.0;

/// What is drawn of a bike as a sketch: lines between points that are known.
const SKETCH: [(P, P); 12] = [
    (P::BottomBracket, P::RearAxle),
    (P::BottomBracket, P::Collar),
    (P::Collar, P::RailClamp),
    (P::Collar, P::HeadTop),
    (P::BottomBracket, P::HeadBottom),
    (P::HeadTop, P::HeadBottom),
    (P::HeadBottom, P::FrontAxle),
    (P::SaddleTail, P::SaddleTop),
    (P::SaddleTop, P::SaddleNose),
    (P::BarClamp, P::HoodLeft),
    (P::BarClamp, P::HoodRight),
    (P::BarClamp, P::BarEndLeft),
];

/// The drawing with its frame.
pub(super) fn figure(surveyed: &Surveyed<'_>) -> Markup {
    let points = placed(surveyed);
    let scale = scale(surveyed);
    html! {
        figure #survey-drawing {
            @if points.len() < 2 {
                p.quiet { "Nothing to draw yet. The first readings place the first points." }
            } @else {
                (picture(surveyed, &points, scale))
            }
            figcaption {
                span { span.strong-line aria-hidden="true" {} "to be read next" }
                span { "each ellipse holds its point 95 times in 100, drawn " b { (scale) } " times as large" }
                @if surveyed.before.is_some() { span { "dashed: before the last reading" } }
                span.scale { "to scale, drive side, as the readings have it" }
            }
        }
    }
}

/// Every point that has a place, those of the next reading with theirs, if only as a guess.
fn placed(surveyed: &Surveyed<'_>) -> Vec<Placed> {
    let mut points = surveyed.survey.points.clone();
    for placed in surveyed.with_next.iter().flat_map(|survey| &survey.points) {
        if !points.iter().any(|one| one.point == placed.point) {
            points.push(*placed);
        }
    }
    points
}

/// One scale for what was and what is, so that a smaller ellipse looks smaller.
fn scale(surveyed: &Surveyed<'_>) -> f64 {
    let all = surveyed.before.iter().chain([&surveyed.survey]).flat_map(|survey| &survey.points);
    let largest = all.filter_map(|placed| placed.ellipse).map(|ellipse| ellipse.long_mm).fold(0.0, f64::max);
    SCALES.into_iter().find(|scale| largest * scale <= LARGEST_MM).unwrap_or(1.0)
}

fn picture(surveyed: &Surveyed<'_>, points: &[Placed], scale: f64) -> Markup {
    let at = |point: P| points.iter().find(|one| one.point == point).map(|one| one.at);
    let floor = Floor::of(&surveyed.survey);
    let wheels: Vec<(Point2, f64)> = [P::RearAxle, P::FrontAxle]
        .into_iter()
        .filter_map(|axle| surveyed.survey.point(axle))
        .filter_map(|axle| Some((axle.at, floor?.height_of(axle.at))))
        .filter(|(_, radius)| (100.0..500.0).contains(radius))
        .collect();
    let mut low = Point2::at(f64::INFINITY, f64::INFINITY);
    let mut high = Point2::at(f64::NEG_INFINITY, f64::NEG_INFINITY);
    let corners = points.iter().map(|one| (one.at, 0.0)).chain(wheels.iter().copied());
    for (centre, radius) in corners {
        low = Point2::at(low.x_mm.min(centre.x_mm - radius), low.y_mm.min(centre.y_mm - radius));
        high = Point2::at(high.x_mm.max(centre.x_mm + radius), high.y_mm.max(centre.y_mm + radius));
    }
    if let Some(floor) = floor {
        low.y_mm = low.y_mm.min(-floor.height_mm);
    }
    let (left, top) = (low.x_mm - MARGIN_MM, high.y_mm + MARGIN_MM);
    let (width, height) = (high.x_mm - low.x_mm + 2.0 * MARGIN_MM, high.y_mm - low.y_mm + 2.0 * MARGIN_MM);
    html! {
        svg viewBox={ (tenth(left)) " " (tenth(-top)) " " (tenth(width)) " " (tenth(height)) }
            role="img" aria-label=(spoken(surveyed)) {
            g.wheels { @for (centre, radius) in &wheels { circle cx=(tenth(centre.x_mm)) cy=(tenth(-centre.y_mm)) r=(tenth(*radius)) {} } }
            @if let Some(floor) = floor { g.ground { (line(&[floor.under(left), floor.under(left + width)], None)) } }
            g.sketch {
                @for (one, other) in SKETCH {
                    @if let (Some(one), Some(other)) = (at(one), at(other)) { (line(&[one, other], None)) }
                }
            }
            g.read {
                @for one in &surveyed.survey.readings {
                    @if one.item.value.is_some() {
                        @let path = format!("survey.{}.value", one.item.name);
                        @for strokes in strokes(one.item.what, at(one.item.from), at(one.item.to), floor) { (line(&strokes, Some(&path))) }
                    }
                }
            }
            @if let Some(before) = &surveyed.before { g.ellipses.before { @for one in &before.points { (ellipse(one, scale)) } } }
            g.ellipses { @for one in &surveyed.survey.points { (ellipse(one, scale)) } }
            @if let Some(next) = &surveyed.next { g.next { (proposed(next, at, floor)) } }
            g.points {
                @for one in points {
                    circle.open[one.ellipse.is_none() && one.point != P::BottomBracket] cx=(tenth(one.at.x_mm)) cy=(tenth(-one.at.y_mm)) r="7" {}
                }
            }
            g.names {
                @for name in names(points) {
                    @let (aside, anchor) = if name.before { (-14.0, "end") } else { (14.0, "start") };
                    text x=(tenth(name.at.x_mm + aside)) y=(tenth(-name.at.y_mm - 16.0)) text-anchor=(anchor) { (name.text) }
                }
            }
        }
    }
}

/// The picture for those who do not see it.
fn spoken(surveyed: &Surveyed<'_>) -> String {
    let known = surveyed.survey.points.iter().filter(|one| one.ellipse.is_some()).count();
    let next = surveyed.next.as_ref().map_or_else(String::new, |next| format!(" To be read next: {}.", next.words));
    format!(
        "Side drawing of the surveyed points, to scale: {known} are known.{next} Every value in it stands in the tables below."
    )
}

/// The floor as the readings have it.
#[derive(Clone, Copy)]
struct Floor {
    slope_deg: f64,
    /// From the bottom bracket square down to it.
    height_mm: f64,
}

impl Floor {
    fn of(survey: &Survey) -> Option<Self> {
        let height_mm = survey.of(&number::BB_HEIGHT, Side::None)?.value;
        Some(Floor { slope_deg: survey.stand.floor_deg.map_or(0.0, |(slope, _)| slope), height_mm })
    }

    /// The foot of a point.
    fn foot(self, point: Point2) -> Point2 {
        point - Point2::direction(self.slope_deg).quarter_turned() * self.height_of(point)
    }

    fn height_of(self, point: Point2) -> f64 {
        self.height_mm + point.dot(Point2::direction(self.slope_deg).quarter_turned())
    }

    /// The floor below this place along the drawing.
    fn under(self, x_mm: f64) -> Point2 {
        let square = Point2::direction(self.slope_deg).quarter_turned();
        Point2::at(x_mm, (-self.height_mm - x_mm * square.x_mm) / square.y_mm)
    }
}

/// The lines along which a reading is taken; none for one whose points have no place.
fn strokes(what: Taken, from: Option<Point2>, to: Option<Point2>, floor: Option<Floor>) -> Vec<Vec<Point2>> {
    let (Some(from), Some(to)) = (from, to) else { return Vec::new() };
    match what {
        Taken::Straight | Taken::Slope | Taken::Along | Taken::Across => vec![vec![from, to]],
        Taken::Height => {
            // Where no height was read yet the floor is a guess: a bottom bracket is some 270 mm above it.
            let floor = floor.unwrap_or(Floor { slope_deg: 0.0, height_mm: 270.0 });
            vec![vec![to, floor.foot(to)]]
        }
        Taken::Ahead | Taken::Above => vec![vec![from, Point2::at(to.x_mm, from.y_mm), to]],
        Taken::Off | Taken::SaddleTilt | Taken::FloorSlope => Vec::new(),
    }
}

/// The reading to be taken, with a stroke across at each end.
fn proposed(next: &Proposal, at: impl Fn(P) -> Option<Point2>, floor: Option<Floor>) -> Markup {
    let strokes = match next.what {
        Taken::SaddleTilt => strokes(Taken::Slope, at(P::SaddleTail).or(at(P::SaddleTop)), at(P::SaddleNose), floor),
        Taken::FloorSlope => floor.map(|floor| vec![vec![floor.under(-400.0), floor.under(580.0)]]).unwrap_or_default(),
        what => strokes(what, at(next.from), at(next.to), floor),
    };
    html! {
        @for stroke in &strokes {
            (line(stroke, None))
            @for (end, beside) in [(stroke.first(), stroke.get(1)), (stroke.last(), stroke.iter().rev().nth(1))] {
                @if let (Some(end), Some(beside)) = (end, beside) { (tick(*end, *beside)) }
            }
            // A width across the bike, or two points at one place in the side view: a ring round them.
            @if let (Some(first), Some(last)) = (stroke.first(), stroke.last()) {
                @if first.distance_mm(*last) < 40.0 { circle cx=(tenth(first.x_mm)) cy=(tenth(-first.y_mm)) r="34" {} }
            }
        }
    }
}

fn tick(end: Point2, beside: Point2) -> Markup {
    let along = beside - end;
    let long = along.length_mm();
    if long < 1.0 {
        return html! {};
    }
    let across = along.quarter_turned() * (22.0 / long);
    line(&[end - across, end + across], None)
}

fn line(points: &[Point2], about: Option<&str>) -> Markup {
    let places: Vec<String> =
        points.iter().map(|point| format!("{} {}", tenth(point.x_mm), tenth(-point.y_mm))).collect();
    html! { path d={ "M" (places.join("L")) } data-at=[about] {} }
}

fn ellipse(placed: &Placed, scale: f64) -> Markup {
    let Some(ellipse) = placed.ellipse else { return html! {} };
    let (x, y) = (tenth(placed.at.x_mm), tenth(-placed.at.y_mm));
    html! {
        ellipse cx=(x) cy=(y) rx=(tenth((ellipse.long_mm * scale).max(0.1))) ry=(tenth((ellipse.short_mm * scale).max(0.1)))
            transform={ "rotate(" (tenth(-ellipse.turn_deg)) " " (x) " " (y) ")" } {}
    }
}

/// A name on the drawing.
struct Name {
    at: Point2,
    text: String,
    /// It stands before its point, because another name stands behind it.
    before: bool,
}

/// The names of the points, one for those that lie together.
fn names(points: &[Placed]) -> Vec<Name> {
    let mut groups: Vec<(Point2, Vec<&str>)> = Vec::new();
    for one in points {
        match groups.iter_mut().find(|(place, _)| place.distance_mm(one.at) < TOGETHER_MM) {
            Some((_, together)) => together.push(one.point.name()),
            None => groups.push((one.at, vec![one.point.name()])),
        }
    }
    let crowded = |at: Point2| {
        groups.iter().any(|(other, _)| {
            let ahead = *other - at;
            (1.0..NAME_MM).contains(&ahead.x_mm) && ahead.y_mm.abs() < 45.0
        })
    };
    groups
        .iter()
        .map(|(at, together)| {
            // "left hood" and "right hood" in one.
            let text = match together.as_slice() {
                [left, right]
                    if left.strip_prefix("left") == right.strip_prefix("right") && left.starts_with("left") =>
                {
                    format!("left and {right}")
                }
                all => all.join(", "),
            };
            Name { at: *at, text, before: crowded(*at) }
        })
        .collect()
}

/// A tenth of a millimetre is finer than any pen.
fn tenth(value: f64) -> f64 {
    let tenths = (value * 10.0).round() / 10.0;
    if tenths == 0.0 { 0.0 } else { tenths }
}
