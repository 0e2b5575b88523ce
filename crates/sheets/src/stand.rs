//! The work at the stand in eighty columns: the steps in order, what each one hits, and what holds its gate.

use crate::text::{COLUMNS, Sheet, Tone, told, wrapped};
use witnessmark_core::build::StepState;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::figure;
use witnessmark_core::number::{Number, Side};
use witnessmark_core::plan::Plan;
use witnessmark_core::stand::{Against, Phase, Stands, StepNow, Work};

/// How many reasons of a shut gate are printed before the rest is counted.
const REASONS: usize = 4;

/// Every step in working order.
pub fn stand(plan: &Plan, work: &Work) -> Sheet {
    let mut sheet = Sheet::default();
    let (over, all) = work.over();
    sheet.line(Tone::Heading, &format!("AT THE STAND: {over} of {all} steps over"));
    let mut phase: Option<Phase> = None;
    for step in &work.steps {
        if phase != Some(step.phase) {
            phase = Some(step.phase);
            sheet.line(Tone::Plain, "");
            sheet.line(Tone::Heading, step.phase.name());
        }
        one_step(&mut sheet, plan, step);
    }
    if !work.strays.is_empty() {
        sheet.line(Tone::Plain, "");
        told(&mut sheet, &format!("Kept under names that no step of this bike has: {}.", work.strays.join(", ")));
    }
    sheet
}

fn one_step(sheet: &mut Sheet, plan: &Plan, step: &StepNow) {
    let (box_, tone) = match step.state() {
        Some(StepState::Done) => ("[x]", Tone::InLine),
        Some(StepState::Open) => ("[~]", Tone::Stop),
        Some(StepState::Cannot) => ("[-]", Tone::Caution),
        None => ("[ ]", Tone::Plain),
    };
    let signed = [
        step.record.by.as_ref().map(|given| given.value.clone()),
        step.record.on.as_ref().map(|given| given.value.to_string()),
    ];
    let signed: Vec<String> = signed.into_iter().flatten().collect();
    let signed =
        if step.state().is_some() && !signed.is_empty() { format!(" ({})", signed.join(", ")) } else { String::new() };
    indented(sheet, tone, &format!("{box_} "), &format!("{}{signed}", step.does));
    for (number, side) in &step.reads {
        indented(sheet, Tone::Plain, "      ", &to_hit(plan, number, *side));
    }
    for bolt in step.bolts.iter().filter_map(|id| plan.worked.fasteners.of(id)).filter(|_| step.key != "torque-round") {
        let torque = match (bolt.torque_nm(), bolt.lowest()) {
            (Ok(nm), _) => format!("{} N·m", figure(nm, 1)),
            (Err(_), Some(limit)) => format!("torque not known, never over {} N·m", figure(limit.nm, 1)),
            (Err(_), None) => "torque not known".to_owned(),
        };
        indented(sheet, Tone::Plain, "      ", &format!("{}: {torque}", bolt.name));
    }
    if !step.step.caution.is_empty() {
        indented(sheet, Tone::Caution, "      ", step.step.caution);
    }
    if step.state().is_none() && !step.first.is_empty() {
        reasons(sheet, "first, as it disappears: ", &step.first);
    }
    let Some(now) = &step.gate else { return };
    match now.stands {
        Stands::Shut => reasons(sheet, "gate shut: ", &now.against),
        Stands::Ready => {
            indented(sheet, Tone::InLine, "      ", &format!("the gate before {} may be opened", now.gate.protects));
        }
        Stands::Opened => indented(sheet, Tone::InLine, "      ", "gate opened"),
        Stands::OpenedAgainst => reasons(sheet, "gate opened against: ", &now.against),
        Stands::OpenedInDoubt => reasons(sheet, "gate opened, and this speaks against it: ", &now.against),
        Stands::PassedBy => indented(sheet, Tone::Stop, "      ", "done, and nobody opened its gate"),
    }
}

/// A number with what it is to be, and what was read.
fn to_hit(plan: &Plan, number: &Number, side: Side) -> String {
    let side_word = if side == Side::None { String::new() } else { format!(", {}", side.word()) };
    let Some(line) = plan.numbers.of(number, side) else { return format!("{}{side_word}", number.name) };
    let unit = match number.kind.unit() {
        sign @ ("" | "°") => sign.to_owned(),
        unit => format!(" {unit}"),
    };
    let wanted = line.planned.as_ref().ok().copied().or_else(|| line.asked.map(|asked| asked.value));
    let wanted = wanted.map_or_else(
        || "not known".to_owned(),
        |value| format!("{}{unit} ± {}", figure(value, 1), figure(line.tolerance, 1)),
    );
    let read =
        line.measured.as_ref().map_or_else(String::new, |read| format!(", read {}{unit}", figure(read.value, 1)));
    format!("{}{side_word}: {wanted}{read}", number.name)
}

fn reasons(sheet: &mut Sheet, head: &str, against: &[Against]) {
    let said = |one: &Against| one.says.trim_end_matches('.').to_owned();
    let mut words: Vec<String> = against.iter().take(REASONS).map(said).collect();
    if against.len() > REASONS {
        words.push(format!("and {} more", against.len() - REASONS));
    }
    indented(sheet, Tone::Stop, "      ", &format!("{head}{}", words.join("; ")));
}

fn indented(sheet: &mut Sheet, tone: Tone, head: &str, text: &str) {
    let columns = COLUMNS - head.chars().count();
    for (at, line) in wrapped(text, columns).iter().enumerate() {
        let start = if at == 0 { head.to_owned() } else { " ".repeat(head.chars().count()) };
        sheet.line(tone, &format!("{start}{line}"));
    }
}
