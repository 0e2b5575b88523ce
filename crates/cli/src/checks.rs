//! `witnessmark checks`: what is checked, how much it weighs, and where it comes from.

use crate::{Outcome, print};
use serde::Serialize;
use std::fmt::Write;
use witnessmark_core::check::{ALL, Check, Origin};
use witnessmark_core::field::Choice;

/// Arguments of `checks`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// A check as a row of the list.
#[derive(Debug, PartialEq, Eq, Serialize)]
struct Row {
    name: &'static str,
    severity: &'static str,
    concern: &'static str,
    source: &'static str,
    origin: &'static str,
}

impl From<&Check> for Row {
    fn from(check: &Check) -> Self {
        Row {
            name: check.id,
            severity: check.severity().name(),
            concern: check.concern,
            source: check.source,
            origin: check.origin().name(),
        }
    }
}

/// Prints the list.
pub(crate) fn run(args: &Args) -> Outcome {
    if args.json {
        print::json(&ALL.iter().map(Row::from).collect::<Vec<_>>());
    } else {
        print::out(&text());
    }
    Outcome::Fine
}

fn text() -> String {
    let mut text = String::new();
    for check in ALL {
        let row = Row::from(check);
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{:<8} {:<28} {}", row.severity, row.name, check.title());
        let _ = writeln!(text, "{:<8} {}: {}", "", row.origin, row.source);
    }
    let of = |origin: Origin| ALL.iter().filter(|check| check.origin() == origin).count();
    let _ = writeln!(
        text,
        "\n{} checks: {} published, {} common practice, {} from memory",
        ALL.len(),
        of(Origin::Published),
        of(Origin::CommonPractice),
        of(Origin::FromMemory)
    );
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_check_is_a_row_of_its_own_with_the_five_words_that_are_promised() {
        let names: BTreeSet<&str> = ALL.iter().map(|check| Row::from(check).name).collect();
        assert_eq!(names.len(), ALL.len());
        let row = serde_json::to_value(Row::from(&ALL[0])).unwrap_or_default();
        let keys: Vec<&String> = row.as_object().map(|row| row.keys().collect()).unwrap_or_default();
        assert_eq!(keys, ["concern", "name", "origin", "severity", "source"]);
    }

    #[test]
    fn the_text_counts_what_it_lists() {
        let text = text();
        assert_eq!(text.lines().count(), 2 * ALL.len() + 2);
        assert!(text.contains(&format!("{} checks: ", ALL.len())), "{text}");
    }
}
