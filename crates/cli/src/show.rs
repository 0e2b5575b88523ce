//! `witnessmark show FILE -o OUT.html`: the page of a finished bike, for its rider or the workshop's own site.

use crate::{FileArg, Outcome, input, print, sheet};
use std::path::PathBuf;
use witnessmark_core::plan;
use witnessmark_sheets::show::page;

/// Arguments of `show`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// The page to write; - writes to standard output
    #[arg(short, long, value_name = "OUT.html")]
    out: PathBuf,
}

/// Writes the page.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    match page(&build, &plan(&build)) {
        Ok(page) => sheet::write(&args.out, page.as_bytes()),
        Err(why) => {
            print::complain(&format!("{why}."));
            Outcome::Unusable
        }
    }
}
