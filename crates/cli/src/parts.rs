//! `witnessmark parts`: the catalogue at the terminal.

mod export;
mod find;
mod import;
mod newer;

use crate::serve::{Data, on_runtime, open};
use crate::{Outcome, print};
use witnessmark_core::catalogue::Entry;
use witnessmark_core::field::Given;
use witnessmark_core::part::{self, KINDS, PartKind};
use witnessmark_store::{CataloguePart, Store};

/// Arguments of `parts`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
}

#[derive(clap::Subcommand)]
enum What {
    /// Read parts from tables (CSV, one kind a file) or TOML: all or nothing
    Import(import::Args),
    /// Write parts as a table or as TOML
    Export(export::Args),
    /// Search parts by name, kind and facts
    Find(find::Args),
    /// Say which parts of a build document the catalogue knows better by now
    Newer(newer::Args),
}

/// A kind of part, if one is named.
#[derive(clap::Args)]
struct KindArg {
    /// The kind of part, such as stem
    #[arg(long, value_name = "KIND", value_parser = kind)]
    kind: Option<&'static PartKind>,
}

/// Runs one of them.
pub(crate) fn run(args: Args) -> Outcome {
    on_runtime(async move {
        let data = match &args.what {
            What::Import(args) => &args.data,
            What::Export(args) => &args.data,
            What::Find(args) => &args.data,
            What::Newer(args) => &args.data,
        };
        let Some(store) = open(&data.place).await else { return Outcome::Unusable };
        let outcome = match args.what {
            What::Import(args) => import::run(&store, &args).await,
            What::Export(args) => export::run(&store, &args).await,
            What::Find(args) => find::run(&store, &args).await,
            What::Newer(args) => newer::run(&store, &args).await,
        };
        store.close().await;
        outcome.unwrap_or_else(|error| {
            print::complain(&error);
            Outcome::Unusable
        })
    })
}

/// The kind that a word names, with or without underscores.
fn kind(word: &str) -> Result<&'static PartKind, String> {
    let keys = || KINDS.iter().map(|kind| kind.key).collect::<Vec<_>>().join(", ");
    part::kind(&word.to_lowercase().replace([' ', '-'], "_")).ok_or_else(|| format!("it is one of: {}", keys()))
}

/// The catalogue, or the parts of one kind, as they are kept. What cannot be read is said and left out.
async fn catalogue(store: &Store, kind: Option<&'static PartKind>) -> Result<Vec<Entry>, String> {
    let parts = store.catalogue(kind.map(|kind| kind.key)).await.map_err(|error| error.to_string())?;
    let mut entries = Vec::with_capacity(parts.len());
    for part in &parts {
        let (entry, problems) = entry(part);
        for problem in problems {
            print::complain(&problem);
        }
        entries.extend(entry);
    }
    Ok(entries)
}

/// A part as it is kept, read; and what of it cannot be read.
fn entry(part: &CataloguePart) -> (Option<Entry>, Vec<String>) {
    let leaves = part.leaves.iter().map(|(key, text)| (key, text));
    let Some((mut entry, problems)) = witnessmark_intake::catalogue::entry(&part.kind, &part.id, leaves) else {
        return (None, vec![format!("{}.{}: this program has no kind of part “{}”", part.kind, part.id, part.kind)]);
    };
    entry.version = u32::try_from(part.version).unwrap_or(u32::MAX);
    entry.stock = part.stock.and_then(|stock| u32::try_from(stock).ok()).map(Given::from);
    (Some(entry), problems.iter().map(ToString::to_string).collect())
}

/// A number in groups of three, as people read large ones.
fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push(' ');
        }
        text.push(digit);
    }
    text
}

/// So many of something: "1 part", "2 000 parts".
fn counted(number: u64, one: &str, many: &str) -> String {
    format!("{} {}", grouped(number), if number == 1 { one } else { many })
}
