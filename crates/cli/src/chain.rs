//! `witnessmark chain FILE`: how long the chain is and where the cage stands.

use crate::{Outcome, view};

/// Prints the chain.
pub(crate) fn run(args: &view::Args) -> Outcome {
    view::run(
        args,
        |_, plan| witnessmark_web::api::mirror_chain(plan),
        |_, plan| witnessmark_sheets::transmission::chain(plan),
    )
}
