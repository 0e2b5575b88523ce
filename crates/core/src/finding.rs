//! A finding: what is wrong, doubtful or worth saying, in three plain sentences and a source.

use crate::field::{Choice, Kind};
use crate::number::Side;
use crate::part::{self, Places};
use crate::{choice, number};

choice! {
    /// How much a finding weighs, worst first.
    pub enum Severity {
        /// The work may not go on.
        Stop = "stop",
        /// Somebody has to decide.
        Caution = "caution",
        /// Worth knowing.
        Note = "note",
    }
}

/// What a finding is about: it points there on the page and on the drawing.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum About {
    /// A number, on a side.
    Number(&'static str, Side),
    /// A part, by its path: `parts.stem`.
    Part(String),
    /// A field, by its path: `settings.spacers_under`.
    Field(String),
}

impl About {
    /// The number of the registry.
    pub fn number(number: &number::Number, side: Side) -> Self {
        About::Number(number.id, side)
    }

    /// A part or a field by its path: `parts.tyre.front` is a part, `parts.tyre.front.outer_radius` a field of it.
    pub fn path(path: &str) -> Self {
        let is_part = path.strip_prefix("parts.").is_some_and(|rest| {
            let (key, place) = rest.split_once('.').unwrap_or((rest, ""));
            part::kind(key).is_some_and(|kind| (kind.places == Places::One) == place.is_empty() && !place.contains('.'))
        });
        if is_part { About::Part(path.into()) } else { About::Field(path.into()) }
    }

    /// The address of the thing: a number's id with its side, or a path.
    pub fn address(&self) -> String {
        match self {
            About::Number(id, Side::None) => (*id).to_owned(),
            About::Number(id, side) => format!("{id}.{}", side.word()),
            About::Part(path) | About::Field(path) => path.clone(),
        }
    }
}

/// What a check found.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The id of the check that found it: `fits/steerer_length`.
    pub check: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What it is about.
    pub about: Vec<About>,
    /// What is the matter.
    pub what: String,
    /// Why, with the numbers.
    pub why: String,
    /// What to do.
    pub action: String,
    /// Where the limit or the custom comes from.
    pub source: &'static str,
    /// The check could not judge, because facts are missing.
    pub not_known: bool,
}

impl Finding {
    /// The severity's word.
    pub fn severity_word(&self) -> &'static str {
        self.severity.name()
    }
}

/// A length as people read it: up to one decimal, none where it says nothing.
pub fn mm(value: f64) -> String {
    format!("{} mm", figure(value, 1))
}

/// An angle as people read it.
pub fn deg(value: f64) -> String {
    format!("{}°", figure(value, 1))
}

/// A value with its unit: "728 mm", "16.9°".
pub(crate) fn with_unit(kind: Kind, value: f64) -> String {
    match kind.unit() {
        "" => figure(value, 1),
        "°" => deg(value),
        unit => format!("{} {unit}", figure(value, 1)),
    }
}

/// The text with a capital at its head.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A number with at most so many decimals, trailing zeros left away, a true minus sign, and never "−0".
pub fn figure(value: f64, decimals: usize) -> String {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text.replacen('-', "−", 1) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_is_told_from_its_facts_whatever_its_place() {
        for path in ["parts.stem", "parts.tyre.front", "parts.spacer.ten"] {
            assert_eq!(About::path(path), About::Part(path.into()));
        }
        for path in ["parts.stem.length", "parts.tyre.front.outer_radius", "settings.bar_roll", "parts.tyre"] {
            assert_eq!(About::path(path), About::Field(path.into()));
        }
    }

    #[test]
    fn figures_read_as_a_person_writes_them() {
        assert_eq!(figure(12.0, 1), "12");
        assert_eq!(figure(-12.34, 1), "−12.3");
        assert_eq!(figure(-0.01, 1), "0");
        assert_eq!(figure(100.0, 0), "100");
    }
}
