//! The books of `rules/` as constants, made by `build.rs` when the crate is built.

#![allow(clippy::unreadable_literal, reason = "made from the rows as they stand in the files")]

use super::{Ages, Asks, Book, Exemption, Limit, Range, Rules, Seen, Status, Weighs};
use jiff::civil::date;

include!(concat!(env!("OUT_DIR"), "/books.rs"));
