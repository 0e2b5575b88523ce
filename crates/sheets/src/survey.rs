//! The sheet of a survey: the position with its plus-minus, each reading and how it fared, what to read next.

use crate::text::{COLUMNS, Sheet, Tone, name_and_side, one_finding, shortened, signed, told, wrapped};
use witnessmark_core::Build;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::figure;
use witnessmark_core::survey::{Agreement, Fared, SEEN_BY_EYE_MM, Survey};

/// The whole sheet.
pub fn survey(build: &Build, survey: &Survey) -> Sheet {
    let mut sheet = Sheet::default();
    let title = build.job.title.as_ref().map_or("no title", |given| given.value.as_str());
    sheet.line(Tone::Heading, &shortened(&format!("The position as read · {title}"), COLUMNS));
    verdict(&mut sheet, survey);
    if !survey.findings.is_empty() {
        sheet.line(Tone::Plain, "");
        sheet.line(Tone::Heading, "FINDINGS, worst first");
        for finding in &survey.findings {
            one_finding(&mut sheet, finding);
        }
    }
    if survey.missing.is_none() {
        numbers(&mut sheet, survey);
        points(&mut sheet, survey);
        sides(&mut sheet, survey);
    }
    readings(&mut sheet, survey);
    next(&mut sheet, survey);
    sheet
}

fn verdict(sheet: &mut Sheet, survey: &Survey) {
    let taken = survey.readings.iter().filter(|fared| fared.fitted.is_some()).count();
    let Some(whole) = survey.whole else {
        return told(sheet, &format!("{taken} readings, none more than needed: nothing checks them."));
    };
    let agree = if whole.agrees() { "agree" } else { "do not agree" };
    let text = format!(
        "{taken} readings, {} more than needed; those that count {agree} as a whole (chi-square {}, limit {}).",
        whole.freedom,
        figure(whole.chi_square, 1),
        figure(whole.limit, 1)
    );
    let tone = if whole.agrees() && survey.suspects.is_empty() { Tone::InLine } else { Tone::Caution };
    for line in wrapped(&text, COLUMNS) {
        sheet.line(tone, &line);
    }
}

fn numbers(sheet: &mut Sheet, survey: &Survey) {
    sheet.line(Tone::Plain, "");
    sheet.line(Tone::Heading, &format!("{:<44}{:>10}{:>8}{:>14}", "NUMBERS", "value", "±", "hidden"));
    for one in &survey.numbers {
        let name = name_and_side(one.number, one.side, 44);
        match &one.value {
            Ok(value) => {
                let unit = if one.number.kind.unit() == "°" { "°" } else { "" };
                let hidden = if value.hidden >= SEEN_BY_EYE_MM {
                    "unchecked".to_owned()
                } else {
                    format!("{}{unit}", figure(value.hidden, 1))
                };
                let line = format!(
                    "{name:<44}{:>10}{:>8}{hidden:>14}",
                    format!("{}{unit}", figure(value.value, 1)),
                    figure(value.plus_minus(), 1)
                );
                sheet.line(Tone::Plain, &line);
            }
            Err(missing) => {
                let room = COLUMNS - 46;
                sheet.line(Tone::Quiet, &format!("{name:<44}{:>36}", shortened(&missing.to_string(), room)));
            }
        }
    }
    for line in wrapped(
        "mm. ± holds the truth 95 times in 100. Hidden: how far a mistake in one reading moves the number without being noticed.",
        COLUMNS,
    ) {
        sheet.line(Tone::Quiet, &line);
    }
}

fn points(sheet: &mut Sheet, survey: &Survey) {
    sheet.line(Tone::Plain, "");
    let head = format!("{:<26}{:>10}{:>7}{:>10}{:>7}{:>20}", "POINTS", "forward", "±", "up", "±", "ellipse");
    sheet.line(Tone::Heading, &head);
    for placed in &survey.points {
        let name = placed.point.name();
        match placed.ellipse {
            Some(ellipse) => {
                let line = format!(
                    "{name:<26}{:>10}{:>7}{:>10}{:>7}{:>20}",
                    figure(placed.at.x_mm, 1),
                    figure(1.96 * ellipse.sd_x_mm, 1),
                    figure(placed.at.y_mm, 1),
                    figure(1.96 * ellipse.sd_y_mm, 1),
                    format!(
                        "{} x {} at {}°",
                        figure(ellipse.long_mm, 1),
                        figure(ellipse.short_mm, 1),
                        figure(ellipse.turn_deg, 0)
                    ),
                );
                sheet.line(Tone::Plain, &line);
            }
            None => sheet.line(Tone::Quiet, &format!("{name:<26}{:>34}", "open")),
        }
    }
}

fn sides(sheet: &mut Sheet, survey: &Survey) {
    if survey.sides.is_empty() {
        return;
    }
    sheet.line(Tone::Plain, "");
    let head = format!("{:<38}{:>9}{:>9}{:>8}{:>6}  sides", "LEFT AND RIGHT", "left", "right", "apart", "±");
    sheet.line(Tone::Heading, &head);
    for one in &survey.sides {
        let tone = if one.agreement == Agreement::Moved { Tone::Stop } else { Tone::Plain };
        let word = match one.agreement {
            Agreement::Same => "alike",
            Agreement::WithinReading => "?",
            Agreement::Moved => "differ",
            Agreement::NotKnown => "",
        };
        let line = format!(
            "{:<38}{:>9}{:>9}{:>8}{:>6}  {word}",
            shortened(one.number.name, 37),
            figure(one.left, 1),
            figure(one.right, 1),
            signed(one.left - one.right),
            figure(1.96 * one.sd, 1),
        );
        sheet.line(tone, &line);
    }
}

fn readings(sheet: &mut Sheet, survey: &Survey) {
    if survey.readings.is_empty() {
        return;
    }
    sheet.line(Tone::Plain, "");
    let head = format!("{:<47}{:>9}{:>8}{:>6}{:>10}", "READINGS", "read", "off by", "test", "checked");
    sheet.line(Tone::Heading, &head);
    for fared in survey.readings.iter().chain(&survey.assumed) {
        one_reading(sheet, fared);
    }
    let legend = "Off by: the fitted bike less what was read. Test: the same in standard uncertainties, 3.3 is an alarm. Checked: \
                  the share of a mistake that would show.";
    for line in wrapped(legend, COLUMNS) {
        sheet.line(Tone::Quiet, &line);
    }
}

fn one_reading(sheet: &mut Sheet, fared: &Fared) {
    let unit = if fared.item.is_angle() { "°" } else { "" };
    let words = if fared.item.assumed { format!("taken: {}", fared.item.words) } else { fared.item.words.clone() };
    let (Some(read), Some(fitted)) = (fared.item.value, fared.fitted) else {
        return sheet.line(Tone::Quiet, &format!("{:<47}{:>9}", shortened(&words, 46), "to take"));
    };
    let test = fared.deviate.map_or_else(|| "-".to_owned(), |deviate| figure(deviate.abs(), 1));
    let checked = if fared.set_aside {
        "set aside".to_owned()
    } else {
        fared.redundancy.map_or_else(String::new, |share| format!("{} %", figure(100.0 * share, 0)))
    };
    let tone = if fared.set_aside {
        Tone::Stop
    } else if fared.is_unchecked() {
        Tone::Caution
    } else {
        Tone::Plain
    };
    let line = format!(
        "{:<47}{:>9}{:>8}{test:>6}{checked:>10}",
        shortened(&words, 46),
        format!("{}{unit}", figure(read, 1)),
        signed(fitted - read),
    );
    sheet.line(tone, &line);
}

fn next(sheet: &mut Sheet, survey: &Survey) {
    let (Some(now), false) = (survey.outlook, survey.next.is_empty()) else { return };
    sheet.line(Tone::Plain, "");
    sheet.line(Tone::Heading, &format!("{:<50}{:>8}{:>12}{:>10}", "WOULD HELP MOST", "open", "hidden", "±"));
    let mut row = |words: &str, outlook: &witnessmark_core::survey::Outlook| {
        let hidden =
            if outlook.hidden_mm >= SEEN_BY_EYE_MM { "unchecked".to_owned() } else { figure(outlook.hidden_mm, 1) };
        let known = figure(1.96 * outlook.worst_sd_mm, 1);
        let line = format!("{:<50}{:>8}{hidden:>12}{known:>10}", shortened(words, 49), outlook.open);
        sheet.line(Tone::Plain, &line);
    };
    row("as it stands", &now);
    for next in &survey.next {
        let words = if next.again { format!("{}, again", next.words) } else { next.words.clone() };
        row(&words, &next.then);
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

    use super::*;
    use witnessmark_core::build::{SurveyPoint, SurveyReading, Taken};

    fn reading(what: Taken, from: SurveyPoint, to: SurveyPoint, value: f64) -> SurveyReading {
        SurveyReading {
            what: Some(what.into()),
            from: Some(from.into()),
            to: Some(to.into()),
            value_mm: Some(value.into()),
            ..SurveyReading::default()
        }
    }

    #[test]
    fn a_short_survey_and_none_at_all_fit_into_eighty_columns() {
        use SurveyPoint::{BottomBracket, HoodLeft, HoodRight, SaddleTop};
        let mut build = Build::default();
        build.job.title = Some("a title that nobody would type, and yet one day somebody does, at great length".into());
        let empty = super::survey(&build, &witnessmark_core::survey::survey(&build)).plain();
        build.survey.insert("a".into(), reading(Taken::Straight, BottomBracket, SaddleTop, 728.0));
        build.survey.insert("b".into(), reading(Taken::Ahead, BottomBracket, SaddleTop, -190.0));
        build.survey.insert("c".into(), reading(Taken::Height, SaddleTop, SaddleTop, 970.0));
        build.survey.insert("d".into(), reading(Taken::Height, BottomBracket, BottomBracket, 268.0));
        build.survey.insert("e".into(), reading(Taken::Across, HoodLeft, HoodRight, 370.0));
        let short = super::survey(&build, &witnessmark_core::survey::survey(&build)).plain();
        for line in empty.lines().chain(short.lines()) {
            assert!(line.chars().count() <= COLUMNS, "{} columns: {line}", line.chars().count());
        }
        assert!(empty.contains("No position could be taken"), "{empty}");
        assert!(short.contains("saddle height") && short.contains("WOULD HELP MOST"), "{short}");
    }
}
