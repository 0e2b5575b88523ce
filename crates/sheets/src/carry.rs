//! The sheet of a position that is carried over: what is kept, what is not, what to set by hand.

use crate::text::{COLUMNS, Sheet, Tone, name_and_side, one_finding, shortened, signed, told, wrapped};
use witnessmark_core::Build;
use witnessmark_core::carry::{ByHand, Carried, Row};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::figure;
use witnessmark_core::search::shelf_part;
use witnessmark_core::survey::Agreement;

/// The whole sheet.
pub fn carry(from: &Build, carried: &Carried) -> Sheet {
    let mut sheet = Sheet::default();
    let title =
        |build: &Build| build.job.title.as_ref().map_or_else(|| "no title".to_owned(), |given| given.value.clone());
    let heading = format!("The position of {} on {}", title(from), title(&carried.build));
    for line in wrapped(&heading, COLUMNS) {
        sheet.line(Tone::Heading, &line);
    }
    verdict(&mut sheet, carried);
    if !carried.findings.is_empty() {
        sheet.line(Tone::Plain, "");
        sheet.line(Tone::Heading, "FINDINGS, worst first");
        for finding in &carried.findings {
            one_finding(&mut sheet, finding);
        }
    }
    rows(&mut sheet, "THE POSITION", carried, true);
    rows(&mut sheet, "WHAT ELSE CHANGES", carried, false);
    if !carried.accounted.is_empty() {
        sheet.line(Tone::Plain, "");
        sheet.line(Tone::Heading, "TAKEN INTO ACCOUNT");
        for text in &carried.accounted {
            told(&mut sheet, text);
        }
    }
    by_hand(&mut sheet, "TO SET BY HAND", carried, &carried.to_set);
    by_hand(&mut sheet, "TO MEASURE WHEN IT IS SET", carried, &carried.to_check);
    sheet
}

fn verdict(sheet: &mut Sheet, carried: &Carried) {
    let position = || carried.rows.iter().filter(|row| row.is_position && row.wanted.is_some());
    let kept = position().filter(|row| row.off.is_some() && row.agreement != Agreement::Moved).count();
    let tone = if kept == position().count() && kept > 0 { Tone::InLine } else { Tone::Caution };
    sheet.line(tone, &format!("{kept} of {} numbers of the position are kept", position().count()));
    if let Some(way) = &carried.front {
        let parts = if way.stem == way.bar {
            shelf_part(&way.stem)
        } else {
            format!("{} and {}", shelf_part(&way.stem), shelf_part(&way.bar))
        };
        told(sheet, &format!("At the front: {parts}{}.", if way.flipped { ", stem the other way up" } else { "" }));
    }
    if let Some(way) = &carried.rear {
        told(sheet, &format!("At the saddle: {} and {}.", shelf_part(&way.saddle), shelf_part(&way.post)));
    }
}

fn rows(sheet: &mut Sheet, heading: &str, carried: &Carried, is_position: bool) {
    let known = |row: &&Row| row.is_position == is_position && (row.was.is_some() || row.comes.is_some());
    let rows: Vec<&Row> = carried.rows.iter().filter(known).collect();
    if rows.is_empty() {
        return;
    }
    sheet.line(Tone::Plain, "");
    let head = format!("{heading:<36}{:>9}{:>6}{:>9}{:>9}{:>9}", "was", "±", "wanted", "comes", "off by");
    sheet.line(Tone::Heading, &head);
    for row in rows {
        let shown = |value: Option<f64>| value.map_or_else(|| "?".to_owned(), |value| figure(value, 1));
        let sd = row.was.filter(|was| was.sd > 0.0).map_or_else(String::new, |was| figure(1.96 * was.sd, 1));
        let tone = match row.agreement {
            Agreement::Moved if is_position => Tone::Stop,
            Agreement::Moved => Tone::Caution,
            Agreement::NotKnown => Tone::Quiet,
            Agreement::Same | Agreement::WithinReading => Tone::Plain,
        };
        let line = format!(
            "{}{:>9}{sd:>6}{:>9}{:>9}{:>9}",
            name_and_side(row.number, row.side, 36),
            shown(row.was.map(|was| was.value)),
            shown(row.wanted),
            shown(row.comes),
            row.off.map_or_else(String::new, signed),
        );
        sheet.line(tone, &line);
    }
    let sources: Vec<&str> = ["surveyed", "measured", "asked", "planned"]
        .into_iter()
        .filter(|source| carried.rows.iter().filter_map(|row| row.was).any(|was| was.source.name() == *source))
        .collect();
    if is_position {
        sheet.line(Tone::Quiet, &format!("The old bike's values were {}.", sources.join(", or ")));
    }
}

fn by_hand(sheet: &mut Sheet, heading: &str, carried: &Carried, list: &[ByHand]) {
    // Settings of a search that found no way would only mislead.
    if list.is_empty() || (carried.front.is_none() && carried.rear.is_none()) {
        return;
    }
    sheet.line(Tone::Plain, "");
    sheet.line(Tone::Heading, heading);
    for one in list {
        sheet.line(Tone::Plain, &format!("{:<60}{:>20}", shortened(&one.words, 59), one.value));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use witnessmark_core::build::sample::sample;

    #[test]
    fn no_line_is_wider_than_eighty_columns_with_much_to_say_or_nothing() {
        let (old, mut frame) = (sample(), sample());
        if let Some(stack) = frame.parts.frame.make("").stack_mm.as_mut() {
            stack.value -= 60.0;
        }
        frame.parts.crankset.make("").arm_length_mm = Some(165.0.into());
        frame.job.title = Some("a title that nobody would type, and yet one day somebody does, at great length".into());
        for (from, onto) in [(&old, &frame), (&Build::default(), &frame), (&old, &Build::default())] {
            let text = carry(from, &witnessmark_core::carry::carry(from, onto)).plain();
            for line in text.lines() {
                assert!(line.chars().count() <= COLUMNS, "{} columns: {line}", line.chars().count());
            }
            assert!(text.contains("FINDINGS"), "{text}");
        }
    }
}
