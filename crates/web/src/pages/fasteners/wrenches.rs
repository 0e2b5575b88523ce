//! The wrenches: what each is good for, how far it may be off, and when it is due. One that was used and is not told has its
//! place here too.

use crate::loaded::Loaded;
use crate::pages::build::field::{Note, shown};
use maud::{Markup, html};
use std::collections::BTreeSet;
use witnessmark_core::Build;

/// The facts of a wrench.
const FACTS: [&str; 7] = ["low", "high", "plus_minus", "calibrated_on", "good_for_days", "serial", "certificate"];

pub(super) fn section(loaded: &Loaded) -> Markup {
    let used = loaded.plan.worked.fasteners.list.iter().filter_map(|bolt| bolt.wrench.as_ref());
    let mut names: BTreeSet<&str> = loaded.build.wrenches.keys().map(String::as_str).collect();
    names.extend(used.map(|used| used.name.as_str()));
    html! {
        section.area #wrenches aria-labelledby="wrenches-title" {
            h2 #wrenches-title { "Wrenches" }
            @if names.is_empty() { p.quiet { "No wrench is named yet. One that is named at a bolt has its place here." } }
            @for name in names { (one(loaded, name)) }
        }
    }
}

fn one(loaded: &Loaded, name: &str) -> Markup {
    let path = |fact: &str| format!("wrenches.{name}.{fact}");
    // What was typed at a bolt may be no name at all.
    if Build::field(&path("low")).is_err() {
        return html! { p { b { (name) } " is no name of a wrench: small letters, figures and hyphens make one." } };
    }
    let known = loaded.build.wrenches.contains_key(name);
    let text = |fact: &str| loaded.text(&path(fact)).map(str::to_owned);
    html! {
        details.wrench open[!known] {
            summary {
                b { (name) }
                @if known {
                    " " (text("low").unwrap_or_else(|| "?".into())) " to " (text("high").unwrap_or_else(|| "?".into())) " N·m"
                    @match text("calibrated_on") {
                        Some(day) => { ", calibrated on " (day) }
                        None => { ", " span.says.caution { "no day of calibration" } }
                    }
                } @else { " " span.says.caution { "was used, and nothing is told of it" } }
            }
            div.fields { @for fact in FACTS { (shown(loaded, &path(fact), Note::None).unwrap_or_default()) } }
        }
    }
}
