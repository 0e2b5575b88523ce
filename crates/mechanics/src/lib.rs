#![no_std]
//! (being laid)
