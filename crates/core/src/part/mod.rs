//! The kinds of part, one file a kind, and the parts of a bike by place.
//!
//! A fact of a part may be unknown, and stays unknown: no default stands in for it. Adding a kind is its file and its
//! line in the `parts!` table below; tests here say what is missing when one is forgotten.

use crate::choice;
use crate::field::{Field, Origin, Record};
use crate::number::Area;
use std::collections::BTreeMap;

choice! {
    /// Who brings a part.
    pub enum Supplier {
        /// The workshop buys and sells it.
        Shop = "shop",
        /// The customer brings it new.
        CustomerNew = "customer, new",
        /// The customer brings it used.
        CustomerUsed = "customer, used",
        /// It comes off the customer's last bike.
        CarriedOver = "carried over",
    }
}

choice! {
    /// What a used part has been through.
    pub enum Condition {
        /// Never fitted.
        New = "new",
        /// Used, looked over, no fault found.
        UsedSound = "used, sound",
        /// Used, with wear to watch.
        UsedWorn = "used, worn",
        /// Was on a bike that fell, or nobody knows.
        UsedUnknown = "used, history not known",
        /// Was in a crash.
        Crashed = "was in a crash",
        /// Looked over by a specialist after a crash and passed in writing.
        CrashedPassed = "crashed, passed by a specialist",
    }
}

choice! {
    /// What the load-bearing part of a part is made of.
    pub enum Material {
        /// Carbon fibre.
        Carbon = "carbon",
        /// Aluminium alloy.
        Aluminium = "aluminium",
        /// Steel.
        Steel = "steel",
        /// Titanium alloy.
        Titanium = "titanium",
        /// Another, named in the note.
        Other = "other",
    }
}

/// Declares a kind of part: the facts every part has, and its own. `with bar_shape` adds the facts of a drop bar's curve,
/// which a bar and a one-piece cockpit share.
macro_rules! part {
    ($(#[$meta:meta])* pub struct $name:ident with bar_shape { $($own:tt)* }) => {
        part! {
            $(#[$meta])*
            pub struct $name {
                $($own)*
                tube_diameter_mm: Length(15.0..40.0) "Outside diameter where the levers clamp.",
                width_hoods_mm: Length(200.0..600.0) "Across at the middle of the lever clamps, centre to centre.",
                width_ends_mm: Length(200.0..800.0) "Across at the open ends, centre to centre.",
                reach_mm: Length(20.0..160.0) "Level, centre of the tops to centre of the foremost bend, in the maker's attitude.",
                drop_mm: Length(40.0..220.0) "Upright, centre of the tops to centre of the ends, in the maker's attitude.",
                flare_deg: Angle(-5.0..35.0) "Lean of each drop outward, seen from the front.",
                ramp_angle_deg: Angle(-10.0..45.0) "Fall of the ramp between tops and bend, in the maker's attitude.",
                clamp_straight_mm: Length(0.0..80.0) "Level run forward from the centre of the tops before the ramp begins.",
                ramp_bend_radius_mm: Length(1.0..200.0) "Radius of the bend from the tops into the ramp, tube centre.",
                front_bend_radius_mm: Length(10.0..200.0) "Radius of the foremost bend, tube centre.",
                lower_bend_radius_mm: Length(10.0..200.0) "Radius of the bend from the front into the drops, tube centre.",
                end_length_mm: Length(0.0..250.0) "Straight run at the open end.",
                end_cut_max_mm: Length(0.0..150.0) "Most that its maker lets be cut off each end; 0 where it may not be cut.",
                end_angle_deg: Angle(-30.0..45.0) "How far the straight ends point down at the rear, in the maker's attitude.",
                lever_clamp_torque_nm: Torque(0.5..15.0) "Largest torque its maker allows at the lever clamps.",
                end_bore_mm: Length(8.0..40.0) "Bore of its open ends.",
                rider_mass_max_g: Mass(40_000.0..250_000.0) "Heaviest rider its maker allows.",
                clip_ons: YesNo "Clip-on bars are fitted to it.",
                clip_ons_allowed: YesNo "Its maker allows clip-on bars.",
            }
        }
        impl $crate::part::BarShape for $name {
            fn figure(&self, name: &str) -> Option<f64> {
                match name {
                    "tube_diameter_mm" => &self.tube_diameter_mm,
                    "width_hoods_mm" => &self.width_hoods_mm,
                    "reach_mm" => &self.reach_mm,
                    "drop_mm" => &self.drop_mm,
                    "flare_deg" => &self.flare_deg,
                    "ramp_angle_deg" => &self.ramp_angle_deg,
                    "clamp_straight_mm" => &self.clamp_straight_mm,
                    "ramp_bend_radius_mm" => &self.ramp_bend_radius_mm,
                    "front_bend_radius_mm" => &self.front_bend_radius_mm,
                    "lower_bend_radius_mm" => &self.lower_bend_radius_mm,
                    "end_length_mm" => &self.end_length_mm,
                    "end_angle_deg" => &self.end_angle_deg,
                    _ => return None,
                }
                .as_ref()
                .map(|given| given.value)
            }
        }
    };
    ($(#[$meta:meta])* pub struct $name:ident { $($own:tt)* }) => {
        $crate::record! {
            $(#[$meta])*
            pub struct $name {
                name: Text "What the workshop calls this part.",
                mass_g: Mass(0.0..20000.0) "Mass of this part as it goes on the bike.",
                mass_plus_minus_g: Mass(0.0..2000.0) "How far the mass may be off, either way.",
                price: Money(0.0..100000.0) "Price to the customer.",
                supplied_by: Choice<$crate::part::Supplier> "Who brings it.",
                condition: Choice<$crate::part::Condition> "What it has been through.",
                wear: Text "Wear that was read on it, with the instrument.",
                serial: Text "Serial number, as printed.",
                facts_from: Choice<$crate::field::Origin> "Where the facts of this part come from, unless a fact says otherwise.",
                catalogue_id: Text "The part of the catalogue it was taken from.",
                catalogue_version: Count(1.0..1000000.0) "Which version of that part its facts were last held against.",
                note: Text "Anything else a mechanic should know.",
                $($own)*
            }
        }
        impl $crate::part::Part for $name {
            fn facts_from(&self) -> Option<$crate::field::Origin> { self.facts_from.as_ref().map(|given| given.value) }
            fn name(&self) -> Option<&str> { self.name.as_ref().map(|given| given.value.as_str()) }
            fn supplied_by(&self) -> Option<$crate::part::Supplier> { self.supplied_by.as_ref().map(|given| given.value) }
            fn condition(&self) -> Option<$crate::part::Condition> { self.condition.as_ref().map(|given| given.value) }
        }
    };
}

/// A part with the curve of a drop bar: bar or one-piece cockpit.
pub trait BarShape {
    /// The figure of this name, where it is known.
    fn figure(&self, name: &str) -> Option<f64>;
}

/// The number of facts that every part has before its own begin.
pub const COMMON_FACTS: usize = 12;

/// What every kind of part has.
pub trait Part: Record + Default {
    /// Where its facts come from, unless a fact says otherwise.
    fn facts_from(&self) -> Option<Origin>;
    /// What the workshop calls it.
    fn name(&self) -> Option<&str>;
    /// Who brings it.
    fn supplied_by(&self) -> Option<Supplier>;
    /// What it has been through.
    fn condition(&self) -> Option<Condition>;
}

/// The places a kind of part has on a bike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Places {
    /// One on the bike.
    One,
    /// One at each wheel.
    FrontRear,
    /// One each side.
    LeftRight,
    /// As many as there are, each with a name of its own.
    Many,
}

impl Places {
    /// The fixed names of the places; none for [`Places::One`] and [`Places::Many`].
    pub const fn names(self) -> &'static [&'static str] {
        match self {
            Places::One | Places::Many => &[],
            Places::FrontRear => &["front", "rear"],
            Places::LeftRight => &["left", "right"],
        }
    }
}

/// A kind of part, as the document and the page know it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartKind {
    /// The key in the document: `stem`.
    pub key: &'static str,
    /// Its places on the bike.
    pub places: Places,
    /// Where in the walk-round it stands.
    pub area: Area,
    /// Its facts.
    pub fields: &'static [Field],
}

/// The parts of one kind, by place. A kind with one place uses the empty name.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted<T>(pub BTreeMap<String, T>);

impl<T> Default for Fitted<T> {
    fn default() -> Self {
        Fitted(BTreeMap::new())
    }
}

impl<T> Fitted<T> {
    /// The part at this place.
    pub fn at(&self, place: &str) -> Option<&T> {
        self.0.get(place)
    }
}

impl<T: Default> Fitted<T> {
    /// The part at this place, made empty if there was none: for examples and edits.
    pub fn make(&mut self, place: &str) -> &mut T {
        self.0.entry(place.to_owned()).or_default()
    }
}

macro_rules! parts {
    ($($module:ident : $type:ident, $places:ident, $area:ident;)+) => {
        $(mod $module; pub use $module::*;)+

        /// The parts of a bike, or the parts on a shelf.
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct Parts { $(#[doc = concat!("Kind `", stringify!($module), "`.")] pub $module: Fitted<$type>),+ }

        /// Every kind of part, in the order of the walk-round.
        pub const KINDS: &[PartKind] = &[$(PartKind {
            key: stringify!($module),
            places: Places::$places,
            area: Area::$area,
            fields: $type::FIELDS,
        }),+];

        impl Parts {
            /// The part of this kind at this place.
            pub fn record(&self, kind: &str, place: &str) -> Option<&dyn Record> {
                match kind {
                    $(stringify!($module) => self.$module.0.get(place).map(|part| part as &dyn Record),)+
                    _ => None,
                }
            }

            /// The part of this kind at this place, made empty if there was none; `None` for an unknown kind.
            pub(crate) fn record_mut(&mut self, kind: &str, place: &str) -> Option<&mut dyn Record> {
                match kind {
                    $(stringify!($module) => Some(self.$module.make(place)),)+
                    _ => None,
                }
            }

            /// Takes away a part that has no fact left.
            pub(crate) fn drop_if_empty(&mut self, kind: &str, place: &str) {
                match kind {
                    $(stringify!($module) => if self.$module.0.get(place).is_some_and(|part| *part == $type::default()) {
                        self.$module.0.remove(place);
                    },)+
                    _ => {}
                }
            }

            /// Each part with its kind and place, in the order of the walk-round.
            pub fn each(&self) -> Vec<(&'static PartKind, &str, &dyn Record)> {
                let mut all: Vec<(&'static PartKind, &str, &dyn Record)> = Vec::new();
                $(for (place, part) in &self.$module.0 {
                    if let Some(kind) = kind(stringify!($module)) { all.push((kind, place, part)); }
                })+
                all
            }
        }
    };
}

parts! {
    bar: Bar, One, Cockpit;
    cockpit: Cockpit, One, Cockpit;
    lever: Lever, LeftRight, Cockpit;
    tape: Tape, One, Cockpit;
    end_plug: EndPlug, LeftRight, Cockpit;
    computer_mount: ComputerMount, One, Cockpit;
    display: Display, One, Cockpit;
    stem: Stem, One, FrontEnd;
    spacer: Spacer, Many, FrontEnd;
    headset: Headset, One, FrontEnd;
    fork: Fork, One, FrontEnd;
    frame: Frame, One, FrameAndRouting;
    hose: Hose, FrontRear, FrameAndRouting;
    wire: Wire, Many, FrameAndRouting;
    junction: Junction, Many, FrameAndRouting;
    battery: Battery, One, FrameAndRouting;
    radio_unit: RadioUnit, One, FrameAndRouting;
    bottom_bracket: BottomBracket, One, Transmission;
    crankset: Crankset, One, Transmission;
    pedal: Pedal, One, Transmission;
    front_derailleur: FrontDerailleur, One, Transmission;
    rear_derailleur: RearDerailleur, One, Transmission;
    cassette: Cassette, One, Transmission;
    chain: Chain, One, Transmission;
    axle: Axle, FrontRear, WheelsAndBrakes;
    wheel: Wheel, FrontRear, WheelsAndBrakes;
    tyre: Tyre, FrontRear, WheelsAndBrakes;
    tube: Tube, FrontRear, WheelsAndBrakes;
    rotor: Rotor, FrontRear, WheelsAndBrakes;
    caliper: Caliper, FrontRear, WheelsAndBrakes;
    saddle: Saddle, One, Saddle;
    post: Post, One, Saddle;
    bottle_cage: BottleCage, Many, Finish;
    small_part: SmallPart, Many, Finish;
}

/// The most letters a name of a place, or of a part of the catalogue, may have.
pub const LONGEST_NAME: usize = 40;

/// A name that a person gives to a place, or to a part of the catalogue: small letters, figures and hyphens.
pub fn is_name(text: &str) -> bool {
    !text.is_empty()
        && text.len() <= LONGEST_NAME
        && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
}

/// The kind of part with this key.
pub fn kind(key: &str) -> Option<&'static PartKind> {
    KINDS.iter().find(|kind| kind.key == key)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a folder that cannot be read is to stop the test")]

    use super::*;
    use crate::build::SECTIONS;
    use crate::field::Kind;
    use std::collections::BTreeSet;
    use std::path::Path;

    /// Every kind of quantity whose unit stands in a field's name.
    const QUANTITIES: [Kind; 6] = [Kind::Length, Kind::Angle, Kind::Mass, Kind::Torque, Kind::Pressure, Kind::Percent];

    fn each_fact() -> impl Iterator<Item = (&'static PartKind, &'static Field)> {
        KINDS.iter().flat_map(|kind| kind.fields.iter().map(move |field| (kind, field)))
    }

    #[test]
    fn the_unit_of_a_fact_stands_last_in_its_name_and_no_other_name_ends_like_a_unit() {
        for (kind, field) in each_fact() {
            let suffix = field.kind.suffix();
            assert!(field.name.ends_with(suffix), "{}: {} wants {suffix} at its end", kind.key, field.name);
            for quantity in QUANTITIES {
                let ends_so = field.name.ends_with(quantity.suffix());
                assert!(
                    !ends_so || suffix == quantity.suffix(),
                    "{}: {} looks like a quantity in {}",
                    kind.key,
                    field.name,
                    quantity.unit()
                );
            }
        }
    }

    #[test]
    fn what_a_fact_means_is_one_sentence() {
        for (kind, field) in each_fact() {
            let says = field.says;
            let capital = says.chars().next().is_some_and(char::is_uppercase);
            assert!(says.len() > 4 && capital && says.ends_with('.'), "{}: {}: «{says}»", kind.key, field.name);
            assert!(!says.contains("  "), "{}: {}: «{says}»", kind.key, field.name);
        }
    }

    #[test]
    fn a_quantity_has_a_range_outside_which_it_is_absurd() {
        for (kind, field) in each_fact() {
            assert!(field.low < field.high, "{}: {}: {}..{}", kind.key, field.name, field.low, field.high);
            let numeric = QUANTITIES.iter().any(|quantity| quantity.suffix() == field.kind.suffix())
                || matches!(field.kind, Kind::Count | Kind::Counts | Kind::Plain | Kind::Money);
            let bounded = field.low.is_finite() && field.high.is_finite();
            assert_eq!(numeric, bounded, "{}: {}: {}..{}", kind.key, field.name, field.low, field.high);
        }
    }

    #[test]
    fn keys_are_trade_words_joined_by_underscores_and_stand_once() {
        let mut kinds = BTreeSet::new();
        for kind in KINDS {
            assert!(kinds.insert(kind.key), "{} stands twice", kind.key);
            assert!(SECTIONS.iter().all(|section| section.key != kind.key), "{} is a section too", kind.key);
            let mut keys = BTreeSet::new();
            for field in kind.fields {
                let key = field.key();
                assert!(keys.insert(key), "{}: the key {key} stands twice", kind.key);
                assert!(
                    key.split('_').all(|word| {
                        !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit())
                    }),
                    "{}: {key}: small words joined by underscores",
                    kind.key
                );
            }
        }
    }

    #[test]
    fn every_file_of_the_folder_is_listed_and_the_list_follows_the_walk_round() {
        let here = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/part");
        let files: BTreeSet<String> = std::fs::read_dir(here)
            .unwrap()
            .map(|file| file.unwrap().file_name().to_string_lossy().replace(".rs", ""))
            .filter(|name| name != "mod")
            .collect();
        let listed: BTreeSet<String> = KINDS.iter().map(|kind| kind.key.to_owned()).collect();
        assert_eq!(files, listed);
        assert!(KINDS.iter().map(|kind| kind.area).is_sorted());
    }

    #[test]
    fn every_kind_has_the_common_facts_first_and_at_least_three_of_its_own() {
        let common: Vec<&str> = KINDS[0].fields[..COMMON_FACTS].iter().map(|field| field.name).collect();
        for kind in KINDS {
            let names: Vec<&str> = kind.fields.iter().take(COMMON_FACTS).map(|field| field.name).collect();
            assert_eq!(names, common, "{}", kind.key);
            assert!(kind.fields.len() >= COMMON_FACTS + 3, "{} has few facts of its own", kind.key);
        }
    }
}
