//! Saddle and post.

use super::{Area, Forms, Line, SaddlePoint, Sides, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Saddle height, straight.
    SADDLE_HEIGHT = {
        id: "saddle-height",
        name: "saddle height",
        kind: Kind::Length,
        area: Area::Saddle,
        sides: Sides::One,
        definition: "Straight distance, seen from the side, from the bottom-bracket centre to the middle of the saddle's top where it is 80 mm wide.",
        how: "Steel tape held at the centre of the crank bolt, to the marked point of the saddle.",
        tolerance: tolerance(1.0),
        customary: customary(580.0, 850.0),
        forms: Forms {
            line: &[Line::Straight, Line::Vertical, Line::AlongSeatTube],
            from: &[SaddlePoint::Width, SaddlePoint::Dip, SaddlePoint::Middle],
            ..Forms::PLAIN
        },
    }
    /// Saddle height, vertical.
    SADDLE_HEIGHT_VERTICAL = {
        id: "saddle-height-vertical",
        name: "saddle height, straight up",
        kind: Kind::Length,
        area: Area::Saddle,
        sides: Sides::One,
        definition: "Height of the middle of the saddle's top, where it is 80 mm wide, above the bottom-bracket centre.",
        how: "Height gauge from the floor, less the height of the bottom-bracket centre; bike level.",
        tolerance: tolerance(1.0),
        customary: customary(570.0, 820.0),
        forms: Forms { from: &[SaddlePoint::Width, SaddlePoint::Dip, SaddlePoint::Middle], ..Forms::PLAIN },
    }
    /// Setback of the nose.
    SADDLE_SETBACK = {
        id: "saddle-setback",
        name: "saddle setback, nose behind the bottom bracket",
        kind: Kind::Length,
        area: Area::Saddle,
        sides: Sides::One,
        definition: "Level distance from the bottom-bracket centre back to the saddle's nose; behind is positive.",
        how: "Plumb line or line laser at the nose; rule to the bottom-bracket centre; bike level.",
        tolerance: tolerance(2.0),
        customary: customary(-60.0, 110.0),
        forms: Forms { from: &[SaddlePoint::Nose, SaddlePoint::Width], ..Forms::PLAIN },
    }
    /// Saddle tilt.
    SADDLE_TILT = {
        id: "saddle-tilt",
        name: "saddle tilt",
        kind: Kind::Angle,
        area: Area::Saddle,
        sides: Sides::One,
        definition: "Angle of a straightedge laid on the saddle's two highest points, front and rear, to level ground; nose up positive.",
        how: "Straightedge and digital level, zeroed on the line of the axles.",
        tolerance: tolerance(0.5),
        customary: customary(-9.0, 2.0),
        forms: Forms::PLAIN,
    }
    /// Length of the saddle.
    SADDLE_LENGTH = {
        id: "saddle-length",
        name: "saddle length",
        kind: Kind::Length,
        area: Area::Saddle,
        sides: Sides::One,
        definition: "Level distance from the saddle's foremost to its rearmost point.",
        how: "Two squares on a straight rule, saddle as it stands.",
        tolerance: tolerance(1.0),
        customary: customary(200.0, 310.0),
        forms: Forms::PLAIN,
    }
    /// Post extension.
    POST_EXTENSION = {
        id: "post-extension",
        name: "post extension",
        kind: Kind::Length,
        area: Area::Saddle,
        sides: Sides::One,
        definition: "Along the post from the top of the frame's collar to the centre of the rail clamp, where a post with layback is taken square to the post's axis.",
        how: "Steel rule along the back of the post.",
        tolerance: tolerance(1.0),
        customary: customary(40.0, 320.0),
        forms: Forms::PLAIN,
    }
    /// Post insertion.
    POST_INSERTION = {
        id: "post-insertion",
        name: "post insertion",
        kind: Kind::Length,
        area: Area::Saddle,
        sides: Sides::One,
        definition: "Length of post inside the frame, from the top of the collar down to the post's end.",
        how: "Mark the post at the collar, draw it out, rule from the mark to its end.",
        tolerance: tolerance(1.0),
        customary: customary(60.0, 300.0),
        forms: Forms::PLAIN,
    }
    /// Rail position.
    RAIL_POSITION = {
        id: "rail-position",
        name: "rail position",
        kind: Kind::Length,
        area: Area::Saddle,
        sides: Sides::One,
        definition: "How far the middle of the saddle's usable rail stands forward of the middle of the clamp, along the rails.",
        how: "Read the scale on the rail at the middle of the clamp.",
        tolerance: tolerance(1.0),
        customary: customary(-30.0, 30.0),
        forms: Forms::PLAIN,
    }
}
