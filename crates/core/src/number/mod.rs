//! The registry of numbers: the only place that knows what a number of the bike *is*.
//!
//! Screens, sheets, exports, comparisons and checks are views of [`all`]. Adding a number is one entry in the file of its
//! area; the test at the end of this file says what an entry must have.

mod cockpit;
mod finish;
mod frame;
mod front_end;
mod saddle;
mod transmission;
mod wheels;

use crate::choice;
use crate::field::Kind;

pub use cockpit::*;
pub use finish::*;
pub use frame::*;
pub use front_end::*;
pub use saddle::*;
pub use transmission::*;
pub use wheels::*;

choice! {
    /// Where on the bike a number belongs, in the order in which a mechanic walks round it.
    pub enum Area {
        /// Bar, levers, tape, computer.
        Cockpit = "cockpit",
        /// Steerer, spacers, stem, headset, fork.
        FrontEnd = "front end",
        /// Frame, hoses and wires inside it.
        FrameAndRouting = "frame and routing",
        /// Cranks, chain, sprockets, derailleurs.
        Transmission = "transmission",
        /// Wheels, tyres, brakes.
        WheelsAndBrakes = "wheels and brakes",
        /// Saddle and post.
        Saddle = "saddle",
        /// Mass and what is left.
        Finish = "finish",
    }
}

/// Which side of the bike a value belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// One value for the bike; of a number with sides: both alike.
    None,
    /// The rider's left.
    Left,
    /// The rider's right.
    Right,
    /// The front wheel's end.
    Front,
    /// The rear wheel's end.
    Rear,
}

impl Side {
    /// The word in a file and on a page; empty for [`Side::None`].
    pub const fn word(self) -> &'static str {
        match self {
            Side::None => "",
            Side::Left => "left",
            Side::Right => "right",
            Side::Front => "front",
            Side::Rear => "rear",
        }
    }
}

/// The sides on which a number is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sides {
    /// Once for the bike.
    One,
    /// Left and right, and the two are compared.
    LeftRight,
    /// Front and rear.
    FrontRear,
}

impl Sides {
    /// Each side on which the number has a value of its own.
    pub const fn each(self) -> &'static [Side] {
        match self {
            Sides::One => &[Side::None],
            Sides::LeftRight => &[Side::Left, Side::Right],
            Sides::FrontRear => &[Side::Front, Side::Rear],
        }
    }
}

choice! {
    /// The line along which a fitter took a distance.
    pub enum Line {
        /// Straight up.
        Vertical = "vertical",
        /// Level.
        Horizontal = "horizontal",
        /// As the tape lies between the two points, seen from the side.
        Straight = "straight",
        /// Along the seat tube.
        AlongSeatTube = "along the seat tube",
    }
}

choice! {
    /// The point of the saddle from which, or to which, a fitter took a figure.
    pub enum SaddlePoint {
        /// The foremost point.
        Nose = "nose",
        /// The middle of its top where it is as wide as the document says; 80 mm where the house takes it.
        Width = "width",
        /// The lowest point of its top.
        Dip = "dip",
        /// Half-way between nose and tail.
        Middle = "middle",
    }
}

choice! {
    /// The point of the cockpit to which a fitter took a figure.
    pub enum BarPoint {
        /// The centre of the bar in the stem's clamp.
        ClampCentre = "clamp centre",
        /// The upper edge of the bare bar.
        BarTop = "bar top",
        /// The front edge of the bare bar.
        BarFront = "bar front",
        /// The rear edge of the bare bar.
        BarRear = "bar rear",
        /// The lowest point of the hood's trough, on its centre line.
        HoodTrough = "hood trough",
    }
}

choice! {
    /// How a width was taken.
    pub enum Across {
        /// Centre of the tube to centre of the tube.
        Centres = "centre to centre",
        /// Outside to outside.
        Outsides = "outside to outside",
        /// Inside to inside.
        Insides = "inside to inside",
    }
}

choice! {
    /// Whether a spacer height counts the headset's top cover.
    pub enum Cover {
        /// Loose spacers only.
        NotCounted = "not counted",
        /// Spacers and top cover together.
        Counted = "counted",
    }
}

/// What a fitter can have meant by a number. Each list holds the readings in use, the house's own first; a list with one
/// entry or none leaves nothing to ask.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forms {
    /// Along which line.
    pub line: &'static [Line],
    /// From which point of the saddle.
    pub from: &'static [SaddlePoint],
    /// To which point of the cockpit.
    pub to: &'static [BarPoint],
    /// Between what.
    pub across: &'static [Across],
    /// With or without the top cover.
    pub cover: &'static [Cover],
}

impl Forms {
    /// Nothing to ask: the number has one definition in the trade.
    pub const PLAIN: Forms = Forms { line: &[], from: &[], to: &[], across: &[], cover: &[] };
}

/// How far off is still the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// The customary tolerance, in the number's unit, either way.
    pub value: f64,
    /// Where it comes from.
    pub source: &'static str,
}

/// The range that exposes a slip of the pen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Customary {
    /// Smallest customary value.
    pub low: f64,
    /// Largest customary value.
    pub high: f64,
    /// Where the range comes from.
    pub source: &'static str,
}

/// One number of the bike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// English trade words joined by hyphens; never used twice, never changed.
    pub id: &'static str,
    /// The trade's name for it.
    pub name: &'static str,
    /// Its unit, by way of its kind.
    pub kind: Kind,
    /// Where in the walk-round it belongs.
    pub area: Area,
    /// The sides on which it is taken.
    pub sides: Sides,
    /// What it is, so that two mechanics read the same.
    pub definition: &'static str,
    /// How it is taken.
    pub how: &'static str,
    /// How far off is still the same.
    pub tolerance: Tolerance,
    /// The range that exposes a slip of the pen, where the trade has one.
    pub customary: Option<Customary>,
    /// What a fitter can have meant by it.
    pub forms: Forms,
}

/// Common practice: a fact of the trade for which no document was found.
pub const COMMON_PRACTICE: &str = "common practice, no source";

/// Declares the numbers of an area: a constant each, and the area's list.
macro_rules! numbers {
    ($($(#[$meta:meta])* $constant:ident = { $($body:tt)* })*) => {
        $($(#[$meta])* pub static $constant: crate::number::Number = crate::number::Number { $($body)* };)*
        /// The numbers of this area, in the order in which they are taken.
        pub(super) static LIST: &[&crate::number::Number] = &[$(&$constant),*];
    };
}
use numbers;

/// Every number, in the order of the walk-round.
pub fn all() -> impl Iterator<Item = &'static Number> {
    [cockpit::LIST, front_end::LIST, frame::LIST, transmission::LIST, wheels::LIST, saddle::LIST, finish::LIST]
        .into_iter()
        .flatten()
        .copied()
}

/// The number with this id.
pub fn by_id(id: &str) -> Option<&'static Number> {
    all().find(|number| number.id == id)
}

/// The place of a number in the walk-round, for sorting.
pub(crate) fn place(number: &Number) -> usize {
    all().position(|other| other.id == number.id).unwrap_or(usize::MAX)
}

const fn tolerance(value: f64) -> Tolerance {
    Tolerance { value, source: COMMON_PRACTICE }
}

#[allow(clippy::unnecessary_wraps, reason = "it fills a field that is empty where the trade has no range")]
const fn customary(low: f64, high: f64) -> Option<Customary> {
    Some(Customary { low, high, source: COMMON_PRACTICE })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_number_has_an_id_of_its_own_and_says_what_it_is_and_how_it_is_taken() {
        let mut ids = BTreeSet::new();
        for number in all() {
            assert!(ids.insert(number.id), "{} stands twice", number.id);
            assert!(
                number.id.split('-').all(|word| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase())),
                "{}: words joined by hyphens",
                number.id
            );
            for (what, text) in [("name", number.name), ("definition", number.definition), ("how", number.how)] {
                assert!(!text.is_empty(), "{} has no {what}", number.id);
            }
            for text in [number.definition, number.how] {
                assert!(text.ends_with('.'), "{}: «{text}» is a sentence", number.id);
            }
            assert!(number.tolerance.value >= 0.0, "{}", number.id);
            if let Some(range) = number.customary {
                assert!(range.low < range.high, "{}", number.id);
            }
        }
        assert!(ids.len() > 30);
    }

    #[test]
    fn the_list_follows_the_walk_round() {
        let areas: Vec<_> = all().map(|number| number.area).collect();
        assert!(areas.is_sorted(), "{areas:?}");
    }
}
