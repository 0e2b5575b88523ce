//! `witnessmark carry FILE --to FRAME`: the position of one bike put onto another.

use crate::{FileArg, Outcome, input, print, survey};
use serde_json::{Value, json};
use std::path::PathBuf;
use witnessmark_core::carry::{ByHand, Carried, carry};
use witnessmark_core::field::Choice;

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
        print::json(&mirror(&carried));
    } else {
        print::sheet(&witnessmark_sheets::carry::carry(&from, &carried));
    }
    survey::ended(&carried.findings)
}

fn mirror(carried: &Carried) -> Value {
    json!({
        "form": 1,
        "rows": carried.rows.iter().map(|row| json!({
            "id": row.number.id,
            "side": row.side.word(),
            "name": row.number.name,
            "unit": row.number.kind.unit(),
            "was": row.was.map(|was| was.value),
            "was_standard_uncertainty": row.was.map(|was| was.sd),
            "was_source": row.was.map(|was| was.source.name()),
            "wanted": row.wanted,
            "comes": row.comes,
            "off": row.off,
            "position": row.is_position,
            "stands": row.agreement.name(),
        })).collect::<Vec<_>>(),
        "front": carried.front.as_ref().map(|way| json!({
            "stem": way.stem, "flipped": way.flipped, "bar": way.bar, "spacers_under": way.spacers_under_mm,
            "bar_roll": way.bar_roll_deg, "lever_from_end": way.lever_from_end_mm, "toe_in": way.toe_in_mm,
            "miss": way.miss_mm,
        })),
        "rear": carried.rear.as_ref().map(|way| json!({
            "saddle": way.saddle, "post": way.post, "tilt": way.tilt_deg, "post_extension": way.post_extension_mm,
            "rail_position": way.rail_position_mm, "miss": way.miss_mm,
        })),
        "accounted": carried.accounted,
        "to_set": by_hand(&carried.to_set),
        "to_check": by_hand(&carried.to_check),
        "findings": survey::findings(&carried.findings),
    })
}

fn by_hand(list: &[ByHand]) -> Value {
    list.iter().map(|one| json!({ "what": one.words, "value": one.value, "how": one.how })).collect()
}
