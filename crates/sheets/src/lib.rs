//! On paper: a plan as sheets. One file a sheet; a sheet shows a plan and computes nothing.
//!
//! For now there is the plain sheet of the terminal, eighty columns wide; sheets for the printer join it here.

pub mod choice;
pub mod text;

pub mod transmission;
