//! `witnessmark chain FILE`: how long the chain is and where the cage stands.

use crate::{FileArg, Outcome, input, print};
use witnessmark_core::plan;

/// Arguments of `chain`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
}

/// Prints the chain.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    print::sheet(&witnessmark_sheets::transmission::chain(&plan(&build)));
    Outcome::Fine
}
