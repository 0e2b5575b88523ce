//! `witnessmark wiring FILE`: the shift wires, their lengths and what is to be bought.

use crate::{Outcome, view};

/// Prints the wires.
pub(crate) fn run(args: &view::Args) -> Outcome {
    view::run(args, witnessmark_web::api::mirror_wiring, |_, plan| witnessmark_sheets::transmission::wiring(plan))
}
