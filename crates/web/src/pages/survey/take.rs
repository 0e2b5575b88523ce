//! What the survey gives, taken over into the measured column: every number that nobody read by itself, in one change.

use super::super::build::address;
use super::super::edit::by;
use super::Surveyed;
use crate::app::Mechanic;
use crate::key;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::words::{count, now_ms};
use axum::response::Redirect;
use jiff::Timestamp;
use jiff::tz::Offset;
use maud::{Markup, html};
use std::collections::BTreeMap;
use witnessmark_core::build::{Instrument, SurveyReading};
use witnessmark_core::field::{Choice, Kind};
use witnessmark_core::held::is_from_survey;
use witnessmark_core::number::{Number, Side};
use witnessmark_core::survey::{SEEN_BY_EYE_MM, Survey, SurveyedValue, survey};
use witnessmark_store::Change;

/// The button, and what it would do.
pub(super) fn section(surveyed: &Surveyed<'_>, key: &str) -> Markup {
    let (loaded, survey) = (surveyed.loaded, &surveyed.survey);
    let numbers = changed_numbers(loaded, survey);
    let read = takeable(loaded, survey, true).count();
    html! {
        section.area #survey-take aria-labelledby="survey-take-title" {
            @if survey.numbers.iter().any(|one| one.value.is_ok()) {
                h2 #survey-take-title { "Into the measured column" }
                @if numbers == 0 {
                    p.quiet { "The build’s measured column holds what this survey gives." }
                } @else {
                    form method="post" {
                        p {
                            (count(numbers, "number")) " as measured, each with its plus-minus, “survey” as what it was taken with, and how far a slip could hide."
                            @if read > 0 { " " (count(read, "number")) " that somebody read directly stay as read." }
                        }
                        @if !survey.suspects.is_empty() || survey.worn_end.is_some() {
                            p { b { "Readings are in doubt." } " Better read them again first." }
                        }
                        input type="hidden" name="take" value=(loaded.revision);
                        input type="hidden" name="key" value=(if key.is_empty() { key::draw() } else { key.to_owned() });
                        input type="hidden" name="who" value="";
                        button { "Take these as measured" }
                    }
                }
            }
        }
    }
}

/// Takes them over, and goes back to where the button stands.
pub(super) async fn take(
    mechanic: &Mechanic,
    loaded: &Loaded,
    seen: &str,
    who: &str,
    key: &str,
) -> Result<Redirect, Refusal> {
    let survey = survey(&loaded.build);
    let mut wanted = wanted(loaded, &survey);
    // A second tap finds it done.
    if !changes(loaded, &wanted).is_empty() {
        if seen != loaded.revision.to_string() {
            let what =
                "The build was changed since these numbers were worked out. Look at the new ones and take those.";
            return Err(Refusal::Incomplete(what.into()));
        }
        let by = by(who, key);
        when_and_who(loaded, &survey, &by.who, &mut wanted);
        mechanic.edit(&loaded.id, &changes(loaded, &wanted), &by).await?;
    }
    Ok(Redirect::to(&format!("/builds/{}/survey#survey-take", loaded.id)))
}

/// Numbers with a value that nobody read directly, or those that somebody did.
fn takeable<'a>(
    loaded: &'a Loaded,
    survey: &'a Survey,
    directly: bool,
) -> impl Iterator<Item = (&'static Number, Side, &'a SurveyedValue)> {
    survey.numbers.iter().filter_map(move |one| {
        let value = one.value.as_ref().ok()?;
        let read = loaded.build.reading_of(one.number, one.side).is_some_and(|reading| reading.value.is_some())
            && !is_from_survey(&loaded.build, one.number, one.side);
        (read == directly).then_some((one.number, one.side, value))
    })
}

/// What the fields are to say.
type Wanted = BTreeMap<String, String>;

fn start((number, side, _): (&Number, Side, &SurveyedValue)) -> String {
    format!("measured.{}", address::of_number(number.id, side))
}

fn wanted(loaded: &Loaded, survey: &Survey) -> Wanted {
    takeable(loaded, survey, false)
        .flat_map(|one| {
            let (start, (number, _, value)) = (start(one), one);
            [
                ("value", tenths(value.value)),
                // Up to the next tenth: "± 0" would be a lie.
                ("plus_minus", ((value.plus_minus() * 10.0).ceil().max(1.0) / 10.0).to_string()),
                ("with", Instrument::Survey.name().to_owned()),
                ("note", hidden(number, value)),
            ]
            .map(|(key, text)| (format!("{start}.{key}"), text))
        })
        .collect()
}

fn tenths(value: f64) -> String {
    let tenths = (value * 10.0).round() / 10.0;
    // No "-0".
    (if tenths == 0.0 { 0.0 } else { tenths }).to_string()
}

fn hidden(number: &Number, value: &SurveyedValue) -> String {
    let unit = number.kind.unit();
    if !value.hidden.is_finite() || number.kind == Kind::Length && value.hidden >= SEEN_BY_EYE_MM {
        "surveyed; nothing checks it".to_owned()
    } else {
        format!("surveyed; an unnoticed slip moves it by up to {} {unit}", tenths(value.hidden))
    }
}

/// The last day on which somebody read, and who, where they all say the same; else today, and whoever takes it over.
fn when_and_who(loaded: &Loaded, survey: &Survey, taker: &str, wanted: &mut Wanted) {
    let readings = || loaded.build.survey.values();
    let day = readings().filter_map(|reading| reading.on.as_ref()).map(|given| given.value).max();
    let today = || Timestamp::from_millisecond(now_ms()).ok().map(|now| Offset::UTC.to_datetime(now).date());
    let name = |reading: &SurveyReading| reading.by.as_ref().map(|given| given.value.clone());
    let first = readings().find_map(name).filter(|first| readings().all(|one| name(one).as_ref() == Some(first)));
    for one in takeable(loaded, survey, false) {
        if let Some(day) = day.or_else(today) {
            wanted.insert(format!("{}.on", start(one)), day.to_string());
        }
        wanted.insert(format!("{}.by", start(one)), first.clone().unwrap_or_else(|| taker.to_owned()));
    }
}

fn changes(loaded: &Loaded, wanted: &Wanted) -> Vec<Change> {
    wanted
        .iter()
        .filter(|(path, text)| loaded.text(path) != Some(text.as_str()))
        .map(|(path, text)| Change {
            path: path.clone(),
            before: loaded.text(path).map(str::to_owned),
            after: Some(text.clone()),
        })
        .collect()
}

/// How many numbers the button would change.
fn changed_numbers(loaded: &Loaded, survey: &Survey) -> usize {
    let changes = changes(loaded, &wanted(loaded, survey));
    takeable(loaded, survey, false)
        .filter(|one| {
            let start = format!("{}.", start(*one));
            changes.iter().any(|change| change.path.starts_with(&start))
        })
        .count()
}
