//! The position taken from a real bike: readings that do not quite agree → points, numbers with an honest plus-minus, the
//! reading to doubt, and the one reading more that would help most.
//!
//! The document's readings become a network of spots and unknowns (`net`), which is solved by weighted least squares with
//! its full covariance (`solve`, and `mechanics::adjustment` below it); the registry's numbers follow from the points
//! (`position`); tests and slips say which reading to doubt (`doubt`); every reading that could be taken is judged before
//! it is (`next`); and what a mechanic should hear is put into sentences (`findings`).

mod doubt;
mod findings;
mod instrument;
mod net;
mod next;
mod points;
mod position;
mod solve;
mod words;

pub use doubt::{Doubted, Slip, Suspect, WornEnd};
pub use net::Item;
pub use next::{NextReading, Outlook, SEEN_BY_EYE_MM};
pub use position::{NINETY_FIVE, SurveyedNumber, SurveyedValue};
pub(crate) use words::spoken;

use crate::build::{Build, SurveyPoint};
use crate::choice;
use crate::finding::Finding;
use crate::model::{Known, Missing, Model};
use crate::number::{Number, Side, Sides};
use crate::{fact, field::Kind};
use std::collections::BTreeSet;
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::adjustment::{Adjustment, Alarm};
use witnessmark_mechanics::chance::{chi_square_above, chi_square_exceeded_by};
use witnessmark_mechanics::network::Figure;

/// What a survey gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Survey {
    /// The readings of the document that can be used, in the order of their names, each with how it fared.
    pub readings: Vec<Fared>,
    /// Readings that cannot be used, and what is missing for them.
    pub unusable: Vec<(String, Missing)>,
    /// What was assumed because nobody read it, with how it fared.
    pub assumed: Vec<Fared>,
    /// The points that were read to.
    pub points: Vec<Placed>,
    /// How the bike stood.
    pub stand: Stood,
    /// The numbers of the registry that a survey can give, in the order of the walk-round.
    pub numbers: Vec<SurveyedNumber>,
    /// Left against right.
    pub sides: Vec<LeftRight>,
    /// The survey as a whole; `None` where no reading is more than enough.
    pub whole: Option<Whole>,
    /// Readings in doubt.
    pub suspects: Vec<Suspect>,
    /// All tapes are too long or too short.
    pub worn_end: Option<WornEnd>,
    /// Readings that look so alike to all others that a mistake in one cannot be told from one in the other, by their
    /// places in [`Survey::readings`].
    pub look_alike: Vec<(usize, usize)>,
    /// How things stand with the contact points.
    pub outlook: Option<Outlook>,
    /// The readings that would help most, the best first.
    pub next: Vec<NextReading>,
    /// What a mechanic should hear, worst first.
    pub findings: Vec<Finding>,
    /// Why there is no position at all.
    pub missing: Option<Missing>,
}

/// How a reading fared.
#[derive(Clone, Debug, PartialEq)]
pub struct Fared {
    /// The reading.
    pub item: Item,
    /// It was set aside until it is read again.
    pub set_aside: bool,
    /// What the fitted bike makes of it; `None` for one that is yet to be taken.
    pub fitted: Option<f64>,
    /// The share of a mistake in it that shows in its own misfit, 0 to 1.
    pub redundancy: Option<f64>,
    /// Its misfit in standard uncertainties; `None` where nothing checks it.
    pub deviate: Option<f64>,
    /// The smallest mistake in it that would be noticed four times in five; `None` where none would.
    pub least_noticed: Option<f64>,
}

impl Fared {
    /// Next to nothing checks it.
    pub fn is_unchecked(&self) -> bool {
        self.redundancy.is_some_and(|redundancy| redundancy < doubt::UNCHECKED_BELOW)
    }
}

/// A point of the bike in its own frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Which point.
    pub point: SurveyPoint,
    /// Where it is; where it is open, only a guess.
    pub at: Point2,
    /// How well it is known; `None` where the readings leave it open.
    pub ellipse: Option<Ellipse>,
}

/// The ellipse that holds a point 95 times in 100.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ellipse {
    /// Standard uncertainty forward, mm.
    pub sd_x_mm: f64,
    /// Standard uncertainty upward, mm.
    pub sd_y_mm: f64,
    /// Their correlation, −1 to 1.
    pub correlation: f64,
    /// The long half axis, mm.
    pub long_mm: f64,
    /// The short half axis, mm.
    pub short_mm: f64,
    /// The long axis above forward, degrees, −90 to 90.
    pub turn_deg: f64,
}

/// How the bike stood when it was read.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stood {
    /// The line of its axles fell to the front by so much to the level, degrees, with its standard uncertainty.
    pub nose_down_deg: Option<(f64, f64)>,
    /// The floor rose to the front by so much to the line of the axles.
    pub floor_deg: Option<(f64, f64)>,
}

choice! {
    /// How two values of one number stand to each other.
    pub enum Agreement {
        /// Their difference is within the tolerance.
        Same = "the same",
        /// Their difference is beyond the tolerance, and no more than what was measured can tell.
        WithinReading = "the same within what was measured",
        /// Beyond the tolerance, and beyond what the readings could feign.
        Moved = "moved",
        /// One of them is not known.
        NotKnown = "not known",
    }
}

impl Agreement {
    /// Judges a difference with its standard uncertainty against a tolerance.
    pub fn of(difference: f64, sd: f64, tolerance: f64) -> Self {
        let beyond = |limit: f64| difference.abs() > limit + limit.abs() * 1e-9 + 1e-9;
        match (beyond(tolerance), beyond(position::NINETY_FIVE * sd)) {
            (false, _) => Agreement::Same,
            (true, false) => Agreement::WithinReading,
            (true, true) => Agreement::Moved,
        }
    }
}

/// A number's left side against its right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeftRight {
    /// The number.
    pub number: &'static Number,
    /// Left.
    pub left: f64,
    /// Right.
    pub right: f64,
    /// Standard uncertainty of the difference, correlations taken along.
    pub sd: f64,
    /// How far the two sides may differ.
    pub tolerance: f64,
    /// How they stand to each other.
    pub agreement: Agreement,
}

/// How far the sides of a number may differ: a millimetre, half a degree, or the number's own tolerance where that is
/// closer. Common practice, no source.
pub fn side_tolerance(number: &Number) -> f64 {
    match number.kind {
        Kind::Length => number.tolerance.value.min(1.0),
        Kind::Angle => number.tolerance.value.min(0.5),
        _ => number.tolerance.value,
    }
}

/// The survey as a whole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Whole {
    /// The sum of the squared weighted misfits.
    pub chi_square: f64,
    /// Readings more than were needed.
    pub freedom: usize,
    /// The share of sound surveys in which that sum is larger.
    pub above: f64,
    /// The sum that 5 of 100 sound surveys exceed.
    pub limit: f64,
}

impl Whole {
    /// The readings agree as well as their uncertainties promise.
    pub fn agrees(&self) -> bool {
        self.chi_square <= self.limit
    }
}

impl Survey {
    /// A number on a side.
    pub fn of(&self, number: &Number, side: Side) -> Option<&SurveyedValue> {
        self.numbers.iter().find(|one| one.number.id == number.id && one.side == side)?.value.as_ref().ok()
    }

    /// A point that is known.
    pub fn point(&self, point: SurveyPoint) -> Option<&Placed> {
        self.points.iter().find(|placed| placed.point == point && placed.ellipse.is_some())
    }

    fn without(unusable: Vec<(String, Missing)>, readings: Vec<Fared>, missing: Missing) -> Self {
        let mut survey = Survey {
            readings,
            unusable,
            assumed: Vec::new(),
            points: Vec::new(),
            stand: Stood::default(),
            numbers: Vec::new(),
            sides: Vec::new(),
            whole: None,
            suspects: Vec::new(),
            worn_end: None,
            look_alike: Vec::new(),
            outlook: None,
            next: Vec::new(),
            findings: Vec::new(),
            missing: Some(missing),
        };
        survey.findings = findings::findings(&survey);
        survey
    }
}

/// Works a document's survey out: pure, without clock, disk or network.
pub fn survey(build: &Build) -> Survey {
    let (items, unusable) = net::items(build);
    let unread = |item: &Item| Fared {
        item: item.clone(),
        set_aside: false,
        fitted: None,
        redundancy: None,
        deviate: None,
        least_noticed: None,
    };
    if items.iter().all(|item| item.value.is_none()) {
        let readings = items.iter().map(unread).collect();
        return Survey::without(
            unusable,
            readings,
            Missing::refused("nothing was read between the points of this bike"),
        );
    }
    let points: BTreeSet<SurveyPoint> = items.iter().flat_map(Item::points).collect();
    let layout = net::Layout::of(&points, net::Uses::of(&items));
    let model = Model::new(build);
    let alarm = Alarm::customary();
    let solved = solve::solve(&layout, &items, &BTreeSet::new())
        .and_then(|solved| doubt::examine(&layout, &items, solved, alarm, bar_radius_mm(&model)));
    let (solved, doubts) = match solved {
        Ok(solved) => solved,
        Err(missing) => return Survey::without(unusable, items.iter().map(unread).collect(), missing),
    };
    let adjusted = &*solved.adjusted;
    let fared = |at: usize| how_it_fared(adjusted, at, &solved.items[at], alarm);
    let readings = items
        .iter()
        .enumerate()
        .map(|(place, item)| {
            if let Some(at) = solved.places.iter().position(|at| *at == Some(place)) {
                return fared(at);
            }
            let network = layout.network(&solved.readings);
            let fitted = item.value.and(layout.taken(item)).map(|taken| network.would_read(taken, adjusted.values()));
            Fared { set_aside: item.value.is_some(), fitted, ..unread(item) }
        })
        .collect();
    let assumed = (0..solved.items.len()).filter(|at| solved.items[*at].assumed).map(fared).collect();
    let (outlook, next) = next::next(&items, &solved, &layout, &doubts.aside, alarm);
    let mut survey = Survey {
        readings,
        unusable,
        assumed,
        points: layout.points().map(|point| placed(&layout, adjusted, point)).collect(),
        stand: stood(&layout, adjusted),
        numbers: position::SPECS.iter().map(|spec| spec.surveyed(&layout, &solved, alarm)).collect(),
        sides: sides(&layout, adjusted),
        whole: whole(adjusted),
        suspects: doubts.suspects,
        worn_end: doubts.worn_end,
        look_alike: look_alike(&solved),
        outlook: Some(outlook),
        next,
        findings: Vec::new(),
        missing: None,
    };
    survey.findings = findings::findings(&survey);
    survey
}

/// Half the diameter of the bar where it is clamped.
fn bar_radius_mm(model: &Model<'_>) -> Option<f64> {
    fact!(model.bar, clamp_diameter_mm).ok().map(|diameter| diameter / 2.0)
}

fn how_it_fared(adjusted: &Adjustment, at: usize, item: &Item, alarm: Alarm) -> Fared {
    Fared {
        item: item.clone(),
        set_aside: false,
        fitted: item.value.map(|value| value + adjusted.misfit(at)),
        redundancy: Some(adjusted.redundancy(at)),
        deviate: adjusted.deviate(at),
        least_noticed: adjusted.least_noticed(at, alarm),
    }
}

fn slope(figure: Figure) -> Vec<(usize, f64)> {
    match figure {
        Figure::Known(_) => Vec::new(),
        Figure::Unknown { at, factor } => vec![(at, factor)],
    }
}

fn placed(layout: &net::Layout, adjusted: &Adjustment, point: SurveyPoint) -> Placed {
    let Some(spot) = layout.spot(point) else { return Placed { point, at: Point2::ORIGIN, ellipse: None } };
    let (x, y) = (slope(spot.x_mm), slope(spot.y_mm));
    let ellipse = (|| {
        let (xx, yy) = (adjusted.variance_of(&x)?, adjusted.variance_of(&y)?);
        Some(ellipse(xx, yy, adjusted.covariance_of(&x, &y)?))
    })();
    Placed { point, at: spot.place(adjusted.values()).side_view(), ellipse }
}

/// The ellipse of a covariance: its half axes are the roots of the eigenvalues, times what 95 of 100 points in the plane
/// lie within.
fn ellipse(xx: f64, yy: f64, xy: f64) -> Ellipse {
    let within = chi_square_exceeded_by(0.05, 2.0).unwrap_or(0.0);
    let (middle, half) = (f64::midpoint(xx, yy), (0.5 * (xx - yy)).hypot(xy));
    let product = (xx * yy).sqrt();
    Ellipse {
        sd_x_mm: xx.sqrt(),
        sd_y_mm: yy.sqrt(),
        correlation: if product > 0.0 { xy / product } else { 0.0 },
        long_mm: (within * (middle + half)).sqrt(),
        short_mm: (within * (middle - half).max(0.0)).sqrt(),
        turn_deg: 0.5 * (2.0 * xy).atan2(xx - yy).to_degrees(),
    }
}

fn stood(layout: &net::Layout, adjusted: &Adjustment) -> Stood {
    let known = |figure: Figure| match figure {
        Figure::Known(_) => None,
        Figure::Unknown { .. } => {
            adjusted.variance_of(&slope(figure)).map(|variance| (figure.value(adjusted.values()), variance.sqrt()))
        }
    };
    Stood { nose_down_deg: known(layout.stand.level_deg), floor_deg: known(layout.stand.floor_deg) }
}

fn sides(layout: &net::Layout, adjusted: &Adjustment) -> Vec<LeftRight> {
    let side = |number: &Number, side: Side| {
        let spec = position::SPECS.iter().find(|spec| spec.number.id == number.id && spec.side == side)?;
        let value = spec.value(layout, adjusted.values())?;
        Some((value, spec.slopes(layout, adjusted.values())?))
    };
    crate::number::all()
        .filter(|number| number.sides == Sides::LeftRight)
        .filter_map(|number| {
            let ((left, left_slopes), (right, right_slopes)) = (side(number, Side::Left)?, side(number, Side::Right)?);
            // What both share (the saddle, the floor) drops out of the difference.
            let mut slopes = left_slopes;
            for (at, slope) in right_slopes {
                match slopes.iter_mut().find(|(other, _)| *other == at) {
                    Some(both) => both.1 -= slope,
                    None => slopes.push((at, -slope)),
                }
            }
            let sd = adjusted.variance_of(&slopes)?.sqrt();
            let tolerance = side_tolerance(number);
            Some(LeftRight {
                number,
                left,
                right,
                sd,
                tolerance,
                agreement: Agreement::of(left - right, sd, tolerance),
            })
        })
        .collect()
}

fn whole(adjusted: &Adjustment) -> Option<Whole> {
    let freedom = adjusted.freedom();
    #[allow(clippy::cast_precision_loss, reason = "at most some eighty readings")]
    let degrees = freedom as f64;
    let chi_square = adjusted.chi_square();
    let limit = (freedom > 0).then(|| chi_square_exceeded_by(0.05, degrees))??;
    Some(Whole { chi_square, freedom, above: chi_square_above(chi_square, degrees), limit })
}

fn look_alike(solved: &solve::Solved) -> Vec<(usize, usize)> {
    let checked = |at: usize| solved.adjusted.redundancy(at) >= doubt::UNCHECKED_BELOW;
    let mut pairs = Vec::new();
    for (at, place) in solved.places.iter().enumerate() {
        for (other, other_place) in solved.places.iter().enumerate().skip(at + 1) {
            let (Some(place), Some(other_place)) = (place, other_place) else { continue };
            let alike = solved.adjusted.likeness(at, other).is_some_and(|alike| alike.abs() > doubt::LOOK_ALIKE);
            // A reading taken twice is no news: everyone sees that the two stand for each other.
            let (one, two) = (&solved.items[at], &solved.items[other]);
            let taken_twice = (one.what, one.from, one.to) == (two.what, two.from, two.to);
            if alike && !taken_twice && checked(at) && checked(other) {
                pairs.push((*place, *other_place));
            }
        }
    }
    pairs
}

/// The value of a number, or why there is none.
pub fn known(survey: &Survey, number: &Number, side: Side) -> Known<SurveyedValue> {
    match (&survey.missing, survey.numbers.iter().find(|one| one.number.id == number.id && one.side == side)) {
        (Some(missing), _) => Err(missing.clone()),
        (None, Some(one)) => one.value.clone(),
        (None, None) => Err(Missing::refused("a survey does not give this number")),
    }
}
