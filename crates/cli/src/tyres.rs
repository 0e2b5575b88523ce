//! `witnessmark tyres FILE`: limits and starts of the tyre pressures.

use crate::{Outcome, view};

/// Prints the sheet.
pub(crate) fn run(args: &view::Args) -> Outcome {
    view::run(
        args,
        |_, plan| witnessmark_web::api::mirror_tyres(plan),
        |_, plan| witnessmark_sheets::finish::tyres(plan),
    )
}
