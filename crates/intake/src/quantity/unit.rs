//! The units people type, how they spell them, and what one of each is in the unit this house keeps.
//!
//! Every factor comes from the units library; none is written here. One thing is worth knowing: the library gives the
//! pound, the ounce, the pound-force and the psi to the seven digits of the printed table (NIST SP 811, appendix B.8),
//! though they are exact by definition. Its grain is exact, and a pound is 7000 grains (NIST SP 811, appendix B.8,
//! footnote to the pound: 0.453 592 37 kg exactly). So the four are built from its grain, its inch and its standard
//! gravity, and a pound is 453.592 37 g to the last digit.

use super::Dimension;
use uom::si::acceleration::standard_gravity;
use uom::si::angle::{degree, radian};
use uom::si::f64::{Acceleration, Angle, Force, Length, Mass, Pressure, Time, Torque};
use uom::si::force::{kilogram_force, kilonewton, newton};
use uom::si::length::{centimeter, foot, inch, meter, millimeter};
use uom::si::mass::{grain, gram, kilogram};
use uom::si::pressure::{bar, kilopascal, megapascal};
use uom::si::time::{hour, minute, second};
use uom::si::torque::newton_meter;

/// A unit people type.
#[derive(Debug)]
pub(super) struct Unit {
    /// What it measures.
    pub(super) dimension: Dimension,
    /// How it may be spelled, in lower case and without signs that join its parts: `nm` stands for N·m, N*m and Nm.
    spellings: &'static [&'static str],
    /// So many of this unit, in the house unit; `None` when it is the house unit, whose digits are left alone.
    convert: Option<fn(f64) -> f64>,
}

impl Unit {
    /// So many of this unit, in the house unit.
    ///
    /// A converted value is rounded to fifteen significant digits (a relative error of 5 × 10⁻¹⁵ at most, far below any
    /// instrument), so that 8.7 cm is 87 mm and not 86.99999999999999.
    pub(super) fn to_house(&self, figure: f64) -> f64 {
        self.convert.map_or(figure, |convert| fifteen_digits(convert(figure)))
    }
}

/// Finds a unit by how it was typed; `None` if nobody here knows it.
pub(super) fn find(typed: &str) -> Option<&'static Unit> {
    // Lower case `m` before `Pa` is a thousandth, upper case a million: a slip of 10⁹ that folding would hide.
    if typed == "mPa" {
        return None;
    }
    let folded = folded(typed);
    UNITS.iter().find(|unit| unit.spellings.contains(&folded.as_str()))
}

/// Lower case, without the signs that join two words or close an abbreviation: `Ft·Lb.` becomes `ftlb`.
fn folded(typed: &str) -> String {
    let is_sign = |c: char| matches!(c, '·' | '.' | '-' | ' ');
    let is_worded = typed.starts_with(char::is_alphabetic)
        && typed.ends_with(|c: char| c.is_alphabetic() || c == '.')
        && typed.chars().all(|c| c.is_alphabetic() || is_sign(c));
    let joined = if is_worded { typed.replace(is_sign, "") } else { typed.to_owned() };
    joined.to_lowercase()
}

/// The nearest number with fifteen significant digits.
pub(super) fn fifteen_digits(value: f64) -> f64 {
    format!("{value:.14e}").parse().unwrap_or(value)
}

/// A row of [`UNITS`] in the house unit.
const fn house(dimension: Dimension, spellings: &'static [&'static str]) -> Unit {
    Unit { dimension, spellings, convert: None }
}

/// A row of [`UNITS`] in any other unit.
const fn other(dimension: Dimension, spellings: &'static [&'static str], convert: fn(f64) -> f64) -> Unit {
    Unit { dimension, spellings, convert: Some(convert) }
}

/// Every unit that is known, by dimension. A spelling stands once.
#[rustfmt::skip]
static UNITS: &[Unit] = &[
    house(Dimension::Length, &["mm", "millimetre", "millimetres", "millimeter", "millimeters"]),
    other(Dimension::Length, &["cm", "centimetre", "centimetres", "centimeter", "centimeters"], |x| in_mm(Length::new::<centimeter>(x))),
    other(Dimension::Length, &["m", "metre", "metres", "meter", "meters"], |x| in_mm(Length::new::<meter>(x))),
    other(Dimension::Length, &["in", "inch", "inches", "\"", "''"], |x| in_mm(Length::new::<inch>(x))),
    other(Dimension::Length, &["ft", "foot", "feet", "'"], |x| in_mm(Length::new::<foot>(x))),

    house(Dimension::Angle, &["°", "deg", "degree", "degrees"]),
    other(Dimension::Angle, &["rad", "radian", "radians"], |x| Angle::new::<radian>(x).get::<degree>()),

    house(Dimension::Mass, &["g", "gram", "grams", "gramme", "grammes"]),
    other(Dimension::Mass, &["kg", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], |x| in_g(Mass::new::<kilogram>(x))),
    other(Dimension::Mass, &["lb", "lbs", "pound", "pounds"], |x| in_g(pounds(x))),
    other(Dimension::Mass, &["oz", "ounce", "ounces"], |x| in_g(pounds(x) / 16.0)),

    house(Dimension::Torque, &["nm", "newtonmetre", "newtonmetres", "newtonmeter", "newtonmeters"]),
    other(Dimension::Torque, &["ncm"], |x| in_nm(Force::new::<newton>(x), Length::new::<centimeter>(1.0))),
    other(Dimension::Torque, &["kgfcm", "kgcm"], |x| in_nm(Force::new::<kilogram_force>(x), Length::new::<centimeter>(1.0))),
    other(Dimension::Torque, &["kgfm", "kgm"], |x| in_nm(Force::new::<kilogram_force>(x), Length::new::<meter>(1.0))),
    other(Dimension::Torque, &["inlb", "inlbs", "inlbf", "lbin", "lbsin", "lbfin", "inchpound", "inchpounds"], |x| in_nm(pounds_force(x), Length::new::<inch>(1.0))),
    other(Dimension::Torque, &["ftlb", "ftlbs", "ftlbf", "lbft", "lbsft", "lbfft", "footpound", "footpounds"], |x| in_nm(pounds_force(x), Length::new::<foot>(1.0))),

    house(Dimension::Pressure, &["kpa", "kilopascal", "kilopascals"]),
    other(Dimension::Pressure, &["bar", "bars"], |x| Pressure::new::<bar>(x).get::<kilopascal>()),
    other(Dimension::Pressure, &["psi"], |x| (pounds_force(x) / (Length::new::<inch>(1.0) * Length::new::<inch>(1.0))).get::<kilopascal>()),
    other(Dimension::Pressure, &["mpa", "megapascal", "megapascals"], |x| Pressure::new::<megapascal>(x).get::<kilopascal>()),

    house(Dimension::Force, &["n", "newton", "newtons"]),
    other(Dimension::Force, &["kn", "kilonewton", "kilonewtons"], |x| Force::new::<kilonewton>(x).get::<newton>()),
    other(Dimension::Force, &["kgf"], |x| Force::new::<kilogram_force>(x).get::<newton>()),
    other(Dimension::Force, &["lbf"], |x| pounds_force(x).get::<newton>()),

    house(Dimension::Time, &["s", "sec", "second", "seconds"]),
    other(Dimension::Time, &["min", "minute", "minutes"], |x| Time::new::<minute>(x).get::<second>()),
    other(Dimension::Time, &["h", "hr", "hour", "hours"], |x| Time::new::<hour>(x).get::<second>()),

    house(Dimension::Percent, &["%", "percent"]),
];

fn in_mm(length: Length) -> f64 {
    length.get::<millimeter>()
}

fn in_g(mass: Mass) -> f64 {
    mass.get::<gram>()
}

fn in_nm(force: Force, arm: Length) -> f64 {
    Torque::from(force * arm).get::<newton_meter>()
}

fn pounds(count: f64) -> Mass {
    Mass::new::<grain>(7_000.0 * count)
}

fn pounds_force(count: f64) -> Force {
    pounds(count) * Acceleration::new::<standard_gravity>(1.0)
}

/// The inch and the foot, which alone may stand in one text: `5' 11"`.
pub(super) fn is_inch(unit: &Unit) -> bool {
    unit.spellings.contains(&"in")
}

/// See [`is_inch`].
pub(super) fn is_foot(unit: &Unit) -> bool {
    unit.spellings.contains(&"ft")
}

#[cfg(test)]
mod tests {
    #![allow(
        clippy::unwrap_used,
        clippy::float_cmp,
        reason = "a missing unit is the test failing; exact factors are compared exactly"
    )]
    use super::*;
    use std::collections::BTreeSet;

    /// The printed factors, digits as printed, in the house unit.
    ///
    /// Source: NIST Special Publication 811, appendix B.8, and its footnotes for the exact pound and pound-force. None was
    /// read in the document itself: length, mass, force, pressure and time were read in a transcription of the table; the
    /// torque rows and the two exact values in the footnotes as others quote them. Shifted to the house unit by powers of
    /// ten only. (unit, as printed, exact?)
    const PRINTED: &[(&str, &str, bool)] = &[
        ("in", "25.4", true),
        ("ft", "304.8", true),
        ("lb", "453.592 37", true),
        ("lb", "453.592 4", false),
        ("oz", "28.349 52", false),
        ("lbf", "4.448 221 615 260 5", true),
        ("lbf", "4.448 222", false),
        ("kgf", "9.806 65", true),
        ("psi", "6.894 757", false),
        ("bar", "100", true),
        ("in·lb", "0.112 984 8", false),
        ("ft·lb", "1.355 818", false),
        ("kgf·m", "9.806 65", true),
        ("min", "60", true),
        ("h", "3600", true),
    ];

    #[test]
    fn every_factor_agrees_with_the_printed_table_to_its_last_digit() {
        for &(typed, printed, exact) in PRINTED {
            let ours = find(typed).unwrap().to_house(1.0);
            let digits = printed.replace(' ', "");
            let theirs: f64 = digits.parse().unwrap();
            if exact {
                assert_eq!(ours, theirs, "{typed}");
            } else {
                let decimals = digits.split_once('.').map_or(0, |(_, after)| after.len());
                let half_of_the_last_digit = 0.5 * 10_f64.powi(-i32::try_from(decimals).unwrap());
                assert!((ours - theirs).abs() <= half_of_the_last_digit, "{typed}: {ours} is not {printed}");
            }
        }
    }

    #[test]
    fn units_made_of_one_another_keep_their_whole_ratios() {
        let one = |typed: &str| find(typed).unwrap().to_house(1.0);
        // Identities of definition: (so many, of these, are one of those).
        for (count, small, large) in [
            (12.0, "in", "ft"),
            (10.0, "mm", "cm"),
            (100.0, "cm", "m"),
            (16.0, "oz", "lb"),
            (1_000.0, "g", "kg"),
            (12.0, "in lb", "ft lb"),
            (100.0, "kgf cm", "kgf m"),
            (100.0, "N cm", "N m"),
            (1_000.0, "kPa", "MPa"),
            (10.0, "bar", "MPa"),
            (1_000.0, "N", "kN"),
            (60.0, "min", "h"),
        ] {
            assert!((count * one(small) / one(large) - 1.0).abs() < 1e-14, "{count} {small} is not one {large}");
        }
        assert!((find("rad").unwrap().to_house(std::f64::consts::PI) - 180.0).abs() < 1e-12);
    }

    #[test]
    fn a_conversion_leaves_no_dust_behind_the_last_digit() {
        for (figure, typed, expected) in
            [(8.7, "cm", 87.0), (1.15, "m", 1_150.0), (1.125, "in", 28.575), (5.2, "bar", 520.0), (6.84, "kg", 6_840.0)]
        {
            assert_eq!(find(typed).unwrap().to_house(figure), expected, "{figure} {typed}");
        }
    }

    #[test]
    fn units_are_known_however_they_are_written() {
        for (typed, spelled) in [
            ("N·m", "nm"),
            ("Nm", "nm"),
            ("N m", "nm"),
            ("N.m", "nm"),
            ("NM", "nm"),
            ("kgf·cm", "kgfcm"),
            ("in-lb", "inlb"),
            ("in. lbs.", "inlb"),
            ("Ft·Lb", "ftlb"),
            ("In.", "in"),
            ("Mm", "mm"),
            ("KG", "kg"),
            ("Psi", "psi"),
            ("Bar", "bar"),
            ("MPa", "mpa"),
            ("per cent", "percent"),
        ] {
            let unit = find(typed).unwrap();
            assert!(unit.spellings.contains(&spelled), "{typed} is taken for {unit:?}");
        }
    }

    #[test]
    fn a_thousandth_of_a_pascal_is_not_taken_for_a_million() {
        assert!(find("mPa").is_none());
    }

    #[test]
    fn signs_alone_and_strangers_are_no_units() {
        for typed in ["", ".", "·", "-", "mm-", "·mm", "furlong", "mm²", "N/m", "kg·"] {
            assert!(find(typed).is_none(), "{typed}");
        }
    }

    #[test]
    fn no_spelling_means_two_units_and_each_is_written_folded() {
        let mut seen = BTreeSet::new();
        for spelling in UNITS.iter().flat_map(|unit| unit.spellings) {
            assert!(seen.insert(spelling), "{spelling} stands twice");
            assert_eq!(folded(spelling), *spelling);
        }
    }

    #[test]
    fn each_dimension_with_a_unit_has_one_house_row_that_spells_it() {
        for dimension in Dimension::ALL.into_iter().filter(|dimension| !dimension.unit().is_empty()) {
            let house: Vec<&Unit> = UNITS.iter().filter(|u| u.dimension == dimension && u.convert.is_none()).collect();
            assert_eq!(house.len(), 1, "{dimension:?}");
            assert!(house[0].spellings.contains(&folded(dimension.unit()).as_str()), "{dimension:?}");
        }
    }
}
