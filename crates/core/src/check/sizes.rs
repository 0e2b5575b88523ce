//! What the standard designations say: a tyre's size, a bearing seat, an axle, a brake mount.
//!
//! A text that says something else is not guessed at: it is refused with what was found and what was expected.

use crate::model::{Known, Missing};
pub(crate) use crate::part::TyreSize;

/// A bearing seat by the standard designation: `IS52/40`.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Seat {
    /// `EC`, `ZS` or `IS`: outside the head tube, flush with it, or without cups.
    pub(crate) kind: String,
    /// Bore of the head tube, nominal.
    pub(crate) bore_mm: f64,
    /// What the bearing goes round: the steerer above, the crown-race seat below.
    pub(crate) steerer_mm: Option<f64>,
}

/// A through axle: `12 x 142`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ThroughAxle {
    /// Diameter.
    pub(crate) diameter_mm: f64,
    /// Hub spacing.
    pub(crate) spacing_mm: f64,
}

/// A brake mount: `flat 140`.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct BrakeMount {
    /// `flat`, `post`, …
    pub(crate) kind: String,
    /// The rotor it is made for without an adapter, where it says so.
    pub(crate) rotor_mm: Option<f64>,
}

/// Reads a tyre's size.
pub(crate) fn tyre(text: &str) -> Known<TyreSize> {
    TyreSize::read(text).ok_or_else(|| unread("the tyre's size", text, "width and bead seat, such as 28-622"))
}

/// Reads a bearing seat.
pub(crate) fn seat(text: &str) -> Known<Seat> {
    let kind: String = text.trim().chars().take_while(char::is_ascii_alphabetic).collect();
    match (kind.to_uppercase().as_str(), numbers(text).as_slice()) {
        ("EC" | "ZS" | "IS", [bore_mm, rest @ ..]) if rest.len() <= 1 => {
            Ok(Seat { kind: kind.to_uppercase(), bore_mm: *bore_mm, steerer_mm: rest.first().copied() })
        }
        _ => Err(unread("the bearing seat", text, "a standard designation, such as IS52/40")),
    }
}

/// Reads a through axle.
pub(crate) fn through_axle(text: &str) -> Known<ThroughAxle> {
    match numbers(text).as_slice() {
        [diameter_mm, spacing_mm, ..] if *spacing_mm > 50.0 => {
            Ok(ThroughAxle { diameter_mm: *diameter_mm, spacing_mm: *spacing_mm })
        }
        _ => Err(unread("the axle", text, "diameter and hub spacing, such as 12 x 142")),
    }
}

/// Reads a brake mount; every text has a kind.
pub(crate) fn brake_mount(text: &str) -> BrakeMount {
    let kind: String = text.trim().chars().take_while(|c| !c.is_ascii_digit()).collect();
    BrakeMount { kind: kind.trim().to_lowercase(), rotor_mm: numbers(text).first().copied() }
}

/// The figures in a text, in their order; a comma between figures is a decimal comma.
pub(crate) fn numbers(text: &str) -> Vec<f64> {
    let text = text.replace(", ", "; ").replace(',', ".");
    text.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter_map(|word| word.parse().ok()).collect()
}

fn unread(what: &str, text: &str, expected: &str) -> Missing {
    Missing::refused(format!("{what} reads «{text}», and {expected}, was expected"))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a designation that is not read is to stop the test")]
    #![allow(clippy::float_cmp, reason = "figures are read as they stand")]

    use super::*;

    #[test]
    fn the_standard_designations_are_read() {
        assert_eq!(tyre("28-622").unwrap(), TyreSize { width_mm: 28.0, seat_mm: 622.0 });
        assert_eq!(seat("is52/28,6").unwrap().steerer_mm, Some(28.6));
        assert_eq!(seat("ZS44").unwrap(), Seat { kind: "ZS".into(), bore_mm: 44.0, steerer_mm: None });
        assert_eq!(through_axle("12 × 142 mm").unwrap().spacing_mm, 142.0);
        assert_eq!(brake_mount("flat 140"), BrakeMount { kind: "flat".into(), rotor_mm: Some(140.0) });
        assert_eq!(brake_mount("Flat").rotor_mm, None);
        assert_eq!(numbers("4,5, 8.5; 15"), [4.5, 8.5, 15.0]);
    }

    #[test]
    fn what_is_no_designation_is_refused_with_what_was_expected() {
        let refusal = tyre("700 x 28C").unwrap_err().refusal.unwrap();
        assert_eq!(refusal, "the tyre's size reads «700 x 28C», and width and bead seat, such as 28-622, was expected");
        assert!(seat("integrated").is_err() && through_axle("quick release").is_err());
    }
}
