//! From the model to numbers, one file an area of the bike; every formula is in `mechanics`.
//!
//! A value is known or says what is missing for it. Nothing here judges; that is for the checks.

mod chain;
mod chassis;
mod clearance;
mod cockpit;
mod fasteners;
mod mass;
mod numbers;
mod race;
mod remedy;
mod saddle;
mod steerer;
mod tape;
mod target;
mod transmission;
mod tyres;
mod wiring;

pub use chain::{CageInGear, ChainPlan, LENGTHS, Longest, LongestIn, MARGIN_LINKS, OwnCage, PivotFrom};
pub(crate) use chassis::head_tube_top;
pub use chassis::{Chassis, chassis, cover_read_otherwise, frame_table};
pub use clearance::{Clearance, clearance};
pub use cockpit::{Front, StemInPlace, bar_figures, front, stem_in_place};
pub(crate) use cockpit::{figures_of, lever_body};
pub use fasteners::{
    FRICTION_ANY, FRICTION_DRY, FRICTION_GREASED, Fastener, Fasteners, Preload, TorqueLimit, TorqueSays,
    WRENCH_LARGE_PERCENT, WRENCH_SMALL_PERCENT, WrenchUsed, fasteners, friction_of, proof_stress_mpa, thread,
};
pub use mass::{
    AreaMass, Balance, Explanation, Inclusion, MOST_EXPLANATIONS, Mass, MassItem, MassPlace, MassSum,
    SCALE_PLUS_MINUS_G, ScaleAgainstList, UNLISTED_LEAST_G, UNLISTED_MOST_G, mass,
};
pub use numbers::{MeasuredValue, Numbers, PlannedNumber, Verdict, numbers};
pub use remedy::{PostAndRails, saddle_setting, stem_for};
pub use saddle::{Rear, rear};
pub(crate) use saddle::{rail_range_of, seat_tube};
pub use steerer::{Steerer, steerer};
pub use tape::{BY_HAND_SHARE, END_TUCK_MM, PIECE_TUCK_MM, PitchFrom, Tape, TapeSide, tape};
pub use target::{AskedValue, Contradiction, How, LOOP_LIMIT_MM, Open, Target, target};
pub(crate) use transmission::drivetrain;
pub use transmission::smallest_in_use;
pub use transmission::{
    Across, Avoid, CADENCE_PER_MINUTE, Capacity, GearLimits, GearLine, MOST_RINGS, MOST_SPROCKETS, NEARLY,
    OUT_OF_LINE_DEG, RearRolling, RollingFrom, ThumbRules, Transmission, transmission,
};
pub use tyres::{
    CHART_SHARE, HOOKLESS_KPA, LoadFrom, PressureLimit, PressureStart, RIDER_AHEAD_PLUS_MINUS, RIDER_AHEAD_SHARE,
    StartFrom, TOP_UP_SHARE, TopUp, TyreAtWheel, Tyres, WITHOUT_TUBE_KPA, WheelLoad, customary_days, tyres,
};
pub(crate) use wiring::stations;
pub use wiring::{
    BAR_END_MM, Buy, CUSTOMARY_MM, INSIDE_MM, LEVER_LOOP_MM, OUTSIDE_MM, Port, PortEnd, STEERING_MM, Unit, Way,
    WireEnd, WireRun, Wiring, station_word, wiring,
};
pub use witnessmark_mechanics::chain::Lies;

use crate::model::Model;

/// Everything worked out before it is put into the registry's numbers: points and lengths, each known or not.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// What was asked, in the house's definitions.
    pub target: Target,
    /// How the bike stands.
    pub chassis: Chassis,
    /// Steerer and stack.
    pub steerer: Steerer,
    /// Bar and hoods.
    pub front: Front,
    /// Saddle and post.
    pub rear: Rear,
    /// Toe and pedal clearances.
    pub clearance: Clearance,
    /// Gears, chain and chain line.
    pub transmission: Transmission,
    /// The shift wires.
    pub wiring: Wiring,
    /// Every bolt, in the order of the torque round.
    pub fasteners: Fasteners,
    /// The bar tape.
    pub tape: Tape,
    /// The mass, as it is weighed.
    pub mass: Mass,
    /// Tyre pressures.
    pub tyres: Tyres,
}

/// Works everything out.
pub fn work_out(model: &Model<'_>) -> Worked {
    let chassis = chassis(model);
    let front = front(model, &chassis);
    let rear = rear(model);
    let mass = mass(model, &chassis, &front, &rear);
    Worked {
        target: target(model),
        steerer: steerer(model),
        clearance: clearance(model, &chassis),
        transmission: transmission(model),
        wiring: wiring(model, &chassis, &front, &rear),
        fasteners: fasteners(model),
        tape: tape(model, &front),
        tyres: tyres(model, &chassis, &front, &rear, &mass),
        mass,
        chassis,
        front,
        rear,
    }
}
