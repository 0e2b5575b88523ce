//! What kind of quantity a field holds, the unit this house keeps it in, and how far a value may go before it is absurd.

use std::ops::RangeInclusive;
use witnessmark_core::field::Kind;

/// What kind of quantity a text is to be read as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// Millimetres.
    Length,
    /// Degrees.
    Angle,
    /// Grams.
    Mass,
    /// Newton metres; a steering pull may be negative.
    Torque,
    /// Kilopascals above the air around.
    Pressure,
    /// Newtons.
    Force,
    /// Seconds.
    Time,
    /// A number without a unit.
    Plain,
    /// Per cent: `12 %` is held as 12.
    Percent,
    /// A whole number, zero or more.
    Count,
    /// An amount in the workshop's own currency.
    Money,
}

impl Dimension {
    /// Every dimension, in the order above.
    pub const ALL: [Self; 11] = [
        Self::Length,
        Self::Angle,
        Self::Mass,
        Self::Torque,
        Self::Pressure,
        Self::Force,
        Self::Time,
        Self::Plain,
        Self::Percent,
        Self::Count,
        Self::Money,
    ];

    /// What the texts of a field of this kind are to be read as (in a list: each of its values); `None` when the field
    /// holds no quantity.
    pub const fn of(kind: Kind) -> Option<Self> {
        match kind {
            Kind::Length | Kind::Lengths => Some(Self::Length),
            Kind::Angle | Kind::Angles => Some(Self::Angle),
            Kind::Mass => Some(Self::Mass),
            Kind::Torque => Some(Self::Torque),
            Kind::Pressure => Some(Self::Pressure),
            Kind::Percent => Some(Self::Percent),
            Kind::Plain => Some(Self::Plain),
            Kind::Money => Some(Self::Money),
            Kind::Count | Kind::Counts => Some(Self::Count),
            Kind::Day | Kind::YesNo | Kind::Text | Kind::Choice(_) => None,
        }
    }

    /// The sign of the unit a value is kept in; empty where there is none.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Length => "mm",
            Self::Angle => "°",
            Self::Mass => "g",
            Self::Torque => "N·m",
            Self::Pressure => "kPa",
            Self::Force => "N",
            Self::Time => "s",
            Self::Percent => "%",
            Self::Plain | Self::Count | Self::Money => "",
        }
    }

    /// The range outside which a value is a slip of the finger, whatever the field.
    ///
    /// Wide on purpose: a field that knows better says so with [`read_within`](super::read_within). The figures are
    /// common practice, no source: a tape ends at 5 m, a rider with a bicycle and luggage stays under 500 kg, no bolt
    /// on a bicycle takes 500 N·m and no tyre 2000 kPa (20 bar).
    pub const fn sane(self) -> RangeInclusive<f64> {
        match self {
            Self::Length => -5_000.0..=5_000.0,
            Self::Angle => -360.0..=360.0,
            Self::Mass => 0.0..=500_000.0,
            Self::Torque => -500.0..=500.0,
            Self::Pressure => 0.0..=2_000.0,
            Self::Force => -100_000.0..=100_000.0,
            // Ten years: the longest service interval anyone would write down.
            Self::Time => 0.0..=315_360_000.0,
            Self::Plain => -1_000_000_000.0..=1_000_000_000.0,
            Self::Percent => -1_000.0..=1_000.0,
            Self::Count => 0.0..=1_000_000.0,
            Self::Money => -10_000_000.0..=10_000_000.0,
        }
    }

    /// With its article, as a sentence needs it: "a length".
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Angle => "an angle",
            Self::Mass => "a mass",
            Self::Torque => "a torque",
            Self::Pressure => "a pressure",
            Self::Force => "a force",
            Self::Time => "a time",
            Self::Plain => "a number without a unit",
            Self::Percent => "a percentage",
            Self::Count => "a whole number",
            Self::Money => "an amount of money",
        }
    }

    /// What a person could have typed instead: "35, 35 mm or 3.5 cm".
    pub const fn examples(self) -> &'static str {
        match self {
            Self::Length => "35, 35 mm or 3.5 cm",
            Self::Angle => "73.5 or 73.5°",
            Self::Mass => "145, 145 g or 0.145 kg",
            Self::Torque => "5, 5 N·m or 44 in·lb",
            Self::Pressure => "500, 5 bar or 72 psi",
            Self::Force => "1100, 1100 N or 112 kgf",
            Self::Time => "90, 90 s or 1.5 min",
            Self::Plain => "1.25",
            Self::Percent => "12 or 12 %",
            Self::Count => "12",
            Self::Money => "149.50",
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a refusal here is the test failing")]
    use super::*;
    use crate::quantity::{read, read_list};

    #[test]
    fn every_example_given_to_people_can_itself_be_typed() {
        for dimension in Dimension::ALL {
            for example in dimension.examples().split(" or ").flat_map(|some| some.split(", ")) {
                let value = read(example, dimension).unwrap();
                assert!(dimension.sane().contains(&value), "{example} as {dimension:?} reads {value}");
            }
        }
    }

    #[test]
    fn examples_of_one_dimension_mean_about_the_same() {
        for dimension in [Dimension::Length, Dimension::Mass, Dimension::Torque, Dimension::Pressure] {
            let list = dimension.examples().replace(" or ", "; ").replace(", ", "; ");
            let list: Vec<f64> = list.split("; ").map(|one| read_list(one, dimension).unwrap()[0]).collect();
            assert!(list.iter().all(|value| (value / list[0] - 1.0).abs() < 0.01), "{dimension:?}: {list:?}");
        }
    }

    #[test]
    fn what_a_field_tells_people_to_type_can_be_typed() {
        for kind in [
            Kind::Length,
            Kind::Angle,
            Kind::Mass,
            Kind::Torque,
            Kind::Pressure,
            Kind::Percent,
            Kind::Money,
            Kind::Count,
            Kind::Lengths,
            Kind::Angles,
            Kind::Counts,
        ] {
            let dimension = Dimension::of(kind).unwrap();
            assert_eq!(kind.unit(), dimension.unit(), "{kind:?}");
            let expects = kind.expects();
            let (_, examples) = expects.split_once("such as ").unwrap();
            for example in examples.split(" or ").flat_map(|some| some.split(", ")) {
                assert!(read_list(example, dimension).is_ok_and(|values| !values.is_empty()), "{example} as {kind:?}");
            }
        }
        assert_eq!(Dimension::of(Kind::Text), None);
    }

    #[test]
    fn the_house_unit_is_a_unit_people_can_type() {
        for dimension in Dimension::ALL {
            assert_eq!(read(&format!("7 {}", dimension.unit()), dimension), Ok(7.0));
        }
    }
}
