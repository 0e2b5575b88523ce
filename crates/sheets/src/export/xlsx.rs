//! The same tables as the pages of a workbook, numbers as numbers, days as days, texts as texts.
//!
//! The same build gives the same bytes: the workbook's date is the day of the document, or the first of the year 2000.

use super::tables::{Cell, Table, tables};
use jiff::civil::Date;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, XlsxError};
use witnessmark_core::{Build, Plan};

/// The longest text a cell holds.
const LONGEST: usize = 32_767;

/// The build as a workbook. Refuses what the format cannot hold, which a build of a bike is far from.
pub fn xlsx(build: &Build, plan: &Plan) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let title = build.job.title.as_ref().map_or("a build", |given| given.value.as_str());
    let made = build.job.day.as_ref().map_or(Date::constant(2000, 1, 1), |given| given.value);
    let properties =
        DocProperties::new().set_title(title).set_author("Witness Mark").set_creation_datetime(&day(made)?);
    book.set_properties(&properties);
    let style = Style {
        head: Format::new().set_bold(),
        day: Format::new().set_num_format("yyyy-mm-dd"),
        money: Format::new().set_num_format("0.00"),
    };
    for table in tables(build, plan) {
        page(&mut book, &table, &style)?;
    }
    book.save_to_buffer()
}

struct Style {
    head: Format,
    day: Format,
    money: Format,
}

fn page(book: &mut Workbook, table: &Table, style: &Style) -> Result<(), XlsxError> {
    let sheet = book.add_worksheet();
    sheet.set_name(table.name)?;
    let columns = || (0_u16..).zip(table.columns);
    for (at, column) in columns() {
        sheet.set_column_width(at, column.letters)?;
        sheet.write_string_with_format(0, at, column.name, &style.head)?;
    }
    sheet.set_freeze_panes(1, 0)?;
    sheet.set_landscape();
    sheet.set_repeat_rows(0, 0)?;
    for (row, cells) in (1_u32..).zip(&table.rows) {
        for (at, cell) in (0_u16..).zip(cells) {
            match cell {
                Cell::Empty => continue,
                Cell::Number(value) => sheet.write_number(row, at, *value)?,
                #[allow(
                    clippy::cast_precision_loss,
                    reason = "every amount is far below where cents have no own place"
                )]
                Cell::Money(cents) => sheet.write_number_with_format(row, at, cents.0 as f64 / 100.0, &style.money)?,
                Cell::Day(date) => sheet.write_datetime_with_format(row, at, &day(*date)?, &style.day)?,
                // Written as a text it is a text, whatever it begins with.
                Cell::Text(text) => sheet.write_string(row, at, text.chars().take(LONGEST).collect::<String>())?,
            };
        }
    }
    Ok(())
}

/// A day as workbooks count it; they begin in 1900, and an earlier one stands as their first.
fn day(day: Date) -> Result<ExcelDateTime, XlsxError> {
    let year = u16::try_from(day.year()).unwrap_or(1900).clamp(1900, 9999);
    let small = |number: i8| u8::try_from(number).unwrap_or(1);
    ExcelDateTime::from_ymd(year, small(day.month()), small(day.day()))
}
