//! The way in: what people type, paste or drop becomes a document and its problems; units are converted here and only here.
//!
//! Three doors lead to the same document: a file ([`document`]), a record's leaves ([`from_leaves`]) and one field of a
//! page ([`leaf`]). All of them read a text by the kind of the field it is meant for, and all of them answer with
//! [`Problem`]s that name the place, what was found and what was expected. Parts for the catalogue come in by [`catalogue`].

pub mod catalogue;
pub mod quantity;
pub mod schema;

mod field;
mod file;
mod problem;
mod write;

pub use field::{from_leaves, leaf};
pub use file::{LARGEST_FILE, document, file};
pub use problem::Problem;
pub use write::write;
