//! `witnessmark plan FILE`: a build document worked out.

use crate::view::Args;
use crate::{Outcome, input, print};
use witnessmark_core::finding::Severity;
use witnessmark_core::plan;

/// Prints the plan.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let plan = plan(&build);
    if args.json {
        print::json(&witnessmark_web::api::mirror(&plan));
    } else {
        print::sheet(&witnessmark_sheets::text::plan(&build, &plan));
    }
    if plan.count(Severity::Stop) > 0 { Outcome::Stopped } else { Outcome::Fine }
}
