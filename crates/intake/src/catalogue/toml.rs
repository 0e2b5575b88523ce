//! Parts of any kinds as TOML: a table a part, `[stem.plain-110]`, with its facts as in a build document.
//!
//! A file is held in memory whole, since its syntax wants that; for catalogues beyond [`LARGEST_TOML`] there are tables.

use super::{NOT_KNOWN, Said, leaf, slug, words};
use crate::Problem;
use crate::file::{line_starts, place_of, typed_text};
use crate::problem::nearest;
use crate::write::as_toml;
use std::fmt::Write as _;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};
use witnessmark_core::catalogue::{Column, Entry, Incoming, OF_A_SPECIMEN, column, columns};
use witnessmark_core::part::{KINDS, LONGEST_NAME, PartKind, is_name, kind};

/// The largest file that is read.
pub const LARGEST_TOML: u64 = 64 * 1024 * 1024;

/// The form that is written; a file with a higher one is refused.
const FORM: u32 = 1;

type Pair<'t> = (&'t Spanned<DeString<'t>>, &'t Spanned<DeValue<'t>>);

/// Reads the parts of a file; answers with every problem that was found, not only the first.
pub fn read_toml(name: &str, text: &str) -> Result<Vec<Said>, Vec<Problem>> {
    let mut reading = Reading { name, text, lines: line_starts(text), parts: Vec::new(), problems: Vec::new() };
    if text.len() as u64 > LARGEST_TOML {
        let says =
            format!("the file is larger than {} MB; write it as tables, one CSV a kind", LARGEST_TOML / 1_048_576);
        return Err(vec![Problem { file: Some(name.to_owned()), ..Problem::at("", says) }]);
    }
    reading.whole();
    if reading.problems.is_empty() && reading.parts.is_empty() {
        reading.report(0..0, Problem::at("", "the file holds no part; a table such as [stem.plain-110] was expected"));
    }
    if reading.problems.is_empty() {
        Ok(reading.parts)
    } else {
        reading.problems.sort_by_key(|problem| problem.place);
        Err(reading.problems)
    }
}

struct Reading<'a> {
    name: &'a str,
    text: &'a str,
    lines: Vec<usize>,
    parts: Vec<Said>,
    problems: Vec<Problem>,
}

impl Reading<'_> {
    fn whole(&mut self) {
        let text = self.text;
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in &errors {
            let says = format!("this is not TOML: {}", error.message().trim_end_matches('.'));
            self.report(error.span().unwrap_or(0..0), Problem::at("", says));
        }
        if !errors.is_empty() {
            return;
        }
        for (key, value) in in_order(table.get_ref()) {
            if key.get_ref() == "form" {
                let form = value.get_ref().as_integer().and_then(|form| form.as_str().parse::<u32>().ok());
                if form != Some(FORM) {
                    self.report(value.span(), Problem::at("form", format!("form {FORM} was expected here")));
                }
                continue;
            }
            match (kind(key.get_ref()), value.get_ref()) {
                (Some(kind), DeValue::Table(parts)) => {
                    for (id, value) in in_order(parts) {
                        self.part(kind, id, value);
                    }
                }
                (Some(_), _) => {
                    self.report(value.span(), Problem::at(key.get_ref(), "a table of parts was expected here"));
                }
                (None, _) => {
                    let keys: Vec<String> = KINDS.iter().map(|kind| kind.key.to_owned()).collect();
                    let says = format!("there is no kind of part “{}”", key.get_ref());
                    let nearest = nearest(key.get_ref(), &keys);
                    self.report(key.span(), Problem { nearest, ..Problem::at(key.get_ref(), says) });
                }
            }
        }
    }

    fn part(&mut self, kind: &'static PartKind, id: &Spanned<DeString<'_>>, value: &Spanned<DeValue<'_>>) {
        let path = format!("{}.{}", kind.key, id.get_ref());
        let DeValue::Table(facts) = value.get_ref() else {
            let says = "a part is a table; its facts were expected below it";
            return self.report(value.span(), Problem::at(&path, says));
        };
        if !is_name(id.get_ref()) {
            let says = format!("the id is at most {LONGEST_NAME} small letters, figures and hyphens");
            let nearest = slug(id.get_ref());
            return self.report(id.span(), Problem { nearest, ..Problem::at(&path, says) });
        }
        let before = self.problems.len();
        let mut said = Incoming { entry: Entry::new(kind, id.get_ref().to_string()), not_known: Vec::new() };
        for (key, value) in in_order(facts) {
            self.fact(&path, key, value, &mut said);
        }
        if self.problems.len() == before {
            let line = place_of(self.text, &self.lines, id.span().start).0 as u64;
            self.parts.push(Said { line, incoming: said });
        }
    }

    fn fact(&mut self, path: &str, key: &Spanned<DeString<'_>>, value: &Spanned<DeValue<'_>>, said: &mut Incoming) {
        let kind = said.entry.kind;
        let path = format!("{path}.{}", key.get_ref());
        let found = column(kind, key.get_ref()).filter(|column| !matches!(column, Column::From(_)));
        let Some(fact) = found else {
            let keys: Vec<String> = columns(kind).map(|column| column.key(kind)).collect();
            let of_a_specimen = OF_A_SPECIMEN.contains(&key.get_ref().as_ref());
            let says = if of_a_specimen {
                "this is a fact of one specimen; the catalogue keeps what all of its make share".to_owned()
            } else {
                format!("a {} has no such fact", words(kind))
            };
            let nearest = if of_a_specimen { None } else { nearest(key.get_ref(), &keys) };
            return self.report(key.span(), Problem { nearest, ..Problem::at(&path, says) });
        };
        let DeValue::Table(table) = value.get_ref() else { return self.put(&path, fact, value, said) };
        // `length = { value = 110, from = "measured here" }`, the value first.
        let mut pairs = in_order(table);
        pairs.sort_by_key(|(key, _)| key.get_ref() != "value");
        if !table.contains_key("value") {
            self.report(value.span(), Problem::at(&path, "the table has no “value”"));
        }
        for (key, value) in pairs {
            let inside = format!("{path}.{}", key.get_ref());
            match (key.get_ref().as_ref(), fact) {
                ("value", _) => self.put(&inside, fact, value, said),
                ("from", Column::Fact(index)) if column(kind, &format!("{}.from", fact.key(kind))).is_some() => {
                    if said.entry.fact(index).is_some() {
                        self.put(&inside, Column::From(index), value, said);
                    }
                }
                _ => self.report(key.span(), Problem::at(&inside, "“value” and, for a measure, “from” were expected")),
            }
        }
    }

    fn put(&mut self, path: &str, to: Column, value: &Spanned<DeValue<'_>>, said: &mut Incoming) {
        let Some(typed) = typed_text(self.text, value.get_ref(), value.span()) else {
            return self.report(value.span(), Problem::at(path, "a single value was expected here"));
        };
        if typed == NOT_KNOWN {
            said.not_known.push(to);
            return;
        }
        match leaf(said.entry.kind, to, &typed) {
            Ok(leaf) => said.entry.set(to, leaf),
            Err((says, nearest)) => self.report(value.span(), Problem { nearest, ..Problem::at(path, says) }),
        }
    }

    fn report(&mut self, span: Range<usize>, problem: Problem) {
        let place = Some(place_of(self.text, &self.lines, span.start));
        self.problems.push(Problem { file: Some(self.name.to_owned()), place, ..problem });
    }
}

/// The entries of a table as they stand in the file.
fn in_order<'t>(table: &'t DeTable<'t>) -> Vec<Pair<'t>> {
    let mut pairs: Vec<Pair<'t>> = table.iter().collect();
    pairs.sort_by_key(|(key, _)| key.span().start);
    pairs
}

/// Writes parts as TOML, each text as it was typed.
pub fn write_toml<'e>(parts: impl IntoIterator<Item = &'e Entry>) -> String {
    let mut text = format!("form = {FORM}\n");
    for part in parts {
        let _ = write!(text, "\n[{}.{}]\n", part.kind.key, part.id);
        let leaves = part.leaves();
        let mut rest = leaves.iter().peekable();
        while let Some((key, typed)) = rest.next() {
            let origin = rest.next_if(|(next, _)| next.strip_suffix(".from") == Some(key));
            let value = as_toml(typed);
            let _ = match origin {
                Some((_, origin)) => writeln!(text, "{key} = {{ value = {value}, from = {} }}", as_toml(origin)),
                None => writeln!(text, "{key} = {value}"),
            };
        }
        if let Some(stock) = &part.stock {
            let _ = writeln!(text, "{} = {}", Column::Stock.key(part.kind), stock.value);
        }
    }
    text
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

    use super::*;
    use witnessmark_core::catalogue::sample;
    use witnessmark_core::field::Origin;

    fn refused(text: &str) -> Vec<String> {
        read_toml("c.toml", text).unwrap_err().iter().map(ToString::to_string).collect()
    }

    #[test]
    fn parts_of_several_kinds_are_read_with_units_origins_and_stock() {
        let text = "form = 1\n[stem.plain]\nname = \"Plain\"\nlength = { value = \"11 cm\", from = \"measured here\" }\n\
                    angle = \"?\"\nstock = 3\n[cassette.close]\nsprockets = [11, 12, 13]\n";
        let parts = read_toml("c.toml", text).unwrap();
        let stem = &parts[0].incoming;
        assert_eq!((stem.entry.number("length_mm"), stem.entry.stock.as_ref().unwrap().value), (Some(110.0), 3));
        assert_eq!(stem.entry.named("length_mm").unwrap().origin, Some(Origin::Measured));
        assert_eq!(stem.not_known.len(), 1);
        assert_eq!((parts[1].line, parts[1].incoming.entry.id.as_str()), (7, "close"));
    }

    #[test]
    fn every_problem_is_told_at_its_line_and_column() {
        let text = "form = 1\n[stm.plain]\nlength = 1\n[stem.Plain]\nlength = 110\n[stem.other]\nlenght = 110\nangle = \"3 kg\"\nserial = \"1\"\n";
        assert_eq!(
            refused(text),
            [
                "c.toml:2:2: stm: there is no kind of part “stm” — did you mean “stem”?",
                "c.toml:4:7: stem.Plain: the id is at most 40 small letters, figures and hyphens — did you mean “plain”?",
                "c.toml:7:1: stem.other.lenght: a stem has no such fact — did you mean “length”?",
                "c.toml:8:9: stem.other.angle: “3 kg” is a mass; an angle was expected, such as 73.5 or 73.5°",
                "c.toml:9:1: stem.other.serial: this is a fact of one specimen; the catalogue keeps what all of its make share",
            ]
        );
    }

    #[test]
    fn what_is_no_catalogue_is_told() {
        assert!(refused("")[0].contains("holds no part"));
        assert!(refused("[stem\n")[0].contains("not TOML"));
        assert!(refused("form = 2\n[stem.a]\nlength = 110\n")[0].contains("form 1 was expected"));
        assert!(refused("stem = 3\n")[0].contains("a table of parts"));
        assert!(refused("[stem]\nlength = 110\n")[0].contains("a part is a table"));
        assert!(refused("[stem.a.length]\nfrom = \"assumed\"\n")[0].contains("no “value”"));
    }

    #[test]
    fn what_is_written_reads_back_as_the_same_parts() {
        let mut parts = sample::invented(KINDS.len() * 10);
        for part in &mut parts {
            part.version = 0;
            let index = part.kind.fields.iter().position(|field| field.name == "mass_g").unwrap();
            let mut mass = part.fact(index).unwrap().clone();
            mass.origin = Some(Origin::Measured);
            part.put(index, Some(mass));
        }
        let back = read_toml("c.toml", &write_toml(&parts)).unwrap();
        assert_eq!(back.len(), parts.len());
        // A file groups its tables by kind.
        let mut back: Vec<Entry> = back.into_iter().map(|said| said.incoming.entry).collect();
        for list in [&mut back, &mut parts] {
            list.sort_by(|a, b| (a.kind.key, &a.id).cmp(&(b.kind.key, &b.id)));
        }
        assert_eq!(back, parts);
    }
}
