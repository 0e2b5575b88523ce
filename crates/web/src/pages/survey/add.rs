//! A reading more, or one less: plain forms, so that they work without a script too.

use super::super::build::{capital, loaded};
use super::super::edit::by;
use super::whole;
use crate::app::{App, Mechanic};
use crate::key;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_core::build::{Instrument, SurveyLine, SurveyPoint, Taken};
use witnessmark_core::field::Choice;
use witnessmark_core::part;
use witnessmark_store::Change;

/// What a form sends, and what stands in it when it was refused.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Typed {
    what: String,
    from: String,
    to: String,
    line: String,
    pub(super) value: String,
    with: String,
    plus_minus: String,
    /// The name of the new reading: chosen when the page was made, so that a second tap asks for the same.
    name: String,
    /// The name of a reading that waits for its value.
    waits: String,
    /// The name of a reading that is taken once more.
    like: String,
    /// The name of a reading to be taken out.
    remove: String,
    /// The survey is taken over into the measured column, as it stood at this revision.
    take: String,
    /// It came from the field beside the drawing.
    guided: String,
    key: String,
    who: String,
    /// Why it was refused.
    #[serde(skip)]
    pub(super) refused: Option<String>,
}

impl Typed {
    pub(super) fn guided(&self) -> bool {
        !self.guided.is_empty()
    }
}

pub(super) async fn add(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(mut typed): Form<Typed>,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    if !typed.take.is_empty() {
        return Ok(super::take::take(&mechanic, &loaded, &typed.take, &typed.who, &typed.key).await?.into_response());
    }
    let (name, wanted) = if typed.remove.is_empty() { wanted(&loaded, &typed) } else { gone(&loaded, &typed.remove) };
    if let Some(refused) = refused(&typed, &wanted) {
        typed.refused = Some(refused);
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, whole(&loaded, None, &typed)).into_response());
    }
    let changes: Vec<Change> = wanted
        .into_iter()
        // A new reading comes from nothing, also when it is asked for a second time; so the store knows the repetition.
        .map(|(path, after)| {
            let is_new = typed.remove.is_empty() && typed.waits.is_empty();
            let before = if is_new { None } else { loaded.text(&path).map(str::to_owned) };
            Change { path, before, after }
        })
        .filter(|change| change.before != change.after)
        .collect();
    if !changes.is_empty() {
        mechanic.edit(&loaded.id, &changes, &by(&typed.who, &typed.key)).await?;
    }
    let place = match (typed.remove.is_empty(), typed.guided()) {
        (false, _) => "#survey-readings".to_owned(),
        (true, true) => format!("?after={name}#survey-next"),
        (true, false) => format!("?after={name}#survey-add"),
    };
    Ok(Redirect::to(&format!("/builds/{}/survey{place}", loaded.id)).into_response())
}

/// Fields with what they are to say.
type Wanted = Vec<(String, Option<String>)>;

/// The fields of the reading that is asked for, and its name.
fn wanted(loaded: &Loaded, typed: &Typed) -> (String, Wanted) {
    let angle = Taken::from_name(&typed.what)
        .is_some_and(|what| matches!(what, Taken::Slope | Taken::SaddleTilt | Taken::FloorSlope));
    let (value, margin) = if angle { ("angle", "angle_plus_minus") } else { ("value", "plus_minus") };
    let name = if typed.waits.is_empty() { typed.name.clone() } else { typed.waits.clone() };
    let mut texts: Vec<(&str, String)> = vec![(value, typed.value.clone())];
    if typed.waits.is_empty() {
        let once = |key: &str| loaded.text(&format!("survey.{}.{key}", typed.like)).unwrap_or_default().to_owned();
        texts.extend([("what", typed.what.clone()), (margin, typed.plus_minus.clone())]);
        if typed.like.is_empty() {
            texts.extend([
                ("from", typed.from.clone()),
                ("to", typed.to.clone()),
                ("line", typed.line.clone()),
                ("with", typed.with.clone()),
            ]);
        } else {
            // The same points, the same instrument, the same edge of the bar.
            texts.extend(["from", "to", "line", "with", "add"].map(|key| (key, once(key))));
        }
    }
    let wanted = texts
        .into_iter()
        .map(|(key, text)| (format!("survey.{name}.{key}"), text.trim().to_owned()))
        .filter(|(_, text)| !text.is_empty())
        .map(|(path, text)| (path, Some(text)))
        .collect();
    (name, wanted)
}

/// The fields of a reading, all to be cleared.
fn gone(loaded: &Loaded, name: &str) -> (String, Wanted) {
    let start = format!("survey.{name}.");
    let paths = loaded.leaves.keys().filter(|path| path.starts_with(&start));
    (name.to_owned(), paths.map(|path| (path.clone(), None)).collect())
}

/// Why this cannot be written.
fn refused(typed: &Typed, wanted: &Wanted) -> Option<String> {
    if !typed.remove.is_empty() {
        return None;
    }
    if typed.guided() && typed.value.trim().is_empty() {
        return Some("Type what you read.".to_owned());
    }
    if typed.waits.is_empty() && !part::is_name(&typed.name) {
        return Some("The form is not whole; load the page again.".to_owned());
    }
    let problems = wanted.iter().filter_map(|(path, text)| witnessmark_intake::leaf(path, text.as_deref()?).err());
    problems.map(|problem| capital(&format!("{}.", problem.sentence()))).next()
}

/// The longest name that a reading is given.
const LONGEST: usize = 32;

/// A name for a reading that no other has: its words, and a figure where they are taken.
pub(super) fn free_name(loaded: &Loaded, words: &str) -> String {
    let plain: Vec<String> = words
        .to_lowercase()
        .split(|letter: char| !letter.is_ascii_alphanumeric())
        .filter(|word| !["", "of", "the", "over", "from", "to", "tape", "centre", "level", "bracket"].contains(word))
        .map(str::to_owned)
        .collect();
    let mut name = plain.join("-");
    name.truncate(LONGEST);
    let name = name.trim_end_matches('-');
    let is_free = |name: &str| !loaded.build.survey.contains_key(name);
    // One of them is free: there is one more of them than there are readings.
    let numbered = (2..=loaded.build.survey.len() + 2).map(|number| format!("{name}-{number}"));
    std::iter::once(name.to_owned()).chain(numbered).find(|name| is_free(name)).unwrap_or_default()
}

/// The form for any reading.
pub(super) fn form(loaded: &Loaded, typed: &Typed) -> Markup {
    let refused = typed.refused.as_deref().filter(|_| !typed.guided());
    let kept = |text: &'static str, typed: &str| if refused.is_some() { typed.to_owned() } else { text.to_owned() };
    let name = free_name(loaded, &format!("reading-{}", loaded.build.survey.len() + 1));
    html! {
        section.area #survey-add aria-labelledby="survey-add-title" {
            h2 #survey-add-title { "Add a reading" }
            form.add-reading method="post" {
                (select("what", "what", Taken::NAMES, None, &kept(Taken::Straight.name(), &typed.what)))
                (select("from", "from", SurveyPoint::NAMES, None, &kept(SurveyPoint::BottomBracket.name(), &typed.from)))
                (select("to", "to", SurveyPoint::NAMES, Some("choose"), &kept("", &typed.to)))
                (select("line", "line, where it goes along or square to one", SurveyLine::NAMES, Some("none"), &kept("", &typed.line)))
                (input("value", "read, mm or degrees", &kept("", &typed.value)))
                (select("with", "with", &instruments(), Some("the usual"), &kept("", &typed.with)))
                (input("plus_minus", "±, if not the usual", &kept("", &typed.plus_minus)))
                input type="hidden" name="name" value=(name);
                input type="hidden" name="key" value=(key::draw());
                input type="hidden" name="who" value="";
                div.press { button { "Add the reading" } }
                @if let Some(refused) = refused { div.note role="alert" { p { (refused) } } }
            }
            p.quiet { "Without a value it waits to be taken, and counts where the next reading is proposed. For a height, a width or a point square to a line only the second point counts." }
        }
    }
}

/// What a reading can be taken with; another survey is no instrument.
fn instruments() -> Vec<&'static str> {
    Instrument::NAMES.iter().copied().filter(|name| *name != Instrument::Survey.name()).collect()
}

fn select(name: &str, label: &str, words: &[&str], none: Option<&str>, chosen: &str) -> Markup {
    html! {
        div {
            label for={ "add-" (name) } { (label) }
            select id={ "add-" (name) } name=(name) {
                @if let Some(none) = none { option value="" selected[chosen.is_empty()] { (none) } }
                @for word in words { option selected[*word == chosen] { (word) } }
            }
        }
    }
}

fn input(name: &str, label: &str, value: &str) -> Markup {
    html! {
        div {
            label for={ "add-" (name) } { (label) }
            input.figure id={ "add-" (name) } name=(name) value=(value) autocomplete="off";
        }
    }
}
