//! Bytes become changes of a document: which field, and a value of its kind, in and out of its bounds.

use witnessmark_core::Build;
use witnessmark_core::field::{Field, Given, Kind, Value};

/// Bytes taken from the front; where they are at an end, zeros.
pub(crate) struct Bytes<'a> {
    left: &'a [u8],
}

impl<'a> Bytes<'a> {
    pub(crate) fn new(left: &'a [u8]) -> Self {
        Bytes { left }
    }

    pub(crate) fn one(&mut self) -> u8 {
        let Some((first, left)) = self.left.split_first() else { return 0 };
        self.left = left;
        *first
    }

    pub(crate) fn two(&mut self) -> u16 {
        u16::from_le_bytes([self.one(), self.one()])
    }

    pub(crate) fn rest(&mut self) -> &'a [u8] {
        std::mem::take(&mut self.left)
    }

    /// Changes the document until the bytes are at an end, at most as often as a document has fields in use. Answers whether
    /// all values were such as the way in lets pass.
    pub(crate) fn change(&mut self, build: &mut Build, paths: &[String]) -> bool {
        const MOST: usize = 400;
        let mut in_bounds = true;
        for _ in 0..MOST {
            if self.left.is_empty() {
                break;
            }
            let path = &paths[usize::from(self.two()) % paths.len()];
            let Ok(field) = Build::field(path) else { panic!("{path} is listed and not known") };
            let way = self.one();
            if way == 0 {
                assert!(build.set(path, None).is_ok(), "{path}");
                continue;
            }
            let value = self.value(&field, way);
            in_bounds &= is_in_bounds(&field, &value);
            let given = Given { value, typed: "as typed".to_owned(), origin: None };
            assert!(build.set(path, Some(given)).is_ok(), "{path}");
        }
        in_bounds
    }

    fn value(&mut self, field: &Field, way: u8) -> Value {
        match field.kind {
            Kind::Length
            | Kind::Angle
            | Kind::Mass
            | Kind::Torque
            | Kind::Pressure
            | Kind::Percent
            | Kind::Plain
            | Kind::Money => Value::Number(self.number(field, way)),
            Kind::Count => Value::Count(whole(self.number(field, way))),
            Kind::Lengths | Kind::Angles => {
                let many = self.one() % 24;
                Value::Numbers((0..many).map(|_| self.number(field, way)).collect())
            }
            Kind::Counts => {
                let many = self.one() % 24;
                Value::Counts((0..many).map(|_| whole(self.number(field, way))).collect())
            }
            Kind::Day => {
                let (year, month, day) = (self.one(), self.one(), self.one());
                let year = if way > 200 { i16::from(year) * 39 } else { 1950 + i16::from(year) };
                let (month, day) = (month % 12 + 1, day % 28 + 1);
                Value::Day(jiff::civil::date(year, month.cast_signed(), day.cast_signed()))
            }
            Kind::YesNo => Value::YesNo(way.is_multiple_of(2)),
            Kind::Text => {
                const TEXTS: &[&str] =
                    &["Ada", "none", "7–9", "ø 31,8", "a", "front-left", "“quoted” & <b>", "  ", "0"];
                Value::Text(TEXTS[usize::from(way) % TEXTS.len()].to_owned())
            }
            Kind::Choice(words) => Value::Text(words[usize::from(way) % words.len()].to_owned()),
        }
    }

    /// In three of four ways within the field's bounds, their ends and simple fractions first.
    fn number(&mut self, field: &Field, way: u8) -> f64 {
        let low = if field.low.is_finite() { field.low } else { -10_000.0 };
        let high = if field.high.is_finite() { field.high } else { 10_000.0 };
        match way {
            1 => low,
            2 => high,
            3..=95 => low + (high - low) * f64::from(self.one()) / 255.0,
            96..=192 => low + (high - low) * f64::from(self.two()) / 65_535.0,
            193..=200 => 0.0,
            201..=208 => -high,
            209..=216 => 1e-12,
            217..=224 => 1e9,
            225..=232 => -1e9,
            233..=240 => low - 1.0,
            241..=248 => high + 1.0,
            _ => f64::from(self.two()) - 32_768.0,
        }
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what is out of range ends at its end")]
fn whole(value: f64) -> u32 {
    value.round() as u32
}

fn is_in_bounds(field: &Field, value: &Value) -> bool {
    let held = |value: &f64| field.low <= *value && *value <= field.high && value.abs() <= 10_000.0;
    match value {
        Value::Number(value) => held(value),
        Value::Numbers(values) => !values.is_empty() && values.iter().all(held),
        Value::Count(count) => held(&f64::from(*count)),
        Value::Counts(counts) => !counts.is_empty() && counts.iter().all(|count| held(&f64::from(*count))),
        Value::Text(text) => !text.trim().is_empty(),
        Value::Day(_) | Value::YesNo(_) => true,
    }
}
