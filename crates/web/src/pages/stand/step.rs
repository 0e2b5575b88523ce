//! One step: its number in large figures, how, with what, its gate, what it hides, and where it is recorded.

use crate::loaded::Loaded;
use crate::pages::build::address;
use crate::pages::build::field::{Note, shown_at};
use crate::{sign, words};
use maud::{Markup, html};
use witnessmark_core::compute::{Fastener, PlannedNumber};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::About;
use witnessmark_core::model::in_words;
use witnessmark_core::number::{self, Number, Side};
use witnessmark_core::part::Compound;
use witnessmark_core::stand::{Against, GateNow, Stands, StepNow, Work};

/// The id of a step's element, which is also its address on the page.
pub(super) fn id_of(key: &str) -> String {
    format!("step-{key}")
}

/// The step at this place in the work.
pub(super) fn section(loaded: &Loaded, work: &Work, at: usize) -> Markup {
    let Some(step) = work.steps.get(at) else { return html! {} };
    let id = id_of(&step.key);
    let before = at.checked_sub(1).and_then(|at| work.steps.get(at));
    let after = work.steps.get(at + 1);
    let keyed = !step.reads.is_empty() || !step.bolts.is_empty();
    html! {
        section.step id=(id) aria-labelledby={ (id) "-title" } data-step=(step.key) {
            p.where { "step " (at + 1) " of " (work.steps.len()) " · " (step.phase.name()) }
            h2 id={ (id) "-title" } tabindex="-1" { (step.does) }
            @if let Some(now) = &step.gate { (gate(loaded, work, step, now)) }
            @if !step.reads.is_empty() {
                div.hits { @for (number, side) in &step.reads { (hit(loaded, step, number, *side)) } }
            }
            @if keyed { (keypad()) }
            p.how { (step.step.how) }
            @if !step.step.caution.is_empty() { p.caution { b { "Caution. " } (step.step.caution) } }
            dl.with {
                dt { "with" } dd { (step.step.tool) }
                @if !step.step.compound.is_empty() { dt { "compound" } dd { (step.step.compound) } }
            }
            @if !step.bolts.is_empty() { (bolts(loaded, step)) }
            @if !step.hides.is_empty() { (hides(loaded, step)) }
            (state(loaded, step))
            p.links { a href={ "/builds/" (loaded.id) "/photos?place=" (step.key) } { "photos of this step" } }
            nav.steps aria-label="Steps" {
                @if let Some(before) = before { a href={ "#" (id_of(&before.key)) } { "back" } }
                a href="#stand-list" { "all steps" }
                @if let Some(after) = after { a.on href={ "#" (id_of(&after.key)) } { "next: " (after.does) } }
            }
        }
    }
}

/// A field of a step's own record, or one that is read at it.
fn at(loaded: &Loaded, step: &StepNow, path: &str) -> Markup {
    shown_at(loaded, path, &step.key, Note::None).unwrap_or_default()
}

fn of_step(loaded: &Loaded, step: &StepNow, field: &str) -> Markup {
    at(loaded, step, &format!("steps.{}.{field}", step.key))
}

/// A number to hit, in large figures, and where it is read.
fn hit(loaded: &Loaded, step: &StepNow, number: &Number, side: Side) -> Markup {
    let Some(line) = loaded.plan.numbers.of(number, side) else { return html! {} };
    let address = address::of_number(number.id, side);
    html! {
        div class={ "hit " (sign::class_of(line.verdict)) } data-at=(address) {
            p.name { (number.name) @if side != Side::None { ", " b { (side.word()) } } }
            p.target { (target(line)) }
            p.small { (beside(line)) }
            div.read { (at(loaded, step, &format!("measured.{address}.value"))) (sign::sign(line)) }
            p.take { (number.how) }
        }
    }
}

/// The number to hit: as planned, else as asked.
fn target(line: &PlannedNumber) -> Markup {
    let value = line.planned.as_ref().ok().copied().or_else(|| line.asked.map(|asked| asked.value));
    let Some(value) = value else {
        return html! { span.lacks { "not known" } };
    };
    html! {
        b { (words::plain(line.number.kind, value)) }
        span.unit { (line.number.kind.unit()) " ± " (words::plain(line.number.kind, line.tolerance)) }
    }
}

/// What the large figure is, and what else is known.
fn beside(line: &PlannedNumber) -> Markup {
    let kind = line.number.kind;
    let asked = line.asked.map(|asked| words::with_unit(kind, asked.value));
    match (&line.planned, asked) {
        (Ok(_), Some(asked)) => html! { "planned; asked for " (asked) },
        (Ok(_), None) => html! { "planned" },
        (Err(_), Some(_)) => html! { "as asked; the plan does not know it" },
        (Err(missing), None) => html! { (missing) },
    }
}

fn gate(loaded: &Loaded, work: &Work, step: &StepNow, now: &GateNow) -> Markup {
    let class = match now.stands {
        Stands::Shut | Stands::OpenedInDoubt | Stands::PassedBy => "gate shut",
        Stands::Ready => "gate ready",
        Stands::Opened | Stands::OpenedAgainst => "gate opened",
    };
    let head = match now.stands {
        Stands::Shut => "The gate is shut",
        Stands::Ready => "The gate may be opened",
        Stands::Opened => "The gate is open",
        Stands::OpenedAgainst => "The gate was opened although something speaks against it",
        Stands::OpenedInDoubt => "The gate is open, and something speaks against it",
        Stands::PassedBy => "The step is done, and nobody opened its gate",
    };
    html! {
        div class=(class) {
            h3 { (head) ": " (now.gate.protects) " cannot be undone" }
            @if !now.against.is_empty() {
                ul { @for one in &now.against { li { (against(loaded, work, one)) } } }
                (of_step(loaded, step, "opened_against"))
            }
            (of_step(loaded, step, "opened_by"))
        }
    }
}

/// What speaks against it, with the way to where it can be mended.
fn against(loaded: &Loaded, work: &Work, one: &Against) -> Markup {
    html! {
        (one.says)
        @if let Some(about) = one.about.first() {
            " " a href=(mended_at(loaded, work, about)) { "see" }
        }
    }
}

/// Where something is mended: the step on this page that reads or records it, else its place on the build's page.
fn mended_at(loaded: &Loaded, work: &Work, about: &About) -> String {
    let reads = |step: &&StepNow| match about {
        About::Number(id, side) => step.reads.iter().any(|(number, at)| number.id == *id && at == side),
        About::Part(_) | About::Field(_) => false,
    };
    let address = about.address();
    let own = address.strip_prefix("steps.").and_then(|rest| rest.split_once('.')).map(|(key, _)| key);
    let key = own.or_else(|| work.steps.iter().find(reads).map(|step| step.key.as_str()));
    let bolt = address.starts_with("fasteners.").then_some("torque-round");
    match key.or(bolt) {
        Some(key) => format!("#{}", id_of(key)),
        None => format!("/builds/{}{}", loaded.id, address::anchor(&address)),
    }
}

/// What disappears under this step.
fn hides(loaded: &Loaded, step: &StepNow) -> Markup {
    let missing = !step.first.is_empty();
    let here = |about: &About| matches!(about, About::Number(id, side) if step.reads.iter().any(|(number, at)| number.id == *id && at == side));
    html! {
        div class=(if missing { "hides missing" } else { "hides" }) {
            h3 { @if missing { "Last chance: read this first" } @else { "Read already, and hidden by this step" } }
            div.fields {
                @for about in step.hides.iter().filter(|about| !here(about)) { (hidden(loaded, step, about)) }
            }
        }
    }
}

fn hidden(loaded: &Loaded, step: &StepNow, about: &About) -> Markup {
    match about {
        About::Number(id, side) => {
            let Some(number) = number::by_id(id) else { return html! {} };
            html! {
                div.one {
                    p.name { (number.name) @if *side != Side::None { ", " (side.word()) } }
                    (at(loaded, step, &format!("measured.{}.value", address::of_number(id, *side))))
                }
            }
        }
        About::Part(path) | About::Field(path) => html! {
            div.one { p.name { (in_words(path)) } (at(loaded, step, path)) }
        },
    }
}

/// The bolts that it tightens.
fn bolts(loaded: &Loaded, step: &StepNow) -> Markup {
    let list = step.bolts.iter().filter_map(|id| loaded.plan.worked.fasteners.of(id));
    html! {
        div.bolts { @for bolt in list { (one_bolt(loaded, step, bolt)) } }
    }
}

fn one_bolt(loaded: &Loaded, step: &StepNow, bolt: &Fastener) -> Markup {
    let path = bolt.path();
    let count = bolt.count.filter(|count| *count > 1);
    html! {
        div.bolt data-at=(path) {
            p.name { (bolt.name) @if let Some(count) = count { ", " (count) " of them" } }
            p.target {
                @match (bolt.torque_nm(), bolt.lowest()) {
                    (Ok(nm), _) => { b { (words::plain(witnessmark_core::field::Kind::Torque, nm)) } span.unit { "N·m" } }
                    (Err(_), Some(limit)) => {
                        span.lacks { "not known" }
                        span.unit { "never over " (words::plain(witnessmark_core::field::Kind::Torque, limit.nm)) " N·m" }
                    }
                    (Err(_), None) => { span.lacks { "not known" } }
                }
            }
            p.small {
                @if let Some(limit) = bolt.lowest() { (limit.says.name()) ", " (in_words(&limit.path)) ". " }
                @if let Err(missing) = bolt.torque_nm() { (missing) ". " }
                (compound(bolt)) ". "
                @if let Some(bit) = &bolt.bit { "Bit: " (bit) ". " }
                @if let Some(order) = bolt.order { (order) " " }
                @if let Some(caution) = bolt.caution { b { (caution) } }
            }
            div.fields {
                @for field in ["applied", "wrench", "witness"] { (at(loaded, step, &format!("{path}.{field}"))) }
            }
            (at(loaded, step, &format!("{path}.state")))
        }
    }
}

fn compound(bolt: &Fastener) -> String {
    let word = if bolt.compound == Compound::Dry { "Thread dry" } else { "On the thread: " };
    let what = if bolt.compound == Compound::Dry { "" } else { bolt.compound.name() };
    let custom = if bolt.compound_by_custom { " (custom; nobody told it)" } else { "" };
    format!("{word}{what}{custom}")
}

/// Where the step is recorded.
fn state(loaded: &Loaded, step: &StepNow) -> Markup {
    let signed = [
        step.record.by.as_ref().map(|given| given.value.clone()),
        step.record.on.as_ref().map(|given| given.value.to_string()),
    ];
    let signed: Vec<String> = signed.into_iter().flatten().collect();
    html! {
        div.record {
            (of_step(loaded, step, "state"))
            @if step.state().is_some() && !signed.is_empty() { p.small { (signed.join(", ")) } }
            div.fields { (of_step(loaded, step, "reason")) (of_step(loaded, step, "note")) }
        }
    }
}

/// Keys for a knuckle: they type into the reading that is empty first, or the one that was touched last.
fn keypad() -> Markup {
    html! {
        div.keypad role="group" aria-label="Keys" {
            @for key in ["7", "8", "9", "4", "5", "6", "1", "2", "3", ",", "0", "−"] {
                button type="button" tabindex="-1" data-do="key" data-key=(key) { (key) }
            }
            button type="button" tabindex="-1" data-do="key" data-key="back" aria-label="take the last figure away" { "⌫" }
            button.enter type="button" tabindex="-1" data-do="key" data-key="enter" { "write it down" }
        }
    }
}
