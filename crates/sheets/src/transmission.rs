//! Gears, chain and shift wires in eighty columns.

use crate::text::{Sheet, Tone, wrapped};
use std::fmt::Write as _;
use witnessmark_core::compute::{
    Avoid, ChainPlan, GearLimits, GearLine, Longest, PivotFrom, Port, RollingFrom, Transmission, Unit, Wiring,
};
use witnessmark_core::draw::{GearChart, GearScale, gear_chart};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::{Finding, Severity, figure};
use witnessmark_core::model::{Known, Missing};
use witnessmark_core::plan::Plan;
use witnessmark_core::rulebook::{Asks, Limit, Seen, Status, Verdict};

/// The checks that look at the gears: what they found stands beside the gears, wherever these are shown.
pub const GEAR_CHECKS: &[&str] = &["fits/gears_listed", "fits/chain_clears_outer_ring", "race/longest_gear"];

/// The checks that look at the length of the chain and at how it lies.
pub const CHAIN_CHECKS: &[&str] = &[
    "fits/chain_long_enough",
    "fits/chain_taut",
    "fits/chain_capacity",
    "fits/chain_pairs",
    "fits/oversize_cage",
    "fits/chain_joining",
    "fits/chain_clears_outer_ring",
    "fits/upper_wheel_gap",
];

/// The checks that look at the shift wires.
pub const WIRE_CHECKS: &[&str] = &[
    "fits/wiring_tree",
    "fits/wire_ends",
    "fits/wire_ports",
    "fits/wire_plugs",
    "fits/wire_length",
    "fits/spare_ports",
    "fits/battery_place",
    "fits/charging_point",
];

/// What these checks found.
pub fn found_by<'a>(plan: &'a Plan, checks: &'a [&str]) -> impl Iterator<Item = &'a Finding> {
    plan.findings.iter().filter(move |finding| checks.contains(&finding.check))
}

const COLUMNS: usize = crate::text::COLUMNS;

/// Width of the rule on which the gears stand.
const RULE: usize = 68;

/// The gears: on their rules, and in figures.
pub fn gears(plan: &Plan) -> Sheet {
    let mut sheet = Sheet::default();
    let transmission = &plan.worked.transmission;
    sheet.line(Tone::Heading, "GEARS");
    match &transmission.rolling {
        Ok(rear) => told(
            &mut sheet,
            &format!(
                "The rear wheel rolls {} mm ± {} mm in a turn, {}. Speeds at {} turns of the crank a minute.",
                figure(rear.rolling.circumference_mm, 0),
                figure(rear.rolling.plus_minus_mm, 0),
                rolled_how(rear.from),
                figure(transmission.cadence_per_minute, 0)
            ),
        ),
        Err(missing) => lacking(&mut sheet, missing),
    }
    let gears = match &transmission.gears {
        Ok(gears) => gears,
        Err(missing) => {
            lacking(&mut sheet, missing);
            return sheet;
        }
    };
    if let Some(chart) = gear_chart(&plan.worked) {
        sheet.line(Tone::Plain, "");
        rule(&mut sheet, &chart);
    }
    sheet.line(Tone::Plain, "");
    for (tone, text) in limits_said(&transmission.limits, gears) {
        for text in wrapped(&text, COLUMNS) {
            sheet.line(tone, &text);
        }
    }
    sheet.line(Tone::Plain, "");
    let head = format!(
        "{:<9}{:>7}{:>9}{:>8}{:>8}{:>9}{:>8}  {}",
        "gear", "ratio", "m/turn", "km/h", "step", "in line", "cage", "note"
    );
    sheet.line(Tone::Heading, &head);
    for one in gears {
        if one.sprocket_place == 0 && one.ring_place > 0 {
            sheet.line(Tone::Plain, "");
        }
        let tone = if one.avoid.is_empty() { Tone::Plain } else { Tone::Quiet };
        sheet.line(tone, &gear_row(one, gears));
    }
    sheet.line(Tone::Plain, "");
    quiet(
        &mut sheet,
        "Step: how much harder the next smaller sprocket is. In line: how far the chain is out of line, inward positive. \
         Cage: angle of the line from pivot to lower wheel, straight down −90°. ≈: nearly the same as that gear.",
    );
    sheet
}

fn gear_row(one: &GearLine, gears: &[GearLine]) -> String {
    let some = |value: Option<f64>, decimals: usize, unit: &str| {
        value.map_or_else(String::new, |value| format!("{}{unit}", fixed(value, decimals)))
    };
    let mut row = format!(
        "{:<9}{:>7}{:>9}{:>8}{:>8}{:>9}{:>8}",
        format!("{} × {}", one.gear.ring, one.gear.sprocket),
        fixed(one.gear.turns(), 3),
        some(one.development_mm.map(|mm| mm / 1000.0), 2, ""),
        some(one.speed_kmh, 1, ""),
        some(one.step_percent, 1, " %"),
        some(one.line_deg, 1, "°"),
        some(one.cage.and_then(|cage| cage.cage_deg()), 0, "°"),
    );
    let mut notes: Vec<String> = one.avoid.iter().map(|avoid| word(*avoid).to_owned()).collect();
    if one.limit == Some(Verdict::TooClose) {
        notes.push("limit?".into());
    }
    notes.extend(
        one.nearly
            .iter()
            .filter_map(|other| gears.get(*other))
            .map(|other| format!("≈ {} × {}", other.gear.ring, other.gear.sprocket)),
    );
    if let Some(first) = wrapped(&notes.join(", "), COLUMNS - row.chars().count() - 2).first() {
        let _ = write!(row, "  {first}");
    }
    row.trim_end().to_owned()
}

/// How the rolling circumference was had, in words.
pub fn rolled_how(from: RollingFrom) -> &'static str {
    match from {
        RollingFrom::RolledOut => "as rolled out",
        RollingFrom::Radius => "by the tyre's radius without a rider",
        RollingFrom::Size => "by the size printed on the tyre alone",
    }
}

/// What the race's rules ask of the longest gear, in sentences, and which gears break it.
pub fn limits_said(limits: &Known<GearLimits>, gears: &[GearLine]) -> Vec<(Tone, String)> {
    let limits = match limits {
        Ok(limits) => limits,
        Err(missing) => return vec![(Tone::Quiet, format!("Whether the race limits the longest gear is {missing}."))],
    };
    if !limits.rules.apply() {
        return vec![(Tone::Quiet, "Nobody limits its longest gear: no race rules apply.".into())];
    }
    let mut said: Vec<(Tone, String)> = limits.limits.iter().map(|limit| limit_said(limits, limit)).collect();
    if limits.in_force().next().is_some() {
        said.extend(broken_by(gears));
    } else if limits.depend_on_age.is_empty() && limits.limits.iter().all(|limit| limit.status != Status::InForce) {
        let text = format!("No limit of the longest gear is in force on {} ({}).", limits.day, limits.rules.name());
        said.insert(0, (Tone::Plain, text));
    }
    if !limits.depend_on_age.is_empty() {
        let each: Vec<String> = limits
            .depend_on_age
            .iter()
            .filter_map(|limit| Some(format!("{} {}", limit.ages?.class, metres_asked(limit)?)))
            .collect();
        let those = if each.is_empty() { String::new() } else { format!(" ({})", each.join(", ")) };
        said.push((
            Tone::Caution,
            format!(
                "It depends on the rider's age whether the longest gear is limited{those}: fill in the year of birth."
            ),
        ));
    }
    said
}

fn limit_said(limits: &GearLimits, limit: &Limit) -> (Tone, String) {
    let of = format!("{}, {}", limits.rules.name(), limit.article);
    let class = limit.ages.map_or_else(String::new, |ages| format!(" for {}", ages.class));
    let seen = if limit.seen == Seen::FromMemory { "; from memory" } else { "" };
    match (limit.status, metres_asked(limit)) {
        (Status::InForce, Some(metres)) => (
            Tone::Heading,
            format!("LIMIT {metres} in a turn of the crank{class} on {} ({of}{seen}). Roll-out decides.", limits.day),
        ),
        (Status::InForce, None) if limit.asks == Asks::Nothing => {
            (Tone::Quiet, format!("The longest gear is not limited{class} on {} ({of}{seen}).", limits.day))
        }
        (Status::InForce, None) => {
            (Tone::Caution, format!("There is a limit{class}, and its figure was not found ({of}{seen})."))
        }
        (status, metres) => {
            let metres = metres.unwrap_or_else(|| "without a figure".into());
            (Tone::Quiet, format!("Not in force: a limit of {metres}{class}, {} ({of}{seen}).", status.name()))
        }
    }
}

/// The longest way of a limit: `7.93 m`.
fn metres_asked(limit: &Limit) -> Option<String> {
    match limit.asks {
        Asks::Within(range) if range.high.is_finite() => Some(format!("{} m", figure(range.high / 1000.0, 2))),
        _ => None,
    }
}

/// Which gears break a limit, and which come too close to it to say.
fn broken_by(gears: &[GearLine]) -> Vec<(Tone, String)> {
    let those = |verdict: Verdict| -> Vec<String> {
        let these = gears.iter().filter(|line| line.limit == Some(verdict));
        these.map(|line| format!("{} × {}", line.gear.ring, line.gear.sprocket)).collect()
    };
    let (over, close) = (those(Verdict::Outside), those(Verdict::TooClose));
    let mut said = Vec::new();
    if !over.is_empty() {
        said.push((Tone::Stop, format!("Over it: {}.", over.join(", "))));
    }
    if !close.is_empty() {
        said.push((Tone::Caution, format!("Too close to it to say before it is rolled out: {}.", close.join(", "))));
    }
    if said.is_empty() {
        said.push((Tone::InLine, "Every gear keeps to it.".into()));
    }
    said
}

/// Why a gear is better left alone, in a word.
pub fn word(avoid: Avoid) -> &'static str {
    match avoid {
        Avoid::LockedOff => "locked off",
        Avoid::TooShort => "chain too short",
        Avoid::Slack => "chain slack",
        Avoid::RubsItself => "rubs itself",
        Avoid::RubsRing => "rubs the ring",
        Avoid::OutOfLine => "out of line",
        Avoid::OverLimit => "over the limit",
        Avoid::NoWay => "no way",
    }
}

/// The gears on their rules: a scale, a row for each ring, a scale.
fn rule(sheet: &mut Sheet, chart: &GearChart) {
    // A share of the rule as a column of it.
    let column = |share: f64| {
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a share of 68 columns"
        )]
        let column = (share.clamp(0.0, 1.0) * (RULE - 1) as f64).round() as usize;
        column
    };
    let scale = |marks: &[witnessmark_core::draw::ScaleMark]| {
        let mut row = vec![' '; RULE];
        let mut free_from = 0;
        for mark in marks {
            let text = figure(mark.value, 1);
            let at = column(mark.share);
            let start = at.saturating_sub(text.chars().count() / 2);
            if start < free_from || start + text.chars().count() > RULE {
                continue;
            }
            for (place, letter) in text.chars().enumerate() {
                row[start + place] = letter;
            }
            free_from = start + text.chars().count() + 1;
        }
        row.into_iter().collect::<String>().trim_end().to_owned()
    };
    let unit = match chart.scale {
        GearScale::Metres => "m/turn",
        GearScale::Turns => "ratio",
    };
    sheet.line(Tone::Quiet, &format!("{unit:>8}  {}", scale(&chart.marks)));
    let limit = |row: &mut Vec<char>| chart.limits.iter().for_each(|limit| row[column(limit.share)] = '║');
    for (ring_place, ring) in chart.rings.iter().enumerate() {
        let mut row = vec!['─'; RULE];
        limit(&mut row);
        for notch in chart.notches.iter().filter(|notch| notch.ring_place == ring_place) {
            row[column(notch.share)] = if notch.avoid { '×' } else { '┃' };
        }
        sheet.line(Tone::Plain, &format!("{ring:>8}  {}", row.into_iter().collect::<String>()));
    }
    for limit in &chart.limits {
        let text = format!("║ limit {} m {}", figure(limit.metres, 2), limit.class);
        let at = column(limit.share).min(RULE.saturating_sub(text.trim_end().chars().count()));
        sheet.line(Tone::Heading, &format!("{:>8}  {}{}", "", " ".repeat(at), text.trim_end()));
    }
    if !chart.speeds.is_empty() {
        sheet.line(Tone::Quiet, &format!("{:>8}  {}", "km/h", scale(&chart.speeds)));
    }
}

/// The chain: its length, why, and where the cage stands in every gear.
pub fn chain(plan: &Plan) -> Sheet {
    let mut sheet = Sheet::default();
    let transmission = &plan.worked.transmission;
    sheet.line(Tone::Heading, "CHAIN");
    match &transmission.links {
        Ok(links) => {
            sheet.line(Tone::InLine, &format!("{links} links, the joining link counted"));
            told(
                &mut sheet,
                &format!(
                    "Closed with a joining link: cut the chain to {} links, an inner pair of plates at both ends. Closed with \
                     a pin: cut it to {links}, an inner pair at one end and an outer one at the other.",
                    links.saturating_sub(1)
                ),
            );
        }
        Err(missing) => lacking(&mut sheet, missing),
    }
    if let Err(missing) = &transmission.rules
        && missing.refusal.is_some()
    {
        lacking(&mut sheet, missing);
    }
    if let Ok(rules) = &transmission.rules {
        told(
            &mut sheet,
            &format!(
                "By the rules of thumb, which do not look at the cage: {} (wrapped round the largest pair, a pair more), {} \
                 (the sum in inches); give or take {}.",
                rules.wrapped,
                rules.inches,
                witnessmark_core::compute::ThumbRules::PLUS_MINUS_LINKS
            ),
        );
    }
    if let Ok(capacity) = &transmission.capacity {
        let stated = capacity.stated_teeth.map_or_else(|| "not known".to_owned(), |teeth| teeth.to_string());
        let geometry = capacity.geometry_teeth.map_or_else(|| "not known".to_owned(), |teeth| figure(teeth, 1));
        told(
            &mut sheet,
            &format!(
                "Teeth to take up: {}. The derailleur's maker states {stated}; by the cage's geometry {geometry}.",
                capacity.needed_teeth
            ),
        );
    }
    match &transmission.chain {
        Ok(chain) => geometry(&mut sheet, transmission, chain),
        Err(missing) => {
            sheet.line(Tone::Plain, "");
            told(&mut sheet, "Where the cage stands is not worked out:");
            lacking(&mut sheet, missing);
        }
    }
    sheet
}

fn geometry(sheet: &mut Sheet, transmission: &Transmission, chain: &ChainPlan) {
    let Ok(gears) = &transmission.gears else { return };
    let pair =
        |at: usize| gears.get(at).map_or_else(String::new, |one| format!("{} × {}", one.gear.ring, one.gear.sprocket));
    sheet.line(Tone::Plain, "");
    if let Some(Ok(swing)) = chain.swings.get(chain.largest) {
        told(
            sheet,
            &format!(
                "{} needs {} ± {} links with the cage at its stop ahead: no fewer than {}.",
                pair(chain.largest),
                figure(swing.least_links, 1),
                figure(chain.plus_minus_links, 1),
                chain.shortest.map_or_else(|| "?".to_owned(), |links| links.to_string())
            ),
        );
    }
    if let Some(longest) = chain.longest {
        let happens = match longest.by {
            Longest::Slack => "the cage comes to its rear stop",
            Longest::RubsItself => "the lower run touches the chain on the upper wheel",
        };
        told(sheet, &format!("In {} no more than {}: then {happens}.", pair(longest.gear), longest.links));
    }
    if let Some(own) = chain.own {
        told(
            sheet,
            &format!(
                "Its maker's own cage would ask for no fewer than {}; this one needs {} links more in the largest pair.",
                own.shortest,
                figure(own.added_links, 1)
            ),
        );
    }
    if chain.pivot_from == PivotFrom::Middle {
        told(
            sheet,
            "The pivot was read on one sprocket only; read it on the smallest and the largest for a better answer.",
        );
    }
    let Ok(links) = transmission.links else { return };
    sheet.line(Tone::Plain, "");
    let lengths: Vec<u32> = [links.saturating_sub(2), links, links.saturating_add(2)].to_vec();
    let mut head = format!("{:<10}", "gear");
    for length in &lengths {
        let _ = write!(head, "{:>10}", format!("{length} links"));
    }
    let _ = write!(head, "{:>10}{:>10}{:>12}", "ahead", "behind", "clear");
    sheet.line(Tone::Heading, &head);
    for (at, one) in gears.iter().enumerate() {
        if one.sprocket_place == 0 && one.ring_place > 0 {
            sheet.line(Tone::Plain, "");
        }
        let mut row = format!("{:<10}", pair(at));
        for length in &lengths {
            let lies = chain.in_gear(at, *length);
            let text = lies.map_or("no way".to_owned(), |cage| match cage.lies {
                witnessmark_core::compute::Lies::TooShort { .. } => "short".to_owned(),
                witnessmark_core::compute::Lies::Slack { .. } => "slack".to_owned(),
                witnessmark_core::compute::Lies::Tight { cage_deg } => format!("{}°", figure(cage_deg, 0)),
            });
            let _ = write!(row, "{text:>10}");
        }
        let hand = |value: Option<f64>, unit: &str| {
            value.map_or_else(String::new, |value| format!("{}{unit}", figure(value, 0)))
        };
        let _ = write!(
            row,
            "{:>10}{:>10}{:>12}",
            hand(one.cage.and_then(|cage| cage.ahead_in_hand_deg), "°"),
            hand(one.cage.and_then(|cage| cage.behind_in_hand_deg), "°"),
            hand(one.cage.and_then(|cage| cage.self_gap_mm), " mm"),
        );
        let tone = if one.avoid.is_empty() { Tone::Plain } else { Tone::Quiet };
        sheet.line(tone, row.trim_end());
    }
    sheet.line(Tone::Plain, "");
    quiet(
        sheet,
        "Angles of the cage for three lengths; for the length chosen, what is left to the stop ahead and behind, and the room \
         between the lower run and the chain on the upper wheel.",
    );
}

/// The shift wires: units, wires with their ways, what is to be bought.
pub fn wiring(plan: &Plan) -> Sheet {
    let mut sheet = Sheet::default();
    let wiring = &plan.worked.wiring;
    sheet.line(Tone::Heading, "WIRES");
    if wiring.absent() {
        told(&mut sheet, "No wire is listed, and no unit waits for one.");
        return sheet;
    }
    for finding in found_by(plan, WIRE_CHECKS) {
        let tone = match finding.severity {
            Severity::Stop => Tone::Stop,
            Severity::Caution => Tone::Caution,
            Severity::Note => Tone::Quiet,
        };
        for text in wrapped(&format!("{}: {} {}", finding.severity_word(), finding.what, finding.why), COLUMNS) {
            sheet.line(tone, &text);
        }
    }
    units(&mut sheet, wiring);
    wires(&mut sheet, wiring);
    if !wiring.buy.is_empty() {
        sheet.line(Tone::Plain, "");
        sheet.line(Tone::Heading, "TO BUY");
        for buy in &wiring.buy {
            let text = format!("{} × {} mm: {}", buy.wires.len(), figure(buy.length_mm, 0), buy.wires.join(", "));
            told(&mut sheet, &text);
        }
    }
    for wire in wiring.none_made.iter().filter_map(|at| wiring.wires.get(*at)) {
        let needed = wire.way.as_ref().map_or(0.0, |way| way.needed_mm);
        let text = format!("No {} is made that long: it needs {} mm.", wire.name, figure(needed, 0));
        for text in wrapped(&text, COLUMNS) {
            sheet.line(Tone::Stop, &text);
        }
    }
    sheet
}

fn units(sheet: &mut Sheet, wiring: &Wiring) {
    sheet.line(Tone::Heading, &format!("{:<30}{:>8}{:>8}{:>8}", "unit", "ports", "used", "free"));
    for (at, unit) in wiring.units.iter().enumerate() {
        let ports = unit.ports.map_or_else(|| "?".to_owned(), |ports| ports.to_string());
        let free = wiring.spare_ports(at).map_or_else(|| "?".to_owned(), |spare| spare.to_string());
        let tone = if wiring.spare_ports(at).is_some_and(|spare| spare < 0) { Tone::Stop } else { Tone::Plain };
        sheet.line(tone, &format!("{:<30}{ports:>8}{:>8}{free:>8}", clipped(&unit.name, 29), wiring.ends_in(at)));
        let held: Vec<String> = wiring
            .ports_of(at)
            .iter()
            .map(|port| format!("{} {}", port.number, port_said(wiring, unit, port)))
            .collect();
        for text in wrapped(&held.join(" · "), COLUMNS - 2) {
            sheet.line(Tone::Quiet, &format!("  {text}"));
        }
    }
}

/// What is in a port, in words: the wire, and where it leads; or that it is spare.
pub fn port_said(wiring: &Wiring, unit: &Unit, port: &Port) -> String {
    let held: Vec<String> = port
        .holds
        .iter()
        .filter_map(|held| {
            let wire = wiring.wires.get(held.wire)?;
            let far = &wire.ends[1 - held.end];
            let to = far.unit.map_or_else(
                || {
                    far.said
                        .as_ref()
                        .map_or("nobody said where".to_owned(), |said| format!("«{said}», which is not there"))
                },
                |unit| wiring.units[unit].name.clone(),
            );
            Some(format!("{} to {to}", wire.name))
        })
        .collect();
    match (held.is_empty(), port.exists) {
        (true, Some(false)) => format!("the {} has no such port", unit.name),
        (true, _) => "spare".to_owned(),
        (false, Some(false)) => format!("{} (there is no such port)", held.join(" and ")),
        (false, _) => held.join(" and "),
    }
}

fn wires(sheet: &mut Sheet, wiring: &Wiring) {
    sheet.line(Tone::Plain, "");
    sheet.line(
        Tone::Heading,
        &format!("{:<40}{:>8}{:>8}{:>8}{:>8}{:>8}", "wire, mm", "has", "way", "needs", "take", "sleeve"),
    );
    for wire in &wiring.wires {
        let end = |at: usize| {
            let end = &wire.ends[at];
            end.unit
                .map_or_else(|| end.said.clone().unwrap_or_else(|| "?".into()), |unit| wiring.units[unit].name.clone())
        };
        let mm = |value: Option<f64>| value.map_or_else(|| "?".to_owned(), |value| figure(value, 0));
        let way = wire.way.as_ref().ok();
        let row = format!(
            "{:<40}{:>8}{:>8}{:>8}{:>8}{:>8}",
            clipped(&format!("{} → {}", end(0), end(1)), 39),
            mm(wire.length_mm),
            mm(way.map(|way| way.along_mm)),
            mm(way.map(|way| way.needed_mm)),
            if wire.way.is_ok() && wire.choice_mm.is_none() { "none".to_owned() } else { mm(wire.choice_mm) },
            mm(way.map(|way| way.sleeve_mm)),
        );
        sheet.line(Tone::Plain, &row);
        if let Err(missing) = &wire.way {
            lacking(sheet, missing);
        }
    }
    sheet.line(Tone::Plain, "");
    quiet(
        sheet,
        "Way: along the bike, bar straight. Needs: with slack for steering, a loop at the lever and what a plug needs to come \
         out. Take: the shortest length that is made and long enough. Lay a string before the frame is closed.",
    );
}

fn lacking(sheet: &mut Sheet, missing: &Missing) {
    for text in wrapped(&format!("{missing}."), COLUMNS - 2) {
        sheet.line(Tone::Caution, &format!("  {text}"));
    }
}

fn told(sheet: &mut Sheet, text: &str) {
    for text in wrapped(text, COLUMNS) {
        sheet.line(Tone::Plain, &text);
    }
}

fn quiet(sheet: &mut Sheet, text: &str) {
    for text in wrapped(text, COLUMNS) {
        sheet.line(Tone::Quiet, &text);
    }
}

/// A figure with all its decimals, so that columns line up, and a true minus sign.
fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
        return text.trim_start_matches('-').to_owned();
    }
    text.replacen('-', "−", 1)
}

fn clipped(text: &str, columns: usize) -> String {
    if text.chars().count() <= columns {
        return text.to_owned();
    }
    let head: String = text.chars().take(columns.saturating_sub(1)).collect();
    format!("{head}…")
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at what it did not expect")]

    use super::*;
    use witnessmark_core::build::sample::sample;
    use witnessmark_core::{Build, plan};

    fn all(build: &Build) -> String {
        let plan = plan(build);
        [gears(&plan), chain(&plan), wiring(&plan)].iter().map(Sheet::plain).collect()
    }

    #[test]
    fn no_line_is_wider_than_eighty_columns() {
        let mut long = sample();
        long.parts.wire.make("rear").other_end =
            Some("a unit with a name that nobody would type and somebody did".into());
        for build in [&sample(), &Build::default(), &long] {
            for line in all(build).lines() {
                assert!(line.chars().count() <= COLUMNS, "{} columns: {line}", line.chars().count());
            }
        }
    }

    #[test]
    fn every_check_whose_findings_are_shown_is_there() {
        for id in GEAR_CHECKS.iter().chain(CHAIN_CHECKS).chain(WIRE_CHECKS) {
            assert!(witnessmark_core::check::by_id(id).is_some(), "{id}");
        }
    }

    #[test]
    fn a_junior_reads_the_limit_on_the_rule_and_which_gears_break_it() {
        let mut build = sample();
        build.job.rules = Some(witnessmark_core::rulebook::Rules::Uci.into());
        build.job.day.as_mut().unwrap().value = "2022-06-01".parse().unwrap();
        build.rider.birth_year = Some(2005.into());
        let text = all(&build);
        for said in [
            "LIMIT 7.93 m in a turn of the crank for junior on 2022-06-01",
            "║ limit 7.93 m junior",
            "Over it: 52 × 11",
        ] {
            assert!(text.contains(said), "no «{said}» in\n{text}");
        }
        build.rider.birth_year = None;
        assert!(all(&build).contains("fill in the year of birth"));
        build.job.day.as_mut().unwrap().value = "2023-06-01".parse().unwrap();
        build.rider.birth_year = Some(2006.into());
        assert!(all(&build).contains("The longest gear is not limited for junior on 2023-06-01"));
    }

    #[test]
    fn a_port_says_what_is_in_it_and_a_wrong_wire_at_which_end() {
        let mut build = sample();
        let flat = |build: &Build| all(build).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat(&build).contains("1 wire “rear” to junction “shell”"), "{}", flat(&build));
        build.parts.wire.make("rear").other_end = Some("junction seat".into());
        let text = flat(&build);
        for said in ["leads to a unit that is not there", "wire “rear” to «junction seat», which is not there"] {
            assert!(text.contains(said), "no «{said}» in\n{text}");
        }
    }

    #[test]
    fn the_sample_says_its_links_its_gears_and_its_wires() {
        let text = all(&sample());
        for said in
            ["110 links", "cut the chain to 109 links", "52 × 11", "10.04", "junction “shell” → battery", "TO BUY"]
        {
            assert!(text.contains(said), "no «{said}» in\n{text}");
        }
    }

    #[test]
    fn an_empty_document_says_what_it_lacks() {
        let text = all(&Build::default());
        assert!(text.contains("cassette"), "{text}");
        assert!(text.contains("No wire is listed"), "{text}");
    }

    #[test]
    fn a_figure_of_nothing_has_no_sign() {
        assert_eq!(fixed(-0.04, 1), "0.0");
        assert_eq!(fixed(-1.25, 1), "−1.2");
        assert_eq!(fixed(3.0, 3), "3.000");
    }
}
