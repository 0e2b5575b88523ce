//! The reading to take next: in words, why, and one field that takes it.

use super::Surveyed;
use super::add::Typed;
use crate::key;
use crate::words::count;
use maud::{Markup, html};
use witnessmark_core::Build;
use witnessmark_core::build::{SurveyPoint, SurveyReading, Taken};
use witnessmark_core::field::{Choice, Given};
use witnessmark_core::finding::{figure, mm};
use witnessmark_core::survey::{NextReading, Outlook, SEEN_BY_EYE_MM, Survey};

/// A reading to be taken.
pub(super) struct Proposal {
    /// The name of the reading in the document that waits for it, or that is to be taken a second time.
    pub(super) name: Option<String>,
    /// It was taken already, and is to be taken again by another hand.
    pub(super) again: bool,
    pub(super) what: Taken,
    pub(super) from: SurveyPoint,
    pub(super) to: SurveyPoint,
    pub(super) words: String,
    /// How things stand with it; not known while nothing was read.
    then: Option<Outlook>,
}

impl Proposal {
    /// The best one; where nothing was read yet, what waits in the document, or the height that every survey begins with.
    pub(super) fn of(survey: &Survey) -> Option<Self> {
        if let Some(next) = survey.next.first() {
            let NextReading { name, again, what, from, to, words, then } = next.clone();
            return Some(Proposal { name, again, what, from, to, words, then: Some(then) });
        }
        if survey.missing.is_none() || survey.readings.iter().any(|one| one.item.value.is_some()) {
            return None;
        }
        let begin = Proposal {
            name: None,
            again: false,
            what: Taken::Height,
            from: SurveyPoint::BottomBracket,
            to: SurveyPoint::BottomBracket,
            words: "height of the bottom bracket over the floor".to_owned(),
            then: None,
        };
        Some(match survey.readings.first() {
            Some(one) => Proposal {
                name: Some(one.item.name.clone()),
                what: one.item.what,
                from: one.item.from,
                to: one.item.to,
                words: one.item.words.clone(),
                ..begin
            },
            None => begin,
        })
    }

    /// It is read in degrees.
    pub(super) fn is_angle(&self) -> bool {
        matches!(self.what, Taken::Slope | Taken::SaddleTilt | Taken::FloorSlope)
    }

    /// The document with this reading as one that is yet to be taken: its points then have a place, if only a guess.
    pub(super) fn planned_in(&self, build: &Build) -> Build {
        let mut build = build.clone();
        let reading = SurveyReading {
            what: Some(Given::from(self.what)),
            from: Some(Given::from(self.from)),
            to: Some(Given::from(self.to)),
            ..SurveyReading::default()
        };
        // No name of a document is capital.
        build.survey.insert("NEXT".to_owned(), reading);
        build
    }
}

/// The section with the field.
pub(super) fn section(surveyed: &Surveyed<'_>, typed: &Typed, key: &str) -> Markup {
    html! {
        section #survey-next aria-labelledby="survey-next-title" {
            (what_it_did(surveyed))
            @match &surveyed.next {
                Some(next) => (form(surveyed, next, typed, key)),
                None => {
                    h2 #survey-next-title { "Read next" }
                    @if surveyed.survey.missing.is_some() {
                        p { "First the readings below must come to terms with each other." }
                    } @else {
                        p { "No further reading would help: every contact point is known and checked as well as these instruments can." }
                    }
                }
            }
            (others(&surveyed.survey))
            (as_a_whole(&surveyed.survey))
        }
    }
}

fn form(surveyed: &Surveyed<'_>, next: &Proposal, typed: &Typed, key: &str) -> Markup {
    let refused = typed.refused.as_deref().filter(|_| typed.guided());
    let unit = if next.is_angle() { "°" } else { "mm" };
    let waits = next.name.as_deref().filter(|_| !next.again);
    let like = next.name.as_deref().filter(|_| next.again);
    let name = super::add::free_name(surveyed.loaded, &next.words);
    html! {
        h2 #survey-next-title { "Read next" }
        form.read-next method="post" {
            label for="next-value" {
                span.strong-line aria-hidden="true" {}
                (super::super::build::capital(&next.words))
                @if next.again { ", once more and by another hand" }
            }
            span.box {
                input.figure #next-value name="value" required autocomplete="off" inputmode=[(!next.is_angle()).then_some("decimal")]
                    value=(if typed.guided() { typed.value.as_str() } else { "" })
                    aria-invalid=[refused.map(|_| "true")] aria-describedby="next-why";
                span.unit { (unit) }
                button { "add" }
            }
            @if let Some(refused) = refused { div.note role="alert" { p { (refused) } } }
            input type="hidden" name="guided" value="yes";
            input type="hidden" name="what" value=(next.what.name());
            input type="hidden" name="from" value=(next.from.name());
            input type="hidden" name="to" value=(next.to.name());
            @if let Some(waits) = waits { input type="hidden" name="waits" value=(waits); }
            @if let Some(like) = like { input type="hidden" name="like" value=(like); }
            input type="hidden" name="name" value=(name);
            input type="hidden" name="key" value=(if key.is_empty() { key::draw() } else { key.to_owned() });
            input type="hidden" name="who" value="";
        }
        div #next-why { (why(surveyed.survey.outlook.as_ref(), next.then.as_ref())) }
    }
}

/// How things stand now, and how they stand with the reading: judged before it is taken.
fn why(now: Option<&Outlook>, then: Option<&Outlook>) -> Markup {
    let (Some(now), Some(then)) = (now, then) else {
        return html! { p.quiet { "Nothing was read yet. Every survey begins with how the bike stands." } };
    };
    let rows: [(&str, String, String); 4] = [
        ("coordinates of saddle, bar and hoods that are open", now.open.to_string(), then.open.to_string()),
        (
            "readings of how the bike stands that are missing",
            now.stand_unread.to_string(),
            then.stand_unread.to_string(),
        ),
        ("an unnoticed slip moves a contact point by up to", hidden(now), hidden(then)),
        ("least known coordinate, ±", plus_minus(now), plus_minus(then)),
    ];
    html! {
        table.outlook {
            thead { tr { td {} th scope="col" { "now" } th scope="col" { "with it" } } }
            tbody {
                @for (name, now, then) in &rows {
                    @if now != "0" || then != "0" {
                        tr { th scope="row" { (name) } td { (now) } td { @if now == then { (then) } @else { b { (then) } } } }
                    }
                }
            }
        }
    }
}

fn hidden(outlook: &Outlook) -> String {
    if outlook.hidden_mm >= SEEN_BY_EYE_MM { "what the eye sees".to_owned() } else { mm(outlook.hidden_mm) }
}

/// Two standard uncertainties.
fn plus_minus(outlook: &Outlook) -> String {
    let is_known = outlook.worst_sd_mm.is_finite() && outlook.worst_sd_mm > 0.0;
    if is_known { mm(1.96 * outlook.worst_sd_mm) } else { "not known".to_owned() }
}

/// The next best ones, for when the first cannot be reached.
fn others(survey: &Survey) -> Markup {
    let others = survey.next.get(1..).unwrap_or_default();
    html! {
        @if !others.is_empty() {
            details.others {
                summary { "Where that cannot be reached" }
                ol { @for one in others {
                    li { (one.words) @if one.again { ", once more" } }
                } }
                p.quiet { "Best first. Add it below, under the readings." }
            }
        }
    }
}

fn as_a_whole(survey: &Survey) -> Markup {
    html! {
        @if let Some(whole) = &survey.whole {
            p.whole {
                @if whole.agrees() { "The readings that count agree as well as their plus-minus promises" } @else { b { "The readings do not agree" } }
                ": sum of squared misfits " (figure(whole.chi_square, 1)) " with " (count(whole.freedom, "reading"))
                " more than needed; 95 of 100 sound surveys stay below " (figure(whole.limit, 1)) "."
            }
        }
    }
}

/// What the reading that was just added did to the points.
fn what_it_did(surveyed: &Surveyed<'_>) -> Markup {
    let Some(before) = &surveyed.before else { return html! {} };
    let long = |survey: &Survey, point: SurveyPoint| survey.point(point)?.ellipse.map(|ellipse| ellipse.long_mm);
    let mut gained: Vec<(SurveyPoint, Option<f64>, f64)> = surveyed
        .survey
        .points
        .iter()
        .filter_map(|placed| {
            let now = placed.ellipse?.long_mm;
            let was = long(before, placed.point);
            was.is_none_or(|was| was - now >= 0.05).then_some((placed.point, was, now))
        })
        .collect();
    let gain = |one: &(SurveyPoint, Option<f64>, f64)| one.1.map_or(f64::INFINITY, |was| was - one.2);
    gained.sort_by(|a, b| gain(b).total_cmp(&gain(a)));
    html! {
        div.what-it-did role="status" {
            @if gained.is_empty() {
                p { b { "Added." } " No point is known better by it; what it checks is said below." }
            } @else {
                p { b { "Added." } " Better known now, long half axis of the ellipse:" }
                ul {
                    @for (point, was, now) in gained.iter().take(4) {
                        li { (point.name()) " " @match was { Some(was) => (mm(*was)), None => "open" } " → " b { (mm(*now)) } }
                    }
                }
            }
        }
    }
}
