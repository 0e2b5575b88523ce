//! The builds of the workshop to choose one from: those changed last, and where they are many, a field to narrow them by.

use crate::app::App;
use crate::loaded::Loaded;
use crate::register::{Found, LONGEST, Sought};
use maud::{Markup, html};
use witnessmark_store::{BuildId, StoreError};

/// How many builds stand in the list; the others come into it by words.
const LISTED: usize = 100;

/// Builds to choose from.
pub(super) struct Choices {
    words: String,
    found: Found,
}

impl Choices {
    /// Those that meet the words.
    pub(super) async fn new(app: &App, words: &str) -> Result<Self, StoreError> {
        let sought = Sought { words: words.to_owned(), before: None, most: LISTED };
        Ok(Choices { words: words.to_owned(), found: app.find(sought).await? })
    }

    /// The same without one of them.
    pub(super) fn without(mut self, id: &BuildId) -> Self {
        let many = self.found.lines.len();
        self.found.lines.retain(|line| line.id != *id);
        self.found.all -= many - self.found.lines.len();
        self
    }

    /// Whether the workshop has none to choose from.
    pub(super) fn are_none(&self) -> bool {
        self.found.all == 0 && self.words.trim().is_empty()
    }

    /// The options of a `select`; the chosen one is among them, whatever the words are.
    pub(super) fn options(&self, chosen: Option<&Loaded>) -> Markup {
        let is_chosen = |id: &BuildId| chosen.is_some_and(|chosen| chosen.id == *id);
        let apart = chosen.filter(|_| !self.found.lines.iter().any(|line| is_chosen(&line.id)));
        html! {
            option value="" selected[chosen.is_none()] { "choose" }
            @if let Some(chosen) = apart { option value=(chosen.id) selected { (chosen.title()) } }
            @for line in &self.found.lines { option value=(line.id) selected[is_chosen(&line.id)] { (line.title()) } }
        }
    }

    /// The field to narrow them by, for the form in which the `select` stands; nothing where all are in the list.
    pub(super) fn narrow(&self) -> Markup {
        let many = self.found.lines.len();
        html! {
            @if many < self.found.all || !self.words.is_empty() {
                fieldset.narrow {
                    legend { "Find a build to choose" }
                    label for="find" { "words of its title, rider, event, day or state" }
                    input #find name="find" value=(self.words) autocomplete="off" maxlength=(LONGEST) aria-describedby="find-says";
                    button formnovalidate { "Find" }
                    p.quiet #find-says role="status" {
                        @if self.found.all == 0 { "No build meets all of these words." }
                        @else if many < self.found.all { (self.found.all) " builds; the " (many) " changed last stand in the list." }
                        @else { (crate::words::count(many, "build")) " in the list." }
                    }
                }
            }
        }
    }
}
