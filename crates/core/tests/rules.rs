//! The rule books against what was published: limits by their day, verdicts on both sides of each boundary, and the
//! decision rule's arithmetic. The values stand in `reference/rules.toml`, each with its source.

#![allow(clippy::unwrap_used, reason = "a test stops at what it did not expect")]
#![allow(clippy::disallowed_methods, reason = "the reference values lie on the disk")]

use std::collections::BTreeMap;
use toml::value::Datetime;
use toml::{Table, Value};
use witnessmark_core::build::sample::sample;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::{Finding, Severity};
use witnessmark_core::rulebook::{Asks, Limit, OnDay, RuleBook, Rules, Status, Verdict};
use witnessmark_core::rulebook::{Range, Reading};
use witnessmark_core::{Build, plan, plan_under};

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../reference/rules.toml");
const IDS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../rules/ids.txt");

fn reference(of: &str) -> Vec<Table> {
    let text = std::fs::read_to_string(FILE).unwrap();
    let mut table: Table = text.parse().unwrap();
    let Some(Value::Array(rows)) = table.remove(of) else { return Vec::new() };
    rows.into_iter().map(|row| row.as_table().unwrap().clone()).collect()
}

fn day(value: &Value) -> jiff::civil::Date {
    let Value::Datetime(Datetime { date: Some(date), .. }) = value else { unreachable!("{value}") };
    jiff::civil::date(
        i16::try_from(date.year).unwrap(),
        i8::try_from(date.month).unwrap(),
        i8::try_from(date.day).unwrap(),
    )
}

/// The limits in force on this number.
fn in_force<'a>(on_day: &'a OnDay, number: &'a str) -> impl Iterator<Item = &'static Limit> + 'a {
    let all = on_day.limits.iter().copied();
    all.filter(move |limit| limit.number == Some(number) && limit.status == Status::InForce)
}

#[test]
fn published_limits_are_in_force_on_their_day_as_printed() {
    let rows = reference("limit");
    assert!(rows.len() >= 9);
    for row in rows {
        let number = row["number"].as_str().unwrap();
        let expected = row["expected"].as_table().unwrap();
        let end = |key: &str, none: f64| expected.get(key).map_or(none, |end| end.as_str().unwrap().parse().unwrap());
        let range = Range { low: end("min", f64::NEG_INFINITY), high: end("max", f64::INFINITY) };
        let on_day = RuleBook::published().on(Rules::Uci, day(&row["day"]), Some(30));
        let asked: Vec<Asks> = in_force(&on_day, number).map(|limit| limit.asks).collect();
        assert!(asked.contains(&Asks::Within(range)), "{number}: {range:?} is not among {asked:?}");
    }
}

#[test]
fn every_verdict_is_as_the_published_limit_gives_it() {
    let rows = reference("value");
    assert!(rows.len() > 80);
    for row in rows {
        let id = row["id"].as_str().unwrap();
        let inputs = row["inputs"].as_table().unwrap();
        let rules = Rules::from_name(inputs["rules"].as_str().unwrap()).unwrap();
        let age = i16::try_from(inputs["age"].as_integer().unwrap()).unwrap();
        let number = inputs["number"].as_str().unwrap();
        let reading = Reading {
            value: inputs["value"].as_float().unwrap(),
            plus_minus: inputs["plus_minus"].as_float().unwrap(),
        };
        let on_day = RuleBook::published().on(rules, day(&inputs["day"]), Some(age));
        let limits: Vec<&Limit> = in_force(&on_day, number).collect();
        assert!(!limits.is_empty(), "{id}: nothing is on file");
        let verdicts: Option<Vec<Verdict>> = limits.iter().map(|limit| limit.verdict(reading)).collect();
        let verdict = verdicts.map_or("figure not found", |verdicts| verdicts.into_iter().max().unwrap().name());
        assert_eq!(verdict, row["expected"]["verdict"].as_str().unwrap(), "{id}: {limits:#?}");
        assert!(row["source"].as_str().is_some_and(|source| source.len() > 10), "{id} has no source");
    }
}

#[test]
fn every_figure_of_the_books_is_tried_at_its_end_and_a_step_beyond() {
    let rows = reference("value");
    let tried = |limit: &Limit, end: f64, verdict: &str, is_near: &dyn Fn(f64) -> bool| {
        rows.iter().any(|row| {
            let inputs = row["inputs"].as_table().unwrap();
            let age = i16::try_from(inputs["age"].as_integer().unwrap()).unwrap();
            limit.number == inputs["number"].as_str()
                && Some(limit.rules) == Rules::from_name(inputs["rules"].as_str().unwrap())
                && limit.covers(day(&inputs["day"]))
                && limit.is_for(Some(age)) == Some(true)
                && is_near(inputs["value"].as_float().unwrap() - end)
                && row["expected"]["verdict"].as_str() == Some(verdict)
        })
    };
    let mut figures = 0;
    for limit in RuleBook::published().limits().filter(|limit| limit.status == Status::InForce) {
        let Asks::Within(range) = limit.asks else { continue };
        for (end, outward) in [(range.low, -1.0), (range.high, 1.0)] {
            // The smaller end of a range whose exemption goes on to zero has no outside.
            if !end.is_finite() || (limit.id == "uci-front-axle" && outward < 0.0) {
                continue;
            }
            figures += 1;
            let id = limit.id;
            assert!(tried(limit, end, "inside", &|off| off.abs() < 1e-9), "{id}: no row stands at {end}");
            let exempt = limit.exemption.map_or(0.0, |exemption| {
                if outward < 0.0 { range.low - exemption.within.low } else { exemption.within.high - range.high }
            });
            let allowed = limit.measuring_tolerance + exempt;
            let step = |off: f64| (0.0..=1.0 + 1e-9).contains(&(off * outward - allowed));
            assert!(tried(limit, end, "outside", &step), "{id}: no row stands a step beyond {end}");
        }
    }
    assert!(figures > 45, "{figures}");
}

#[test]
fn no_id_is_taken_away_or_given_twice() {
    let text = std::fs::read_to_string(IDS).unwrap();
    let given: Vec<&str> = text.lines().filter(|line| !line.starts_with('#') && !line.is_empty()).collect();
    let on_file: Vec<&str> = RuleBook::published().limits().map(|limit| limit.id).collect();
    for id in &on_file {
        let times = given.iter().filter(|given| *given == id).count();
        assert_eq!(times, 1, "{id} stands {times} times in rules/ids.txt: a new row is written at its end, once");
    }
    for id in &given {
        assert!(on_file.contains(id), "{id} was taken away: a limit is ended with `until`, never deleted");
    }
}

/// How many limits each body has in force on the first of June of a year, for the notes of a release.
#[test]
fn each_season_has_its_limits() {
    let mut counts: BTreeMap<i16, usize> = BTreeMap::new();
    for year in 2024..=2027 {
        let on_day = RuleBook::published().on(Rules::Uci, jiff::civil::date(year, 6, 1), Some(30));
        let figures = on_day.limits.iter().filter(|limit| limit.status == Status::InForce);
        counts.insert(year, figures.filter(|limit| matches!(limit.asks, Asks::Within(_))).count());
    }
    // From 2026: hoods, flare and rims; the width of the bar and the insides of fork and stays change their figures.
    assert_eq!(counts, BTreeMap::from([(2024, 16), (2025, 16), (2026, 19), (2027, 19)]));
}

/// The sample with a bar of 38 cm outside, under the international body's rules on a day.
fn narrow_bar(day: jiff::civil::Date) -> Build {
    let mut build = sample();
    build.job.rules = Some(Rules::Uci.into());
    build.job.day = Some(day.into());
    let bar = build.parts.bar.make("");
    bar.width_hoods_mm = Some(356.2.into());
    bar.width_ends_mm = Some(356.2.into());
    build
}

fn of_check(build: &Build, check: &str) -> Vec<Finding> {
    plan(build).findings.into_iter().filter(|finding| finding.check == check).collect()
}

#[test]
fn a_bike_is_judged_for_the_day_of_its_race_and_not_for_today() {
    let last = narrow_bar(jiff::civil::date(2025, 12, 31));
    assert_eq!(of_check(&last, "race/bar_width"), []);
    let first = narrow_bar(jiff::civil::date(2026, 1, 1));
    let found = of_check(&first, "race/bar_width");
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(found[0].severity, Severity::Stop);
    for part in
        ["380 ± 1 mm", "UCI, road mass start", "article 1.3.022", "400 mm or more", "from 2026-01-01", "on 2026-01-01"]
    {
        assert!(found[0].why.contains(part), "{part}: {}", found[0].why);
    }
    assert!(found[0].source.contains("20 June 2025"), "{}", found[0].source);
}

#[test]
fn each_verdict_has_its_words_and_its_weight() {
    let judged = |id: &'static str, check: &str, value: f64, plus_minus: Option<f64>| {
        let mut build = narrow_bar(jiff::civil::date(2026, 6, 1));
        let reading = build.measured.entry((id, witnessmark_core::number::Side::None)).or_default();
        reading.value = Some(value.into());
        reading.plus_minus = plus_minus.map(Into::into);
        let found = of_check(&build, check);
        found.into_iter().next().map(|finding| (finding.severity, finding.what, finding.why))
    };
    let (severity, what, why) = judged("bar-width-outside", "race/bar_width", 400.5, Some(1.0)).unwrap();
    assert_eq!(severity, Severity::Caution);
    assert!(
        what.ends_with("is too close to the rule's limit to say.") && why.starts_with("400.5 ± 1 mm was read;"),
        "{why}"
    );
    let (_, _, why) = judged("bar-width-outside", "race/bar_width", 400.5, None).unwrap();
    assert!(why.contains("was read (the doubt is that of custom)"), "{why}");
    assert_eq!(judged("bar-width-outside", "race/bar_width", 401.0, Some(1.0)), None);
    let (severity, what, _) = judged("saddle-length", "race/saddle_length", 303.0, Some(0.5)).unwrap();
    assert_eq!(severity, Severity::Caution);
    assert!(what.contains("inside what is allowed for measuring"), "{what}");
    let (severity, what, why) = judged("saddle-setback", "race/saddle_setback", 30.0, Some(1.0)).unwrap();
    assert_eq!(severity, Severity::Caution);
    assert!(what.ends_with("needs an exemption.") && why.contains("with an exemption 0 mm or more"), "{what} {why}");
    let (severity, ..) = judged("saddle-setback", "race/saddle_setback", -3.0, Some(1.0)).unwrap();
    assert_eq!(severity, Severity::Stop);
}

#[test]
fn a_suspended_limit_is_a_note_and_stops_nothing() {
    let mut build = sample();
    build.job.rules = Some(Rules::Uci.into());
    build.job.day = Some(jiff::civil::date(2026, 9, 1).into());
    build.rider.birth_year = Some(1996.into());
    let reading = build.measured.entry(("development-longest", witnessmark_core::number::Side::None)).or_default();
    reading.value = Some(11_502.0.into());
    reading.plus_minus = Some(20.0.into());
    let found = of_check(&build, "race/longest_gear");
    assert_eq!(found.iter().map(|finding| finding.severity).collect::<Vec<_>>(), [Severity::Note]);
    assert!(found[0].why.contains("Not in force"), "{}", found[0].why);
    build.job.day = Some(jiff::civil::date(2025, 10, 8).into());
    assert_eq!(of_check(&build, "race/longest_gear"), []);
}

#[test]
fn no_rules_are_said_and_never_passed_over_in_silence() {
    let mut build = sample();
    build.job.rules = Some(Rules::WithoutRules.into());
    let found = of_check(&build, "race/rules_on_file");
    assert!(found[0].what.contains("No rules for the bike apply"), "{found:#?}");
    assert!(plan(&build).findings.iter().all(|finding| !finding.check.starts_with("race/") || finding == &found[0]));

    build.job.rules = Some(Rules::CyclingIreland.into());
    let found = of_check(&build, "race/rules_on_file");
    let said: Vec<&str> = found.iter().map(|finding| finding.what.as_str()).collect();
    assert_eq!(
        said,
        ["The rules on file were not put together for this day.", "Not every rule of this body is on file."]
    );
    assert!(found[1].why.contains("no limit on file for: bar (ahead of the front axle)"), "{}", found[1].why);
}

#[test]
fn without_any_book_every_number_is_said_to_have_no_limit_on_file() {
    let build = narrow_bar(jiff::civil::date(2026, 6, 1));
    let plan = plan_under(&build, RuleBook::new(&[]));
    let found: Vec<&Finding> = plan.findings.iter().filter(|finding| finding.check.starts_with("race/")).collect();
    assert_eq!(found.len(), 1, "{found:#?}");
    assert!(found[0].what.contains("no rule on file"), "{}", found[0].what);
}
