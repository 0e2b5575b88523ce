//! `witnessmark sheet KIND FILE -o OUT.pdf`: a build on paper.

use crate::{FileArg, Outcome, input, print};
use clap::builder::PossibleValuesParser;
use std::path::{Path, PathBuf};
use witnessmark_core::{Build, plan};
use witnessmark_sheets::paper::{Kind, Paper, Photo, Record, Subject, pdf};

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
    ///
    /// A label for a roll is asked for by its size in mm: 62x29, 89x36
    #[arg(long, default_value = Paper::NAMES[0], value_parser = paper, value_name = "a4|letter|WxH")]
    paper: Paper,
    /// The folder with the photos that the document puts on the sheet, each named as it stands there
    #[arg(long, value_name = "FOLDER")]
    photos: Option<PathBuf>,
    /// The address of the build's record as a browser opens it, for the label's code
    #[arg(long, value_name = "ADDRESS")]
    record: Option<String>,
}

/// Writes the sheet.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    // The parser let no other words through.
    let Some(kind) = Kind::from_word(&args.kind) else { return Outcome::Unusable };
    let record = args.record.as_deref().map(|address| Record { address, revision: None });
    let pictures = match args.photos.as_deref().map(|folder| pictures(folder, &build)) {
        None => Vec::new(),
        Some(Ok(pictures)) => pictures,
        Some(Err(why)) => {
            print::complain(&why);
            return Outcome::Unusable;
        }
    };
    let photos: Vec<Photo<'_>> =
        pictures.iter().map(|(name, picture)| Photo { name, picture, shows: "", taken: "" }).collect();
    match pdf(kind, &Subject { build: &build, plan: &plan(&build), record, photos: &photos }, args.paper) {
        Ok(bytes) => write(&args.out, &bytes),
        Err(why) => {
            print::complain(&why.to_string());
            Outcome::Unusable
        }
    }
}

fn paper(text: &str) -> Result<Paper, String> {
    Paper::from_name(text).ok_or_else(|| format!("the paper is {}", Paper::ASKED_AS))
}

/// The photos that the document chooses, out of a folder: `saddle-mark.jpg` for `photos.saddle-mark`. One that is not there
/// is said on the sheet; one that cannot be read stops the work.
fn pictures(folder: &Path, build: &Build) -> Result<Vec<(String, Vec<u8>)>, String> {
    let mut found = Vec::new();
    for name in build.photos.keys() {
        let paths = ["jpg", "jpeg", "png", "webp"].map(|ending| folder.join(format!("{name}.{ending}")));
        let Some(path) = paths.into_iter().find(|path| path.is_file()) else { continue };
        let said = |why: &dyn std::fmt::Display| format!("{}: {why}", path.display());
        let bytes = std::fs::read(&path).map_err(|error| said(&error))?;
        found.push((name.clone(), witnessmark_web::picture_for_paper(&bytes).map_err(|why| said(&why))?));
    }
    Ok(found)
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
