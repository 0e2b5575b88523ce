//! Before money is spent: what fits, what is asked, what is agreed.

use super::gate::GATE;
use super::{Gate, Heeds, PLAIN, Step};
use crate::number::Area;

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "agree-position",
        area: Area::Cockpit,
        does: "Agree the position with the rider",
        how: "Go through the asked numbers and what the parts reach; let the rider, and the fitter where there is one, confirm the target in writing.",
        tool: "the bench sheet",
        ..PLAIN
    },
    Step {
        id: "order-parts",
        does: "Order the parts",
        how: "Order only what is judged to fit; every question of fit is answered first, by the maker's sheet or with a caliper.",
        tool: "the parts order",
        gate: Some(Gate {
            protects: "ordering",
            after: &["agree-position"],
            heeds: Heeds::Everything,
            knows: true,
            ..GATE
        }),
        ..PLAIN
    },
    Step {
        id: "check-list",
        does: "Lay every part on the bench and check it off the list",
        how: "Size, serial and colour; the small parts in the hardware bag too. Look for damage in transit and report it in the carrier's time.",
        tool: "the parts list",
        caution: "A part recalled by its maker is not fitted: look the serial up.",
        ..PLAIN
    },
];
