//! `witnessmark mass FILE`: the mass by area, and the scale against the list.

use crate::{Outcome, view};

/// Prints the sheet.
pub(crate) fn run(args: &view::Args) -> Outcome {
    view::run(args, |_, plan| witnessmark_web::api::mirror_mass(plan), |_, plan| witnessmark_sheets::finish::mass(plan))
}
