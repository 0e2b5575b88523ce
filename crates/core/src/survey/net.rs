//! From the document's readings to a network of spots and unknowns.
//!
//! The bike's own frame begins at the bottom bracket and lies level along the line of its axles, as everywhere in the
//! house. So the two axles share one unknown height, and the level and the floor lie to that line at angles which are
//! unknowns too. What nobody read and yet is needed becomes an assumption: a reading with a wide uncertainty, told as such.

use super::instrument;
use super::points::{Pair, pair_of, usual};
use super::words;
use crate::build::{Build, Instrument, SurveyLine, SurveyPoint, SurveyReading, Taken};
use crate::model::Missing;
use std::collections::{BTreeMap, BTreeSet};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::network::{Between, Figure, Network, Reading, Spot, Stand, Taken as Read};

/// A reading of the document, with its points.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Its name in the document; empty for an assumption.
    pub name: String,
    /// What it is, in the words of the trade: "saddle nose to bar clamp".
    pub words: String,
    /// What is read.
    pub what: Taken,
    /// From which point.
    pub from: SurveyPoint,
    /// To which point; the same as `from` where there is only one.
    pub to: SurveyPoint,
    /// Which line.
    pub line: Option<SurveyLine>,
    /// The value from point to point, mm or degrees; what was added is in it. `None` where it is yet to be taken.
    pub value: Option<f64>,
    /// What was added to what was read, mm.
    pub added_mm: f64,
    /// Standard uncertainty, mm or degrees.
    pub sd: f64,
    /// What it was taken with.
    pub with: Instrument,
    /// Nobody read it: it stands in for what nobody read.
    pub assumed: bool,
}

impl Item {
    /// The item of a reading; what is missing for it where it cannot be used.
    fn of(name: &str, reading: &SurveyReading) -> Result<Self, Missing> {
        let fact = |key: &str| format!("survey.{name}.{key}");
        let what = reading.what.as_ref().map(|given| given.value).ok_or_else(|| Missing::fact(fact("what")))?;
        let said = |point: &Option<crate::field::Given<SurveyPoint>>| point.as_ref().map(|given| given.value);
        let line = reading.line.as_ref().map(|given| given.value);
        let from = said(&reading.from).unwrap_or(SurveyPoint::BottomBracket);
        let (from, to) = match what {
            Taken::FloorSlope | Taken::SaddleTilt => (SurveyPoint::BottomBracket, SurveyPoint::BottomBracket),
            // One point is enough: a height of the one that is named, the whole width of the pair that is named.
            Taken::Height | Taken::Off => {
                let one = said(&reading.to).or(said(&reading.from)).ok_or_else(|| Missing::fact(fact("to")))?;
                (one, one)
            }
            Taken::Across => {
                let one = said(&reading.to).or(said(&reading.from)).ok_or_else(|| Missing::fact(fact("to")))?;
                let (pair, _) = pair_of(one).ok_or_else(|| {
                    Missing::refused(format!("the {} has no other side to be measured across to", words::point(one)))
                })?;
                let [left, right] = pair.points();
                (left, right)
            }
            _ => (from, said(&reading.to).ok_or_else(|| Missing::fact(fact("to")))?),
        };
        if from == to && matches!(what, Taken::Straight | Taken::Ahead | Taken::Above | Taken::Slope | Taken::Along) {
            return Err(Missing::refused(format!("the reading “{name}” goes from a point to itself")));
        }
        if line.is_none() && matches!(what, Taken::Off | Taken::Along) {
            return Err(Missing::fact(fact("line")));
        }
        let is_angle = is_angle(what);
        let given = if is_angle { &reading.angle_deg } else { &reading.value_mm };
        let other = if is_angle { &reading.value_mm } else { &reading.angle_deg };
        if given.is_none() && other.is_some() {
            return Err(Missing::fact(fact(if is_angle { "angle" } else { "value" })));
        }
        let added_mm = if is_angle { 0.0 } else { reading.add_mm.as_ref().map_or(0.0, |given| given.value) };
        let with = reading.with.as_ref().map_or(instrument::usual(what), |given| given.value);
        let said_to = if is_angle { &reading.angle_plus_minus_deg } else { &reading.plus_minus_mm };
        let sd = match said_to {
            // Surely inside, and nowhere likelier than elsewhere: a rectangle's standard uncertainty (JCGM 100, 4.3.7).
            Some(half_width) => half_width.value / 3.0_f64.sqrt(),
            None => instrument::usual_sd(what, with, [from, to]),
        };
        let item = Item {
            name: name.to_owned(),
            words: words::reading(what, from, to, line),
            what,
            from,
            to,
            line,
            value: given.as_ref().map(|given| given.value + added_mm),
            added_mm,
            sd,
            with,
            assumed: false,
        };
        Ok(item)
    }

    /// A reading that nobody took yet, with the customary instrument.
    pub(super) fn proposed(what: Taken, from: SurveyPoint, to: SurveyPoint) -> Self {
        let with = instrument::usual(what);
        Item {
            name: String::new(),
            words: words::reading(what, from, to, None),
            what,
            from,
            to,
            line: None,
            value: None,
            added_mm: 0.0,
            sd: instrument::usual_sd(what, with, [from, to]),
            with,
            assumed: false,
        }
    }

    /// It is read in degrees.
    pub fn is_angle(&self) -> bool {
        is_angle(self.what)
    }

    /// It is read off a tape.
    pub(super) fn is_tape(&self) -> bool {
        !self.assumed && self.with == Instrument::Tape && !self.is_angle()
    }

    /// Every point that it needs.
    pub(super) fn points(&self) -> Vec<SurveyPoint> {
        let mut points = match self.what {
            Taken::FloorSlope | Taken::SaddleTilt => Vec::new(),
            _ => vec![self.from, self.to],
        };
        match self.line {
            Some(SurveyLine::SeatTube) => points.extend([SurveyPoint::BottomBracket, SurveyPoint::Collar]),
            Some(SurveyLine::HeadTube) => points.extend([SurveyPoint::HeadBottom, SurveyPoint::HeadTop]),
            None => {}
        }
        points
    }
}

const fn is_angle(what: Taken) -> bool {
    matches!(what, Taken::Slope | Taken::SaddleTilt | Taken::FloorSlope)
}

/// The document's readings, and those that cannot be used with what is missing for them.
pub(super) fn items(build: &Build) -> (Vec<Item>, Vec<(String, Missing)>) {
    let mut items = Vec::new();
    let mut unusable = Vec::new();
    for (name, reading) in &build.survey {
        match Item::of(name, reading) {
            Ok(item) => items.push(item),
            Err(missing) => unusable.push((name.clone(), missing)),
        }
    }
    (items, unusable)
}

/// Which of the frames beside the bike's own is read from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Uses {
    pub(super) level: bool,
    pub(super) floor: bool,
    pub(super) saddle: bool,
}

impl Uses {
    pub(super) fn of(items: &[Item]) -> Self {
        let any = |kinds: &[Taken]| items.iter().any(|item| kinds.contains(&item.what));
        Uses {
            level: any(&[Taken::Ahead, Taken::Above, Taken::Slope, Taken::SaddleTilt, Taken::FloorSlope]),
            floor: any(&[Taken::Height, Taken::FloorSlope]),
            saddle: any(&[Taken::SaddleTilt]),
        }
    }
}

/// Spots and unknowns for a set of points.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Layout {
    pub(super) spots: Vec<Spot>,
    pub(super) stand: Stand,
    pub(super) start: Vec<f64>,
    places: BTreeMap<SurveyPoint, usize>,
    halves: BTreeMap<Pair, usize>,
    saddle: Option<usize>,
}

impl Layout {
    pub(super) fn of(points: &BTreeSet<SurveyPoint>, uses: Uses) -> Self {
        const NONE: Figure = Figure::Known(0.0);
        let level = Stand { level_deg: NONE, floor_deg: NONE, height_mm: NONE };
        let mut layout = Layout {
            spots: Vec::new(),
            stand: level,
            start: Vec::new(),
            places: BTreeMap::new(),
            halves: BTreeMap::new(),
            saddle: None,
        };
        let bottom_bracket = Spot { x_mm: NONE, y_mm: NONE, z_mm: NONE };
        layout.put(SurveyPoint::BottomBracket, bottom_bracket);
        for point in points.iter().copied().filter(|point| *point != SurveyPoint::BottomBracket) {
            let Point2 { x_mm, y_mm } = usual(point);
            let x_mm = layout.unknown(x_mm);
            // The line of the axles is level in the bike's own frame.
            let rear = layout.places.get(&SurveyPoint::RearAxle).filter(|_| point == SurveyPoint::FrontAxle);
            let y_mm = match rear {
                Some(rear) => layout.spots[*rear].y_mm,
                None => layout.unknown(y_mm),
            };
            let z_mm = match pair_of(point) {
                None => NONE,
                Some((pair, factor)) => {
                    let start = &mut layout.start;
                    let at = *layout.halves.entry(pair).or_insert_with(|| {
                        start.push(pair.usual_half_mm().0);
                        start.len() - 1
                    });
                    Figure::Unknown { at, factor }
                }
            };
            layout.put(point, Spot { x_mm, y_mm, z_mm });
        }
        if uses.level {
            layout.stand.level_deg = layout.unknown(0.0);
        }
        if uses.floor {
            layout.stand.floor_deg = layout.unknown(0.0);
            layout.stand.height_mm = layout.unknown(270.0);
        }
        if uses.saddle {
            layout.start.push(-2.0);
            layout.saddle = Some(layout.start.len() - 1);
        }
        layout
    }

    fn unknown(&mut self, start: f64) -> Figure {
        self.start.push(start);
        Figure::unknown(self.start.len() - 1)
    }

    fn put(&mut self, point: SurveyPoint, spot: Spot) {
        self.places.insert(point, self.spots.len());
        self.spots.push(spot);
    }

    pub(super) fn network<'a>(&'a self, readings: &'a [Reading]) -> Network<'a> {
        Network { spots: &self.spots, stand: self.stand, readings }
    }

    pub(super) fn has(&self, point: SurveyPoint) -> bool {
        self.places.contains_key(&point)
    }

    pub(super) fn points(&self) -> impl Iterator<Item = SurveyPoint> {
        self.places.keys().copied()
    }

    pub(super) fn spot(&self, point: SurveyPoint) -> Option<&Spot> {
        self.places.get(&point).map(|at| &self.spots[*at])
    }

    /// Half of the width between the points of a pair.
    pub(super) fn half(&self, pair: Pair) -> Option<Figure> {
        self.halves.get(&pair).map(|at| Figure::unknown(*at))
    }

    pub(super) fn saddle(&self) -> Option<Figure> {
        self.saddle.map(Figure::unknown)
    }

    /// What the network is to read; `None` where a point or a frame is not laid out.
    pub(super) fn taken(&self, item: &Item) -> Option<Read> {
        let place = |point: SurveyPoint| self.places.get(&point).copied();
        let between = || Some(Between { from: place(item.from)?, to: place(item.to)? });
        let line = || {
            let [from, to] = match item.line? {
                SurveyLine::SeatTube => [SurveyPoint::BottomBracket, SurveyPoint::Collar],
                SurveyLine::HeadTube => [SurveyPoint::HeadBottom, SurveyPoint::HeadTop],
            };
            Some(Between { from: place(from)?, to: place(to)? })
        };
        Some(match item.what {
            Taken::Straight => Read::Distance(between()?),
            Taken::Across => Read::Across(between()?),
            Taken::Height => Read::Height(place(item.to)?),
            Taken::Ahead => Read::Ahead(between()?),
            Taken::Above => Read::Above(between()?),
            Taken::Slope => Read::Slope(between()?),
            Taken::Off => Read::Off { spot: place(item.to)?, line: line()? },
            Taken::Along => Read::Along { between: between()?, line: line()? },
            Taken::SaddleTilt => Read::Angle(self.saddle()?),
            Taken::FloorSlope => Read::FloorSlope,
        })
    }

    pub(super) fn reading(&self, item: &Item) -> Option<Reading> {
        Some(Reading { taken: self.taken(item)?, value: item.value.unwrap_or(0.0), sd: item.sd })
    }
}

/// Something that nobody read and that is taken to be so.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Assumption {
    pub(super) item: Item,
    pub(super) reading: Reading,
    /// It counts only where the readings leave open what it says.
    pub(super) only_where_open: bool,
}

/// A workshop's floor falls by less than this, as a standard uncertainty: 5 mm in a metre. Common practice, no source.
const FLOOR_LEVEL_TO_DEG: f64 = 0.3;

/// A bike whose axles nobody read stands level to this, as a standard uncertainty: 3.5 mm over its wheelbase, the
/// difference of two tyres. Common practice, no source.
const BIKE_LEVEL_TO_DEG: f64 = 0.2;

/// What can be assumed where nobody read it, in the order in which it is tried.
pub(super) fn assumptions(layout: &Layout, items: &[Item]) -> Vec<Assumption> {
    let is_unknown = |figure: Figure| matches!(figure, Figure::Unknown { .. });
    let assumed = |says: String, taken: Read, what: Taken, value: f64, sd: f64, only_where_open: bool| Assumption {
        item: Item {
            words: says,
            what,
            value: Some(value),
            sd,
            assumed: true,
            ..Item::proposed(what, SurveyPoint::BottomBracket, SurveyPoint::BottomBracket)
        },
        reading: Reading { taken, value, sd },
        only_where_open,
    };
    let mut all = Vec::new();
    let (level, floor) = (layout.stand.level_deg, layout.stand.floor_deg);
    let floor_was_read = items.iter().any(|item| item.what == Taken::FloorSlope && item.value.is_some());
    if is_unknown(level) && is_unknown(floor) && !floor_was_read {
        let says = "the floor is level along the bike".to_owned();
        all.push(assumed(says, Read::FloorSlope, Taken::FloorSlope, 0.0, FLOOR_LEVEL_TO_DEG, false));
    }
    let stands = if is_unknown(floor) { floor } else { level };
    if is_unknown(stands) {
        let says = "the line of the axles stands level".to_owned();
        all.push(assumed(says, Read::Itself(stands), Taken::Slope, 0.0, BIKE_LEVEL_TO_DEG, true));
    }
    for pair in Pair::ALL {
        if let Some(half) = layout.half(pair) {
            let (usual_mm, sd_mm) = pair.usual_half_mm();
            let says = format!("the {} stand as far apart as usual", pair.words());
            all.push(assumed(says, Read::Itself(half), Taken::Across, usual_mm, sd_mm, true));
        }
    }
    all
}
