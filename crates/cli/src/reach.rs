//! `witnessmark reach FILE`: the search backwards.

use crate::{FileArg, Outcome, input, print};
use witnessmark_core::search::reach;

/// Arguments of `reach`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// Print JSON instead of text, with every way that was kept
    #[arg(long)]
    json: bool,
}

/// Prints what reaches the asked position.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let reach = reach(&build);
    if args.json {
        print::json(&witnessmark_web::api::mirror_reach(&reach));
    } else {
        print::sheet(&witnessmark_sheets::text::reach(&build, &reach));
    }
    Outcome::Fine
}
