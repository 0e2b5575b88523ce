//! The words that the checks share: how a number is spoken of, how figures are joined, what a slip does to the rider.

use crate::build::Build;
use crate::finding::{figure, mm};
use crate::number::{self, Number, Side};

pub(crate) use crate::finding::with_unit;

/// A number as a sentence names it: "left hood (forward of the bottom bracket)".
pub(crate) fn spoken(number: &Number, side: Side) -> String {
    let name = match number.name.split_once(", ") {
        Some((thing, which)) => format!("{thing} ({which})"),
        None => number.name.to_owned(),
    };
    if side == Side::None { name } else { format!("{} {name}", side.word()) }
}

/// The same by its id, for keys of the document.
pub(crate) fn spoken_key((id, side): (&'static str, Side)) -> String {
    number::by_id(id).map_or_else(|| id.to_owned(), |number| spoken(number, side))
}

/// A mass as people say it: "68 kg", "8.4 kg".
pub(crate) fn kg(value_g: f64) -> String {
    format!("{} kg", figure(value_g / 1000.0, 1))
}

/// A torque as it is set on the wrench: "5.5 N·m".
pub(crate) fn nm(value_nm: f64) -> String {
    format!("{} N·m", figure(value_nm, 1))
}

/// A pressure as the gauge reads: "6.9 bar".
pub(crate) fn bar_of(value_kpa: f64) -> String {
    format!("{} bar", figure(value_kpa / 100.0, 2))
}

/// "a", "a and b", "a, b and c".
pub(crate) fn and_list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// The number is spoken of as many: spacers, turns.
pub(crate) fn is_many(number: &Number) -> bool {
    number.name.starts_with("spacers") || number.name.starts_with("tape turns")
}

/// "is" or "are", by how many there are.
pub(crate) fn is_or_are(count: usize) -> &'static str {
    if count == 1 { "is" } else { "are" }
}

/// What it does to the rider when this figure is taken wrongly; `by` is how far, such as "up to 9 mm", or empty.
pub(crate) fn harm(number: &Number, by: &str) -> String {
    let by = if by.is_empty() { String::new() } else { format!("{by} ") };
    match number.id {
        "saddle-height" | "saddle-height-vertical" => format!("the rider would sit {by}too high or too low"),
        "saddle-setback" => format!("the rider would sit {by}too far forward or too far back"),
        "hood-x" | "bar-x" | "saddle-to-hood" | "saddle-to-bar" => {
            format!("the hands would come {by}too far forward or too near")
        }
        "hood-y" | "bar-y" | "saddle-bar-drop" | "saddle-hood-drop" => {
            format!("the hands would come {by}too high or too low")
        }
        "bar-width" | "bar-width-ends" => format!("the hands would stand {by}too wide or too narrow"),
        "spacers-under" => format!("the bar would stand {by}too high or too low"),
        _ if by.is_empty() => "the bike would come out otherwise".to_owned(),
        _ => format!("the bike would come out {by}off"),
    }
}

/// A fact as a mechanic asks for it, by its path: "front tyre, outer radius", "saddle height".
pub(crate) fn fact(path: &str) -> String {
    let keys: Vec<&str> = path.split('.').collect();
    let plain = |key: &str| {
        key.replace(['_', '-'], " ")
            .replace("shis", "SHIS")
            .replace("etrto", "ETRTO size")
            .replace("bb ", "bottom-bracket ")
    };
    match keys.as_slice() {
        ["parts", kind, fact] => format!("{}, {}", plain(kind), plain(fact)),
        ["parts", kind, place @ ("front" | "rear" | "left" | "right"), fact] => {
            format!("{place} {}, {}", plain(kind), plain(fact))
        }
        ["parts", kind, name, fact] => format!("{} “{name}”, {}", plain(kind), plain(fact)),
        ["settings", setting] => plain(setting),
        ["fasteners", bolt, fact] => format!("{} of the bolt “{}”", plain(fact), plain(bolt)),
        ["wrenches", name, fact] => format!("{} of the wrench “{name}”", plain(fact)),
        ["asked" | "measured", id, rest @ ..] => {
            let side =
                [Side::Left, Side::Right, Side::Front, Side::Rear].into_iter().find(|side| rest.contains(&side.word()));
            number::by_id(id).map_or_else(|| plain(id), |number| spoken(number, side.unwrap_or(Side::None)))
        }
        _ => keys.iter().map(|key| plain(key)).collect::<Vec<_>>().join(", "),
    }
}

/// What a fact means, without the full stop; `None` where the path leads to no field of its own.
pub(crate) fn meaning(path: &str) -> Option<String> {
    let says = match path.split('.').collect::<Vec<_>>().as_slice() {
        ["asked", id, ..] => number::by_id(id)?.definition,
        ["measured", id, ..] => number::by_id(id)?.how,
        _ => Build::field(path).ok()?.says,
    };
    let mut chars = says.trim_end_matches('.').chars();
    chars.next().map(|first| first.to_lowercase().chain(chars).collect())
}

/// "7 mm too far forward and 4 mm too low"; empty when neither is more than its tolerance.
pub(crate) fn off_by(forward: Off, up: Off) -> String {
    let mut words = Vec::new();
    if forward.counts() {
        let way = if forward.off_mm > 0.0 { "too far forward" } else { "too far back" };
        words.push(format!("{} {way}", mm(forward.off_mm.abs())));
    }
    if up.counts() {
        let way = if up.off_mm > 0.0 { "too high" } else { "too low" };
        words.push(format!("{} {way}", mm(up.off_mm.abs())));
    }
    and_list(&words)
}

/// How far something is off along one direction, and how far is still right.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Off {
    /// Planned less asked.
    pub(crate) off_mm: f64,
    /// Still right.
    pub(crate) tolerance_mm: f64,
}

impl Off {
    /// It is further off than is still right.
    pub(crate) fn counts(self) -> bool {
        super::compare::exceeds(self.off_mm.abs(), self.tolerance_mm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_spoken_of_without_a_loose_comma() {
        assert_eq!(spoken(&number::HOOD_X, Side::Left), "left hood (forward of the bottom bracket)");
        assert_eq!(spoken(&number::SADDLE_HEIGHT, Side::None), "saddle height");
    }

    #[test]
    fn a_list_reads_as_it_is_said() {
        let of = |items: &[&str]| and_list(&items.iter().map(|item| (*item).to_owned()).collect::<Vec<_>>());
        assert_eq!(of(&[]), "");
        assert_eq!(of(&["a"]), "a");
        assert_eq!(of(&["a", "b"]), "a and b");
        assert_eq!(of(&["a", "b", "c"]), "a, b and c");
    }

    #[test]
    fn a_fact_is_asked_for_in_words() {
        assert_eq!(fact("parts.tyre.front.outer_radius"), "front tyre, outer radius");
        assert_eq!(fact("parts.spacer.ten.height"), "spacer “ten”, height");
        assert_eq!(fact("settings.bar_roll"), "bar roll");
        assert_eq!(fact("asked.saddle-height"), "saddle height");
        assert_eq!(fact("measured.hood-y.right"), "right hood (above the bottom bracket)");
        assert_eq!(fact("rider.front_brake"), "rider, front brake");
        assert_eq!(meaning("parts.fork.steerer_material").as_deref(), Some("what the steerer is made of"));
        assert_eq!(meaning("parts.fork.nothing"), None);
    }

    #[test]
    fn only_what_is_beyond_its_tolerance_is_said() {
        let off = |off_mm, tolerance_mm| Off { off_mm, tolerance_mm };
        assert_eq!(off_by(off(7.0, 2.0), off(-4.0, 2.0)), "7 mm too far forward and 4 mm too low");
        assert_eq!(off_by(off(-3.0, 2.0), off(2.0, 2.0)), "3 mm too far back");
        assert_eq!(off_by(off(0.0, 2.0), off(-2.0, 2.0)), "");
    }
}
