//! On paper: a plan as sheets. One file a sheet; a sheet shows a plan and computes nothing.
//!
//! `paper` makes the sheets for the printer, the other rooms the plain ones of the terminal, eighty columns wide.

pub mod paper;

pub mod export;

pub mod show;

pub mod words;

pub mod money;

mod listed;

pub mod text;

pub mod choice;

pub mod transmission;

pub mod calendar;

pub mod finish;

pub mod stand;

pub mod survey;

pub mod carry;

pub mod compare;
