//! What was done at the stand: one record a step of the work, under the step's own id (`cut-steerer`, `set-lever-left`).
//!
//! Which steps a bike has is no part of the document: [`stand`](crate::stand) tells that from the parts fitted. Here stands
//! only what the mechanics said of them.

use crate::choice;
use crate::record;

choice! {
    /// How a step stands. One that nobody has touched has no word.
    pub enum StepState {
        /// All the way on: done and finished.
        Done = "done",
        /// Begun and left. A fastener left half-way is how bolts get forgotten: it holds the release back.
        Open = "open",
        /// It cannot be done, or this bike does not need it; the reason says why.
        Cannot = "cannot",
    }
}

record! {
    /// What the mechanics said of a step.
    pub struct StepRecord {
        state: Choice<StepState> "How it stands.",
        by: Text "Who did it, or left it.",
        on: Day "When.",
        reason: Text "Why it cannot be done, or why a number that it hides cannot be had.",
        opened_by: Text "Who opened the gate before it.",
        opened_on: Day "When the gate was opened.",
        opened_against: Text "Why it was opened although something spoke against it.",
        note: Text "Anything else.",
    }
}
