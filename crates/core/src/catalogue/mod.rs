//! The catalogue: parts kept once and used in many builds.
//!
//! A part of the catalogue is a kind, an id of its own and facts: the same fields as those of a part in a build, without
//! the few that speak of one specimen ([`OF_A_SPECIMEN`]). It is versioned: a change of a fact makes a new version, and the
//! old one stays. A build copies the facts it takes ([`Entry::fit`]) and remembers the version, so that a finished build
//! keeps what it was built with; [`newer`] says what the catalogue knows by now.
//!
//! Everything here is a value. Where the parts are kept, and how a file becomes parts, is the business of other rooms.

mod entry;
mod index;
mod merge;
mod newer;
pub mod sample;

pub use entry::{Column, Entry, Listing, OF_A_SPECIMEN, column, columns};
pub use index::{Found, Hit, Index, folded};
pub use merge::{Became, FactChange, Incoming, merge};
pub use newer::{Newer, newer};
