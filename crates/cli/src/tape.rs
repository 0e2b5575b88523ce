//! `witnessmark tape FILE`: the bar tape of both sides.

use crate::{FileArg, Outcome, input, print};
use witnessmark_core::plan;

/// Arguments of `tape`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Prints the sheet.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let plan = plan(&build);
    if args.json {
        print::json(&witnessmark_web::api::mirror_tape(&plan));
    } else {
        print::sheet(&witnessmark_sheets::finish::tape(&plan));
    }
    Outcome::Fine
}
