//! Search as you type: every part of the catalogue by its name, id, kind and facts.
//!
//! A query is a few words and figures, each of which must be met by a part: `stem 110 -6`, `carb bar 42`. A word is met by
//! any word that begins with it, so that results narrow with every letter; a figure by a fact of that value (in the unit of
//! the house) or by a figure in a text. A word that nothing meets is tried again with one letter wrong, missing, too many,
//! or two of them changed round. What is met in a name weighs more than what is met in a fact.
//!
//! How it is fast enough: the distinct words of all parts stand in one sorted list, each with the parts it stands in, so
//! that the words beginning with a letter are one stretch of it; the words of a kind (its name and those of its facts)
//! stand for a stretch of parts, since parts are sorted by kind. A search fills two arrays of one number a part; it keeps
//! nothing between letters, so that letters may come in any order and from many people.

use super::Entry;
use crate::field::Value;
use crate::part::{COMMON_FACTS, PartKind};
use std::collections::{BTreeMap, HashMap};
use std::ops::Range;

/// The most words of a query that are looked at; the rest says nothing new.
const MOST_TERMS: usize = 12;

/// The shortest word in which a slip is forgiven: in shorter ones nearly everything is one slip away.
const FORGIVEN_FROM: usize = 4;

/// A part that a query found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit<'i> {
    /// Its kind.
    pub kind: &'static PartKind,
    /// Its id among the parts of its kind.
    pub id: &'i str,
    /// What the workshop calls it.
    pub name: &'i str,
    /// How well it is met; larger is better, and only the order means anything.
    pub score: u16,
}

/// What a query found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found<'i> {
    /// The best, best first.
    pub best: Vec<Hit<'i>>,
    /// How many parts are met in all.
    pub all: usize,
}

/// Where in a part a word stands, by how much that says, least first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Where {
    KindsFact,
    Fact,
    Figure,
    Id,
    Kind,
    Name,
}

impl Where {
    /// Points for a word that is met whole. Common practice, no source: found by trying queries.
    const fn points(self) -> u16 {
        match self {
            Where::KindsFact => 4,
            Where::Fact => 14,
            Where::Figure => 20,
            Where::Id => 22,
            Where::Kind => 30,
            Where::Name => 34,
        }
    }
}

#[derive(Clone, Debug)]
struct Listed {
    kind: &'static PartKind,
    id: Box<str>,
    name: Box<str>,
}

/// A word and the parts it stands in.
#[derive(Clone, Debug)]
struct Word {
    text: Box<str>,
    parts: Vec<(u32, Where)>,
}

/// A word that stands for every part of a kind.
#[derive(Clone, Debug)]
struct KindWord {
    text: String,
    parts: Range<usize>,
    place: Where,
}

/// The catalogue, ready to be searched.
#[derive(Clone, Debug, Default)]
pub struct Index {
    parts: Vec<Listed>,
    words: Vec<Word>,
    kind_words: Vec<KindWord>,
}

impl Index {
    /// Makes ready what is to be searched.
    pub fn new<'e>(entries: impl IntoIterator<Item = &'e Entry>) -> Self {
        let mut entries: Vec<&Entry> = entries.into_iter().collect();
        let place = |entry: &Entry| crate::part::KINDS.iter().position(|kind| kind.key == entry.kind.key);
        entries.sort_by_cached_key(|entry| (place(entry), entry.id.clone()));

        let mut words: HashMap<String, Vec<(u32, Where)>> = HashMap::new();
        let mut kinds: BTreeMap<usize, (&'static PartKind, Range<usize>)> = BTreeMap::new();
        for (at, entry) in entries.iter().enumerate() {
            let part = number(at);
            words_of(entry, |word, place| {
                let parts = match words.get_mut(word) {
                    Some(parts) => parts,
                    None => words.entry(word.to_owned()).or_default(),
                };
                // The same word in two places of a part counts where it says most.
                match parts.last_mut() {
                    Some((last, most)) if *last == part => *most = (*most).max(place),
                    _ => parts.push((part, place)),
                }
            });
            let range = kinds.entry(place(entry).unwrap_or_default()).or_insert((entry.kind, at..at));
            range.1.end = at + 1;
        }
        let mut words: Vec<Word> =
            words.into_iter().map(|(text, parts)| Word { text: text.into_boxed_str(), parts }).collect();
        words.sort_unstable_by(|a, b| a.text.cmp(&b.text));
        Index {
            parts: entries
                .iter()
                .map(|entry| Listed { kind: entry.kind, id: entry.id.as_str().into(), name: entry.name().into() })
                .collect(),
            words,
            kind_words: kinds.values().flat_map(|(kind, parts)| kind_words(kind, parts)).collect(),
        }
    }

    /// How many parts it holds.
    pub fn len(&self) -> usize {
        self.parts.len()
    }

    /// Whether it holds none.
    pub fn is_empty(&self) -> bool {
        self.parts.is_empty()
    }

    /// The parts that meet every word of a query, the best first, at most `most` of them. A query without a word finds
    /// nothing.
    ///
    /// ```
    /// use witnessmark_core::catalogue::{Index, sample::invented};
    /// let parts = invented(2_000);
    /// let index = Index::new(&parts);
    /// let found = index.find("rowan stem", 5);
    /// assert_eq!(found.best[0].kind.key, "stem");
    /// assert!(found.best[0].name.starts_with("Rowan"));
    /// assert!(found.all >= found.best.len());
    /// ```
    pub fn find(&self, query: &str, most: usize) -> Found<'_> {
        let terms = terms(query);
        // What the parts have so far, and how much the present word adds. 0 in `added` is: not met.
        let mut total = vec![0_u16; self.parts.len()];
        let mut added = vec![0_u16; self.parts.len()];
        for (place, term) in terms.iter().enumerate() {
            added.fill(0);
            if !self.meet(term, &mut added) {
                self.forgive(term, &mut added);
            }
            for (total, added) in total.iter_mut().zip(&added) {
                let met_so_far = place == 0 || *total > 0;
                *total = if met_so_far && *added > 0 { total.saturating_add(*added) } else { 0 };
            }
        }
        let mut hits: Vec<(u16, usize)> =
            total.iter().enumerate().filter(|(_, score)| **score > 0).map(|(at, score)| (*score, at)).collect();
        let all = hits.len();
        // Best first; among equals the shorter name, which the words fill better, then the order of the catalogue.
        let order = |hit: &(u16, usize)| (u16::MAX - hit.0, self.parts[hit.1].name.len(), hit.1);
        if all > most && most > 0 {
            hits.select_nth_unstable_by_key(most - 1, order);
        }
        hits.truncate(most);
        hits.sort_unstable_by_key(order);
        let best = hits
            .into_iter()
            .map(|(score, at)| {
                let Listed { kind, id, name } = &self.parts[at];
                Hit { kind, id, name, score }
            })
            .collect();
        Found { best, all }
    }

    /// Adds what a word is worth to the parts that meet it; says whether any does.
    fn meet(&self, term: &str, added: &mut [u16]) -> bool {
        let mut met = false;
        let from = self.words.partition_point(|word| *word.text < *term);
        for word in self.words[from..].iter().take_while(|word| word.text.starts_with(term)) {
            met = true;
            add(word, worth(word.text.len(), term.len()), added);
        }
        for word in self.kind_words.iter().filter(|word| word.text.starts_with(term)) {
            met = true;
            let points = share(word.place.points(), worth(word.text.len(), term.len()));
            for added in &mut added[word.parts.clone()] {
                *added = (*added).max(points);
            }
        }
        met
    }

    /// Adds what a word with one slip in it is worth.
    fn forgive(&self, term: &str, added: &mut [u16]) {
        if term.chars().count() < FORGIVEN_FROM || term.chars().any(|c| c.is_ascii_digit()) {
            return;
        }
        let letters: Vec<char> = term.chars().collect();
        for word in self.words.iter().filter(|word| begins_with_a_slip(&word.text, &letters)) {
            add(word, SLIPPED, added);
        }
        for word in self.kind_words.iter().filter(|word| begins_with_a_slip(&word.text, &letters)) {
            for added in &mut added[word.parts.clone()] {
                *added = (*added).max(share(word.place.points(), SLIPPED));
            }
        }
    }
}

/// A word met whole, in eighths of its points.
const WHOLE: u16 = 8;

/// A word with a slip in it.
const SLIPPED: u16 = 2;

/// What a word is worth of which only the beginning was typed: half, and a little more the nearer it is to whole.
fn worth(word: usize, typed: usize) -> u16 {
    match word - typed {
        0 => WHOLE,
        1 | 2 => 5,
        _ => 4,
    }
}

/// So many eighths of the points; at least one, since met is met.
fn share(points: u16, eighths: u16) -> u16 {
    (points * eighths / WHOLE).max(1)
}

fn add(word: &Word, eighths: u16, added: &mut [u16]) {
    for (at, place) in &word.parts {
        if let Some(added) = added.get_mut(*at as usize) {
            *added = (*added).max(share(place.points(), eighths));
        }
    }
}

/// A part's place as it is kept: a catalogue has far fewer than four thousand million parts.
fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// Every word that stands in a part.
fn words_of(entry: &Entry, mut put: impl FnMut(&str, Where)) {
    each_word(&entry.id, |word| put(word, Where::Id));
    each_word(entry.name(), |word| put(word, Where::Name));
    for (index, leaf) in entry.facts() {
        let field = &entry.kind.fields[index];
        match (field.name, &leaf.value) {
            // The name was taken above, and nobody looks for a part by its price to the cent or by where its facts come from.
            // `reversible: yes` is found by the word of the fact, not by "yes"; a day and a "no" are found by nothing.
            ("name" | "price" | "facts_from" | "mass_plus_minus_g", _) | (_, Value::YesNo(false) | Value::Day(_)) => {}
            (_, Value::Number(value)) => put(&figure(*value), Where::Figure),
            (_, Value::Count(value)) => put(&value.to_string(), Where::Figure),
            (_, Value::Numbers(values)) => values.iter().for_each(|value| put(&figure(*value), Where::Figure)),
            (_, Value::Counts(values)) => values.iter().for_each(|value| put(&value.to_string(), Where::Figure)),
            (_, Value::Text(text)) => each_word(text, |word| put(word, Where::Fact)),
            (_, Value::YesNo(true)) => each_word(&field.words(), |word| put(word, Where::Fact)),
        }
    }
}

/// The words of a kind, which stand for all its parts: its own name, and less so those of its facts.
fn kind_words(kind: &'static PartKind, parts: &Range<usize>) -> Vec<KindWord> {
    let mut words: BTreeMap<String, Where> = BTreeMap::new();
    for field in &kind.fields[COMMON_FACTS.min(kind.fields.len())..] {
        each_word(&field.words(), |word| {
            words.insert(word.to_owned(), Where::KindsFact);
        });
    }
    each_word(&kind.key.replace('_', " "), |word| {
        words.insert(word.to_owned(), Where::Kind);
    });
    words.into_iter().map(|(text, place)| KindWord { text, parts: parts.clone(), place }).collect()
}

/// A value as a word: the shortest decimal, `-6` and `27.2`.
fn figure(value: f64) -> String {
    if value == 0.0 { "0".to_owned() } else { value.to_string() }
}

/// Takes a text apart: words in small letters without accents, and figures with their sign and decimal point.
fn each_word(text: &str, mut put: impl FnMut(&str)) {
    let mut word = String::new();
    let mut before = ' ';
    let mut signs = text.chars().map(|sign| if sign == '\u{2212}' { '-' } else { sign }).peekable();
    while let Some(sign) = signs.next() {
        let next_is_digit = signs.peek().is_some_and(char::is_ascii_digit);
        let goes_on = if sign.is_alphanumeric() {
            true
        } else if matches!(sign, '.' | ',') {
            // A decimal sign stands between digits, or before one at the beginning.
            next_is_digit && before.is_ascii_digit()
        } else {
            // A minus follows nothing; a hyphen follows a letter or a digit.
            sign == '-' && next_is_digit && !before.is_alphanumeric()
        };
        if goes_on {
            match sign {
                ',' => word.push('.'),
                _ => fold(sign, &mut word),
            }
        } else if !word.is_empty() {
            put(&word);
            word.clear();
        }
        before = sign;
    }
    if !word.is_empty() {
        put(&word);
    }
}

/// A text in the letters by which it is searched: small ones without accents.
///
/// ```
/// assert_eq!(witnessmark_core::catalogue::folded("Zoë Ångström-Groß"), "zoe angstrom-gross");
/// ```
pub fn folded(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for sign in text.chars() {
        fold(sign, &mut folded);
    }
    folded
}

/// Small letters, and those of western and central Europe without their accents, since few keyboards have them all.
fn fold(sign: char, word: &mut String) {
    const ACCENTS: &[(&str, char)] = &[
        ("àáâãäåāăą", 'a'),
        ("çćč", 'c'),
        ("ďđ", 'd'),
        ("èéêëēęě", 'e'),
        ("ìíîïī", 'i'),
        ("ł", 'l'),
        ("ñńň", 'n'),
        ("òóôõöøő", 'o'),
        ("ř", 'r'),
        ("śš", 's'),
        ("ť", 't'),
        ("ùúûüūůű", 'u'),
        ("ýÿ", 'y'),
        ("źżž", 'z'),
    ];
    if sign.is_ascii() {
        word.push(sign.to_ascii_lowercase());
        return;
    }
    for sign in sign.to_lowercase() {
        if sign.is_ascii() {
            word.push(sign);
        } else if sign == 'ß' {
            word.push_str("ss");
        } else {
            word.push(ACCENTS.iter().find(|(all, _)| all.contains(sign)).map_or(sign, |(_, plain)| *plain));
        }
    }
}

/// The words of a query. A unit behind a figure is taken off: figures are in the unit of the house.
fn terms(query: &str) -> Vec<String> {
    const UNITS: &[&str] = &["mm", "g", "deg", "kpa", "nm"];
    let mut terms: Vec<String> = Vec::new();
    each_word(query, |word| {
        if terms.len() >= MOST_TERMS {
            return;
        }
        let follows_a_figure = terms.last().is_some_and(|term| term.ends_with(|c: char| c.is_ascii_digit()));
        if follows_a_figure && UNITS.contains(&word) {
            return;
        }
        let digits = word.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let bare = UNITS.contains(&&word[digits.len()..]) && digits.parse::<f64>().is_ok();
        let term = if bare { digits } else { word };
        // A figure typed with more digits than it needs: 110.0 is 110.
        let looks_decimal = term.contains('.') && term.ends_with('0');
        terms.push(match term.parse::<f64>() {
            Ok(value) if looks_decimal => figure(value),
            _ => term.to_owned(),
        });
    });
    terms
}

/// Whether the word begins with the letters, but for one that is wrong, missing, too many, or two changed round.
fn begins_with_a_slip(word: &str, letters: &[char]) -> bool {
    let mut signs = word.chars();
    let same =
        letters.iter().take_while(|letter| signs.clone().next() == Some(**letter) && signs.next().is_some()).count();
    // `signs` stands at the first difference now, and so does `rest`.
    let rest = &letters[same..];
    let Some(after) = rest.get(1..) else { return true };
    let begins =
        |mut signs: std::str::Chars<'_>, rest: &[char]| rest.iter().all(|letter| signs.next() == Some(*letter));
    let mut one_on = signs.clone();
    let skipped = one_on.next();
    let mut two_on = one_on.clone();
    let second = two_on.next();
    let wrong = skipped.is_some() && begins(one_on.clone(), after);
    let missing = skipped.is_some() && begins(one_on, rest);
    let too_many = begins(signs, after);
    let round = after.first().copied() == skipped
        && second == rest.first().copied()
        && begins(two_on, &after[1.min(after.len())..]);
    wrong || missing || too_many || skipped.is_some() && round
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

    use super::*;
    use crate::catalogue::{column, sample};
    use crate::field::Given;
    use crate::part;

    fn entry(kind: &str, id: &str, name: &str, facts: &[(&str, f64)]) -> Entry {
        let kind = part::kind(kind).unwrap();
        let mut entry = Entry::new(kind, id);
        entry.set(column(kind, "name").unwrap(), Given::<String>::from(name).to_leaf());
        for (key, value) in facts {
            entry.set(column(kind, key).unwrap(), Given::from(*value).to_leaf());
        }
        entry
    }

    fn shelf() -> Vec<Entry> {
        vec![
            entry("stem", "long-plain", "Plain stem", &[("length", 110.0), ("angle", -6.0)]),
            entry("stem", "short-plain", "Plain stem", &[("length", 90.0), ("angle", -6.0)]),
            entry("stem", "steep", "Höhensprung", &[("length", 110.0), ("angle", 17.0)]),
            entry("bar", "wide", "Bar for stems of 110", &[("width_hoods", 420.0)]),
            entry("saddle", "narrow", "Narrow saddle", &[("width", 135.5)]),
        ]
    }

    fn ids(query: &str) -> Vec<String> {
        let shelf = shelf();
        Index::new(&shelf).find(query, 10).best.iter().map(|hit| hit.id.to_owned()).collect()
    }

    #[test]
    fn every_word_of_a_query_must_be_met_and_figures_are_values() {
        assert_eq!(ids("stem 110 -6"), ["long-plain"]);
        assert_eq!(ids("stem −6"), ["long-plain", "short-plain"]);
        assert_eq!(ids("135,5 mm"), ["narrow"]);
        assert_eq!(ids("135.50mm saddle"), ["narrow"]);
        assert_eq!(ids("stem 111"), Vec::<String>::new());
        assert_eq!(ids(""), Vec::<String>::new());
    }

    #[test]
    fn results_narrow_with_every_letter() {
        let mut before = usize::MAX;
        for query in ["s", "st", "ste", "stem", "stem 1", "stem 11", "stem 110", "stem 110 -", "stem 110 -6"] {
            let found = ids(query).len();
            assert!(found <= before && found > 0, "{query}: {found} after {before}");
            before = found;
        }
    }

    #[test]
    fn accents_and_case_do_not_matter() {
        assert_eq!(ids("HOHENSPRUNG"), ["steep"]);
        assert_eq!(ids("höhen"), ["steep"]);
    }

    #[test]
    fn one_slip_in_a_word_is_forgiven_and_two_are_not() {
        for slip in ["sadle", "sadddle", "sdadle", "seddle", "saddel"] {
            assert_eq!(ids(slip), ["narrow"], "{slip}");
        }
        assert_eq!(ids("soddel"), Vec::<String>::new());
        assert_eq!(ids("sdl"), Vec::<String>::new(), "a short word is taken as it is");
    }

    #[test]
    fn what_is_met_in_a_name_stands_before_what_is_met_in_a_fact() {
        let parts = [
            entry("saddle", "a", "Plain", &[("width", 110.0)]),
            entry("bar", "b", "Bar 110", &[("width_hoods", 420.0)]),
        ];
        let index = Index::new(&parts);
        let found: Vec<&str> = index.find("110", 10).best.iter().map(|hit| hit.id).collect();
        assert_eq!(found, ["b", "a"]);
    }

    #[test]
    fn the_best_few_are_those_of_the_whole_list() {
        let parts = sample::invented(3_000);
        let index = Index::new(&parts);
        for query in ["s", "110", "carbon bar", "c 4"] {
            let whole = index.find(query, usize::MAX);
            let few = index.find(query, 7);
            assert_eq!(few.best, whole.best[..few.best.len()], "{query}");
            assert_eq!((few.all, whole.all), (whole.best.len(), whole.best.len()), "{query}");
            assert!(whole.all > 7, "{query} finds {}", whole.all);
        }
    }

    #[test]
    fn the_index_agrees_with_a_plain_look_through_all_parts() {
        let parts = sample::invented(4_500);
        let index = Index::new(&parts);
        for query in ["stem", "carbon", "28", "wheel car", "-6 stem", "tyre 28 tube"] {
            let mut plain: Vec<(&str, &str)> = parts
                .iter()
                .filter(|entry| {
                    let mut all: Vec<String> =
                        kind_words(entry.kind, &(0..0)).into_iter().map(|word| word.text).collect();
                    words_of(entry, |word, _| all.push(word.to_owned()));
                    terms(query).iter().all(|term| all.iter().any(|word| word.starts_with(term.as_str())))
                })
                .map(|entry| (entry.kind.key, entry.id.as_str()))
                .collect();
            let mut found: Vec<(&str, &str)> =
                index.find(query, usize::MAX).best.iter().map(|hit| (hit.kind.key, hit.id)).collect();
            plain.sort_unstable();
            found.sort_unstable();
            assert_eq!(found, plain, "{query}");
            assert!(!found.is_empty(), "{query}");
        }
    }

    #[test]
    fn no_query_makes_it_panic() {
        let parts = shelf();
        let index = Index::new(&parts);
        for query in ["-", "--5", ".", "1.", "ß", "\u{0}", "🚲 110", &"a ".repeat(1_000), &"9".repeat(400), "é̈"] {
            assert!(index.find(query, 3).best.len() <= 3);
        }
    }
}
