//! Dated limits: what a governing body asks of a bike, from which day and until when.
//!
//! The rows stand in `rules/`, one file a body and topic, and are compiled in as they are: [`RuleBook::published`]. A
//! limit is ended and never deleted, so that an old bike can be judged by the day on which it raced; an id is never used
//! twice. What a body asks on a day is [`RuleBook::on`]; whether a reading keeps to it is [`Limit::verdict`].

mod published;
mod verdict;

use crate::choice;
use jiff::civil::Date;

pub use verdict::{Range, Reading, Verdict, Zone};

choice! {
    /// Under whose rules a bike races.
    #[allow(clippy::doc_markdown, reason = "federations are spelt as they spell themselves")]
    pub enum Rules {
        /// The international governing body, road races with a mass start.
        Uci = "UCI, road mass start",
        /// Great Britain.
        BritishCycling = "British Cycling, road",
        /// Ireland.
        CyclingIreland = "Cycling Ireland, road",
        /// National and regional races of Belgium and the Netherlands.
        BelgiumNetherlands = "Belgium and Netherlands, national road",
        /// Australia.
        AusCycling = "AusCycling, road",
        /// Canada.
        CyclingCanada = "Cycling Canada, road",
        /// United States, road.
        UsaCyclingRoad = "USA Cycling, road",
        /// United States, track.
        UsaCyclingTrack = "USA Cycling, track",
        /// South Africa, track.
        CyclingSouthAfricaTrack = "Cycling South Africa, track",
        /// A masters or triathlon event whose organiser has no rules for bikes.
        WithoutRules = "masters or triathlon without rules",
        /// It does not race.
        None = "does not race",
    }
}

impl Rules {
    /// Somebody's rules apply, and have to be on file.
    pub fn apply(self) -> bool {
        !matches!(self, Rules::WithoutRules | Rules::None)
    }
}

choice! {
    /// How far a limit has come.
    pub enum Status {
        /// Published, to begin later or already cancelled before it began: worth a note.
        Announced = "announced",
        /// It counts from its first day to its last.
        InForce = "in force",
        /// Stopped by a court or by the body itself: worth a note.
        Suspended = "suspended",
        /// Taken back before it began.
        Withdrawn = "withdrawn",
    }
}

choice! {
    /// How the row's figure was seen.
    pub enum Seen {
        /// In the body's own document.
        Document = "document",
        /// On a public page: an event's, a federation's, the press, or an older copy of the document.
        Page = "page",
        /// In somebody's quotation of the document.
        Quoted = "quoted",
        /// Remembered, and not seen.
        FromMemory = "from memory",
    }
}

choice! {
    /// What happens to a bike outside the limit.
    pub enum Weighs {
        /// It does not start.
        Stop = "stop",
        /// Somebody has to decide.
        Caution = "caution",
        /// Worth knowing.
        Note = "note",
    }
}

/// What a limit asks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asks {
    /// A value within this range, in the unit of the number.
    Within(Range),
    /// Nothing: it is known that there is no limit.
    Nothing,
    /// A limit is known to be in force, and its figure was not found.
    FigureNotFound,
    /// Something that no number shows; a sentence for the person who looks.
    ByEye(&'static str),
}

/// A range that holds for riders with an exemption.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exemption {
    /// Which values an exemption allows.
    pub within: Range,
    /// Who gets one, and how.
    pub says: &'static str,
}

/// The ages a limit is for: the age that the rider reaches in the year of the race.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ages {
    /// The youngest.
    pub low: i16,
    /// The oldest.
    pub high: i16,
    /// The body's own word for them: "Youth A".
    pub class: &'static str,
}

/// One dated limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Never used twice, never changed.
    pub id: &'static str,
    /// Under whose rules.
    pub rules: Rules,
    /// The id of the number it limits; none where it is looked at by eye.
    pub number: Option<&'static str>,
    /// What it asks.
    pub asks: Asks,
    /// What the body itself allows for measuring, in the unit of the number.
    pub measuring_tolerance: f64,
    /// What an exemption allows.
    pub exemption: Option<Exemption>,
    /// For whom; none for everybody.
    pub ages: Option<Ages>,
    /// The article, or what the body calls it.
    pub article: &'static str,
    /// How the body measures it.
    pub measured: &'static str,
    /// Its first day.
    pub from: Date,
    /// That day was found; otherwise the limit is older than anybody found, and the day only stands for that.
    pub first_day_known: bool,
    /// Its last day, where it has ended.
    pub until: Option<Date>,
    /// How far it has come.
    pub status: Status,
    /// What happens outside it.
    pub weighs: Weighs,
    /// Where it was seen.
    pub source: &'static str,
    /// How it was seen.
    pub seen: Seen,
    /// When the row was last held against its source.
    pub checked_on: Date,
    /// What a person should know who relies on it; a sentence, or empty.
    pub caveat: &'static str,
}

impl Limit {
    /// The day lies between its first and its last.
    pub fn covers(&self, day: Date) -> bool {
        self.from <= day && self.until.is_none_or(|until| day <= until)
    }

    /// It is for this rider; `None` where that depends on an age that is not known.
    pub fn is_for(&self, age: Option<i16>) -> Option<bool> {
        match (self.ages, age) {
            (None, _) => Some(true),
            (Some(ages), Some(age)) => Some(ages.low <= age && age <= ages.high),
            (Some(_), None) => None,
        }
    }
}

/// The limits of a body on a topic: one file of `rules/`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Book {
    /// Its file below `rules/`, without the ending: `uci/cockpit`.
    pub file: &'static str,
    /// Under whose rules.
    pub rules: Rules,
    /// The first day for which it was put together.
    pub covers_from: Date,
    /// The last day up to which changes were looked for.
    pub covers_until: Date,
    /// Its limits.
    pub limits: &'static [Limit],
}

/// Every book on file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RuleBook {
    books: &'static [Book],
}

/// The limits of a body on a day, for a rider.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OnDay {
    /// Those that cover the day and are for the rider, in the order of the files. Withdrawn ones are left out.
    pub limits: Vec<&'static Limit>,
    /// Those that cover the day and depend on an age that is not known.
    pub depend_on_age: Vec<&'static Limit>,
}

impl RuleBook {
    /// A book of one's own, for tests and for bodies that are not on file.
    pub const fn new(books: &'static [Book]) -> Self {
        RuleBook { books }
    }

    /// What is on file in `rules/`.
    pub const fn published() -> Self {
        RuleBook { books: published::BOOKS }
    }

    /// Every book.
    pub fn books(self) -> &'static [Book] {
        self.books
    }

    /// Every limit, ended ones too.
    pub fn limits(self) -> impl Iterator<Item = &'static Limit> {
        self.books.iter().flat_map(|book| book.limits)
    }

    /// What this body asks on this day of a rider of this age.
    pub fn on(self, rules: Rules, day: Date, age: Option<i16>) -> OnDay {
        let mut found = OnDay::default();
        for limit in self.limits().filter(|limit| limit.rules == rules && limit.covers(day)) {
            match limit.is_for(age) {
                _ if limit.status == Status::Withdrawn => {}
                Some(true) => found.limits.push(limit),
                Some(false) => {}
                None => found.depend_on_age.push(limit),
            }
        }
        found
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::number;
    use jiff::civil::date;
    use std::collections::BTreeSet;

    #[test]
    fn every_row_has_what_a_rule_needs_to_be_relied_on() {
        let mut ids = BTreeSet::new();
        for limit in RuleBook::published().limits() {
            let id = limit.id;
            assert!(ids.insert(id), "{id} stands twice");
            assert!(limit.article.len() > 3 && limit.source.len() > 10, "{id}: article and source");
            assert!(limit.measured.ends_with('.'), "{id}: how it is measured is a sentence");
            assert!(limit.caveat.is_empty() || limit.caveat.ends_with('.'), "{id}: its caveat is a sentence");
            assert!(limit.until.is_none_or(|until| limit.from <= until), "{id} ends before it begins");
            assert!(limit.seen != Seen::FromMemory || limit.source.contains("from memory"), "{id}: say so");
            assert!(limit.ages.is_none_or(|ages| ages.low <= ages.high), "{id}");
            assert!(limit.measuring_tolerance >= 0.0, "{id}");
            match limit.asks {
                Asks::ByEye(says) => assert!(says.ends_with('.') && limit.number.is_none(), "{id}"),
                Asks::Within(range) => assert!(range.low < range.high, "{id}: {range:?}"),
                Asks::Nothing | Asks::FigureNotFound => {}
            }
            if let Some(number) = limit.number {
                assert!(number::by_id(number).is_some(), "{id}: no number is called {number}");
            }
        }
        assert!(ids.len() > 50, "{}", ids.len());
    }

    #[test]
    fn two_limits_of_one_kind_do_not_hold_on_one_day() {
        let all: Vec<_> = RuleBook::published().limits().filter(|limit| limit.status == Status::InForce).collect();
        for (at, one) in all.iter().enumerate() {
            for other in &all[at + 1..] {
                let same = one.rules == other.rules && one.number == other.number && one.number.is_some();
                let overlap = one.covers(other.from) || other.covers(one.from);
                let for_the_same =
                    (0..120).any(|age| one.is_for(Some(age)) == Some(true) && other.is_for(Some(age)) == Some(true));
                assert!(
                    !(same && overlap && for_the_same) || one.article != other.article,
                    "{} and {} hold together",
                    one.id,
                    other.id
                );
            }
        }
    }

    #[test]
    fn every_body_whose_rules_apply_has_a_book_and_no_other() {
        use crate::field::Choice;
        for word in Rules::NAMES {
            let rules = Rules::from_name(word).unwrap();
            let on_file = RuleBook::published().books().iter().any(|book| book.rules == rules);
            assert_eq!(on_file, rules.apply(), "{word}");
        }
        for book in RuleBook::published().books() {
            assert!(book.covers_from < book.covers_until && !book.limits.is_empty(), "{}", book.file);
            assert!(book.limits.iter().all(|limit| limit.rules == book.rules), "{}", book.file);
        }
    }

    #[test]
    fn a_limit_counts_on_its_first_day_and_on_its_last() {
        let on = |y, m, d| -> Vec<&str> {
            let found = RuleBook::published().on(Rules::Uci, date(y, m, d), Some(30));
            found
                .limits
                .iter()
                .filter(|limit| limit.number == Some("bar-width-outside"))
                .map(|limit| limit.id)
                .collect()
        };
        assert_eq!(on(2025, 12, 31), ["uci-bar-width-350", "uci-bike-width-500"]);
        assert_eq!(on(2026, 1, 1), ["uci-bar-width-400", "uci-bike-width-500"]);
    }

    #[test]
    fn an_age_that_is_not_known_leaves_open_what_depends_on_it() {
        let book = RuleBook::published();
        let day = date(2025, 2, 28);
        assert!(!book.on(Rules::BritishCycling, day, None).depend_on_age.is_empty());
        let youth_a = book.on(Rules::BritishCycling, day, Some(15));
        assert!(youth_a.depend_on_age.is_empty());
        assert!(youth_a.limits.iter().any(|limit| limit.id == "bc-youth-a-gear-6.93"));
        let after = book.on(Rules::BritishCycling, date(2025, 3, 1), Some(15));
        assert!(after.limits.iter().any(|limit| limit.asks == Asks::FigureNotFound));
    }

    #[test]
    fn what_was_withdrawn_is_kept_and_never_found() {
        let book = RuleBook::published();
        let row = book.limits().find(|limit| limit.id == "uci-hood-gap-320").unwrap();
        assert_eq!(row.status, Status::Withdrawn);
        assert!(!book.on(Rules::Uci, row.from, Some(30)).limits.contains(&row));
    }
}
