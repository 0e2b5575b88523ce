//! Numbers and parts as tables for other programs: CSV and XLSX, with the same columns in both.
//!
//! A cell is a number, a day or a text; nothing of what a person typed is ever a formula. In a workbook a text is a text
//! by its kind. In CSV there are no kinds, and some programs take a text that begins with `=`, `+`, `-`, `@`, a tab or a
//! carriage return for a formula: such a text is given an apostrophe before it, as OWASP advises (“CSV Injection”).

mod csv;
mod tables;
mod xlsx;

#[cfg(test)]
mod tests;

pub use csv::{CsvFile, csv};
pub use tables::{Cell, Column, Table, tables};
pub use xlsx::xlsx;
