//! A build as one file: TOML, read with every problem at its line and column.

use crate::field::{leaf, put};
use crate::problem::Problem;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};
use witnessmark_core::Build;
use witnessmark_core::build::FORM;

/// The largest file that is read: a full build is some tens of kilobytes, so this is a hundred times as much as anyone
/// types, and little enough to be held in memory many times over.
pub const LARGEST_FILE: u64 = 4 * 1024 * 1024;

/// Reads a build from a file's bytes; answers with every problem that was found, not only the first.
pub fn file(name: &str, bytes: &[u8]) -> Result<Build, Vec<Problem>> {
    let whole = |says: String| vec![Problem { file: Some(name.to_owned()), says, ..Problem::default() }];
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(whole(too_large(bytes.len() as u64)));
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => document(name, text),
        Err(error) => Err(whole(format!(
            "this is not a text in UTF-8 (byte {} of {}); a build document in TOML was expected",
            error.valid_up_to() + 1,
            bytes.len()
        ))),
    }
}

pub(crate) fn too_large(bytes: u64) -> String {
    format!(
        "the file has {} MB; a build document has at most {} MB",
        bytes.div_ceil(1024 * 1024),
        LARGEST_FILE / (1024 * 1024)
    )
}

/// Reads a build from a text; answers with every problem that was found, not only the first.
pub fn document(name: &str, text: &str) -> Result<Build, Vec<Problem>> {
    let mut reading = Reading { name, text, lines: line_starts(text), build: Build::default(), problems: Vec::new() };
    reading.whole();
    if reading.problems.is_empty() {
        Ok(reading.build)
    } else {
        reading.problems.sort_by_key(|problem| problem.place);
        Err(reading.problems)
    }
}

struct Reading<'a> {
    name: &'a str,
    text: &'a str,
    lines: Vec<usize>,
    build: Build,
    problems: Vec<Problem>,
}

impl Reading<'_> {
    fn whole(&mut self) {
        if self.text.trim().is_empty() {
            self.report(0..0, Problem::at("", "the file is empty; a build document begins with `form = 1`"));
            return;
        }
        let text = self.text;
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in &errors {
            let says = format!("this is not TOML: {}", error.message().trim_end_matches('.'));
            self.report(error.span().unwrap_or(0..0), Problem::at("", says));
        }
        // A text that is not TOML is not looked at further: what follows from a slip would only hide it.
        if errors.is_empty() {
            self.form(table.get_ref());
            self.table(&mut Vec::new(), table.get_ref());
        }
    }

    /// The version of the document's form: a newer one is refused whole.
    fn form(&mut self, table: &DeTable<'_>) {
        let Some(value) = table.get("form") else { return };
        let said = value.get_ref().as_integer().and_then(|integer| integer.as_str().parse::<u32>().ok());
        let says = match said {
            Some(form) if form > FORM => format!(
                "the file has form {form}, made by a newer version of this program; form {FORM} is the newest known here"
            ),
            Some(form) if form >= 1 => {
                debug_assert_eq!(form, FORM, "an older form needs its own reader");
                return;
            }
            _ => format!("the form is a whole number; form {FORM} was expected"),
        };
        self.report(value.span(), Problem::at("form", says));
    }

    fn table(&mut self, keys: &mut Vec<Key>, table: &DeTable<'_>) {
        let mut entries: Vec<(&Spanned<DeString<'_>>, &Spanned<DeValue<'_>>)> = table.iter().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        for (key, value) in entries {
            if keys.is_empty() && key.get_ref() == "form" {
                continue;
            }
            keys.push(Key { name: key.get_ref().to_string(), span: key.span() });
            self.entry(keys, value);
            keys.pop();
        }
    }

    fn entry(&mut self, keys: &mut Vec<Key>, value: &Spanned<DeValue<'_>>) {
        if keys.last().is_some_and(|key| key.name.contains('.')) {
            // Only a quoted key can hold a dot, and no field has one.
            let path = path(keys);
            let span = keys.last().map_or(0..0, |key| key.span.clone());
            self.report(span, Problem::at(&path, "no field has a dot in its key"));
            return;
        }
        let full = path(keys);
        match value.get_ref() {
            DeValue::Table(table) if Build::field(&full).is_ok() => self.fact(keys, table),
            DeValue::Table(table) => {
                if self.is_known(keys) {
                    self.table(keys, table);
                }
            }
            other => match self.typed(other, value.span()) {
                Some(typed) => self.leaf(keys, &full, &typed, value.span()),
                None => self.report(
                    value.span(),
                    Problem::at(&full, "a list of tables stands here; a single value was expected"),
                ),
            },
        }
    }

    /// `stack = { value = 552, from = "measured here" }`: a fact with an origin of its own.
    fn fact(&mut self, keys: &mut Vec<Key>, table: &DeTable<'_>) {
        let full = path(keys);
        let before = self.problems.len();
        let mut entries: Vec<(&Spanned<DeString<'_>>, &Spanned<DeValue<'_>>)> = table.iter().collect();
        // The value first: an origin belongs to a fact that is there.
        entries.sort_by_key(|(key, _)| key.get_ref() != "value");
        for (key, value) in entries {
            let below = match key.get_ref().as_ref() {
                "value" => full.clone(),
                other => format!("{full}.{other}"),
            };
            keys.push(Key { name: key.get_ref().to_string(), span: key.span() });
            match (self.typed(value.get_ref(), value.span()), Build::field(&below)) {
                (_, Err(unknown)) => self.report(key.span(), Problem::unknown(&below, &unknown)),
                (Some(typed), Ok(_)) => self.leaf(keys, &below, &typed, value.span()),
                (None, Ok(_)) => self.report(value.span(), Problem::at(&below, "a single value was expected here")),
            }
            keys.pop();
        }
        // A slip in a key explains itself; an origin alone would go without a word.
        if table.get("value").is_none() && self.problems.len() == before {
            let span = keys.last().map_or(0..0, |key| key.span.clone());
            self.report(span, Problem::at(&full, "a table without a value stands here; { value = … } was expected"));
        }
    }

    fn leaf(&mut self, keys: &[Key], path: &str, typed: &str, span: Range<usize>) {
        match leaf(path, typed) {
            Ok(leaf) => put(&mut self.build, path, leaf, &mut self.problems),
            Err(problem) => {
                let span = match Build::field(path) {
                    // The key itself is wrong: point at it, not at its value.
                    Err(unknown) => keys.get(unknown.at).map_or(span, |key| key.span.clone()),
                    Ok(_) => span,
                };
                self.report(span, problem);
            }
        }
    }

    /// Whether a table's name leads anywhere; reported once, at the table, and not again for each of its fields.
    fn is_known(&mut self, keys: &[Key]) -> bool {
        let probe = format!("{}.", path(keys));
        match Build::field(&probe) {
            Err(unknown) if unknown.at < keys.len() => {
                let problem = Problem::unknown(&path(keys), &unknown);
                self.report(keys[unknown.at].span.clone(), problem);
                false
            }
            _ => true,
        }
    }

    fn typed(&self, value: &DeValue<'_>, span: Range<usize>) -> Option<String> {
        typed_text(self.text, value, span)
    }

    fn report(&mut self, span: Range<usize>, problem: Problem) {
        let place = Some(place_of(self.text, &self.lines, span.start));
        self.problems.push(Problem { file: Some(self.name.to_owned()), place, ..problem });
    }
}

/// A key on the way to a value.
struct Key {
    name: String,
    span: Range<usize>,
}

fn path(keys: &[Key]) -> String {
    keys.iter().map(|key| key.name.as_str()).collect::<Vec<_>>().join(".")
}

/// The text of a value as a person would type it into a field; `None` for tables inside lists.
pub(crate) fn typed_text(text: &str, value: &DeValue<'_>, span: Range<usize>) -> Option<String> {
    match value {
        DeValue::String(text) => Some(text.to_string()),
        DeValue::Boolean(yes) => Some(if *yes { "yes" } else { "no" }.to_owned()),
        DeValue::Array(items) => items
            .iter()
            .map(|item| typed_text(text, item.get_ref(), item.span()))
            .collect::<Option<Vec<String>>>()
            .map(|items| items.join("; ")),
        DeValue::Table(_) => None,
        _ => text.get(span).map(str::to_owned),
    }
}

/// Where each line of a text begins.
pub(crate) fn line_starts(text: &str) -> Vec<usize> {
    std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect()
}

/// Line and column of a byte, counted from 1; columns count characters.
pub(crate) fn place_of(text: &str, lines: &[usize], byte: usize) -> (usize, usize) {
    let line = lines.partition_point(|start| *start <= byte).max(1);
    let start = lines.get(line - 1).copied().unwrap_or(0);
    let column = text.get(start..byte).map_or(0, |before| before.chars().count());
    (line, column + 1)
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::float_cmp,
    reason = "a test stops where it fails, and what was typed comes back to the bit"
)]
mod tests {
    use super::*;
    use crate::write;
    use witnessmark_core::build::sample::sample;
    use witnessmark_core::field::Value;

    fn refused(text: &str) -> Vec<String> {
        document("b.toml", text).unwrap_err().iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_document_reads_with_units_decimal_commas_and_lists() {
        let text = "form = 1\n[settings]\nspacers_under = \"3,5 cm\"\nbar_roll = -1.5\nstem_flipped = true\n\
                    [parts.crankset]\nrings = [52, 36]\n[job]\nday = 2027-03-14\n";
        let build = document("b.toml", text).unwrap();
        assert_eq!(build.settings.spacers_under_mm.as_ref().unwrap().value, 35.0);
        assert_eq!(build.settings.bar_roll_deg.as_ref().unwrap().value, -1.5);
        assert_eq!(build.get("parts.crankset.rings").unwrap().unwrap().value, Value::Counts(vec![52, 36]));
    }

    #[test]
    fn every_problem_is_reported_at_its_line_and_column_with_the_nearest_right_word() {
        let text = "form = 1\n[settings]\nspacers_undr = 35\nbar_roll = \"2 kg\"\n[pats.stem]\nlength = 110\n";
        assert_eq!(
            refused(text),
            [
                "b.toml:3:1: settings.spacers_undr: [settings] has no “spacers_undr”; it may have spacers_under, \
                 spacers_over, set_down, expander_depth, stem_flipped, bar_roll and more — did you mean “spacers_under”?",
                "b.toml:4:12: settings.bar_roll: “2 kg” is a mass; an angle was expected, such as 73.5 or 73.5°",
                "b.toml:5:2: pats: the document has no “pats”; it may have job, rider, fit, asked, parts, settings and more \
                 — did you mean “parts”?",
            ]
        );
    }

    #[test]
    fn what_is_no_document_gets_one_clear_message() {
        assert_eq!(refused(""), ["b.toml:1:1: the file is empty; a build document begins with `form = 1`"]);
        let binary = file("b.toml", &[0x7f, b'E', b'L', b'F', 0xff, 0xfe]).unwrap_err();
        assert!(binary[0].to_string().contains("not a text in UTF-8"), "{}", binary[0]);
        let large = file("b.toml", &vec![b' '; 5 * 1024 * 1024]).unwrap_err();
        assert!(large[0].to_string().contains("5 MB"), "{}", large[0]);
        let newer = refused("form = 99\n");
        assert!(newer[0].contains("newer version"), "{newer:?}");
        let twice = refused("form = 1\n[job]\ntitle = \"a\"\ntitle = \"b\"\n");
        assert!(twice[0].starts_with("b.toml:4:1:") && twice[0].contains("duplicate key"), "{twice:?}");
        let deep = format!("form = 1\na = {}1{}\n", "[".repeat(5000), "]".repeat(5000));
        assert!(refused(&deep)[0].contains("not TOML"), "{:?}", refused(&deep)[0]);
    }

    #[test]
    fn a_table_in_a_fields_place_and_a_value_in_a_tables_place_are_told() {
        assert!(refused("form = 1\nsettings = 3\n")[0].contains("is a table"));
        assert!(refused("form = 1\n[settings.bar_roll.deep]\nx = 1\n")[0].contains("nothing below it"));
        assert!(refused("form = 1\n[[parts.spacer]]\nheight = 5\n")[0].contains("list of tables"));
    }

    #[test]
    fn writing_and_reading_give_the_same_build() {
        let build = sample();
        assert_eq!(document("b.toml", &write(&build)).unwrap(), build);
    }

    #[test]
    fn a_fact_keeps_an_origin_of_its_own() {
        let text = "form = 1\n[parts.frame]\nstack = { value = \"55.2 cm\", from = \"measured here\" }\n";
        let build = document("b.toml", text).unwrap();
        let again = document("b.toml", &write(&build)).unwrap();
        assert_eq!(again, build);
        assert!(write(&build).contains("stack = { value = \"55.2 cm\", from = \"measured here\" }"));
    }
}
