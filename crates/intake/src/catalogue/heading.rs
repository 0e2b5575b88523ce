//! A heading of a table: the key of a fact, with a unit in brackets if it has one: `length (mm)`, `length from`.

use super::words;
use crate::problem::nearest;
use crate::quantity::{Dimension, read};
use witnessmark_core::catalogue::{Column, OF_A_SPECIMEN, column, columns};
use witnessmark_core::field::{Field, Kind};
use witnessmark_core::part::PartKind;

/// What stands below a heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Heading {
    /// The part's id.
    Id,
    /// The kind of part, the same in every row.
    Kind,
    /// A fact, its origin or the stock; and the unit its figures are in, where that is not the unit of the house.
    Column(Column, Option<String>),
    /// Nothing: a column left empty.
    Blank,
}

/// Reads a heading; refuses one that this kind does not have, and a unit that does not measure what the fact is.
pub(super) fn read_heading(kind: &'static PartKind, cell: &str) -> Result<Heading, (String, Option<String>)> {
    let cell = cell.trim();
    let (name, unit) = match cell.strip_suffix(')').and_then(|open| open.rsplit_once('(')) {
        Some((name, unit)) => (name.trim(), Some(unit.trim())),
        None => (cell, None),
    };
    let key = name.to_lowercase().replace([' ', '-'], "_");
    match (key.as_str(), unit) {
        ("", None) => return Ok(Heading::Blank),
        ("id", None) => return Ok(Heading::Id),
        ("kind_of_part", None) => return Ok(Heading::Kind),
        _ => {}
    }
    let origin = || column(kind, &format!("{}.from", key.strip_suffix("_from")?));
    let Some(found) = column(kind, &key).or_else(origin) else { return Err(unknown(kind, cell, &key)) };
    let field = found.field(kind);
    match unit {
        Some(unit) => unit_of(&field, unit).map(|unit| Heading::Column(found, unit)),
        None => Ok(Heading::Column(found, None)),
    }
}

/// The heading of a column as it is written and documented.
pub(super) fn write_heading(kind: &'static PartKind, column: Column) -> String {
    let key = column.key(kind);
    let field = column.field(kind);
    match (column, field.kind.unit()) {
        (Column::From(_), _) => key.replace(".from", " from").replace('_', " "),
        (_, "") => key.replace('_', " "),
        (_, unit) => format!("{} ({unit})", key.replace('_', " ")),
    }
}

/// The unit that figures below a heading get; `None` where it is the one they are in anyway.
fn unit_of(field: &Field, unit: &str) -> Result<Option<String>, (String, Option<String>)> {
    let Some(dimension) = Dimension::of(field.kind) else {
        return Err((format!("“{}” has no unit, and “{unit}” stands in its brackets", field.words()), None));
    };
    if unit == field.kind.unit() || unit.is_empty() {
        return Ok(None);
    }
    match read(&format!("1 {unit}"), dimension) {
        Ok(one) if one.to_bits() == 1.0_f64.to_bits() => Ok(None),
        Ok(_) => Ok(Some(unit.to_owned())),
        Err(_) => {
            let own = if field.kind.unit().is_empty() { "no unit" } else { field.kind.unit() };
            Err((
                format!(
                    "“{unit}” is no unit of {}; {own} was expected, or another that can be typed",
                    dimension.noun()
                ),
                None,
            ))
        }
    }
}

fn unknown(kind: &'static PartKind, cell: &str, key: &str) -> (String, Option<String>) {
    if OF_A_SPECIMEN.contains(&key) {
        let says = format!("“{cell}” is a fact of one specimen; the catalogue keeps what all of its make share");
        return (says, None);
    }
    let keys: Vec<String> = columns(kind).map(|column| column.key(kind)).chain(["id".to_owned()]).collect();
    let near = nearest(key, &keys).map(|key| key.replace('_', " "));
    (format!("“{}” is no heading for a {}", short(cell), words(kind)), near)
}

fn short(cell: &str) -> String {
    const SHOWN: usize = 40;
    let tidy: String = cell.chars().filter(|sign| !sign.is_control()).collect();
    if tidy.chars().nth(SHOWN).is_some() {
        format!("{}…", tidy.chars().take(SHOWN).collect::<String>())
    } else {
        tidy
    }
}

/// A figure below a heading with a unit of its own gets that unit, unless it brings one.
pub(super) fn with_unit(cell: &str, unit: Option<&str>, kind: Kind) -> Option<String> {
    let unit = unit?;
    Dimension::of(kind)?;
    let brings_one = !cell.ends_with(|c: char| c.is_numeric());
    (!brings_one).then(|| format!("{cell} {unit}"))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

    use super::*;
    use witnessmark_core::part::{KINDS, kind};

    #[test]
    fn every_heading_that_is_written_reads_back_as_its_column() {
        for kind in KINDS {
            for there in columns(kind) {
                let heading = write_heading(kind, there);
                assert_eq!(
                    read_heading(kind, &heading).unwrap(),
                    Heading::Column(there, None),
                    "{}: {heading}",
                    kind.key
                );
                if let Column::Fact(index) = there
                    && column(kind, &format!("{}.from", there.key(kind))).is_some()
                {
                    let heading = write_heading(kind, Column::From(index));
                    assert_eq!(
                        read_heading(kind, &heading).unwrap(),
                        Heading::Column(Column::From(index), None),
                        "{heading}"
                    );
                }
            }
        }
    }

    #[test]
    fn a_heading_may_have_a_unit_of_its_own_and_no_other_kind_of_unit() {
        let stem = kind("stem").unwrap();
        let length = column(stem, "length").unwrap();
        assert_eq!(read_heading(stem, " Length (cm) ").unwrap(), Heading::Column(length, Some("cm".into())));
        assert_eq!(read_heading(stem, "LENGTH(mm)").unwrap(), Heading::Column(length, None));
        let says = |cell| read_heading(stem, cell).unwrap_err();
        assert_eq!(says("length (kg)").0, "“kg” is no unit of a length; mm was expected, or another that can be typed");
        assert_eq!(says("name (mm)").0, "“name” has no unit, and “mm” stands in its brackets");
        assert_eq!(says("lenght"), ("“lenght” is no heading for a stem".into(), Some("length".into())));
        assert!(says("serial").0.contains("one specimen"));
    }

    #[test]
    fn a_figure_gets_the_unit_of_its_heading_unless_it_brings_one() {
        assert_eq!(with_unit("3,5", Some("cm"), Kind::Length).as_deref(), Some("3,5 cm"));
        assert_eq!(with_unit("35 mm", Some("cm"), Kind::Length), None);
        assert_eq!(with_unit("35", None, Kind::Length), None);
    }
}
