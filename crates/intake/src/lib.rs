//! The way in: what people type, paste or drop becomes a document and its problems; units are converted here and only here.

pub mod quantity;
