//! `witnessmark chain FILE`: how long the chain is and where the cage stands.

use crate::{FileArg, Outcome, input, print};
use witnessmark_core::plan;

/// Arguments of `chain`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Prints the chain.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let plan = plan(&build);
    if args.json {
        print::json(&witnessmark_web::api::mirror_chain(&plan));
    } else {
        print::sheet(&witnessmark_sheets::transmission::chain(&plan));
    }
    Outcome::Fine
}
