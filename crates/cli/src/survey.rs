//! `witnessmark survey FILE`: the position taken from a real bike.

use crate::view::Args;
use crate::{Outcome, input, print};
use witnessmark_core::finding::{Finding, Severity};
use witnessmark_core::survey::survey;

/// Prints the survey.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let survey = survey(&build);
    if args.json {
        print::json(&witnessmark_web::api::mirror_survey(&survey));
    } else {
        print::sheet(&witnessmark_sheets::survey::survey(&build, &survey));
    }
    ended(&survey.findings)
}

/// A finding that stops the work stops here too.
pub(crate) fn ended(findings: &[Finding]) -> Outcome {
    if findings.iter().any(|finding| finding.severity == Severity::Stop) { Outcome::Stopped } else { Outcome::Fine }
}
