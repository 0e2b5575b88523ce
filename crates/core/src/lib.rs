//! What the trade knows: parts, the build document, the numbers, the checks, the drawing, and [`plan()`].
//!
//! The modules stand in reading order; each knows only those above it (`cargo xtask tidy` holds the walls).

// No clock, no disk, no environment: `clippy.toml` beside `Cargo.toml` names what is banned and why.
#![cfg_attr(not(test), deny(clippy::disallowed_methods))]

pub mod field;

pub mod number;

pub mod part;

pub mod rulebook;

pub mod catalogue;

pub mod build;

pub mod model;

pub mod finding;

pub mod compute;

pub mod survey;

pub mod held;

pub mod check;

pub mod draw;

pub mod plan;

pub mod search;

pub mod carry;

pub mod compare;

pub mod stand;

pub mod service;

pub use build::Build;
pub use plan::{Plan, plan, plan_under};
