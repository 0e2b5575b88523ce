//! `witnessmark gears FILE`: what each gear does.

use crate::{Outcome, view};

/// Prints the gears.
pub(crate) fn run(args: &view::Args) -> Outcome {
    view::run(
        args,
        |_, plan| witnessmark_web::api::mirror_gears(plan),
        |_, plan| witnessmark_sheets::transmission::gears(plan),
    )
}
