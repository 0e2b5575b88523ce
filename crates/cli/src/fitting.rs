//! `witnessmark fitting FILE PLACE`: what would fit at a place of the bike.

use crate::{FileArg, Outcome, input, offer, print};
use serde::Serialize;
use std::path::PathBuf;
use witnessmark_core::part::{Places, kind};
use witnessmark_core::search::complete::shelf;
use witnessmark_core::search::fitting::{Candidates, Fitting, Spot, Verdict, fitting};

/// Arguments of `fitting`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// The place, such as stem, tyre.front or lever.left
    place: String,
    /// Parts to judge beside those on the document's shelf: a TOML or CSV file, or a folder of them
    #[arg(long, value_name = "PATH")]
    catalogue: Option<PathBuf>,
    /// Print JSON instead of text, with every candidate
    #[arg(long)]
    json: bool,
}

/// A candidate and what the checks say of it.
#[derive(Debug, PartialEq, Eq, Serialize)]
struct Row<'a> {
    id: &'a str,
    name: &'a str,
    /// `fits`, `fits, with a caution`, `not known` or `does not fit`.
    verdict: &'static str,
    check: Option<&'static str>,
    what: Option<&'a str>,
    why: Option<&'a str>,
}

/// Prints what would fit.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(spot) = Spot::from_path(&args.place) else {
        print::complain(&format!("“{}” is no place on the bike; {} was expected", args.place, expected(&args.place)));
        return Outcome::Unusable;
    };
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let mut parts = shelf(&build);
    if let Some(path) = &args.catalogue {
        let Some(mut more) = offer::parts(path) else { return Outcome::Unusable };
        parts.append(&mut more);
    }
    let candidates = Candidates::new(spot.kind, parts);
    if candidates.parts().is_empty() {
        let places = if spot.kind.places == Places::One { "" } else { ", at any of its places" };
        print::complain(&format!(
            "no {} is on offer{places}: put some on the document's shelf, or name a --catalogue",
            spot.kind.key.replace('_', " ")
        ));
        return Outcome::Unusable;
    }
    let found = fitting(&build, &spot.place, &candidates);
    if args.json {
        print::json(&rows(&candidates, &found));
    } else {
        print::sheet(&witnessmark_sheets::choice::fitting(&spot, &candidates, &found));
    }
    Outcome::Fine
}

/// The places of the kind that was meant, or examples.
fn expected(place: &str) -> String {
    let key = place.strip_prefix("parts.").unwrap_or(place).split('.').next().unwrap_or_default();
    match kind(key).map(|kind| (kind.key, kind.places)) {
        None => "such as stem, tyre.front or lever.left".to_owned(),
        Some((key, Places::One)) => key.to_owned(),
        Some((key, Places::Many)) => format!("{key} with a name of its own, such as {key}.one,"),
        Some((key, places)) => {
            places.names().iter().map(|name| format!("{key}.{name}")).collect::<Vec<_>>().join(" or ")
        }
    }
}

fn rows<'a>(candidates: &'a Candidates, found: &'a Fitting) -> Vec<Row<'a>> {
    let row = |(part, verdict): (&'a witnessmark_core::catalogue::Entry, &Verdict)| {
        let reason = found.reason(*verdict);
        Row {
            id: &part.id,
            name: part.name(),
            verdict: match verdict {
                Verdict::Fits => "fits",
                Verdict::FitsWith(_) => "fits, with a caution",
                Verdict::NotKnown(_) => "not known",
                Verdict::DoesNotFit(_) => "does not fit",
            },
            check: reason.map(|reason| reason.check),
            what: reason.map(|reason| reason.what.as_str()),
            why: reason.map(|reason| reason.why.as_str()),
        }
    };
    candidates.parts().iter().zip(&found.verdicts).map(row).collect()
}
