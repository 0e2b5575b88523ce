//! `witnessmark tape FILE`: the bar tape of both sides.

use crate::{Outcome, view};

/// Prints the sheet.
pub(crate) fn run(args: &view::Args) -> Outcome {
    view::run(args, |_, plan| witnessmark_web::api::mirror_tape(plan), |_, plan| witnessmark_sheets::finish::tape(plan))
}
