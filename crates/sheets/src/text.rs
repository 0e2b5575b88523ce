//! The plain sheet: a plan in eighty columns of text, for the terminal and for a printer that knows nothing else.

use std::fmt::Write as _;
use witnessmark_core::Build;
use witnessmark_core::compute::{How, PlannedNumber, Verdict};
use witnessmark_core::field::{Choice, Kind};
use witnessmark_core::finding::{Finding, Severity, figure};
use witnessmark_core::number::{Area, Number, Side};
use witnessmark_core::plan::Plan;
use witnessmark_core::search::{FrontWay, Reach, RearWay, shelf_part};

/// The widest line.
pub const COLUMNS: usize = 80;

/// The place of a number's name and side.
const NAME: usize = 42;

/// What a piece of text is, for whoever can show it in more than one way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Running text.
    Plain,
    /// A heading.
    Heading,
    /// A finding that stops the work, a number that moved.
    Stop,
    /// A finding that somebody has to decide.
    Caution,
    /// A number in line.
    InLine,
    /// What matters less.
    Quiet,
}

/// A sheet of text: pieces, each with its tone; line ends stand in the pieces.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet(pub Vec<(Tone, String)>);

impl Sheet {
    pub(crate) fn say(&mut self, tone: Tone, text: impl Into<String>) {
        self.0.push((tone, text.into()));
    }

    pub(crate) fn line(&mut self, tone: Tone, text: &str) {
        self.say(tone, format!("{text}\n"));
    }

    /// The text without its tones.
    pub fn plain(&self) -> String {
        self.0.iter().map(|(_, text)| text.as_str()).collect()
    }
}

/// The heading and the verdict: what a person reads first.
pub fn verdict(build: &Build, plan: &Plan) -> Sheet {
    let mut sheet = Sheet::default();
    let said = |given: &Option<witnessmark_core::field::Given<String>>, otherwise: &str| {
        given.as_ref().map_or_else(|| otherwise.to_owned(), |given| given.value.clone())
    };
    let title = format!("{} · {}", said(&build.rider.name, "rider not named"), said(&build.job.title, "no title"));
    sheet.line(Tone::Heading, &shortened(&title, COLUMNS));
    let (in_line, counted) = plan.numbers.in_line();
    let count = |severity: Severity| format!("{} {}", plan.count(severity), severity.name());
    let counts = [Severity::Stop, Severity::Caution, Severity::Note].map(count).join(" · ");
    let tone = match (plan.count(Severity::Stop), plan.count(Severity::Caution)) {
        (0, 0) => Tone::InLine,
        (0, _) => Tone::Caution,
        _ => Tone::Stop,
    };
    sheet.line(tone, &format!("{counts} · {in_line} of {counted} numbers in line"));
    sheet
}

/// The whole plan: verdict, findings, the three columns by area.
pub fn plan(build: &Build, plan: &Plan) -> Sheet {
    let mut sheet = verdict(build, plan);
    if !plan.findings.is_empty() {
        sheet.line(Tone::Plain, "");
        sheet.line(Tone::Heading, "FINDINGS, worst first");
        for finding in &plan.findings {
            one_finding(&mut sheet, finding);
        }
    }
    for name in Area::NAMES {
        let rows: Vec<&PlannedNumber> =
            plan.numbers.each().iter().filter(|one| one.number.area.name() == *name).collect();
        // An area of which nothing at all is asked, planned or read takes one line.
        let told = rows.iter().any(|one| one.asked.is_some() || one.planned.is_ok() || one.measured.is_some());
        sheet.line(Tone::Plain, "");
        if !told {
            sheet.line(Tone::Heading, &format!("{}: nothing known yet", name.to_uppercase()));
            continue;
        }
        let head = format!(
            "{:<NAME$}{:>8}{:>8}{:>9}{:>7}  sign",
            name.to_uppercase(),
            "asked",
            "planned",
            "measured",
            "off by"
        );
        sheet.line(Tone::Heading, &head);
        for row in rows {
            one_number(&mut sheet, row);
        }
    }
    sheet.line(Tone::Plain, "");
    for line in wrapped(LEGEND, COLUMNS) {
        sheet.line(Tone::Quiet, &line);
    }
    sheet
}

const LEGEND: &str = "Lengths in mm. Sign: asked, planned, measured; ||| in line, || | measured has moved, | | planned is off what \
    was asked, ||. not read yet. ~ before an asked value: converted from another definition; = : follows from other \
    figures. The part maker's instructions and a qualified mechanic come first.";

pub(crate) fn one_finding(sheet: &mut Sheet, finding: &Finding) {
    let (tone, word) = match finding.severity {
        Severity::Stop => (Tone::Stop, "STOP"),
        Severity::Caution => (Tone::Caution, "CAUTION"),
        Severity::Note => (Tone::Quiet, "NOTE"),
    };
    const INDENT: usize = 9;
    let mut lines = wrapped(&finding.what, COLUMNS - INDENT).into_iter();
    sheet.say(tone, format!("{word:<INDENT$}"));
    sheet.line(Tone::Plain, &lines.next().unwrap_or_default());
    let rest = lines
        .chain(wrapped(&finding.why, COLUMNS - INDENT))
        .chain(wrapped(&format!("→ {}", finding.action), COLUMNS - INDENT));
    for line in rest {
        sheet.line(Tone::Plain, &format!("{:INDENT$}{line}", ""));
    }
    for line in wrapped(&format!("{} · {}", finding.check, finding.source), COLUMNS - INDENT) {
        sheet.line(Tone::Quiet, &format!("{:INDENT$}{line}", ""));
    }
}

fn one_number(sheet: &mut Sheet, row: &PlannedNumber) {
    let unit = row.number.kind;
    // The side stands in a place of its own, where a long name cannot push it out.
    let name = shortened(row.number.name, NAME - 7);
    let side = row.side.word();
    let asked = row.asked.map_or_else(String::new, |asked| {
        let mark = match asked.how {
            How::Received => "",
            How::Converted => "~",
            How::Derived => "=",
        };
        format!("{mark}{}", shown(asked.value, unit))
    });
    let planned = row.planned.as_ref().map_or_else(|_| "?".to_owned(), |value| shown(*value, unit));
    let measured = row.measured.as_ref().map_or_else(String::new, |read| shown(read.value, unit));
    let off = row.difference.filter(|off| off.abs() >= 0.05).map_or_else(String::new, signed);
    let (tone, sign) = sign(row);
    let columns = format!("{asked:>8}{planned:>8}{measured:>9}{off:>7}");
    sheet.say(Tone::Plain, format!("{name:<0$}{side:<6}{columns}  ", NAME - 6));
    sheet.line(tone, sign);
}

/// The witness sign in four characters.
fn sign(row: &PlannedNumber) -> (Tone, &'static str) {
    match (row.verdict, row.measured.is_some(), row.asked.is_some() && row.planned.is_ok()) {
        (Verdict::InLine, ..) => (Tone::InLine, "|||"),
        (Verdict::Moved, true, _) => (Tone::Stop, "|| |"),
        (Verdict::Moved, false, _) => (Tone::Stop, "| |"),
        (Verdict::NotRead, _, true) => (Tone::Quiet, "||."),
        (Verdict::NotRead, ..) => (Tone::Quiet, ".|."),
        (Verdict::NotKnown, ..) => (Tone::Quiet, "..."),
    }
}

fn shown(value: f64, kind: Kind) -> String {
    match kind {
        Kind::Length | Kind::Plain => figure(value, 1),
        Kind::Mass => format!("{} g", figure(value, 0)),
        _ => format!("{}{}", figure(value, 1), kind.unit()),
    }
}

/// A number's name and side in so many columns: the side stands in a place of its own, where a long name cannot push it
/// out.
pub(crate) fn name_and_side(number: &Number, side: Side, columns: usize) -> String {
    let name = shortened(number.name, columns - 7);
    format!("{name:<0$}{1:<6}", columns - 6, side.word())
}

pub(crate) fn signed(value: f64) -> String {
    let text = figure(value, 1);
    if value > 0.0 && text != "0" { format!("+{text}") } else { text }
}

/// How many ways a sheet lists; `--json` lists every one that was kept.
pub const WAYS_SHOWN: usize = 15;

/// The result of the search backwards.
pub fn reach(build: &Build, reach: &Reach) -> Sheet {
    let mut sheet = Sheet::default();
    let title = build.job.title.as_ref().map_or("", |given| given.value.as_str());
    sheet.line(Tone::Heading, &shortened(&format!("What reaches the asked position · {title}"), COLUMNS));
    front(&mut sheet, reach);
    rear(&mut sheet, reach);
    sheet
}

fn front(sheet: &mut Sheet, reach: &Reach) {
    let front = &reach.front;
    sheet.line(Tone::Plain, "");
    sheet.line(Tone::Heading, "HOODS");
    if let Some(missing) = &front.missing {
        return told(sheet, &format!("No search: {missing}."));
    }
    let nearest = front
        .nearest_mm
        .map_or_else(String::new, |miss| format!("; the nearest of all misses by {} mm", figure(miss, 1)));
    told(
        sheet,
        &format!(
            "{} of {} combinations come within {} mm{nearest}.",
            front.within,
            front.tried,
            figure(front.within_mm, 1)
        ),
    );
    if front.ways.is_empty() {
        return;
    }
    let head = format!(
        "{:<4}{:>9}{:>9}{:>9}{:>11}{:>11}{:>11}{:>11}",
        "", "miss", "forward", "up", "spacers", "bar roll", "lever", "toe-in"
    );
    sheet.line(Tone::Heading, &head);
    for (rank, way) in front.ways.iter().take(WAYS_SHOWN).enumerate() {
        front_way(sheet, rank + 1, way);
    }
    more(sheet, front.ways.len());
}

fn front_way(sheet: &mut Sheet, rank: usize, way: &FrontWay) {
    let line = format!(
        "{rank:<4}{:>9}{:>9}{:>9}{:>11}{:>11}{:>11}{:>11}",
        figure(way.miss_mm, 1),
        signed(way.off.x_mm),
        signed(way.off.y_mm),
        figure(way.spacers_under_mm, 1),
        format!("{}°", figure(way.bar_roll_deg, 1)),
        figure(way.lever_from_end_mm, 1),
        figure(way.toe_in_mm, 1),
    );
    sheet.line(if way.sacrifices.is_empty() { Tone::InLine } else { Tone::Plain }, &line);
    let turned = if way.flipped { ", the other way up" } else { "" };
    let mut parts = format!("{}{turned}", shelf_part(&way.stem));
    if way.bar != way.stem {
        let _ = write!(parts, " + {}", shelf_part(&way.bar));
    }
    given_up(sheet, &parts, &way.sacrifices);
}

fn rear(sheet: &mut Sheet, reach: &Reach) {
    let rear = &reach.rear;
    sheet.line(Tone::Plain, "");
    sheet.line(Tone::Heading, "SADDLE");
    if let Some(missing) = &rear.missing {
        return told(sheet, &format!("No search: {missing}."));
    }
    let head =
        format!("{:<4}{:>9}{:>9}{:>9}{:>11}{:>11}{:>11}", "", "miss", "forward", "up", "tilt", "extension", "rail");
    sheet.line(Tone::Heading, &head);
    for (rank, way) in rear.ways.iter().take(WAYS_SHOWN).enumerate() {
        rear_way(sheet, rank + 1, way);
    }
    more(sheet, rear.ways.len());
}

fn rear_way(sheet: &mut Sheet, rank: usize, way: &RearWay) {
    let line = format!(
        "{rank:<4}{:>9}{:>9}{:>9}{:>11}{:>11}{:>11}",
        figure(way.miss_mm, 1),
        signed(way.off.x_mm),
        signed(way.off.y_mm),
        format!("{}°", figure(way.tilt_deg, 1)),
        figure(way.post_extension_mm, 1),
        signed(way.rail_position_mm),
    );
    sheet.line(if way.sacrifices.is_empty() { Tone::InLine } else { Tone::Plain }, &line);
    let parts = format!("{} + {}", shelf_part(&way.saddle), shelf_part(&way.post));
    given_up(sheet, &parts, &way.sacrifices);
}

/// The parts of a way, and what it gives up.
fn given_up(sheet: &mut Sheet, parts: &str, sacrifices: &[String]) {
    let text = if sacrifices.is_empty() { parts.to_owned() } else { format!("{parts}: {}", sacrifices.join("; ")) };
    for line in wrapped(&text, COLUMNS - 4) {
        sheet.line(Tone::Quiet, &format!("    {line}"));
    }
}

fn more(sheet: &mut Sheet, all: usize) {
    if all > WAYS_SHOWN {
        sheet.line(Tone::Quiet, &format!("… and {} more, with --json", all - WAYS_SHOWN));
    }
}

pub(crate) fn told(sheet: &mut Sheet, text: &str) {
    for line in wrapped(text, COLUMNS) {
        sheet.line(Tone::Plain, &line);
    }
}

/// The text broken at spaces into lines of at most so many characters; a longer word stands alone.
pub(crate) fn wrapped(text: &str, columns: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let Some(line) = lines.last_mut() else { break };
        if line.is_empty() {
            line.push_str(word);
        } else if line.chars().count() + 1 + word.chars().count() <= columns {
            let _ = write!(line, " {word}");
        } else {
            lines.push(word.to_owned());
        }
    }
    lines
}

pub(crate) fn shortened(text: &str, columns: usize) -> String {
    if text.chars().count() <= columns {
        return text.to_owned();
    }
    let head: String = text.chars().take(columns.saturating_sub(1)).collect();
    format!("{head}…")
}

#[cfg(test)]
mod tests {
    use super::*;
    use witnessmark_core::build::sample::sample;
    use witnessmark_core::search;

    #[test]
    fn no_line_is_wider_than_eighty_columns() {
        let mut builds = vec![sample(), Build::default()];
        builds[0].job.title =
            Some("a title that nobody would type, and yet one day somebody does, at great length indeed".into());
        for build in &builds {
            let text = format!(
                "{}{}",
                plan(build, &witnessmark_core::plan(build)).plain(),
                reach(build, &search::reach(build)).plain()
            );
            for line in text.lines() {
                assert!(line.chars().count() <= COLUMNS, "{} columns: {line}", line.chars().count());
            }
        }
    }

    #[test]
    fn an_empty_build_says_what_it_lacks_in_every_area() {
        let build = Build::default();
        let text = plan(&build, &witnessmark_core::plan(&build)).plain();
        assert!(text.contains("SADDLE: nothing known yet"), "{text}");
    }
}
