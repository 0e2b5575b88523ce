//! `witnessmark fasteners FILE`: every bolt with its torque, and what was done.

use crate::{FileArg, Outcome, input, print};
use witnessmark_core::plan;

/// Arguments of `fasteners`.
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
        print::json(&witnessmark_web::api::mirror_fasteners(&plan));
    } else {
        print::sheet(&witnessmark_sheets::finish::fasteners(&plan));
    }
    Outcome::Fine
}
