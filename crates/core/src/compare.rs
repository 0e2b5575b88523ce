//! Two or more bikes side by side, or one bike at two dates: number by number, part by part, and drawn over each other.
//!
//! A difference is held against the number's tolerance and against what the readings leave open: beyond both it has moved,
//! beyond the tolerance alone it is the same within what was measured.

use crate::build::Build;
use crate::choice;
use crate::draw::{Drawing, Mark, Role, Shape};
use crate::field::{Record, Value};
use crate::finding::figure;
use crate::held::{Bike, Held, Sided, Wanted};
use crate::number::{self, Number, Side};
use crate::part::KINDS;
use crate::plan::plan;
use crate::survey::{Agreement, survey};

/// Bikes side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// What each is called.
    pub names: Vec<String>,
    /// Every number that at least one of them holds, in the order of the walk-round.
    pub rows: Vec<Row>,
    /// Parts that differ, in the order of the walk-round.
    pub parts: Vec<PartRow>,
    /// Left against right, bike by bike.
    pub sides: Vec<Vec<Sided>>,
    /// Each bike to scale with the bottom bracket at the origin: laid over each other, they lie as the rider meets them.
    pub overlay: Vec<Drawing>,
}

/// A number of all bikes.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The number.
    pub number: &'static Number,
    /// On which side.
    pub side: Side,
    /// What each bike holds of it.
    pub held: Vec<Option<Held>>,
    /// Each bike after the first against the first.
    pub against_first: Vec<Against>,
}

/// A value against the first bike's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Against {
    /// Less the first bike's value, with the standard uncertainty of the difference.
    pub difference: Option<(f64, f64)>,
    /// How far off is still the same.
    pub tolerance: f64,
    /// How the two stand to each other.
    pub agreement: Agreement,
}

choice! {
    /// In what a part differs.
    pub enum PartDiffers {
        /// It is not listed on every bike.
        NotOnAll = "not on all",
        /// It is listed on all, and facts differ.
        Facts = "facts",
    }
}

/// A part that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct PartRow {
    /// Its path: `parts.stem`.
    pub path: String,
    /// In what it differs.
    pub differs: PartDiffers,
    /// Its name on each bike, where it is listed.
    pub names: Vec<Option<String>>,
    /// The facts that are known of all and differ: words, and the value on each bike.
    pub facts: Vec<(String, Vec<String>)>,
}

/// Holds bikes side by side.
pub fn compare(bikes: &[(String, &Build)]) -> Comparison {
    let plans: Vec<_> = bikes.iter().map(|(_, build)| (plan(build), survey(build))).collect();
    let held: Vec<Bike<'_>> = bikes
        .iter()
        .zip(&plans)
        .map(|((_, build), (plan, survey))| Bike { build, numbers: &plan.numbers, survey })
        .collect();
    Comparison {
        names: bikes.iter().map(|(name, _)| name.clone()).collect(),
        rows: rows(&held),
        parts: parts(bikes),
        sides: held.iter().map(Bike::sides).collect(),
        overlay: held.iter().zip(&plans).map(|(bike, (plan, _))| overlay(bike, &plan.drawing)).collect(),
    }
}

fn rows(bikes: &[Bike<'_>]) -> Vec<Row> {
    number::all()
        .flat_map(|number| number.sides.each().iter().map(move |side| (number, *side)))
        .map(|(number, side)| {
            let held: Vec<Option<Held>> = bikes.iter().map(|bike| bike.held(number, side, Wanted::AsItIs)).collect();
            let against_first = held.iter().skip(1).map(|other| against(number, held[0], *other)).collect();
            Row { number, side, held, against_first }
        })
        .filter(|row| row.held.iter().any(Option::is_some))
        .collect()
}

fn against(number: &Number, first: Option<Held>, other: Option<Held>) -> Against {
    let tolerance = number.tolerance.value;
    match (first, other) {
        (Some(first), Some(other)) => {
            let (difference, sd) = (other.value - first.value, first.sd.hypot(other.sd));
            Against {
                difference: Some((difference, sd)),
                tolerance,
                agreement: Agreement::of(difference, sd, tolerance),
            }
        }
        _ => Against { difference: None, tolerance, agreement: Agreement::NotKnown },
    }
}

impl Comparison {
    /// How many numbers stand so between the first bike and the one at this place.
    pub fn count(&self, bike: usize, agreement: Agreement) -> usize {
        let stands =
            |row: &&Row| bike > 0 && row.against_first.get(bike - 1).is_some_and(|one| one.agreement == agreement);
        self.rows.iter().filter(stands).count()
    }
}

/// What says nothing about whether two parts are alike.
const BESIDE_THE_POINT: [&str; 8] =
    ["name", "price", "supplied_by", "condition", "wear", "serial", "facts_from", "note"];

fn parts(bikes: &[(String, &Build)]) -> Vec<PartRow> {
    let mut all = Vec::new();
    for kind in KINDS {
        let mut places: Vec<&str> = bikes
            .iter()
            .flat_map(|(_, build)| build.parts.each())
            .filter(|(other, ..)| other.key == kind.key)
            .map(|(_, place, _)| place)
            .collect();
        places.sort_unstable();
        places.dedup();
        for place in places {
            let records: Vec<Option<&dyn Record>> =
                bikes.iter().map(|(_, build)| build.parts.record(kind.key, place)).collect();
            let name = |record: &&dyn Record| value(*record, "name");
            let names: Vec<Option<String>> =
                records.iter().map(|record| record.as_ref().map(|record| name(record).unwrap_or_default())).collect();
            let path = crate::build::part_path("parts", kind.key, place);
            if records.iter().any(Option::is_none) {
                all.push(PartRow { path, differs: PartDiffers::NotOnAll, names, facts: Vec::new() });
                continue;
            }
            let facts: Vec<(String, Vec<String>)> = kind
                .fields
                .iter()
                .filter(|field| !BESIDE_THE_POINT.contains(&field.name))
                .filter_map(|field| {
                    let values: Vec<String> =
                        records.iter().flatten().filter_map(|record| value(*record, field.name)).collect();
                    let differ = values.len() == bikes.len() && values.iter().any(|value| *value != values[0]);
                    differ.then(|| (field.words(), values))
                })
                .collect();
            if !facts.is_empty() {
                all.push(PartRow { path, differs: PartDiffers::Facts, names, facts });
            }
        }
    }
    all
}

/// A fact as a person reads it.
fn value(record: &dyn Record, name: &str) -> Option<String> {
    let index = record.fields().iter().position(|field| field.name == name)?;
    let field = &record.fields()[index];
    let with_unit = |value: f64| match field.kind.unit() {
        "" => figure(value, 2),
        "°" => format!("{}°", figure(value, 2)),
        unit => format!("{} {unit}", figure(value, 2)),
    };
    Some(match record.get(index)?.value {
        Value::Number(number) => with_unit(number),
        Value::Count(count) => count.to_string(),
        Value::Numbers(list) => list.into_iter().map(with_unit).collect::<Vec<_>>().join("; "),
        Value::Counts(list) => list.iter().map(u32::to_string).collect::<Vec<_>>().join("; "),
        Value::Day(day) => day.to_string(),
        Value::YesNo(yes) => if yes { "yes" } else { "no" }.to_owned(),
        Value::Text(text) => text,
    })
}

/// The bike's own drawing, with the points of its survey on top.
fn overlay(bike: &Bike<'_>, drawing: &Drawing) -> Drawing {
    let mut drawing = drawing.clone();
    for placed in bike.survey.points.iter().filter(|placed| placed.ellipse.is_some()) {
        drawing.marks.push(Mark {
            role: Role::Measured,
            shape: Shape::Circle { centre: placed.at, radius_mm: 6.0 },
            thickness_mm: 0.0,
            about: Vec::new(),
        });
    }
    drawing
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::build::sample::sample;
    use crate::build::{Instrument, Reading, ReadingForm, SurveyPoint, SurveyReading, Taken};
    use crate::held::Source;

    fn named<'a>(bikes: &[(&str, &'a Build)]) -> Vec<(String, &'a Build)> {
        bikes.iter().map(|(name, build)| ((*name).to_owned(), *build)).collect()
    }

    fn row<'a>(comparison: &'a Comparison, number: &Number, side: Side) -> &'a Row {
        comparison.rows.iter().find(|row| row.number.id == number.id && row.side == side).unwrap()
    }

    #[test]
    fn a_bike_is_the_same_as_itself_in_every_number_and_part() {
        let build = sample();
        let same = compare(&named(&[("a", &build), ("b", &build)]));
        assert!(same.rows.len() > 30 && same.parts.is_empty());
        assert_eq!(same.count(1, Agreement::Moved), 0);
        assert!(same.rows.iter().all(|row| row.against_first[0].agreement == Agreement::Same));
        assert_eq!(same.overlay[0], same.overlay[1]);
        assert!(!same.overlay[0].marks.is_empty());
    }

    #[test]
    fn a_longer_stem_moves_hoods_and_bar_and_stands_among_the_parts() {
        let (one, mut other) = (sample(), sample());
        other.parts.stem.make("").length_mm = Some(120.0.into());
        let both = compare(&named(&[("a", &one), ("b", &other)]));
        let hood = row(&both, &number::HOOD_X, Side::Left).against_first[0];
        assert_eq!(hood.agreement, Agreement::Moved);
        assert!((hood.difference.unwrap().0 - 10.0).abs() < 0.3);
        assert_eq!(row(&both, &number::SADDLE_HEIGHT, Side::None).against_first[0].agreement, Agreement::Same);
        assert_eq!(both.parts.len(), 1);
        assert_eq!(both.parts[0].facts[0].1, ["110 mm", "120 mm"]);
    }

    #[test]
    fn a_difference_that_the_readings_cannot_tell_is_the_same_within_what_was_measured() {
        let mut bikes = [sample(), sample()];
        for (build, value) in bikes.iter_mut().zip([728.0, 731.0]) {
            let reading = Reading { value: Some(value.into()), plus_minus: Some(2.5.into()), ..Reading::default() };
            build.measured.insert((number::SADDLE_HEIGHT.id, Side::None), reading);
        }
        let agreement = |bikes: &[Build; 2]| {
            let both = compare(&named(&[("before", &bikes[0]), ("after", &bikes[1])]));
            row(&both, &number::SADDLE_HEIGHT, Side::None).against_first[0].agreement
        };
        assert_eq!(agreement(&bikes), Agreement::WithinReading);
        bikes[1].measured.get_mut(&(number::SADDLE_HEIGHT.id, Side::None)).unwrap().value = Some(736.0.into());
        assert_eq!(agreement(&bikes), Agreement::Moved);
        bikes[1].measured.get_mut(&(number::SADDLE_HEIGHT.id, Side::None)).unwrap().value = Some(728.8.into());
        assert_eq!(agreement(&bikes), Agreement::Same);
    }

    #[test]
    fn what_one_bike_does_not_hold_is_not_known_and_a_missing_part_is_told() {
        let (one, mut other) = (sample(), sample());
        other.parts.saddle.0.clear();
        let both = compare(&named(&[("a", &one), ("b", &other)]));
        assert_eq!(row(&both, &number::SADDLE_HEIGHT, Side::None).against_first[0].agreement, Agreement::NotKnown);
        let saddle = both.parts.iter().find(|part| part.path == "parts.saddle").unwrap();
        assert_eq!(saddle.differs, PartDiffers::NotOnAll);
    }

    #[test]
    fn the_two_sides_of_every_sided_number_are_held_against_each_other() {
        let mut build = sample();
        build.settings.toe_in_right_mm = Some(8.0.into());
        let one = compare(&named(&[("a", &build)]));
        let toe = one.sides[0].iter().find(|side| side.number.id == "hood-toe-in").unwrap();
        assert_eq!(toe.agreement, Agreement::Moved);
        let from_end = one.sides[0].iter().find(|side| side.number.id == "lever-from-end").unwrap();
        assert_eq!(from_end.agreement, Agreement::Same);
    }

    fn read(value: f64, with: Instrument) -> Reading {
        let form = ReadingForm { with: Some(with.into()), ..ReadingForm::default() };
        Reading { value: Some(value.into()), plus_minus: Some(1.96.into()), form }
    }

    #[test]
    fn a_reading_of_the_number_itself_goes_before_the_survey_and_the_survey_before_what_was_taken_over_from_it() {
        let mut build = sample();
        let height = SurveyReading {
            what: Some(Taken::Height.into()),
            to: Some(SurveyPoint::BottomBracket.into()),
            value_mm: Some(271.0.into()),
            ..SurveyReading::default()
        };
        build.survey.insert("bb".into(), height);
        let held =
            |build: &Build| row(&compare(&named(&[("a", build)])), &number::BB_HEIGHT, Side::None).held[0].unwrap();
        assert_eq!(held(&build).source, Source::Surveyed);
        assert!((held(&build).value - 271.0).abs() < 1e-6);
        let key = (number::BB_HEIGHT.id, Side::None);
        build.measured.insert(key, read(269.0, Instrument::HeightGauge));
        assert_eq!(held(&build).source, Source::Measured);
        assert!((held(&build).value - 269.0).abs() < 1e-6);
        build.measured.insert(key, read(269.0, Instrument::Survey));
        assert!((held(&build).value - 271.0).abs() < 1e-6);
        // The survey itself is gone, and what was taken over from it stands.
        build.survey.clear();
        let stands = held(&build);
        assert!((stands.value - 269.0).abs() < 1e-6 && stands.source == Source::Surveyed);
        assert!((stands.sd - 1.0).abs() < 1e-4, "{stands:?}");
    }
}
