//! The gears in figures, ring by ring, the longest first.

use maud::{Markup, html};
use witnessmark_core::compute::{GearLine, Transmission};
use witnessmark_core::finding::figure;
use witnessmark_core::rulebook::Verdict;
use witnessmark_sheets::transmission::word;

pub(super) fn section(transmission: &Transmission) -> Markup {
    let Ok(gears) = &transmission.gears else { return html! {} };
    html! {
        section.area aria-labelledby="figures-title" {
            h2 #figures-title { "In figures" }
            table.drive-rows {
                thead { tr {
                    th scope="col" { "gear" } th scope="col" { "ratio" } th scope="col" { "a turn, m" }
                    th scope="col" { "km/h at " (figure(transmission.cadence_per_minute, 0)) }
                    th scope="col" { "next harder" } th scope="col" { "out of line" } th scope="col" { "room at ring" }
                    th scope="col" { "note" }
                } }
                @for ring in gears.chunk_by(|a, b| a.ring_place == b.ring_place) {
                    tbody { @for line in ring { (row(line, gears)) } }
                }
            }
            p.quiet {
                "Next harder: how much more way the next smaller sprocket gives. Out of line: how far the chain leans from "
                "straight, above zero when it runs inward on its way back. Room at ring: between the chain and the larger ring "
                "beside it. ≈: nearly the same as that gear of another ring."
            }
        }
    }
}

fn row(line: &GearLine, gears: &[GearLine]) -> Markup {
    let some = |value: Option<f64>, decimals: usize| value.map(|value| figure(value, decimals));
    html! {
        tr.left-alone[!line.avoid.is_empty()] {
            th scope="row" { (line.gear.ring) " × " (line.gear.sprocket) }
            td data-label="ratio" { (format!("{:.3}", line.gear.turns())) " " small { (line.ratio.over) "/" (line.ratio.under) } }
            td data-label="a turn, m" {
                @if let Some(metres) = line.development_mm.map(|mm| format!("{:.2}", mm / 1000.0)) {
                    b { (metres) }
                    @if let Some(off) = line.development_plus_minus_mm { small { " ± " (format!("{:.2}", off / 1000.0)) } }
                }
            }
            td data-label="km/h" { (line.speed_kmh.map(|kmh| format!("{kmh:.1}")).unwrap_or_default()) }
            td data-label="next harder" { @if let Some(percent) = some(line.step_percent, 1) { (percent) " %" } }
            td data-label="out of line" { @if let Some(angle) = some(line.line_deg, 1) { (angle) "°" } }
            td data-label="room at ring" { @if let Some(room) = some(line.ring_room_mm, 1) { (room) " mm" } }
            td.words { (note(line, gears)) }
        }
    }
}

/// What not to use and why, and what does nearly the same.
fn note(line: &GearLine, gears: &[GearLine]) -> Markup {
    let same: Vec<String> = line
        .nearly
        .iter()
        .filter_map(|at| gears.get(*at))
        .map(|other| format!("≈ {} × {}", other.gear.ring, other.gear.sprocket))
        .collect();
    html! {
        @if !line.avoid.is_empty() {
            b { "leave alone: " (line.avoid.iter().map(|avoid| word(*avoid)).collect::<Vec<_>>().join(", ")) }
            @if !same.is_empty() { "; " }
        }
        @if line.limit == Some(Verdict::TooClose) { b { "too close to the limit to say" } @if !same.is_empty() { "; " } }
        (same.join(", "))
    }
}
