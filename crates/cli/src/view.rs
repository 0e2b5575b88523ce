//! A build document looked at from one side: its sheet, or the same as JSON.

use crate::{FileArg, Outcome, input, print};
use serde::Serialize;
use witnessmark_core::{Build, Plan, plan};
use witnessmark_sheets::text::Sheet;

/// Arguments of a view.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    pub(crate) file: FileArg,
    /// Print JSON instead of text
    #[arg(long)]
    pub(crate) json: bool,
}

/// Prints one of the two.
pub(crate) fn run<J: Serialize>(
    args: &Args,
    json: impl FnOnce(&Build, &Plan) -> J,
    sheet: impl FnOnce(&Build, &Plan) -> Sheet,
) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let plan = plan(&build);
    if args.json {
        print::json(&json(&build, &plan));
    } else {
        print::sheet(&sheet(&build, &plan));
    }
    Outcome::Fine
}
