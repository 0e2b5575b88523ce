//! `witnessmark sheet KIND FILE -o OUT.pdf`: a build on paper.

use crate::{FileArg, Outcome, input, print};
use clap::builder::PossibleValuesParser;
use std::path::{Path, PathBuf};
use witnessmark_core::plan;
use witnessmark_sheets::paper::{Kind, Paper, Record, Subject, pdf};

/// Arguments of `sheet`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Which sheet
    #[arg(value_parser = PossibleValuesParser::new(Kind::ALL.iter().map(|kind| kind.word())))]
    kind: String,
    #[command(flatten)]
    file: FileArg,
    /// The PDF to write; - writes to standard output
    #[arg(short, long, value_name = "OUT.pdf")]
    out: PathBuf,
    /// The paper it is printed on
    #[arg(long, default_value = Paper::NAMES[0], value_parser = PossibleValuesParser::new(Paper::NAMES))]
    paper: String,
    /// The address of the build's record as a browser opens it, for the label's code
    #[arg(long, value_name = "ADDRESS")]
    record: Option<String>,
}

/// Writes the sheet.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    // The parser let no other words through.
    let (Some(kind), Some(paper)) = (Kind::from_word(&args.kind), Paper::from_name(&args.paper)) else {
        return Outcome::Unusable;
    };
    let record = args.record.as_deref().map(|address| Record { address, revision: None });
    match pdf(kind, &Subject { build: &build, plan: &plan(&build), record }, paper) {
        Ok(bytes) => write(&args.out, &bytes),
        Err(why) => {
            print::complain(&why.to_string());
            Outcome::Unusable
        }
    }
}

/// Writes a file whole, or says why not. `-` is standard output.
pub(crate) fn write(path: &Path, bytes: &[u8]) -> Outcome {
    if path.as_os_str() == "-" {
        print::bytes(bytes);
        return Outcome::Fine;
    }
    match std::fs::write(path, bytes) {
        Ok(()) => Outcome::Fine,
        Err(error) => {
            print::complain(&format!("{}: {error}", path.display()));
            Outcome::Unusable
        }
    }
}
