//! The part of the plane that the side drawing takes: its edges, the rule at its foot, and where the signs of its numbers
//! stand so that none lies on the bike or on another.

use super::{Callout, Drawing, Point2};

/// Blank paper round the bike.
const MARGIN_MM: f64 = 40.0;
/// The height of a label with the gap below it.
pub const LABEL_MM: f64 = 92.0;
/// The room of a label along the drawing.
pub const LABEL_WIDTH_MM: f64 = 296.0;
/// The room of a label on the ground, where the wheels leave little.
const LOW_WIDTH_MM: f64 = 258.0;
/// How far apart the strokes of the rule stand.
const RULE_MM: f64 = 50.0;

/// The edges of what is drawn, mm, y up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// Left edge.
    pub left_mm: f64,
    /// Right edge.
    pub right_mm: f64,
    /// Lower edge.
    pub bottom_mm: f64,
    /// Upper edge.
    pub top_mm: f64,
}

/// A stroke of the rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RuleStroke {
    /// Where it stands, from the bottom bracket forward.
    pub x_mm: f64,
    /// A long one carries its figure.
    pub long: bool,
}

/// The place of a number's sign beside the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Label<'a> {
    /// What it tells of, and the place it points to.
    pub callout: &'a Callout,
    /// Its upper left corner.
    pub corner: Point2,
    /// Where its thin line begins.
    pub leader: Point2,
}

impl Paper {
    /// The paper of a drawing; `None` for a bike of which so little is known that there is no drawing.
    pub fn of(drawing: &Drawing) -> Option<Self> {
        let (low, high) = drawing.bounds()?;
        // Of a bike of which nothing is known the bottom bracket is left, and that alone is no drawing.
        if high.x_mm - low.x_mm < 100.0 {
            return None;
        }
        Some(Paper {
            left_mm: low.x_mm - MARGIN_MM,
            right_mm: high.x_mm + MARGIN_MM,
            bottom_mm: low.y_mm - MARGIN_MM - 50.0,
            top_mm: high.y_mm + MARGIN_MM,
        })
    }

    /// The rule along the foot: a stroke every 50 mm, a longer one with its figure every 200.
    pub fn rule(&self) -> Vec<RuleStroke> {
        let first = (self.left_mm / RULE_MM).ceil();
        let mut strokes = Vec::new();
        let mut at = first;
        // A bike is some two metres long, so some forty strokes.
        while at * RULE_MM <= self.right_mm && at - first < 200.0 {
            strokes.push(RuleStroke { x_mm: at * RULE_MM, long: at.rem_euclid(4.0) == 0.0 });
            at += 1.0;
        }
        strokes
    }

    /// Where labels stand: those behind the bottom bracket along the left edge, those ahead of it along the right one, and
    /// those on the ground between the wheels, each with a thin line to its place.
    pub fn labels<'a>(&self, callouts: impl IntoIterator<Item = &'a Callout>) -> Vec<Label<'a>> {
        let mut all: Vec<&Callout> = callouts.into_iter().collect();
        all.sort_by(|a, b| b.at.y_mm.total_cmp(&a.at.y_mm));
        let (high, low): (Vec<&Callout>, Vec<&Callout>) = all.into_iter().partition(|callout| callout.at.y_mm > 0.0);
        let (behind, ahead): (Vec<&Callout>, Vec<&Callout>) =
            high.into_iter().partition(|callout| callout.at.x_mm < 0.0);
        let mut labels = Vec::new();
        for (list, left) in [(behind, self.left_mm + 4.0), (ahead, self.right_mm - LABEL_WIDTH_MM)] {
            for (at, callout) in (0_u32..).zip(list) {
                labels.push(label(callout, left, self.top_mm - f64::from(at) * LABEL_MM));
            }
        }
        for (at, callout) in (0_u32..).zip(low) {
            labels.push(label(callout, -165.0 + f64::from(at) * LOW_WIDTH_MM, callout.at.y_mm + 1.1 * LABEL_MM));
        }
        labels
    }
}

fn label(callout: &Callout, left_mm: f64, top_mm: f64) -> Label<'_> {
    let at = |x_mm: f64, y_mm: f64| Point2 { x_mm, y_mm };
    // The line leaves the label at the side that looks at the place, at the height of the value.
    let leader = if callout.at.y_mm < 0.0 {
        at(left_mm + 30.0, top_mm - LABEL_MM)
    } else if callout.at.x_mm > left_mm {
        at(left_mm + LABEL_WIDTH_MM, top_mm - 56.0)
    } else {
        at(left_mm - 8.0, top_mm - 56.0)
    };
    Label { callout, corner: at(left_mm, top_mm), leader }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::build::sample::sample;

    #[test]
    fn the_labels_of_a_finished_bike_do_not_lie_on_each_other() {
        let drawing = crate::plan(&sample()).drawing;
        let paper = Paper::of(&drawing);
        let labels = paper.map(|paper| paper.labels(&drawing.callouts)).unwrap_or_default();
        assert!(labels.len() > 8, "{labels:?}");
        for (at, one) in labels.iter().enumerate() {
            for other in &labels[at + 1..] {
                let apart_x = (one.corner.x_mm - other.corner.x_mm).abs() >= LOW_WIDTH_MM - 1e-9;
                let apart_y = (one.corner.y_mm - other.corner.y_mm).abs() >= LABEL_MM - 1e-9;
                assert!(apart_x || apart_y, "{} on {}", one.callout.about, other.callout.about);
            }
        }
    }

    #[test]
    fn the_rule_begins_and_ends_on_the_paper_and_its_long_strokes_are_two_hundred_apart() {
        let paper = Paper { left_mm: -520.0, right_mm: 830.0, bottom_mm: -300.0, top_mm: 900.0 };
        let rule = paper.rule();
        assert!(rule.iter().all(|stroke| paper.left_mm <= stroke.x_mm && stroke.x_mm <= paper.right_mm));
        let long: Vec<f64> = rule.iter().filter(|stroke| stroke.long).map(|stroke| stroke.x_mm).collect();
        assert_eq!(long, [-400.0, -200.0, 0.0, 200.0, 400.0, 600.0, 800.0]);
    }

    #[test]
    fn a_bike_of_which_nothing_is_known_has_no_paper() {
        assert_eq!(Paper::of(&Drawing::default()), None);
        assert_eq!(Paper::of(&crate::plan(&crate::Build::default()).drawing), None);
    }
}
