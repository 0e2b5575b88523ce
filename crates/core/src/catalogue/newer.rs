//! Which parts of a build the catalogue knows better by now.

use super::merge::{FactChange, differences};
use super::{Column, Entry, columns};
use crate::part::{PartKind, Parts};

/// A fitted part of which the catalogue has a newer version than the build was made with.
#[derive(Clone, Debug, PartialEq)]
pub struct Newer {
    /// Its kind.
    pub kind: &'static PartKind,
    /// Its place on the bike.
    pub place: String,
    /// Its id in the catalogue.
    pub id: String,
    /// The version whose facts the build holds.
    pub has: u32,
    /// The version that the catalogue holds now.
    pub latest: u32,
    /// What the catalogue says otherwise than the build, apart from facts that the build knows better. Empty where the
    /// build was corrected by hand to the same.
    pub changes: Vec<FactChange>,
}

/// Every part that was taken from the catalogue and has a newer version there, in the order of the walk-round. The build
/// keeps what it was built with; this only says what changed.
pub fn newer<'c>(parts: &Parts, catalogue: impl Fn(&str, &str) -> Option<&'c Entry>) -> Vec<Newer> {
    let mut all = Vec::new();
    for (kind, place, record) in parts.each() {
        let fitted = Entry::of(kind, record);
        let (Some(id), Some(has)) = (fitted.text("catalogue_id"), version(&fitted)) else { continue };
        let Some(latest) = catalogue(kind.key, id).filter(|latest| latest.version > has) else { continue };
        let told: Vec<usize> = columns(kind)
            .filter_map(|column| match column {
                Column::Fact(index) => Some(index),
                _ => None,
            })
            .collect();
        let knows_better = |index: usize| fitted.fact(index).is_some() && fitted.origin(index) < latest.origin(index);
        let changes = differences(&fitted, latest)
            .into_iter()
            .filter(|change| told.contains(&change.index) && !knows_better(change.index))
            .collect();
        all.push(Newer { kind, place: place.to_owned(), id: id.to_owned(), has, latest: latest.version, changes });
    }
    all
}

fn version(fitted: &Entry) -> Option<u32> {
    match fitted.named("catalogue_version")?.value {
        crate::field::Value::Count(version) => Some(version),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

    use super::*;
    use crate::catalogue::column;
    use crate::field::{Given, Origin};
    use crate::part;

    fn stem(version: u32, length_mm: f64, clamp_height_mm: f64) -> Entry {
        let kind = part::kind("stem").unwrap();
        let mut entry = Entry::new(kind, "plain");
        entry.set(column(kind, "length").unwrap(), Given::from(length_mm).to_leaf());
        entry.set(column(kind, "clamp_height").unwrap(), Given::from(clamp_height_mm).to_leaf());
        Entry { version, ..entry }
    }

    fn built() -> Parts {
        let mut parts = Parts::default();
        stem(1, 110.0, 40.0).fit(&mut parts, "").unwrap();
        parts
    }

    #[test]
    fn a_finished_build_keeps_its_facts_and_is_told_what_changed() {
        let parts = built();
        let latest = stem(2, 110.0, 42.0);
        let told = newer(&parts, |_, _| Some(&latest));
        assert_eq!((told.len(), told[0].has, told[0].latest, told[0].changes.len()), (1, 1, 2, 1));
        let change = &told[0].changes[0];
        assert_eq!(told[0].kind.fields[change.index].name, "clamp_height_mm");
        assert_eq!(change.before, Some(Given::from(40.0).to_leaf()));
        assert_eq!(change.after, Some(Given::from(42.0).to_leaf()));
        assert_eq!(parts, built());
    }

    #[test]
    fn the_same_version_and_a_part_of_no_catalogue_are_not_told() {
        let same = stem(1, 110.0, 40.0);
        assert!(newer(&built(), |_, _| Some(&same)).is_empty());
        assert!(newer(&built(), |_, _| None).is_empty(), "the catalogue has no such part any more");
        let mut parts = Parts::default();
        parts.stem.make("").length_mm = Some(110.0.into());
        assert!(newer(&parts, |_, _| Some(&same)).is_empty());
    }

    #[test]
    fn what_was_measured_on_the_bike_is_no_news() {
        let mut parts = built();
        parts.stem.make("").clamp_height_mm = Some(Given { origin: Some(Origin::Measured), ..Given::from(41.0) });
        let latest = stem(2, 110.0, 42.0);
        assert!(newer(&parts, |_, _| Some(&latest))[0].changes.is_empty());
    }
}
