//! `witnessmark wiring FILE`: the shift wires, their lengths and what is to be bought.

use crate::{FileArg, Outcome, input, print};
use witnessmark_core::plan;

/// Arguments of `wiring`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Prints the wires.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let plan = plan(&build);
    if args.json {
        print::json(&witnessmark_web::api::mirror_wiring(&build, &plan));
    } else {
        print::sheet(&witnessmark_sheets::transmission::wiring(&plan));
    }
    Outcome::Fine
}
