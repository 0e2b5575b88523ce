//! The three columns: every number of the registry as asked, planned and measured, with the difference and a verdict.

use super::{AskedValue, How, Worked, race};
use crate::build::NumberKey;
use crate::choice;
use crate::fact;
use crate::model::{Known, Missing, Model};
use crate::number::{self, Number, Side};
use jiff::civil::Date;
use std::collections::BTreeMap;
use witnessmark_mechanics::Point2;

choice! {
    /// How a number stands.
    pub enum Verdict {
        /// Measured, and within tolerance of what it should be.
        InLine = "in line",
        /// Further off than the tolerance allows.
        Moved = "moved",
        /// Planned as asked, and not yet read off the bike.
        NotRead = "not read",
        /// Nothing asked or planned to hold a reading against, or nothing known at all.
        NotKnown = "not known",
    }
}

/// A number as read.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredValue {
    /// The value.
    pub value: f64,
    /// Half the width of the interval in which the truth surely lies, where the reading says.
    pub plus_minus: Option<f64>,
    /// Who took it.
    pub by: Option<String>,
    /// When.
    pub on: Option<Date>,
}

/// One number of the bike, in its three columns.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedNumber {
    /// What the number is.
    pub number: &'static Number,
    /// On which side.
    pub side: Side,
    /// As asked, in the house's definition.
    pub asked: Option<AskedValue>,
    /// As worked out, or what is missing for it.
    pub planned: Known<f64>,
    /// As read off the bike.
    pub measured: Option<MeasuredValue>,
    /// Measured less asked; where nothing is asked, less planned; where nothing is measured, planned less asked.
    pub difference: Option<f64>,
    /// How far off is still the same.
    pub tolerance: f64,
    /// How it stands.
    pub verdict: Verdict,
}

/// All numbers of a bike, in the order of the walk-round.
#[derive(Clone, Debug, PartialEq)]
pub struct Numbers {
    list: Vec<PlannedNumber>,
}

impl Numbers {
    /// A number on a side.
    pub fn of(&self, number: &Number, side: Side) -> Option<&PlannedNumber> {
        self.list.iter().find(|one| one.number.id == number.id && one.side == side)
    }

    /// All of them.
    pub fn each(&self) -> &[PlannedNumber] {
        &self.list
    }

    /// How many are in line, and how many there are to bring in line.
    pub fn in_line(&self) -> (usize, usize) {
        let counted = || self.list.iter().filter(|one| one.verdict != Verdict::NotKnown);
        (counted().filter(|one| one.verdict == Verdict::InLine).count(), counted().count())
    }
}

/// Puts everything worked out into the registry's numbers.
pub fn numbers(model: &Model<'_>, worked: &Worked) -> Numbers {
    let planned = planned(model, worked);
    let list = number::all()
        .flat_map(|number| number.sides.each().iter().map(move |side| (number, *side)))
        .map(|(number, side)| {
            let planned = planned
                .get(&(number.id, side))
                .cloned()
                .unwrap_or_else(|| Err(Missing::refused("the program does not work this number out")));
            column(model, worked, number, side, planned)
        })
        .collect();
    Numbers { list }
}

fn column(
    model: &Model<'_>,
    worked: &Worked,
    number: &'static Number,
    side: Side,
    planned: Known<f64>,
) -> PlannedNumber {
    let asked = worked.target.values.get(&(number.id, side)).copied();
    let measured = model.build.reading_of(number, side).and_then(|reading| {
        reading.value.as_ref().map(|value| MeasuredValue {
            value: value.value,
            plus_minus: reading.plus_minus.as_ref().map(|given| given.value),
            by: reading.form.by.as_ref().map(|given| given.value.clone()),
            on: reading.form.on.as_ref().map(|given| given.value),
        })
    });
    let tolerance = model
        .build
        .asked_of(number, side)
        .and_then(|asked| asked.tolerance.as_ref())
        .map_or(number.tolerance.value, |given| given.value);
    let wanted = asked.map(|asked| asked.value);
    let difference = match (&measured, &planned, wanted) {
        (Some(read), _, Some(wanted)) => Some(read.value - wanted),
        (Some(read), Ok(planned), None) => Some(read.value - planned),
        (None, Ok(planned), Some(wanted)) => Some(planned - wanted),
        _ => None,
    };
    // A derived figure colours nothing by itself: the figures it was derived from are judged already.
    let verdict = match difference {
        Some(off) if off.abs() > tolerance + slack(tolerance) => Verdict::Moved,
        Some(_) if measured.is_some() => Verdict::InLine,
        Some(_) => Verdict::NotRead,
        None if measured.is_none() && planned.is_ok() => Verdict::NotRead,
        None => Verdict::NotKnown,
    };
    PlannedNumber { number, side, asked, planned, measured, difference, tolerance, verdict }
}

/// Room for the last binary digit: a reading exactly on its tolerance is within it.
fn slack(tolerance: f64) -> f64 {
    tolerance.abs() * 1e-9 + 1e-9
}

/// A number is asked for in so many words, and not only derived from others.
impl PlannedNumber {
    /// It was received from somebody.
    pub fn was_asked(&self) -> bool {
        self.asked.is_some_and(|asked| asked.how != How::Derived)
    }
}

type Column = BTreeMap<NumberKey, Known<f64>>;

fn planned(model: &Model<'_>, worked: &Worked) -> Column {
    let mut column = Column::new();
    let mut put = |number: &Number, side: Side, value: Known<f64>| {
        column.insert((number.id, side), value);
    };
    let Worked { chassis, front, rear, steerer, clearance, .. } = worked;
    let settings = &model.settings;

    for side in [Side::Left, Side::Right] {
        let trough = front.hood(side).clone().map(|hood| hood.trough);
        put(&number::HOOD_X, side, trough.clone().map(|point| point.x_mm));
        put(&number::HOOD_Y, side, trough.clone().map(|point| point.y_mm));
        let pair = both(&rear.points, front.hood(side));
        put(
            &number::SADDLE_TO_HOOD,
            side,
            pair.clone().map(|(saddle, hood)| {
                (hood.trough.x_mm - saddle.reference.x_mm).hypot(hood.trough.y_mm - saddle.reference.y_mm)
            }),
        );
        put(&number::SADDLE_HOOD_DROP, side, pair.map(|(saddle, hood)| saddle.reference.y_mm - hood.trough.y_mm));
    }
    put(&number::BAR_X, Side::None, front.bar_clamp.clone().map(|point| point.x_mm));
    put(&number::BAR_Y, Side::None, front.bar_clamp.clone().map(|point| point.y_mm));
    let pair = both(&rear.points, &front.bar_clamp);
    put(&number::SADDLE_TO_BAR, Side::None, pair.clone().map(|(saddle, bar)| saddle.nose.distance_mm(bar)));
    put(&number::SADDLE_BAR_DROP, Side::None, pair.map(|(saddle, bar)| saddle.reference.y_mm - bar.y_mm));
    put(&number::BAR_WIDTH, Side::None, model.width_at_hoods_mm());
    put(&number::BAR_WIDTH_ENDS, Side::None, front.end_width_mm.clone());
    put(&number::BAR_ROLL, Side::None, fact!(settings, bar_roll_deg));
    put(&number::BAR_WIDTH_OUTSIDE, Side::None, race::bar_width_outside(model, front));
    put(&number::BAR_AHEAD, Side::None, race::bar_ahead(model, front, chassis));
    for side in [Side::Left, Side::Right] {
        put(&number::BAR_FLARE, side, race::bar_flare(model, front));
        put(&number::HOOD_LEAN, side, race::hood_lean(model, side));
    }
    put(&number::HOOD_GAP, Side::None, front.hood_gap_mm.clone());
    put(&number::HOOD_TOE_IN, Side::Left, fact!(settings, toe_in_left_mm));
    put(&number::HOOD_TOE_IN, Side::Right, fact!(settings, toe_in_right_mm));
    put(&number::LEVER_FROM_END, Side::Left, fact!(settings, lever_from_end_left_mm));
    put(&number::LEVER_FROM_END, Side::Right, fact!(settings, lever_from_end_right_mm));
    put(&number::LEVER_REACH, Side::Left, fact!(settings, lever_reach_left_mm));
    put(&number::LEVER_REACH, Side::Right, fact!(settings, lever_reach_right_mm));
    for (side, set) in
        [(Side::Left, fact!(settings, tape_turns_left)), (Side::Right, fact!(settings, tape_turns_right))]
    {
        let tape = worked.tape.side(side);
        // Where no turns are set, they follow from the overlap.
        let turns = tape.clone().map(|tape| tape.turns_to_lever);
        put(&number::TAPE_TURNS, side, set.or_else(|missing| turns.map_err(|_| missing)));
        put(&number::TAPE_OVERLAP, side, tape.clone().map(|tape| tape.outside_percent));
        put(&number::TAPE_LEFT, side, tape.clone().map(|tape| tape.left_mm));
    }
    put(&number::TAPE_STOP, Side::Left, fact!(settings, tape_stop_left_mm));
    put(&number::TAPE_STOP, Side::Right, fact!(settings, tape_stop_right_mm));
    put(&number::COMPUTER_OFFSET, Side::None, fact!(settings, computer_offset_mm));

    put(&number::SPACERS_UNDER, Side::None, fact!(settings, spacers_under_mm));
    put(&number::SPACERS_OVER, Side::None, fact!(settings, spacers_over_mm));
    put(&number::STEERER_CUT, Side::None, steerer.stack.clone().map(|stack| stack.cut_length_mm()));
    put(&number::STEERER_BELOW, Side::None, fact!(settings, set_down_mm));
    put(&number::STEERER_PROUD, Side::None, steerer.stack.clone().map(|stack| stack.proud_of_clamp_mm()));
    put(&number::STEM_LENGTH, Side::None, front.stem.clone().map(|stem| stem.length_mm));
    put(&number::STEM_ANGLE, Side::None, front.stem.clone().map(|stem| stem.angle_deg));

    put(&number::WHEELBASE, Side::None, chassis.ground.clone().map(|ground| ground.wheelbase_mm));
    put(&number::FRONT_CENTRE, Side::None, chassis.front_axle.clone().map(Point2::length_mm));
    put(&number::TRAIL, Side::None, chassis.steering.clone().map(|steering| steering.trail_mm()));
    put(&number::WHEEL_FLOP, Side::None, chassis.steering.clone().map(|steering| steering.wheel_flop_mm()));
    put(&number::HEAD_ANGLE, Side::None, chassis.steering.clone().map(|steering| steering.head_angle_on_ground_deg()));
    put(&number::BB_HEIGHT, Side::None, chassis.ground.clone().map(|ground| ground.bb_height_mm));
    put(&number::FRONT_AXLE_AHEAD, Side::None, chassis.front_axle.clone().map(|axle| axle.x_mm));
    put(&number::REAR_AXLE_BEHIND, Side::None, chassis.rear_axle.clone().map(|axle| -axle.x_mm));
    put(&number::BIKE_LENGTH, Side::None, race::bike_length(model, chassis));
    put(&number::FORK_INSIDE, Side::None, race::only_read(&number::FORK_INSIDE));
    put(&number::STAYS_INSIDE, Side::None, race::only_read(&number::STAYS_INSIDE));
    put(&number::TOE_CONTACT, Side::None, clearance.toe_contact_deg.clone());

    put(&number::CRANK_LENGTH, Side::None, fact!(model.crankset, arm_length_mm));
    put(&number::PEDAL_CLEARANCE, Side::None, clearance.pedal_lean_deg.clone());
    for (number, value) in super::transmission::numbers(model, &worked.transmission) {
        put(number, Side::None, value);
    }
    put(&number::DEVELOPMENT_LONGEST, Side::None, race::development_longest(&worked.transmission));
    for side in [Side::Front, Side::Rear] {
        put(&number::RIM_DEPTH, side, race::rim_depth(model, side));
        put(&number::WHEEL_DIAMETER, side, race::wheel_diameter(model, side));
        put(&number::SPOKES, side, race::spokes(model, side));
    }
    put(&number::TYRE_WIDTH, Side::Front, fact!(model.tyre_front, width_measured_mm));
    put(&number::TYRE_WIDTH, Side::Rear, fact!(model.tyre_rear, width_measured_mm));

    put(&number::SADDLE_HEIGHT, Side::None, rear.points.clone().map(|saddle| saddle.reference.length_mm()));
    put(&number::SADDLE_HEIGHT_VERTICAL, Side::None, rear.points.clone().map(|saddle| saddle.reference.y_mm));
    put(&number::SADDLE_SETBACK, Side::None, rear.points.clone().map(|saddle| -saddle.nose.x_mm));
    put(&number::SADDLE_TILT, Side::None, fact!(settings, saddle_tilt_deg));
    put(&number::SADDLE_LENGTH, Side::None, fact!(model.saddle, length_mm));
    put(&number::POST_EXTENSION, Side::None, fact!(settings, post_extension_mm));
    put(&number::POST_INSERTION, Side::None, rear.insertion.clone().map(|insertion| insertion.inserted_mm()));
    put(&number::RAIL_POSITION, Side::None, fact!(settings, rail_position_mm));
    finish(model, worked, &mut put);
    column
}

/// Mass, loads and pressures.
fn finish(model: &Model<'_>, worked: &Worked, put: &mut impl FnMut(&Number, Side, Known<f64>)) {
    let settings = &model.settings;
    put(&number::MASS, Side::None, worked.mass.sum.clone().map(|sum| sum.mass_g));
    let wheels = worked.mass.balance.clone().map(|balance| balance.wheels);
    put(&number::WHEEL_LOAD, Side::Front, wheels.clone().map(|wheels| wheels.front_g));
    put(&number::WHEEL_LOAD, Side::Rear, wheels.map(|wheels| wheels.rear_g));
    for (side, set) in
        [(Side::Front, fact!(settings, pressure_front_kpa)), (Side::Rear, fact!(settings, pressure_rear_kpa))]
    {
        let tyre = worked.tyres.at(side);
        put(&number::RIDER_LOAD, side, tyre.load.clone().map(|load| load.mass_g));
        put(&number::START_PRESSURE, side, tyre.start.clone().map(|start| start.kpa));
        put(&number::TYRE_PRESSURE, side, set);
        let share = both(&tyre.drop_mm, &tyre.width_mm).map(|(drop_mm, width_mm)| 100.0 * drop_mm / width_mm);
        put(&number::TYRE_DROP, side, share);
    }
}

/// Both, or everything that is missing for either.
fn both<A: Clone, B: Clone>(a: &Known<A>, b: &Known<B>) -> Known<(A, B)> {
    match (a, b) {
        (Ok(a), Ok(b)) => Ok((a.clone(), b.clone())),
        (Err(missing), Err(other)) => Err(missing.clone().and(other)),
        (Err(missing), Ok(_)) | (Ok(_), Err(missing)) => Err(missing.clone()),
    }
}
