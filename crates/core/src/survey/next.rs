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
    alarm: Alarm,
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
    let watched = wider.watch(&planned, alarm);
    let now = wider.outlook(&watched);
    let mut ranked: Vec<NextReading> = candidates(all, aside)
        .into_iter()
        .filter_map(|candidate| {
            let reading = wider.layout.reading(&candidate.item)?;
            let row = wider.layout.network(&wider.readings).row(&Reading { value: 0.0, ..reading }, &wider.values);
            let mut then = if let Some(forecast) = planned.with(row) {
                wider.summed(&watched, &wider.change(&planned, &forecast))
            } else {
                let mut readings = wider.readings.clone();
                readings.push(reading);
                let then = wider.layout.network(&readings).plan(&wider.values).ok()?;
                wider.outlook(&wider.watch(&then, alarm))
            };
            // A reading that is planned and stands there taken under another name is nothing new of how the bike stands.
            let taken = |one| all.iter().any(|item| item.value.is_some() && is_same(item, one));
            let stands = STAND.iter().any(|one| is_same(&candidate.item, *one) && !taken(*one));
            then.stand_unread = now.stand_unread - usize::from(stands);
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
        let plan = |readings: &[Reading]| wide.network(readings).plan(&values);
        super::solve::assume(&super::net::assumptions(&wide, all), &mut readings, plan);
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
    fn outlook(&self, watched: &Watched) -> Outlook {
        self.summed(watched, &Change::none(watched))
    }

    fn summed(&self, watched: &Watched, change: &Change) -> Outlook {
        let count = self.wanted.len();
        let variance = |at: usize| {
            watched.variances[at].map(|now| (now - change.of_wanted[at] * change.of_wanted[at] * change.gain).max(0.0))
        };
        let variances: Vec<Option<f64>> = (0..count).map(variance).collect();
        let open = variances.iter().filter(|variance| variance.is_none()).count();
        let known = variances.iter().flatten();
        let worst_sd_mm = known.clone().copied().fold(0.0, f64::max).sqrt();
        let mut hidden_mm: f64 = 0.0;
        let mut squares = 0.0;
        let mut count_in = |move_mm: f64| {
            let move_mm = move_mm.min(SEEN_BY_EYE_MM);
            hidden_mm = hidden_mm.max(move_mm);
            squares += move_mm * move_mm;
        };
        // Forward and up of one point stand side by side.
        let closed: Vec<usize> =
            (0..count).step_by(2).filter(|x| variances[*x].is_some() && variances[x + 1].is_some()).collect();
        for (reading, redundancy) in watched.redundancies.iter().enumerate() {
            let along = change.of_readings[reading];
            let redundancy = redundancy + along * along * change.gain;
            // What a mistake that just escapes notice is of the reading's standard uncertainty.
            let mut least = if redundancy > 1e-9 { watched.noticed / redundancy.sqrt() } else { f64::INFINITY };
            if reading >= self.taken {
                least = least.min(ASSUMED_WITHIN);
            }
            for x in &closed {
                let pull = |at: usize| {
                    let now = watched.pulls[reading * count + at];
                    (now - change.of_wanted[at] * along * change.gain).abs()
                };
                let pulled = pull(*x).hypot(pull(x + 1));
                // Rounding leaves a billionth of a pull where there is none.
                count_in(if pulled > 1e-9 { pulled * least } else { 0.0 });
            }
        }
        if change.gain > 0.0 {
            // The new reading's own mistake.
            for x in &closed {
                let pulled = change.of_wanted[*x].hypot(change.of_wanted[x + 1]) * change.gain;
                count_in(pulled * watched.noticed / change.gain.sqrt());
            }
        }
        #[allow(clippy::cast_precision_loss, reason = "some forty directions")]
        let rest = if open > 0 {
            // While something is open: what leaves the fewest directions open, then what is known best.
            watched.open_directions as f64 * 1e9 + known.sum::<f64>()
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

    /// What every candidate is held against, worked out once.
    fn watch(&self, planned: &Adjustment, alarm: Alarm) -> Watched {
        let readings = 0..planned.readings();
        Watched {
            variances: self.wanted.iter().map(|slopes| planned.variance_of(slopes)).collect(),
            redundancies: readings.clone().map(|at| planned.redundancy(at)).collect(),
            pulls: readings
                .flat_map(|at| self.wanted.iter().map(move |slopes| planned.pull(at, slopes) * planned.sd(at)))
                .collect(),
            open_directions: planned.open_count(),
            noticed: alarm.noticed,
        }
    }

    fn change(&self, planned: &Adjustment, forecast: &Forecast<'_>) -> Change {
        Change {
            of_wanted: self.wanted.iter().map(|slopes| forecast.reach_to(slopes)).collect(),
            of_readings: (0..planned.readings()).map(|at| forecast.reach_to(planned.slopes(at))).collect(),
            gain: forecast.own_redundancy(),
        }
    }
}

/// A plan as the outlook needs it.
struct Watched {
    /// Of each wanted coordinate.
    variances: Vec<Option<f64>>,
    /// Of each reading.
    redundancies: Vec<f64>,
    /// How far a standard uncertainty of each reading moves each wanted coordinate, reading by reading.
    pulls: Vec<f64>,
    open_directions: usize,
    noticed: f64,
}

/// What one reading more changes: Q' = Q − r rᵀ g, seen by the wanted coordinates and by the readings.
struct Change {
    of_wanted: Vec<f64>,
    of_readings: Vec<f64>,
    gain: f64,
}

impl Change {
    fn none(watched: &Watched) -> Self {
        let nothing = |count: usize| vec![0.0; count];
        Change {
            of_wanted: nothing(watched.variances.len()),
            of_readings: nothing(watched.redundancies.len()),
            gain: 0.0,
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
