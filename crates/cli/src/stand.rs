//! `witnessmark stand FILE`: the work of this bike, step by step.

use crate::{FileArg, Outcome, input, print};
use witnessmark_core::{plan, stand};

/// Arguments of `stand`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Prints the steps.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let plan = plan(&build);
    let work = stand::stand(&build, &plan);
    if args.json {
        print::json(&witnessmark_web::api::mirror_stand(&work));
    } else {
        print::sheet(&witnessmark_sheets::stand::stand(&plan, &work));
    }
    Outcome::Fine
}
