//! A setting that is tried on: typed into a page, kept in its address, and never written into the build.

use super::super::build::capital;
use crate::loaded::Loaded;
use maud::{Markup, html};
use witnessmark_core::{Plan, plan};

/// A setting tried on.
pub(crate) struct Tried {
    /// The text as typed.
    typed: String,
    /// Why it cannot be tried.
    refused: Option<String>,
    /// The build with it, worked out; none where nothing is tried or it cannot be.
    plan: Option<Plan>,
}

impl Tried {
    /// The build with a text put into a field; an empty text tries nothing.
    pub(crate) fn on(loaded: &Loaded, path: &str, typed: &str) -> Self {
        let typed = typed.trim().to_owned();
        if typed.is_empty() {
            return Tried { typed, refused: None, plan: None };
        }
        let mut build = loaded.build.clone();
        let put = witnessmark_intake::leaf(path, &typed)
            .map_err(|problem| problem.sentence())
            .and_then(|leaf| build.set(path, Some(leaf)).map_err(|_| "there is no such field".to_owned()));
        match put {
            Ok(()) => Tried { typed, refused: None, plan: Some(plan(&build)) },
            Err(why) => Tried { typed, refused: Some(capital(&format!("{why}."))), plan: None },
        }
    }

    /// The plan to show: with what is tried, else the build's own.
    pub(crate) fn plan<'a>(&'a self, loaded: &'a Loaded) -> &'a Plan {
        self.plan.as_ref().unwrap_or(&loaded.plan)
    }

    /// Something is tried, and it can be.
    pub(crate) fn is_tried(&self) -> bool {
        self.plan.is_some()
    }

    /// The field to type into, with what was typed, and beside it why it cannot be tried.
    pub(crate) fn field(&self, name: &str, label: &str, now: &str) -> Markup {
        let shown = if self.typed.is_empty() { now } else { &self.typed };
        let note = format!("note-{name}");
        html! {
            div.field.refused[self.refused.is_some()] {
                label for=(name) { (label) }
                input.figure id=(name) name=(name) value=(shown) inputmode="decimal" autocomplete="off" maxlength="40"
                    aria-invalid=[self.refused.as_ref().map(|_| "true")] aria-describedby=[self.refused.as_ref().map(|_| &note)];
                @if let Some(why) = &self.refused { div.note id=(note) role="alert" { p { (why) } } }
            }
        }
    }
}
