//! `witnessmark fasteners FILE`: every bolt with its torque, and what was done.

use crate::{Outcome, view};

/// Prints the sheet.
pub(crate) fn run(args: &view::Args) -> Outcome {
    view::run(
        args,
        |_, plan| witnessmark_web::api::mirror_fasteners(plan),
        |_, plan| witnessmark_sheets::finish::fasteners(plan),
    )
}
