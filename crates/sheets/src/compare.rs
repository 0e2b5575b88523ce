//! The sheet of bikes side by side: numbers, parts, left and right.

use crate::text::{COLUMNS, Sheet, Tone, name_and_side, shortened, signed, told, wrapped};
use witnessmark_core::compare::{Comparison, PartDiffers, PartRow, Row};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::figure;
use witnessmark_core::number::Area;
use witnessmark_core::survey::Agreement;

/// The whole sheet: each bike after the first against the first.
pub fn compare(comparison: &Comparison) -> Sheet {
    let mut sheet = Sheet::default();
    let first = comparison.names.first().map_or("", String::as_str);
    for (bike, name) in comparison.names.iter().enumerate().skip(1) {
        if bike > 1 {
            sheet.line(Tone::Plain, "");
        }
        against(&mut sheet, comparison, bike, first, name);
    }
    told_quietly(&mut sheet);
    parts(&mut sheet, comparison);
    for (bike, name) in comparison.names.iter().enumerate() {
        sides(&mut sheet, comparison, bike, name);
    }
    sheet
}

fn told_quietly(sheet: &mut Sheet) {
    let legend = "Same: within the tolerance. As read: beyond it, and no more than the readings can tell apart. A reading that does \
                  not say how well it was taken counts as good as the tolerance.";
    for line in wrapped(legend, COLUMNS) {
        sheet.line(Tone::Quiet, &line);
    }
}

fn against(sheet: &mut Sheet, comparison: &Comparison, bike: usize, first: &str, name: &str) {
    sheet.line(Tone::Heading, &shortened(&format!("{name} against {first}"), COLUMNS));
    let count = |agreement| comparison.count(bike, agreement);
    let (moved, within) = (count(Agreement::Moved), count(Agreement::WithinReading));
    let tone = if moved > 0 { Tone::Caution } else { Tone::InLine };
    let text = format!(
        "{} the same · {within} the same within what was measured · {moved} moved · {} not known",
        count(Agreement::Same),
        count(Agreement::NotKnown)
    );
    sheet.line(tone, &text);
    for area in Area::NAMES {
        let rows: Vec<&Row> = comparison.rows.iter().filter(|row| row.number.area.name() == *area).collect();
        if rows.is_empty() {
            continue;
        }
        sheet.line(Tone::Plain, "");
        let head = format!("{:<37}{:>9}{:>9}{:>8}{:>6}  stands", area.to_uppercase(), "first", "this", "by", "±");
        sheet.line(Tone::Heading, &head);
        for row in rows {
            one_row(sheet, row, bike);
        }
    }
}

fn one_row(sheet: &mut Sheet, row: &Row, bike: usize) {
    let Some(against) = row.against_first.get(bike - 1) else { return };
    let shown =
        |at: usize| row.held.get(at).copied().flatten().map_or_else(|| "?".to_owned(), |held| figure(held.value, 1));
    let (by, sd) = against.difference.map_or_else(
        || (String::new(), String::new()),
        |(difference, sd)| (signed(difference), if sd > 0.0 { figure(1.96 * sd, 1) } else { String::new() }),
    );
    let (tone, word) = match against.agreement {
        Agreement::Same => (Tone::Plain, "same"),
        Agreement::WithinReading => (Tone::Plain, "as read"),
        Agreement::Moved => (Tone::Stop, "moved"),
        Agreement::NotKnown => (Tone::Quiet, "not known"),
    };
    sheet.line(
        tone,
        &format!("{}{:>9}{:>9}{by:>8}{sd:>6}  {word}", name_and_side(row.number, row.side, 37), shown(0), shown(bike)),
    );
}

fn parts(sheet: &mut Sheet, comparison: &Comparison) {
    sheet.line(Tone::Plain, "");
    if comparison.parts.is_empty() {
        return sheet.line(Tone::Heading, "PARTS: no fact that is known of all of them differs");
    }
    sheet.line(Tone::Heading, "PARTS THAT DIFFER");
    for part in &comparison.parts {
        one_part(sheet, part);
    }
}

fn one_part(sheet: &mut Sheet, part: &PartRow) {
    let words = part.path.trim_start_matches("parts.").replace(['.', '_'], " ");
    match part.differs {
        PartDiffers::NotOnAll => {
            let listed: Vec<String> = part
                .names
                .iter()
                .map(|name| match name {
                    None => "not listed".to_owned(),
                    Some(name) if name.is_empty() => "listed".to_owned(),
                    Some(name) => name.clone(),
                })
                .collect();
            told(sheet, &format!("{words}: {}", listed.join(" / ")));
        }
        PartDiffers::Facts => {
            let facts: Vec<String> =
                part.facts.iter().map(|(fact, values)| format!("{fact} {}", values.join(" / "))).collect();
            told(sheet, &format!("{words}: {}", facts.join("; ")));
        }
    }
}

fn sides(sheet: &mut Sheet, comparison: &Comparison, bike: usize, name: &str) {
    let Some(sides) = comparison.sides.get(bike).filter(|sides| !sides.is_empty()) else { return };
    sheet.line(Tone::Plain, "");
    sheet.line(Tone::Heading, &shortened(&format!("LEFT AND RIGHT · {name}"), COLUMNS));
    for one in sides {
        let (tone, word) = match one.agreement {
            Agreement::Same | Agreement::NotKnown => (Tone::Plain, "alike"),
            Agreement::WithinReading => (Tone::Plain, "as read"),
            Agreement::Moved => (Tone::Stop, "differ"),
        };
        let line = format!(
            "{:<37}{:>9}{:>9}{:>8}{:>6}  {word}",
            shortened(one.number.name, 36),
            figure(one.left.value, 1),
            figure(one.right.value, 1),
            signed(one.left.value - one.right.value),
            if one.sd > 0.0 { figure(1.96 * one.sd, 1) } else { String::new() },
        );
        sheet.line(tone, &line);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use witnessmark_core::Build;
    use witnessmark_core::build::sample::sample;

    #[test]
    fn no_line_is_wider_than_eighty_columns_with_two_bikes_or_three() {
        let (one, mut other) = (sample(), sample());
        other.parts.stem.make("").length_mm = Some(120.0.into());
        other.parts.saddle.0.clear();
        let long = "a name that nobody would type, and yet one day somebody does, at great length indeed".to_owned();
        let empty = Build::default();
        let bikes = [("first".to_owned(), &one), (long, &other), ("third".to_owned(), &empty)];
        for count in [2, 3] {
            let text = compare(&witnessmark_core::compare::compare(&bikes[..count])).plain();
            for line in text.lines() {
                assert!(line.chars().count() <= COLUMNS, "{} columns: {line}", line.chars().count());
            }
            assert!(text.contains("moved") && text.contains("110 mm / 120 mm") == (count == 2), "{text}");
        }
    }
}
