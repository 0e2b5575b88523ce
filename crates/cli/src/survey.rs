//! `witnessmark survey FILE`: the position taken from a real bike.

use crate::{FileArg, Outcome, input, print};
use serde_json::{Value, json};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::{Finding, Severity};
use witnessmark_core::survey::{Fared, NextReading, Outlook, Survey, survey};

/// Arguments of `survey`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Prints the survey.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let survey = survey(&build);
    if args.json {
        print::json(&mirror(&survey));
    } else {
        print::sheet(&witnessmark_sheets::survey::survey(&build, &survey));
    }
    ended(&survey.findings)
}

/// A finding that stops the work stops here too.
pub(crate) fn ended(findings: &[Finding]) -> Outcome {
    if findings.iter().any(|finding| finding.severity == Severity::Stop) { Outcome::Stopped } else { Outcome::Fine }
}

/// The survey as plain data: a field keeps its name and its meaning, new ones may be added. mm and degrees; `null` is not
/// known.
pub(crate) fn mirror(survey: &Survey) -> Value {
    json!({
        "form": 1,
        "numbers": survey.numbers.iter().map(|one| {
            let value = one.value.as_ref();
            json!({
                "id": one.number.id,
                "side": one.side.word(),
                "name": one.number.name,
                "unit": one.number.kind.unit(),
                "value": value.ok().map(|value| value.value),
                "standard_uncertainty": value.ok().map(|value| value.sd),
                "plus_minus_95": value.ok().map(witnessmark_core::survey::SurveyedValue::plus_minus),
                "hidden": value.ok().map(|value| finite(value.hidden)),
                "lacks": value.err().map(ToString::to_string),
            })
        }).collect::<Vec<_>>(),
        "points": survey.points.iter().map(|placed| json!({
            "point": placed.point.name(),
            "x": placed.ellipse.map(|_| placed.at.x_mm),
            "y": placed.ellipse.map(|_| placed.at.y_mm),
            "standard_uncertainty_x": placed.ellipse.map(|ellipse| ellipse.sd_x_mm),
            "standard_uncertainty_y": placed.ellipse.map(|ellipse| ellipse.sd_y_mm),
            "correlation": placed.ellipse.map(|ellipse| ellipse.correlation),
            "ellipse_95": placed.ellipse.map(|ellipse| json!({
                "long": ellipse.long_mm, "short": ellipse.short_mm, "turn": ellipse.turn_deg,
            })),
        })).collect::<Vec<_>>(),
        "readings": survey.readings.iter().map(fared).collect::<Vec<_>>(),
        "assumed": survey.assumed.iter().map(fared).collect::<Vec<_>>(),
        "unusable": survey.unusable.iter().map(|(name, missing)| json!({
            "name": name, "lacks": missing.to_string(),
        })).collect::<Vec<_>>(),
        "whole": survey.whole.map(|whole| json!({
            "chi_square": whole.chi_square, "freedom": whole.freedom, "above": whole.above, "limit": whole.limit,
        })),
        "in_doubt": survey.suspects.iter().map(|suspect| json!({
            "set_aside": suspect.set_aside,
            "readings": suspect.readings.iter().map(|one| json!({
                "name": one.place.map(|place| survey.readings[place].item.name.clone()),
                "words": one.words,
                "read": one.value,
                "allowed": one.allowed,
                "standard_uncertainty": one.sd,
                "test": one.deviate,
                "slips": one.slips.iter().map(|slip| slip.words.clone()).collect::<Vec<_>>(),
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "tape_too_long": survey.worn_end.map(|worn| worn.too_long.size),
        "sides": survey.sides.iter().map(|one| json!({
            "id": one.number.id, "left": one.left, "right": one.right, "standard_uncertainty": one.sd,
            "tolerance": one.tolerance, "stands": one.agreement.name(),
        })).collect::<Vec<_>>(),
        "outlook": survey.outlook.as_ref().map(outlook),
        "next": survey.next.iter().map(next).collect::<Vec<_>>(),
        "findings": findings(&survey.findings),
    })
}

/// Infinity is no number in JSON: a mistake that nothing bounds is `null`.
fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

fn fared(fared: &Fared) -> Value {
    json!({
        "name": fared.item.name,
        "words": fared.item.words,
        "what": fared.item.what.name(),
        "from": fared.item.from.name(),
        "to": fared.item.to.name(),
        "read": fared.item.value,
        "standard_uncertainty": fared.item.sd,
        "fitted": fared.fitted,
        "redundancy": fared.redundancy,
        "test": fared.deviate,
        "least_noticed": fared.least_noticed,
        "set_aside": fared.set_aside,
    })
}

fn outlook(outlook: &Outlook) -> Value {
    json!({ "open": outlook.open, "hidden": outlook.hidden_mm, "worst_standard_uncertainty": outlook.worst_sd_mm })
}

fn next(next: &NextReading) -> Value {
    json!({
        "name": next.name,
        "again": next.again,
        "what": next.what.name(),
        "from": next.from.name(),
        "to": next.to.name(),
        "words": next.words,
        "then": outlook(&next.then),
    })
}

/// Findings in the words of the plan's own mirror.
pub(crate) fn findings(findings: &[Finding]) -> Value {
    let one = |finding: &Finding| {
        json!({
            "check": finding.check,
            "severity": finding.severity_word(),
            "about": finding.about.iter().map(witnessmark_core::finding::About::address).collect::<Vec<_>>(),
            "what": finding.what,
            "why": finding.why,
            "do": finding.action,
            "source": finding.source,
            "not_known": finding.not_known,
        })
    };
    findings.iter().map(one).collect()
}
