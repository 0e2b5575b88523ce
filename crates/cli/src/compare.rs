//! `witnessmark compare A B …`: bikes side by side, or one bike at two dates.

use crate::{Outcome, input, print};
use serde_json::{Value, json};
use std::path::PathBuf;
use witnessmark_core::compare::{Comparison, compare};
use witnessmark_core::draw::{Drawing, Shape};
use witnessmark_core::field::Choice;

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
        print::json(&mirror(&comparison));
    } else {
        print::sheet(&witnessmark_sheets::compare::compare(&comparison));
    }
    Outcome::Fine
}

fn mirror(comparison: &Comparison) -> Value {
    json!({
        "form": 1,
        "names": comparison.names,
        "numbers": comparison.rows.iter().map(|row| json!({
            "id": row.number.id,
            "side": row.side.word(),
            "name": row.number.name,
            "unit": row.number.kind.unit(),
            "values": row.held.iter().map(|held| held.map(|held| json!({
                "value": held.value, "standard_uncertainty": held.sd, "source": held.source.name(),
            }))).collect::<Vec<_>>(),
            "against_first": row.against_first.iter().map(|one| json!({
                "difference": one.difference.map(|(difference, _)| difference),
                "standard_uncertainty": one.difference.map(|(_, sd)| sd),
                "tolerance": one.tolerance,
                "stands": one.agreement.name(),
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "parts": comparison.parts.iter().map(|part| json!({
            "path": part.path,
            "differs": part.differs.name(),
            "names": part.names,
            "facts": part.facts.iter().map(|(fact, values)| json!({ "fact": fact, "values": values })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "sides": comparison.sides.iter().map(|sides| sides.iter().map(|one| json!({
            "id": one.number.id, "left": one.left.value, "right": one.right.value, "standard_uncertainty": one.sd,
            "tolerance": one.tolerance, "stands": one.agreement.name(),
        })).collect::<Vec<_>>()).collect::<Vec<_>>(),
        "drawings": comparison.overlay.iter().map(drawing).collect::<Vec<_>>(),
    })
}

fn drawing(drawing: &Drawing) -> Value {
    drawing
        .marks
        .iter()
        .map(|mark| {
            let (points, radius) = match &mark.shape {
                Shape::Path(points) => (points.iter().map(|point| [point.x_mm, point.y_mm]).collect(), None),
                Shape::Circle { centre, radius_mm } => (vec![[centre.x_mm, centre.y_mm]], Some(*radius_mm)),
            };
            let role = format!("{:?}", mark.role).to_lowercase();
            json!({ "role": role, "points": points, "radius": radius, "thickness": mark.thickness_mm, "about": mark.about })
        })
        .collect()
}
