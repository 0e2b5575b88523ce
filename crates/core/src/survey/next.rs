//! Which one reading more would help most, judged before it is taken.
//!
//! Every reading that could be taken is tried in thought: it changes the covariance and the redundancy of all others, and
//! neither depends on what it will read. First comes what finds a contact point that is still open; then the few readings
//! that say how the bike stands; then what leaves the least room for a mistake that nobody would notice; then what makes
//! the points best known.

use super::net::{Item, Layout, Uses};
use super::solve::Solved;
use crate::build::{SurveyPoint, Taken};
use std::cmp::Ordering;
use std::collections::BTreeSet;
use witnessmark_mechanics::adjustment::{Adjustment, Alarm, Forecast};
use witnessmark_mechanics::network::{Figure, Reading};

/// A reading worth taking.
#[derive(Clone, Debug, PartialEq)]
pub struct NextReading {
    /// The name of a reading of the document that has no value yet, or that is to be taken a second time.
    pub name: Option<String>,
    /// It is a reading of the document, to be taken again by another hand.
    pub again: bool,
    /// What is read.
    pub what: Taken,
    /// From which point.
    pub from: SurveyPoint,
    /// To which point.
    pub to: SurveyPoint,
    /// The same in words.
    pub words: String,
    /// How things stand with it.
    pub then: Outlook,
}

/// How well the contact points are known, and how well that is checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlook {
    /// How many coordinates of contact points are open.
    pub open: usize,
    /// How many of the five readings that say how the bike stands are missing: heights of the bottom bracket and both
    /// axles, tapes from the one to the others.
    pub stand_unread: usize,
    /// The furthest that a mistake in one reading can move a contact point without being noticed, mm; at most
    /// [`SEEN_BY_EYE_MM`].
    pub hidden_mm: f64,
    /// The largest standard uncertainty of a contact point's coordinate, mm.
    pub worst_sd_mm: f64,
    rest: f64,
}

/// A larger slip is seen by eye. Common practice, no source.
pub const SEEN_BY_EYE_MM: f64 = 100.0;

/// The points that make the rider's position.
pub(super) const CONTACT: [SurveyPoint; 5] = [
    SurveyPoint::SaddleNose,
    SurveyPoint::SaddleTop,
    SurveyPoint::BarClamp,
    SurveyPoint::HoodLeft,
    SurveyPoint::HoodRight,
];

/// How the bike stands, and where its wheels are.
const STAND: [(Taken, SurveyPoint, SurveyPoint); 5] = [
    (Taken::Height, SurveyPoint::BottomBracket, SurveyPoint::BottomBracket),
    (Taken::Height, SurveyPoint::RearAxle, SurveyPoint::RearAxle),
    (Taken::Height, SurveyPoint::FrontAxle, SurveyPoint::FrontAxle),
    (Taken::Straight, SurveyPoint::BottomBracket, SurveyPoint::RearAxle),
    (Taken::Straight, SurveyPoint::BottomBracket, SurveyPoint::FrontAxle),
];

/// An assumption is no slip of the hand: it is further off than so many of its standard uncertainties only where the eye
/// sees it.
const ASSUMED_WITHIN: f64 = 5.0;

/// The same reading, whichever way round the tape was held.
fn is_same(item: &Item, (what, from, to): (Taken, SurveyPoint, SurveyPoint)) -> bool {
    item.what == what
        && ((item.from, item.to) == (from, to) || what == Taken::Straight && (item.to, item.from) == (from, to))
}

/// At most so many are told.
const MOST_TOLD: usize = 5;

impl Outlook {
    fn order(&self, other: &Self) -> Ordering {
        // A tenth of a millimetre is no reason to prefer one reading to another.
        #[allow(clippy::cast_possible_truncation, reason = "at most a thousand tenths")]
        let tenths = |mm: f64| (mm * 10.0).round() as i64;
        self.open
            .cmp(&other.open)
            .then(self.stand_unread.cmp(&other.stand_unread))
            .then(tenths(self.hidden_mm).cmp(&tenths(other.hidden_mm)))
            .then(self.rest.total_cmp(&other.rest))
    }
}

/// How things stand, and the readings that would help most, the best first.
pub(super) fn next(
    all: &[Item],
    solved: &Solved,
    layout: &Layout,
    aside: &BTreeSet<usize>,
) -> (Outlook, Vec<NextReading>) {
    let wider = Wider::of(all, solved, layout);
    let Ok(planned) = wider.layout.network(&wider.readings).plan(&wider.values) else {
        let nothing = Outlook {
            open: CONTACT.len() * 2,
            stand_unread: STAND.len(),
            hidden_mm: SEEN_BY_EYE_MM,
            worst_sd_mm: f64::INFINITY,
            rest: 0.0,
        };
        return (nothing, Vec::new());
    };
    let now = wider.outlook(&planned);
    let mut ranked: Vec<NextReading> = candidates(all, aside)
        .into_iter()
        .filter_map(|candidate| {
            let reading = wider.layout.reading(&candidate.item)?;
            let row = wider.layout.network(&wider.readings).row(&Reading { value: 0.0, ..reading }, &wider.values);
            let mut then = if let Some(forecast) = planned.with(row) {
                wider.forecast(&planned, &forecast)
            } else {
                let mut readings = wider.readings.clone();
                readings.push(reading);
                let then = wider.layout.network(&readings).plan(&wider.values).ok()?;
                wider.outlook(&then)
            };
            let stands = STAND.iter().any(|one| is_same(&candidate.item, *one));
            then.stand_unread = now.stand_unread - usize::from(stands && !candidate.again);
            (then.order(&now) == Ordering::Less).then(|| NextReading {
                name: candidate.name,
                again: candidate.again,
                what: candidate.item.what,
                from: candidate.item.from,
                to: candidate.item.to,
                words: candidate.item.words.clone(),
                then,
            })
        })
        .collect();
    ranked.sort_by(|a, b| a.then.order(&b.then));
    ranked.truncate(MOST_TOLD);
    (now, ranked)
}

/// The same network with room for every contact point, also those nobody read to.
struct Wider {
    layout: Layout,
    readings: Vec<Reading>,
    /// The first readings were taken; the others are assumptions.
    taken: usize,
    stand_unread: usize,
    values: Vec<f64>,
    wanted: Vec<Vec<(usize, f64)>>,
}

impl Wider {
    fn of(all: &[Item], solved: &Solved, layout: &Layout) -> Self {
        let mut points: BTreeSet<SurveyPoint> = layout.points().collect();
        points.extend(CONTACT);
        points.extend([SurveyPoint::RearAxle, SurveyPoint::FrontAxle]);
        let uses = Uses { level: true, floor: true, saddle: true };
        let wide = Layout::of(&points, uses);
        // The readings that count, and the assumptions again: a wider network may need more of them.
        let mut readings: Vec<Reading> =
            solved.items.iter().filter(|item| !item.assumed).filter_map(|item| wide.reading(item)).collect();
        let taken = readings.len();
        let unread = |one: &&(Taken, SurveyPoint, SurveyPoint)| {
            !all.iter().any(|item| item.value.is_some() && is_same(item, **one))
        };
        let stand_unread = STAND.iter().filter(unread).count();
        let mut values = wide.start.clone();
        for point in layout.points() {
            if let (Some(from), Some(to)) = (layout.spot(point), wide.spot(point)) {
                let place = from.place(solved.adjusted.values());
                for (figure, value) in [(to.x_mm, place.x_mm), (to.y_mm, place.y_mm), (to.z_mm, place.z_mm)] {
                    if let Figure::Unknown { at, factor } = figure {
                        values[at] = value / factor;
                    }
                }
            }
        }
        for (from, to) in [
            (layout.stand.level_deg, wide.stand.level_deg),
            (layout.stand.floor_deg, wide.stand.floor_deg),
            (layout.stand.height_mm, wide.stand.height_mm),
        ] {
            if let (Figure::Unknown { .. }, Figure::Unknown { at, .. }) = (from, to) {
                values[at] = from.value(solved.adjusted.values());
            }
        }
        for assumption in super::net::assumptions(&wide, all) {
            let open = |readings: &[Reading]| {
                wide.network(readings).plan(&values).map_or(usize::MAX, |planned| planned.open_count())
            };
            let before = open(&readings);
            readings.push(assumption.reading);
            if assumption.only_where_open && open(&readings) >= before {
                readings.pop();
            }
        }
        let wanted = CONTACT
            .iter()
            .filter_map(|point| wide.spot(*point))
            .flat_map(|spot| [spot.x_mm, spot.y_mm])
            .filter_map(|figure| match figure {
                Figure::Unknown { at, factor } => Some(vec![(at, factor)]),
                Figure::Known(_) => None,
            })
            .collect();
        Wider { layout: wide, readings, taken, stand_unread, values, wanted }
    }

    /// How things stand with a plan.
    fn outlook(&self, planned: &Adjustment) -> Outlook {
        let alarm = Alarm::customary();
        let variances: Vec<Option<f64>> = self.wanted.iter().map(|slopes| planned.variance_of(slopes)).collect();
        let harm = |reading: usize, at: usize| {
            let hidden = planned.harm(reading, &self.wanted[at], alarm);
            hidden.min(self.most_mm(planned.pull(reading, &self.wanted[at]), reading))
        };
        self.summed(&variances, planned.readings(), planned.open_count(), harm)
    }

    /// How things would stand with one reading more.
    fn forecast(&self, planned: &Adjustment, forecast: &Forecast<'_>) -> Outlook {
        let alarm = Alarm::customary();
        let variances: Vec<Option<f64>> = self.wanted.iter().map(|slopes| forecast.variance_of(slopes)).collect();
        let count = planned.readings();
        let harm = |reading: usize, at: usize| {
            if reading < count {
                let hidden = forecast.harm(reading, &self.wanted[at], alarm);
                hidden.min(self.most_mm(forecast.pull(reading, &self.wanted[at]), reading))
            } else {
                forecast.own_harm(&self.wanted[at], alarm)
            }
        };
        self.summed(&variances, count + 1, planned.open_count(), harm)
    }

    /// The furthest that a wrong assumption moves a point which it pulls so.
    fn most_mm(&self, pull: f64, reading: usize) -> f64 {
        let is_assumed = reading >= self.taken && reading < self.readings.len();
        if is_assumed { pull.abs() * ASSUMED_WITHIN * self.readings[reading].sd } else { f64::INFINITY }
    }

    fn summed(
        &self,
        variances: &[Option<f64>],
        readings: usize,
        open_directions: usize,
        harm: impl Fn(usize, usize) -> f64,
    ) -> Outlook {
        let open = variances.iter().filter(|variance| variance.is_none()).count();
        let known = variances.iter().flatten();
        let worst_sd_mm = known.clone().copied().fold(0.0, f64::max).sqrt();
        let mut hidden_mm: f64 = 0.0;
        let mut squares = 0.0;
        for reading in 0..readings {
            // Forward and up of one point stand side by side.
            for point in 0..self.wanted.len() / 2 {
                let (x, y) = (2 * point, 2 * point + 1);
                if variances[x].is_none() || variances[y].is_none() {
                    continue;
                }
                let move_mm = harm(reading, x).hypot(harm(reading, y)).min(SEEN_BY_EYE_MM);
                hidden_mm = hidden_mm.max(move_mm);
                squares += move_mm * move_mm;
            }
        }
        #[allow(clippy::cast_precision_loss, reason = "some forty directions")]
        let rest = if open > 0 {
            // While something is open: what leaves the fewest directions open, then what is known best.
            open_directions as f64 * 1e9 + known.sum::<f64>()
        } else {
            squares + known.sum::<f64>()
        };
        Outlook {
            open,
            stand_unread: self.stand_unread,
            hidden_mm: if open > 0 { SEEN_BY_EYE_MM } else { hidden_mm },
            worst_sd_mm,
            rest,
        }
    }
}

struct Candidate {
    item: Item,
    name: Option<String>,
    again: bool,
}

/// Every reading that could be taken: the document's own that wait for a value, the usual ones to each contact point, and
/// each one again.
fn candidates(all: &[Item], aside: &BTreeSet<usize>) -> Vec<Candidate> {
    use SurveyPoint::{BarClamp, BottomBracket, FrontAxle, RearAxle, SaddleNose, SaddleTop};
    let mut found: Vec<Candidate> = all
        .iter()
        .filter(|item| item.value.is_none())
        .map(|item| Candidate { item: item.clone(), name: Some(item.name.clone()), again: false })
        .collect();
    let mut propose = |what: Taken, from: SurveyPoint, to: SurveyPoint| {
        let same = |item: &Item| is_same(item, (what, from, to));
        if from != to || !matches!(what, Taken::Straight | Taken::Ahead) {
            let taken = all.iter().any(same) || found.iter().any(|one| same(&one.item));
            if !taken {
                found.push(Candidate { item: Item::proposed(what, from, to), name: None, again: false });
            }
        }
    };
    for point in [BottomBracket, RearAxle, FrontAxle].into_iter().chain(CONTACT) {
        propose(Taken::Height, point, point);
    }
    for to in CONTACT.into_iter().chain([RearAxle, FrontAxle]) {
        propose(Taken::Ahead, BottomBracket, to);
    }
    for to in CONTACT {
        for from in [BottomBracket, RearAxle, FrontAxle, SaddleNose, SaddleTop, BarClamp] {
            propose(Taken::Straight, from, to);
        }
    }
    propose(Taken::Straight, BottomBracket, RearAxle);
    propose(Taken::Straight, BottomBracket, FrontAxle);
    propose(Taken::Straight, RearAxle, FrontAxle);
    propose(Taken::Across, SurveyPoint::HoodLeft, SurveyPoint::HoodRight);
    propose(Taken::FloorSlope, BottomBracket, BottomBracket);
    let again = all.iter().enumerate().filter(|(place, item)| item.value.is_some() && !aside.contains(place));
    found.extend(again.map(|(_, item)| Candidate { item: item.clone(), name: Some(item.name.clone()), again: true }));
    found
}
