//! A number against the limits of the body under whose rules the bike races, on the day of the race.
//!
//! Every check of the concern `race` is this one question about another number. The reading counts where there is one, as
//! it was read; else what was planned, and the finding says so. The decision rule is
//! [`Range::zone`](crate::rulebook::Range::zone).

use super::words::{and_list, spoken, with_unit};
use super::{Case, Report, Weight, sentence};
use crate::build::Build;
use crate::compute::PlannedNumber;
use crate::field::{Choice, Kind};
use crate::finding::{About, Finding, Severity, figure};
use crate::model::Missing;
use crate::number::{Number, Side};
use crate::rulebook::{Asks, Limit, OnDay, Range, Reading, Rules, Seen, Status, Verdict, Weighs};
use jiff::civil::{Date, date};

/// Where the limits come from.
pub(crate) const SOURCE: &str =
    "the dated rule books of rules/: each limit with its body, article, days and where it was seen";
/// How much a bike outside weighs.
pub(crate) const WEIGHT: Weight =
    Weight::Other(Severity::Stop, "a bike outside the limit does not start; each limit says its own weight");

/// Longer than this is said in metres: roll-outs.
const METRES_FROM_MM: f64 = 2000.0;

/// The race: whose rules, when, and what they ask of this rider.
#[derive(Clone, Debug)]
pub(crate) struct Race {
    /// Under whose rules.
    pub(crate) rules: Rules,
    /// On which day.
    pub(crate) day: Date,
    /// What is asked.
    pub(crate) asked: OnDay,
}

impl Race {
    /// The race of this build; none where no rules apply, or where it is not said, which is the matter of
    /// `race/rules_on_file`.
    pub(crate) fn of(case: &Case<'_>) -> Option<Race> {
        let job = &case.model.build.job;
        let rules = job.rules.as_ref()?.value;
        let day = job.day.as_ref()?.value;
        let age = case.model.build.rider.birth_year.as_ref().and_then(|year| i16::try_from(year.value).ok());
        let asked = case.model.rules.on(rules, day, age.map(|year| day.year() - year));
        rules.apply().then_some(Race { rules, day, asked })
    }
}

/// A number that a race rule limits, and what to say of it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Limited {
    /// The number.
    pub(crate) number: &'static Number,
    /// What cannot be judged where it is not known: "whether the bar is wide enough to start".
    pub(crate) question: &'static str,
    /// What to do when it is outside.
    pub(crate) remedy: &'static str,
    /// How much it weighs that it is not known.
    pub(crate) not_known: Severity,
}

/// A value to be judged, and what it rests on.
#[derive(Clone, Copy, Debug)]
struct Judged {
    side: Side,
    reading: Reading,
    basis: Basis,
}

/// What a value rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Basis {
    /// Read, with its own doubt.
    Read,
    /// Read, and nobody said how well.
    ReadSomehow,
    /// Worked out.
    Planned,
}

/// Holds a number against every limit of the race.
pub(crate) fn judge(case: &Case<'_>, out: &mut Report, limited: &Limited) {
    let Some(race) = Race::of(case) else { return };
    let number = limited.number;
    let of_number = |limit: &&'static Limit| limit.number == Some(number.id);
    if race.asked.depend_on_age.iter().any(|limit| of_number(limit) && limit.asks != Asks::Nothing) {
        out.not_known_as(limited.not_known, &Missing::fact("rider.birth_year"), limited.question);
    }
    let limits: Vec<&Limit> = race.asked.limits.iter().copied().filter(of_number).collect();
    for limit in limits.iter().filter(|limit| limit.asks == Asks::FigureNotFound) {
        out.say_limit(limit, figure_not_found(&race, limit, number));
    }
    let figures: Vec<&Limit> = limits.into_iter().filter(|limit| matches!(limit.asks, Asks::Within(_))).collect();
    if figures.is_empty() {
        return;
    }
    let mut lacking = Missing::default();
    let values: Vec<Judged> =
        number.sides.each().iter().filter_map(|side| judged(case.number(number, *side)?, &mut lacking)).collect();
    if figures.iter().any(|limit| limit.status == Status::InForce) {
        out.not_known_as(limited.not_known, &lacking, limited.question);
    }
    for limit in figures {
        let verdicts = values.iter().filter_map(|value| Some((limit.verdict(value.reading)?, *value)));
        let Some(worst) = verdicts.clone().map(|(verdict, _)| verdict).max() else { continue };
        if worst != Verdict::Inside {
            let these: Vec<Judged> =
                verdicts.filter(|(verdict, _)| *verdict == worst).map(|(_, value)| value).collect();
            out.say_limit(limit, found(&race, limit, limited, worst, &these));
        }
    }
}

/// What a number is taken to be, and how well it is known.
fn judged(line: &PlannedNumber, lacking: &mut Missing) -> Option<Judged> {
    let customary = line.number.tolerance.value;
    let (value, plus_minus, basis) = match (&line.measured, &line.planned) {
        (Some(read), _) => match read.plus_minus {
            Some(plus_minus) => (read.value, plus_minus, Basis::Read),
            None => (read.value, customary, Basis::ReadSomehow),
        },
        (None, Ok(planned)) => (*planned, customary, Basis::Planned),
        (None, Err(missing)) => {
            *lacking = std::mem::take(lacking).and(missing);
            return None;
        }
    };
    Some(Judged { side: line.side, reading: Reading { value, plus_minus }, basis })
}

/// The sentences of a finding before its source is put to it.
struct Said {
    severity: Severity,
    about: Vec<About>,
    what: String,
    why: String,
    action: String,
}

fn found(race: &Race, limit: &Limit, limited: &Limited, verdict: Verdict, values: &[Judged]) -> Said {
    let number = limited.number;
    let name = names(number, values);
    let counts = limit.status == Status::InForce;
    let what = match (verdict, counts) {
        (_, false) => format!("A limit that is {} would not hold the {name}.", limit.status.name()),
        (Verdict::Outside, _) => format!("The {name} is outside the rules."),
        (Verdict::WithExemption, _) => format!("The {name} needs an exemption."),
        (Verdict::ByTolerance, _) => {
            format!("The {name} is beyond the rule and inside what is allowed for measuring.")
        }
        (Verdict::TooClose | Verdict::Inside, _) => format!("The {name} is too close to the rule's limit to say."),
    };
    let readings: Vec<String> = values.iter().map(|value| reading(number.kind, value)).collect();
    let why = format!("{}; {}.{}", sentence(&and_list(&readings)), asks(race, limit, number.kind), doubts(limit));
    let planned = values.iter().all(|value| value.basis == Basis::Planned);
    let action = match (verdict, counts) {
        (_, false) => "Nothing now; keep an eye on it before buying parts for later seasons.".to_owned(),
        (Verdict::Outside, _) => limited.remedy.to_owned(),
        (Verdict::WithExemption, _) => format!(
            "{} Get it confirmed before the day, or: {}",
            limit.exemption.map_or("", |exemption| exemption.says),
            lower(limited.remedy)
        ),
        (Verdict::ByTolerance, _) => {
            format!("Do not build on the allowance; {}", lower(limited.remedy))
        }
        (Verdict::TooClose | Verdict::Inside, _) if planned => {
            format!(
                "Leave more room, or read it on the part with a fine instrument. Otherwise: {}",
                lower(limited.remedy)
            )
        }
        (Verdict::TooClose | Verdict::Inside, _) => {
            format!("Read it again with a finer instrument and say how well. Otherwise: {}", lower(limited.remedy))
        }
    };
    let severity = match verdict {
        _ if !counts => Severity::Note,
        Verdict::Outside => severity(limit.weighs),
        _ => Severity::Caution.max(severity(limit.weighs)),
    };
    let about = values.iter().map(|value| About::number(number, value.side)).collect();
    Said { severity, about, what, why, action }
}

fn figure_not_found(race: &Race, limit: &Limit, number: &'static Number) -> Said {
    Said {
        severity: severity(limit.weighs),
        about: vec![About::number(number, Side::None)],
        what: format!("The limit on the {} is not on file.", spoken(number, Side::None)),
        why: format!(
            "{} has one{} {}, and its figure was not found; the event is on {}.{}",
            race.rules.name(),
            class(limit),
            since(limit),
            race.day,
            doubts(limit)
        ),
        action: "Ask the body for the figure of this season.".into(),
    }
}

/// "front and rear rim depth", "bar width (outside to outside)".
fn names(number: &'static Number, values: &[Judged]) -> String {
    let sides: Vec<String> =
        values.iter().map(|value| value.side.word().to_owned()).filter(|word| !word.is_empty()).collect();
    let name = spoken(number, Side::None);
    if sides.is_empty() { name } else { format!("{} {name}", and_list(&sides)) }
}

/// "on the left 70 ± 1 mm was read".
fn reading(kind: Kind, value: &Judged) -> String {
    let place = match value.side {
        Side::None => String::new(),
        side @ (Side::Left | Side::Right) => format!("on the {} ", side.word()),
        side => format!("at the {} ", side.word()),
    };
    let Reading { value: at, plus_minus } = value.reading;
    let (thousand, unit) = match kind {
        Kind::Length if at.abs() >= METRES_FROM_MM => (true, " m"),
        Kind::Mass => (true, " kg"),
        Kind::Angle => (false, "°"),
        Kind::Plain => (false, ""),
        _ => (false, " mm"),
    };
    let said = |value: f64| if thousand { figure(value / 1000.0, 3) } else { figure(value, 2) };
    let doubt = if plus_minus > 0.0 { format!(" ± {}", said(plus_minus)) } else { String::new() };
    let custom = if plus_minus > 0.0 { " (the doubt is that of custom)" } else { "" };
    match value.basis {
        Basis::Read => format!("{place}{}{doubt}{unit} was read", said(at)),
        Basis::ReadSomehow => format!("{place}{}{doubt}{unit} was read{custom}", said(at)),
        Basis::Planned => format!("{place}{}{doubt}{unit} is planned and nothing was read{custom}", said(at)),
    }
}

/// The first day, where it was found.
pub(crate) fn since(limit: &Limit) -> String {
    if limit.first_day_known { format!("from {}", limit.from) } else { "from a day that was not found".to_owned() }
}

/// "UCI, road mass start, 1.3.022, asks for 400 mm or more from 2026-01-01, and the event is on 2027-03-14".
fn asks(race: &Race, limit: &Limit, kind: Kind) -> String {
    let Asks::Within(within) = limit.asks else { return String::new() };
    let value = |value: f64| match kind {
        Kind::Length if value.abs() >= METRES_FROM_MM => format!("{} m", figure(value / 1000.0, 3)),
        Kind::Mass => format!("{} kg", figure(value / 1000.0, 3)),
        _ => with_unit(kind, value),
    };
    let range = |Range { low, high }| match (low.is_finite(), high.is_finite()) {
        (true, true) => format!("{} to {}", value(low), value(high)),
        (true, false) => format!("{} or more", value(low)),
        _ => format!("at most {}", value(high)),
    };
    let exempt = limit
        .exemption
        .map_or_else(String::new, |exemption| format!(" (with an exemption {})", range(exemption.within)));
    let allowed = if limit.measuring_tolerance > 0.0 {
        format!(", with {} allowed for measuring,", value(limit.measuring_tolerance))
    } else {
        String::new()
    };
    let until = limit.until.map_or_else(String::new, |until| format!(" until {until}"));
    format!(
        "{} ({}) asks{} for {}{exempt}{allowed} {}{until}, and the event is on {}",
        race.rules.name(),
        article(limit),
        class(limit),
        range(within),
        since(limit),
        race.day
    )
}

/// "article 1.3.022", or the body's own name for it.
pub(crate) fn article(limit: &Limit) -> String {
    let numbered = limit.article.chars().next().is_some_and(|c| c.is_ascii_digit());
    if numbered { format!("article {}", limit.article) } else { limit.article.to_owned() }
}

fn class(limit: &Limit) -> String {
    limit.ages.map_or_else(String::new, |ages| format!(" of {}", ages.class))
}

/// What stands against relying on the row.
fn doubts(limit: &Limit) -> String {
    let seen = match limit.seen {
        Seen::Document | Seen::Page => "",
        Seen::Quoted => " The rule was seen as somebody quotes it.",
        Seen::FromMemory => " The rule is from memory.",
    };
    let caveat = if limit.caveat.is_empty() { String::new() } else { format!(" {}", limit.caveat) };
    format!("{seen}{caveat}")
}

/// The text with a small letter at its head.
pub(crate) fn lower(sentence: &str) -> String {
    let mut chars = sentence.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}

fn severity(weighs: Weighs) -> Severity {
    match weighs {
        Weighs::Stop => Severity::Stop,
        Weighs::Caution => Severity::Caution,
        Weighs::Note => Severity::Note,
    }
}

impl Report {
    /// A finding with the limit's own source.
    fn say_limit(&mut self, limit: &Limit, said: Said) {
        let Said { severity, about, what, why, action } = said;
        let source = limit.source;
        self.findings.push(Finding { check: self.check, severity, about, what, why, action, source, not_known: false });
    }
}

/// Makes of the sound sample a bike that starts under the international body's rules on the sample's day: what the
/// examples of the race checks begin with.
pub(crate) fn starts(build: &mut Build) {
    build.job.rules = Some(Rules::Uci.into());
    build.job.day = Some(date(2027, 3, 14).into());
    build.rider.birth_year = Some(1996.into());
    for place in ["front", "rear"] {
        let wheel = build.parts.wheel.make(place);
        wheel.rim_depth_mm = Some(45.0.into());
        wheel.spokes = Some(24.into());
    }
    build.parts.cassette.make("").sprockets = Some(crate::field::Given {
        value: vec![11, 13, 15, 17, 19, 21, 24, 28],
        typed: "11; …; 28".into(),
        origin: None,
    });
    read(build, &crate::number::MASS, Side::None, 7_240.0, 10.0);
    read(build, &crate::number::FORK_INSIDE, Side::None, 101.5, 0.2);
    read(build, &crate::number::STAYS_INSIDE, Side::None, 143.0, 0.2);
}

/// The number as read.
pub(crate) fn read(build: &mut Build, number: &Number, side: Side, value: f64, plus_minus: f64) {
    let reading = build.measured.entry((number.id, side)).or_default();
    reading.value = Some(value.into());
    reading.plus_minus = Some(plus_minus.into());
}
