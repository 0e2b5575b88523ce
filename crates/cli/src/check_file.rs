//! `witnessmark check-file FILE`: whether a document can be read, and every slip in it.

use crate::{FileArg, Outcome, input, print};

/// Arguments of `check-file`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
}

/// Reads the document and says how much is filled in.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let fields = build.leaves().len();
    let parts = build.parts.each().len();
    print::out(&format!(
        "{}: a build document of form {}. Fields filled in: {fields}; parts: {parts}; numbers asked: {}, read: {}\n",
        args.file.file.display(),
        witnessmark_core::build::FORM,
        build.asked.len(),
        build.measured.len()
    ));
    Outcome::Fine
}
