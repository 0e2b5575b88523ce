//! A number as a bike holds it: read, taken by a survey, asked or planned, with how well it is known.
//!
//! A reading of the number itself goes before the survey: somebody measured just that. What was taken over from the survey
//! into the readings is no reading of its own, and the survey as it stands now goes before it.
//!
//! Whoever holds two bikes against each other, or puts the position of one onto another, asks here, so that both take the
//! same value for the same number.

use crate::build::{Build, Instrument, SurveyPoint};
use crate::choice;
use crate::compute::{Numbers, PlannedNumber};
use crate::number::{self, Number, Side, Sides};
use crate::survey::{Agreement, NINETY_FIVE, Survey, side_tolerance};
use witnessmark_mechanics::Point2;

choice! {
    /// Where a value comes from; the order here is from best to worst.
    pub enum Source {
        /// Read off the bike by itself.
        Measured = "measured",
        /// Adjusted from readings between points.
        Surveyed = "surveyed",
        /// Asked for.
        Asked = "asked",
        /// Worked out from parts and settings.
        Planned = "planned",
    }
}

/// A value with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty; 0 for what was asked or worked out.
    pub sd: f64,
    /// Where it comes from.
    pub source: Source,
}

/// A bike's numbers with its survey.
#[derive(Clone, Copy, Debug)]
pub struct Bike<'a> {
    /// The document.
    pub build: &'a Build,
    /// Its numbers.
    pub numbers: &'a Numbers,
    /// Its survey.
    pub survey: &'a Survey,
}

/// Which values are asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// How the bike is: surveyed, measured or planned.
    AsItIs,
    /// How the rider is to sit: the same, and what was asked before what was only planned.
    AsRidden,
}

impl Bike<'_> {
    /// The best value that the bike holds of a number.
    pub fn held(&self, number: &Number, side: Side, wanted: Wanted) -> Option<Held> {
        let line = self.numbers.of(number, side);
        let read = line.and_then(|line| measured(line, self.build));
        if let Some(read) = read.filter(|read| read.source == Source::Measured) {
            return Some(read);
        }
        if let Some(surveyed) = self.survey.of(number, side) {
            return Some(Held { value: surveyed.value, sd: surveyed.sd, source: Source::Surveyed });
        }
        let asked = line?.asked.filter(|_| wanted == Wanted::AsRidden);
        read.or_else(|| asked.map(|asked| Held { value: asked.value, sd: 0.0, source: Source::Asked })).or_else(|| {
            let planned = line?.planned.as_ref().ok()?;
            Some(Held { value: *planned, sd: 0.0, source: Source::Planned })
        })
    }

    /// A point that the survey knows.
    pub fn surveyed(&self, point: SurveyPoint) -> Option<Point2> {
        self.survey.point(point).map(|placed| placed.at)
    }

    /// Left against right of every number that has both, for what is not in the survey from independent values.
    pub fn sides(&self) -> Vec<Sided> {
        number::all()
            .filter(|number| number.sides == Sides::LeftRight)
            .filter_map(|number| {
                let left = self.held(number, Side::Left, Wanted::AsItIs)?;
                let right = self.held(number, Side::Right, Wanted::AsItIs)?;
                // What both sides share in the survey (the saddle, the floor) drops out of their difference there.
                let surveyed = left.source == Source::Surveyed && right.source == Source::Surveyed;
                let together = self.survey.sides.iter().find(|one| surveyed && one.number.id == number.id);
                let sd = together.map_or(left.sd.hypot(right.sd), |one| one.sd);
                let tolerance = side_tolerance(number);
                let agreement = Agreement::of(left.value - right.value, sd, tolerance);
                Some(Sided { number, left, right, sd, tolerance, agreement })
            })
            .collect()
    }
}

/// A number's left side against its right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sided {
    /// The number.
    pub number: &'static Number,
    /// Left.
    pub left: Held,
    /// Right.
    pub right: Held,
    /// Standard uncertainty of the difference.
    pub sd: f64,
    /// How far the two sides may differ.
    pub tolerance: f64,
    /// How they stand to each other.
    pub agreement: Agreement,
}

/// A reading; one that does not say how well it was taken is taken to be as good as the number's tolerance. A half width
/// in which the truth surely lies has a rectangle's standard uncertainty (JCGM 100, 4.3.7); what a survey gave states the
/// half width that holds the truth 95 times in 100.
fn measured(line: &PlannedNumber, build: &Build) -> Option<Held> {
    let read = line.measured.as_ref()?;
    let half_width = read.plus_minus.unwrap_or(line.number.tolerance.value);
    Some(if is_from_survey(build, line.number, line.side) {
        Held { value: read.value, sd: half_width / NINETY_FIVE, source: Source::Surveyed }
    } else {
        Held { value: read.value, sd: half_width / 3.0_f64.sqrt(), source: Source::Measured }
    })
}

/// The number's reading was taken over from a survey.
pub fn is_from_survey(build: &Build, number: &Number, side: Side) -> bool {
    let with = build.reading_of(number, side).and_then(|reading| reading.form.with.as_ref());
    with.is_some_and(|with| with.value == Instrument::Survey)
}
