//! Parts to choose from, in eighty columns: what would fit at a place, and the best complete lists.

use crate::text::{COLUMNS, Sheet, Tone, wrapped};
use witnessmark_core::catalogue::Entry;
use witnessmark_core::finding::{Finding, figure};
use witnessmark_core::search::complete::{Clashing, Completion, List, Price, WishOf};
use witnessmark_core::search::complete_exact::{Cost, Quantity};
use witnessmark_core::search::fitting::{Candidates, Fitting, Spot, Verdict};

/// So many candidates of each verdict are named; the others are counted.
pub const CANDIDATES_SHOWN: usize = 12;

/// So many open questions of a list are named.
const QUESTIONS_SHOWN: usize = 4;

/// What would fit at a place.
pub fn fitting(spot: &Spot, candidates: &Candidates, fitting: &Fitting) -> Sheet {
    let mut sheet = Sheet::default();
    let count = |rank: fn(&Verdict) -> bool| fitting.verdicts.iter().filter(|verdict| rank(verdict)).count();
    let fits = |verdict: &Verdict| matches!(verdict, Verdict::Fits | Verdict::FitsWith(_));
    let not_known = |verdict: &Verdict| matches!(verdict, Verdict::NotKnown(_));
    let does_not = |verdict: &Verdict| matches!(verdict, Verdict::DoesNotFit(_));
    sheet.line(Tone::Heading, &format!("What would fit: {}", spot.words()));
    sheet.line(
        Tone::Plain,
        &format!("{} fit · {} cannot be judged · {} do not fit", count(fits), count(not_known), count(does_not)),
    );
    type Group = (&'static str, Tone, fn(&Verdict) -> bool);
    let groups: [Group; 3] = [
        ("FIT", Tone::InLine, fits),
        ("CANNOT BE JUDGED", Tone::Caution, not_known),
        ("DO NOT FIT", Tone::Stop, does_not),
    ];
    for (heading, tone, belongs) in groups {
        let all: Vec<(&Entry, Verdict)> = candidates
            .parts()
            .iter()
            .zip(&fitting.verdicts)
            .filter(|(_, verdict)| belongs(verdict))
            .map(|(part, verdict)| (part, *verdict))
            .collect();
        if all.is_empty() {
            continue;
        }
        sheet.line(Tone::Plain, "");
        sheet.line(tone, heading);
        for (part, verdict) in all.iter().take(CANDIDATES_SHOWN) {
            part_line(&mut sheet, "", part, true);
            if let Some(reason) = fitting.reason(*verdict) {
                reason_lines(&mut sheet, reason);
            }
        }
        if all.len() > CANDIDATES_SHOWN {
            sheet.line(Tone::Quiet, &format!("… and {} more, with --json", all.len() - CANDIDATES_SHOWN));
        }
    }
    sheet
}

/// A part: where, what it is called, price if it is to be paid, and mass.
fn part_line(sheet: &mut Sheet, place: &str, part: &Entry, paid: bool) {
    let price = part.number("price").filter(|_| paid).map_or_else(String::new, |price| format!("{price:.2}"));
    let mass = part.number("mass_g").map_or_else(String::new, |mass_g| format!("{} g", figure(mass_g, 1)));
    let name = if place.is_empty() { part.name().to_owned() } else { format!("{place}: {}", part.name()) };
    let room = COLUMNS - 22;
    let mut lines = wrapped(&name, room);
    let first = if lines.is_empty() { String::new() } else { lines.remove(0) };
    sheet.line(Tone::Plain, &format!("{first:<room$}{price:>11}{mass:>11}"));
    for line in lines {
        sheet.line(Tone::Plain, &format!("  {line}"));
    }
}

fn reason_lines(sheet: &mut Sheet, reason: &Finding) {
    for line in wrapped(&format!("{} {} ({})", reason.what, reason.why, reason.check), COLUMNS - 4) {
        sheet.line(Tone::Quiet, &format!("    {line}"));
    }
}

/// The best complete lists.
pub fn completion(answer: &Completion) -> Sheet {
    let mut sheet = Sheet::default();
    let places = |spots: &[Spot]| spots.iter().map(Spot::words).collect::<Vec<_>>().join(", ");
    sheet.line(Tone::Heading, "Complete this build");
    if let Some(refusal) = &answer.refusal {
        told(&mut sheet, Tone::Caution, &format!("Nothing was searched: {refusal}."));
    } else {
        told(&mut sheet, Tone::Plain, &format!("Open: {}.", places(&answer.open)));
    }
    if !answer.without_candidates.is_empty() {
        let text = format!("Open, and nothing on offer: {}.", places(&answer.without_candidates));
        told(&mut sheet, Tone::Caution, &text);
    }
    if !answer.at_odds.is_empty() {
        sheet.line(Tone::Stop, "What stays does not go together, whatever is chosen:");
        for finding in &answer.at_odds {
            reason_lines(&mut sheet, finding);
        }
    }
    let left_aside = [
        (answer.not_counted, "left aside, price or mass not known"),
        (answer.out_of_stock, "left aside, not in stock"),
    ];
    for (count, why) in left_aside.iter().filter(|(count, _)| *count > 0) {
        told(&mut sheet, Tone::Quiet, &format!("{count} candidates {why}."));
    }
    if answer.refusal.is_none() {
        verdict(&mut sheet, answer);
    }
    for (rank, list) in answer.lists.iter().enumerate() {
        one_list(&mut sheet, rank + 1, list, answer);
    }
    prices(&mut sheet, &answer.prices, answer.staying_mass_g);
    if let Some(clashing) = &answer.clashing {
        clash(&mut sheet, clashing);
    }
    if answer.refusal.is_none() {
        sheet.line(Tone::Plain, "");
        let lacking = match answer.mass_not_known.len() {
            0 => String::new(),
            many => format!("; the mass of {many} of the parts that stay is not known and not counted"),
        };
        told(&mut sheet, Tone::Quiet, &format!("Price is that of the new parts, mass that of the bike{lacking}."));
    }
    sheet
}

fn verdict(sheet: &mut Sheet, answer: &Completion) {
    let (tone, text) = match (answer.lists.is_empty(), answer.proven) {
        (false, true) => (Tone::InLine, "Proven: no list is better than the first.".to_owned()),
        (false, false) => (
            Tone::Caution,
            format!("NOT PROVEN: after {} steps the search was ended; there may be a better list.", answer.steps),
        ),
        (true, true) => (Tone::Stop, "No list keeps every wish; this is proven.".to_owned()),
        (true, false) => {
            (Tone::Caution, format!("NOT PROVEN: no list was found in {} steps; there may be one.", answer.steps))
        }
    };
    told(sheet, tone, &text);
}

fn one_list(sheet: &mut Sheet, rank: usize, list: &List, answer: &Completion) {
    let (staying_g, best) = (answer.staying_mass_g, answer.lists.first());
    sheet.line(Tone::Plain, "");
    let title = format!("{rank}  {}", sum(list.cost, staying_g));
    sheet.line(Tone::Heading, &title);
    for pick in &list.picks {
        let same = |other: &List| other.picks.iter().any(|there| there == pick);
        // After the first list only what differs from it is written out.
        if rank > 1 && best.is_some_and(same) {
            continue;
        }
        let place = if pick.stays { format!("{}, stays", pick.spot.words()) } else { pick.spot.words() };
        part_line(sheet, &place, &pick.part, !pick.stays);
    }
    if rank > 1 {
        sheet.line(Tone::Quiet, "    the rest as in list 1");
    }
    for question in list.questions.iter().take(if rank == 1 { QUESTIONS_SHOWN } else { 0 }) {
        reason_lines(sheet, question);
    }
    let more = list.questions.len().saturating_sub(if rank == 1 { QUESTIONS_SHOWN } else { 0 });
    if more > 0 {
        let questions = if more == 1 { "question" } else { "questions" };
        sheet.line(Tone::Quiet, &format!("    and {more} {questions} that cannot be judged, with --json"));
    }
}

/// What a list comes to: price of what is new, mass of the whole bike.
#[allow(clippy::cast_possible_truncation, reason = "a bike is some ten million milligrams")]
fn sum(cost: Cost, staying_g: f64) -> String {
    let parts = if cost.new_parts == 1 { "new part" } else { "new parts" };
    let bike_mg = cost.mass_mg + (staying_g * 1000.0).round() as i64;
    format!("{} · {} · {} {parts}", money(cost.price_cents), grams(bike_mg), cost.new_parts)
}

fn money(cents: i64) -> String {
    format!("{}.{:02}", cents / 100, cents % 100)
}

fn grams(mass_mg: i64) -> String {
    let tenths = (mass_mg + 50) / 100;
    if tenths % 10 == 0 { format!("{} g", tenths / 10) } else { format!("{}.{} g", tenths / 10, tenths % 10) }
}

fn wish(wish: &WishOf) -> String {
    match wish {
        WishOf::Limit(Quantity::Price) => "the budget".to_owned(),
        WishOf::Limit(Quantity::Mass) => "the mass aim".to_owned(),
        WishOf::Limit(Quantity::NewParts) => "the number of new parts".to_owned(),
        WishOf::Keep(spot) => format!("keeping the {}", spot.words()),
    }
}

fn prices(sheet: &mut Sheet, prices: &[Price], staying_g: f64) {
    if prices.is_empty() {
        return;
    }
    sheet.line(Tone::Plain, "");
    sheet.line(Tone::Heading, "WHAT EACH WISH COSTS");
    for price in prices {
        let name = wish(&price.wish);
        let sure = if price.proven { "" } else { " (not proven)" };
        let text = match (price.without, price.next) {
            (None, _) => format!("{name}: nothing; without it the first list is the same{sure}"),
            (Some(without), None) => format!("{name}: without it {}{sure}", sum(without, staying_g)),
            (Some(without), Some(next)) => {
                format!("{name}: next step {}; without it {}{sure}", sum(next, staying_g), sum(without, staying_g))
            }
        };
        told(sheet, Tone::Plain, &text);
    }
}

fn clash(sheet: &mut Sheet, clashing: &Clashing) {
    sheet.line(Tone::Plain, "");
    let wishes: Vec<String> = clashing.wishes.iter().map(wish).collect();
    let which =
        if clashing.smallest { "no smaller set clashes" } else { "each is needed for it; a smaller set may clash too" };
    let places = clashing.spots.iter().map(Spot::words).collect::<Vec<_>>().join(", ");
    let text = if wishes.is_empty() {
        "The parts that may be taken make no complete list, even with every limit and every kept part given up."
            .to_owned()
    } else {
        format!("These wishes clash: {} ({which}).", wishes.join("; "))
    };
    told(sheet, Tone::Stop, &text);
    let enough = if clashing.spots.is_empty() {
        "What stays is beyond it already.".to_owned()
    } else {
        format!("Places that are enough for it: {places}.")
    };
    told(sheet, Tone::Plain, &enough);
}

fn told(sheet: &mut Sheet, tone: Tone, text: &str) {
    for line in wrapped(text, COLUMNS) {
        sheet.line(tone, &line);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use witnessmark_core::Build;
    use witnessmark_core::build::sample::sample;
    use witnessmark_core::catalogue::sample::invented;
    use witnessmark_core::part::KINDS;
    use witnessmark_core::search::complete::{Order, complete};
    use witnessmark_core::search::fitting::fitting as judge;

    fn narrow(sheet: &Sheet) {
        for line in sheet.plain().lines() {
            assert!(line.chars().count() <= COLUMNS, "{} columns: {line}", line.chars().count());
        }
    }

    #[test]
    fn no_line_is_wider_than_eighty_columns() {
        let build = sample();
        for kind in KINDS {
            let candidates = Candidates::new(kind, invented(140));
            let place = kind.places.names().first().copied().unwrap_or_default();
            let spot = Spot { kind, place: place.to_owned() };
            narrow(&fitting(&spot, &candidates, &judge(&build, place, &candidates)));
        }
        for build in [sample(), Build::default()] {
            narrow(&completion(&complete(&build, &invented(200), &Order::default())));
        }
        let replace = vec!["stem".to_owned(), "bar".to_owned(), "tyre.front".to_owned()];
        let order = Order { replace, budget: Some(300.0), ..Order::default() };
        let sheet = completion(&complete(&sample(), &invented(700), &order));
        narrow(&sheet);
        assert!(sheet.plain().contains("Open: bar, stem, front tyre."), "{}", sheet.plain());
    }

    #[test]
    fn money_and_mass_read_as_a_person_writes_them() {
        assert_eq!((money(11_005), money(7)), ("110.05".to_owned(), "0.07".to_owned()));
        assert_eq!((grams(390_000), grams(390_460)), ("390 g".to_owned(), "390.5 g".to_owned()));
    }
}
