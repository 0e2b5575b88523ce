//! The readings, one a row, each field editable in its place, with how each fared among the others.

use super::super::build::field::{Note, shown};
use super::super::build::fragment::Fragment;
use crate::key;
use crate::loaded::Loaded;
use crate::words::count;
use maud::{Markup, html};
use witnessmark_core::build::{SurveyReading, Taken};
use witnessmark_core::field::{Choice, Kind};
use witnessmark_core::finding::figure;
use witnessmark_core::survey::{Fared, SEEN_BY_EYE_MM, Survey};

/// What stands in a fold, since it is seldom touched.
const FOLDED: [&str; 8] = ["what", "from", "to", "line", "add", "by", "on", "note"];

pub(super) fn list(loaded: &Loaded, survey: &Survey) -> Markup {
    let readings = &loaded.build.survey;
    html! {
        section.area #survey-readings aria-labelledby="survey-readings-title" {
            h2 #survey-readings-title { "The readings" @if !readings.is_empty() { " " small { (count(readings.len(), "reading")) } } }
            @if readings.is_empty() { p.quiet { "None yet." } } @else {
                table.readings {
                    thead { tr { th scope="col" { "reading" } th scope="col" { "read" } th scope="col" { "with" } th scope="col" { "±" } th scope="col" { "how it fared" } } }
                    tbody { @for (name, reading) in readings { (row(loaded, survey, name, reading)) } }
                }
                p.quiet { "± is half the width of the interval in which the truth surely lies; empty means what is usual for instrument and points." }
            }
        }
    }
}

/// What decides which rows and fields there are.
pub(super) fn shape(loaded: &Loaded) -> Vec<(&str, Option<bool>)> {
    let of_kind = |reading: &SurveyReading| reading.what.as_ref().map(|_| is_angle(reading));
    loaded.build.survey.iter().map(|(name, reading)| (name.as_str(), of_kind(reading))).collect()
}

/// What changes in the rows without their fields.
pub(super) fn pieces(loaded: &Loaded, survey: &Survey) -> Vec<Fragment> {
    loaded
        .build
        .survey
        .keys()
        .flat_map(|name| {
            [
                Fragment { id: format!("words.{name}"), html: words(survey, name) },
                Fragment { id: format!("fared.{name}"), html: fared(survey, name) },
            ]
        })
        .collect()
}

fn is_angle(reading: &SurveyReading) -> bool {
    let what = reading.what.as_ref().map(|given| given.value);
    matches!(what, Some(Taken::Slope | Taken::SaddleTilt | Taken::FloorSlope))
}

fn row(loaded: &Loaded, survey: &Survey, name: &str, reading: &SurveyReading) -> Markup {
    let field = |key: &str| shown(loaded, &format!("survey.{name}.{key}"), Note::None).unwrap_or_default();
    let (value, margin) = if is_angle(reading) { ("angle", "angle_plus_minus") } else { ("value", "plus_minus") };
    html! {
        tr id={ "s.survey." (name) ".value" } data-at={ "survey." (name) ".value" } {
            th scope="row" {
                (words(survey, name))
                details {
                    summary { "what, from, to …" }
                    div.fields { @for key in FOLDED { (field(key)) } }
                    p.links { a href={ "/builds/" (loaded.id) "/history?path=survey." (name) } { "history" } }
                    form.remove method="post" {
                        input type="hidden" name="remove" value=(name);
                        input type="hidden" name="key" value=(key::draw());
                        input type="hidden" name="who" value="";
                        button { "take this reading out" }
                    }
                }
            }
            td data-label="read" { (field(value)) }
            td data-label="with" { (field("with")) }
            td data-label="±" { (field(margin)) }
            (fared(survey, name))
        }
    }
}

fn of<'a>(survey: &'a Survey, name: &str) -> Option<&'a Fared> {
    survey.readings.iter().find(|one| one.item.name == name)
}

fn words(survey: &Survey, name: &str) -> Markup {
    html! {
        span.reading id={ "words." (name) } {
            @match of(survey, name) { Some(one) => (one.item.words), None => (name.replace('-', " ")) }
        }
    }
}

fn fared(survey: &Survey, name: &str) -> Markup {
    html! {
        td.fared id={ "fared." (name) } {
            @match of(survey, name) {
                Some(one) => (told(one)),
                None => { b.unchecked { "cannot be used" } @for (_, missing) in survey.unusable.iter().filter(|(unusable, _)| unusable == name) { ": " (missing) } }
            }
        }
    }
}

fn told(one: &Fared) -> Markup {
    let kind = if one.item.is_angle() { Kind::Angle } else { Kind::Length };
    let unit = |value: f64| crate::words::with_unit(kind, value);
    // The half width of the rectangle that the standard uncertainty comes from.
    let usual = || unit(one.item.sd * 3.0_f64.sqrt());
    let off = one.item.value.zip(one.fitted).map(|(value, fitted)| value - fitted);
    html! {
        @if one.item.value.is_none() { "yet to be read" }
        @else if one.set_aside {
            b.unchecked { "set aside" } " until it is read again" @if let Some(fitted) = one.fitted { "; the others say " b { (unit(fitted)) } }
        } @else if one.is_unchecked() {
            b.unchecked { "nothing checks it" }
        } @else {
            @if let Some(off) = off {
                @let off = crate::words::signed(kind, off);
                @if off == "0" { "fits" } @else { (off) " off" }
            }
            @if let Some(deviate) = one.deviate { @if deviate.abs() > 2.0 { " (" (figure(deviate.abs(), 1)) " standard uncertainties)" } }
            @if let Some(redundancy) = one.redundancy { ", checked " (figure(redundancy * 100.0, 0)) " %" }
            @if let Some(least) = one.least_noticed.filter(|least| *least < SEEN_BY_EYE_MM) { ", a slip shows from " (unit(least)) }
        }
        span.usual { (one.item.with.name()) ", ± " (usual()) }
    }
}
