//! What was asked, in the house's own definitions.
//!
//! A fitter's figures arrive with the fitter's definitions, and often without saying which. Every figure is taken as an
//! equation between points seen from the side (bottom bracket, saddle, bar, hoods); where a definition was not said, each
//! reading in use is tried. All combinations of readings are solved; those under which the redundant figures agree within
//! [`LOOP_LIMIT_MM`] are kept. So a sheet with more figures than needed decides its own ambiguities, a sheet that
//! contradicts itself is found out, and a figure that stays open is said to be open.

use crate::build::{Asked, Fit, NumberKey};
use crate::fact;
use crate::field::Choice;
use crate::model::{Known, Missing, Model};
use crate::number::{self, Across, BarPoint, Cover, Line, Number, SaddlePoint, Side};
use std::collections::BTreeMap;
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::saddle::{CrankAndPedal, LegChange};

/// Redundant figures that differ by more than this contradict each other. Common practice, no source.
pub const LOOP_LIMIT_MM: f64 = 5.0;

/// At most this many combinations of readings are tried; a sheet that leaves more open is asked about figure by figure.
const MOST_COMBINATIONS: usize = 1024;

/// How a value in the asked column came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// As received, in the house's own definition.
    Received,
    /// Received under another definition and converted.
    Converted,
    /// Not received: it follows from the figures that were.
    Derived,
}

/// A value in the asked column, in the house's definition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AskedValue {
    /// The value.
    pub value: f64,
    /// How it came about.
    pub how: How,
}

/// A figure whose definition was not said, and whose readings differ.
#[derive(Clone, Debug, PartialEq)]
pub struct Open {
    /// The number and side.
    pub key: NumberKey,
    /// The value as received.
    pub received: f64,
    /// The readings that remain, in words, each with the value it has in the house's definition where that can be had.
    pub readings: Vec<(String, Option<f64>)>,
    /// How far apart the readings that remain put the point that the figure places, where both put it somewhere.
    pub apart_mm: Option<f64>,
    /// The other figures decide it: the first reading is the one under which they agree.
    pub decided: bool,
}

/// A figure that disagrees with the others.
#[derive(Clone, Debug, PartialEq)]
pub struct Contradiction {
    /// The number and side.
    pub key: NumberKey,
    /// The value as received.
    pub received: f64,
    /// What the other figures make of it, under the same definition.
    pub others_give: f64,
}

/// Where the rider is asked to be.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Target {
    /// The saddle's reference point, re-based for the fitted cranks and pedals.
    pub saddle: Option<Point2>,
    /// How far the saddle was moved away from the bottom bracket because cranks or pedals differ from the fit's.
    pub rebased_mm: f64,
    /// The centre of the bar in its clamp.
    pub bar: Option<Point2>,
    /// The left hood's trough.
    pub hood_left: Option<Point2>,
    /// The right hood's trough.
    pub hood_right: Option<Point2>,
    /// The asked column.
    pub values: BTreeMap<NumberKey, AskedValue>,
    /// Figures whose definition was not said.
    pub open: Vec<Open>,
    /// Figures that disagree with the others by more than [`LOOP_LIMIT_MM`].
    pub contradictions: Vec<Contradiction>,
    /// Figures that cannot be converted, and what is missing for it.
    pub unconverted: Vec<(NumberKey, Missing)>,
}

/// A reading of a figure: each aspect as said, or one of those in use.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Reading {
    line: Option<Line>,
    from: Option<SaddlePoint>,
    to: Option<BarPoint>,
    across: Option<Across>,
    cover: Option<Cover>,
}

impl Reading {
    /// In words, naming only the aspects that the number leaves open.
    fn words(self, number: &Number) -> String {
        let mut words: Vec<String> = Vec::new();
        if let Some(line) = self.line.filter(|_| number.forms.line.len() > 1) {
            words.push(line.name().into());
        }
        if let Some(from) = self.from.filter(|_| number.forms.from.len() > 1) {
            words.push(match from {
                SaddlePoint::Nose => "at the saddle's nose".into(),
                SaddlePoint::Width => "at the saddle's width mark".into(),
                SaddlePoint::Dip => "at the saddle's dip".into(),
                SaddlePoint::Middle => "at the saddle's middle".into(),
            });
        }
        if let Some(to) = self.to.filter(|_| number.forms.to.len() > 1) {
            words.push(format!("to the {}", to.name()));
        }
        if let Some(across) = self.across.filter(|_| number.forms.across.len() > 1) {
            words.push(across.name().into());
        }
        if let Some(cover) = self.cover.filter(|_| number.forms.cover.len() > 1) {
            words.push(format!("top cover {}", cover.name()));
        }
        words.join(", ")
    }
}

/// The readings a figure may have, the house's first.
fn readings(number: &Number, asked: &Asked) -> Vec<Reading> {
    fn aspect<T: Copy>(said: Option<T>, in_use: &[T]) -> Vec<Option<T>> {
        match said {
            Some(said) => vec![Some(said)],
            None if in_use.is_empty() => vec![None],
            None => in_use.iter().copied().map(Some).collect(),
        }
    }
    let form = &asked.form;
    let mut all = Vec::new();
    for line in aspect(form.line.as_ref().map(|said| said.value), number.forms.line) {
        for from in aspect(form.from.as_ref().map(|said| said.value), number.forms.from) {
            for to in aspect(form.to.as_ref().map(|said| said.value), number.forms.to) {
                for across in aspect(form.across.as_ref().map(|said| said.value), number.forms.across) {
                    for cover in aspect(form.cover.as_ref().map(|said| said.value), number.forms.cover) {
                        all.push(Reading { line, from, to, across, cover });
                    }
                }
            }
        }
    }
    all
}

/// A point whose place is sought; the bottom bracket is known from the start.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Spot {
    BottomBracket,
    Saddle,
    Bar,
    HoodLeft,
    HoodRight,
}

/// A point at a fixed offset from a spot.
#[derive(Clone, Copy, Debug)]
struct End {
    spot: Spot,
    offset: Point2,
}

/// A figure as an equation: along a line, from one end to the other, with the sign the trade gives it.
#[derive(Clone, Copy, Debug)]
struct Equation {
    from: End,
    to: End,
    along: Along,
    value: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Along {
    /// Forward: x of `to` less x of `from`.
    Forward,
    /// Upward: y of `to` less y of `from`.
    Upward,
    /// Straight between the two.
    Straight,
    /// Along a direction.
    Direction(Point2),
}

/// The places found so far: each co-ordinate by itself.
#[derive(Clone, Copy, Debug, Default)]
struct Places {
    saddle: [Option<f64>; 2],
    bar: [Option<f64>; 2],
    hood_left: [Option<f64>; 2],
    hood_right: [Option<f64>; 2],
}

impl Places {
    fn of(&self, spot: Spot) -> [Option<f64>; 2] {
        match spot {
            Spot::BottomBracket => [Some(0.0), Some(0.0)],
            Spot::Saddle => self.saddle,
            Spot::Bar => self.bar,
            Spot::HoodLeft => self.hood_left,
            Spot::HoodRight => self.hood_right,
        }
    }

    fn set(&mut self, spot: Spot, axis: usize, value: f64) -> bool {
        let place = match spot {
            Spot::BottomBracket => return false,
            Spot::Saddle => &mut self.saddle,
            Spot::Bar => &mut self.bar,
            Spot::HoodLeft => &mut self.hood_left,
            Spot::HoodRight => &mut self.hood_right,
        };
        if place[axis].is_some() || !value.is_finite() {
            return false;
        }
        place[axis] = Some(value);
        true
    }

    fn point(&self, spot: Spot) -> Option<Point2> {
        match self.of(spot) {
            [Some(x_mm), Some(y_mm)] => Some(Point2 { x_mm, y_mm }),
            _ => None,
        }
    }

    fn end(&self, end: End) -> [Option<f64>; 2] {
        let [x, y] = self.of(end.spot);
        [x.map(|x| x + end.offset.x_mm), y.map(|y| y + end.offset.y_mm)]
    }
}

impl Equation {
    /// What the places found make of this figure.
    fn predicted(&self, places: &Places) -> Option<f64> {
        let ([ax, ay], [bx, by]) = (places.end(self.from), places.end(self.to));
        match self.along {
            Along::Forward => Some(bx? - ax?),
            Along::Upward => Some(by? - ay?),
            Along::Straight => Some((bx? - ax?).hypot(by? - ay?)),
            Along::Direction(unit) => Some((bx? - ax?) * unit.x_mm + (by? - ay?) * unit.y_mm),
        }
    }

    /// Uses the figure to find one co-ordinate more, if it can.
    fn extend(&self, places: &mut Places) -> bool {
        let (a, b) = (places.end(self.from), places.end(self.to));
        match self.along {
            Along::Forward => self.level(places, 0, a[0], b[0]),
            Along::Upward => self.level(places, 1, a[1], b[1]),
            // The far end lies above the bottom bracket; or forward of the saddle and below it: on a road race bike the
            // trade's figures leave no other branch.
            Along::Straight => match (a, b) {
                ([Some(ax), Some(ay)], [Some(bx), None]) => {
                    let rise = (self.value * self.value - (bx - ax) * (bx - ax)).sqrt();
                    let above = if self.from.spot == Spot::Saddle { -rise } else { rise };
                    places.set(self.to.spot, 1, ay + above - self.to.offset.y_mm)
                }
                ([Some(ax), Some(ay)], [None, Some(by)]) => {
                    let run = (self.value * self.value - (by - ay) * (by - ay)).sqrt();
                    let ahead = if self.to.spot == Spot::Saddle { -run } else { run };
                    places.set(self.to.spot, 0, ax + ahead - self.to.offset.x_mm)
                }
                _ => false,
            },
            Along::Direction(unit) => match (a, b) {
                ([Some(ax), Some(ay)], [Some(bx), None]) => {
                    let y = ay + (self.value - (bx - ax) * unit.x_mm) / unit.y_mm;
                    places.set(self.to.spot, 1, y - self.to.offset.y_mm)
                }
                ([Some(ax), Some(ay)], [None, Some(by)]) => {
                    let x = ax + (self.value - (by - ay) * unit.y_mm) / unit.x_mm;
                    places.set(self.to.spot, 0, x - self.to.offset.x_mm)
                }
                _ => false,
            },
        }
    }

    fn level(&self, places: &mut Places, axis: usize, a: Option<f64>, b: Option<f64>) -> bool {
        let part = |offset: Point2| if axis == 0 { offset.x_mm } else { offset.y_mm };
        match (a, b) {
            (Some(a), None) => places.set(self.to.spot, axis, a + self.value - part(self.to.offset)),
            (None, Some(b)) => places.set(self.from.spot, axis, b - self.value - part(self.from.offset)),
            _ => false,
        }
    }

    /// Figures that give a co-ordinate outright come first, so that the others are left to check them.
    fn rank(&self) -> u8 {
        let from_bb = self.from.spot == Spot::BottomBracket;
        match self.along {
            Along::Forward | Along::Upward if from_bb => 0,
            Along::Straight | Along::Direction(_) if from_bb => 1,
            Along::Forward | Along::Upward => 2,
            Along::Straight | Along::Direction(_) => 3,
        }
    }
}

/// A received figure with all it may mean.
struct Figure<'a> {
    number: &'static Number,
    key: NumberKey,
    value: f64,
    readings: Vec<(Reading, Known<Vec<Equation>>)>,
    asked: &'a Asked,
}

/// What is needed to place a fitter's points.
struct Sheet<'a> {
    model: &'a Model<'a>,
    fit: &'a Fit,
}

fn fit_fact(name: &str, value: Option<f64>) -> Known<f64> {
    value.ok_or_else(|| Missing::fact(format!("fit.{name}")))
}

impl Sheet<'_> {
    /// Where a point of the fit's saddle lies from its reference point, saddle level.
    fn saddle_end(&self, point: SaddlePoint) -> Known<End> {
        let fit = self.fit;
        let offset = match point {
            SaddlePoint::Width => {
                let width = fit.reference_width_mm.as_ref().map(|given| given.value);
                let ahead = fit.reference_ahead_mm.as_ref().map(|given| given.value);
                match (width, ahead) {
                    // Said to be the house's own width, or nothing said: it is the house's own point.
                    (Some(width), None) if (width - 80.0).abs() > 0.5 => {
                        return Err(Missing::fact("fit.reference_ahead"));
                    }
                    (_, ahead) => Point2 { x_mm: ahead.unwrap_or(0.0), y_mm: 0.0 },
                }
            }
            SaddlePoint::Nose => {
                let nose = fit_fact("nose_to_reference", fit.nose_to_reference_mm.as_ref().map(|given| given.value))?;
                Point2 { x_mm: nose, y_mm: 0.0 }.rotated_deg(asked_tilt_deg(self.model))
            }
            SaddlePoint::Dip => {
                let dip =
                    fit_fact("dip_below_reference", fit.dip_below_reference_mm.as_ref().map(|given| given.value))?;
                Point2 { x_mm: 0.0, y_mm: -dip }
            }
            SaddlePoint::Middle => return Err(Missing::fact("fit.reference_ahead")),
        };
        Ok(End { spot: Spot::Saddle, offset })
    }

    /// Where a point of the cockpit lies from the spot it belongs to.
    fn bar_end(&self, point: BarPoint, side: Side) -> Known<End> {
        let half = || {
            let fitted = fact!(self.model.bar, clamp_diameter_mm);
            let diameter = self.fit.bar_diameter_mm.as_ref().map(|given| given.value).or(fitted.ok());
            fit_fact("bar_diameter", diameter).map(|diameter| diameter / 2.0)
        };
        let hood = if side == Side::Right { Spot::HoodRight } else { Spot::HoodLeft };
        let at_bar = |x_mm, y_mm| End { spot: Spot::Bar, offset: Point2 { x_mm, y_mm } };
        Ok(match point {
            BarPoint::ClampCentre => at_bar(0.0, 0.0),
            BarPoint::BarTop => at_bar(0.0, half()?),
            BarPoint::BarFront => at_bar(half()?, 0.0),
            BarPoint::BarRear => at_bar(-half()?, 0.0),
            BarPoint::HoodTrough => End { spot: hood, offset: Point2 { x_mm: 0.0, y_mm: 0.0 } },
        })
    }

    fn seat_tube(&self) -> Known<Along> {
        let said = self.fit.seat_angle_deg.as_ref().map(|given| given.value);
        let fitted = fact!(self.model.frame, seat_angle_deg);
        let angle = fit_fact("seat_angle", said.or(fitted.ok()))?;
        Ok(Along::Direction(Point2::direction(180.0 - angle)))
    }

    /// The equations of a figure under a reading; none for figures that place no point.
    fn equations(&self, number: &Number, side: Side, reading: Reading, value: f64) -> Known<Vec<Equation>> {
        let bb = End { spot: Spot::BottomBracket, offset: Point2 { x_mm: 0.0, y_mm: 0.0 } };
        let sides: &[Side] = match side {
            Side::None => number.sides.each(),
            _ => &[side],
        };
        let each = |side: Side| -> Known<Option<Equation>> {
            let saddle = || self.saddle_end(reading.from.unwrap_or(SaddlePoint::Width));
            let bar = |otherwise| self.bar_end(reading.to.unwrap_or(otherwise), side);
            let sloping = |level: Along| match reading.line {
                Some(Line::Straight) => Ok(Along::Straight),
                Some(Line::AlongSeatTube) => self.seat_tube(),
                Some(Line::Vertical) => Ok(Along::Upward),
                Some(Line::Horizontal) => Ok(Along::Forward),
                None => Ok(level),
            };
            Ok(Some(match number.id {
                "saddle-height" => Equation { from: bb, to: saddle()?, along: sloping(Along::Straight)?, value },
                "saddle-height-vertical" => Equation { from: bb, to: saddle()?, along: Along::Upward, value },
                // Behind is positive for a setback, and forward is positive for x.
                "saddle-setback" => Equation { from: saddle()?, to: bb, along: Along::Forward, value },
                "saddle-to-hood" => Equation {
                    from: saddle()?,
                    to: bar(BarPoint::HoodTrough)?,
                    along: sloping(Along::Straight)?,
                    value,
                },
                "saddle-to-bar" => Equation {
                    from: saddle()?,
                    to: bar(BarPoint::ClampCentre)?,
                    along: sloping(Along::Straight)?,
                    value,
                },
                "saddle-bar-drop" => {
                    Equation { from: bar(BarPoint::ClampCentre)?, to: saddle()?, along: Along::Upward, value }
                }
                "saddle-hood-drop" => {
                    Equation { from: bar(BarPoint::HoodTrough)?, to: saddle()?, along: Along::Upward, value }
                }
                "hood-x" => {
                    Equation { from: bb, to: self.bar_end(BarPoint::HoodTrough, side)?, along: Along::Forward, value }
                }
                "hood-y" => {
                    Equation { from: bb, to: self.bar_end(BarPoint::HoodTrough, side)?, along: Along::Upward, value }
                }
                "bar-x" => {
                    Equation { from: bb, to: self.bar_end(BarPoint::ClampCentre, side)?, along: Along::Forward, value }
                }
                "bar-y" => {
                    Equation { from: bb, to: self.bar_end(BarPoint::ClampCentre, side)?, along: Along::Upward, value }
                }
                _ => return Ok(None),
            }))
        };
        let mut all = Vec::new();
        for side in sides {
            all.extend(each(*side)?);
        }
        Ok(all)
    }

    /// The value of a figure that places no point, in the house's definition.
    fn converted(&self, reading: Reading, value: f64) -> Known<f64> {
        if reading.across == Some(Across::Outsides) {
            return self.model.tube_mm().map(|tube| value - tube);
        }
        if reading.cover == Some(Cover::Counted) {
            let said = self.fit.cover_height_mm.as_ref().map(|given| given.value);
            return match said {
                Some(cover) => Ok(value - cover),
                None => fact!(self.model.headset, cover_height_mm).map(|cover| value - cover),
            };
        }
        Ok(value)
    }
}

/// One combination of readings, solved.
struct Solved {
    chosen: Vec<usize>,
    places: Places,
    worst_mm: f64,
}

/// The equations of the figures under a combination of readings, without the figure at one place if so wished.
fn equations(figures: &[Figure<'_>], chosen: &[usize], without: Option<usize>) -> Vec<Equation> {
    let mut equations: Vec<Equation> = figures
        .iter()
        .zip(chosen)
        .enumerate()
        .filter(|(at, _)| Some(*at) != without)
        .filter_map(|(_, (figure, choice))| figure.readings[*choice].1.as_ref().ok())
        .flatten()
        .copied()
        .collect();
    equations.sort_by_key(Equation::rank);
    equations
}

/// Where the equations put the points.
fn placed(equations: &[Equation]) -> Places {
    let mut places = Places::default();
    // Each round finds a co-ordinate more or ends the loop; there are eight co-ordinates to find.
    while equations.iter().any(|equation| equation.extend(&mut places)) {}
    places
}

fn solve(figures: &[Figure<'_>], chosen: &[usize]) -> Solved {
    let equations = equations(figures, chosen, None);
    let places = placed(&equations);
    let worst_mm = equations
        .iter()
        .filter_map(|equation| equation.predicted(&places).map(|predicted| (predicted - equation.value).abs()))
        .fold(0.0, f64::max);
    Solved { chosen: chosen.to_vec(), places, worst_mm }
}

/// Every combination of readings, the house's own first; figure by figure where there are too many.
fn combinations(figures: &[Figure<'_>]) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = vec![Vec::new()];
    for figure in figures {
        let choices = if all.len() * figure.readings.len() > MOST_COMBINATIONS { 1 } else { figure.readings.len() };
        all = all
            .iter()
            .flat_map(|head| {
                (0..choices).map(move |choice| {
                    let mut longer = head.clone();
                    longer.push(choice);
                    longer
                })
            })
            .collect();
    }
    all
}

/// What was asked, in the house's own definitions.
pub fn target(model: &Model<'_>) -> Target {
    let sheet = Sheet { model, fit: &model.build.fit };
    let figures: Vec<Figure<'_>> = model
        .build
        .asked
        .iter()
        .filter_map(|(key, asked)| {
            let number = number::by_id(key.0)?;
            let value = asked.value.as_ref()?.value;
            let readings = readings(number, asked)
                .into_iter()
                .map(|reading| (reading, sheet.equations(number, key.1, reading, value)))
                .collect();
            Some(Figure { number, key: *key, value, readings, asked })
        })
        .collect();
    // Only figures that place points take part in the loop; the others are open by themselves.
    let (points, plain): (Vec<_>, Vec<_>) = figures.into_iter().partition(|figure| {
        figure
            .readings
            .iter()
            .any(|(_, equations)| equations.as_ref().is_ok_and(|all| !all.is_empty()) || equations.is_err())
    });

    let solved: Vec<Solved> = combinations(&points).iter().map(|chosen| solve(&points, chosen)).collect();
    let agreeing: Vec<&Solved> = solved.iter().filter(|one| one.worst_mm <= LOOP_LIMIT_MM).collect();
    let mut target = Target::default();
    let best = agreeing.first().copied().or_else(|| solved.iter().min_by(|a, b| a.worst_mm.total_cmp(&b.worst_mm)));
    if let Some(best) = best {
        if agreeing.is_empty() {
            contradictions(&points, best, &mut target);
        }
        let kept: Vec<&Solved> = if agreeing.is_empty() { vec![best] } else { agreeing };
        open_points(&points, &kept, solved.len(), &mut target);
        place(model, &kept, &mut target);
    }
    plain_values(&sheet, &plain, &mut target);
    point_values(model, &points, &mut target);
    target
}

/// Names the figures that the others do not bear out.
fn contradictions(points: &[Figure<'_>], best: &Solved, target: &mut Target) {
    for (index, figure) in points.iter().enumerate() {
        let Ok(own) = &figure.readings[best.chosen[index]].1 else { continue };
        // Left out in turn: what do the others make of it?
        let places = placed(&equations(points, &best.chosen, Some(index)));
        let predicted = own.first().and_then(|equation| equation.predicted(&places));
        if let Some(predicted) = predicted.filter(|predicted| (predicted - figure.value).abs() > LOOP_LIMIT_MM) {
            target.contradictions.push(Contradiction {
                key: figure.key,
                received: figure.value,
                others_give: predicted,
            });
        }
    }
}

/// Figures whose definition was not said: decided by the others, without weight, or open.
fn open_points(points: &[Figure<'_>], kept: &[&Solved], tried: usize, target: &mut Target) {
    for (index, figure) in points.iter().enumerate() {
        let mut choices: Vec<usize> = kept.iter().map(|one| one.chosen[index]).collect();
        choices.sort_unstable();
        choices.dedup();
        let usable: Vec<usize> = choices.iter().copied().filter(|choice| figure.readings[*choice].1.is_ok()).collect();
        if usable.is_empty()
            && let Some(Err(missing)) = choices.first().map(|choice| &figure.readings[*choice].1)
        {
            target.unconverted.push((figure.key, missing.clone()));
        }
        if figure.readings.len() == 1 {
            continue;
        }
        let readings = choices.iter().map(|choice| (figure.readings[*choice].0.words(figure.number), None)).collect();
        let decided = choices.len() == 1 && kept.len() < tried;
        let apart_mm = apart_mm(figure, index, kept);
        target.open.push(Open { key: figure.key, received: figure.value, readings, apart_mm, decided });
    }
}

/// The furthest that the point which a figure places moves when nothing but the reading of that figure changes.
fn apart_mm(figure: &Figure<'_>, index: usize, kept: &[&Solved]) -> Option<f64> {
    let spot = figure.readings.iter().find_map(|(_, equations)| {
        let equation = equations.as_ref().ok()?.first()?;
        [equation.to.spot, equation.from.spot].into_iter().find(|spot| *spot != Spot::BottomBracket)
    })?;
    let mut most = None;
    for (place, one) in kept.iter().enumerate() {
        for other in &kept[place + 1..] {
            let differ = one.chosen.iter().zip(&other.chosen).enumerate().all(|(at, (a, b))| (a != b) == (at == index));
            let points = (one.places.point(spot), other.places.point(spot));
            if let (true, (Some(a), Some(b))) = (differ, points) {
                most = Some(a.distance_mm(b).max(most.unwrap_or(0.0)));
            }
        }
    }
    most
}

/// The points on which all kept combinations agree.
fn place(model: &Model<'_>, kept: &[&Solved], target: &mut Target) {
    let agreed = |spot: Spot, limit_mm: f64| -> Option<Point2> {
        let first = kept.first()?.places.point(spot)?;
        kept.iter()
            .all(|one| one.places.point(spot).is_some_and(|point| point.distance_mm(first) <= limit_mm))
            .then_some(first)
    };
    target.bar = agreed(Spot::Bar, number::BAR_X.tolerance.value);
    target.hood_left = agreed(Spot::HoodLeft, number::HOOD_X.tolerance.value);
    target.hood_right = agreed(Spot::HoodRight, number::HOOD_X.tolerance.value);
    if let Some(saddle) = agreed(Spot::Saddle, number::SADDLE_HEIGHT.tolerance.value) {
        target.rebased_mm = rebase_mm(model);
        let length = saddle.length_mm();
        let scale = if length > 0.0 { (length + target.rebased_mm) / length } else { 1.0 };
        target.saddle = Some(Point2 { x_mm: saddle.x_mm * scale, y_mm: saddle.y_mm * scale });
    }
}

/// How much further the saddle goes because the fitted cranks or pedals differ from the fit's; 0 where either is unknown.
fn rebase_mm(model: &Model<'_>) -> f64 {
    let fit = &model.build.fit;
    let crank = match (fit.crank_length_mm.as_ref(), fact!(model.crankset, arm_length_mm)) {
        (Some(then), Ok(now)) => (then.value, now),
        _ => (0.0, 0.0),
    };
    let stack = match (fit.pedal_stack_mm.as_ref(), fact!(model.pedal, stack_mm)) {
        (Some(then), Ok(now)) => (then.value, now),
        _ => (0.0, 0.0),
    };
    let old = CrankAndPedal { crank_mm: crank.0, pedal_stack_mm: stack.0 };
    let new = CrankAndPedal { crank_mm: crank.1, pedal_stack_mm: stack.1 };
    LegChange { old, new }.straight_height_gain_mm()
}

/// Numbers that place no point: converted one by one.
fn plain_values(sheet: &Sheet<'_>, plain: &[Figure<'_>], target: &mut Target) {
    for figure in plain {
        let values: Vec<(Reading, Known<f64>)> =
            figure.readings.iter().map(|(reading, _)| (*reading, sheet.converted(*reading, figure.value))).collect();
        let known: Vec<f64> = values.iter().filter_map(|(_, value)| value.as_ref().ok().copied()).collect();
        let alike = known.len() == values.len()
            && known.iter().all(|value| (value - known[0]).abs() <= figure.number.tolerance.value);
        if values.len() > 1 {
            target.open.push(Open {
                key: figure.key,
                received: figure.value,
                readings: values
                    .iter()
                    .map(|(reading, value)| (reading.words(figure.number), value.as_ref().ok().copied()))
                    .collect(),
                apart_mm: None,
                decided: false,
            });
        }
        if alike {
            // Only a value that moved was converted.
            let moved = (known[0] - figure.value).abs() > 1e-9;
            let how = if moved { How::Converted } else { How::Received };
            for side in sides_of(figure) {
                target.values.insert((figure.number.id, side), AskedValue { value: known[0], how });
            }
        } else if let [(_, Err(missing))] = values.as_slice() {
            target.unconverted.push((figure.key, missing.clone()));
        }
    }
}

fn sides_of(figure: &Figure<'_>) -> Vec<Side> {
    match figure.key.1 {
        Side::None => figure.number.sides.each().to_vec(),
        side => vec![side],
    }
}

/// The position numbers, from the points on which the sheet agrees.
fn point_values(model: &Model<'_>, points: &[Figure<'_>], target: &mut Target) {
    let mut values: Vec<(NumberKey, f64)> = Vec::new();
    let nose = fitted_nose(model, target);
    if let Some(saddle) = target.saddle {
        values.push(((number::SADDLE_HEIGHT.id, Side::None), saddle.length_mm()));
        values.push(((number::SADDLE_HEIGHT_VERTICAL.id, Side::None), saddle.y_mm));
    }
    if let Some(nose) = nose {
        values.push(((number::SADDLE_SETBACK.id, Side::None), -nose.x_mm));
    }
    if let Some(bar) = target.bar {
        values.push(((number::BAR_X.id, Side::None), bar.x_mm));
        values.push(((number::BAR_Y.id, Side::None), bar.y_mm));
        if let Some(saddle) = target.saddle {
            values.push(((number::SADDLE_BAR_DROP.id, Side::None), saddle.y_mm - bar.y_mm));
        }
        if let Some(nose) = nose {
            values.push(((number::SADDLE_TO_BAR.id, Side::None), nose.distance_mm(bar)));
        }
    }
    for (side, hood) in [(Side::Left, target.hood_left), (Side::Right, target.hood_right)] {
        if let Some(hood) = hood {
            values.push(((number::HOOD_X.id, side), hood.x_mm));
            values.push(((number::HOOD_Y.id, side), hood.y_mm));
            if let Some(saddle) = target.saddle {
                values.push(((number::SADDLE_TO_HOOD.id, side), saddle.distance_mm(hood)));
                values.push(((number::SADDLE_HOOD_DROP.id, side), saddle.y_mm - hood.y_mm));
            }
        }
    }
    for (key, value) in values {
        let received =
            points.iter().find(|figure| figure.key.0 == key.0 && [key.1, Side::None].contains(&figure.key.1));
        // A figure that comes back to within a quarter of a millimetre is shown as it was received.
        let asked = match received {
            None => AskedValue { value, how: How::Derived },
            Some(figure) if (figure.value - value).abs() <= 0.25 => {
                AskedValue { value: figure.value, how: How::Received }
            }
            Some(_) => AskedValue { value, how: How::Converted },
        };
        target.values.insert(key, asked);
    }
    // A figure that was received in the house's own words is shown as it stands, even where its point is not yet placed.
    for figure in points {
        let plain_words =
            figure.asked.form.line.is_none() && figure.asked.form.from.is_none() && figure.asked.form.to.is_none();
        if figure.readings.len() == 1 && plain_words {
            for side in sides_of(figure) {
                target
                    .values
                    .entry((figure.number.id, side))
                    .or_insert(AskedValue { value: figure.value, how: How::Received });
            }
        }
    }
}

/// Where the fitted saddle's nose comes when its reference point stands where it is asked to.
fn fitted_nose(model: &Model<'_>, target: &Target) -> Option<Point2> {
    let saddle = target.saddle?;
    let ahead = fact!(model.saddle, nose_to_reference_mm).ok()?;
    let below = fact!(model.saddle, nose_below_reference_mm).unwrap_or(0.0);
    let offset = Point2 { x_mm: ahead, y_mm: -below }.rotated_deg(asked_tilt_deg(model));
    Some(Point2 { x_mm: saddle.x_mm + offset.x_mm, y_mm: saddle.y_mm + offset.y_mm })
}

/// The tilt at which the saddle is to stand: asked, or as set, or level.
fn asked_tilt_deg(model: &Model<'_>) -> f64 {
    let asked = model.build.asked.get(&(number::SADDLE_TILT.id, Side::None)).and_then(|asked| asked.value.as_ref());
    asked.map_or_else(|| fact!(model.settings, saddle_tilt_deg).unwrap_or(0.0), |given| given.value)
}
