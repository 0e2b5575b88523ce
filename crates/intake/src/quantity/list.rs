//! Several quantities in one text: `0; 5; 10`, `0, 5, 10 mm`, `0..40 step 5`.

use super::figure::tidied;
use super::refusal::{MOST_CHARACTERS, MOST_VALUES};
use super::unit::Unit;
use super::unit::fifteen_digits;
use super::{Dimension, Refusal, Typed, Why, in_house, typed};

/// How far from a whole number of steps a range's end may lie: the dust of dividing decimal fractions, no more.
const STEP_SLACK: f64 = 1e-9;

/// Reads several quantities, parted by semicolons or by commas with a space behind, or a range with its step.
///
/// - Semicolons part values, and decimal commas may then be used: `1,5; 2,5`.
/// - Commas part values only if *every* comma has a space behind it: `0, 5, 10`. One comma without a space is a decimal
///   comma, so `1,5` is the single value 1.5; `1,5,2` and `1,5, 2` could be read in two ways and are refused.
/// - `low..high step s` runs from low to high, both included; an end that the steps miss is refused. Whole numbers may
///   leave the step out.
/// - A unit stands on every value, on none (the house unit), or on the last for all (`1, 2, 3 in`). In a range one unit
///   anywhere is enough (`0..40 mm step 5`).
///
/// ```
/// use witnessmark_intake::quantity::{Dimension, read_list};
/// assert_eq!(read_list("0; 2,5; 5", Dimension::Length)?, [0.0, 2.5, 5.0]);
/// assert_eq!(read_list("0, 1, 2 in", Dimension::Length)?, [0.0, 25.4, 50.8]);
/// assert_eq!(read_list("0..40 step 10", Dimension::Length)?, [0.0, 10.0, 20.0, 30.0, 40.0]);
/// assert_eq!(read_list("11..14", Dimension::Count)?, [11.0, 12.0, 13.0, 14.0]);
/// let refusal = read_list("1,5, 2", Dimension::Length).unwrap_err();
/// assert_eq!(
///     refusal.to_string(),
///     "“1,5, 2” has commas that may be decimal commas or part the values; \
///      part the values with semicolons, such as 1,5; 2,5"
/// );
/// # Ok::<(), witnessmark_intake::quantity::Refusal>(())
/// ```
pub fn read_list(text: &str, dimension: Dimension) -> Result<Vec<f64>, Refusal> {
    let whole = |why| Refusal::new(text, dimension, why);
    if text.chars().nth(MOST_CHARACTERS).is_some() {
        return Err(whole(Why::TooLong));
    }
    let tidy = tidied(text);
    if tidy.is_empty() {
        return Err(whole(Why::Empty));
    }
    if let Some((low, rest)) = tidy.split_once("..") {
        return range(low, rest, dimension).map_err(whole);
    }
    let items = items(&tidy).map_err(whole)?;
    if items.len() > MOST_VALUES {
        return Err(whole(Why::ListTooMany));
    }
    let mut values = Vec::with_capacity(items.len());
    for item in &items {
        let at_item = |why| Refusal::new(item, dimension, why);
        let value = typed(item).map_err(at_item)?;
        // Before the units are compared: "82 kg" among lengths is the more useful thing to be told.
        match value.unit {
            Some(unit) if unit.dimension != dimension => {
                return Err(at_item(Why::Is(unit.dimension)));
            }
            _ => values.push(value),
        }
    }
    share_last_unit(&mut values).map_err(whole)?;
    let sane = dimension.sane();
    let convert = |(item, value): (&&str, &Typed)| {
        in_house(value, dimension, &sane).map_err(|why| Refusal::new(item, dimension, why))
    };
    items.iter().zip(&values).map(convert).collect()
}

/// The texts between the separators.
fn items(text: &str) -> Result<Vec<&str>, Why> {
    let items: Vec<&str> = if text.contains(';') {
        text.split(';').map(str::trim).collect()
    } else if text.contains(", ") || text.matches(',').count() > 1 {
        if text.split(',').skip(1).any(|behind| !behind.starts_with(' ')) {
            return Err(Why::ListCommas);
        }
        text.split(',').map(str::trim).collect()
    } else {
        vec![text]
    };
    if items.iter().any(|item| item.is_empty()) { Err(Why::ListGap) } else { Ok(items) }
}

/// A unit on the last value alone is every value's.
fn share_last_unit(values: &mut [Typed]) -> Result<(), Why> {
    let with_unit = values.iter().filter(|value| value.unit.is_some()).count();
    if with_unit == 0 || with_unit == values.len() {
        return Ok(());
    }
    match values.last().and_then(|last| last.unit) {
        Some(unit) if with_unit == 1 => {
            for value in values {
                value.unit = Some(unit);
            }
            Ok(())
        }
        _ => Err(Why::ListUnits),
    }
}

/// Every step from low to high, both included.
fn range(low: &str, rest: &str, dimension: Dimension) -> Result<Vec<f64>, Why> {
    let (high, step) = match rest.split_once("step") {
        Some((high, step)) => (high, Some(step)),
        None => (rest, None),
    };
    if high.starts_with('.') {
        return Err(Why::NotANumber);
    }
    let step = match step {
        Some(step) => typed(step.trim())?,
        None if dimension == Dimension::Count => Typed { figure: 1.0, unit: None },
        None => return Err(Why::StepMissing),
    };
    let mut ends = [typed(low.trim())?, typed(high.trim())?, step];
    share_only_unit(&mut ends)?;
    let [low, high, step] = ends;
    let low = in_house(&low, dimension, &dimension.sane())?;
    let high = in_house(&high, dimension, &dimension.sane())?;
    let step = in_house(&step, dimension, &(f64::MIN..=f64::MAX))?;
    if step <= 0.0 {
        return Err(Why::StepNotPositive);
    }
    if high < low {
        return Err(Why::RangeBackwards);
    }
    steps(low, high, step)
}

/// One unit among the three, or the same twice, is all three's.
fn share_only_unit(ends: &mut [Typed; 3]) -> Result<(), Why> {
    let units: Vec<&'static Unit> = ends.iter().filter_map(|end| end.unit).collect();
    let Some(&first) = units.first() else {
        return Ok(());
    };
    if units.len() == ends.len() {
        return Ok(());
    }
    if units.iter().any(|&unit| !std::ptr::eq(unit, first)) {
        return Err(Why::ListUnits);
    }
    for end in ends {
        end.unit = Some(first);
    }
    Ok(())
}

fn steps(low: f64, high: f64, step: f64) -> Result<Vec<f64>, Why> {
    let exact = (high - low) / step;
    let slack = STEP_SLACK * exact.max(1.0);
    let mut values = vec![low];
    let mut taken = 1.0;
    // Each turn adds a value and more than MOST_VALUES are refused, so this ends.
    while taken <= exact + slack {
        if values.len() == MOST_VALUES {
            return Err(Why::ListTooMany);
        }
        values.push(fifteen_digits(low + step * taken));
        taken += 1.0;
    }
    let last = values.pop().unwrap_or(low);
    if (exact - exact.round()).abs() > slack {
        return Err(Why::StepMissesEnd { last });
    }
    values.push(high);
    Ok(values)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lengths(text: &str) -> Result<Vec<f64>, Why> {
        read_list(text, Dimension::Length).map_err(|refusal| refusal.why)
    }

    #[test]
    fn lists_are_read_as_they_are_written() {
        let table: [(&str, &[f64]); 14] = [
            ("35", &[35.0]),
            ("1,5", &[1.5]),
            ("0, 5, 10", &[0.0, 5.0, 10.0]),
            ("0; 5; 10", &[0.0, 5.0, 10.0]),
            ("0;5;10", &[0.0, 5.0, 10.0]),
            ("1,5; 2,5", &[1.5, 2.5]),
            ("1.5, 2.5", &[1.5, 2.5]),
            ("0, 5, 10 mm", &[0.0, 5.0, 10.0]),
            ("1, 2, 3 in", &[25.4, 50.8, 76.2]),
            ("1 cm; 1 in", &[10.0, 25.4]),
            ("1 1/8 in, 1 1/4 in", &[28.575, 31.75]),
            ("-2;\u{a0}\u{2212}1", &[-2.0, -1.0]),
            ("0,\n5", &[0.0, 5.0]),
            ("5' 11\"; 1 cm", &[1803.4, 10.0]),
        ];
        for (text, expected) in table {
            assert_eq!(lengths(text).as_deref(), Ok(expected), "{text}");
        }
    }

    #[test]
    fn a_range_holds_both_its_ends() {
        let table: [(&str, &[f64]); 8] = [
            ("0..40 step 10", &[0.0, 10.0, 20.0, 30.0, 40.0]),
            ("0 .. 2 step 0.5", &[0.0, 0.5, 1.0, 1.5, 2.0]),
            ("0..0,3 step 0,1", &[0.0, 0.1, 0.2, 0.3]),
            ("-4..4 step 4", &[-4.0, 0.0, 4.0]),
            ("0..4 cm step 2", &[0.0, 20.0, 40.0]),
            ("0..4 step 2 cm", &[0.0, 20.0, 40.0]),
            ("0 cm..4 cm step 20 mm", &[0.0, 20.0, 40.0]),
            ("7..7 step 1", &[7.0]),
        ];
        for (text, expected) in table {
            assert_eq!(lengths(text).as_deref(), Ok(expected), "{text}");
        }
    }

    #[test]
    fn a_range_ends_on_the_very_number_that_was_typed() {
        let third = 0.333_333_333_333_333_3;
        let values = lengths("0..0.3333333333333333 step 0.1111111111111111");
        assert_eq!(values.map(|values| values.last().copied()), Ok(Some(third)));
    }

    #[test]
    fn whole_numbers_may_leave_the_step_out() {
        assert_eq!(read_list("11..14", Dimension::Count), Ok(vec![11.0, 12.0, 13.0, 14.0]));
        assert_eq!(lengths("11..14"), Err(Why::StepMissing));
    }

    #[test]
    fn a_list_that_can_be_read_in_two_ways_is_refused() {
        for text in ["0,5,10", "1,5, 2,5", "0,5, 10", "0, 5,10", "0, 5,"] {
            assert_eq!(lengths(text), Err(Why::ListCommas), "{text}");
        }
        for text in ["1 in, 2, 3", "1, 2 in, 3", "1 in, 2 in, 3", "1 in, 2, 3 in", "1 in..4 cm step 1"] {
            assert_eq!(lengths(text), Err(Why::ListUnits), "{text}");
        }
    }

    #[test]
    fn a_gap_in_a_list_is_not_skipped() {
        for text in [";", "5;", "5;;6", "5, , 6"] {
            assert_eq!(lengths(text), Err(Why::ListGap), "{text}");
        }
        assert_eq!(lengths(" "), Err(Why::Empty));
    }

    #[test]
    fn a_range_that_leads_nowhere_is_refused() {
        assert_eq!(lengths("40..0 step 5"), Err(Why::RangeBackwards));
        assert_eq!(lengths("0..40 step 0"), Err(Why::StepNotPositive));
        assert_eq!(lengths("0..40 step -5"), Err(Why::StepNotPositive));
        assert_eq!(lengths("0..42 step 5"), Err(Why::StepMissesEnd { last: 40.0 }));
        assert_eq!(lengths("0..3 step 5"), Err(Why::StepMissesEnd { last: 0.0 }));
        assert_eq!(lengths("0..5000 step 1e-300"), Err(Why::ListTooMany));
        assert_eq!(lengths("0...5 step 1"), Err(Why::NotANumber));
        assert_eq!(lengths("..5 step 1"), Err(Why::NotANumber));
    }

    #[test]
    fn a_list_may_be_long_but_not_endless() {
        let list = |count: usize| vec!["1"; count].join(";");
        assert_eq!(lengths(&list(MOST_VALUES)).map(|values| values.len()), Ok(MOST_VALUES));
        assert_eq!(lengths(&list(MOST_VALUES + 1)), Err(Why::ListTooMany));
        assert_eq!(lengths("1..1000 step 1").map(|values| values.len()), Ok(MOST_VALUES));
        assert_eq!(lengths("0..1000 step 1"), Err(Why::ListTooMany));
        assert_eq!(lengths(&"1;".repeat(MOST_CHARACTERS)), Err(Why::TooLong));
    }

    #[test]
    fn a_refusal_in_a_list_names_the_item() {
        let refused = |text| read_list(text, Dimension::Length).map_err(|refusal| (refusal.found, refusal.why));
        assert_eq!(refused("5; 82 kg; 7"), Err(("82 kg".into(), Why::Is(Dimension::Mass))));
        assert_eq!(refused("5, x"), Err(("x".into(), Why::NotANumber)));
        let beyond = Why::OutOfRange { value: 9_000.0, low: -5_000.0, high: 5_000.0 };
        assert_eq!(refused("5 mm; 9 m; 7 mm"), Err(("9 m".into(), beyond)));
    }
}
