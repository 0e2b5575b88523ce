//! The catalogue as the pages hold it: read once, ready to be searched and judged, read again when it has changed.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};
use witnessmark_core::catalogue::{Entry, Index};
use witnessmark_core::field::Given;
use witnessmark_core::part::PartKind;
use witnessmark_core::search::fitting::Candidates;
use witnessmark_store::CataloguePart;

/// The parts of the workshop's catalogue at one place of its log.
#[derive(Debug, Default)]
pub(crate) struct Catalogue {
    /// The place in the log.
    pub(crate) seq: i64,
    /// By kind and id.
    parts: Vec<Entry>,
    index: Index,
    /// Kept facts that cannot be read any more: another program or an older version wrote them.
    pub(crate) unread: Vec<String>,
    /// What was made ready of a kind, once somebody asked what of it would fit.
    ready: Mutex<BTreeMap<&'static str, Arc<Ready>>>,
}

/// The parts of one kind, ready to be judged at a place and to be narrowed by words.
#[derive(Debug)]
pub(crate) struct Ready {
    /// To be judged.
    pub(crate) candidates: Candidates,
    /// To be narrowed.
    pub(crate) index: Index,
}

impl Catalogue {
    /// Reads what is kept. For a hundred thousand parts this takes seconds, so it is no work for a request's own thread.
    pub(crate) fn new(seq: i64, kept: &[CataloguePart]) -> Self {
        let mut unread = Vec::new();
        let mut parts: Vec<Entry> = kept.iter().filter_map(|part| read(part, &mut unread)).collect();
        parts.sort_by(|one, other| (one.kind.key, &one.id).cmp(&(other.kind.key, &other.id)));
        let index = Index::new(&parts);
        Catalogue { seq, parts, index, unread, ready: Mutex::default() }
    }

    /// Every part, by kind and id.
    pub(crate) fn parts(&self) -> &[Entry] {
        &self.parts
    }

    /// The parts of a kind, by id.
    pub(crate) fn of_kind(&self, kind: &str) -> &[Entry] {
        let from = self.parts.partition_point(|part| part.kind.key < kind);
        let many = self.parts[from..].partition_point(|part| part.kind.key == kind);
        &self.parts[from..from + many]
    }

    /// The part with this id.
    pub(crate) fn part(&self, kind: &str, id: &str) -> Option<&Entry> {
        let of_kind = self.of_kind(kind);
        let at = of_kind.binary_search_by(|part| part.id.as_str().cmp(id)).ok()?;
        of_kind.get(at)
    }

    /// The parts that meet every word, best first, and how many there are in all.
    pub(crate) fn find(&self, words: &str, most: usize) -> (Vec<&Entry>, usize) {
        let found = self.index.find(words, most);
        (found.best.iter().filter_map(|hit| self.part(hit.kind.key, hit.id)).collect(), found.all)
    }

    /// The parts of a kind, made ready; the first to ask waits for it.
    pub(crate) fn ready(&self, kind: &'static PartKind) -> Arc<Ready> {
        let known = || self.ready.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(ready) = known().get(kind.key) {
            return Arc::clone(ready);
        }
        let parts = self.of_kind(kind.key);
        let ready = Ready { candidates: Candidates::new(kind, parts.iter().cloned()), index: Index::new(parts) };
        Arc::clone(known().entry(kind.key).or_insert_with(|| Arc::new(ready)))
    }
}

/// A part as it is kept, read.
fn read(part: &CataloguePart, unread: &mut Vec<String>) -> Option<Entry> {
    let leaves = part.leaves.iter().map(|(key, text)| (key, text));
    let Some((mut entry, problems)) = witnessmark_intake::catalogue::entry(&part.kind, &part.id, leaves) else {
        unread.push(format!("{} {}: this program has no kind of part “{}”", part.kind, part.id, part.kind));
        return None;
    };
    unread.extend(problems.iter().map(ToString::to_string));
    entry.version = u32::try_from(part.version).unwrap_or(u32::MAX);
    entry.stock = part.stock.and_then(|stock| u32::try_from(stock).ok()).map(Given::from);
    Some(entry)
}

/// A part as it is to be kept.
pub(crate) fn kept(entry: &Entry) -> CataloguePart {
    CataloguePart {
        kind: entry.kind.key.to_owned(),
        id: entry.id.clone(),
        version: i64::from(entry.version),
        stock: entry.stock.as_ref().map(|given| i64::from(given.value)),
        leaves: entry.leaves(),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;
    use witnessmark_core::catalogue::sample::invented;
    use witnessmark_core::part::KINDS;

    #[test]
    fn what_is_kept_comes_back_by_kind_by_id_and_by_words() {
        let parts = invented(500);
        let catalogue = Catalogue::new(1, &parts.iter().map(kept).collect::<Vec<_>>());
        assert_eq!(catalogue.unread, Vec::<String>::new());
        assert_eq!(catalogue.parts().len(), parts.len());
        for part in &parts {
            assert_eq!(catalogue.part(part.kind.key, &part.id), Some(part));
            let (found, all) =
                catalogue.find(&format!("{} {}", part.kind.key.replace('_', " "), part.name()), usize::MAX);
            assert!(all >= 1 && found.contains(&part), "{}", part.id);
        }
        let counted: usize = KINDS.iter().map(|kind| catalogue.of_kind(kind.key).len()).sum();
        assert_eq!(counted, parts.len());
        assert_eq!(catalogue.part("stem", "no-such-stem"), None);
        let stem = witnessmark_core::part::kind("stem").unwrap();
        assert_eq!(catalogue.ready(stem).candidates.parts(), catalogue.of_kind("stem"));
    }

    #[test]
    fn a_kept_fact_that_cannot_be_read_is_said_and_the_rest_is_there() {
        let bad = CataloguePart {
            kind: "stem".into(),
            id: "odd".into(),
            version: 2,
            stock: None,
            leaves: vec![("length".into(), "long".into()), ("name".into(), "Odd stem".into())],
        };
        let strange = CataloguePart { kind: "bell".into(), id: "a".into(), version: 1, ..CataloguePart::default() };
        let catalogue = Catalogue::new(1, &[bad, strange]);
        assert_eq!(catalogue.parts().len(), 1);
        assert_eq!(catalogue.part("stem", "odd").unwrap().name(), "Odd stem");
        assert_eq!(catalogue.unread.len(), 2, "{:?}", catalogue.unread);
    }
}
