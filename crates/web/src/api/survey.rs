//! A survey as plain data: points, numbers and readings with their plus-minus, the reading to doubt, the one to take next.
//! Lengths in mm, angles in degrees; `null` is *not known*.

use super::ask::{Id, Refused};
use super::{FORM, FindingJson, finding_json};
use crate::app::App;
use axum::Json;
use axum::extract::State;
use schemars::JsonSchema;
use serde::Serialize;
use witnessmark_core::field::Choice;
use witnessmark_core::survey::{
    Doubted, Ellipse, Fared, LeftRight, NextReading, Outlook, Placed, Survey, SurveyedNumber, SurveyedValue, Suspect,
    Whole, survey,
};

/// The position taken from a real bike.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SurveyJson {
    /// The version of this form.
    pub form: u32,
    /// Every number that a survey can give, in the order of the walk-round.
    pub numbers: Vec<SurveyedNumberJson>,
    /// The points that were read to, from the bottom bracket.
    pub points: Vec<SurveyedPointJson>,
    /// The readings, in the order of their names.
    pub readings: Vec<SurveyReadingJson>,
    /// What was assumed because nobody read it.
    pub assumed: Vec<SurveyReadingJson>,
    /// Readings that cannot be used.
    pub unusable: Vec<UnusableJson>,
    /// The survey as a whole; `null` where no reading is more than enough.
    pub whole: Option<WholeJson>,
    /// Readings in doubt.
    pub in_doubt: Vec<SuspectJson>,
    /// All tapes are too long by so much.
    pub tape_too_long: Option<f64>,
    /// Left against right.
    pub sides: Vec<SidesJson>,
    /// How things stand with the contact points.
    pub outlook: Option<OutlookJson>,
    /// The readings that would help most, best first.
    pub next: Vec<NextJson>,
    /// What a mechanic should hear, worst first.
    pub findings: Vec<FindingJson>,
}

/// A number as the survey gives it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SurveyedNumberJson {
    /// Its id in the registry.
    pub id: &'static str,
    /// `left`, `right`, or empty.
    pub side: &'static str,
    /// The trade's name for it.
    pub name: &'static str,
    /// `mm`, `°`, or another unit.
    pub unit: &'static str,
    /// Its value.
    pub value: Option<f64>,
    /// Its standard uncertainty.
    pub standard_uncertainty: Option<f64>,
    /// Half the width of the interval that holds the truth 95 times in 100.
    pub plus_minus_95: Option<f64>,
    /// How far a slip that nobody notices moves it; `null` where nothing bounds it.
    pub hidden: Option<f64>,
    /// Why it cannot be had, in words.
    pub lacks: Option<String>,
}

/// A point of the bike in its own frame: x forward, y up.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SurveyedPointJson {
    /// The point: `saddle nose`.
    pub point: &'static str,
    /// Forward of the bottom bracket.
    pub x: Option<f64>,
    /// Above it.
    pub y: Option<f64>,
    /// Standard uncertainty forward.
    pub standard_uncertainty_x: Option<f64>,
    /// Standard uncertainty upward.
    pub standard_uncertainty_y: Option<f64>,
    /// Their correlation, −1 to 1.
    pub correlation: Option<f64>,
    /// The ellipse that holds the point 95 times in 100.
    pub ellipse_95: Option<EllipseJson>,
}

/// An ellipse by its half axes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct EllipseJson {
    /// The long half axis.
    pub long: f64,
    /// The short one.
    pub short: f64,
    /// The long axis above forward, degrees.
    pub turn: f64,
}

/// A reading and how it fared among the others.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SurveyReadingJson {
    /// Its name in the document.
    pub name: String,
    /// What it is, in words.
    pub words: String,
    /// The kind of reading.
    pub what: &'static str,
    /// From which point.
    pub from: &'static str,
    /// To which point.
    pub to: &'static str,
    /// What was read; `null` for one that is yet to be taken.
    pub read: Option<f64>,
    /// Its standard uncertainty.
    pub standard_uncertainty: f64,
    /// What the fitted bike makes of it.
    pub fitted: Option<f64>,
    /// The share of a mistake in it that shows in its own misfit, 0 to 1.
    pub redundancy: Option<f64>,
    /// Its misfit in standard uncertainties.
    pub test: Option<f64>,
    /// The smallest mistake in it that is noticed four times in five.
    pub least_noticed: Option<f64>,
    /// It was set aside until it is read again.
    pub set_aside: bool,
}

/// A reading that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct UnusableJson {
    /// Its name in the document.
    pub name: String,
    /// What is missing for it, in words.
    pub lacks: String,
}

/// The survey as a whole.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WholeJson {
    /// The sum of the squared weighted misfits.
    pub chi_square: f64,
    /// Readings more than were needed.
    pub freedom: usize,
    /// The share of sound surveys in which that sum is larger.
    pub above: f64,
    /// The sum that 5 of 100 sound surveys exceed.
    pub limit: f64,
}

/// Readings in doubt that cannot be told apart; most often one.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SuspectJson {
    /// The first of them was set aside until it is read again.
    pub set_aside: bool,
    /// The readings.
    pub readings: Vec<DoubtedJson>,
}

/// A reading in doubt.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DoubtedJson {
    /// Its name in the document; `null` for an assumption.
    pub name: Option<String>,
    /// What it is, in words.
    pub words: String,
    /// What was read.
    pub read: f64,
    /// What the others allow.
    pub allowed: f64,
    /// The standard uncertainty of the difference.
    pub standard_uncertainty: f64,
    /// The difference in standard uncertainties.
    pub test: f64,
    /// Slips of the hand that explain it, likeliest first.
    pub slips: Vec<String>,
}

/// A number's left side against its right.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SidesJson {
    /// Its id in the registry.
    pub id: &'static str,
    /// Left.
    pub left: f64,
    /// Right.
    pub right: f64,
    /// Standard uncertainty of the difference.
    pub standard_uncertainty: f64,
    /// How far the two may differ.
    pub tolerance: f64,
    /// `the same`, `the same within what was measured`, or `moved`.
    pub stands: &'static str,
}

/// How well the contact points are known, and how well that is checked.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct OutlookJson {
    /// How many of their coordinates are open.
    pub open: usize,
    /// The furthest that a slip in one reading moves one of them unnoticed.
    pub hidden: f64,
    /// The largest standard uncertainty of their coordinates.
    pub worst_standard_uncertainty: Option<f64>,
}

/// A reading worth taking.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NextJson {
    /// The name of a reading of the document that waits, or is to be taken again.
    pub name: Option<String>,
    /// It is to be taken again, by another hand.
    pub again: bool,
    /// The kind of reading.
    pub what: &'static str,
    /// From which point.
    pub from: &'static str,
    /// To which point.
    pub to: &'static str,
    /// The same in words.
    pub words: String,
    /// How things stand with it, judged before it is taken.
    pub then: OutlookJson,
}

/// A survey as plain data.
///
/// ```
/// use witnessmark_core::{Build, survey::survey};
/// let nobody_read = witnessmark_web::api::mirror_survey(&survey(&Build::default()));
/// assert!(nobody_read.points.is_empty() && nobody_read.whole.is_none());
/// ```
pub fn mirror_survey(survey: &Survey) -> SurveyJson {
    SurveyJson {
        form: FORM,
        numbers: survey.numbers.iter().map(number).collect(),
        points: survey.points.iter().map(point).collect(),
        readings: survey.readings.iter().map(reading).collect(),
        assumed: survey.assumed.iter().map(reading).collect(),
        unusable: survey
            .unusable
            .iter()
            .map(|(name, missing)| UnusableJson { name: name.clone(), lacks: missing.to_string() })
            .collect(),
        whole: survey.whole.map(|Whole { chi_square, freedom, above, limit }| WholeJson {
            chi_square,
            freedom,
            above,
            limit,
        }),
        in_doubt: survey.suspects.iter().map(|one| suspect(one, survey)).collect(),
        tape_too_long: survey.worn_end.map(|worn| worn.too_long.size),
        sides: survey.sides.iter().map(sides).collect(),
        outlook: survey.outlook.as_ref().map(outlook),
        next: survey.next.iter().map(next).collect(),
        findings: survey.findings.iter().map(finding_json).collect(),
    }
}

fn number(one: &SurveyedNumber) -> SurveyedNumberJson {
    let value = one.value.as_ref().ok();
    SurveyedNumberJson {
        id: one.number.id,
        side: one.side.word(),
        name: one.number.name,
        unit: one.number.kind.unit(),
        value: value.map(|value| value.value),
        standard_uncertainty: value.map(|value| value.sd),
        plus_minus_95: value.map(SurveyedValue::plus_minus),
        hidden: value.and_then(|value| finite(value.hidden)),
        lacks: one.value.as_ref().err().map(ToString::to_string),
    }
}

fn point(placed: &Placed) -> SurveyedPointJson {
    let known = |of: fn(&Ellipse) -> f64| placed.ellipse.as_ref().map(of);
    SurveyedPointJson {
        point: placed.point.name(),
        x: placed.ellipse.map(|_| placed.at.x_mm),
        y: placed.ellipse.map(|_| placed.at.y_mm),
        standard_uncertainty_x: known(|ellipse| ellipse.sd_x_mm),
        standard_uncertainty_y: known(|ellipse| ellipse.sd_y_mm),
        correlation: known(|ellipse| ellipse.correlation),
        ellipse_95: placed.ellipse.map(|ellipse| EllipseJson {
            long: ellipse.long_mm,
            short: ellipse.short_mm,
            turn: ellipse.turn_deg,
        }),
    }
}

fn reading(fared: &Fared) -> SurveyReadingJson {
    SurveyReadingJson {
        name: fared.item.name.clone(),
        words: fared.item.words.clone(),
        what: fared.item.what.name(),
        from: fared.item.from.name(),
        to: fared.item.to.name(),
        read: fared.item.value,
        standard_uncertainty: fared.item.sd,
        fitted: fared.fitted,
        redundancy: fared.redundancy,
        test: fared.deviate,
        least_noticed: fared.least_noticed,
        set_aside: fared.set_aside,
    }
}

fn suspect(suspect: &Suspect, survey: &Survey) -> SuspectJson {
    let doubted = |one: &Doubted| DoubtedJson {
        name: one.place.map(|place| survey.readings[place].item.name.clone()),
        words: one.words.clone(),
        read: one.value,
        allowed: one.allowed,
        standard_uncertainty: one.sd,
        test: one.deviate,
        slips: one.slips.iter().map(|slip| slip.words.clone()).collect(),
    };
    SuspectJson { set_aside: suspect.set_aside, readings: suspect.readings.iter().map(doubted).collect() }
}

fn sides(one: &LeftRight) -> SidesJson {
    SidesJson {
        id: one.number.id,
        left: one.left,
        right: one.right,
        standard_uncertainty: one.sd,
        tolerance: one.tolerance,
        stands: one.agreement.name(),
    }
}

fn outlook(outlook: &Outlook) -> OutlookJson {
    OutlookJson {
        open: outlook.open,
        hidden: outlook.hidden_mm,
        worst_standard_uncertainty: finite(outlook.worst_sd_mm),
    }
}

fn next(next: &NextReading) -> NextJson {
    NextJson {
        name: next.name.clone(),
        again: next.again,
        what: next.what.name(),
        from: next.from.name(),
        to: next.to.name(),
        words: next.words.clone(),
        then: outlook(&next.then),
    }
}

/// Infinity is no number in JSON: what nothing bounds is `null`.
fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

pub(super) async fn survey_of(State(app): State<App>, Id(id): Id) -> Result<Json<SurveyJson>, Refused> {
    let loaded = super::loaded(&app, &id).await?;
    Ok(app.compute(move || Json(mirror_survey(&survey(&loaded.build)))).await)
}
