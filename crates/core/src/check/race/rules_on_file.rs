//! The rules under which the bike races are on file.
//!
//! - Looks at: the body, the day of the race, the days that its books cover, and the numbers that some body limits.
//! - Why: a limit that is not on file would pass in silence, and silence reads as a pass.
//! - Source: the rule books of `rules/` themselves.
//! - Fits: the international body's road rules in 2027.
//! - Does not fit: the same rules in 2031, for which nobody has looked yet.
//! - Not known: the day of the race is not said.

use crate::build::Build;
use crate::check::limit::{Race, starts};
use crate::check::words::{and_list, spoken};
use crate::check::{Case, Report, Weight};
use crate::field::Choice;
use crate::finding::{About, Severity};
use crate::model::Missing;
use crate::number::{self, Side};
use crate::rulebook::{Asks, Book, Limit, RuleBook, Rules};
use jiff::civil::date;

/// Where the books come from.
pub const SOURCE: &str = "the rule books of rules/: the days for which each was put together";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let job = &case.model.build.job;
    match job.rules.as_ref().map(|given| given.value) {
        None => {
            let missing = Missing::fact("job.rules");
            return out.not_known_as(Severity::Note, &missing, "whether the bike may race, and under whose rules");
        }
        Some(Rules::None) => return,
        Some(Rules::WithoutRules) => {
            return out.say_as(
                Severity::Note,
                vec![About::path("job.rules")],
                "No rules for the bike apply at this event.".into(),
                format!("It is built for “{}”: nothing of it is held against a rule book.", Rules::WithoutRules.name()),
                "Ask the organiser when in doubt: some events take over a federation's rules.".into(),
            );
        }
        Some(_) => {}
    }
    if job.day.is_none() {
        return out
            .not_known(&Missing::fact("job.day"), "on which day the bike races, and so which limits are in force");
    }
    let Some(race) = Race::of(case) else { return };
    if !case.model.rules.books().iter().any(|book| book.rules == race.rules) {
        return out.say(
            vec![About::path("job.rules")],
            "There is no rule on file for this body.".into(),
            format!(
                "The event is under the rules of {} on {}, and no rule book of it is at hand.",
                race.rules.name(),
                race.day
            ),
            "Read the body's text in force and judge the bike by it.".into(),
        );
    }
    beyond_the_books(case.model.rules, &race, out);
    not_on_file(case.model.rules, &race, out);
}

/// The race lies before or after the days for which the body's books were put together.
fn beyond_the_books(rules: RuleBook, race: &Race, out: &mut Report) {
    let beyond: Vec<&Book> = rules
        .books()
        .iter()
        .filter(|book| book.rules == race.rules && !(book.covers_from <= race.day && race.day <= book.covers_until))
        .collect();
    let Some(book) = beyond.first() else { return };
    let (first, last) = beyond.iter().fold((book.covers_from, book.covers_until), |(first, last), book| {
        (first.max(book.covers_from), last.min(book.covers_until))
    });
    out.say(
        vec![About::path("job.day"), About::path("job.rules")],
        "The rules on file were not put together for this day.".into(),
        format!(
            "The book of {} covers {first} to {last}, and the event is on {}; what is on file is judged all the same.",
            race.rules.name(),
            race.day
        ),
        "Read the body's text in force, and add what has changed to the rule book.".into(),
    );
}

/// Numbers that some body limits, and for which this body has nothing on file on this day.
fn not_on_file(rules: RuleBook, race: &Race, out: &mut Report) {
    let limits_a_figure = |limit: &&Limit| matches!(limit.asks, Asks::Within(_));
    let on_day = || race.asked.limits.iter().chain(&race.asked.depend_on_age);
    let missing: Vec<String> = number::all()
        .filter(|number| rules.limits().filter(limits_a_figure).any(|limit| limit.number == Some(number.id)))
        .filter(|number| !on_day().any(|limit| limit.number == Some(number.id)))
        .map(|number| spoken(number, Side::None))
        .collect();
    if missing.is_empty() {
        return;
    }
    out.say(
        vec![About::path("job.rules")],
        "Not every rule of this body is on file.".into(),
        format!(
            "For {} on {} there is no limit on file for: {}.",
            race.rules.name(),
            race.day,
            and_list(&missing)
        ),
        "Ask the body, or judge the bike under the international body's rules as well: many federations take them over."
            .into(),
    );
}

/// The international body's road rules.
pub fn fits(build: &mut Build) {
    starts(build);
}

/// A race for which nobody has looked yet.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    build.job.day = Some(date(2031, 5, 1).into());
}

/// No day.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.job.day = None;
});
