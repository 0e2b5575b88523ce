//! `witnessmark stand FILE`: the work of this bike, step by step.

use crate::{Outcome, view};
use witnessmark_core::stand::stand;

/// Prints the steps.
pub(crate) fn run(args: &view::Args) -> Outcome {
    view::run(
        args,
        |build, plan| witnessmark_web::api::mirror_stand(&stand(build, plan)),
        |build, plan| witnessmark_sheets::stand::stand(plan, &stand(build, plan)),
    )
}
