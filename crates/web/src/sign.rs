//! The witness sign: three short strokes, asked over planned over measured, on one scale with the tolerance behind.
//!
//! In line, they are one unbroken line; moved, the line is broken where it moved; not read, its foot is missing. An
//! uncertain reading has a paler width about its stroke. The scale ends three tolerances from the middle; a stroke beyond it is an
//! arrow tip at the end it left by.

use crate::words;
use maud::{Markup, html};
use std::fmt::Write as _;
use witnessmark_core::compute::{PlannedNumber, Verdict};
use witnessmark_core::draw::sign::{ROW, Stroke, Values, WIDTH};
use witnessmark_core::field::Choice;

/// The sign of a number.
pub(crate) fn sign(number: &PlannedNumber) -> Markup {
    drawn(&number.into(), number.verdict, &in_words(number))
}

/// The strokes alone, for a picture that already is one.
pub(crate) fn strokes(number: &PlannedNumber) -> Markup {
    inside(&number.into())
}

/// What the sign says: "asked 588 mm, planned 590.2 mm, measured 589 mm: in line".
pub(crate) fn in_words(number: &PlannedNumber) -> String {
    let kind = number.number.kind;
    let said =
        |column: &str, value: Option<f64>| value.map(|value| format!("{column} {}", words::with_unit(kind, value)));
    let read = number.measured.as_ref().map(|read| read.value);
    let parts: Vec<String> = [
        said("asked", number.asked.map(|asked| asked.value)),
        said("planned", number.planned.as_ref().ok().copied()),
        said("measured", read),
    ]
    .into_iter()
    .flatten()
    .collect();
    if parts.is_empty() {
        number.verdict.name().to_owned()
    } else {
        format!("{}: {}", parts.join(", "), number.verdict.name())
    }
}

fn drawn(values: &Values, verdict: Verdict, words: &str) -> Markup {
    html! {
        svg class={ "sign " (class_of(verdict)) } viewBox={ "0 0 " (WIDTH) " " (3.0 * ROW) }
            role="img" aria-label=(words) {
            (inside(values))
        }
    }
}

fn inside(values: &Values) -> Markup {
    let strokes = values.strokes();
    html! {
        @if let Some((left, right)) = values.band() {
            rect.band x=(left) y="0" width=(right - left) height=(3.0 * ROW) {}
        }
        @if strokes.iter().any(Option::is_some) {
            @if let Some(spread) = spread(values) { path.spread d=(spread) {} }
            path.strokes d=(outline(&strokes)) {}
        }
    }
}

/// The outline of all strokes as one path.
fn outline(strokes: &[Option<Stroke>; 3]) -> String {
    let mut path = String::new();
    for (row, stroke) in strokes.iter().enumerate() {
        for (at, corner) in stroke.iter().flat_map(|stroke| stroke.outline(row)).enumerate() {
            let pen = if at == 0 { 'M' } else { 'L' };
            // Writing into a string does not fail.
            let _ = write!(path, "{pen}{} {}", round(corner.x_mm), round(corner.y_mm));
        }
        if stroke.is_some() {
            path.push('z');
        }
    }
    path
}

/// What the reading leaves open, behind its stroke.
fn spread(values: &Values) -> Option<String> {
    let (left, right) = values.spread()?;
    Some(format!("M{} {}h{}v{ROW}h{}z", round(left), 2.0 * ROW, round(right - left), round(left - right)))
}

/// A tenth of a unit is less than anybody sees.
fn round(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

/// The class by which the style tells verdicts apart, beside the shape.
pub(crate) fn class_of(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::InLine => "in-line",
        Verdict::Moved => "moved",
        Verdict::NotRead => "not-read",
        Verdict::NotKnown => "not-known",
    }
}

/// The sign of a whole build: one stroke a number, those in line first; moved ones are broken, unread ones end early.
/// Numbers that nobody asked or planned are no part of it.
pub(crate) fn share(verdicts: impl Iterator<Item = Verdict>) -> Markup {
    let mut counts = [0_usize; 3];
    for verdict in verdicts {
        match verdict {
            Verdict::InLine => counts[0] += 1,
            Verdict::Moved => counts[1] += 1,
            Verdict::NotRead => counts[2] += 1,
            Verdict::NotKnown => {}
        }
    }
    let [in_line, moved, not_read] = counts;
    let total = in_line + moved + not_read;
    let words = format!("{in_line} of {total} in line, {moved} moved, {not_read} not read");
    let (line, broken, open) = share_paths(counts);
    html! {
        svg.share viewBox={ "0 0 " (SHARE_STEP * total.max(SHARE_LEAST)) " 24" } preserveAspectRatio="none"
            role="img" aria-label=(words) {
            path.in-line d=(line) {}
            path.not-read d=(open) {}
            path.moved d=(broken) {}
        }
    }
}

/// The room of one number in the sign of a build.
const SHARE_STEP: usize = 4;

/// A build with fewer numbers leaves the rest of its sign blank, so that strokes stay strokes.
const SHARE_LEAST: usize = 50;

fn share_paths(counts: [usize; 3]) -> (String, String, String) {
    let [in_line, moved, not_read] = counts;
    let strokes = |from: usize, many: usize, shape: &str| -> String {
        let places = (from..from + many).map(|at| at * SHARE_STEP + 1);
        places.fold(String::new(), |path, x| path + &format!("M{x} 0{shape}"))
    };
    (strokes(0, in_line, "v24"), strokes(in_line, moved, "v14m1.5 2v8"), strokes(in_line + moved, not_read, "v14"))
}

/// The house's own sign, before its name: a line over two parts, unbroken.
pub(crate) fn brand() -> Markup {
    html! {
        svg.brand-sign viewBox="0 0 24 24" aria-hidden="true" {
            path.part d="M0 1h24v10H0zM4 13h20v10H4z" {}
            path.line d="M15 0v24" {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_picture_holds_band_strokes_and_what_the_reading_leaves_open() {
        let values =
            Values { asked: Some(588.0), planned: Some(590.0), measured: Some(586.0), plus_minus: 1.0, tolerance: 2.0 };
        let picture = drawn(&values, Verdict::InLine, "").into_string();
        assert!(picture.contains(r#"class="band" x="26" y="0" width="20""#), "{picture}");
        assert!(picture.contains("M34 0L38 0L38 10L34 10zM44 10L48 10L48 20L44 20zM24 20"), "{picture}");
        assert!(picture.contains("M21 20h10v10h-10z"), "{picture}");
    }

    #[test]
    fn of_a_number_of_which_nothing_is_known_nothing_is_drawn() {
        assert!(!drawn(&Values::default(), Verdict::NotKnown, "not known").into_string().contains("<path"));
    }

    #[test]
    fn where_nothing_may_be_off_there_is_no_band() {
        let values = Values { asked: Some(2.0), measured: Some(3.0), tolerance: 0.0, ..Values::default() };
        assert!(!drawn(&values, Verdict::Moved, "").into_string().contains("band"));
    }

    #[test]
    fn the_share_of_a_build_counts_what_is_to_be_brought_in_line() {
        use Verdict::{InLine, Moved, NotKnown, NotRead};
        let picture = share([NotRead, InLine, NotKnown, Moved, InLine].into_iter()).into_string();
        assert!(picture.contains("2 of 4 in line, 1 moved, 1 not read"), "{picture}");
        assert!(picture.contains(r#"viewBox="0 0 200 24""#), "{picture}");
        let (line, broken, open) = share_paths([2, 1, 1]);
        assert_eq!(line, "M1 0v24M5 0v24");
        assert_eq!(broken, "M9 0v14m1.5 2v8");
        assert_eq!(open, "M13 0v14");
    }
}
