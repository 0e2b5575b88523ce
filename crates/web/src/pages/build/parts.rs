//! The parts of an area: what each is, who brings it, what it has been through and where its facts come from; and all facts
//! of one part.

use super::field::{self, Note};
use super::fragment::Fragment;
use super::walk;
use crate::loaded::Loaded;
use crate::pages::take::{self, Pick, Source};
use crate::words;
use maud::{Markup, html};
use witnessmark_core::catalogue::{Entry, FactChange, Newer};
use witnessmark_core::field::{Choice, Field, Origin, Record};
use witnessmark_core::number::Area;
use witnessmark_core::part::{self, COMMON_FACTS, Condition, PartKind, Places, Supplier};

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

/// A part, folded: what is known of it; unfolding it fetches all facts. Beside it stand the ways to another part.
pub(crate) fn folded(loaded: &Loaded, part: &PartAt) -> Markup {
    let path = part.path();
    let all = format!("/builds/{}/part/{path}", loaded.id);
    html! {
        div.part-row {
            details.part id={ "part." (path) } data-at=(path) {
                (summary(loaded, part))
                div.all data-fetch=(all) { p { a href=(all) { "All facts of the " (part.words()) } } }
            }
            (beside(loaded, part))
        }
    }
}

/// The folded parts' heads and what stands beside them, each a piece of its own.
pub(crate) fn summaries(loaded: &Loaded) -> Vec<Fragment> {
    let fitted = loaded.build.parts.each().into_iter();
    let fitted = fitted.map(|(kind, place, _)| PartAt { section: "parts", kind: kind.key, place: place.to_owned() });
    fitted
        .chain(on_the_shelf(loaded))
        .flat_map(|part| {
            let path = part.path();
            [
                Fragment { id: format!("summary.{path}"), html: summary(loaded, &part) },
                Fragment { id: format!("beside.{path}"), html: beside(loaded, &part) },
            ]
        })
        .collect()
}

/// What can be done with the part, and what the catalogue says of it by now.
fn beside(loaded: &Loaded, part: &PartAt) -> Markup {
    let path = part.path();
    let newer = (part.section == "parts").then(|| loaded.newer(part.kind, &part.place)).flatten();
    html! {
        div.beside id={ "beside." (path) } {
            @if let Some(newer) = newer { (says_otherwise(loaded, part, newer)) }
            p.ways-in {
                @if part.section == "parts" {
                    a href={ "/builds/" (loaded.id) "/fitting/" (path) } aria-label={ (part.words()) ": what would fit" } { "what would fit" }
                } @else {
                    @for at in places_of(part) {
                        @let pick = Pick { at: at.clone(), from: Source::Shelf(part.place.clone()) };
                        a href=(take::address(loaded, &[pick])) aria-label={ (part.words()) ": fit as " (at.words()) } { "fit as " (at.words()) } " "
                    }
                }
            }
        }
    }
}

/// The places on the bike for a part of the shelf.
fn places_of(part: &PartAt) -> Vec<PartAt> {
    let Some(kind) = part::kind(part.kind) else { return Vec::new() };
    let at = |place: &str| PartAt { section: "parts", kind: kind.key, place: place.to_owned() };
    match kind.places {
        Places::One => vec![at("")],
        Places::Many => vec![at(&part.place)],
        places => places.names().iter().map(|name| at(name)).collect(),
    }
}

/// How many differences are named before the rest is counted.
const DIFFERENCES: usize = 3;

fn says_otherwise(loaded: &Loaded, part: &PartAt, newer: &Newer) -> Markup {
    let pick = Pick { at: part.clone(), from: Source::Catalogue(newer.id.clone()) };
    let difference = |change: &FactChange| {
        let field = &newer.kind.fields[change.index];
        let text = |leaf: &Option<witnessmark_core::field::Leaf>| {
            leaf.as_ref().map_or_else(|| "not known".to_owned(), |leaf| words::value(field.kind, &leaf.value))
        };
        let (before, after) = (text(&change.before), text(&change.after));
        if before == after {
            format!("{} from elsewhere", field.words())
        } else {
            format!("{} {before} → {after}", field.words())
        }
    };
    let named: Vec<String> = newer.changes.iter().take(DIFFERENCES).map(difference).collect();
    html! {
        p.newer {
            (picture("M2 6h9l-3-3m3 3-3 3M18 14H9l3-3m-3 3 3 3"))
            span { "The catalogue now says otherwise: " b { (named.join("; ")) }
                @if newer.changes.len() > DIFFERENCES { " and " (newer.changes.len() - DIFFERENCES) " more" } "." }
            " " a href=(take::address(loaded, &[pick])) aria-label={ (part.words()) ": take or keep the new facts" } { "take or keep" }
        }
    }
}

fn summary(loaded: &Loaded, part: &PartAt) -> Markup {
    let path = part.path();
    let Some((kind, record)) = part::kind(part.kind).zip(part.record(loaded)) else { return html! {} };
    let facts = Entry::of(kind, record);
    let all: Vec<(usize, &Field, String)> = known(kind, record);
    let name = facts.text("name").filter(|name| *name != part.words());
    let own = all.iter().filter(|(index, ..)| *index >= COMMON_FACTS);
    // Where a fact comes from elsewhere than its part, it says so.
    let from_elsewhere = |index: usize| facts.fact(index).and_then(|leaf| leaf.origin);
    html! {
        summary id={ "summary." (path) } {
            span.kind { (part.words()) }
            @if let Some(name) = name { " " span.own-name { (name) } }
            " " (provenance(&facts))
            " " span.known {
                @for (index, field, text) in own {
                    span {
                        (field.words()) " " b { (text) }
                        @if let Some(origin) = from_elsewhere(*index) { " " i.origin-of { (gauge(origin)) (origin.name()) } }
                    }
                    " "
                }
                span.tally { (all.len()) " of " (kind.fields.len()) " facts" }
            }
        }
    }
}

/// Who brings the part, what it has been through, and where its facts come from: each a shape and a word.
fn provenance(facts: &Entry) -> Markup {
    let supplier = facts.text("supplied_by").and_then(Supplier::from_name);
    let condition = facts.text("condition").and_then(Condition::from_name);
    let origin = facts.text("facts_from").and_then(Origin::from_name);
    html! {
        span.provenance {
            @match supplier {
                Some(supplier) => span.tag { (picture(of_supplier(supplier))) (supplier.name()) },
                None => span.tag.not-said { "who brings it is not said" },
            }
            @if let Some(condition) = condition {
                span.tag.warns[warns(condition)] { (picture(of_condition(condition))) (condition.name()) }
            }
            @if let Some(wear) = facts.text("wear") { span.tag { "wear: " (wear) } }
            @if let Some(origin) = origin { span.tag.warns[origin == Origin::Assumed] { (gauge(origin)) (origin.name()) } }
        }
    }
}

/// A small picture beside its word.
fn picture(path: &str) -> Markup {
    html! { svg.shape viewBox="0 0 20 20" aria-hidden="true" { path d=(path) {} } }
}

/// A shelf, a parcel, hands that pass on, a loop.
fn of_supplier(supplier: Supplier) -> &'static str {
    match supplier {
        Supplier::Shop => "M2 8h16M2 16h16M4 8V3h5v5M11 16v-6h5v6",
        Supplier::CustomerNew => "M3 6h14v11H3zM3 6l3-3h8l3 3M10 3v6",
        Supplier::CustomerUsed => "M3 6h14v11H3zM3 6l3-3h8l3 3M6 12h8",
        Supplier::CarriedOver => "M4 12a6 6 0 1 0 2-6M6 2v4h4",
    }
}

/// A clean edge, an edge looked at, a worn edge, a question, a break, a break that was looked at.
fn of_condition(condition: Condition) -> &'static str {
    match condition {
        Condition::New => "M2 14h16",
        Condition::UsedSound => "M2 16h16M5 9l3 3 7-8",
        Condition::UsedWorn => "M2 12c2-4 4-4 5.3 0s3.3 4 5.3 0S16 8 18 12",
        Condition::UsedUnknown => "M6 7a4 4 0 1 1 6 3.4c-1.6 1-2 1.6-2 3.1M10 17v.6",
        Condition::Crashed => "M2 14h5l3-9 2 12 2-6 4 3",
        Condition::CrashedPassed => "M2 17h5l2-4 2 6 2-3h5M5 6l3 3 7-7",
    }
}

/// Whether somebody has to look at it before it is fitted.
fn warns(condition: Condition) -> bool {
    matches!(condition, Condition::UsedWorn | Condition::UsedUnknown | Condition::Crashed)
}

/// How good an origin is, as strokes on a rule: five for what was measured here, one for what is assumed.
pub(crate) fn gauge(origin: Origin) -> Markup {
    let strokes = 5 - (origin as usize).min(4);
    html! {
        svg.gauge viewBox="0 0 20 20" aria-hidden="true" {
            path d="M1 17h18" {}
            @for at in 0..strokes { path d={ "M" (2 + 4 * at) " 17v" "-" (if at % 2 == 0 { 13 } else { 8 }) } {} }
        }
    }
}

/// The facts that are filled in, as people read them, in the order of the kind.
fn known<'a>(kind: &'a PartKind, record: &dyn Record) -> Vec<(usize, &'a Field, String)> {
    let facts = kind.fields.iter().enumerate();
    facts.filter_map(|(at, field)| Some((at, field, words::value(field.kind, &record.get(at)?.value)))).collect()
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
