//! `witnessmark export FILE --csv DIR | --xlsx OUT`: numbers, parts, bolts and findings for other programs.

use crate::{FileArg, Outcome, input, print, sheet};
use std::path::PathBuf;
use witnessmark_core::plan;
use witnessmark_sheets::export::{csv, xlsx};

/// Arguments of `export`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    #[command(flatten)]
    to: To,
}

/// Where to, and so in which form.
#[derive(clap::Args)]
#[group(required = true, multiple = true)]
struct To {
    /// A folder for the tables as CSV, one file a table
    #[arg(long, value_name = "DIR")]
    csv: Option<PathBuf>,
    /// A workbook with the tables as its pages; - writes to standard output
    #[arg(long, value_name = "OUT.xlsx")]
    xlsx: Option<PathBuf>,
}

/// Writes the files.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let plan = plan(&build);
    if let Some(folder) = &args.to.csv {
        if let Err(error) = std::fs::create_dir_all(folder) {
            return unusable(&format!("{}: {error}", folder.display()));
        }
        let files = match csv(&build, &plan) {
            Ok(files) => files,
            Err(error) => return unusable(&error.to_string()),
        };
        for file in files {
            if let Outcome::Unusable = sheet::write(&folder.join(&file.name), &file.bytes) {
                return Outcome::Unusable;
            }
        }
    }
    match &args.to.xlsx {
        None => Outcome::Fine,
        Some(path) => match xlsx(&build, &plan) {
            Ok(bytes) => sheet::write(path, &bytes),
            Err(error) => unusable(&error.to_string()),
        },
    }
}

fn unusable(says: &str) -> Outcome {
    print::complain(says);
    Outcome::Unusable
}
