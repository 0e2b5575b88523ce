//! Bringing parts into the catalogue: files are read and held against what is kept, and only then written, all or nothing.
//!
//! Reading is one function for both passes. The first shows what would change and keeps nothing of it; the second writes,
//! with the catalogue's pen in hand, and only if the catalogue stands where it stood when it was shown.

use crate::catalogue::{Catalogue, kept};
use std::collections::HashSet;
use std::io::Cursor;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use tokio::sync::mpsc;
use witnessmark_core::catalogue::{Became, FactChange, merge};
use witnessmark_core::part::PartKind;
use witnessmark_intake::Problem;
use witnessmark_intake::catalogue::{CsvRows, Encoding, Said, kind_of_file, read_toml};
use witnessmark_store::{CatalogueBy, CatalogueEdit, EditError, HANDFUL, Store, StoreError, Works};

/// The most bytes that are taken at once by a page.
pub(crate) const MOST_BYTES: usize = 64 * 1024 * 1024;
/// How many slips are kept to be shown; all are counted.
pub(crate) const SLIPS_KEPT: usize = 1_000;
/// How many parts of each fate are kept to be shown; all are counted.
const PARTS_KEPT: usize = 200;

/// A file as it came.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Upload {
    /// Its name; empty where the text was pasted.
    pub(crate) name: String,
    /// What it is said to hold.
    pub(crate) holds: Holds,
    /// What stands in it.
    pub(crate) bytes: Vec<u8>,
}

/// What a file is said to hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Holds {
    /// Its name tells.
    AsNamed,
    /// A table of parts of the kind with this key.
    Table(&'static str),
    /// TOML.
    Toml,
}

/// How far reading has come.
#[derive(Debug, Default)]
pub(crate) struct Progress {
    /// Bytes read.
    pub(crate) bytes: AtomicU64,
    /// Parts read.
    pub(crate) parts: AtomicU64,
}

/// Something in a file that is not as it must be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Slip {
    /// The file.
    pub(crate) file: String,
    /// The line, from 1; for a table its row.
    pub(crate) line: Option<usize>,
    /// The heading of the column, or the path in a TOML file; the column's number where it has no heading.
    pub(crate) column: String,
    /// What was found and what was expected.
    pub(crate) says: String,
}

/// A part that is told of.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Told {
    /// Its kind.
    pub(crate) kind: &'static PartKind,
    /// Its id.
    pub(crate) id: String,
    /// What the workshop calls it.
    pub(crate) name: String,
    /// What is different in its facts.
    pub(crate) changes: Vec<FactChange>,
    /// How many lay on the shelf, and how many do, where that is said anew.
    pub(crate) stock: Option<(Option<u32>, Option<u32>)>,
}

/// What was read, and what becomes of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Tally {
    /// Parts that are new.
    pub(crate) added: u64,
    /// Parts whose facts change.
    pub(crate) changed: u64,
    /// Parts of which only the number on the shelf changes.
    pub(crate) restocked: u64,
    /// Parts that stay as they are.
    pub(crate) unchanged: u64,
    /// Facts that stay because they are better known than what the files say.
    pub(crate) better_known: u64,
    /// All slips.
    pub(crate) slips: u64,
    /// The first slips.
    pub(crate) first_slips: Vec<Slip>,
    /// The first new parts.
    pub(crate) first_added: Vec<Told>,
    /// The first changed parts.
    pub(crate) first_changed: Vec<Told>,
    /// The first restocked parts.
    pub(crate) first_restocked: Vec<Told>,
    /// What is no slip and worth knowing: in which letters a file was read.
    pub(crate) notes: Vec<String>,
}

impl Tally {
    /// Parts that are to be written.
    pub(crate) fn to_write(&self) -> u64 {
        self.added + self.changed + self.restocked
    }

    fn slip(&mut self, slip: Slip) {
        self.slips += 1;
        if self.first_slips.len() < SLIPS_KEPT {
            self.first_slips.push(slip);
        }
    }

    /// A problem of the way in, as a slip: a table's problem names its heading, a TOML file's its path.
    fn problem(&mut self, file: &str, problem: &Problem) {
        let (line, cell) = problem.place.map_or((None, None), |(line, cell)| (Some(line), Some(cell)));
        let column = match cell {
            _ if !problem.path.is_empty() => problem.path.clone(),
            Some(cell) => cell.to_string(),
            None => String::new(),
        };
        self.slip(Slip { file: file.to_owned(), line, column, says: problem.sentence() });
    }
}

/// Reads the files and holds each part against the catalogue. What is to be written is handed on by the handful, until
/// there is a slip.
pub(crate) fn read(
    uploads: &[Upload],
    catalogue: &Catalogue,
    progress: &Progress,
    mut put: impl FnMut(Vec<CatalogueEdit>),
) -> Tally {
    let mut tally = Tally::default();
    let mut reading =
        Reading { catalogue, seen: HashSet::new(), many: uploads.len() > 1, handful: Vec::with_capacity(HANDFUL) };
    let mut before = 0;
    for upload in uploads {
        let name = if upload.name.is_empty() { "the pasted text" } else { upload.name.as_str() };
        let holds = match upload.holds {
            Holds::AsNamed => named(upload),
            said => Ok(said),
        };
        match holds {
            Err(says) => tally.slip(Slip { file: name.to_owned(), line: None, column: String::new(), says }),
            Ok(Holds::Table(key)) => {
                let Some(kind) = witnessmark_core::part::kind(key) else { continue };
                match CsvRows::new(name, kind, Cursor::new(&upload.bytes)) {
                    Err(problems) => problems.iter().for_each(|problem| tally.problem(name, problem)),
                    Ok(mut rows) => {
                        while let Some(row) = rows.next() {
                            match row {
                                Ok(said) => reading.part(name, &said, &mut tally, &mut put),
                                Err(problems) => problems.iter().for_each(|problem| tally.problem(name, problem)),
                            }
                            progress.bytes.store(before + rows.bytes_read(), Ordering::Relaxed);
                            progress.parts.fetch_add(1, Ordering::Relaxed);
                        }
                        if rows.encoding() != Encoding::Utf8 {
                            tally.notes.push(format!("{name} was read as {}.", rows.encoding().name()));
                        }
                    }
                }
            }
            Ok(_) => match String::from_utf8(upload.bytes.clone()) {
                Err(_) => tally.slip(Slip {
                    file: name.to_owned(),
                    line: None,
                    column: String::new(),
                    says: "this is not a text in UTF-8; parts in TOML were expected".into(),
                }),
                Ok(text) => match read_toml(name, &text) {
                    Err(problems) => problems.iter().for_each(|problem| tally.problem(name, problem)),
                    Ok(parts) => {
                        for said in parts {
                            reading.part(name, &said, &mut tally, &mut put);
                            progress.parts.fetch_add(1, Ordering::Relaxed);
                        }
                    }
                },
            },
        }
        before += upload.bytes.len() as u64;
        progress.bytes.store(before, Ordering::Relaxed);
    }
    if tally.slips == 0 && !reading.handful.is_empty() {
        put(reading.handful);
    }
    tally
}

/// What a file holds by its name; a pasted text is TOML if it looks like it.
fn named(upload: &Upload) -> Result<Holds, String> {
    if upload.name.is_empty() {
        let looks_so = upload.bytes.split(|byte| *byte == b'\n').any(|line| line.trim_ascii_start().starts_with(b"["));
        return if looks_so {
            Ok(Holds::Toml)
        } else {
            Err("a table does not say which kind of part it holds; choose it beside the text".into())
        };
    }
    if upload.name.to_ascii_lowercase().ends_with(".toml") {
        return Ok(Holds::Toml);
    }
    match kind_of_file(&upload.name) {
        Ok(kind) => Ok(Holds::Table(kind.key)),
        Err(problem) => {
            let hint = problem.nearest.map_or_else(String::new, |word| format!(" — did you mean “{word}.csv”?"));
            Err(format!(
                "the file’s name does not say which kind of part it holds, as stem.csv does; rename it, or choose the kind beside the file{hint}"
            ))
        }
    }
}

struct Reading<'a> {
    catalogue: &'a Catalogue,
    /// Parts seen, where there is more than one file.
    seen: HashSet<(&'static str, String)>,
    many: bool,
    handful: Vec<CatalogueEdit>,
}

impl Reading<'_> {
    fn part(&mut self, file: &str, said: &Said, tally: &mut Tally, put: &mut impl FnMut(Vec<CatalogueEdit>)) {
        let entry = &said.incoming.entry;
        if self.many && !self.seen.insert((entry.kind.key, entry.id.clone())) {
            let says = format!("“{}” stands in another of these files already", entry.id);
            let line = usize::try_from(said.line).ok();
            return tally.slip(Slip { file: file.to_owned(), line, column: "id".into(), says });
        }
        let there = self.catalogue.part(entry.kind.key, &entry.id);
        let told = |entry: &witnessmark_core::catalogue::Entry, changes: Vec<FactChange>| {
            let count = |entry: &witnessmark_core::catalogue::Entry| entry.stock.as_ref().map(|given| given.value);
            let (before, after) = (there.and_then(count), count(entry));
            Told {
                kind: entry.kind,
                id: entry.id.clone(),
                name: entry.name().to_owned(),
                changes,
                stock: (before != after).then_some((before, after)),
            }
        };
        let keep = |list: &mut Vec<Told>, one: Told| {
            if list.len() < PARTS_KEPT {
                list.push(one);
            }
        };
        let (entry, new_facts) = match merge(there, &said.incoming) {
            Became::Added(entry) => {
                tally.added += 1;
                keep(&mut tally.first_added, told(&entry, Vec::new()));
                (entry, true)
            }
            Became::Changed { entry, changes, better_known } => {
                tally.changed += 1;
                tally.better_known += better_known as u64;
                keep(&mut tally.first_changed, told(&entry, changes));
                (entry, true)
            }
            Became::Restocked(entry) => {
                tally.restocked += 1;
                keep(&mut tally.first_restocked, told(&entry, Vec::new()));
                (entry, false)
            }
            Became::Unchanged { better_known } => {
                tally.unchanged += 1;
                tally.better_known += better_known as u64;
                return;
            }
        };
        // With a slip in the files nothing is kept in the end.
        if tally.slips > 0 {
            return;
        }
        let before = there.and_then(|there| there.stock.as_ref()).map(|given| given.value);
        let after = entry.stock.as_ref().map(|given| given.value);
        self.handful.push(CatalogueEdit { part: kept(&entry), new_facts, new_stock: before != after });
        if self.handful.len() == HANDFUL {
            put(std::mem::replace(&mut self.handful, Vec::with_capacity(HANDFUL)));
        }
    }
}

/// How writing ended.
#[derive(Debug)]
pub(crate) enum Ended {
    /// It is on the disk.
    Written(Tally),
    /// There are slips; nothing was written.
    Slips(Tally),
    /// The catalogue does not stand any more where it stood; nothing was written.
    Moved,
}

/// Reads the files again and writes them, if the catalogue still stands where it stood. All or nothing.
pub(crate) async fn write(
    store: &Works,
    catalogue: Arc<Catalogue>,
    uploads: Arc<Vec<Upload>>,
    progress: Arc<Progress>,
    by: CatalogueBy,
) -> Result<Ended, EditError> {
    let mut change = store.change_catalogue(by).await?;
    match change.stands_at().await {
        Ok(stands) if stands == catalogue.seq => {}
        Ok(_) => {
            change.give_up().await;
            return Ok(Ended::Moved);
        }
        Err(error) => {
            change.give_up().await;
            return Err(error.into());
        }
    }
    let (send, mut receive) = mpsc::channel::<Vec<CatalogueEdit>>(8);
    let reading = tokio::task::spawn_blocking(move || {
        read(&uploads, &catalogue, &progress, |edits| {
            // Where nobody takes it any more, writing has failed and says so itself.
            let _ = send.blocking_send(edits);
        })
    });
    while let Some(edits) = receive.recv().await {
        if let Err(error) = change.write(&edits).await {
            drop(receive);
            change.give_up().await;
            return Err(error);
        }
    }
    let tally = reading.await.unwrap_or_else(|stopped| std::panic::resume_unwind(stopped.into_panic()));
    if tally.slips > 0 {
        change.give_up().await;
        return Ok(Ended::Slips(tally));
    }
    change.commit().await?;
    Ok(Ended::Written(tally))
}

/// Puts the parts of these files (name and text) into the catalogue, all or nothing; says how many were new or changed.
/// Refuses with every slip of every file.
pub async fn bring_parts(store: &Store, files: &[(&str, &str)], by: CatalogueBy) -> Result<u64, Vec<String>> {
    let one = |error: &dyn std::fmt::Display| vec![error.to_string()];
    let uploads = files.iter().map(|(name, text)| Upload {
        name: (*name).to_owned(),
        holds: Holds::AsNamed,
        bytes: text.as_bytes().to_vec(),
    });
    let uploads = Arc::new(uploads.collect::<Vec<_>>());
    let now = async {
        let seq = store.catalogue_seq().await?;
        Ok::<_, StoreError>(Catalogue::new(seq, &store.catalogue(None).await?))
    };
    let catalogue = Arc::new(now.await.map_err(|error| one(&error))?);
    match write(&Works::new(store.clone()), catalogue, uploads, Arc::default(), by)
        .await
        .map_err(|error| one(&error))?
    {
        Ended::Written(tally) => Ok(tally.to_write()),
        Ended::Slips(tally) => {
            let told = |slip: &Slip| {
                let line = slip.line.map_or_else(String::new, |line| format!(":{line}"));
                format!("{}{line}: {}: {}", slip.file, slip.column, slip.says)
            };
            Err(tally.first_slips.iter().map(told).collect())
        }
        Ended::Moved => Err(vec!["somebody else changed the catalogue at the same moment; nothing was written".into()]),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;

    fn upload(name: &str, text: &str) -> Upload {
        Upload { name: name.into(), holds: Holds::AsNamed, bytes: text.as_bytes().to_vec() }
    }

    fn by(source: &str) -> CatalogueBy {
        CatalogueBy { who: "Ada".into(), at_ms: 0, source: source.into() }
    }

    #[tokio::test]
    async fn parts_come_in_whole_and_a_second_time_nothing_is_written() {
        let store = Store::open_in_memory().await.unwrap();
        let files = [("stem.csv", "id,length (mm),stock\nplain-100,100,2\nplain-110,110,1\n")];
        assert_eq!(bring_parts(&store, &files, by("a")).await, Ok(2));
        assert_eq!(bring_parts(&store, &files, by("a")).await, Ok(0));
        assert_eq!(store.catalogue_seq().await.unwrap(), 1, "and the log says so");
        store.verify().await.unwrap();
    }

    #[tokio::test]
    async fn one_slip_in_any_file_and_nothing_is_written() {
        let store = Store::open_in_memory().await.unwrap();
        let many = (0..500).map(|at| format!("plain-{at},{}", 40 + at % 100)).collect::<Vec<_>>().join("\n");
        let files =
            [("stem.csv", format!("id,length (mm)\n{many}")), ("bar.csv", "id,reach (mm)\nclose-40,far\n".to_owned())];
        let files: Vec<(&str, &str)> = files.iter().map(|(name, text)| (*name, text.as_str())).collect();
        let slips = bring_parts(&store, &files, by("a")).await.unwrap_err();
        assert_eq!(slips.len(), 1, "{slips:?}");
        assert!(slips[0].starts_with("bar.csv:2: reach (mm): "), "{slips:?}");
        assert_eq!(store.catalogue(None).await.unwrap(), []);
        assert_eq!(store.catalogue_seq().await.unwrap(), 0);
    }

    #[test]
    fn a_part_that_stands_in_two_files_is_a_slip() {
        let files = [upload("stem.csv", "id\nplain\n"), upload("stem-more.csv", "id\nplain\n")];
        let tally = read(&files, &Catalogue::default(), &Progress::default(), |_| {});
        assert_eq!(tally.slips, 1);
        assert_eq!(tally.first_slips[0].file, "stem-more.csv");
    }

    #[tokio::test]
    async fn a_catalogue_that_moved_after_it_was_shown_is_not_written_over() {
        let store = Store::open_in_memory().await.unwrap();
        let shown = Arc::new(Catalogue::default());
        bring_parts(&store, &[("stem.csv", "id\nother\n")], by("meanwhile")).await.unwrap();
        let files = Arc::new(vec![upload("stem.csv", "id\nplain\n")]);
        let ended = write(&Works::new(store.clone()), shown, files, Arc::default(), by("a")).await.unwrap();
        assert!(matches!(ended, Ended::Moved), "{ended:?}");
        assert_eq!(store.catalogue(None).await.unwrap().len(), 1);
    }
}
