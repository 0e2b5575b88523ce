//! `witnessmark tyres FILE`: limits and starts of the tyre pressures.

use crate::{FileArg, Outcome, input, print};
use witnessmark_core::plan;

/// Arguments of `tyres`.
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
        print::json(&witnessmark_web::api::mirror_tyres(&plan));
    } else {
        print::sheet(&witnessmark_sheets::finish::tyres(&plan));
    }
    Outcome::Fine
}
