//! The name of a build: eight letters and digits that can be read out across a workshop.

use std::collections::hash_map::RandomState;
use std::fmt;
use std::hash::{BuildHasher, Hasher};
use std::str::FromStr;

/// Digits and letters without `i`, `l`, `o` and `u`: nothing to mistake when read off a sheet.
const ALPHABET: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";
const LENGTH: usize = 8;

/// The name of a build, for example `7k3m9x2a`.
///
/// ```
/// use witnessmark_store::BuildId;
///
/// let read_out: BuildId = "7K3M-9X2A".parse().unwrap();
/// assert_eq!(read_out.as_str(), "7k3m9x2a");
/// assert!("bottom bracket".parse::<BuildId>().is_err());
/// ```
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BuildId(String);

/// The text is no build's name.
#[derive(Debug, thiserror::Error, PartialEq, Eq)]
#[error("\"{}\" is no build: a build's name is eight letters and digits, such as 7k3m9x2a.", shown(.0))]
pub struct NotABuildId(pub String);

/// What was asked for, as a sentence can repeat it: on one line, and not a page of it.
fn shown(asked: &str) -> String {
    const SHOWN: usize = 40;
    let end = if asked.chars().nth(SHOWN).is_some() { "…" } else { "" };
    let signs = asked.chars().take(SHOWN).map(|sign| if sign.is_control() { '\u{fffd}' } else { sign });
    signs.chain(end.chars()).collect()
}

impl BuildId {
    /// The name as it is stored and printed.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// A name nobody chose: forty bits from the operating system's seed.
    ///
    /// Forty bits can meet twice, so whoever stores a new build tries again when the name is taken.
    /// The name is no secret and opens nothing.
    pub(crate) fn draw() -> Self {
        // A fresh `RandomState` is keyed from the system's randomness; hashing nothing gives 64 of its bits.
        let mut bits = RandomState::new().build_hasher().finish();
        let mut name = String::with_capacity(LENGTH);
        for _ in 0..LENGTH {
            name.push(char::from(ALPHABET[(bits % 32) as usize]));
            bits /= 32;
        }
        Self(name)
    }

    /// A name that came out of our own tables.
    pub(crate) fn stored(name: String) -> Self {
        Self(name)
    }
}

impl FromStr for BuildId {
    type Err = NotABuildId;

    /// Refuses what is not eight letters of the alphabet. Capitals, hyphens and the letters that look
    /// like digits (`o`, `i`, `l`) are read as a person meant them.
    fn from_str(text: &str) -> Result<Self, NotABuildId> {
        let name: String = text
            .trim()
            .chars()
            .filter(|&letter| letter != '-')
            .map(|letter| match letter.to_ascii_lowercase() {
                'o' => '0',
                'i' | 'l' => '1',
                other => other,
            })
            .collect();
        let known = name.bytes().all(|letter| ALPHABET.contains(&letter));
        if name.len() == LENGTH && known { Ok(Self(name)) } else { Err(NotABuildId(text.to_owned())) }
    }
}

impl fmt::Display for BuildId {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn a_drawn_name_reads_back_as_itself_and_no_two_are_alike() {
        let names: BTreeSet<BuildId> = (0..1000).map(|_| BuildId::draw()).collect();
        assert_eq!(names.len(), 1000);
        for name in names {
            assert_eq!(name.as_str().parse::<BuildId>().unwrap(), name);
        }
    }

    #[test]
    fn look_alike_letters_are_read_as_digits_and_other_text_is_refused_by_name() {
        assert_eq!("OIL00000".parse::<BuildId>().unwrap().as_str(), "01100000");
        assert_eq!("".parse::<BuildId>(), Err(NotABuildId(String::new())));
        assert_eq!("7k3m9x2u".parse::<BuildId>(), Err(NotABuildId("7k3m9x2u".into())));
        assert_eq!("7k3m9x2aa".parse::<BuildId>(), Err(NotABuildId("7k3m9x2aa".into())));
    }
}
