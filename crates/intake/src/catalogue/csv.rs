//! A table of one kind of part as CSV, row by row.
//!
//! The first row holds headings; each further row is a part. Cells are parted by commas, semicolons or tabs, whichever the
//! first row has most of, or as a line `sep=;` before it says. An empty cell says nothing about its fact, and `?` says that
//! it is not known.

use super::cell::{guarded, unguarded};
use super::decode::{Bounded, Cells, Count, Counted, Encoding, TOO_LONG, Text};
use super::heading::{Heading, read_heading, with_unit, write_heading};
use super::{NOT_KNOWN, Said, leaf, slug, words};
use crate::Problem;
use crate::problem::nearest;
use csv::{ByteRecord, Reader, ReaderBuilder, WriterBuilder};
use std::borrow::Cow;
use std::collections::HashMap;
use std::io::{self, Cursor, Read};
use std::sync::atomic::Ordering;
use witnessmark_core::catalogue::{Column, Entry, Incoming, columns};
use witnessmark_core::part::{KINDS, LONGEST_NAME, PartKind, is_name, kind};

/// The most bytes a row may have: a hundred times the longest that a part fills.
pub const LONGEST_ROW: u64 = 1024 * 1024;

/// The most columns a table may have: many times as many as any kind has facts.
pub const MOST_COLUMNS: usize = 1_000;

/// The most parts a file may have. The ids are kept to find one that stands twice, and this many take some 100 MB.
pub const MOST_ROWS: u64 = 1_000_000;

type Source<R> = Bounded<io::Chain<Cursor<Vec<u8>>, Text<Counted<R>>>>;

/// The rows of a table.
pub struct CsvRows<R> {
    name: String,
    kind: &'static PartKind,
    reader: Reader<Source<R>>,
    /// Bytes read from the file.
    read: Count,
    /// Bytes read since the last row.
    since_row: Count,
    encoding: Encoding,
    cells: Cells,
    headings: Vec<Heading>,
    /// As they stand in the file, for messages.
    heading_texts: Vec<String>,
    /// Lines that stood before the headings.
    lines_before: u64,
    record: ByteRecord,
    /// The line of each id.
    seen: HashMap<Box<str>, u64>,
    rows: u64,
    ended: bool,
}

/// The kind of part that a file's name says: `stem.csv`, `stem-2027.csv`, `Bottom bracket.csv`.
pub fn kind_of_file(name: &str) -> Result<&'static PartKind, Problem> {
    let stem = name.rsplit(['/', '\\']).next().unwrap_or(name);
    let stem = stem.split('.').next().unwrap_or(stem).to_lowercase().replace([' ', '-'], "_");
    // The longest kind that the name begins with: `bar_cockpit` would be a bar.
    let found = KINDS
        .iter()
        .filter(|kind| stem.strip_prefix(kind.key).is_some_and(|rest| rest.is_empty() || rest.starts_with(['_', 's'])))
        .max_by_key(|kind| kind.key.len());
    found.ok_or_else(|| {
        let keys: Vec<String> = KINDS.iter().map(|kind| kind.key.to_owned()).collect();
        Problem {
            file: Some(name.to_owned()),
            nearest: nearest(&stem, &keys),
            ..Problem::at(
                "",
                "the file's name does not say which kind of part it holds, as stem.csv does; or say it with --kind",
            )
        }
    })
}

impl<R: Read> CsvRows<R> {
    /// Reads the headings; refuses a file without them, with unknown ones, or with one that stands twice.
    pub fn new(name: &str, kind: &'static PartKind, from: R) -> Result<Self, Vec<Problem>> {
        let whole = |says: String| vec![Problem { file: Some(name.to_owned()), ..Problem::at("", says) }];
        let (counted, read) = Counted::new(from);
        let (mut text, encoding) = Text::new(counted).map_err(|error| whole(error.to_string()))?;
        let mut head = first_lines(&mut text).map_err(|error| whole(error.to_string()))?;
        if head.is_empty() {
            return Err(whole(format!("the file is empty; a row of headings was expected, such as {}", example(kind))));
        }
        if head.len() as u64 > LONGEST_ROW && !head.contains(&b'\n') {
            return Err(whole(too_long(1)));
        }
        let said = separator_said(&mut head);
        let separator = said.unwrap_or_else(|| separator_found(&head));
        let (bounded, since_row) = Bounded::new(Cursor::new(head).chain(text), LONGEST_ROW);
        let reader = ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(separator)
            .buffer_capacity(64 * 1024)
            .from_reader(bounded);
        let mut rows = CsvRows {
            name: name.to_owned(),
            kind,
            reader,
            read,
            since_row,
            encoding,
            cells: Cells::default(),
            headings: Vec::new(),
            heading_texts: Vec::new(),
            lines_before: u64::from(said.is_some()),
            record: ByteRecord::new(),
            seen: HashMap::new(),
            rows: 0,
            ended: false,
        };
        rows.read_headings()?;
        Ok(rows)
    }

    /// How many bytes of the file were read so far.
    pub fn bytes_read(&self) -> u64 {
        self.read.load(Ordering::Relaxed)
    }

    /// How the file's letters are written, as far as it was read.
    pub fn encoding(&self) -> Encoding {
        if self.cells.is_windows() { Encoding::Windows1252 } else { self.encoding }
    }

    fn read_headings(&mut self) -> Result<(), Vec<Problem>> {
        let line = self.advance().map_err(|problem| vec![problem])?.unwrap_or(1);
        if self.record.len() > MOST_COLUMNS {
            let says = format!("the first row has {} cells; {MOST_COLUMNS} at most were expected", self.record.len());
            return Err(vec![self.problem(line, None, "", (says, None))]);
        }
        if self.record.iter().any(|cell| cell.contains(&0)) {
            let says =
                "the first row holds NUL characters; a text was expected (UTF-16 without its mark? save it as UTF-8)";
            return Err(vec![self.problem(line, None, "", (says.into(), None))]);
        }
        let mut problems = Vec::new();
        let mut firsts: HashMap<String, usize> = HashMap::new();
        for at in 0..self.record.len() {
            let cell = match self.cells.text(&self.record[at], line) {
                Ok(cell) => cell.into_owned(),
                Err(both) => return Err(vec![self.problem(line, Some(at), "", two_encodings(both))]),
            };
            match read_heading(self.kind, &cell) {
                Ok(heading) => {
                    let first = *firsts.entry(format!("{:?}", without_unit(&heading))).or_insert(at);
                    if first != at && heading != Heading::Blank {
                        let says = format!("“{}” stands in column {} already", cell.trim(), first + 1);
                        problems.push(self.problem(line, Some(at), "", (says, None)));
                    }
                    self.headings.push(heading);
                }
                Err(refused) => problems.push(self.problem(line, Some(at), "", refused)),
            }
            self.heading_texts.push(cell.trim().to_owned());
        }
        if problems.is_empty() && !self.headings.contains(&Heading::Id) {
            let says =
                format!("the first row has no heading “id”; headings were expected, such as {}", example(self.kind));
            problems.push(self.problem(line, None, "", (says, None)));
        }
        if problems.is_empty() { Ok(()) } else { Err(problems) }
    }

    /// Goes on to the next row; says on which line it begins.
    fn advance(&mut self) -> Result<Option<u64>, Problem> {
        self.since_row.store(0, Ordering::Relaxed);
        match self.reader.read_byte_record(&mut self.record) {
            Ok(true) => {
                let line = self.record.position().map_or(0, csv::Position::line);
                Ok(Some(line + self.lines_before))
            }
            Ok(false) => Ok(None),
            Err(error) => {
                self.ended = true;
                let line = self.reader.position().line() + self.lines_before;
                let says = match error.into_kind() {
                    csv::ErrorKind::Io(error) if error.to_string() == TOO_LONG => too_long(line),
                    csv::ErrorKind::Io(error) => error.to_string(),
                    other => format!("the row cannot be read: {other:?}"),
                };
                Err(self.problem(line, None, "", (says, None)))
            }
        }
    }

    fn problem(
        &self,
        line: u64,
        cell: Option<usize>,
        path: &str,
        (says, nearest): (String, Option<String>),
    ) -> Problem {
        let column = cell.map_or(1, |cell| cell + 1);
        let line = usize::try_from(line).unwrap_or(usize::MAX);
        let file = Some(self.name.clone());
        Problem { file, place: Some((line, column)), nearest, ..Problem::at(path, says) }
    }

    /// Ends reading with this problem.
    fn end(&mut self, line: u64, cell: Option<usize>, says: (String, Option<String>)) -> Vec<Problem> {
        self.ended = true;
        vec![self.problem(line, cell, "", says)]
    }

    /// Reads the row that stands in `record`.
    fn row(&mut self, line: u64, cells: &[Cow<'_, str>]) -> Result<Said, Vec<Problem>> {
        let mut problems = Vec::new();
        let kind = self.kind;
        let mut entry = Entry::new(kind, "");
        let mut not_known = Vec::new();
        let mut origins: Vec<(usize, usize)> = Vec::new();
        if cells.len() < self.headings.len()
            || cells[self.headings.len().min(cells.len())..].iter().any(|cell| !cell.is_empty())
        {
            let mut says = format!(
                "the row has {} cells; {} were expected, one below each heading",
                cells.len(),
                self.headings.len()
            );
            if cells.iter().any(|cell| cell.contains('\n')) {
                says.push_str(" (a quote that is not closed?)");
            }
            return Err(vec![self.problem(line, Some(cells.len().min(self.headings.len())), "", (says, None))]);
        }
        for (at, (heading, cell)) in self.headings.iter().zip(cells).enumerate() {
            let mut refuse = |refused| {
                problems.push(self.problem(line, Some(at), &self.heading_texts[at], refused));
            };
            let cell = unguarded(cell.trim());
            match heading {
                Heading::Id => match self.id(cell, line) {
                    Ok(()) => cell.clone_into(&mut entry.id),
                    Err(refused) => refuse(refused),
                },
                Heading::Kind => {
                    let said = cell.to_lowercase().replace([' ', '-'], "_");
                    if said != kind.key {
                        let says = format!("“{cell}” stands here; this table holds one kind of part, {}", words(kind));
                        refuse((says, None));
                    }
                }
                Heading::Blank => {
                    if !cell.is_empty() {
                        refuse((format!("“{cell}” stands below no heading"), None));
                    }
                }
                Heading::Column(..) if cell.is_empty() => {}
                Heading::Column(column, _) if cell == NOT_KNOWN => not_known.push(*column),
                Heading::Column(Column::From(index), _) => origins.push((at, *index)),
                Heading::Column(column, unit) => {
                    let typed = with_unit(cell, unit.as_deref(), column.field(kind).kind);
                    match leaf(kind, *column, typed.as_deref().unwrap_or(cell)) {
                        Ok(leaf) => entry.set(*column, leaf),
                        Err(refused) => refuse(refused),
                    }
                }
            }
        }
        // Origins last: an origin belongs to a fact that is there, wherever its column stands.
        for (at, index) in origins {
            let column = Column::From(index);
            let read = leaf(kind, column, unguarded(cells[at].trim()));
            match (read, entry.fact(index)) {
                (Ok(leaf), Some(_)) => entry.set(column, leaf),
                (Ok(_), None) => {
                    let fact = kind.fields[index].words();
                    let says = (format!("an origin stands here, and no {fact} that comes from there"), None);
                    // A fact that was refused is not there either, and has been told already.
                    if problems.is_empty() {
                        problems.push(self.problem(line, Some(at), &self.heading_texts[at], says));
                    }
                }
                (Err(refused), _) => problems.push(self.problem(line, Some(at), &self.heading_texts[at], refused)),
            }
        }
        if problems.is_empty() {
            self.seen.insert(entry.id.as_str().into(), line);
            Ok(Said { line, incoming: Incoming { entry, not_known } })
        } else {
            Err(problems)
        }
    }

    fn id(&self, cell: &str, line: u64) -> Result<(), (String, Option<String>)> {
        if cell.is_empty() {
            return Err(("the part has no id; small letters, figures and hyphens were expected".into(), None));
        }
        if !is_name(cell) {
            let mut shown: String = cell.chars().filter(|sign| !sign.is_control()).take(LONGEST_NAME).collect();
            if cell.chars().nth(LONGEST_NAME).is_some() {
                shown.push('…');
            }
            let says =
                format!("“{shown}” is no id; at most {LONGEST_NAME} small letters, figures and hyphens were expected");
            return Err((says, slug(cell)));
        }
        match self.seen.get(cell) {
            Some(first) if *first != line => Err((format!("“{cell}” stands on line {first} already"), None)),
            _ => Ok(()),
        }
    }
}

impl<R: Read> Iterator for CsvRows<R> {
    type Item = Result<Said, Vec<Problem>>;

    fn next(&mut self) -> Option<Self::Item> {
        while !self.ended {
            let line = match self.advance() {
                Ok(Some(line)) => line,
                Ok(None) => {
                    self.ended = true;
                    let says = "the file has headings and no part below them".to_owned();
                    return (self.rows == 0).then(|| Err(vec![self.problem(1, None, "", (says, None))]));
                }
                Err(problem) => return Some(Err(vec![problem])),
            };
            if self.record.len() > MOST_COLUMNS {
                let says = format!("the row has {} cells; {MOST_COLUMNS} at most were expected", self.record.len());
                return Some(Err(self.end(line, None, (says, None))));
            }
            let record = std::mem::take(&mut self.record);
            let mut cells = Vec::with_capacity(record.len());
            for (at, cell) in record.iter().enumerate() {
                match self.cells.text(cell, line) {
                    Ok(text) => cells.push(text),
                    Err(both) => return Some(Err(self.end(line, Some(at), two_encodings(both)))),
                }
            }
            // A row of separators alone is what spreadsheets make of an empty one.
            let is_empty = cells.iter().all(|cell| cell.trim().is_empty());
            let said = if is_empty {
                None
            } else {
                self.rows += 1;
                Some(if self.rows > MOST_ROWS {
                    self.ended = true;
                    let says = format!("the file has more than {MOST_ROWS} parts; part it into several");
                    Err(vec![self.problem(line, None, "", (says, None))])
                } else {
                    self.row(line, &cells)
                })
            };
            drop(cells);
            self.record = record;
            if said.is_some() {
                return said;
            }
        }
        None
    }
}

/// Writes parts of one kind as a table: the columns that any of them fills, each text as it was typed.
pub fn write_csv(kind: &'static PartKind, parts: &[&Entry], separator: u8) -> String {
    let mut filled: Vec<Column> = Vec::new();
    for column in columns(kind) {
        let fills = |column| parts.iter().any(|part| typed(part, column).is_some());
        let from = match column {
            Column::Fact(index) => Some(Column::From(index)),
            _ => None,
        };
        filled.extend([Some(column), from].into_iter().flatten().filter(|column| fills(*column)));
    }
    let mut writer = WriterBuilder::new().delimiter(separator).from_writer(Vec::new());
    let mut row: Vec<String> = vec!["id".to_owned()];
    row.extend(filled.iter().map(|column| write_heading(kind, *column)));
    // Writing into memory does not fail.
    let _ = writer.write_record(&row);
    for part in parts {
        row.clear();
        row.push(part.id.clone());
        row.extend(
            filled
                .iter()
                .map(|column| typed(part, *column).map_or_else(String::new, |text| guarded(&text).into_owned())),
        );
        let _ = writer.write_record(&row);
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// Writes every heading of a kind and no part: a table to be filled in.
pub fn write_template(kind: &'static PartKind, separator: u8) -> String {
    let mut writer = WriterBuilder::new().delimiter(separator).from_writer(Vec::new());
    let headings = columns(kind).map(|column| write_heading(kind, column));
    let _ = writer.write_record(std::iter::once("id".to_owned()).chain(headings));
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

fn typed(part: &Entry, column: Column) -> Option<Cow<'_, str>> {
    use witnessmark_core::field::Choice;
    match column {
        Column::Stock => part.stock.as_ref().map(|given| given.value.to_string().into()),
        Column::Fact(index) => part.fact(index).map(|leaf| leaf.typed.as_str().into()),
        Column::From(index) => part.fact(index)?.origin.map(|origin| origin.name().into()),
    }
}

/// Bytes up to the end of the headings, and some more; or as many as a row may have.
fn first_lines(text: &mut impl Read) -> io::Result<Vec<u8>> {
    let mut head = Vec::new();
    let mut piece = [0_u8; 4096];
    // Ends at the end of the file, at the line's end, or when the row is too long.
    loop {
        let read = text.read(&mut piece)?;
        head.extend_from_slice(&piece[..read]);
        // A line that speaks of the separator stands before the headings, and is short.
        let start = head.strip_prefix(b"\"").unwrap_or(&head);
        let speaks = start.get(..4).is_some_and(|start| start.eq_ignore_ascii_case(b"sep="));
        let wanted = if speaks { 2 } else { 1 };
        let lines = head.split(|byte| *byte == b'\n').count() - 1;
        if read == 0 || lines >= wanted || head.len() as u64 > LONGEST_ROW {
            return Ok(head);
        }
    }
}

/// What a first line `sep=;` says; the line is taken away.
fn separator_said(head: &mut Vec<u8>) -> Option<u8> {
    let end = head.iter().position(|byte| *byte == b'\n')?;
    let line = std::str::from_utf8(&head[..end]).ok()?.trim_end_matches('\r').trim_matches('"');
    let separator = match line.to_ascii_lowercase().strip_prefix("sep=")?.as_bytes() {
        [separator @ (b',' | b';' | b'\t')] => *separator,
        _ => return None,
    };
    head.drain(..=end);
    Some(separator)
}

/// The separator that the first row has most of, outside quotes.
fn separator_found(head: &[u8]) -> u8 {
    let mut counts = [(b',', 0_usize), (b';', 0), (b'\t', 0)];
    let mut quoted = false;
    for byte in head {
        match byte {
            b'"' => quoted = !quoted,
            b'\n' if !quoted => break,
            _ if !quoted => {
                if let Some((_, count)) = counts.iter_mut().find(|(separator, _)| separator == byte) {
                    *count += 1;
                }
            }
            _ => {}
        }
    }
    // Of equals the first: a table of one column has none of them.
    counts.iter().rev().max_by_key(|(_, count)| *count).map_or(b',', |(separator, _)| *separator)
}

fn without_unit(heading: &Heading) -> Heading {
    match heading {
        Heading::Column(column, _) => Heading::Column(*column, None),
        other => other.clone(),
    }
}

fn too_long(line: u64) -> String {
    format!(
        "the row that begins about line {line} is longer than {} MB (a quote that is not closed, or no table at all?)",
        LONGEST_ROW / (1024 * 1024)
    )
}

fn two_encodings((utf8, windows): (u64, u64)) -> (String, Option<String>) {
    let says = format!("line {utf8} is written in UTF-8 and line {windows} is not; save the whole file as UTF-8");
    (says, None)
}

/// The first headings of a kind, for a message.
fn example(table_of: &'static PartKind) -> String {
    let first: Vec<String> = columns(table_of).take(3).map(|column| write_heading(table_of, column)).collect();
    debug_assert!(kind(table_of.key).is_some());
    format!("id,{}", first.join(","))
}

#[cfg(test)]
#[path = "csv_tests.rs"]
mod tests;
