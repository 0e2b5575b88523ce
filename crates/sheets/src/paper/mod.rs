//! Sheets for the printer, as PDF made in this program: one file a sheet, and one small layer that lays them all out.
//!
//! The same build gives the same bytes: no clock is asked and nothing is drawn by lot.
#![allow(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    reason = "places on a page: counts of lines and labels are small, and a PDF knows no finer number than an f32"
)]

mod face;
mod page;
mod photos;
mod picture;
mod sheet;
mod structure;
mod table;
mod write;

mod bench;
mod cockpit_card;
mod hand_over;
mod label;
mod order;
mod quote;
mod torque;
mod wound_bar;

#[cfg(test)]
mod tests;

use crate::words::said;
use face::Face;
pub use page::Paper;
pub use photos::{PHOTO_SHEETS, photos_on};
use sheet::{Head, Sheet};
use std::fmt;
use witnessmark_core::{Build, Plan};
pub use write::Unwritten;

/// What a sheet is made from.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The document.
    pub build: &'a Build,
    /// The document worked out.
    pub plan: &'a Plan,
    /// The address of the build's record, and its last change, where it is kept by a workshop's server.
    pub record: Option<Record<'a>>,
    /// The photos at hand, in the order in which they were taken; which of them stand on a sheet says the document.
    pub photos: &'a [Photo<'a>],
}

/// A photo that may stand on a sheet.
#[derive(Clone, Copy, Debug)]
pub struct Photo<'a> {
    /// The name under which the document chooses it.
    pub name: &'a str,
    /// Its bytes: JPEG or PNG, upright, with nothing in them but the picture.
    pub picture: &'a [u8],
    /// What it shows: a number, a step, and the words said with it.
    pub shows: &'a str,
    /// Who took it, and when.
    pub taken: &'a str,
}

/// Where a build is kept.
#[derive(Clone, Copy, Debug)]
pub struct Record<'a> {
    /// The address a browser opens.
    pub address: &'a str,
    /// The number of its last change, where it is known.
    pub revision: Option<i64>,
}

/// Why there is no sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoSheet {
    /// The sheet wants something that is not there.
    Wants(&'static str),
    /// It could not be written.
    Unwritten(Unwritten),
}

impl fmt::Display for NoSheet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoSheet::Wants(what) => f.write_str(what),
            NoSheet::Unwritten(why) => why.fmt(f),
        }
    }
}

impl std::error::Error for NoSheet {}

impl From<Unwritten> for NoSheet {
    fn from(why: Unwritten) -> Self {
        NoSheet::Unwritten(why)
    }
}

macro_rules! sheets {
    ($($variant:ident: $word:literal, $title:literal, $module:ident, $says:literal;)+) => {
        /// The sheets there are.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Kind { $(#[doc = $says] $variant),+ }

        impl Kind {
            /// All of them, in the order in which a build needs them.
            pub const ALL: &'static [Kind] = &[$(Kind::$variant),+];

            /// The word by which it is asked for.
            pub const fn word(self) -> &'static str { match self { $(Kind::$variant => $word),+ } }

            /// What stands at its head.
            pub const fn title(self) -> &'static str { match self { $(Kind::$variant => $title),+ } }

            /// What it is for, in a sentence.
            pub const fn says(self) -> &'static str { match self { $(Kind::$variant => $says),+ } }

            /// The sheet of this word.
            pub fn from_word(word: &str) -> Option<Self> {
                Kind::ALL.iter().copied().find(|kind| kind.word() == word)
            }
        }

        fn lay_out<'a>(kind: Kind, subject: &Subject<'a>, face: &'a Face, paper: Paper) -> Result<Vec<u8>, NoSheet> {
            match kind { $(Kind::$variant => $module::lay_out(subject, face, paper)),+ }
        }
    };
}

sheets! {
    Bench: "bench", "Bench sheet", bench, "Every number asked, planned and measured, with the drawing: to pin above the bench.";
    Torque: "torque", "Torque record", torque, "Every bolt in the order of the round: how hard, by whose limit, what was applied, by whom.";
    HandOver: "hand-over", "Hand-over", hand_over, "What the bike is, how it is set, what to watch, when it is seen again, and who signed.";
    Cockpit: "cockpit", "Cockpit and tape", cockpit_card, "How the hands are set and how the tape was wound, for the customer’s file.";
    Order: "order", "Parts order", order, "What is to be bought and what the customer brings, by who supplies it, to tick off.";
    Quote: "quote", "Quote", quote, "Work and parts with prices, who supplies what, tax, and how long it holds.";
    Label: "label", "Labels", label, "Labels for frame, boxes and bags, with a code that opens the build’s record.";
}

/// A sheet as the bytes of a PDF.
pub fn pdf(kind: Kind, subject: &Subject<'_>, paper: Paper) -> Result<Vec<u8>, NoSheet> {
    if matches!(paper, Paper::Roll { .. }) && kind != Kind::Label {
        return Err(NoSheet::Wants("this sheet wants A4 or Letter; a roll of labels takes labels alone"));
    }
    let face = Face::new().map_err(|_| Unwritten("the typeface inside the program cannot be read".into()))?;
    lay_out(kind, subject, &face, paper)
}

/// A name for a sheet's file that every system takes: small letters, figures and hyphens.
pub fn file_name(kind: Kind, build: &Build) -> String {
    format!("{}-{}.pdf", safe_name(said(build.job.title.as_ref()).unwrap_or("build")), kind.word())
}

/// A text as a piece of a file's name.
pub fn safe_name(text: &str) -> String {
    let mut name = String::new();
    for letter in text.chars().flat_map(char::to_lowercase) {
        match letter {
            'a'..='z' | '0'..='9' => name.push(letter),
            _ if name.is_empty() || name.ends_with('-') => {}
            _ => name.push('-'),
        }
        if name.len() >= 48 {
            break;
        }
    }
    let name = name.trim_end_matches('-');
    if name.is_empty() { "build".to_owned() } else { name.to_owned() }
}

const CAUTION: &str = "The part maker’s instructions and a qualified mechanic come first.";

/// The head that all sheets share.
fn head(kind: Kind, subject: &Subject<'_>, facts: Vec<(&'static str, String)>) -> Head {
    let job = &subject.build.job;
    let title = said(job.title.as_ref()).unwrap_or("a build without a title").to_owned();
    let mut foot = said(job.workshop.as_ref()).unwrap_or("Witness Mark").to_owned();
    if let Some(revision) = subject.record.and_then(|record| record.revision) {
        foot = format!("{foot} · change {revision}");
    }
    Head {
        name: kind.title(),
        workshop: said(job.workshop.as_ref()).unwrap_or("Witness Mark").to_owned(),
        title,
        facts,
        day: job.day.as_ref().map(|given| given.value),
        foot: format!("{foot} · {CAUTION}"),
    }
}

/// What is said of a bike at the head of most sheets: rider, event, day, stage.
fn of_the_bike(build: &Build) -> Vec<(&'static str, String)> {
    use witnessmark_core::field::Choice;
    let mut facts = Vec::new();
    let mut say = |word: &'static str, value: Option<String>| {
        if let Some(value) = value {
            facts.push((word, value));
        }
    };
    say("rider", said(build.rider.name.as_ref()).map(str::to_owned));
    say("built for", said(build.job.event.as_ref()).map(str::to_owned));
    say("ready by", build.job.day.as_ref().map(|given| given.value.to_string()));
    say("stage", build.job.stage.as_ref().map(|given| given.value.name().to_owned()));
    facts
}

/// The sheet with the head that most sheets have.
fn begin<'a>(kind: Kind, subject: &Subject<'_>, face: &'a Face, paper: Paper) -> Sheet<'a> {
    Sheet::new(face, paper, head(kind, subject, of_the_bike(subject.build)))
}
