//! Comparing facts as a mechanic does: lengths to what can be read, names without regard to how they are written.

/// Less than anyone reads off a caliper. Sums of decimal lengths miss by far less; no limit of the trade is finer.
const READABLE_MM: f64 = 0.01;

/// The value is larger than the limit, by more than the last digit of a sum.
pub(crate) fn exceeds(value: f64, limit: f64) -> bool {
    value > limit + READABLE_MM
}

/// The value is smaller than the limit, by more than the last digit of a sum.
pub(crate) fn falls_short(value: f64, limit: f64) -> bool {
    value < limit - READABLE_MM
}

/// Two diameters that are meant to be one.
pub(crate) fn same_within(a_mm: f64, b_mm: f64, within_mm: f64) -> bool {
    !exceeds((a_mm - b_mm).abs(), within_mm)
}

/// Two shape ids or designations say the same: capitals, spaces, units, decimal commas, "×" and closing zeros aside.
pub(crate) fn same_name(a: &str, b: &str) -> bool {
    plain(a) == plain(b)
}

/// The name in a list such as "oval 7 x 9, round 7".
pub(crate) fn named_in(name: &str, list: &str) -> bool {
    list.split([';', '|'])
        .flat_map(|part| part.split(", "))
        .flat_map(|part| part.split(" or "))
        .flat_map(|part| part.split(" and "))
        .any(|part| same_name(part, name))
}

/// The name with everything left out that people write differently.
pub(crate) fn plain(name: &str) -> String {
    let text: String = name
        .to_lowercase()
        .replace("mm", "")
        .replace('×', "x")
        .replace(',', ".")
        .chars()
        .filter(|c| !c.is_whitespace() && !"øØ⌀-_".contains(*c))
        .collect();
    let mut out = String::new();
    let mut number = String::new();
    for c in text.chars().chain(['\n']) {
        if c.is_ascii_digit() || c == '.' {
            number.push(c);
            continue;
        }
        if number.contains('.') {
            out.push_str(number.trim_end_matches('0').trim_end_matches('.'));
        } else {
            out.push_str(&number);
        }
        number.clear();
        if c != '\n' {
            out.push(c);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_the_same_however_they_are_written() {
        assert!(same_name("IS52/28.6", "is 52 / 28,60"));
        assert!(same_name("oval 7 x 9", "Oval 7×9 mm"));
        assert!(same_name("round 27.2", "round-27.2"));
        assert!(!same_name("round 27.2", "round 31.6"));
        assert!(!same_name("IS52/28.6", "IS42/28.6"));
        assert!(!same_name("round 7", "round 70"));
    }

    #[test]
    fn a_name_is_found_in_a_list() {
        assert!(named_in("Round 7", "oval 7 x 9, round 7"));
        assert!(named_in("oval 7x9", "round 7 or oval 7 x 9"));
        assert!(!named_in("oval 7 x 10", "oval 7 x 9, round 7"));
    }

    #[test]
    fn the_last_digit_of_a_sum_breaks_no_limit() {
        assert!(!exceeds(0.1 + 0.2, 0.3));
        assert!(exceeds(30.1, 30.0));
        assert!(!falls_short(0.3, 0.1 + 0.2));
        assert!(falls_short(79.9, 80.0));
    }
}
