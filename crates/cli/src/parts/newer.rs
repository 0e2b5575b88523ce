//! `witnessmark parts newer FILE`: what the catalogue knows by now of the parts a build was made with.

use super::import::told;
use super::{Data, catalogue};
use crate::{FileArg, Outcome, input, print};
use std::collections::HashMap;
use std::fmt::Write as _;
use witnessmark_core::catalogue::{Entry, newer};

/// Arguments of `parts newer`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    #[command(flatten)]
    pub(super) data: Data,
}

/// Prints the parts that have a newer version, with what is different.
pub(crate) async fn run(store: &witnessmark_store::Store, args: &Args) -> Result<Outcome, String> {
    let Some(build) = input::build(&args.file.file) else { return Ok(Outcome::Unusable) };
    let parts = catalogue(store, None).await?;
    let by_id: HashMap<(&str, &str), &Entry> =
        parts.iter().map(|part| ((part.kind.key, part.id.as_str()), part)).collect();
    let all = newer(&build.parts, |kind, id| by_id.get(&(kind, id)).copied());
    let mut text = String::new();
    for newer in &all {
        let Some(entry) = by_id.get(&(newer.kind.key, newer.id.as_str())) else { continue };
        let place = if newer.place.is_empty() { String::new() } else { format!(" ({})", newer.place) };
        let says = if newer.changes.is_empty() {
            "nothing that this bike does not know better".to_owned()
        } else {
            told(entry, &newer.changes)
        };
        let _ = writeln!(
            text,
            "{}{place}: built with version {}, now {}\n    {says}",
            newer.kind.key, newer.has, newer.latest
        );
    }
    if all.is_empty() {
        text.push_str("The catalogue knows nothing newer of the parts of this build.\n");
    }
    print::out(&text);
    Ok(Outcome::Fine)
}
