//! `witnessmark parts export`: the catalogue as tables or as TOML.

use super::{Data, KindArg, catalogue, counted};
use crate::{Outcome, print};
use std::fs;
use std::path::{Path, PathBuf};
use witnessmark_core::catalogue::Entry;
use witnessmark_core::part::KINDS;
use witnessmark_intake::catalogue::{write_csv, write_template, write_toml};

/// Arguments of `parts export`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    kind: KindArg,
    #[command(flatten)]
    pub(super) data: Data,
    /// Write TOML, which holds every kind; without a kind that is what is written anyway
    #[arg(long, conflicts_with_all = ["into", "template"])]
    toml: bool,
    /// Write one table a kind into this folder
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Part cells by semicolons, as spreadsheets with a decimal comma want it
    #[arg(long)]
    semicolons: bool,
    /// Write the headings of the kind and no part: a table to be filled in
    #[arg(long, requires = "kind", conflicts_with = "into")]
    template: bool,
}

/// Writes the parts to standard output or into a folder.
pub(crate) async fn run(store: &witnessmark_store::Store, args: &Args) -> Result<Outcome, String> {
    let separator = if args.semicolons { b';' } else { b',' };
    if let (true, Some(kind)) = (args.template, args.kind.kind) {
        print::out(&write_template(kind, separator));
        return Ok(Outcome::Fine);
    }
    let parts = catalogue(store, args.kind.kind).await?;
    if let Some(folder) = &args.into {
        into_folder(folder, &parts, separator)?;
    } else if let (false, Some(kind)) = (args.toml, args.kind.kind) {
        print::out(&write_csv(kind, &parts.iter().collect::<Vec<_>>(), separator));
    } else {
        print::out(&write_toml(&parts));
    }
    Ok(Outcome::Fine)
}

fn into_folder(folder: &Path, parts: &[Entry], separator: u8) -> Result<(), String> {
    fs::create_dir_all(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    for kind in KINDS {
        let of_kind: Vec<&Entry> = parts.iter().filter(|part| part.kind.key == kind.key).collect();
        if of_kind.is_empty() {
            continue;
        }
        let path = folder.join(format!("{}.csv", kind.key));
        fs::write(&path, write_csv(kind, &of_kind, separator))
            .map_err(|error| format!("{}: {error}", path.display()))?;
        print::out(&format!("{}: {}\n", path.display(), counted(of_kind.len() as u64, "part", "parts")));
    }
    Ok(())
}
