//! Where a check's limit comes from, in three words: read off the source that the check itself states.

use super::Check;
use crate::choice;

choice! {
    /// How good the source of a check is.
    pub enum Origin {
        /// A document says it: a standard, a law, a rule book, or the maker's own sheet for the part.
        Published = "published",
        /// The trade does so, or it follows from the geometry with an allowance of custom; no document was found.
        CommonPractice = "common practice",
        /// A document says it, and it was remembered and not seen.
        FromMemory = "from memory",
    }
}

/// What a source that rests on no document says of itself; geometry and sums need an allowance, and that is custom.
const CUSTOM: &[&str] = &["common practice", "geometry", "sum of", "identity"];

impl Check {
    /// How good its source is. A source of several parts is as good as its weakest.
    pub fn origin(&self) -> Origin {
        origin_of(self.source)
    }
}

fn origin_of(source: &str) -> Origin {
    if source.contains("from memory") {
        Origin::FromMemory
    } else if CUSTOM.iter().any(|word| source.contains(word)) {
        Origin::CommonPractice
    } else {
        Origin::Published
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::ALL;

    #[test]
    fn a_source_is_as_good_as_its_weakest_part() {
        for (source, origin) in [
            ("16 CFR 1512.17(c): 25° of lean without the pedal touching", Origin::Published),
            ("the limits that the fork's maker states", Origin::Published),
            (
                "the fork maker's limits; common practice, no source, where none are told: 2 to 3 mm",
                Origin::CommonPractice,
            ),
            ("geometry of the frame; 2 mm is what rounding explains", Origin::CommonPractice),
            ("standardized headset identification system, from memory: IS52/40 sits on 39.8 mm", Origin::FromMemory),
        ] {
            assert_eq!(origin_of(source), origin, "{source}");
        }
    }

    #[test]
    fn every_origin_is_met_and_none_is_hidden_behind_a_vague_word() {
        for origin in [Origin::Published, Origin::CommonPractice, Origin::FromMemory] {
            assert!(ALL.iter().any(|check| check.origin() == origin), "{origin:?}");
        }
        for check in ALL.iter().filter(|check| check.origin() == Origin::Published) {
            let vague = ["usual", "custom", "experience", "known"];
            assert!(!vague.iter().any(|word| check.source.contains(word)), "{}: {}", check.id, check.source);
        }
    }
}
