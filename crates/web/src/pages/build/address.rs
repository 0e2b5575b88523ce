//! Addresses of things on the bike, as findings, drawing and rows share them.

use crate::loaded::Loaded;
use witnessmark_core::number::{self, Side};
use witnessmark_core::part::{self, Places};

/// The address of a number on a side: `hood-x.left`.
pub(crate) fn of_number(id: &str, side: Side) -> String {
    if side == Side::None { id.to_owned() } else { format!("{id}.{}", side.word()) }
}

/// The addresses that touching an address lights: itself and the part it belongs to.
/// `parts.tyre.front.outer_radius` lights `parts.tyre.front` and `parts.tyre` too.
pub(crate) fn lights(address: &str) -> String {
    if !address.starts_with("parts.") {
        return address.to_owned();
    }
    let mut all = vec![address];
    let mut rest = address;
    while let Some((shorter, _)) = rest.rsplit_once('.').filter(|(shorter, _)| *shorter != "parts") {
        all.push(shorter);
        rest = shorter;
    }
    all.join(" ")
}

/// The address under which a field is lit: its number's for an asked or measured value, else its path.
pub(crate) fn of_path(path: &str) -> &str {
    let number = path.strip_prefix("asked.").or_else(|| path.strip_prefix("measured."));
    match number {
        Some(rest) => rest.rsplit_once('.').map_or(rest, |(address, _)| address),
        None => path,
    }
}

/// The place on the page that shows an address.
pub(crate) fn anchor(address: &str) -> String {
    match address.split('.').collect::<Vec<_>>().as_slice() {
        ["shelf", kind, place, ..] => format!("#part.shelf.{kind}.{place}"),
        ["parts", kind, place, _fact, ..] => format!("#part.parts.{kind}.{place}"),
        ["parts", kind, fact_or_place] => {
            let is_place = witnessmark_core::part::kind(kind)
                .is_some_and(|kind| kind.places != witnessmark_core::part::Places::One);
            if is_place { format!("#part.parts.{kind}.{fact_or_place}") } else { format!("#part.parts.{kind}") }
        }
        ["parts", kind] => format!("#part.parts.{kind}"),
        [section @ ("settings" | "job" | "rider" | "fit" | "search"), ..] => {
            if address.contains('.') {
                format!("#field.{address}")
            } else {
                format!("#{section}")
            }
        }
        ["asked" | "measured", ..] => format!("#row.{}", of_path(address)),
        _ => format!("#row.{address}"),
    }
}

/// The way to an address: its place on the page; for a part that is not fitted, the page that says what would fit there.
/// `None` for what stands on no page.
pub(crate) fn way(loaded: &Loaded, address: &str) -> Option<String> {
    let keys: Vec<&str> = address.split('.').collect();
    let (key, rest) = match keys.as_slice() {
        ["parts", key, rest @ ..] => (key, rest),
        ["survey", ..] => return Some(format!("/builds/{}/survey", loaded.id)),
        ["fasteners", bolt, ..] => return Some(format!("/builds/{}/fasteners#bolt.{bolt}", loaded.id)),
        ["wrenches", ..] => return Some(format!("/builds/{}/fasteners#wrenches", loaded.id)),
        ["weighing", ..] => return Some(format!("/builds/{}/mass#field.{address}", loaded.id)),
        ["liked", ..] => return Some(format!("/builds/{}/tyres#field.{address}", loaded.id)),
        ["steps", step, ..] => return Some(format!("/builds/{}/stand#step-{step}", loaded.id)),
        ["settings" | "job" | "rider" | "fit" | "search" | "shelf" | "asked" | "measured", ..] => {
            return Some(anchor(address));
        }
        [id, ..] => return number::by_id(id).map(|_| anchor(address)),
        [] => return None,
    };
    let kind = part::kind(key)?;
    let is_fitted = |place: &str| loaded.build.parts.record(kind.key, place).is_some();
    let at = |place: &str| if place.is_empty() { format!("parts.{key}") } else { format!("parts.{key}.{place}") };
    let place = match (kind.places, rest) {
        (Places::One, _) => "",
        (_, [place, ..]) => place,
        // A kind without a place: the first that is fitted, else the first there is.
        (places, []) => match places.names().iter().find(|place| is_fitted(place)).or(places.names().first()) {
            Some(place) => place,
            None => return Some(format!("/builds/{}/add", loaded.id)),
        },
    };
    Some(if is_fitted(place) {
        format!("#part.{}", at(place))
    } else {
        format!("/builds/{}/fitting/{}", loaded.id, at(place))
    })
}

/// The same from a page that is not the build's.
pub(crate) fn way_from_elsewhere(loaded: &Loaded, address: &str) -> String {
    match way(loaded, address) {
        Some(way) if way.starts_with('/') => way,
        Some(place) => format!("/builds/{}{place}", loaded.id),
        None => format!("/builds/{}{}", loaded.id, anchor(address)),
    }
}

/// What is drawn beside a thing that is not drawn itself, so that a finding about it has its place on the drawing too.
pub(crate) fn drawn_near(address: &str) -> &'static [&'static str] {
    match address.split('.').collect::<Vec<_>>().as_slice() {
        ["parts", "wheel" | "tube" | "axle" | "rotor" | "caliper" | "hose", "front", ..] => &["parts.tyre.front"],
        ["parts", "wheel" | "tube" | "axle" | "rotor" | "caliper" | "hose", "rear", ..] | ["parts", "cassette", ..] => {
            &["parts.tyre.rear"]
        }
        ["parts", "chain" | "rear_derailleur", ..] => &["parts.crankset", "parts.tyre.rear"],
        ["parts", "bottom_bracket" | "front_derailleur", ..] => &["parts.crankset"],
        ["parts", "wire" | "battery" | "junction" | "radio_unit" | "bottle_cage" | "small_part", ..] => {
            &["parts.frame"]
        }
        ["parts", "tape" | "end_plug" | "computer_mount" | "display", ..] | ["bar-width", ..] => {
            &["parts.bar", "parts.cockpit"]
        }
        ["parts", "spacer", ..] => &["settings.spacers_under", "settings.spacers_over"],
        ["hood-toe-in", "left"] => &["parts.lever.left"],
        ["hood-toe-in", "right"] => &["parts.lever.right"],
        ["settings", "tape_at_lever"] => &["parts.lever.left", "parts.lever.right"],
        _ => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fact_lights_its_part() {
        assert_eq!(
            lights("parts.tyre.front.outer_radius"),
            "parts.tyre.front.outer_radius parts.tyre.front parts.tyre"
        );
        assert_eq!(lights("hood-x.left"), "hood-x.left");
    }

    #[test]
    fn an_asked_value_is_lit_with_its_number() {
        assert_eq!(of_path("asked.hood-x.left.value"), "hood-x.left");
        assert_eq!(of_path("measured.steerer-cut.plus_minus"), "steerer-cut");
        assert_eq!(of_path("settings.bar_roll"), "settings.bar_roll");
    }

    /// Kinds that the drawing shows by themselves.
    const DRAWN: &[&str] =
        &["bar", "cockpit", "lever", "stem", "headset", "fork", "frame", "crankset", "pedal", "tyre", "saddle", "post"];

    #[test]
    fn every_kind_of_part_is_drawn_or_has_something_drawn_beside_it() {
        for kind in part::KINDS {
            let place = kind.places.names().first().map_or_else(String::new, |place| format!(".{place}"));
            let near = drawn_near(&format!("parts.{}{place}.mass", kind.key));
            assert_eq!(near.is_empty(), DRAWN.contains(&kind.key), "{}", kind.key);
            let is_drawn = |near: &&str| {
                near.split('.').nth(1).is_some_and(|key| DRAWN.contains(&key) || near.starts_with("settings."))
            };
            assert!(near.iter().all(is_drawn), "{}: {near:?}", kind.key);
        }
    }

    #[test]
    fn every_address_has_its_place_on_the_page() {
        for (address, place) in [
            ("parts.stem.length", "#part.parts.stem"),
            ("parts.stem", "#part.parts.stem"),
            ("parts.tyre.front", "#part.parts.tyre.front"),
            ("parts.tyre.front.mass", "#part.parts.tyre.front"),
            ("settings.bar_roll", "#field.settings.bar_roll"),
            ("asked.hood-x.left.value", "#row.hood-x.left"),
            ("steerer-cut", "#row.steerer-cut"),
        ] {
            assert_eq!(anchor(address), place);
        }
    }
}
