//! The parts of an area with what is known of each, and all facts of one part.

use super::field::{self, Note};
use super::fragment::Fragment;
use super::walk;
use crate::loaded::Loaded;
use crate::words;
use maud::{Markup, html};
use witnessmark_core::field::{Field, Record};
use witnessmark_core::number::Area;
use witnessmark_core::part::{self, COMMON_FACTS, PartKind, Places};

/// A part by its place in the document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct PartAt {
    /// `parts` or `shelf`.
    pub(crate) section: &'static str,
    /// The key of its kind.
    pub(crate) kind: &'static str,
    /// The name of its place; empty where the kind has one.
    pub(crate) place: String,
}

impl PartAt {
    /// The part that a path names: `parts.tyre.front`; `None` for a path that names none.
    pub(crate) fn from_path(path: &str) -> Option<Self> {
        let mut keys = path.splitn(3, '.');
        let section = match keys.next()? {
            "parts" => "parts",
            "shelf" => "shelf",
            _ => return None,
        };
        let kind = part::kind(keys.next()?)?;
        let at = PartAt { section, kind: kind.key, place: keys.next().unwrap_or_default().to_owned() };
        // Whether the place may be called so is for the document to say; any fact of the kind will do to ask it.
        witnessmark_core::Build::field(&format!("{}.{}", at.path(), kind.fields.first()?.key())).ok()?;
        Some(at)
    }

    /// Its path.
    pub(crate) fn path(&self) -> String {
        let PartAt { section, kind, place } = self;
        if place.is_empty() { format!("{section}.{kind}") } else { format!("{section}.{kind}.{place}") }
    }

    /// What it is called: "front tyre", "stem", "spacer ten".
    pub(crate) fn words(&self) -> String {
        let kind = words::of_key(self.kind);
        let place = words::of_key(&self.place);
        if place.is_empty() {
            kind
        } else if part::kind(self.kind).is_some_and(|kind| kind.places != Places::Many) && self.section == "parts" {
            format!("{place} {kind}")
        } else {
            format!("{kind} {place}")
        }
    }

    /// Its facts, if it is there.
    fn record<'a>(&self, loaded: &'a Loaded) -> Option<&'a dyn Record> {
        let parts = if self.section == "shelf" { &loaded.build.shelf } else { &loaded.build.parts };
        parts.record(self.kind, &self.place)
    }
}

/// The parts fitted in an area.
fn fitted(loaded: &Loaded, area: Area) -> Vec<PartAt> {
    let here = loaded.build.parts.each().into_iter().filter(|(kind, ..)| kind.area == area);
    here.map(|(kind, place, _)| PartAt { section: "parts", kind: kind.key, place: place.to_owned() }).collect()
}

/// The parts on the shelf.
pub(crate) fn on_the_shelf(loaded: &Loaded) -> Vec<PartAt> {
    let all = loaded.build.shelf.each().into_iter();
    all.map(|(kind, place, _)| PartAt { section: "shelf", kind: kind.key, place: place.to_owned() }).collect()
}

/// The paths of the parts fitted in an area.
pub(crate) fn paths(loaded: &Loaded, area: Area) -> Vec<String> {
    fitted(loaded, area).iter().map(PartAt::path).collect()
}

/// The parts of an area, and the way to add one.
pub(crate) fn list(loaded: &Loaded, area: Area) -> Fragment {
    let id = format!("parts-of-{}", walk::id_of(area));
    let html = html! {
        div.parts id=(id) {
            @for part in fitted(loaded, area) { (folded(loaded, &part)) }
            p.add { a href={ "/builds/" (loaded.id) "/add#" (walk::id_of(area)) } { "Add a part" } }
        }
    };
    Fragment { id, html }
}

/// A part, folded: what is known of it; unfolding it fetches all facts.
pub(crate) fn folded(loaded: &Loaded, part: &PartAt) -> Markup {
    let path = part.path();
    let all = format!("/builds/{}/part/{path}", loaded.id);
    html! {
        details.part id={ "part." (path) } data-at=(path) {
            (summary(loaded, part))
            div.all data-fetch=(all) { p { a href=(all) { "All facts of the " (part.words()) } } }
        }
    }
}

/// The folded parts' heads, each a piece of its own.
pub(crate) fn summaries(loaded: &Loaded) -> Vec<Fragment> {
    let fitted = loaded.build.parts.each().into_iter();
    let fitted = fitted.map(|(kind, place, _)| PartAt { section: "parts", kind: kind.key, place: place.to_owned() });
    fitted
        .chain(on_the_shelf(loaded))
        .map(|part| Fragment { id: format!("summary.{}", part.path()), html: summary(loaded, &part) })
        .collect()
}

fn summary(loaded: &Loaded, part: &PartAt) -> Markup {
    let path = part.path();
    let Some((kind, record)) = part::kind(part.kind).zip(part.record(loaded)) else { return html! {} };
    let all: Vec<(&Field, String)> = known(kind, record);
    let value = |key: &str| all.iter().find(|(field, _)| field.key() == key).map(|(_, text)| text.as_str());
    let own = all.iter().filter(|(field, _)| !kind.fields[..COMMON_FACTS].contains(field));
    html! {
        summary id={ "summary." (path) } {
            span.kind { (part.words()) }
            @if let Some(name) = value("name").filter(|name| *name != part.words()) { " " span.own-name { (name) } }
            " " span.provenance {
                @for key in ["supplied_by", "condition", "facts_from"] {
                    @if let Some(text) = value(key) { span { (text) } }
                }
            }
            " " span.known {
                @for (field, text) in own { span { (field.words()) " " b { (text) } } " " }
                span.tally { (all.len()) " of " (kind.fields.len()) " facts" }
            }
        }
    }
}

/// The facts that are filled in, as people read them, in the order of the kind.
fn known<'a>(kind: &'a PartKind, record: &dyn Record) -> Vec<(&'a Field, String)> {
    let facts = kind.fields.iter().enumerate();
    facts.filter_map(|(at, field)| Some((field, words::value(field.kind, &record.get(at)?.value)))).collect()
}

/// All facts of a part, those that decide before those that every part has.
pub(crate) fn facts(loaded: &Loaded, part: &PartAt) -> Markup {
    let Some(kind) = part::kind(part.kind) else { return html! {} };
    let path = part.path();
    let one = |field: &Field| fact(loaded, &format!("{path}.{}", field.key()), Note::None).unwrap_or_default();
    let (common, own) = kind.fields.split_at(COMMON_FACTS.min(kind.fields.len()));
    html! {
        div #facts {
            @for (title, fields) in [("What decides", own), ("What every part has", common)] {
                fieldset {
                    legend { (title) }
                    div.fields {
                        @for field in fields { (one(field)) }
                    }
                }
            }
            p.links { a href={ "/builds/" (loaded.id) "/history?path=" (path) } { "history of the " (part.words()) } }
        }
    }
}

/// A fact with where it comes from; `None` for a path that leads nowhere.
pub(crate) fn fact(loaded: &Loaded, path: &str, note: Note<'_>) -> Option<Markup> {
    let from = format!("{path}.from");
    // What a part's facts come from, and what it is called, comes from nowhere else.
    let key = path.rsplit('.').next().unwrap_or_default();
    let has_origin = loaded.text(path).is_some() && !["facts_from", "name", "note"].contains(&key);
    let shown = field::shown(loaded, path, note)?;
    Some(html! {
        div.fact id={ "fact." (path) } {
            (shown)
            @if has_origin { @if let Some(from) = field::shown(loaded, &from, note) { div.origin { (from) } } }
        }
    })
}
