//! What is kept: builds, and every edit that made them; and the catalogue, with every version of its parts.
//!
//! A build is a set of **leaves**: a path (`parts.stem.length`) and the text that was typed there
//! (`3.5 cm`), letter for letter. This crate neither knows nor asks what a path means.
//!
//! Nothing is lost. A change is a **revision** of a build: a few fields, each with the text before and
//! after, by somebody, at some time. It is written in one transaction and acknowledged only once it is
//! on the disk; the log of revisions is never rewritten, and the fields are a fold of it ([`Store::verify`]
//! folds it again and compares). A revision whose *before* no longer holds is refused and shown
//! ([`EditError::Clash`]). A request carries a key, so a second tap does nothing twice.
//!
//! What is **not** here: what the fields mean, units, plans, people's rights, and the clock. The time of
//! a revision is given by the caller and orders nothing.
//!
//! The data is in a file of `SQLite`'s, or on a `PostgreSQL` server that any number of programs share. All statements are
//! plain text that both read, and the few things on which the two differ stand in `engine.rs`. What happens when a server
//! goes away for a moment stands in `patience.rs`.

mod build_id;
mod builds;
mod catalogue;
mod catalogue_log;
mod contents;
mod copy;
mod edit;
mod engine;
mod erase;
mod error;
mod hands;
mod history;
mod ledger;
mod migrate;
mod open;
mod patience;
mod people;
mod secret;
mod sessions;
mod uploads;
mod verify;

#[cfg(test)]
mod full_disk;

pub use build_id::{BuildId, NotABuildId};
pub use builds::{BuildLine, BuildRecord, BuildSummary, HandedOver, NewBuild};
pub use catalogue::{CatalogueBy, CatalogueChange, CatalogueEdit, CataloguePart, CatalogueVersion, HANDFUL};
pub use contents::{Contents, TableContents};
pub use copy::{Copied, CopyMade, move_workshop, read_copy, restore};
pub use edit::{Applied, By, Change};
pub use erase::{ERASED, Erased, Forgotten};
pub use error::{Clash, EditError, LastChange, StoreError};
pub use hands::{Looks, Owns, Works};
pub use history::EditRow;
pub use ledger::{LedgerLine, Noted};
pub use open::Store;
pub use people::{PeopleError, Person, Role, SHORTEST_PASSWORD};
pub use sessions::{ACTING_MS, CODE_MS, Session, SessionKind};
pub use uploads::{Content, NewUpload, Quota, Size, Upload, UploadError};
pub use verify::Verified;
