//! What is written along with a change: who did it and on which day, where the document has a place for both.
//!
//! The log of edits has both for every change; a reading, a step and a bolt carry them in the document too, because they
//! stand on sheets. Who gave no name is not written down as anybody.

use crate::loaded::Loaded;
use crate::words;
use jiff::civil::Date;
use witnessmark_store::Change;

/// The fields beside a path that say who and when, where it has such.
fn beside(path: &str) -> Option<(Option<String>, String)> {
    let keys: Vec<&str> = path.split('.').collect();
    let table = path.rsplit_once('.')?.0;
    let both = || Some((Some(format!("{table}.by")), format!("{table}.on")));
    match keys.as_slice() {
        ["measured", .., "value"] | ["steps", _, "state"] | ["fasteners", _, "state" | "applied"] => both(),
        // The name is the value itself.
        ["steps", _, "opened_by"] => Some((None, format!("{table}.opened_on"))),
        _ => None,
    }
}

/// The changed fields without those that only go along with another of them.
pub(super) fn without(paths: Vec<String>) -> Vec<String> {
    let along: Vec<String> =
        paths.iter().filter_map(|path| beside(path)).flat_map(|(by, on)| by.into_iter().chain([on])).collect();
    paths.into_iter().filter(|path| !along.contains(path)).collect()
}

/// The changes that go along with a change of this field to this text, by somebody on a day as the bench counts it.
pub(super) fn with(loaded: &Loaded, path: &str, after: Option<&str>, who: Option<&str>, day: &str) -> Vec<Change> {
    let Some((by, on)) = beside(path) else { return Vec::new() };
    let name = who.map(str::to_owned);
    let day = day.parse::<Date>().map_or_else(|_| words::today(), |day| day.to_string());
    let put = |path: String, text: Option<String>| {
        let before = loaded.text(&path).map(str::to_owned);
        (before != text).then_some(Change { path, before, after: text })
    };
    let taken = after.is_some();
    let by = by.and_then(|by| put(by, name.filter(|_| taken)));
    by.into_iter().chain(put(on, Some(day).filter(|_| taken))).collect()
}
