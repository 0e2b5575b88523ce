//! What taking parts would change: worked out on a copy of the build, which nobody sees until it is wanted.

use crate::catalogue::Catalogue;
use crate::loaded::Loaded;
use crate::pages::build::parts::PartAt;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use witnessmark_core::build::Build;
use witnessmark_core::catalogue::Entry;
use witnessmark_core::field::Leaf;
use witnessmark_core::finding::Finding;
use witnessmark_core::part::{self, PartKind};
use witnessmark_core::{Plan, plan};
use witnessmark_store::Change;

/// A part for a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Pick {
    /// The place.
    pub(crate) at: PartAt,
    /// The part.
    pub(crate) from: Source,
}

/// Where a part is taken from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Source {
    /// The shop's catalogue, by its id there.
    Catalogue(String),
    /// The build's own shelf, by its name there.
    Shelf(String),
}

impl Pick {
    /// `parts.stem:plain-100` of the catalogue, `parts.stem:shelf.spare` of the build's shelf.
    pub(crate) fn from_text(text: &str) -> Option<Self> {
        let (path, from) = text.split_once(':')?;
        let at = PartAt::from_path(path)?;
        let from = match from.strip_prefix("shelf.") {
            Some(name) if at.section == "parts" => Source::Shelf(name.to_owned()),
            Some(_) => return None,
            None => Source::Catalogue(from.to_owned()),
        };
        Some(Pick { at, from })
    }

    /// The same as one text.
    pub(crate) fn text(&self) -> String {
        let path = self.at.path();
        match &self.from {
            Source::Catalogue(id) => format!("{path}:{id}"),
            Source::Shelf(name) => format!("{path}:shelf.{name}"),
        }
    }
}

/// What is said beside the picks.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Said {
    /// What is fitted there is this very part: what is known better of it stays.
    pub(super) same: bool,
    /// Who brings what is new on the bike; nothing said is kept as nothing.
    pub(super) supplied_by: String,
    /// What it has been through.
    pub(super) condition: String,
}

/// A fact before and after, as people read it, each with where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct FactRow {
    /// The fact.
    pub(super) words: String,
    /// What was known.
    pub(super) before: Option<String>,
    /// What is known then.
    pub(super) after: Option<String>,
}

/// What becomes of a place.
#[derive(Debug)]
pub(super) struct Becomes {
    /// The pick.
    pub(super) pick: Pick,
    /// What the part that comes is called.
    pub(super) name: String,
    /// What the part that stood there is called; `None` where nothing did.
    pub(super) was: Option<String>,
    /// Whether what stood there was taken from the same part of the catalogue.
    pub(super) was_same: bool,
    /// Facts that differ.
    pub(super) facts: Vec<FactRow>,
    /// How many stay as they are.
    pub(super) unchanged: usize,
}

/// What a taking would change.
#[derive(Debug)]
pub(super) struct Proposal {
    /// Place by place.
    pub(super) places: Vec<Becomes>,
    /// As one edit.
    pub(super) changes: Vec<Change>,
    /// The build as it would be worked out.
    pub(super) plan: Plan,
    /// The mark of all that this follows from: if it is another when the answer comes, something else was shown.
    pub(super) stands: String,
}

/// Why there is no proposal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct NoSuchPart(pub(super) String);

/// Works out what taking these parts would change.
pub(super) fn propose(
    loaded: &Loaded,
    catalogue: &Catalogue,
    picks: &[Pick],
    said: &Said,
) -> Result<Proposal, NoSuchPart> {
    let mut after = loaded.build.clone();
    let mut mark = DefaultHasher::new();
    let mut names = Vec::with_capacity(picks.len());
    for pick in picks {
        let path = pick.at.path();
        for (leaf, text) in below(loaded, &path) {
            (leaf, text).hash(&mut mark);
        }
        let name = match &pick.from {
            Source::Catalogue(id) => {
                let Some(entry) = catalogue.part(pick.at.kind, id) else { return Err(not_there(pick)) };
                (&entry.id, entry.version).hash(&mut mark);
                put(&mut after, pick, entry, said, is_of(loaded, &pick.at, entry));
                entry.name().to_owned()
            }
            Source::Shelf(name) => {
                let shelf = format!("shelf.{}.{name}", pick.at.kind);
                let leaves = leaves_below(&loaded.build, &shelf);
                if leaves.is_empty() {
                    return Err(not_there(pick));
                }
                clear(&mut after, &path);
                for (key, leaf) in leaves {
                    // A fact of the same kind at another place: every field takes it.
                    let _ = after.set(&format!("{path}.{key}"), Some(leaf));
                }
                name_of(&loaded.build, &PartAt { section: "shelf", kind: pick.at.kind, place: name.clone() })
                    .unwrap_or_else(|| name.clone())
            }
        };
        names.push(name);
    }
    let kinds = picks.iter().filter_map(|pick| part::kind(pick.at.kind));
    let places = picks.iter().zip(kinds).zip(names);
    let places = places.map(|((pick, kind), name)| becomes(loaded, &after, pick, kind, name)).collect();
    let changes = picks.iter().flat_map(|pick| changes(loaded, &after, &pick.at.path())).collect();
    let plan = plan(&after);
    Ok(Proposal { places, changes, plan, stands: format!("{:016x}", mark.finish()) })
}

fn not_there(pick: &Pick) -> NoSuchPart {
    let kind = crate::words::of_key(pick.at.kind);
    NoSuchPart(match &pick.from {
        Source::Catalogue(id) => format!("The catalogue has no {kind} “{id}”."),
        Source::Shelf(name) => format!("On this build’s shelf lies no {kind} “{name}”."),
    })
}

/// Whether what stands at a place was taken from this part of the catalogue.
fn is_of(loaded: &Loaded, at: &PartAt, entry: &Entry) -> bool {
    loaded.text(&format!("{}.catalogue_id", at.path())) == Some(entry.id.as_str())
}

/// Puts a part of the catalogue into its place.
fn put(build: &mut Build, pick: &Pick, entry: &Entry, said: &Said, is_same: bool) {
    let path = pick.at.path();
    // Another part makes room whole, also where what stood there was typed by hand and has no id.
    let stays = is_same || said.same;
    if !stays {
        clear(build, &path);
    }
    let parts = if pick.at.section == "shelf" { &mut build.shelf } else { &mut build.parts };
    // The part is of the place's kind, so that every fact has the kind of its field.
    let _ = entry.fit(parts, &pick.at.place);
    if !stays {
        for (key, text) in [("supplied_by", &said.supplied_by), ("condition", &said.condition)] {
            if let Ok(leaf) = witnessmark_intake::leaf(&format!("{path}.{key}"), text) {
                let _ = build.set(&format!("{path}.{key}"), Some(leaf));
            }
        }
    }
}

fn clear(build: &mut Build, path: &str) {
    for (key, _) in leaves_below(build, path) {
        let _ = build.set(&format!("{path}.{key}"), None);
    }
}

/// The leaves of a part, by what follows its path.
fn leaves_below(build: &Build, path: &str) -> Vec<(String, Leaf)> {
    let all = build.leaves().into_iter();
    all.filter_map(|(leaf, value)| Some((leaf.strip_prefix(path)?.strip_prefix('.')?.to_owned(), value))).collect()
}

/// What is kept of a part, as typed.
fn below<'a>(loaded: &'a Loaded, path: &'a str) -> impl Iterator<Item = (&'a String, &'a String)> {
    loaded.leaves.iter().filter(move |(leaf, _)| leaf.strip_prefix(path).is_some_and(|rest| rest.starts_with('.')))
}

/// The edit of one place: each leaf that is another than what is kept. A kept text that cannot be read goes too.
fn changes(loaded: &Loaded, after: &Build, path: &str) -> Vec<Change> {
    let mut texts: BTreeMap<String, (Option<String>, Option<String>)> = BTreeMap::new();
    for (leaf, text) in below(loaded, path) {
        texts.entry(leaf.clone()).or_default().0 = Some(text.clone());
    }
    for (key, leaf) in leaves_below(after, path) {
        texts.entry(format!("{path}.{key}")).or_default().1 = Some(leaf.typed);
    }
    let different = texts.into_iter().filter(|(_, (before, after))| before != after);
    different.map(|(path, (before, after))| Change { path, before, after }).collect()
}

/// What a part is called, where it is there: its name, else its kind.
pub(super) fn name_of(build: &Build, at: &PartAt) -> Option<String> {
    let parts = if at.section == "shelf" { &build.shelf } else { &build.parts };
    let record = parts.record(at.kind, &at.place)?;
    let named = Entry::of(part::kind(at.kind)?, record).text("name").map(str::to_owned);
    Some(named.unwrap_or_else(|| format!("the {} that was there", at.words())))
}

fn becomes(loaded: &Loaded, after: &Build, pick: &Pick, kind: &'static PartKind, name: String) -> Becomes {
    let of = |build: &Build| {
        let parts = if pick.at.section == "shelf" { &build.shelf } else { &build.parts };
        parts.record(kind.key, &pick.at.place).map(|record| Entry::of(kind, record))
    };
    let (was, is) = (of(&loaded.build), of(after));
    let said = |entry: &Option<Entry>, index: usize| {
        let entry = entry.as_ref()?;
        let leaf = entry.fact(index)?;
        let value = crate::words::value(kind.fields[index].kind, &leaf.value);
        Some(match leaf.origin {
            Some(origin) if Some(origin) != of_part(entry) => {
                format!("{value}, {}", witnessmark_core::field::Choice::name(&origin))
            }
            _ => value,
        })
    };
    let mut facts = Vec::new();
    let mut unchanged = 0;
    for (index, field) in kind.fields.iter().enumerate() {
        // By which it is known again, and not a fact of the part.
        if field.name == "catalogue_id" {
            continue;
        }
        let (before, after) = (said(&was, index), said(&is, index));
        if before != after {
            facts.push(FactRow { words: field.words(), before, after });
        } else if before.is_some() {
            unchanged += 1;
        }
    }
    Becomes {
        was: name_of(&loaded.build, &pick.at),
        was_same: matches!(&pick.from, Source::Catalogue(id)
            if loaded.text(&format!("{}.catalogue_id", pick.at.path())) == Some(id.as_str())),
        pick: pick.clone(),
        name,
        facts,
        unchanged,
    }
}

fn of_part(entry: &Entry) -> Option<witnessmark_core::field::Origin> {
    entry.text("facts_from").and_then(witnessmark_core::field::Choice::from_name)
}

/// Findings that go, that come, and that say something else than before, told apart by their check and what they are about.
pub(super) fn moved<'a>(before: &'a [Finding], after: &'a [Finding]) -> Moved<'a> {
    // What cannot be judged is gathered into one finding, whose list grows and shrinks.
    let same = |one: &Finding, other: &Finding| {
        one.check == other.check && (one.about == other.about || (one.not_known && other.not_known))
    };
    let text = |one: &Finding, other: &Finding| one.what == other.what && one.why == other.why;
    let kept = |one: &Finding, there: &[Finding]| there.iter().any(|other| same(one, other));
    let says_else =
        |one: &&Finding| kept(one, before) && !before.iter().any(|other| same(one, other) && text(one, other));
    Moved {
        go: before.iter().filter(|one| !kept(one, after)).collect(),
        come: after.iter().filter(|one| !kept(one, before)).collect(),
        other: after.iter().filter(says_else).collect(),
    }
}

/// What becomes of the findings.
#[derive(Debug)]
pub(super) struct Moved<'a> {
    /// They are gone then.
    pub(super) go: Vec<&'a Finding>,
    /// They are new then.
    pub(super) come: Vec<&'a Finding>,
    /// They stay, and say something else.
    pub(super) other: Vec<&'a Finding>,
}
