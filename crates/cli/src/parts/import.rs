//! `witnessmark parts import FILE…`: tables into the catalogue, all or nothing.
//!
//! First the files are read and held against the catalogue without writing anything, and what would change is shown. Only
//! when that is wanted they are read again and written, in one change; if something else comes out than was shown (the
//! file or the catalogue changed meanwhile), nothing is written. With `--yes` it is one pass.

use super::{Data, KindArg, counted, entry, grouped};
use crate::clock::now_ms;
use crate::{Outcome, print};
use std::collections::HashSet;
use std::collections::hash_map::DefaultHasher;
use std::fmt::Write as _;
use std::fs::File;
use std::hash::{Hash, Hasher};
use std::io::{BufRead, IsTerminal, Read, Write, stderr, stdin};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use witnessmark_core::catalogue::{Became, Entry, FactChange, merge};
use witnessmark_core::field::Leaf;
use witnessmark_core::part::PartKind;
use witnessmark_intake::Problem;
use witnessmark_intake::catalogue::{CsvRows, Encoding, LARGEST_TOML, Said, kind_of_file, read_toml};
use witnessmark_store::{CatalogueBy, CatalogueChange, CatalogueEdit, CataloguePart, HANDFUL, Store};

/// How many problems are printed; all are counted.
const PROBLEMS_SHOWN: usize = 40;

/// How many changed parts are printed; all are counted.
const CHANGES_SHOWN: usize = 20;

/// Arguments of `parts import`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Tables named for their kind, such as stem.csv, or TOML; - reads a table from standard input
    #[arg(required = true)]
    files: Vec<PathBuf>,
    #[command(flatten)]
    kind: KindArg,
    #[command(flatten)]
    pub(super) data: Data,
    /// Show what would change, and leave it
    #[arg(long, conflicts_with = "yes")]
    dry_run: bool,
    /// Do it without asking
    #[arg(long)]
    yes: bool,
    /// Who brings the parts
    #[arg(long, value_name = "NAME", default_value = "at the terminal")]
    by: String,
}

/// Imports, or shows what an import would do.
pub(crate) async fn run(store: &Store, args: &Args) -> Result<Outcome, String> {
    if args.yes {
        return written(store, args, None).await;
    }
    let mut shown = Tally::default();
    read_all(args, &mut shown, &mut Against::Kept(store)).await?;
    if !said_problems(&shown) {
        return Ok(Outcome::Unusable);
    }
    preview(&shown);
    if shown.to_write() == 0 || args.dry_run {
        print::out("Nothing was written.\n");
        return Ok(Outcome::Fine);
    }
    if args.files.iter().any(|file| is_standard_input(file)) {
        return Err(
            "Nothing was written: what came through standard input is gone. Say --yes to write it at once.".into()
        );
    }
    if !stdin().is_terminal() {
        return Err(
            "Nothing was written: nobody is there to be asked. Say --yes to write it, or --dry-run to look.".into()
        );
    }
    if !wanted() {
        print::out("Nothing was written.\n");
        return Ok(Outcome::Fine);
    }
    written(store, args, Some(shown.digest.finish())).await
}

/// Reads and writes in one change; refuses when something else comes out than was shown.
async fn written(store: &Store, args: &Args, shown: Option<u64>) -> Result<Outcome, String> {
    let source = args.files.iter().map(|file| file.display().to_string()).collect::<Vec<_>>().join(", ");
    let by = CatalogueBy { who: args.by.clone(), at_ms: now_ms(), source };
    let change = store.change_catalogue(by).await.map_err(|error| error.to_string())?;
    let mut tally = Tally::default();
    let mut against = Against::Change(change);
    let read = read_all(args, &mut tally, &mut against).await;
    let Against::Change(change) = against else { return Err("the change was lost on the way".into()) };
    if let Err(error) = read {
        change.give_up().await;
        return Err(error);
    }
    if !said_problems(&tally) {
        change.give_up().await;
        return Ok(Outcome::Unusable);
    }
    if shown.is_some_and(|shown| shown != tally.digest.finish()) {
        change.give_up().await;
        return Err("Nothing was written: the file or the catalogue changed after it was shown. Try again.".into());
    }
    change.commit().await.map_err(|error| error.to_string())?;
    if shown.is_none() {
        preview(&tally);
    }
    print::out(if tally.to_write() == 0 { "Nothing was to be written.\n" } else { "Written.\n" });
    Ok(Outcome::Fine)
}

/// What the parts are held against.
enum Against<'s> {
    /// What is kept, without a change.
    Kept(&'s Store),
    /// A change under way, which is written.
    Change(CatalogueChange),
}

/// What was read, and what became of it.
#[derive(Default)]
struct Tally {
    added: u64,
    changed: u64,
    restocked: u64,
    unchanged: u64,
    better_known: u64,
    problems: u64,
    first_problems: Vec<String>,
    first_changes: Vec<String>,
    /// Notes that are no problem: an encoding that was guessed, a kept fact that cannot be read.
    notes: Vec<String>,
    /// Of all that is to be written, to see that a second reading comes to the same.
    digest: DefaultHasher,
    /// Parts seen, where there is more than one file.
    seen: HashSet<(&'static str, String)>,
}

impl Tally {
    fn to_write(&self) -> u64 {
        self.added + self.changed + self.restocked
    }

    fn parts(&self) -> u64 {
        self.to_write() + self.unchanged
    }

    fn slips(&mut self, problems: &[Problem]) {
        for problem in problems {
            self.slip(problem);
        }
    }

    fn slip(&mut self, problem: &Problem) {
        self.problems += 1;
        if self.first_problems.len() < PROBLEMS_SHOWN {
            self.first_problems.push(problem.to_string());
        }
    }
}

async fn read_all(args: &Args, tally: &mut Tally, against: &mut Against<'_>) -> Result<(), String> {
    for file in &args.files {
        let name = if is_standard_input(file) { "standard input".to_owned() } else { file.display().to_string() };
        let (from, size): (Box<dyn Read + Send>, Option<u64>) = if is_standard_input(file) {
            (Box::new(stdin()), None)
        } else {
            let opened = File::open(file).map_err(|error| format!("{name}: {error}"))?;
            let size = opened.metadata().ok().map(|about| about.len());
            (Box::new(opened), size)
        };
        let is_toml = file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"));
        if is_toml {
            read_as_toml(&name, from, args, tally, against).await?;
        } else {
            let kind = match args.kind.kind {
                Some(kind) => kind,
                None => match kind_of_file(&name) {
                    Ok(kind) => kind,
                    Err(problem) => {
                        tally.slip(&problem);
                        continue;
                    }
                },
            };
            read_as_table(&Table { name: &name, kind, size }, from, args, tally, against).await?;
        }
    }
    Ok(())
}

struct Table<'a> {
    name: &'a str,
    kind: &'static PartKind,
    size: Option<u64>,
}

async fn read_as_table(
    table: &Table<'_>,
    from: impl Read + Send,
    args: &Args,
    tally: &mut Tally,
    against: &mut Against<'_>,
) -> Result<(), String> {
    let mut rows = match CsvRows::new(table.name, table.kind, from) {
        Ok(rows) => rows,
        Err(problems) => {
            tally.slips(&problems);
            return Ok(());
        }
    };
    let mut progress = Progress::new(table.name, table.size);
    let mut handful = Vec::with_capacity(HANDFUL);
    let mut count = 0;
    while let Some(row) = rows.next() {
        match row {
            Ok(said) => handful.push(said),
            Err(problems) => problems.iter().for_each(|problem| tally.slip(problem)),
        }
        count += 1;
        if handful.len() == HANDFUL {
            held_against(table.name, &mut handful, args, tally, against).await?;
            progress.at(rows.bytes_read(), count);
        }
    }
    held_against(table.name, &mut handful, args, tally, against).await?;
    progress.end();
    if rows.encoding() != Encoding::Utf8 {
        tally.notes.push(format!("{}: read as {}", table.name, rows.encoding().name()));
    }
    Ok(())
}

async fn read_as_toml(
    name: &str,
    from: impl Read + Send,
    args: &Args,
    tally: &mut Tally,
    against: &mut Against<'_>,
) -> Result<(), String> {
    let mut bytes = Vec::new();
    from.take(LARGEST_TOML + 1).read_to_end(&mut bytes).map_err(|error| format!("{name}: {error}"))?;
    let Ok(text) = String::from_utf8(bytes) else {
        return Err(format!("{name}: this is not a text in UTF-8; parts in TOML were expected"));
    };
    let parts = match read_toml(name, &text) {
        Ok(parts) => parts,
        Err(problems) => {
            tally.slips(&problems);
            return Ok(());
        }
    };
    let mut parts = parts.into_iter().peekable();
    let mut handful: Vec<Said> = Vec::with_capacity(HANDFUL);
    // A handful is of one kind, so that it is asked for at once.
    while let Some(said) = parts.next() {
        let goes_on = parts.peek().is_some_and(|next| next.incoming.entry.kind.key == said.incoming.entry.kind.key);
        handful.push(said);
        if !goes_on || handful.len() == HANDFUL {
            held_against(name, &mut handful, args, tally, against).await?;
        }
    }
    Ok(())
}

/// Holds a handful of parts of one kind against what is kept, and writes what is new if this is a change.
async fn held_against(
    name: &str,
    handful: &mut Vec<Said>,
    args: &Args,
    tally: &mut Tally,
    against: &mut Against<'_>,
) -> Result<(), String> {
    let Some(kind) = handful.first().map(|said| said.incoming.entry.kind) else { return Ok(()) };
    if args.files.len() > 1 {
        handful.retain(|said| {
            let is_new = tally.seen.insert((kind.key, said.incoming.entry.id.clone()));
            if !is_new {
                let says =
                    format!("“{}” stands in another of these files, or in this one, already", said.incoming.entry.id);
                let line = usize::try_from(said.line).unwrap_or(usize::MAX);
                let path = "id".to_owned();
                tally.slip(&Problem { file: Some(name.to_owned()), place: Some((line, 1)), path, says, nearest: None });
            }
            is_new
        });
    }
    let ids: Vec<&str> = handful.iter().map(|said| said.incoming.entry.id.as_str()).collect();
    let kept = match against {
        Against::Kept(store) => store.catalogue_named(kind.key, &ids).await,
        Against::Change(change) => change.named(kind.key, &ids).await,
    };
    let kept = kept.map_err(|error| error.to_string())?;
    let kept: std::collections::HashMap<&str, &CataloguePart> =
        kept.iter().map(|part| (part.id.as_str(), part)).collect();
    let mut edits = Vec::new();
    for said in handful.iter() {
        edits.extend(became(said, kept.get(said.incoming.entry.id.as_str()).copied(), tally));
    }
    handful.clear();
    // With a slip in the files nothing is kept in the end; writing on would only take time.
    if let Against::Change(change) = against
        && tally.problems == 0
    {
        change.write(&edits).await.map_err(|error| error.to_string())?;
    }
    Ok(())
}

/// What becomes of a part; `None` where nothing is to be written.
fn became(said: &Said, kept: Option<&CataloguePart>, tally: &mut Tally) -> Option<CatalogueEdit> {
    let new = &said.incoming.entry;
    let leaves = new.leaves();
    let stock_said = new.stock.as_ref().map(|given| i64::from(given.value));
    // The same to the letter is the same; most rows of a file that comes again are.
    if let Some(kept) = kept
        && said.incoming.not_known.is_empty()
        && kept.leaves == leaves
        && (stock_said.is_none() || stock_said == kept.stock)
    {
        tally.unchanged += 1;
        return None;
    }
    let kept = kept.and_then(|part| {
        let (entry, problems) = entry(part);
        tally.notes.extend(problems.into_iter().map(|problem| format!("kept, and not read: {problem}")));
        entry
    });
    let (entry, new_facts) = match merge(kept.as_ref(), &said.incoming) {
        Became::Added(entry) => {
            tally.added += 1;
            (entry, true)
        }
        Became::Changed { entry, changes, better_known } => {
            tally.changed += 1;
            tally.better_known += better_known as u64;
            if tally.first_changes.len() < CHANGES_SHOWN {
                tally.first_changes.push(told(&entry, &changes));
            }
            (entry, true)
        }
        Became::Restocked(entry) => {
            tally.restocked += 1;
            (entry, false)
        }
        Became::Unchanged { better_known } => {
            tally.unchanged += 1;
            tally.better_known += better_known as u64;
            return None;
        }
    };
    let was = kept.and_then(|kept| kept.stock).map(|given| i64::from(given.value));
    let stock = entry.stock.as_ref().map(|given| i64::from(given.value));
    let part = CataloguePart {
        kind: entry.kind.key.to_owned(),
        id: entry.id.clone(),
        version: i64::from(entry.version),
        stock,
        leaves: entry.leaves(),
    };
    (&part.kind, &part.id, part.version, part.stock, &part.leaves).hash(&mut tally.digest);
    Some(CatalogueEdit { part, new_facts, new_stock: stock != was })
}

/// `stem plain-110: length 110 → 120; price — → 90`.
pub(super) fn told(entry: &Entry, changes: &[FactChange]) -> String {
    let text = |leaf: &Option<Leaf>| leaf.as_ref().map_or_else(|| "—".to_owned(), |leaf| leaf.typed.clone());
    let changes: Vec<String> = changes
        .iter()
        .map(|change| {
            let field = entry.kind.fields[change.index].words();
            let (before, after) = (text(&change.before), text(&change.after));
            if before == after {
                format!("{field} {after}, from elsewhere")
            } else {
                format!("{field} {before} → {after}")
            }
        })
        .collect();
    format!("{} {}: {}", entry.kind.key.replace('_', " "), entry.id, changes.join("; "))
}

/// Says what is wrong; true where nothing is.
fn said_problems(tally: &Tally) -> bool {
    if tally.problems == 0 {
        return true;
    }
    for problem in &tally.first_problems {
        print::complain(problem);
    }
    let more = tally.problems - tally.first_problems.len() as u64;
    let and_more = if more > 0 { format!(" ({} more than are printed)", grouped(more)) } else { String::new() };
    print::complain(&format!(
        "{}{and_more}. Nothing was written.",
        counted(tally.problems, "slip was found", "slips were found")
    ));
    false
}

/// Says what changes.
fn preview(tally: &Tally) {
    let mut text = String::new();
    for note in &tally.notes {
        let _ = writeln!(text, "{note}");
    }
    let _ = writeln!(text, "{}:", counted(tally.parts(), "part", "parts"));
    let better = tally.better_known;
    for (count, says) in [
        (tally.added, "new"),
        (tally.changed, "changed: a new version of each"),
        (tally.restocked, "with another number on the shelf"),
        (tally.unchanged, "as they are"),
    ] {
        if count > 0 {
            let _ = writeln!(text, "{:>10}  {says}", grouped(count));
        }
    }
    for change in &tally.first_changes {
        let _ = writeln!(text, "            {change}");
    }
    let more = tally.changed - tally.first_changes.len() as u64;
    if more > 0 {
        let _ = writeln!(text, "            and {} more", grouped(more));
    }
    if better > 0 {
        let _ = writeln!(
            text,
            "{:>10}  facts stay as they are: they are better known than what the files say",
            grouped(better)
        );
    }
    print::out(&text);
}

/// Asks.
fn wanted() -> bool {
    print::out("Write this? [y/N] ");
    let _ = std::io::stdout().flush();
    let mut answer = String::new();
    let read = stdin().lock().read_line(&mut answer);
    read.is_ok() && matches!(answer.trim().to_lowercase().as_str(), "y" | "yes")
}

fn is_standard_input(file: &Path) -> bool {
    file.as_os_str() == "-"
}

/// How far a file was read, on a terminal and nowhere else.
struct Progress<'a> {
    name: &'a str,
    size: Option<u64>,
    shown: Option<Instant>,
    is_terminal: bool,
}

impl<'a> Progress<'a> {
    fn new(name: &'a str, size: Option<u64>) -> Self {
        Progress { name, size, shown: None, is_terminal: stderr().is_terminal() }
    }

    fn at(&mut self, bytes: u64, rows: u64) {
        const EVERY: Duration = Duration::from_millis(100);
        if !self.is_terminal || self.shown.is_some_and(|shown| shown.elapsed() < EVERY) {
            return;
        }
        self.shown = Some(Instant::now());
        let share = match self.size {
            Some(size) if size > 0 => format!("{:>3} %  ", (bytes.min(size) * 100) / size),
            _ => String::new(),
        };
        let _ = write!(stderr(), "\r{}: {share}{} rows\u{1b}[K", self.name, grouped(rows));
    }

    fn end(&self) {
        if self.shown.is_some() {
            let _ = write!(stderr(), "\r\u{1b}[K");
        }
    }
}
