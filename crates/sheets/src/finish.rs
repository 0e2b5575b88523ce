//! Bolts, bar tape, mass, tyres and service in eighty columns.

use crate::text::{COLUMNS, Sheet, Tone, shortened, told, wrapped};
use jiff::civil::Date;
use std::fmt::Write as _;
use witnessmark_core::Build;
use witnessmark_core::build::FastenerState;
use witnessmark_core::compute::{Fastener, Mass, PressureStart, ScaleAgainstList, TapeSide, TorqueLimit, TyreAtWheel};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::figure;
use witnessmark_core::model::{Missing, in_words};
use witnessmark_core::number::Side;
use witnessmark_core::plan::Plan;
use witnessmark_core::service::{SOURCE, Service, ServicePlan, Standing};

/// The checks that look at bolts: what they found stands beside the bolts, wherever these are shown.
pub const BOLT_CHECKS: &[&str] = &[
    "safe/bolt_open",
    "safe/torque_stated",
    "safe/bolt_torque",
    "safe/clamp_torque",
    "safe/steerer_clamp_torque",
    "safe/post_clamp_torque",
    "safe/rail_clamp_torque",
    "safe/boss_torque",
    "safe/bolt_preload",
    "safe/bolt_engagement",
    "safe/carbon_paste",
    "safe/hanger_screw",
    "safe/wrench_due",
    "safe/bolt_recorded",
];

/// The checks that look at the bar tape.
pub const TAPE_CHECKS: &[&str] = &["fits/tape_wrap", "fits/tape_length", "fits/tape_width", "safe/bar_ends_plugged"];

/// The checks that look at the mass.
pub const MASS_CHECKS: &[&str] = &["fits/scale_agrees", "race/mass"];

/// The checks that look at the pressure of the tyres and at what holds it.
pub const TYRE_CHECKS: &[&str] = &[
    "safe/pressure_limit",
    "safe/pressure_for_load",
    "safe/hookless_approved",
    "safe/hookless_width",
    "safe/latex_overnight",
    "safe/sealant_age",
    "fits/sealant_beside",
    "fits/tyre_in_wheel_range",
    "fits/tyre_on_bead_seat",
    "fits/tyre_on_rim_width",
];

/// Every bolt in the order of the torque round.
pub fn fasteners(plan: &Plan) -> Sheet {
    let mut sheet = Sheet::default();
    let all = &plan.worked.fasteners;
    let (closed, count) = all.closed();
    sheet.line(Tone::Heading, &format!("BOLTS, in the order of the torque round: {closed} of {count} closed"));
    if count == 0 {
        told(&mut sheet, "No part with a bolt is listed yet.");
    }
    let mut area = None;
    for bolt in &all.list {
        if area != Some(bolt.area) {
            area = Some(bolt.area);
            sheet.line(Tone::Plain, "");
            let head = format!("{:<38}{:>6}{:>9}{:>9}  {:<14}", bolt.area.name(), "bolts", "N·m", "done", "state");
            sheet.line(Tone::Heading, head.trim_end());
        }
        one_bolt(&mut sheet, bolt);
    }
    if !all.strangers.is_empty() {
        sheet.line(Tone::Plain, "");
        warn(&mut sheet, &format!("Records that belong to no bolt of this bike: {}.", all.strangers.join(", ")));
    }
    if count > 0 {
        sheet.line(Tone::Plain, "");
        quiet(
            &mut sheet,
            "The lowest limit of the parts joined counts; ≤ stands where a part is silent and the torque is not known. Pull: \
             of each screw, between the friction it may meet, against what it bears. A maker's own word goes before all of it.",
        );
    }
    sheet
}

fn one_bolt(sheet: &mut Sheet, bolt: &Fastener) {
    let torque = match (bolt.torque_nm(), bolt.lowest()) {
        (Ok(nm), _) => figure(nm, 1),
        (Err(_), Some(limit)) => format!("≤ {}", figure(limit.nm, 1)),
        (Err(_), None) => "?".to_owned(),
    };
    let count = bolt.count.map_or_else(String::new, |count| count.to_string());
    let applied = bolt.applied_nm().map_or_else(String::new, |nm| figure(nm, 1));
    let (tone, state) = match (bolt.state(), bolt.witness()) {
        (None, _) => (Tone::Plain, String::new()),
        (Some(FastenerState::Open), _) => (Tone::Stop, "OPEN".to_owned()),
        (Some(FastenerState::Closed), Some(true)) => (Tone::InLine, "closed, line".to_owned()),
        (Some(FastenerState::Closed), _) => (Tone::Caution, "closed".to_owned()),
    };
    let row = format!("{:<38}{count:>6}{torque:>9}{applied:>9}  {state}", shortened(&bolt.name, 37));
    sheet.line(tone, row.trim_end());
    let mut words = Vec::new();
    if let Some(limit) = bolt.lowest() {
        words.push(by(limit));
    }
    words.extend(bolt.bit.clone());
    words.push(if bolt.compound_by_custom {
        format!("{} by custom", bolt.compound.name())
    } else {
        bolt.compound.name().to_owned()
    });
    words.extend(bolt.between.map(|between| format!("{} between the faces", between.name())));
    words.extend(bolt.order.map(str::to_owned));
    if let Some(Ok(preload)) = &bolt.preload {
        let mut pull = format!(
            "pull {} to {} kN",
            figure(preload.pull_n.low / 1000.0, 1),
            figure(preload.pull_n.high / 1000.0, 1)
        );
        if let Ok(proof_n) = preload.proof_n {
            let _ = write!(pull, ", bears {} kN", figure(proof_n / 1000.0, 1));
        }
        words.push(pull);
    }
    indented(sheet, Tone::Quiet, &format!("{}.", words.join("; ")));
    if bolt.silent != Missing::default() {
        indented(sheet, Tone::Caution, &format!("{}.", bolt.silent));
    }
}

fn by(limit: &TorqueLimit) -> String {
    format!("{} ({})", in_words(&limit.path), limit.says.name())
}

/// The bar tape of both sides.
pub fn tape(plan: &Plan) -> Sheet {
    let mut sheet = Sheet::default();
    let tape = &plan.worked.tape;
    sheet.line(Tone::Heading, "BAR TAPE");
    if !tape.listed {
        told(&mut sheet, "No tape is listed yet.");
        return sheet;
    }
    let sides = [tape.left.as_ref().ok(), tape.right.as_ref().ok()];
    if sides.iter().any(Option::is_some) {
        sheet.line(Tone::Heading, &format!("{:<50}{:>14}{:>14}", "", "left", "right"));
        for (name, pick) in TAPE_ROWS {
            let cell = |side: Option<&TapeSide>| side.map_or_else(|| "?".to_owned(), *pick);
            sheet.line(Tone::Plain, &format!("{name:<50}{:>14}{:>14}", cell(sides[0]), cell(sides[1])));
        }
        if let Ok(alike) = tape.alike() {
            sheet.line(
                if alike { Tone::InLine } else { Tone::Caution },
                if alike { "Both sides alike." } else { "The sides differ." },
            );
        }
        for (word, side) in [("left", sides[0]), ("right", sides[1])] {
            let Some(piece_mm) = side.and_then(|side| side.piece_mm) else { continue };
            let from = piece_said(side.and_then(TapeSide::piece_from_this_roll));
            told(&mut sheet, &format!("Piece behind the {word} lever: {} mm; {from}.", figure(piece_mm, 0)));
        }
    }
    for (word, side) in [("Left", &tape.left), ("Right", &tape.right)] {
        if let Err(missing) = side {
            warn(&mut sheet, &format!("{word}: {missing}."));
        }
    }
    sheet.line(Tone::Plain, "");
    quiet(
        &mut sheet,
        "By the bar's own curve and a round tube, one layer, pulled as the tape's stretch says; a hand is good to about 5 %.",
    );
    sheet
}

/// Whether the piece behind a lever can be cut from the roll, in words.
pub const fn piece_said(from_this_roll: Option<bool>) -> &'static str {
    match from_this_roll {
        Some(true) => "it can be cut from the end of this roll",
        Some(false) => "it does not come out of this roll",
        None => "whether it comes out of this roll is too close to call",
    }
}

/// A line of the table: its name, and the figure of a side.
pub type TapeRow = (&'static str, fn(&TapeSide) -> String);

/// What is told of the tape of a side, in the order in which it is wound.
pub const TAPE_ROWS: &[TapeRow] = &[
    ("turns from the end to the lever", |side| figure(side.turns_to_lever, 1)),
    ("turns from the lever to the stop", |side| figure(side.turns_to_stop, 1)),
    ("pitch", |side| format!("{} mm", figure(side.pitch_mm, 1))),
    ("overlap on a straight run", |side| format!("{} %", figure(side.overlap_percent, 0))),
    ("overlap outside of the tightest bend", |side| format!("{} %", figure(side.outside_percent, 0))),
    ("overlap inside of it", |side| format!("{} %", figure(side.inside_percent, 0))),
    ("stop, from the mount's centre", |side| format!("{} mm", figure(side.stop_mm, 0))),
    ("takes of the roll", |side| format!("{} ± {} mm", figure(side.used_mm, 0), figure(side.plus_minus_mm, 0))),
    ("of that, for passing the lever", |side| format!("{} mm", figure(side.at_lever_mm, 0))),
    ("left of the roll", |side| format!("{} mm", figure(side.left_mm, 0))),
];

/// The mass, by area, as weighed.
pub fn mass(plan: &Plan) -> Sheet {
    let mut sheet = Sheet::default();
    let mass = &plan.worked.mass;
    sheet.line(Tone::Heading, "MASS");
    for area in &mass.areas {
        let unknown = if area.unknown == 0 { String::new() } else { format!("  and {} of unknown mass", area.unknown) };
        let row =
            format!("{:<30}{:>10}{:>12}{unknown}", area.area.name(), grams(area.mass_g), within(area.plus_minus_g));
        sheet.line(Tone::Plain, &row);
    }
    if let Some(bottles_g) = mass.bottles_g {
        sheet.line(Tone::Plain, &format!("{:<30}{:>10}", "bottles", grams(bottles_g)));
    }
    match &mass.sum {
        Ok(sum) => {
            let row = format!("{:<30}{:>10}{:>12}", "together", grams(sum.mass_g), within(sum.plus_minus_g));
            sheet.line(Tone::Heading, &row);
            quiet(
                &mut sheet,
                &format!("If every claim errs the same way: {}. {}", within(sum.together_g), inclusions(mass)),
            );
        }
        Err(missing) => warn(&mut sheet, &format!("The sum is not known. {}.", sentence(&missing.to_string()))),
    }
    sheet.line(Tone::Plain, "");
    match &mass.balance {
        Ok(balance) => {
            let wheels = balance.wheels;
            told(
                &mut sheet,
                &format!(
                    "On the wheels, no rider: {} ± {} g in front, {} at the rear, {} % in front. Centre of mass {} mm ahead of \
                     the bottom bracket and {} mm above it.",
                    figure(wheels.front_g, 0),
                    figure(2.0 * wheels.front_u_g, 0),
                    grams(wheels.rear_g),
                    figure(100.0 * balance.front_share(), 1),
                    figure(balance.centre.x_mm, 0),
                    figure(balance.centre.y_mm, 0)
                ),
            );
            quiet(
                &mut sheet,
                &format!(
                    "{} % of the mass lies at points of the bike; where the rest lies is estimated.",
                    figure(100.0 * balance.at_points, 0)
                ),
            );
        }
        Err(missing) => warn(&mut sheet, &format!("Where it lies is not known. {}.", sentence(&missing.to_string()))),
    }
    if let Some(scale) = &mass.scale {
        sheet.line(Tone::Plain, "");
        match scale {
            Ok(scale) => against(&mut sheet, mass, scale),
            Err(missing) => warn(&mut sheet, &format!("The scale cannot be held against the list. {missing}.")),
        }
    }
    sheet
}

fn inclusions(mass: &Mass) -> String {
    let said = |wanted: Option<bool>| -> Vec<&'static str> {
        mass.inclusions.iter().filter(|(_, with)| *with == wanted).map(|(what, _)| what.name()).collect()
    };
    let mut words = Vec::new();
    for (head, wanted) in [("With", Some(true)), ("Without", Some(false)), ("Not said", None)] {
        let these = said(wanted);
        if !these.is_empty() {
            words.push(format!("{head}: {}.", these.join(", ")));
        }
    }
    words.join(" ")
}

fn against(sheet: &mut Sheet, mass: &Mass, scale: &ScaleAgainstList) {
    let text = format!(
        "The scale reads {} ± {} g, {} g {} the list; {} to {} g more agrees.",
        figure(scale.read_g, 0),
        figure(scale.plus_minus_g, 0),
        figure(scale.difference_g.abs(), 0),
        if scale.difference_g < 0.0 { "less than" } else { "more than" },
        figure(scale.agrees_from_g, 0),
        figure(scale.agrees_to_g, 0)
    );
    if scale.agrees() {
        for line in wrapped(&text, COLUMNS) {
            sheet.line(Tone::InLine, &line);
        }
        return;
    }
    warn(sheet, &text);
    for one in &scale.explanations {
        let names: Vec<&str> = one.items.iter().map(|at| mass.items[*at].name.as_str()).collect();
        indented(sheet, Tone::Plain, &format!("{} would explain it: {}", grams(one.mass_g), names.join(" + ")));
    }
    if scale.explanations.is_empty() {
        indented(sheet, Tone::Plain, "No one, two or three parts of the list explain it.");
    } else if scale.more > 0 {
        indented(sheet, Tone::Quiet, &format!("… and {} more sets", scale.more));
    }
}

/// Pressures of both tyres.
pub fn tyres(plan: &Plan) -> Sheet {
    let mut sheet = Sheet::default();
    let tyres = &plan.worked.tyres;
    sheet.line(Tone::Heading, "TYRES");
    for tyre in [&tyres.front, &tyres.rear] {
        one_tyre(&mut sheet, tyre);
    }
    quiet(
        &mut sheet,
        "No formula gives the best pressure. A liked pressure is carried over by load and width^1.5, which is to be trusted; \
         the rule of thumb (15 % of the width, an old chart by a fit) is the start of a trial. The limits are limits.",
    );
    sheet
}

fn one_tyre(sheet: &mut Sheet, tyre: &TyreAtWheel) {
    sheet.line(Tone::Plain, "");
    sheet.line(Tone::Heading, if tyre.side == Side::Front { "front" } else { "rear" });
    match &tyre.load {
        Ok(load) => told(
            sheet,
            &format!(
                "{} kg on the wheel ({} to {}), {}.",
                figure(load.mass_g / 1000.0, 1),
                figure(load.low_g / 1000.0, 1),
                figure(load.high_g / 1000.0, 1),
                load.from.name()
            ),
        ),
        Err(missing) => warn(sheet, &format!("What stands on it is not known: {missing}.")),
    }
    if let Ok(width_mm) = tyre.width_mm {
        let carried = if tyre.width_carried { ", worked out for this rim" } else { "" };
        told(sheet, &format!("{} mm wide{carried}.", figure(width_mm, 1)));
    }
    for limit in &tyre.limits {
        told(sheet, &format!("Limit of the {}: {}.", limit.whose, bar(limit.kpa)));
    }
    match &tyre.start {
        Ok(start) => start_of_trial(sheet, start),
        Err(missing) => warn(sheet, &format!("No pressure is named. {}.", sentence(&missing.to_string()))),
    }
    if let Some(set_kpa) = tyre.set_kpa {
        let mut text = format!("Set: {}", bar(set_kpa));
        if let (Ok(drop_mm), Ok(width_mm)) = (&tyre.drop_mm, &tyre.width_mm) {
            let _ = write!(
                text,
                "; it sinks {} mm, {} % of its width",
                figure(*drop_mm, 1),
                figure(100.0 * drop_mm / width_mm, 0)
            );
        }
        if let Ok(area_mm2) = tyre.contact_mm2 {
            let _ = write!(text, ", {} cm² on the road", figure(area_mm2 / 100.0, 1));
        }
        told(sheet, &format!("{text}."));
    }
    if let Ok(top_up) = tyre.top_up {
        let when = if top_up.days == 1 {
            "on the morning of every ride".into()
        } else {
            format!("every {} days", top_up.days)
        };
        let why = if top_up.by_reading { "by what it lost in the first night" } else { "by custom" };
        let sealant = top_up.sealant_on.map_or_else(String::new, |day| format!(" Sealant again by {day}."));
        told(sheet, &format!("Pump up {when}, {why}.{sealant}"));
    }
}

fn start_of_trial(sheet: &mut Sheet, start: &PressureStart) {
    let text = format!(
        "Start at {} ({} to {}), {}.",
        bar(start.kpa),
        bar(start.low_kpa),
        bar(start.high_kpa),
        start.from.name()
    );
    for line in wrapped(&text, COLUMNS) {
        sheet.line(Tone::InLine, &line);
    }
    if let Some(limit) = &start.held_by {
        warn(sheet, &format!("The load asks for more; the {} holds it at {}.", limit.whose, bar(limit.kpa)));
    }
    if start.raised_to_least {
        warn(sheet, "The load asks for less; the lowest pressure printed on the tyre holds it up.");
    }
    if start.share_assumed {
        quiet(sheet, "How the other bike stood on its wheels is taken to be as this one does.");
    }
}

/// The service plan, and how each service stands on a day, where one is asked.
pub fn service(build: &Build, plan: &ServicePlan, day: Option<Date>) -> Sheet {
    let mut sheet = Sheet::default();
    let title = build.job.title.as_ref().map_or("", |given| given.value.as_str());
    sheet.line(Tone::Heading, &shortened(&format!("SERVICE · {title}"), COLUMNS));
    match &plan.from {
        Ok(from) => told(&mut sheet, &format!("Counted from hand-over, {from}.")),
        Err(_) => warn(&mut sheet, "The day of hand-over is not known; nothing counts from it yet."),
    }
    match plan.km_a_year {
        Some(km) => told(&mut sheet, &format!("{} km in a year.", figure(km, 0))),
        None => told(&mut sheet, "By time alone: what is ridden in a year is not told."),
    }
    sheet.line(Tone::Plain, "");
    sheet.line(Tone::Heading, &format!("{:<12}{:<8}{:<34}{:<26}", "due", "", "what", "every"));
    for service in &plan.list {
        one_service(&mut sheet, service, day);
    }
    sheet.line(Tone::Plain, "");
    quiet(&mut sheet, &format!("{}.", sentence(SOURCE)));
    sheet
}

/// How often a service comes: "30 days or 400 km", "once".
pub fn every(service: &Service) -> String {
    match (service.interval.days, service.interval.km) {
        _ if service.once => "once".to_owned(),
        (Some(days), Some(km)) => format!("{days} days or {km} km"),
        (Some(days), None) => format!("{days} days"),
        (None, Some(km)) => format!("{km} km"),
        (None, None) => String::new(),
    }
}

fn one_service(sheet: &mut Sheet, service: &Service, day: Option<Date>) {
    let due = service.due_on.as_ref().map_or_else(|_| "?".to_owned(), Date::to_string);
    let standing = day.map(|day| service.standing(day));
    let (tone, word) = match standing {
        Some(Standing::Due) => (Tone::Stop, "due"),
        Some(Standing::Soon) => (Tone::Caution, "soon"),
        _ => (Tone::Plain, ""),
    };
    let every = every(service);
    let row = format!("{due:<12}{word:<8}{:<34}{every}", shortened(&service.name, 33));
    sheet.line(tone, row.trim_end());
    if let Some(limit) = &service.limit {
        indented(sheet, Tone::Quiet, &format!("Done with at: {limit}."));
    }
}

fn grams(value_g: f64) -> String {
    format!("{} g", figure(value_g, 0))
}

fn within(value_g: f64) -> String {
    format!("± {} g", figure(value_g, 0))
}

fn bar(value_kpa: f64) -> String {
    format!("{} bar", figure(value_kpa / 100.0, 1))
}

fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn warn(sheet: &mut Sheet, text: &str) {
    for line in wrapped(text, COLUMNS) {
        sheet.line(Tone::Caution, &line);
    }
}

fn quiet(sheet: &mut Sheet, text: &str) {
    for line in wrapped(text, COLUMNS) {
        sheet.line(Tone::Quiet, &line);
    }
}

fn indented(sheet: &mut Sheet, tone: Tone, text: &str) {
    for line in wrapped(text, COLUMNS - 4) {
        sheet.line(tone, &format!("    {line}"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use witnessmark_core::build::sample::sample;
    use witnessmark_core::service::service as plan_service;
    use witnessmark_core::{Build, plan};

    fn all(build: &Build) -> String {
        let plan = plan(build);
        let due = plan_service(build);
        [fasteners(&plan), tape(&plan), mass(&plan), tyres(&plan), service(build, &due, Some(date(2027, 6, 1)))]
            .iter()
            .map(Sheet::plain)
            .collect()
    }

    #[test]
    fn every_check_whose_findings_are_shown_is_there() {
        for id in [BOLT_CHECKS, TAPE_CHECKS, MASS_CHECKS, TYRE_CHECKS].concat() {
            assert!(witnessmark_core::check::by_id(id).is_some(), "{id}");
        }
    }

    #[test]
    fn no_line_is_wider_than_eighty_columns() {
        let mut odd = sample();
        odd.parts.bottle_cage.make(&"very-long".repeat(4)).torque_nm = Some(2.0.into());
        odd.parts.bar.make("").stem_clamp_torque_nm = None;
        odd.parts.saddle.make("").mass_g = None;
        odd.job.title = Some("a title that nobody would type, and yet one day somebody does, at great length".into());
        for build in [&sample(), &Build::default(), &odd] {
            for line in all(build).lines() {
                assert!(line.chars().count() <= COLUMNS, "{} columns: {line}", line.chars().count());
            }
        }
    }

    #[test]
    fn the_sample_says_its_torque_its_turns_its_mass_its_pressure_and_its_service() {
        let mut build = sample();
        build.job.handed_over_on = Some(date(2027, 3, 14).into());
        let text = all(&build);
        for said in [
            "face plate of the stem",
            "crosswise, in three rises",
            "turns from the end to the lever",
            "Both sides alike.",
            "On the wheels, no rider",
            "Limit of the tyre: 6.9 bar.",
            "2027-04-13  due     wear of the chain",
        ] {
            assert!(text.contains(said), "no «{said}» in\n{text}");
        }
    }

    #[test]
    fn an_empty_document_says_what_it_lacks() {
        let text = all(&Build::default());
        for said in ["No part with a bolt is listed yet.", "No tape is listed yet.", "No pressure is named."] {
            assert!(text.contains(said), "no «{said}» in\n{text}");
        }
    }

    #[test]
    fn a_silent_part_is_named_and_the_torque_stands_as_a_bound() {
        let mut build = sample();
        build.parts.bar.make("").stem_clamp_torque_nm = None;
        let text = fasteners(&plan(&build)).plain();
        assert!(text.contains("≤ 5") && text.contains("not known: bar: stem clamp torque."), "{text}");
    }
}
