//! The gears on their rules: a rule for each ring, laid along one scale of metres a turn of the pedals.
//!
//! Every gear is a stroke across its ring's rule, with the teeth of its sprocket beside it. Equal distances are equal per
//! cents, so an even cassette looks even and a hole looks like one. Gears that do nearly the same are joined by a line,
//! those better left alone are crossed out, and the longest gear that the race allows is a line across everything, with
//! what lies beyond it washed over.
//!
//! The picture is laid twice: along the page, and upright for a narrow screen. The style shows one of them.

use maud::{Markup, html};
use witnessmark_core::compute::Worked;
use witnessmark_core::draw::{GearChart, GearScale, LimitMark, Notch, ScaleMark, Tie, gear_chart};
use witnessmark_core::finding::figure;

/// The chart with its words.
fn drawn(chart: &GearChart) -> Markup {
    let scale = match chart.scale {
        GearScale::Metres => "metres a turn of the pedals",
        GearScale::Turns => "turns of the wheel a turn of the pedals",
    };
    let says = spoken(chart);
    html! {
        figure.gear-rules {
            (picture(chart, &Lay { upright: false, length: 1080.0, from: 84.0, rings: chart.rings.len() }, &says))
            (picture(chart, &Lay { upright: true, length: 900.0, from: 66.0, rings: chart.rings.len() }, &says))
            figcaption {
                span { "scale: " (scale) }
                span { "figure on a stroke: teeth of the sprocket" }
                span { "between strokes: per cent harder" }
                @if !chart.ties.is_empty() { span { (key("tie")) "nearly the same" } }
                @if chart.notches.iter().any(|notch| notch.avoid) { span { (key("avoid")) "better left alone" } }
                @if !chart.limits.is_empty() { span { (key("limit")) "longest gear allowed" } }
            }
        }
    }
}

/// The chart; nothing where the gears are not known.
pub(super) fn of(worked: &Worked) -> Markup {
    gear_chart(worked).map_or_else(|| html! {}, |chart| drawn(&chart))
}

fn key(class: &str) -> Markup {
    html! {
        svg.rule-key viewBox="0 0 40 24" aria-hidden="true" {
            @match class {
                "tie" => { path.tie d="M8 2C8 12 32 12 32 22" {} circle.tie cx="8" cy="3" r="3" {} circle.tie cx="32" cy="21" r="3" {} }
                "avoid" => { path.stroke.avoid d="M20 1v22" {} path.cross d="M12 4l16 16M28 4l-16 16" {} }
                _ => { rect.beyond x="20" y="0" width="20" height="24" {} path.limit d="M20 0v24" {} }
            }
        }
    }
}

/// The picture for those who do not see it.
fn spoken(chart: &GearChart) -> String {
    let rings: Vec<String> = chart
        .rings
        .iter()
        .enumerate()
        .map(|(place, ring)| {
            let gears = chart.notches.iter().filter(|notch| notch.ring_place == place).count();
            format!("{gears} gears on the ring of {ring}")
        })
        .collect();
    let limit = chart
        .limits
        .first()
        .map_or_else(String::new, |limit| format!(" The longest gear allowed is {} m.", figure(limit.metres, 2)));
    format!(
        "The gears as strokes on rules, one rule a ring: {}; {} of the pairs nearly the same.{limit} Every value stands in the table below.",
        rings.join(", "),
        chart.ties.len()
    )
}

/// Thickness of a ring's rule.
const RULE: f64 = 40.0;
/// From the foot of a ring's rule to the head of the next.
const BETWEEN: f64 = 92.0;
/// How the picture lies.
struct Lay {
    /// Upright: the scale runs up the page, the longest gear at its head.
    upright: bool,
    /// The picture's length along the scale.
    length: f64,
    /// Where the scale begins along it.
    from: f64,
    rings: usize,
}

/// On which side of a place a text stands.
#[derive(Clone, Copy)]
enum Stands {
    /// Before it: above, or to the left when upright.
    Before,
    /// In the middle of it.
    Within,
    /// Behind it: below, or to the right when upright.
    Behind,
}

impl Lay {
    /// A share of the scale as a place along it.
    fn along(&self, share: f64) -> f64 {
        let room = self.length - self.from - 26.0;
        if self.upright { self.length - 26.0 - share * room } else { self.from + share * room }
    }

    /// The distance along the scale between two shares.
    fn apart(&self, one: f64, other: f64) -> f64 {
        (self.along(one) - self.along(other)).abs()
    }

    /// Where a ring's rule begins across the scale.
    fn rule(&self, ring: usize) -> f64 {
        // A crank has at most three rings.
        let ring = f64::from(u32::try_from(ring).unwrap_or_default());
        self.head() + ring * (RULE + BETWEEN)
    }

    /// The room before the first rule: the scale, and the teeth of the sprockets, which are wider than high.
    fn head(&self) -> f64 {
        if self.upright { 96.0 } else { 78.0 }
    }

    /// Where the last rule ends.
    fn foot(&self) -> f64 {
        self.rule(self.rings.saturating_sub(1)) + RULE
    }

    fn across(&self) -> f64 {
        self.foot() + 112.0
    }

    fn place(&self, along: f64, across: f64) -> (f64, f64) {
        if self.upright { (across, along) } else { (along, across) }
    }

    fn line(&self, class: &str, from: (f64, f64), to: (f64, f64)) -> Markup {
        let ((x, y), (to_x, to_y)) = (self.place(from.0, from.1), self.place(to.0, to.1));
        html! { path class=(class) d={ "M" (tenth(x)) " " (tenth(y)) "L" (tenth(to_x)) " " (tenth(to_y)) } {} }
    }

    fn block(&self, class: &str, along: (f64, f64), across: (f64, f64)) -> Markup {
        let ((x, y), (to_x, to_y)) = (self.place(along.0, across.0), self.place(along.1, across.1));
        let (left, top) = (x.min(to_x), y.min(to_y));
        html! {
            rect class=(class) x=(tenth(left)) y=(tenth(top)) width=(tenth((x - to_x).abs())) height=(tenth((y - to_y).abs())) {}
        }
    }

    fn text(&self, class: &str, at: (f64, f64), stands: Stands, text: &str) -> Markup {
        let (x, y) = self.place(at.0, at.1);
        let (anchor, down) = match (self.upright, stands) {
            (true, Stands::Before) => ("end", 7.0),
            (true, Stands::Behind) => ("start", 7.0),
            (_, Stands::Within) => ("middle", 6.0),
            (false, Stands::Before) => ("middle", 0.0),
            (false, Stands::Behind) => ("middle", 16.0),
        };
        html! { text class=(class) x=(tenth(x)) y=(tenth(y + down)) text-anchor=(anchor) { (text) } }
    }
}

fn picture(chart: &GearChart, lay: &Lay, says: &str) -> Markup {
    let (width, height) = lay.place(lay.length, lay.across());
    html! {
        svg.upright[lay.upright].lying[!lay.upright] viewBox={ "0 0 " (tenth(width)) " " (tenth(height)) } role="img" aria-label=(says) {
            @for limit in &chart.limits { (beyond(limit, lay)) }
            (scale(&chart.marks, lay, 34.0, Stands::Before, unit(chart)))
            @for (place, ring) in chart.rings.iter().enumerate() { (rule(chart, lay, place, *ring)) }
            @for tie in &chart.ties { (joined(chart, lay, tie)) }
            @if !chart.speeds.is_empty() { (scale(&chart.speeds, lay, lay.foot() + 58.0, Stands::Behind, "km/h")) }
            @for limit in &chart.limits { (limit_line(limit, lay)) }
        }
    }
}

fn unit(chart: &GearChart) -> &'static str {
    match chart.scale {
        GearScale::Metres => "m a turn",
        GearScale::Turns => "turns",
    }
}

/// A scale: its strokes on a line, and as many figures as have room.
fn scale(marks: &[ScaleMark], lay: &Lay, across: f64, stands: Stands, unit: &str) -> Markup {
    /// The room of a figure along the scale.
    const FIGURE: f64 = 46.0;
    let side = if matches!(stands, Stands::Before) { -1.0 } else { 1.0 };
    let mut figures: Vec<&ScaleMark> = Vec::new();
    // Whole figures come first; halves where there is room beside them.
    for whole in [true, false] {
        for mark in marks.iter().filter(|mark| (mark.value.fract() == 0.0) == whole) {
            if figures.iter().all(|other| lay.apart(other.share, mark.share) >= FIGURE) {
                figures.push(mark);
            }
        }
    }
    // Upright, the unit stands below its scale, inward of the picture's edge.
    let (x, y) = if lay.upright {
        (if side < 0.0 { 2.0 } else { across + 8.0 }, lay.length - 6.0)
    } else {
        (4.0, across + side * 12.0)
    };
    html! {
        g.scale {
            (lay.line("edge", (lay.along(0.0), across), (lay.along(1.0), across)))
            @for mark in marks {
                @let long = figures.iter().any(|figure| figure.value.total_cmp(&mark.value).is_eq());
                (lay.line("tick", (lay.along(mark.share), across), (lay.along(mark.share), across - side * if long { 12.0 } else { 6.0 })))
            }
            @for mark in &figures {
                (lay.text("figure", (lay.along(mark.share), across + side * 8.0), stands, &figure(mark.value, 1)))
            }
            text.unit x=(tenth(x)) y=(tenth(if lay.upright { y } else { y + if side < 0.0 { 4.0 } else { 12.0 } })) text-anchor="start" { (unit) }
        }
    }
}

/// A ring's rule with its gears.
fn rule(chart: &GearChart, lay: &Lay, place: usize, ring: u32) -> Markup {
    let (head, foot) = (lay.rule(place), lay.rule(place) + RULE);
    let mut notches: Vec<&Notch> = chart.notches.iter().filter(|notch| notch.ring_place == place).collect();
    notches.sort_by(|a, b| a.share.total_cmp(&b.share));
    // Ties run between the rules, so the teeth stand on the other side: above all but the last, below the last.
    let last = place + 1 == chart.rings.len() && place > 0;
    let (teeth, stands) = if last { (foot + 8.0, Stands::Behind) } else { (head - 9.0, Stands::Before) };
    let name = if lay.upright { (18.0, head.midpoint(foot)) } else { (4.0, head.midpoint(foot)) };
    let (x, y) = lay.place(name.0, name.1);
    html! {
        g.ring {
            (lay.block("rule", (lay.along(0.0), lay.along(1.0)), (head, foot)))
            text.ring-teeth x=(tenth(x)) y=(tenth(y + if lay.upright { 4.0 } else { 9.0 })) text-anchor=(if lay.upright { "middle" } else { "start" }) { (ring) }
            @for pair in notches.windows(2) { (step(lay, pair[0], pair[1], head.midpoint(foot))) }
            @for notch in notches {
                @let at = lay.along(notch.share);
                (lay.line(if notch.avoid { "stroke avoid" } else { "stroke" }, (at, head), (at, foot)))
                @if notch.avoid {
                    (lay.line("cross", (at - 8.0, head + RULE / 2.0 - 8.0), (at + 8.0, head + RULE / 2.0 + 8.0)))
                    (lay.line("cross", (at - 8.0, head + RULE / 2.0 + 8.0), (at + 8.0, head + RULE / 2.0 - 8.0)))
                }
                (lay.text(if notch.avoid { "teeth avoid" } else { "teeth" }, (at, teeth), stands, &notch.sprocket.to_string()))
            }
        }
    }
}

/// The step from one stroke to the next harder one, where a figure has room between them.
fn step(lay: &Lay, easier: &Notch, harder: &Notch, across: f64) -> Markup {
    let room = lay.apart(easier.share, harder.share);
    let least = if lay.upright { 20.0 } else { 28.0 };
    let Some(percent) = easier.step_percent.filter(|_| room >= least && !easier.avoid && !harder.avoid) else {
        return html! {};
    };
    let middle = lay.along(easier.share).midpoint(lay.along(harder.share));
    lay.text("percent", (middle, across), Stands::Within, &figure(percent, 0))
}

/// Two gears that do nearly the same, joined.
fn joined(chart: &GearChart, lay: &Lay, tie: &Tie) -> Markup {
    let (Some(one), Some(other)) = (chart.notches.get(tie.one), chart.notches.get(tie.other)) else { return html! {} };
    let (from, to) = (lay.rule(one.ring_place) + RULE + 4.0, lay.rule(other.ring_place) - 4.0);
    let (a, b) = (lay.along(one.share), lay.along(other.share));
    let bend = (to - from) / 2.0;
    let at = |along: f64, across: f64| {
        let (x, y) = lay.place(along, across);
        format!("{} {}", tenth(x), tenth(y))
    };
    let curve = format!("M{}C{},{},{}", at(a, from), at(a, from + bend), at(b, to - bend), at(b, to));
    let dot = |along: f64, across: f64| {
        let (x, y) = lay.place(along, across);
        html! { circle.tie cx=(tenth(x)) cy=(tenth(y)) r="4" {} }
    };
    html! { path.tie d=(curve) {} (dot(a, from)) (dot(b, to)) }
}

/// What lies beyond a limit, washed over.
fn beyond(limit: &LimitMark, lay: &Lay) -> Markup {
    lay.block("beyond", (lay.along(limit.share), lay.along(1.0)), (lay.head() - 34.0, lay.foot() + 34.0))
}

fn limit_line(limit: &LimitMark, lay: &Lay) -> Markup {
    let at = lay.along(limit.share);
    let end = lay.foot() + if lay.upright { 34.0 } else { 92.0 };
    let says = format!("limit {} m {}", figure(limit.metres, 2), limit.class);
    let (x, y) = if lay.upright { (lay.head() - 30.0, at + 22.0) } else { (at - 8.0, end + 10.0) };
    html! {
        (lay.line("limit", (at, lay.head() - 34.0), (at, end)))
        text.limit-says x=(tenth(x)) y=(tenth(y)) text-anchor=(if lay.upright { "start" } else { "end" }) { (says.trim_end()) }
    }
}

/// A tenth is finer than any pen.
fn tenth(value: f64) -> f64 {
    let tenths = (value * 10.0).round() / 10.0;
    if tenths == 0.0 { 0.0 } else { tenths }
}
