//! Every fastener once more, in one order, each with its mark.

use super::{Bolts, PLAIN, Step};

pub(super) static STEPS: &[Step] = &[Step {
    id: "torque-round",
    does: "Go round every fastener with the wrench, and paint its line",
    how: "One calls, one marks: value set, peak or click once, a line across bolt and part, its value written down. Click twice and it is over.",
    tool: "torque wrench, paint pen",
    bolts: Bolts::All,
    caution: "The lower of the two makers' limits rules. A cracking noise: stop, take it off, look.",
    ..PLAIN
}];
