//! `witnessmark carry FILE --to FRAME`: the position of one bike put onto another.

use crate::{FileArg, Outcome, input, print, survey};
use std::path::PathBuf;
use witnessmark_core::carry::carry;

/// Arguments of `carry`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// The build document of the other bike: its frame, parts and shelf
    #[arg(long, value_name = "FRAME")]
    to: PathBuf,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Prints what is kept and what to set.
pub(crate) fn run(args: &Args) -> Outcome {
    // Both are read before anyone is told to come back: two slips are one trip.
    let (from, onto) = (input::build(&args.file.file), input::build(&args.to));
    let (Some(from), Some(onto)) = (from, onto) else { return Outcome::Unusable };
    let carried = carry(&from, &onto);
    if args.json {
        print::json(&witnessmark_web::api::mirror_carry(&carried));
    } else {
        print::sheet(&witnessmark_sheets::carry::carry(&from, &carried));
    }
    survey::ended(&carried.findings)
}
