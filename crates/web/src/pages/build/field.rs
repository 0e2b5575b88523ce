//! A field one can type into: its label, what was typed, its unit, what it means, and what is wrong with it.
//!
//! A field stands on the page in one of two shapes. The value of an asked or measured number stands in its row of the
//! table and is named by that row; everything else has its label and meaning beside it. The script sends `data-path`
//! and `data-before`; a field that is not known has no `data-before`. Where a page shows a field more than once, each
//! has a place of its own behind its id (`field.measured.hood-x.left.value@read-cockpit`).
//!
//! A state (done, open, cannot) is a row of buttons: it is pressed with a knuckle.

use super::address;
use super::fragment::Fragment;
use crate::loaded::Loaded;
use crate::words;
use maud::{Markup, html};
use witnessmark_core::Build;
use witnessmark_core::field::{Choice, Field, Kind, Value};
use witnessmark_core::model::in_words;
use witnessmark_core::number::{self, Number};

/// What is to be said beside a field.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Note<'a> {
    /// Nothing.
    None,
    /// The text was not taken; it stays where it was typed.
    Refused { path: &'a str, typed: &'a str, says: &'a str },
    /// Somebody else changed the field meanwhile.
    Clash { path: &'a str, yours: Option<&'a str>, theirs: Option<&'a str>, who: Option<&'a str>, at_ms: Option<i64> },
}

impl Note<'_> {
    /// The note, if it is about this field.
    fn about(self, path: &str) -> Self {
        match self {
            Note::Refused { path: about, .. } | Note::Clash { path: about, .. } if about != path => Note::None,
            other => other,
        }
    }
}

/// The piece of the page in which a field stands, with its note; `None` for a path that leads nowhere.
pub(crate) fn fragment(loaded: &Loaded, path: &str, note: Note<'_>) -> Option<Fragment> {
    fragment_at(loaded, path, "", note)
}

/// The same at one of several places of a page.
pub(crate) fn fragment_at(loaded: &Loaded, path: &str, place: &str, note: Note<'_>) -> Option<Fragment> {
    if !place.is_empty() {
        return Some(Fragment { id: id_of(path, place), html: shown_at(loaded, path, place, note)? });
    }
    let fact = path.strip_suffix(".from").unwrap_or(path);
    if path.starts_with("parts.") || path.starts_with("shelf.") {
        Some(Fragment { id: format!("fact.{fact}"), html: super::parts::fact(loaded, fact, note)? })
    } else {
        Some(Fragment { id: id_of(path, ""), html: shown(loaded, path, note)? })
    }
}

fn keys(path: &str) -> Vec<&str> {
    path.split('.').collect()
}

/// The id of a field's element.
fn id_of(path: &str, place: &str) -> String {
    if place.is_empty() { format!("field.{path}") } else { format!("field.{path}@{place}") }
}

/// The field in the shape that its place wants; `None` for a path that leads nowhere.
pub(crate) fn shown(loaded: &Loaded, path: &str, note: Note<'_>) -> Option<Markup> {
    shown_at(loaded, path, "", note)
}

/// The same at one of several places of a page; the place is a word of small letters, figures and hyphens.
pub(crate) fn shown_at(loaded: &Loaded, path: &str, place: &str, note: Note<'_>) -> Option<Markup> {
    let field = Build::field(path).ok()?;
    let in_row = matches!(
        keys(path).as_slice(),
        ["asked" | "measured", .., "value"]
            | ["parts" | "shelf", .., "from"]
            | ["survey", _, "value" | "angle" | "with" | "plus_minus" | "angle_plus_minus"]
    );
    Some(one(&One { loaded, path, place, field: &field, in_row, note: note.about(path) }))
}

/// A field to be shown.
struct One<'a> {
    loaded: &'a Loaded,
    path: &'a str,
    place: &'a str,
    field: &'a Field,
    in_row: bool,
    note: Note<'a>,
}

fn one(one: &One<'_>) -> Markup {
    let One { loaded, path, place, field, in_row, note } = one;
    let at = if place.is_empty() { (*path).to_owned() } else { format!("{path}@{place}") };
    let kept = loaded.text(path);
    let before = match note {
        Note::Clash { theirs, .. } => *theirs,
        _ => kept,
    };
    let text = match note {
        Note::Refused { typed, .. } => Some(*typed),
        Note::Clash { yours, .. } => *yours,
        Note::None => kept,
    };
    let says = message(one);
    let class = match (note, &says, in_row) {
        (Note::Clash { .. }, ..) => "field clash",
        (_, Some(_), _) => "field refused",
        (.., true) => "field in-row",
        _ => "field",
    };
    let control = Control {
        id: format!("in.{at}"),
        name: spoken_name(path),
        text: text.unwrap_or_default(),
        invalid: says.is_some(),
        in_row: *in_row,
        described_by: [(!in_row).then(|| format!("says.{at}")), says.is_some().then(|| format!("note.{at}"))]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join(" "),
    };
    let pressed = pressed(path);
    html! {
        div class=(class) id=(id_of(path, place)) data-path=(path) data-place=[(!place.is_empty()).then_some(place)]
            data-before=[before] data-at=(address::of_path(path)) {
            @if let Some(words) = pressed {
                (buttons(&control, words))
            } @else if is_signed(path) {
                (signature(&control, before))
            } @else {
                @if !in_row { label for=(control.id) { (field.words()) } }
                span.box {
                    (control.shown(path, field))
                    @match converted(one, text) {
                        Some(value) => span class="unit converted" { "= " (value) },
                        None => @if !field.kind.unit().is_empty() { span.unit { (field.kind.unit()) } },
                    }
                }
                @if !in_row { p.says id={ "says." (at) } { (field.says) } }
            }
            @if let Some(says) = says { div.note id={ "note." (at) } role="alert" { (says) } }
        }
    }
}

/// What each button of a state puts, and what stands on it; `None` for a field that is typed or chosen.
fn pressed(path: &str) -> Option<&'static [(&'static str, &'static str)]> {
    match keys(path).as_slice() {
        ["steps", _, "state"] => Some(&[("done", "did it"), ("open", "left it open"), ("cannot", "cannot")]),
        ["fasteners", _, "state"] => Some(&[("closed", "at its torque"), ("open", "left it open")]),
        _ => None,
    }
}

/// A state as a row of buttons; pressing the one that is down lets it go.
fn buttons(control: &Control<'_>, words: &[(&str, &str)]) -> Markup {
    html! {
        div.presses role="group" aria-label=(control.name) aria-describedby=[control.invalid.then_some(&control.described_by)] {
            input type="hidden" value=(control.text);
            @for (word, label) in words {
                @let down = control.text == *word;
                button type="button" class={ "press " (word) } data-do="press" data-word=(word)
                    aria-pressed=(if down { "true" } else { "false" }) { (label) }
            }
        }
    }
}

/// A field that holds the name of whoever answers for something.
fn is_signed(path: &str) -> bool {
    matches!(keys(path).as_slice(), ["steps", _, "opened_by"])
}

/// The gate's button: it writes down the name of whoever presses it.
fn signature(control: &Control<'_>, before: Option<&str>) -> Markup {
    html! {
        div.presses {
            input type="hidden" value=(control.text);
            @match before {
                Some(name) => {
                    p { "Opened by " b { (name) } "." }
                    button type="button" class="press" data-do="press" data-word=(name) { "shut it again" }
                }
                None => button type="button" class="press sign" data-do="sign" { "open the gate, in my name" },
            }
        }
    }
}

/// What is said below the field.
fn message(one: &One<'_>) -> Option<Markup> {
    let quoted = |text: Option<&str>| text.map_or_else(|| "nothing".to_owned(), |text| format!("“{text}”"));
    match &one.note {
        Note::Refused { says, .. } => Some(html! { p { (says) } }),
        Note::Clash { yours, theirs, who, at_ms, .. } => Some(html! {
            p {
                (who.unwrap_or("Somebody")) " put " (quoted(*theirs)) " here meanwhile"
                @if let Some(at) = at_ms { ", " (words::moment(*at)) }
                "; you typed " (quoted(*yours)) ". Nothing was overwritten."
            }
            p.choice {
                button type="button" data-do="theirs" { "take theirs" }
                button type="button" data-do="mine" { "put mine" }
            }
        }),
        Note::None => {
            let problem = one.loaded.problem(one.path)?;
            Some(html! { p { "This was kept and cannot be read: " (problem.sentence()) "." } })
        }
    }
}

/// The value in the house's unit, where the text was typed in another one.
fn converted(one: &One<'_>, text: Option<&str>) -> Option<String> {
    let is_plain = |text: &str| text.trim().replace(',', ".").parse::<f64>().is_ok();
    let foreign = matches!(one.note, Note::None) && !one.field.kind.unit().is_empty() && !is_plain(text?);
    let leaf = one.loaded.build.get(one.path).ok()??;
    (foreign && matches!(leaf.value, Value::Number(_))).then(|| words::value(one.field.kind, &leaf.value))
}

/// The name by which a screen reader calls a field without a label of its own.
fn spoken_name(path: &str) -> String {
    match keys(path).as_slice() {
        ["parts" | "shelf", fact @ .., "from"] => {
            format!("{}: where this fact comes from", words::of_key(&fact.join(" ")))
        }
        ["steps" | "fasteners", name, "state"] => format!("{}: how it stands", words::of_key(name)),
        ["survey", name, key] => format!("{}: {}", words::of_key(name), words::of_key(key)),
        [column, id, side @ .., "value"] => {
            let name = number::by_id(id).map_or(*id, |number| number.name);
            [&format!("{column}: {name}"), side.join(", ").as_str()].join(if side.is_empty() { "" } else { ", " })
        }
        _ => in_words(path),
    }
}

/// The thing one types into or chooses from.
struct Control<'a> {
    id: String,
    name: String,
    text: &'a str,
    invalid: bool,
    in_row: bool,
    described_by: String,
}

impl Control<'_> {
    fn shown(&self, path: &str, field: &Field) -> Markup {
        match field.kind {
            Kind::YesNo => self.select(&["yes", "no"]),
            Kind::Choice(words) => match definitions(path, field) {
                Some(words) => self.select(&words),
                None => self.select(words),
            },
            kind => self.input(field, kind),
        }
    }

    fn select(&self, words: &[&str]) -> Markup {
        let is_among = self.text.is_empty() || words.contains(&self.text);
        html! {
            select id=(self.id) aria-label=[self.in_row.then_some(&self.name)]
                aria-describedby=[self.described()] aria-invalid=[self.invalid.then_some("true")] {
                option value="" selected[self.text.is_empty()] { "not known" }
                @if !is_among { option selected { (self.text) } }
                @for word in words { option selected[*word == self.text] { (word) } }
            }
        }
    }

    fn input(&self, field: &Field, kind: Kind) -> Markup {
        let figures = !matches!(kind, Kind::Text | Kind::Day);
        // A tablet's figure keys have no minus and no semicolon.
        let keys = figures && field.low >= 0.0 && !matches!(kind, Kind::Lengths | Kind::Angles | Kind::Counts);
        html! {
            input id=(self.id) value=(self.text) autocomplete="off" spellcheck="false" autocapitalize="off"
                class=[figures.then_some("figure")] inputmode=[keys.then_some("decimal")]
                aria-label=[self.in_row.then_some(&self.name)]
                aria-describedby=[self.described()] aria-invalid=[self.invalid.then_some("true")]
                placeholder=[matches!(kind, Kind::Day).then_some("2027-03-14")];
        }
    }

    fn described(&self) -> Option<&str> {
        (!self.described_by.is_empty()).then_some(self.described_by.as_str())
    }
}

/// The definitions in use for this number, where the field asks for one.
fn definitions(path: &str, field: &Field) -> Option<Vec<&'static str>> {
    let id = path.strip_prefix("asked.")?.split('.').next()?;
    let words = of_number(number::by_id(id)?, field.key());
    (!words.is_empty()).then_some(words)
}

/// The words that a number's form allows under a key: `line` of a saddle height.
pub(crate) fn of_number(number: &Number, key: &str) -> Vec<&'static str> {
    fn names<C: Choice>(list: &[C]) -> Vec<&'static str> {
        list.iter().filter_map(|one| C::NAMES.iter().find(|name| **name == one.name()).copied()).collect()
    }
    let forms = &number.forms;
    match key {
        "line" => names(forms.line),
        "from" => names(forms.from),
        "to" => names(forms.to),
        "across" => names(forms.across),
        "cover" => names(forms.cover),
        _ => Vec::new(),
    }
}
