//! Every gear at every possible number of links: where the cage stands, too short, or slack; and for the number chosen,
//! what is left to either stop.

use maud::{Markup, html};
use witnessmark_core::compute::{CageInGear, ChainPlan, GearLine, LENGTHS, Lies, Transmission};
use witnessmark_core::finding::figure;
use witnessmark_sheets::transmission::word;

/// Pairs of plates shown beyond the numbers that are right.
const BEYOND: u32 = 2;

pub(super) fn section(transmission: &Transmission) -> Markup {
    let (Ok(chain), Ok(gears)) = (&transmission.chain, &transmission.gears) else { return html! {} };
    let chosen = transmission.links.as_ref().ok().copied();
    html! {
        section.area aria-labelledby="hand-title" {
            h2 #hand-title { "What each gear leaves in hand" }
            @if let Some(links) = chosen {
                p.quiet { "With " (links) " links. The mark is the cage, between its stop ahead on the left and its stop behind on the right." }
                table.drive-rows.in-hand {
                    thead { tr {
                        th scope="col" { "gear" } th scope="col" { "between its stops" } th scope="col" { "to the stop ahead" }
                        th scope="col" { "to the stop behind" } th scope="col" { "chain clears itself by" } th scope="col" { "note" }
                    } }
                    @for ring in gears.chunk_by(|a, b| a.ring_place == b.ring_place) {
                        tbody { @for line in ring { (in_hand(line)) } }
                    }
                }
            }
        }
        section.area aria-labelledby="lengths-title" {
            h2 #lengths-title { "Every possible number of links" }
            p.quiet {
                "The cage’s angle: the line from pivot to lower wheel, 0° ahead, −90° straight down, −180° behind. A chain closes "
                "only with an even number."
            }
            div.wide tabindex="0" role="group" aria-labelledby="lengths-title" { (every_length(chain, gears, chosen)) }
        }
    }
}

fn in_hand(line: &GearLine) -> Markup {
    let degrees = |value: Option<f64>| value.map(|value| format!("{}°", figure(value, 0)));
    html! {
        tr.left-alone[!line.avoid.is_empty()] {
            th scope="row" { (line.gear.ring) " × " (line.gear.sprocket) }
            td data-label="between its stops" { @if let Some(cage) = &line.cage { (between(cage)) } }
            td data-label="to the stop ahead" { (line.cage.and_then(|cage| degrees(cage.ahead_in_hand_deg)).unwrap_or_default()) }
            td data-label="to the stop behind" { (line.cage.and_then(|cage| degrees(cage.behind_in_hand_deg)).unwrap_or_default()) }
            td data-label="chain clears itself by" {
                @if let Some(gap) = line.cage.and_then(|cage| cage.self_gap_mm) { (figure(gap, 0)) " mm" }
            }
            td.words {
                @if let Some(cage) = &line.cage { @if let Some(by) = off_by(cage) { b { (by) } } }
                @else if line.avoid.is_empty() { b { "no way for the chain" } }
                @let others: Vec<&str> = line.avoid.iter().map(|avoid| word(*avoid)).filter(|word| !word.starts_with("chain ")).collect();
                @if !others.is_empty() { " " (others.join(", ")) }
            }
        }
    }
}

/// By how much a chain is too short or slack.
fn off_by(cage: &CageInGear) -> Option<String> {
    match cage.lies {
        Lies::TooShort { by_links } => Some(format!("too short by {} links", figure(by_links, 1))),
        Lies::Slack { by_links } => Some(format!("slack by {} links", figure(by_links, 1))),
        Lies::Tight { .. } => None,
    }
}

/// The cage between its stops, as a mark on a line; the figures stand beside it.
fn between(cage: &CageInGear) -> Markup {
    let share = match cage.ahead_in_hand_deg.zip(cage.behind_in_hand_deg) {
        Some((ahead, behind)) if ahead + behind > 0.0 => (ahead / (ahead + behind)).clamp(0.0, 1.0),
        _ => return html! {},
    };
    let x = ((4.0 + share * 112.0) * 10.0).round() / 10.0;
    html! {
        svg.swing viewBox="0 0 120 20" aria-hidden="true" {
            path.span d="M4 10H116M4 3v14M116 3v14" {}
            circle.at cx=(x) cy="10" r="6" {}
        }
    }
}

fn every_length(chain: &ChainPlan, gears: &[GearLine], chosen: Option<u32>) -> Markup {
    let lengths = shown(chain, chosen);
    html! {
        table.every-length {
            thead { tr {
                th scope="col" { "gear" }
                @for links in &lengths { th.chosen[chosen == Some(*links)] scope="col" { (links) @if chain.recommended == Some(*links) { small { " recommended" } } } }
            } }
            @for ring in gears.chunk_by(|a, b| a.ring_place == b.ring_place) {
                tbody {
                    @for line in ring {
                        @let at = gears.iter().position(|other| std::ptr::eq(other, line)).unwrap_or_default();
                        tr {
                            th scope="row" { (line.gear.ring) " × " (line.gear.sprocket) }
                            @for links in &lengths { (cell(chain.in_gear(at, *links), chosen == Some(*links))) }
                        }
                    }
                }
            }
        }
    }
}

fn cell(cage: Option<CageInGear>, chosen: bool) -> Markup {
    let (class, text) = match cage.map(|cage| cage.lies) {
        None => ("no", "no way".to_owned()),
        Some(Lies::TooShort { .. }) => ("no", "short".to_owned()),
        Some(Lies::Slack { .. }) => ("no", "slack".to_owned()),
        Some(Lies::Tight { cage_deg }) if cage.and_then(|cage| cage.self_gap_mm).is_some_and(|gap_mm| gap_mm < 0.0) => {
            ("no", format!("{}° rubs", figure(cage_deg, 0)))
        }
        Some(Lies::Tight { cage_deg }) => ("tight", format!("{}°", figure(cage_deg, 0))),
    };
    html! { td class=(class) .chosen[chosen] { (text) } }
}

/// The even numbers worth showing: those that are right in some gear's way, a few beyond, and the one chosen. At most as
/// many as there are lengths.
fn shown(chain: &ChainPlan, chosen: Option<u32>) -> Vec<u32> {
    let ends = [chain.shortest, chain.longest.map(|longest| longest.links), chosen];
    let ends = || ends.iter().flatten().copied();
    let low = ends().min().unwrap_or(*LENGTHS.start()).saturating_sub(2 * BEYOND).max(*LENGTHS.start() - 30);
    let high = ends().max().unwrap_or(*LENGTHS.end()).saturating_add(2 * BEYOND).min(*LENGTHS.end() + 30);
    let mut lengths: Vec<u32> = (low..=high).filter(|links| links % 2 == 0).collect();
    // An odd number that somebody looks at stands among the others, although no chain closes with it.
    if let Some(odd) = chosen.filter(|links| links % 2 == 1) {
        lengths.push(odd);
        lengths.sort_unstable();
    }
    lengths
}
