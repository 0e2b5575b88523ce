//! The build document: who rides, what was asked, which parts, how they are set, what was read.
//!
//! One structure, two ways to hold it: the tables of a file, and the *leaves*, pairs of a path and a text, that a store
//! keeps and an edit changes. [`Build::leaves`] and [`Build::set`] are each other's inverse.

mod business;
mod fasteners;
mod path;
pub mod sample;
mod sample_drive;
mod sample_finish;
mod service;
mod steps;
mod survey;
mod weighing;

use crate::choice;
use crate::number::{Across, BarPoint, Cover, Line, Number, SaddlePoint, Side};
use crate::part::Parts;
use crate::record;
use crate::rulebook::Rules;
use std::collections::BTreeMap;

pub use business::{Quote, SheetPhoto, Show, Work};
pub use fasteners::{FastenerRecord, FastenerState, StrengthClass, Wrench};
pub(crate) use path::part_path;
pub use path::{SECTIONS, Section, Unknown};
pub use service::ServiceRecord;
pub use steps::{StepRecord, StepState};
pub use survey::{SurveyLine, SurveyPoint, SurveyReading, Taken};
pub use weighing::{Liked, Weighing};

/// The version of the document's form that this program writes. A file with a higher one is refused.
pub const FORM: u32 = 1;

choice! {
    /// How far a build has come.
    pub enum Stage {
        /// The position is asked for; parts are being chosen.
        Asked = "asked",
        /// Parts and settings are chosen; nothing is cut.
        Planned = "planned",
        /// On the stand.
        OnTheStand = "on the stand",
        /// Built and measured.
        Finished = "finished",
    }
}

record! {
    /// What this build is for.
    pub struct Job {
        title: Text "What the workshop calls this build.",
        workshop: Text "The workshop that builds it, as it signs a sheet.",
        stage: Choice<Stage> "How far it has come.",
        day: Day "The day on which it must be ready and allowed to race.",
        handed_over_on: Day "The day on which it was handed over; the service plan counts from it.",
        recheck_on: Day "The day agreed for the first re-check of every bolt, after the first rides.",
        front_brake_by_law: Choice<Hand> "The hand that law prescribes for the front brake where the bike is supplied.",
        event: Text "What it is built for.",
        rules: Choice<Rules> "Under whose rules it races.",
        note: Text "Anything else.",
    }
}

record! {
    /// Who rides it.
    pub struct Rider {
        name: Text "As the workshop calls the rider.",
        mass_g: Mass(25_000.0..200_000.0) "Ready to ride, with shoes and helmet.",
        birth_year: Count(1900.0..2100.0) "Year of birth, where a rule depends on the age: the gears of young riders.",
        front_brake: Choice<Hand> "The hand that works the front brake, agreed with the rider in writing.",
        km_a_year: Plain(0.0..60000.0) "Kilometres ridden in a year, wet ones and hours indoors counted double.",
        note: Text "Anything else.",
    }
}

choice! {
    /// A hand.
    pub enum Hand {
        /// The left hand.
        Left = "left",
        /// The right hand.
        Right = "right",
    }
}

record! {
    /// The bike or jig on which the position was found, as far as its figures depend on it.
    pub struct Fit {
        by: Text "Who made the fit.",
        on: Day "When.",
        saddle: Text "The saddle it was made on.",
        nose_to_reference_mm: Length(40.0..260.0) "On that saddle, nose back to where it is 80 mm wide, level.",
        reference_width_mm: Length(50.0..120.0) "Where the fitter says the reference point is: the width of the saddle there.",
        reference_ahead_mm: Length(-60.0..60.0) "How far ahead of the 80 mm place the fitter's reference point lies, level.",
        dip_below_reference_mm: Length(-20.0..40.0) "On that saddle, how far its lowest point lies below the reference point.",
        crank_length_mm: Length(100.0..200.0) "Crank length the heights were found with.",
        pedal_stack_mm: Length(0.0..60.0) "Pedal-axle centre to the sole that the heights were found with.",
        head_angle_deg: Angle(55.0..85.0) "Head angle of the bike the fit was made on, where stem angles are given from the level.",
        seat_angle_deg: Angle(60.0..85.0) "Seat angle, where heights are given along the seat tube.",
        bar_diameter_mm: Length(20.0..40.0) "Bar diameter, where figures go to an edge of the bar.",
        cover_height_mm: Length(0.0..60.0) "Top cover, where spacers are given with it.",
    }
}

record! {
    /// How a number was asked for, as received. Its value stands beside it: [`Asked`].
    pub struct AskedForm {
        line: Choice<Line> "Along which line the fitter took it.",
        from: Choice<SaddlePoint> "From which point of the saddle.",
        to: Choice<BarPoint> "To which point of the cockpit.",
        across: Choice<Across> "Between what.",
        cover: Choice<Cover> "With or without the top cover.",
        by: Text "Who asks for it: the rider, the fitter, a rule.",
        note: Text "The words as received.",
    }
}

/// A number asked for, as received: its value, how far off is still right, and the fitter's own definition.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// The value as received, in the unit of the house.
    pub value: Option<crate::field::Given<f64>>,
    /// How far off is still right, where the rider wants it closer or looser than custom.
    pub tolerance: Option<crate::field::Given<f64>>,
    /// The fitter's definition.
    pub form: AskedForm,
}

choice! {
    /// What a reading was taken with.
    pub enum Instrument {
        /// Steel tape.
        Tape = "steel tape",
        /// Steel rule.
        Rule = "steel rule",
        /// Caliper.
        Caliper = "caliper",
        /// Depth gauge.
        DepthGauge = "depth gauge",
        /// Height gauge.
        HeightGauge = "height gauge",
        /// Plumb line or line laser with a rule.
        Plumb = "plumb line",
        /// Digital level.
        Level = "digital level",
        /// Laser distance meter.
        Laser = "laser",
        /// Scale.
        Scale = "scale",
        /// Torque wrench.
        Wrench = "torque wrench",
        /// By eye or by count.
        Eye = "by eye",
        /// Not read by itself: adjusted from the readings of the survey.
        Survey = "survey",
    }
}

record! {
    /// How a number was read. Its value stands beside it: [`Reading`].
    pub struct ReadingForm {
        with: Choice<Instrument> "What it was taken with.",
        by: Text "Who took it.",
        on: Day "When.",
        note: Text "What should be known about it: for a mass, what was on the bike.",
    }
}

/// A number as read off the bike.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// The value, in the unit of the house.
    pub value: Option<crate::field::Given<f64>>,
    /// How well it was read: half the width of the interval in which the truth surely lies.
    pub plus_minus: Option<crate::field::Given<f64>>,
    /// How it was read.
    pub form: ReadingForm,
}

choice! {
    /// How bar tape passes a lever.
    pub enum TapeAtLever {
        /// One pass behind the lever, and a piece of tape of its own over the clamp.
        Piece = "piece behind the lever",
        /// Up, down and up again behind the lever, no piece.
        FigureOfEight = "figure of eight",
        /// One pass; the hood hides what is left bare.
        Once = "passed once",
    }
}

record! {
    /// How the parts are set: what the mechanic chooses.
    pub struct Settings {
        spacers_under_mm: Length(0.0..100.0) "Loose spacers under the stem, top cover not counted.",
        spacers_over_mm: Length(0.0..60.0) "Loose spacers over the stem.",
        set_down_mm: Length(0.0..10.0) "How far the steerer is to end below the top of the stack.",
        expander_depth_mm: Length(0.0..100.0) "From the top of the steerer down to the expander's flange.",
        stem_flipped: YesNo "The stem is fitted the other way up than printed.",
        bar_roll_deg: Angle(-30.0..30.0) "Bar turned in its clamp from the maker's attitude, nose up positive.",
        bar_cut_mm: Length(0.0..150.0) "To be cut off each end of the bar, both alike; nothing where it stays as it is. Distances from the bar's end are then from the new end.",
        lever_from_end_left_mm: Length(0.0..500.0) "Left lever: bar's end to the underside of the hood, along the outside of the bend.",
        lever_from_end_right_mm: Length(0.0..500.0) "Right lever: bar's end to the underside of the hood, along the outside of the bend.",
        toe_in_left_mm: Length(-60.0..80.0) "Left hood: tip inward of its root.",
        toe_in_right_mm: Length(-60.0..80.0) "Right hood: tip inward of its root.",
        lever_reach_left_mm: Length(10.0..150.0) "Left: front of the bar to the inside of the blade.",
        lever_reach_right_mm: Length(10.0..150.0) "Right: front of the bar to the inside of the blade.",
        tape_turns_left: Plain(0.0..60.0) "Left: turns of tape from the end to the lever.",
        tape_turns_right: Plain(0.0..60.0) "Right: turns of tape from the end to the lever.",
        tape_overlap_percent: Percent(0.0..80.0) "How much of its width each turn of tape lies on the one before, on a straight run; where turns are set, they decide.",
        tape_at_lever: Choice<TapeAtLever> "How the tape passes the levers.",
        tape_over_lever_mm: Length(0.0..400.0) "Tape that passing one lever takes, where this workshop has measured it.",
        tape_stop_left_mm: Length(0.0..300.0) "Left: mount's centre to the edge of the tape.",
        tape_stop_right_mm: Length(0.0..300.0) "Right: mount's centre to the edge of the tape.",
        computer_offset_mm: Length(-200.0..250.0) "Bar's centre forward to the computer's centre.",
        pressure_front_kpa: Pressure(100.0..1500.0) "Pressure of the front tyre at hand-over.",
        pressure_rear_kpa: Pressure(100.0..1500.0) "Pressure of the rear tyre at hand-over.",
        post_extension_mm: Length(0.0..400.0) "Top of the collar to the centre of the rail clamp, along the post.",
        post_cut_mm: Length(0.0..300.0) "To be cut off the post's lower end; nothing where it stays as it is.",
        rail_position_mm: Length(-60.0..60.0) "Middle of the usable rail forward of the middle of the clamp.",
        chain_links: Count(60.0..160.0) "Links of the chain, closed: each inner and each outer one counted, the joining link too.",
        inner_ring_from_sprocket: Count(8.0..60.0) "Smallest sprocket that is used with the inner ring; the smaller ones are locked off or left alone.",
        outer_ring_to_sprocket: Count(8.0..60.0) "Largest sprocket that is used with the outer ring; the larger ones are locked off or left alone.",
        cadence_per_minute: Plain(30.0..140.0) "Turns of the crank a minute for which speeds are shown.",
        saddle_tilt_deg: Angle(-20.0..20.0) "Straightedge on the saddle's two highest points to the level, nose up positive.",
    }
}

record! {
    /// What the search for a position may change, and how finely.
    pub struct Search {
        spacers_under_mm: Lengths(0.0..100.0) "Heights of spacers under the stem that can be made up.",
        bar_roll_deg: Angles(-30.0..30.0) "Bar rolls to try.",
        lever_from_end_mm: Lengths(0.0..500.0) "Lever places to try, both sides alike.",
        toe_in_mm: Lengths(-60.0..80.0) "Toe-ins to try, both sides alike.",
        saddle_tilt_deg: Angles(-20.0..20.0) "Saddle tilts to try.",
        within_mm: Length(0.1..60.0) "How far off a hood may be and still be shown.",
    }
}

/// A key of the asked and measured tables: the number's id and the side.
pub type NumberKey = (&'static str, Side);

/// A build document. Every field of every table may be missing; a half-filled document is normal.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Build {
    /// What it is for.
    pub job: Job,
    /// Who rides it.
    pub rider: Rider,
    /// Where the position was found.
    pub fit: Fit,
    /// What is asked. On a number with sides, [`Side::None`] means both alike.
    pub asked: BTreeMap<NumberKey, Asked>,
    /// The parts of the bike.
    pub parts: Parts,
    /// How they are set.
    pub settings: Settings,
    /// What was read off the bike.
    pub measured: BTreeMap<NumberKey, Reading>,
    /// Readings between points of the bike, each under any name.
    pub survey: BTreeMap<String, SurveyReading>,
    /// What was done at the stand, each step under its id.
    pub steps: BTreeMap<String, StepRecord>,
    /// What was done to each bolt, under the bolt's id.
    pub fasteners: BTreeMap<String, FastenerRecord>,
    /// The torque wrenches used, each under its name.
    pub wrenches: BTreeMap<String, Wrench>,
    /// When each service was last done, under the id of the service.
    pub serviced: BTreeMap<String, ServiceRecord>,
    /// How it was weighed.
    pub weighing: Weighing,
    /// Pressures that the rider liked elsewhere.
    pub liked: Liked,
    /// The head of the quote.
    pub quote: Quote,
    /// The lines of work on the quote, each under any name.
    pub work: BTreeMap<String, Work>,
    /// What the page of the finished bike may show.
    pub show: Show,
    /// The numbers that it may show, by their ids.
    pub shown: BTreeMap<&'static str, crate::field::Given<bool>>,
    /// Which photos stand on which sheet, under the name of each photo.
    pub photos: BTreeMap<String, SheetPhoto>,
    /// Parts that could be fitted instead, each kind under any names.
    pub shelf: Parts,
    /// What the search may change.
    pub search: Search,
}

impl Build {
    /// What is asked of this number on this side: the side's own, or the one for both.
    pub fn asked_of(&self, number: &Number, side: Side) -> Option<&Asked> {
        self.asked.get(&(number.id, side)).or_else(|| self.asked.get(&(number.id, Side::None)))
    }

    /// The reading of this number on this side.
    pub fn reading_of(&self, number: &Number, side: Side) -> Option<&Reading> {
        self.measured.get(&(number.id, side))
    }
}
