//! The model: the document with every part in its place, and facts that are known or not.
//!
//! A fact that is missing is a value of its own, [`Missing`], which says which facts of which parts are to be found out.
//! Nothing after this point sees a default in place of a fact.

use crate::build::{Build, Settings};
use crate::field::{Given, Kind};
use crate::number::Side;
use crate::part::{
    Axle, Bar, Battery, BottomBracket, Caliper, Cassette, Chain, Cockpit, ComputerMount, Crankset, Display, EndPlug,
    Fork, Frame, FrontDerailleur, Headset, Hose, Lever, Parts, Pedal, Post, RadioUnit, RearDerailleur, Rotor, Saddle,
    Stem, Tape, Tube, Tyre, Wheel,
};
use crate::rulebook::RuleBook;
use std::fmt;

/// The paths of facts that are not filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Missing {
    /// Paths of fields (`parts.frame.stack`) or, where a whole part is missing, the path of its fact all the same.
    pub paths: Vec<String>,
    /// Why it cannot be worked out although every fact is there: a refusal of the mechanics, in words.
    pub refusal: Option<String>,
}

impl Missing {
    /// One missing fact.
    pub fn fact(path: impl Into<String>) -> Self {
        Missing { paths: vec![path.into()], refusal: None }
    }

    /// Every fact is there, and they cannot be together.
    pub fn refused(why: impl Into<String>) -> Self {
        Missing { paths: Vec::new(), refusal: Some(why.into()) }
    }

    /// These and those.
    #[must_use]
    pub fn and(mut self, other: &Missing) -> Self {
        for path in &other.paths {
            if !self.paths.contains(path) {
                self.paths.push(path.clone());
            }
        }
        if self.refusal.is_none() {
            self.refusal.clone_from(&other.refusal);
        }
        self
    }
}

impl Missing {
    /// These, or this one fact where there are none.
    pub(crate) fn or_fact(self, path: &str) -> Self {
        if self.paths.is_empty() && self.refusal.is_none() { Missing::fact(path) } else { self }
    }
}

impl fmt::Display for Missing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(why) = &self.refusal {
            return f.write_str(why);
        }
        let words: Vec<String> = self.paths.iter().map(|path| in_words(path)).collect();
        write!(f, "not known: {}", words.join("; "))
    }
}

/// A path as words: `parts.tyre.front.outer_radius` reads "front tyre: outer radius".
pub fn in_words(path: &str) -> String {
    let keys: Vec<&str> = path.split('.').collect();
    let plain = |key: &str| key.replace(['_', '-'], " ");
    match keys.as_slice() {
        ["parts", kind, place, fact] => format!("{} {}: {}", plain(place), plain(kind), plain(fact)),
        ["parts", kind, fact] => format!("{}: {}", plain(kind), plain(fact)),
        ["settings", fact] => format!("setting: {}", plain(fact)),
        [section, rest @ ..] => {
            let rest: Vec<String> = rest.iter().map(|key| plain(key)).collect();
            format!("{}: {}", plain(section), rest.join(", "))
        }
        [] => String::new(),
    }
}

/// Known, or what is missing.
pub type Known<T> = Result<T, Missing>;

/// A part in its place, fitted or not.
#[derive(Clone, Debug)]
pub struct Place<'a, T> {
    /// The path of the place: `parts.tyre.front`.
    pub path: &'static str,
    /// What is fitted there.
    pub part: Option<&'a T>,
}

impl<'a, T> Place<'a, T> {
    /// A fact of the part. Call it through [`fact!`](crate::fact).
    pub fn known<V: Clone + 'a>(&self, name: &str, pick: impl Fn(&'a T) -> Option<&'a Given<V>>) -> Known<V> {
        self.part
            .and_then(pick)
            .map(|given| given.value.clone())
            .ok_or_else(|| Missing::fact(format!("{}.{}", self.path, without_unit(name))))
    }
}

/// A field's key from the name of the struct's field.
fn without_unit(name: &str) -> &str {
    [Kind::Length, Kind::Angle, Kind::Mass, Kind::Torque, Kind::Pressure, Kind::Percent]
        .into_iter()
        .find_map(|kind| name.strip_suffix(kind.suffix()))
        .unwrap_or(name)
}

/// A fact of a part in its place: `fact!(model.frame, stack_mm)` is `Ok` with its value or says what is missing.
#[macro_export]
macro_rules! fact {
    ($place:expr, $field:ident) => {
        $place.known(stringify!($field), |part| part.$field.as_ref())
    };
}

/// Binds several facts at once and leaves the function with everything that is missing, not only the first.
#[macro_export]
macro_rules! known {
    ($($name:ident = $fact:expr),+ $(,)?) => {
        let ($($name,)+) = match ($($fact,)+) {
            ($(Ok($name),)+) => ($($name,)+),
            ($($name,)+) => {
                let mut missing = $crate::model::Missing::default();
                $(if let Err(other) = $name { missing = missing.and(&other); })+
                return Err(missing);
            }
        };
    };
}

/// What stands at one wheel.
#[derive(Clone, Debug)]
pub struct End<'a> {
    /// Which wheel.
    pub side: Side,
    /// The axle.
    pub axle: Place<'a, Axle>,
    /// The wheel.
    pub wheel: Place<'a, Wheel>,
    /// The tyre.
    pub tyre: Place<'a, Tyre>,
    /// The tube, or the sealant with its valve.
    pub tube: Place<'a, Tube>,
    /// The rotor.
    pub rotor: Place<'a, Rotor>,
    /// The caliper.
    pub caliper: Place<'a, Caliper>,
    /// The hose.
    pub hose: Place<'a, Hose>,
}

/// Both wheels' parts, in their places.
fn ends(parts: &Parts) -> [End<'_>; 2] {
    macro_rules! end {
        ($side:expr, $word:literal) => {
            End {
                side: $side,
                axle: Place { path: concat!("parts.axle.", $word), part: parts.axle.at($word) },
                wheel: Place { path: concat!("parts.wheel.", $word), part: parts.wheel.at($word) },
                tyre: Place { path: concat!("parts.tyre.", $word), part: parts.tyre.at($word) },
                tube: Place { path: concat!("parts.tube.", $word), part: parts.tube.at($word) },
                rotor: Place { path: concat!("parts.rotor.", $word), part: parts.rotor.at($word) },
                caliper: Place { path: concat!("parts.caliper.", $word), part: parts.caliper.at($word) },
                hose: Place { path: concat!("parts.hose.", $word), part: parts.hose.at($word) },
            }
        };
    }
    [end!(Side::Front, "front"), end!(Side::Rear, "rear")]
}

/// The document with every part in its place.
#[derive(Clone, Debug)]
pub struct Model<'a> {
    /// The document itself.
    pub build: &'a Build,
    /// The rule books on file.
    pub rules: RuleBook,
    /// The frame.
    pub frame: Place<'a, Frame>,
    /// The fork.
    pub fork: Place<'a, Fork>,
    /// The headset.
    pub headset: Place<'a, Headset>,
    /// The stem of a two-piece cockpit.
    pub stem: Place<'a, Stem>,
    /// The bar of a two-piece cockpit.
    pub bar: Place<'a, Bar>,
    /// The one-piece cockpit; it stands in the stem's and bar's place when it is there.
    pub cockpit: Place<'a, Cockpit>,
    /// The left lever.
    pub lever_left: Place<'a, Lever>,
    /// The right lever.
    pub lever_right: Place<'a, Lever>,
    /// The crankset.
    pub crankset: Place<'a, Crankset>,
    /// The pedals.
    pub pedal: Place<'a, Pedal>,
    /// The front tyre.
    pub tyre_front: Place<'a, Tyre>,
    /// The rear tyre.
    pub tyre_rear: Place<'a, Tyre>,
    /// The saddle.
    pub saddle: Place<'a, Saddle>,
    /// The post.
    pub post: Place<'a, Post>,
    /// The bar tape.
    pub tape: Place<'a, Tape>,
    /// The left end plug.
    pub end_plug_left: Place<'a, EndPlug>,
    /// The right end plug.
    pub end_plug_right: Place<'a, EndPlug>,
    /// The mount of the computer.
    pub computer_mount: Place<'a, ComputerMount>,
    /// The display.
    pub display: Place<'a, Display>,
    /// The battery of the shifting.
    pub battery: Place<'a, Battery>,
    /// The radio unit of the shifting.
    pub radio_unit: Place<'a, RadioUnit>,
    /// The bottom bracket.
    pub bottom_bracket: Place<'a, BottomBracket>,
    /// The front derailleur.
    pub front_derailleur: Place<'a, FrontDerailleur>,
    /// The rear derailleur.
    pub rear_derailleur: Place<'a, RearDerailleur>,
    /// The cassette.
    pub cassette: Place<'a, Cassette>,
    /// The chain.
    pub chain: Place<'a, Chain>,
    /// What stands at the front wheel, and what stands at the rear one.
    pub ends: [End<'a>; 2],
    /// The settings.
    pub settings: Place<'a, Settings>,
}

impl<'a> Model<'a> {
    /// Looks every part up in its place.
    pub fn new(build: &'a Build) -> Self {
        let parts = &build.parts;
        Model {
            build,
            rules: RuleBook::published(),
            frame: Place { path: "parts.frame", part: parts.frame.at("") },
            fork: Place { path: "parts.fork", part: parts.fork.at("") },
            headset: Place { path: "parts.headset", part: parts.headset.at("") },
            stem: Place { path: "parts.stem", part: parts.stem.at("") },
            bar: Place { path: "parts.bar", part: parts.bar.at("") },
            cockpit: Place { path: "parts.cockpit", part: parts.cockpit.at("") },
            lever_left: Place { path: "parts.lever.left", part: parts.lever.at("left") },
            lever_right: Place { path: "parts.lever.right", part: parts.lever.at("right") },
            crankset: Place { path: "parts.crankset", part: parts.crankset.at("") },
            pedal: Place { path: "parts.pedal", part: parts.pedal.at("") },
            tyre_front: Place { path: "parts.tyre.front", part: parts.tyre.at("front") },
            tyre_rear: Place { path: "parts.tyre.rear", part: parts.tyre.at("rear") },
            saddle: Place { path: "parts.saddle", part: parts.saddle.at("") },
            post: Place { path: "parts.post", part: parts.post.at("") },
            tape: Place { path: "parts.tape", part: parts.tape.at("") },
            end_plug_left: Place { path: "parts.end_plug.left", part: parts.end_plug.at("left") },
            end_plug_right: Place { path: "parts.end_plug.right", part: parts.end_plug.at("right") },
            computer_mount: Place { path: "parts.computer_mount", part: parts.computer_mount.at("") },
            display: Place { path: "parts.display", part: parts.display.at("") },
            battery: Place { path: "parts.battery", part: parts.battery.at("") },
            radio_unit: Place { path: "parts.radio_unit", part: parts.radio_unit.at("") },
            bottom_bracket: Place { path: "parts.bottom_bracket", part: parts.bottom_bracket.at("") },
            front_derailleur: Place { path: "parts.front_derailleur", part: parts.front_derailleur.at("") },
            rear_derailleur: Place { path: "parts.rear_derailleur", part: parts.rear_derailleur.at("") },
            cassette: Place { path: "parts.cassette", part: parts.cassette.at("") },
            chain: Place { path: "parts.chain", part: parts.chain.at("") },
            ends: ends(parts),
            settings: Place { path: "settings", part: Some(&build.settings) },
        }
    }

    /// The same under rule books of one's own.
    pub fn under(build: &'a Build, rules: RuleBook) -> Self {
        Model { rules, ..Model::new(build) }
    }

    /// The cockpit is one piece.
    pub fn one_piece(&self) -> bool {
        self.cockpit.part.is_some()
    }

    /// Width at the hoods, centre to centre, of the bar or of the one-piece cockpit.
    pub fn width_at_hoods_mm(&self) -> Known<f64> {
        if self.one_piece() { fact!(self.cockpit, width_hoods_mm) } else { fact!(self.bar, width_hoods_mm) }
    }

    /// Outside diameter of the bar where the levers clamp.
    pub fn tube_mm(&self) -> Known<f64> {
        if self.one_piece() { fact!(self.cockpit, tube_diameter_mm) } else { fact!(self.bar, tube_diameter_mm) }
    }

    /// The path of the part that clamps the steerer.
    pub fn steerer_clamp_path(&self) -> &'static str {
        if self.one_piece() { self.cockpit.path } else { self.stem.path }
    }
}
