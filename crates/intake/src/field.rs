//! One field: a typed text becomes a value of the field's kind.

use crate::problem::{Problem, nearest};
use crate::quantity::{Dimension, read_list, read_within};
use jiff::civil::Date;
use witnessmark_core::Build;
use witnessmark_core::field::{Field, Given, Kind, Leaf, Value};

/// The longest text a field takes.
pub(crate) const LONGEST_TEXT: usize = 500;

/// Reads a typed text for the field at a path; refuses an unknown path and a text that is no value of the field's kind.
///
/// ```
/// use witnessmark_core::field::Value;
/// let leaf = witnessmark_intake::leaf("settings.spacers_under", "3,5 cm")?;
/// assert_eq!((leaf.value, leaf.typed.as_str()), (Value::Number(35.0), "3,5 cm"));
/// let slip = witnessmark_intake::leaf("settings.spacers_undr", "35").unwrap_err();
/// assert_eq!(slip.nearest.as_deref(), Some("spacers_under"));
/// # Ok::<(), witnessmark_intake::Problem>(())
/// ```
pub fn leaf(path: &str, typed: &str) -> Result<Leaf, Problem> {
    let field = Build::field(path).map_err(|unknown| Problem::unknown(path, &unknown))?;
    let value = value(&field, typed).map_err(|(says, nearest)| Problem { nearest, ..Problem::at(path, says) })?;
    Ok(Given { value, typed: typed.to_owned(), origin: None })
}

/// A record's leaves become a document; a leaf that cannot be read is left out and reported.
pub fn from_leaves<P, T>(leaves: impl IntoIterator<Item = (P, T)>) -> (Build, Vec<Problem>)
where
    P: AsRef<str>,
    T: AsRef<str>,
{
    let mut build = Build::default();
    let mut problems = Vec::new();
    let mut origins = Vec::new();
    for (path, typed) in leaves {
        let (path, typed) = (path.as_ref(), typed.as_ref());
        match leaf(path, typed) {
            // An origin belongs to a fact, and the fact has to be there first.
            Ok(leaf) if is_origin(path) => origins.push((path.to_owned(), leaf)),
            Ok(leaf) => put(&mut build, path, leaf, &mut problems),
            Err(problem) => problems.push(problem),
        }
    }
    for (path, leaf) in origins {
        put(&mut build, &path, leaf, &mut problems);
    }
    (build, problems)
}

/// Whether a path is that of a fact's origin.
fn is_origin(path: &str) -> bool {
    let of_a_part = path.starts_with("parts.") || path.starts_with("shelf.");
    of_a_part && path.rsplit_once('.').is_some_and(|(_, key)| key == "from")
}

/// Puts a leaf into a document; what the document refuses is reported.
pub(crate) fn put(build: &mut Build, path: &str, leaf: Leaf, problems: &mut Vec<Problem>) {
    if let Err(unknown) = build.set(path, Some(leaf)) {
        problems.push(Problem::unknown(path, &unknown));
    }
}

pub(crate) type Refused = (String, Option<String>);

/// A typed text as a value of the field; refused with what was expected and, where a word is near, that word.
pub(crate) fn value(field: &Field, typed: &str) -> Result<Value, Refused> {
    let quantity = |dimension| {
        read_within(typed, dimension, sane(field, dimension)).map_err(|refusal| (refusal.to_string(), None))
    };
    let list = |dimension| -> Result<Vec<f64>, Refused> {
        let values = read_list(typed, dimension).map_err(|refusal| (refusal.to_string(), None))?;
        match values.iter().find(|value| !(field.low <= **value && **value <= field.high)) {
            Some(value) => {
                Err((format!("{value} is out of all reason; {} to {} is taken here", field.low, field.high), None))
            }
            None => Ok(values),
        }
    };
    match field.kind {
        Kind::Length => quantity(Dimension::Length).map(Value::Number),
        Kind::Angle => quantity(Dimension::Angle).map(Value::Number),
        Kind::Mass => quantity(Dimension::Mass).map(Value::Number),
        Kind::Torque => quantity(Dimension::Torque).map(Value::Number),
        Kind::Pressure => quantity(Dimension::Pressure).map(Value::Number),
        Kind::Percent => quantity(Dimension::Percent).map(Value::Number),
        Kind::Plain => quantity(Dimension::Plain).map(Value::Number),
        Kind::Money => quantity(Dimension::Money).map(Value::Number),
        Kind::Count => quantity(Dimension::Count).map(|value| Value::Count(whole(value))),
        Kind::Lengths => list(Dimension::Length).map(Value::Numbers),
        Kind::Angles => list(Dimension::Angle).map(Value::Numbers),
        Kind::Counts => list(Dimension::Count).map(|values| Value::Counts(values.into_iter().map(whole).collect())),
        Kind::Day => day(typed),
        Kind::YesNo => yes_or_no(typed),
        Kind::Text => text(typed),
        Kind::Choice(words) => choice(words, typed),
    }
}

/// The field's own range; what the dimension calls sane where the field names no end.
fn sane(field: &Field, dimension: Dimension) -> std::ops::RangeInclusive<f64> {
    let all = dimension.sane();
    let low = if field.low.is_finite() { field.low } else { *all.start() };
    let high = if field.high.is_finite() { field.high } else { *all.end() };
    low..=high
}

/// A count has been read as whole and within its range.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "read_within has seen to both")]
fn whole(value: f64) -> u32 {
    value as u32
}

fn day(typed: &str) -> Result<Value, Refused> {
    typed
        .trim()
        .parse::<Date>()
        .map(Value::Day)
        .map_err(|_| (format!("“{}” is no day; {} was expected", short(typed), Kind::Day.expects()), None))
}

fn yes_or_no(typed: &str) -> Result<Value, Refused> {
    match typed.trim().to_lowercase().as_str() {
        "yes" | "true" => Ok(Value::YesNo(true)),
        "no" | "false" => Ok(Value::YesNo(false)),
        _ => Err((format!("“{}” is neither yes nor no", short(typed)), None)),
    }
}

fn text(typed: &str) -> Result<Value, Refused> {
    if typed.trim().is_empty() {
        return Err(("an empty text says nothing; leave the field out".into(), None));
    }
    if typed.chars().nth(LONGEST_TEXT).is_some() {
        return Err((format!("the text is longer than {LONGEST_TEXT} characters"), None));
    }
    if let Some(sign) = typed.chars().find(|sign| sign.is_control()) {
        return Err((
            format!("the text holds the control character U+{:04X}; text on one line was expected", u32::from(sign)),
            None,
        ));
    }
    Ok(Value::Text(typed.to_owned()))
}

fn choice(words: &'static [&'static str], typed: &str) -> Result<Value, Refused> {
    let said = typed.trim().to_lowercase();
    if let Some(word) = words.iter().find(|word| word.to_lowercase() == said) {
        return Ok(Value::Text((*word).to_owned()));
    }
    let candidates: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
    let says = format!("“{}” is none of: {}", short(typed), words.join(", "));
    Err((says, nearest(&said, &candidates)))
}

/// The text as it is quoted in a message: not a page of it.
fn short(typed: &str) -> String {
    const SHOWN: usize = 40;
    let tidy: String = typed.chars().filter(|sign| !sign.is_control()).collect();
    if tidy.chars().nth(SHOWN).is_none() {
        tidy
    } else {
        let head: String = tidy.chars().take(SHOWN).collect();
        format!("{head}…")
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;

    #[test]
    fn a_mass_where_a_length_belongs_is_refused_with_both_names() {
        let problem = leaf("settings.spacers_under", "0.5 kg").unwrap_err();
        assert!(problem.says.contains("is a mass; a length was expected"), "{problem}");
    }

    #[test]
    fn absurd_values_are_refused_with_what_was_expected() {
        for (path, typed) in [
            ("parts.frame.head_angle", "900"),
            ("parts.stem.length", "0"),
            ("parts.frame.head_tube", "-140"),
            ("parts.frame.stack", "NaN"),
            ("parts.frame.stack", "inf"),
            ("parts.frame.stack", "1e999"),
            ("search.spacers_under", "0; 5; 5000"),
        ] {
            let problem = leaf(path, typed).unwrap_err();
            assert!(!problem.says.is_empty(), "{path} {typed}");
        }
    }

    #[test]
    fn a_choice_is_read_whatever_its_case_and_kept_as_typed() {
        let leaf = leaf("rider.front_brake", "Right").unwrap();
        assert_eq!((leaf.value, leaf.typed.as_str()), (Value::Text("right".into()), "Right"));
    }

    #[test]
    fn an_origin_may_come_before_its_fact() {
        let leaves = [("parts.stem.length.from", "measured here"), ("parts.stem.length", "110")];
        let (build, problems) = from_leaves(leaves);
        assert_eq!(problems, Vec::new());
        let back: Vec<String> = build.leaves().into_iter().map(|(path, _)| path).collect();
        assert_eq!(back, ["parts.stem.length", "parts.stem.length.from"]);
    }
}
