//! `witnessmark gears FILE`: what each gear does.

use crate::{FileArg, Outcome, input, print};
use witnessmark_core::plan;

/// Arguments of `gears`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Prints the gears.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let plan = plan(&build);
    if args.json {
        print::json(&witnessmark_web::api::mirror_gears(&plan));
    } else {
        print::sheet(&witnessmark_sheets::transmission::gears(&plan));
    }
    Outcome::Fine
}
