//! On paper: a plan as sheets. One file a sheet; a sheet shows a plan and computes nothing.
//!
//! For now there are the plain sheets of the terminal, eighty columns wide; sheets for the printer join them here.

pub mod text;

pub mod choice;

pub mod transmission;

pub mod survey;

pub mod carry;

pub mod compare;
