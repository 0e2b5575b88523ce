//! What a mechanic should hear of a survey, in sentences: facts first, then what, why with the numbers, what to do.

use super::doubt::{Doubted, Suspect, WornEnd};
use super::{Agreement, Fared, SEEN_BY_EYE_MM, Survey, words};
use crate::finding::{About, Finding, Severity, capital, figure, mm};
use crate::number::{Number, Side};

const TESTS: &str = "W. Baarda, A testing procedure for use in geodetic networks (1968): 0.1 % false alarms a reading";
const CUSTOM: &str = crate::number::COMMON_PRACTICE;

struct Said {
    check: &'static str,
    severity: Severity,
    about: Vec<About>,
    what: String,
    why: String,
    action: String,
    source: &'static str,
    not_known: bool,
}

/// All findings of a survey, worst first.
pub(super) fn findings(survey: &Survey) -> Vec<Finding> {
    let mut all: Vec<Said> = Vec::new();
    all.extend(survey.unusable.iter().map(|(name, missing)| Said {
        check: "survey/unusable",
        severity: Severity::Caution,
        about: reading(name),
        what: format!("The reading “{name}” cannot be used."),
        why: sentence(&missing.to_string()),
        action: "Fill it in, or take it out.".into(),
        source: CUSTOM,
        not_known: true,
    }));
    if let Some(missing) = &survey.missing {
        all.push(Said {
            check: "survey/nothing",
            severity: Severity::Caution,
            about: Vec::new(),
            what: "No position could be taken from this bike.".into(),
            why: sentence(&missing.to_string()),
            action: "Take readings to the saddle, the bar and the hoods, from the bottom bracket and from the floor."
                .into(),
            source: CUSTOM,
            not_known: true,
        });
    }
    all.extend(survey.suspects.iter().map(|suspect| misread(survey, suspect)));
    all.extend(survey.worn_end.map(worn_end));
    all.extend(as_a_whole(survey));
    all.extend(open(survey));
    all.extend(unchecked(survey));
    all.extend(look_alike(survey));
    all.extend(assumed(survey));
    all.extend(sides(survey));
    all.extend(next(survey));
    let mut findings: Vec<Finding> = all
        .into_iter()
        .map(|Said { check, severity, about, what, why, action, source, not_known }| Finding {
            check,
            severity,
            about,
            what,
            why,
            action,
            source,
            not_known,
        })
        .collect();
    findings.sort_by_key(|finding| finding.severity);
    findings
}

fn reading(name: &str) -> Vec<About> {
    vec![About::Field(format!("survey.{name}.value"))]
}

fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let start: String = letters.next().map_or_else(String::new, |first| first.to_uppercase().collect());
    format!("{start}{}.", letters.as_str())
}

/// "a", "a and b", "a, b and c".
fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

fn about(survey: &Survey, doubted: &[Doubted]) -> Vec<About> {
    doubted.iter().filter_map(|one| one.place).flat_map(|place| reading(&survey.readings[place].item.name)).collect()
}

/// "is 10 mm longer than the other 7 readings that check it allow (553 ± 4 mm)".
fn too_much(one: &Doubted) -> String {
    let by = one.value - one.allowed;
    let (more, less) = if one.is_angle { ("more", "less") } else { ("longer", "shorter") };
    let allowed = words::value(one.is_angle, one.allowed);
    let within = figure(1.96 * one.sd, 1);
    let others = if one.others == 1 {
        "the one reading that checks it allows".to_owned()
    } else {
        format!("the {} readings that check it allow", one.others)
    };
    format!(
        "is {} {} than {others} ({allowed}, give or take {within})",
        words::value(one.is_angle, by.abs()),
        if by > 0.0 { more } else { less },
    )
}

fn slips(one: &Doubted) -> String {
    let asked: Vec<String> = one.slips.iter().map(|slip| slip.words.clone()).collect();
    match asked.as_slice() {
        [] => "No usual slip explains it.".into(),
        asked => format!("{}?", capital(&asked.join(", or "))),
    }
}

fn misread(survey: &Survey, suspect: &Suspect) -> Said {
    let [first, rest @ ..] = suspect.readings.as_slice() else {
        return Said {
            check: "survey/misread",
            severity: Severity::Caution,
            about: Vec::new(),
            what: "The readings disagree.".into(),
            why: "No reading stands out.".into(),
            action: "Read again.".into(),
            source: TESTS,
            not_known: false,
        };
    };
    let value = words::value(first.is_angle, first.value);
    let why = format!(
        "It {}; that is {} standard uncertainties, where 1 reading in 1000 reaches 3.3. {}",
        too_much(first),
        figure(first.deviate, 1),
        slips(first)
    );
    if suspect.set_aside {
        return Said {
            check: "survey/misread",
            severity: Severity::Caution,
            about: about(survey, &suspect.readings),
            what: format!("The {}, {value}, does not fit the other readings.", first.words),
            why,
            action: "Read it again. Until then it is set aside: the position comes from the others.".into(),
            source: TESTS,
            not_known: false,
        };
    }
    if rest.is_empty() {
        // An assumption that alone does not fit: the bike or the floor is not what it was taken for.
        return Said {
            check: "survey/assumption",
            severity: Severity::Caution,
            about: Vec::new(),
            what: format!("It does not hold that {}.", first.words),
            why,
            action: "Read it, so that nothing has to be assumed.".into(),
            source: TESTS,
            not_known: false,
        };
    }
    let others: Vec<String> =
        rest.iter().map(|one| format!("the {} ({})", one.words, words::value(one.is_angle, one.value))).collect();
    Said {
        check: "survey/inseparable",
        severity: Severity::Caution,
        about: about(survey, &suspect.readings),
        what: format!(
            "Either the {}, {value}, is wrong, or {}: they cannot be told apart.",
            first.words,
            listed(&others)
        ),
        why,
        action: "Read each of them again. All of them count until then, so the position is in doubt.".into(),
        source: TESTS,
        not_known: false,
    }
}

fn worn_end(worn: WornEnd) -> Said {
    let (way, cause) =
        if worn.too_long.size > 0.0 { ("long", "bent in or worn") } else { ("short", "bent out or pulled loose") };
    let by = mm(worn.too_long.size.abs());
    Said {
        check: "survey/tape_end",
        severity: Severity::Caution,
        about: Vec::new(),
        what: format!("All {} tapes read {by} too {way}, as if the hook at the end were {cause}.", worn.tapes),
        why: format!(
            "One common mistake of {by}, give or take {}, explains the disagreement better than a slip in any single reading.",
            figure(1.96 * worn.too_long.sd, 1)
        ),
        action: "Hold the tape against a steel rule, from its end and from its 100 mm mark; then read the tapes again."
            .into(),
        source: TESTS,
        not_known: false,
    }
}

fn as_a_whole(survey: &Survey) -> Option<Said> {
    let whole = survey.whole.filter(|whole| !whole.agrees())?;
    if !survey.suspects.is_empty() || survey.worn_end.is_some() {
        return None;
    }
    Some(Said {
        check: "survey/whole",
        severity: Severity::Caution,
        about: Vec::new(),
        what: "The readings as a whole agree less well than they should, and no single one stands out.".into(),
        why: format!(
            "The sum of their squared misfits is {}; only {} of 100 sound surveys exceed {}.",
            figure(whole.chi_square, 1),
            figure((whole.above * 100.0).max(0.1), 1),
            figure(whole.limit, 1)
        ),
        action: "Read the worst few again, or take the readings for less certain than they are said to be.".into(),
        source: "chi-square test of the whole, 5 % false alarms",
        not_known: false,
    })
}

fn is_position(number: &Number) -> bool {
    let ids = ["saddle-height", "saddle-setback", "bar-x", "bar-y", "hood-x", "hood-y"];
    ids.contains(&number.id)
}

fn open(survey: &Survey) -> Option<Said> {
    let lacking: Vec<_> = survey.numbers.iter().filter(|one| is_position(one.number) && one.value.is_err()).collect();
    if lacking.is_empty() || survey.missing.is_some() {
        return None;
    }
    let spoken: Vec<String> = lacking.iter().map(|one| words::spoken(one.number, one.side)).collect();
    let mut reasons: Vec<String> = Vec::new();
    for missing in lacking.iter().filter_map(|one| one.value.as_ref().err()) {
        let reason = missing.to_string();
        if !reasons.contains(&reason) {
            reasons.push(reason);
        }
    }
    let action = match survey.next.first() {
        Some(next) => format!("Take the {}.", next.words),
        None => "Read to these points from the bottom bracket and from the floor.".to_owned(),
    };
    Some(Said {
        check: "survey/open",
        severity: Severity::Caution,
        about: lacking.iter().map(|one| About::number(one.number, one.side)).collect(),
        what: format!("What was read does not give: {}.", spoken.join("; ")),
        why: sentence(&reasons.join("; ")),
        action,
        source: CUSTOM,
        not_known: true,
    })
}

fn unchecked(survey: &Survey) -> Option<Said> {
    let all: Vec<&Fared> = survey.readings.iter().filter(|one| one.is_unchecked()).collect();
    if all.is_empty() {
        return None;
    }
    let each: Vec<String> = all
        .iter()
        .map(|one| match one.least_noticed.filter(|least| *least < SEEN_BY_EYE_MM) {
            Some(least) => format!(
                "the {} (a mistake of less than {} goes unseen)",
                one.item.words,
                words::value(one.item.is_angle(), least)
            ),
            None => format!("the {}", one.item.words),
        })
        .collect();
    Some(Said {
        check: "survey/unchecked",
        severity: Severity::Note,
        about: all.iter().flat_map(|one| reading(&one.item.name)).collect(),
        what: format!("Nothing checks {}.", listed(&each)),
        why: "No other reading would show a mistake in it: less than a tenth of it would appear as a misfit.".into(),
        action: "Read each once more, by another hand, or add a reading that crosses it.".into(),
        source: "redundancy numbers, W. Baarda (1968); the limit of 0.1 is customary in geodesy",
        not_known: false,
    })
}

fn look_alike(survey: &Survey) -> Option<Said> {
    if survey.look_alike.is_empty() {
        return None;
    }
    let words = |place: usize| survey.readings[place].item.words.as_str();
    let each: Vec<String> =
        survey.look_alike.iter().map(|(one, other)| format!("the {} and the {}", words(*one), words(*other))).collect();
    Some(Said {
        check: "survey/look_alike",
        severity: Severity::Note,
        about: survey
            .look_alike
            .iter()
            .flat_map(|(one, other)| [*one, *other])
            .flat_map(|place| reading(&survey.readings[place].item.name))
            .collect(),
        what: format!("If one of these is wrong, nobody can tell which: {}.", each.join("; ")),
        why: "A mistake in one looks like a mistake in the other to all other readings.".into(),
        action: "Add a reading that goes to only one of their points.".into(),
        source: "separability of hypotheses, W. Förstner (1983)",
        not_known: false,
    })
}

fn assumed(survey: &Survey) -> Option<Said> {
    if survey.assumed.is_empty() {
        return None;
    }
    let each: Vec<String> = survey
        .assumed
        .iter()
        .map(|one| {
            let angle = one.item.is_angle();
            format!("{} ({} as a standard uncertainty)", one.item.words, words::value(angle, one.item.sd))
        })
        .collect();
    Some(Said {
        check: "survey/assumed",
        severity: Severity::Note,
        about: Vec::new(),
        what: format!("Taken to be so, because nobody read it: {}.", each.join("; ")),
        why: "Plumb lines and heights only say where a point is when it is known how bike and floor stand; the room left \
              for this is in every plus-minus."
            .into(),
        action: "Read the heights of both axles, and lay the level on the floor along the bike.".into(),
        source: CUSTOM,
        not_known: false,
    })
}

fn sides(survey: &Survey) -> Option<Said> {
    let uneven: Vec<_> = survey.sides.iter().filter(|one| one.agreement == Agreement::Moved).collect();
    if uneven.is_empty() {
        return None;
    }
    let each: Vec<String> = uneven
        .iter()
        .map(|one| {
            let more = if one.left > one.right { "left" } else { "right" };
            format!(
                "{}: {} more on the {more}",
                words::spoken(one.number, Side::None),
                mm((one.left - one.right).abs())
            )
        })
        .collect();
    Some(Said {
        check: "survey/sides",
        severity: Severity::Note,
        about: uneven.iter().map(|one| About::number(one.number, Side::Left)).collect(),
        what: format!("Left and right differ: {}.", each.join("; ")),
        why: "The difference is beyond the customary millimetre and beyond what the readings leave open.".into(),
        action: "Ask the rider whether it is meant so before it is carried over.".into(),
        source: CUSTOM,
        not_known: false,
    })
}

/// A hidden mistake up to this is good enough: half a centimetre at a hood is what a rider feels. Common practice, no
/// source.
const GOOD_ENOUGH_MM: f64 = 5.0;

fn next(survey: &Survey) -> Option<Said> {
    let (now, best) = (survey.outlook?, survey.next.first()?);
    if now.open == 0 && now.stand_unread == 0 && now.hidden_mm <= GOOD_ENOUGH_MM {
        return None;
    }
    let again = if best.again { ", once more and by another hand" } else { "" };
    let why = if now.open > best.then.open {
        format!("It leaves {} coordinates of contact points open, where {} are open now.", best.then.open, now.open)
    } else if now.stand_unread > best.then.stand_unread {
        "It says how the bike stands, and so whether every plumb line and height means what it seems to.".to_owned()
    } else if now.open > 0 {
        "It is on the way to the points that are still open.".to_owned()
    } else {
        format!(
            "A mistake that nobody notices can move a contact point by {} now, and by {} then; the least known coordinate \
             goes from {} to {} as a standard uncertainty.",
            hidden(now.hidden_mm),
            hidden(best.then.hidden_mm),
            mm(now.worst_sd_mm),
            mm(best.then.worst_sd_mm)
        )
    };
    Some(Said {
        check: "survey/next",
        severity: Severity::Note,
        about: best.name.iter().flat_map(|name| reading(name)).collect(),
        what: format!("The one reading more that would help most: the {}{again}.", best.words),
        why,
        action: "Take it, or leave it where this is good enough.".into(),
        source: "reliability of a plan, W. Baarda (1968)",
        not_known: false,
    })
}

fn hidden(value_mm: f64) -> String {
    if value_mm >= SEEN_BY_EYE_MM { "as far as the eye lets it".into() } else { format!("up to {}", mm(value_mm)) }
}
