//! The stack on the steerer, where to cut it, and what backs the clamp.

use super::cockpit::stem_in_place;
use crate::model::{Known, Model};
use crate::{fact, known};
use witnessmark_mechanics::steerer::{Backing, Expander, SteererStack};

/// Steerer and stack.
#[derive(Clone, Debug, PartialEq)]
pub struct Steerer {
    /// Everything the steerer passes through.
    pub stack: Known<SteererStack>,
    /// How the expander backs the stem's clamp.
    pub backing: Known<Backing>,
}

/// Works out the steerer.
pub fn steerer(model: &Model<'_>) -> Steerer {
    let stack = stack(model);
    let backing = backing(model, &stack);
    Steerer { stack, backing }
}

fn stack(model: &Model<'_>) -> Known<SteererStack> {
    known!(
        lower_stack_mm = fact!(model.headset, lower_stack_mm),
        head_tube_mm = fact!(model.frame, head_tube_mm),
        cover_mm = fact!(model.headset, cover_height_mm),
        spacers_under_mm = fact!(model.settings, spacers_under_mm),
        stem = stem_in_place(model),
        spacers_over_mm = fact!(model.settings, spacers_over_mm),
        gap_mm = fact!(model.settings, set_down_mm),
    );
    Ok(SteererStack {
        lower_stack_mm,
        head_tube_mm,
        cover_mm,
        spacers_under_mm,
        clamp_height_mm: stem.clamp_height_mm,
        spacers_over_mm,
        gap_mm,
    })
}

fn backing(model: &Model<'_>, stack: &Known<SteererStack>) -> Known<Backing> {
    known!(
        stack = stack.clone(),
        grip_length_mm = fact!(model.fork, expander_length_mm),
        depth_mm = fact!(model.settings, expander_depth_mm),
    );
    Ok(stack.backing(Expander { grip_length_mm, depth_mm }))
}
