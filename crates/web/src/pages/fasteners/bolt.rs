//! One bolt: the torque in large figures, whose limit it is, what turns it, what it pulls, what was done, and what is known
//! of the screw.

use crate::loaded::Loaded;
use crate::pages::build::capital;
use crate::pages::build::field::{Note, shown};
use crate::pages::gears::place_of;
use crate::words;
use maud::{Markup, html};
use witnessmark_core::build::FastenerState;
use witnessmark_core::compute::{Fastener, Preload, TorqueLimit};
use witnessmark_core::field::{Choice, Kind};
use witnessmark_core::finding::figure;
use witnessmark_core::model::{Missing, in_words};
use witnessmark_core::stand::Work;

/// The facts of a screw that may be filled in here.
const SCREW: [&str; 5] = ["thread", "strength", "bit", "compound", "less"];

pub(super) fn card(loaded: &Loaded, work: &Work, bolt: &Fastener) -> Markup {
    let step = work.steps.iter().find(|step| step.bolts.contains(&bolt.id));
    let many = bolt.count.filter(|count| *count > 1);
    html! {
        article.bolt-card id={ "bolt." (bolt.id) } data-at=(bolt.path()) {
            div.bolt-head {
                h3 { @if let Some(many) = many { (many) " × " (bolt.name) } @else { (capital(&bolt.name)) } }
                (torque(bolt))
                (state(bolt))
            }
            dl.facts {
                (limits(loaded, bolt))
                dt { "with" }
                dd {
                    @match &bolt.bit { Some(bit) => { b { (bit) } } None => { span.quiet { "what turns it is not told" } } }
                    "; " (bolt.compound.name()) " on the thread"
                    @if bolt.compound_by_custom { small { " by custom; nobody told it" } }
                    @if let Some(between) = bolt.between { "; " (between.name()) " between the faces" }
                }
                @if let Some(order) = bolt.order { dt { "order" } dd { (order) } }
                @if let Some(caution) = bolt.caution { dt { "watch" } dd { b { (caution) } } }
                @if let Some(preload) = &bolt.preload { dt { "pull of each" } dd { (pull(loaded, preload)) } }
                dt { "done" }
                dd { (done(bolt)) }
            }
            div.bolt-foot {
                @if let Some(step) = step {
                    p.links { a href={ "/builds/" (loaded.id) "/stand#step-" (step.key) } { "record it at the stand: " (step.does) } }
                }
                details {
                    summary { "the screw: thread, class, bit, compound" span.aside { " of " (bolt.name) } }
                    div.fields { @for key in SCREW { (shown(loaded, &format!("{}.{key}", bolt.path()), Note::None).unwrap_or_default()) } }
                }
            }
        }
    }
}

fn nm(value: f64) -> String {
    words::with_unit(Kind::Torque, value)
}

fn torque(bolt: &Fastener) -> Markup {
    html! {
        p.torque {
            @match (bolt.torque_nm(), bolt.lowest()) {
                (Ok(value), _) => { b { (words::plain(Kind::Torque, value)) } " N·m" }
                (Err(_), Some(limit)) => { span.says.stop { "not known" } small { " never above " (nm(limit.nm)) } }
                (Err(_), None) => { span.says.stop { "not known" } }
            }
        }
    }
}

fn state(bolt: &Fastener) -> Markup {
    let sure = bolt.torque_nm().is_ok();
    html! {
        @match (bolt.state(), bolt.witness()) {
            (None, _) => p.bolt-state { "not touched yet" },
            (Some(FastenerState::Open), _) => p.bolt-state.open { "open" },
            (Some(FastenerState::Closed), Some(true)) if sure => p.bolt-state.closed { "at its torque, line painted" },
            (Some(FastenerState::Closed), Some(true)) => p.bolt-state.doubt { "tightened, to a torque that is not known" },
            (Some(FastenerState::Closed), _) => p.bolt-state.doubt { "tightened, no line painted" },
        }
    }
}

/// Every limit with its owner and where the figure comes from, the one that counts first; then who is silent.
fn limits(loaded: &Loaded, bolt: &Fastener) -> Markup {
    html! {
        dt { "whose limit" }
        dd {
            ul.plain {
                @for (place, limit) in bolt.limits.iter().enumerate() {
                    li {
                        @if place == 0 { b { (limit_said(limit)) } } @else { (limit_said(limit)) }
                        " " a href=(place_of(&limit.path, loaded)) { (in_words(&limit.path)) }
                        small { ", " (source(loaded, &limit.path)) }
                    }
                }
                @for path in &bolt.silent.paths {
                    li { span.says.caution { "not known: " } a href=(place_of(path, loaded)) { (in_words(path)) } }
                }
                @if bolt.limits.is_empty() && bolt.silent == Missing::default() { li { span.says.caution { "no part that it joins states one" } } }
            }
        }
    }
}

fn limit_said(limit: &TorqueLimit) -> String {
    format!("{} {}", nm(limit.nm), limit.says.name())
}

/// Where a fact comes from, in the document's words.
fn source(loaded: &Loaded, path: &str) -> String {
    let origin = |path: &str| loaded.build.get(path).ok().flatten();
    let of_part = || {
        let part = path.rsplit_once('.')?.0;
        origin(&format!("{part}.facts_from")).map(|leaf| leaf.typed)
    };
    let told = origin(path).and_then(|leaf| leaf.origin).map(|origin| origin.name().to_owned());
    told.or_else(of_part).unwrap_or_else(|| "nobody said from where".to_owned())
}

fn pull(loaded: &Loaded, preload: &Result<Preload, Missing>) -> Markup {
    let kilonewtons = |newtons: f64| figure(newtons / 1000.0, 1);
    match preload {
        Err(missing) => html! {
            "not known"
            @for path in &missing.paths { ", for want of " a href=(place_of(path, loaded)) { (in_words(path)) } }
            @if missing.paths.is_empty() { ": " (missing) }
        },
        Ok(preload) => html! {
            (interval(preload))
            b { (kilonewtons(preload.pull_n.low)) " to " (kilonewtons(preload.pull_n.high)) " kN" }
            " at " (nm(preload.torque_nm))
            @match (&preload.proof_n, preload.most_of_proof().ok()) {
                (Ok(proof), Some(share)) => {
                    "; it bears " (kilonewtons(*proof)) " kN, "
                    @if share > 1.0 { span.says.stop { "and may be pulled to " (figure(100.0 * share, 0)) " % of that" } }
                    @else { "so at most " (figure(100.0 * share, 0)) " % of that" }
                }
                (Err(missing), _) => { "; what it bears is not known" @for path in &missing.paths { ", for want of " a href=(place_of(path, loaded)) { (in_words(path)) } } }
                (Ok(_), None) => {}
            }
            small {
                " friction " (figure(preload.friction.low, 2)) " to " (figure(preload.friction.high, 2))
                ", wrench ± " (figure(preload.wrench_percent, 0)) " %"
            }
        },
    }
}

/// The pull as an interval on a line that ends beyond what the screw bears; the figures stand beside it.
fn interval(preload: &Preload) -> Markup {
    let Ok(proof_n) = preload.proof_n else { return html! {} };
    let whole = proof_n.max(preload.pull_n.high) * 1.15;
    let at = |newtons: f64| ((4.0 + newtons / whole * 152.0) * 10.0).round() / 10.0;
    let (low, high, proof) = (at(preload.pull_n.low), at(preload.pull_n.high), at(proof_n));
    html! {
        svg.pull viewBox="0 0 160 20" aria-hidden="true" {
            path.span d="M4 10H156M4 4v12" {}
            path.between.over[preload.pull_n.high > proof_n] d={ "M" (low) " 10H" (high) } {}
            path.bears d={ "M" (proof) " 1v18" } {}
        }
    }
}

fn done(bolt: &Fastener) -> Markup {
    let record = bolt.record.as_ref();
    let said = |given: Option<&witnessmark_core::field::Given<String>>| given.map(|given| given.value.clone());
    let by = record.and_then(|record| said(record.by.as_ref()));
    let on = record.and_then(|record| record.on.as_ref()).map(|given| given.value.to_string());
    let again = record.and_then(|record| said(record.checked_by.as_ref()));
    html! {
        @match bolt.applied_nm() {
            Some(value) => { b { (nm(value)) } " applied" }
            None => { span.quiet { "nothing written down" } }
        }
        @if let Some(wrench) = &bolt.wrench {
            ", with the wrench " b { (wrench.name) }
            @match wrench.due_on {
                Some(day) => { small { " due for calibration on " (day) } }
                None => { small { " no day of calibration is told" } }
            }
            @if wrench.was_due == Some(true) { span.says.stop { " it was due when it was used" } }
            @if wrench.in_range == Some(false) { span.says.stop { " outside its range" } }
        }
        @if by.is_some() || on.is_some() { "; " (capital(&[by, on].into_iter().flatten().collect::<Vec<_>>().join(", "))) }
        @if let Some(again) = again { "; looked at again by " (again) }
        @match bolt.witness() {
            Some(true) => { "; line painted" }
            Some(false) => { "; " b { "no line" } }
            None => {}
        }
    }
}
