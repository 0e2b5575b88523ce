//! How a race bike moves and fits: pure functions and small value types.
//!
//! No document, no part, no text, no clock and no disk: the crate is `no_std` and leans on `libm` alone, so the
//! compiler keeps it pure and every machine gives the same digits.
//!
//! Coordinates: origin at the bottom-bracket centre; x forward, y up, z to the drive side (the rider's right); mm.
//! Angles are degrees at every door and radians only between the braces of one function.
//!
//! Modules in reading order: the points, the solver, the frame and the ground under it, the cockpit from steerer to
//! hood, the saddle, two clearances; the gears, the chain's path, its line and its wear; bolts, bar
//! tape, mass and tyres; the tree of shift wires.
#![no_std]

mod angle;

pub mod vector;

pub mod roots;

pub mod frame;

pub mod ground;

pub mod steerer;

pub mod bar;

pub mod cockpit;

pub mod saddle;

pub mod toe;

pub mod lean;

pub mod chance;

pub mod adjustment;

pub mod network;

pub mod gears;

pub mod chain;

pub mod chain_line;

pub mod wear;

pub mod fastener;

pub mod tape;

pub mod mass;

pub mod tyre;

pub mod wiring;

pub use vector::{Point2, Point3, Side};
