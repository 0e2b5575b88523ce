//! Readings between points of a bike: what a tape, a plumb line, a height gauge or a digital level gave.
//!
//! A reading stands under any name of its own. One without a value is a reading that somebody means to take: it counts
//! where plans are judged, and nowhere else.

use super::Instrument;
use crate::choice;
use crate::record;

choice! {
    /// What is read.
    pub enum Taken {
        /// A tape from point to point.
        Straight = "straight",
        /// A rule across the bike, left point to right point.
        Across = "across",
        /// From the floor up to a point.
        Height = "height over the floor",
        /// Level distance between two plumb lines.
        Ahead = "level distance",
        /// Difference of two heights, by level and rule.
        Above = "difference in height",
        /// A digital level along the line from one point to the other.
        Slope = "slope",
        /// A rule square to a line.
        Off = "square to a line",
        /// A tape along a line, point to point.
        Along = "along a line",
        /// A digital level on a straightedge on the saddle's two highest points, nose up positive.
        SaddleTilt = "saddle tilt",
        /// A digital level on the floor along the bike, front up positive.
        FloorSlope = "floor slope",
    }
}

choice! {
    /// A point of the bike, as the trade names it.
    pub enum SurveyPoint {
        /// Bottom-bracket centre.
        BottomBracket = "bottom bracket",
        /// Centre of the rear axle.
        RearAxle = "rear axle",
        /// Centre of the front axle.
        FrontAxle = "front axle",
        /// Foremost point of the saddle.
        SaddleNose = "saddle nose",
        /// Middle of the saddle's top where it is 80 mm wide.
        SaddleTop = "saddle top",
        /// Rearmost point of the saddle.
        SaddleTail = "saddle tail",
        /// Centre of the clamp on the saddle's rails.
        RailClamp = "rail clamp",
        /// Centre of the top of the frame's collar.
        Collar = "seat collar",
        /// Centre of the bar in its clamp.
        BarClamp = "bar clamp",
        /// Lowest point of the left hood's trough, on its centre line.
        HoodLeft = "left hood",
        /// Lowest point of the right hood's trough, on its centre line.
        HoodRight = "right hood",
        /// Tip of the left hood.
        HoodTipLeft = "left hood tip",
        /// Tip of the right hood.
        HoodTipRight = "right hood tip",
        /// Centre of the left open end of the bar.
        BarEndLeft = "left bar end",
        /// Centre of the right open end of the bar.
        BarEndRight = "right bar end",
        /// Centre of the top of the head tube.
        HeadTop = "top of the head tube",
        /// Centre of the bottom of the head tube.
        HeadBottom = "bottom of the head tube",
        /// Centre of the crown-race seat.
        Crown = "crown-race seat",
    }
}

choice! {
    /// A line of the bike to which or along which something is read.
    pub enum SurveyLine {
        /// From the bottom-bracket centre up to the seat collar.
        SeatTube = "seat tube",
        /// From the bottom of the head tube up to its top.
        HeadTube = "head tube",
    }
}

record! {
    /// A reading between points of the bike.
    pub struct SurveyReading {
        what: Choice<Taken> "What is read.",
        from: Choice<SurveyPoint> "From which point; the bottom bracket where nothing is said.",
        to: Choice<SurveyPoint> "To which point.",
        line: Choice<SurveyLine> "Square to which line, or along which.",
        value_mm: Length(-2500.0..2500.0) "The length as read; empty for a reading that is yet to be taken. Ahead, up and away from a line's rear are positive.",
        angle_deg: Angle(-180.0..180.0) "The angle as read, for a slope or a tilt.",
        add_mm: Length(-100.0..100.0) "To be added so that it goes from point to point: half the bar's diameter where the tape went to its edge.",
        plus_minus_mm: Length(0.05..100.0) "How well a length was read: half the width of the interval in which the truth surely lies.",
        angle_plus_minus_deg: Angle(0.01..20.0) "The same of an angle.",
        with: Choice<Instrument> "What it was taken with.",
        by: Text "Who took it.",
        on: Day "When.",
        note: Text "Anything else.",
    }
}
