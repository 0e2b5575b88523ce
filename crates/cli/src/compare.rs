//! `witnessmark compare A B …`: bikes side by side, or one bike at two dates.

use crate::{Outcome, input, print};
use std::path::PathBuf;
use witnessmark_core::compare::compare;

/// Arguments of `compare`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// The build documents; each is held against the first
    #[arg(num_args = 2.., required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Print JSON instead of text, with the drawings to lay over each other
    #[arg(long)]
    json: bool,
}

/// Prints the bikes side by side.
pub(crate) fn run(args: &Args) -> Outcome {
    let read: Vec<_> = args.files.iter().map(|file| (file.display().to_string(), input::build(file))).collect();
    let bikes: Option<Vec<_>> =
        read.iter().map(|(name, build)| build.as_ref().map(|build| (name.clone(), build))).collect();
    let Some(bikes) = bikes else { return Outcome::Unusable };
    let comparison = compare(&bikes);
    if args.json {
        print::json(&witnessmark_web::api::mirror_compare(&comparison));
    } else {
        print::sheet(&witnessmark_sheets::compare::compare(&comparison));
    }
    Outcome::Fine
}
