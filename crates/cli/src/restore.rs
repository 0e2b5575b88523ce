//! `witnessmark restore`: a copy put back, into a new file or an empty database.

use crate::serve::on_runtime;
use crate::{Outcome, backup, print};
use std::path::PathBuf;
use witnessmark_store::{Copied, restore};

/// Arguments of `restore`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// The copy
    file: PathBuf,
    /// Where the workshop is to be: a new file, or an empty PostgreSQL database
    #[arg(long, value_name = "FILE|URL")]
    to: String,
}

/// Puts it back and says what was looked at.
pub(crate) fn run(args: Args) -> Outcome {
    on_runtime(async move {
        match restore(&args.file, &args.to).await {
            Ok(copied) => {
                print::out(&told(&copied));
                print::out("Everybody signs in anew.\n");
                Outcome::Fine
            }
            Err(error) => {
                print::complain(&error.to_string());
                Outcome::Unusable
            }
        }
    })
}

/// What is in the new place, and how it was seen.
pub(crate) fn told(copied: &Copied) -> String {
    let Copied { contents, format, verified } = copied;
    let brought_up = if contents.format == *format {
        String::new()
    } else {
        format!("Brought up from format {} to {format}.\n", contents.format)
    };
    format!(
        "{}\nThe same in both places, row by row. {brought_up}{} builds, {} revisions and {} changes add up to the {} fields \
         they are to add up to.\n",
        backup::table(contents),
        verified.builds,
        verified.revisions,
        verified.edits,
        verified.fields,
    )
}
