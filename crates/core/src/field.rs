//! A field of the document: its key, what it holds, and how it is reached by name.
//!
//! Every table of a build document (a part, the settings, a reading …) is declared once, with [`record!`]: a Rust struct
//! whose fields carry their unit in the name, and, from the same lines, the list of [`Field`]s that files, pages, edits
//! and schemas are made from. A field that is not filled in is `None`: not known.

use jiff::civil::Date;
use std::fmt;

/// What a field holds, and so how a typed text is to be read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// Millimetres.
    Length,
    /// Degrees.
    Angle,
    /// Grams.
    Mass,
    /// Newton metres.
    Torque,
    /// Kilopascals.
    Pressure,
    /// Per cent.
    Percent,
    /// A number without a unit.
    Plain,
    /// An amount of money in the workshop's currency.
    Money,
    /// A whole number, zero or more.
    Count,
    /// A list of lengths, millimetres.
    Lengths,
    /// A list of angles, degrees.
    Angles,
    /// A list of whole numbers (a cassette's sprockets).
    Counts,
    /// A calendar day.
    Day,
    /// Yes or no.
    YesNo,
    /// Free text on one line.
    Text,
    /// One of a fixed set of words.
    Choice(&'static [&'static str]),
}

impl Kind {
    /// The ending a field's Rust name must carry for this kind: the unit is in the name, last.
    pub const fn suffix(self) -> &'static str {
        match self {
            Kind::Length | Kind::Lengths => "_mm",
            Kind::Angle | Kind::Angles => "_deg",
            Kind::Mass => "_g",
            Kind::Torque => "_nm",
            Kind::Pressure => "_kpa",
            Kind::Percent => "_percent",
            _ => "",
        }
    }

    /// The unit's sign as printed beside a value; empty where there is none.
    pub const fn unit(self) -> &'static str {
        match self {
            Kind::Length | Kind::Lengths => "mm",
            Kind::Angle | Kind::Angles => "°",
            Kind::Mass => "g",
            Kind::Torque => "N·m",
            Kind::Pressure => "kPa",
            Kind::Percent => "%",
            _ => "",
        }
    }

    /// What a person is told to type here.
    pub fn expects(self) -> String {
        match self {
            Kind::Length => "a length, such as 35, 35 mm or 3.5 cm".into(),
            Kind::Angle => "an angle in degrees, such as 73.5".into(),
            Kind::Mass => "a mass, such as 145 or 0.145 kg".into(),
            Kind::Torque => "a torque, such as 5 N·m".into(),
            Kind::Pressure => "a pressure, such as 5 bar or 72 psi".into(),
            Kind::Percent => "a percentage, such as 0.5 %".into(),
            Kind::Plain => "a number".into(),
            Kind::Money => "an amount of money, such as 149.50".into(),
            Kind::Count => "a whole number, such as 12".into(),
            Kind::Lengths => "lengths, such as 0; 5; 10 or 0..40 step 5".into(),
            Kind::Angles => "angles, such as -6; 6 or -4..4 step 1".into(),
            Kind::Counts => "whole numbers, such as 11; 12; 13".into(),
            Kind::Day => "a day, such as 2027-03-14".into(),
            Kind::YesNo => "yes or no".into(),
            Kind::Text => "text on one line".into(),
            Kind::Choice(words) => format!("one of: {}", words.join(", ")),
        }
    }
}

/// One field of a table: its key in a file, what it holds, the range outside which a value is absurd, and its meaning.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// The name of the struct's field, unit last: `length_mm`.
    pub name: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// Smallest value that is not absurd.
    pub low: f64,
    /// Largest value that is not absurd.
    pub high: f64,
    /// What it means, in a sentence a mechanic would follow.
    pub says: &'static str,
}

impl Field {
    /// The key in a file, on a page and in an edit: the name without its unit.
    pub fn key(&self) -> &'static str {
        self.name.strip_suffix(self.kind.suffix()).unwrap_or(self.name)
    }

    /// The key as words: `head_tube_length` reads "head tube length".
    pub fn words(&self) -> String {
        self.key().replace('_', " ")
    }
}

/// A value of any kind, as the document holds it: already in the unit of the house.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A quantity in the unit of its kind.
    Number(f64),
    /// A whole number.
    Count(u32),
    /// Several quantities.
    Numbers(Vec<f64>),
    /// Several whole numbers.
    Counts(Vec<u32>),
    /// A calendar day.
    Day(Date),
    /// Yes or no.
    YesNo(bool),
    /// Text, or the word of a choice.
    Text(String),
}

/// Where a fact comes from. A better origin beats a worse one; the order here is from best to worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Origin {
    /// Taken on this very part, with an instrument.
    Measured,
    /// From the maker's sheet for this very part.
    Sheet,
    /// Printed or engraved on the part.
    Printed,
    /// From a catalogue or a shop's page.
    Catalogue,
    /// Nobody looked: an assumption that is to be checked.
    Assumed,
}

impl Choice for Origin {
    const NAMES: &'static [&'static str] =
        &["measured here", "maker's sheet", "printed on the part", "catalogue", "assumed"];
    fn name(&self) -> &'static str {
        Self::NAMES[*self as usize]
    }
    fn from_name(name: &str) -> Option<Self> {
        use Origin::{Assumed, Catalogue, Measured, Printed, Sheet};
        [Measured, Sheet, Printed, Catalogue, Assumed].into_iter().find(|origin| origin.name() == name)
    }
}

/// A value that was given, what was typed for it, and where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Given<T> {
    /// The value, in the unit of the house.
    pub value: T,
    /// The text as typed, kept as a note.
    pub typed: String,
    /// Where this very fact comes from, where that differs from the rest of its part.
    pub origin: Option<Origin>,
}

/// A given value of any kind: what an edit, a file or a page puts into a field.
pub type Leaf = Given<Value>;

/// A type that a field can hold.
pub trait FieldValue: Sized {
    /// The value for the document.
    fn to_value(&self) -> Value;
    /// The value back; `None` where the kind is another.
    fn from_value(value: &Value) -> Option<Self>;
}

/// A fixed set of words.
pub trait Choice: Sized + Copy {
    /// The words, as typed in a file.
    const NAMES: &'static [&'static str];
    /// The word of this one.
    fn name(&self) -> &'static str;
    /// The one with this word.
    fn from_name(name: &str) -> Option<Self>;
}

macro_rules! field_value {
    ($($type:ty, $variant:ident);+ $(;)?) => {$(
        impl FieldValue for $type {
            fn to_value(&self) -> Value { Value::$variant(self.clone()) }
            fn from_value(value: &Value) -> Option<Self> {
                match value { Value::$variant(inner) => Some(inner.clone()), _ => None }
            }
        }
    )+};
}
field_value! { f64, Number; u32, Count; Vec<f64>, Numbers; Vec<u32>, Counts; Date, Day; bool, YesNo; String, Text }

impl<C: Choice> FieldValue for C {
    fn to_value(&self) -> Value {
        Value::Text(self.name().to_owned())
    }
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Text(name) => C::from_name(name),
            _ => None,
        }
    }
}

impl<T: FieldValue> Given<T> {
    /// The same, of any kind.
    pub fn to_leaf(&self) -> Leaf {
        Given { value: self.value.to_value(), typed: self.typed.clone(), origin: self.origin }
    }

    /// The same, of this type; `None` where the kind is another.
    pub fn from_leaf(leaf: &Leaf) -> Option<Self> {
        T::from_value(&leaf.value).map(|value| Given { value, typed: leaf.typed.clone(), origin: leaf.origin })
    }
}

impl From<f64> for Given<f64> {
    /// A value that nobody typed: examples and tests.
    fn from(value: f64) -> Self {
        Given { value, typed: value.to_string(), origin: None }
    }
}

impl From<u32> for Given<u32> {
    fn from(value: u32) -> Self {
        Given { value, typed: value.to_string(), origin: None }
    }
}

impl From<bool> for Given<bool> {
    fn from(value: bool) -> Self {
        Given { value, typed: if value { "yes" } else { "no" }.into(), origin: None }
    }
}

impl From<&str> for Given<String> {
    fn from(value: &str) -> Self {
        Given { value: value.to_owned(), typed: value.to_owned(), origin: None }
    }
}

impl From<Date> for Given<Date> {
    fn from(value: Date) -> Self {
        Given { value, typed: value.to_string(), origin: None }
    }
}

impl<C: Choice> From<C> for Given<C> {
    fn from(value: C) -> Self {
        Given { value, typed: value.name().to_owned(), origin: None }
    }
}

/// A kind of value does not belong into a field. The way in has read the text by the field's kind, so this is a mistake of
/// the program and not of the person; it is an error all the same, because nobody gains from a stopped workshop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrongKind {
    /// The field that was to take it.
    pub field: &'static str,
}

impl fmt::Display for WrongKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a value of another kind cannot stand in {}", self.field)
    }
}

impl std::error::Error for WrongKind {}

/// A table of the document, reached field by field. Implemented by [`record!`] alone.
pub trait Record {
    /// The fields, in the order in which they are shown.
    fn fields(&self) -> &'static [Field];
    /// The value of the field at this place in [`Record::fields`].
    fn get(&self, index: usize) -> Option<Leaf>;
    /// Fills or clears the field at this place in [`Record::fields`].
    fn put(&mut self, index: usize, leaf: Option<Leaf>) -> Result<(), WrongKind>;
    /// The quantity of the field with this name, for facts that tables of many kinds have in common.
    fn number(&self, name: &str) -> Option<f64> {
        let index = self.fields().iter().position(|field| field.name == name)?;
        match self.get(index)?.value {
            Value::Number(value) => Some(value),
            _ => None,
        }
    }
}

/// Declares a set of words as an enum: `choice! { /// doc  pub enum Fluid { MineralOil = "mineral oil", … } }`.
#[macro_export]
macro_rules! choice {
    ($(#[$meta:meta])* pub enum $name:ident { $($(#[$vmeta:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name { $($(#[$vmeta])* #[doc = $word] $variant),+ }
        impl $crate::field::Choice for $name {
            const NAMES: &'static [&'static str] = &[$($word),+];
            fn name(&self) -> &'static str { match self { $(Self::$variant => $word),+ } }
            fn from_name(name: &str) -> Option<Self> {
                match name { $($word => Some(Self::$variant),)+ _ => None }
            }
        }
    };
}

/// Declares a table of the document: a struct of optional facts and its list of fields.
///
/// ```
/// witnessmark_core::record! {
///     /// A plug for the end of the bar.
///     pub struct EndPlug {
///         diameter_mm: Length(5.0..40.0) "Outside diameter where it enters the bar.",
///         colour: Text "As the customer would name it.",
///     }
/// }
/// use witnessmark_core::field::Record;
/// let plug = EndPlug { diameter_mm: Some(20.0.into()), ..EndPlug::default() };
/// assert_eq!(plug.fields()[0].key(), "diameter");
/// assert_eq!(plug.get(0).map(|leaf| leaf.typed), Some("20".to_owned()));
/// assert_eq!(plug.get(1), None);
/// ```
#[macro_export]
macro_rules! record {
    ($(#[$meta:meta])* pub struct $name:ident {
        $($field:ident : $kind:ident $(<$choice:ty>)? $(($low:literal .. $high:literal))? $says:literal),* $(,)?
    }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct $name {
            $(#[doc = $says] pub $field: Option<$crate::field::Given<$crate::record!(@type $kind $($choice)?)>>),*
        }

        impl $name {
            /// The fields of this table, in the order in which they are shown.
            pub const FIELDS: &'static [$crate::field::Field] = &[$(
                $crate::field::Field {
                    name: stringify!($field),
                    kind: $crate::record!(@kind $kind $($choice)?),
                    low: $crate::record!(@low $($low)?),
                    high: $crate::record!(@high $($high)?),
                    says: $says,
                }
            ),*];
        }

        impl $crate::field::Record for $name {
            fn fields(&self) -> &'static [$crate::field::Field] { Self::FIELDS }
            #[allow(unused_assignments, reason = "the counter's last step has no reader")]
            fn get(&self, index: usize) -> Option<$crate::field::Leaf> {
                let mut place = 0;
                $(
                    if place == index {
                        return self.$field.as_ref().map($crate::field::Given::to_leaf);
                    }
                    place += 1;
                )*
                None
            }
            #[allow(unused_assignments, reason = "the counter's last step has no reader")]
            fn put(&mut self, index: usize, leaf: Option<$crate::field::Leaf>) -> Result<(), $crate::field::WrongKind> {
                let mut place = 0;
                $(
                    if place == index {
                        self.$field = match leaf {
                            None => None,
                            Some(leaf) => Some(
                                $crate::field::Given::from_leaf(&leaf)
                                    .ok_or($crate::field::WrongKind { field: stringify!($field) })?,
                            ),
                        };
                        return Ok(());
                    }
                    place += 1;
                )*
                Ok(())
            }
        }
    };
    (@type Length) => { f64 };
    (@type Angle) => { f64 };
    (@type Mass) => { f64 };
    (@type Torque) => { f64 };
    (@type Pressure) => { f64 };
    (@type Percent) => { f64 };
    (@type Plain) => { f64 };
    (@type Money) => { f64 };
    (@type Count) => { u32 };
    (@type Lengths) => { Vec<f64> };
    (@type Angles) => { Vec<f64> };
    (@type Counts) => { Vec<u32> };
    (@type Day) => { ::jiff::civil::Date };
    (@type YesNo) => { bool };
    (@type Text) => { String };
    (@type Choice $choice:ty) => { $choice };
    (@kind Choice $choice:ty) => { $crate::field::Kind::Choice(<$choice as $crate::field::Choice>::NAMES) };
    (@kind $kind:ident) => { $crate::field::Kind::$kind };
    (@low) => { f64::NEG_INFINITY };
    (@low $low:literal) => { $low };
    (@high) => { f64::INFINITY };
    (@high $high:literal) => { $high };
}
