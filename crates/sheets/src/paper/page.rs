//! A page before it is written: inks, shapes and letters at places in millimetres from its upper left corner.

use super::face::Shaped;
use super::structure::Piece;
use std::rc::Rc;

/// The sizes of paper that a workshop's printer takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 8½ × 11 in.
    Letter,
    /// One label of a roll: as wide as the roll, as high as its labels, mm. It takes labels and nothing else.
    Roll {
        /// Across the reading direction's left and right, mm.
        width_mm: u16,
        /// From its upper to its lower edge, mm.
        height_mm: u16,
    },
}

impl Paper {
    /// The words by which sheets of paper are asked for.
    pub const NAMES: [&'static str; 2] = ["a4", "letter"];

    /// How a paper is asked for, in words.
    pub const ASKED_AS: &'static str = "a4, letter, or for a label its width and height in mm, as 62x29";

    /// The smallest and the largest edge of a label, mm: below it no camera finds the code, above it is no label.
    pub const LABEL_EDGE_MM: std::ops::RangeInclusive<u16> = 24..=200;

    /// The paper of this name: `a4`, `letter`, or a label as `62x29`.
    pub fn from_name(name: &str) -> Option<Self> {
        match name.to_ascii_lowercase().as_str() {
            "a4" => Some(Paper::A4),
            "letter" => Some(Paper::Letter),
            label => {
                let (width, height) = label.split_once('x')?;
                let edge = |text: &str| text.parse().ok().filter(|edge| Self::LABEL_EDGE_MM.contains(edge));
                Some(Paper::Roll { width_mm: edge(width)?, height_mm: edge(height)? })
            }
        }
    }

    /// Width and height.
    pub(crate) fn size_mm(self) -> (f64, f64) {
        match self {
            Paper::A4 => (210.0, 297.0),
            Paper::Letter => (215.9, 279.4),
            Paper::Roll { width_mm, height_mm } => (f64::from(width_mm), f64::from(height_mm)),
        }
    }
}

/// The colours of the sheets: those of the pages by day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ink {
    Black,
    Pencil,
    Line,
    Wash,
    Band,
    Dye,
    DyeWash,
    Stop,
    StopWash,
    Tyre,
    Paper,
    /// What a reading leaves open, over the band.
    Spread,
}

impl Ink {
    pub(crate) const fn rgb(self) -> [u8; 3] {
        match self {
            Ink::Black => [0x15, 0x17, 0x1c],
            Ink::Pencil => [0x54, 0x59, 0x63],
            Ink::Line => [0xb9, 0xbd, 0xc5],
            Ink::Wash => [0xee, 0xef, 0xf1],
            Ink::Band => [0xd5, 0xd8, 0xde],
            Ink::Dye => [0x4a, 0x1f, 0xb8],
            Ink::DyeWash => [0xeb, 0xe5, 0xfa],
            Ink::Stop => [0xb3, 0x14, 0x0f],
            Ink::StopWash => [0xfb, 0xe6, 0xe3],
            Ink::Tyre => [0xd3, 0xd6, 0xdc],
            Ink::Paper => [0xff, 0xff, 0xff],
            Ink::Spread => [0x93, 0x96, 0x9e],
        }
    }
}

/// A place on a page, mm from its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct At {
    pub(crate) x: f64,
    pub(crate) y: f64,
}

pub(crate) const fn at(x: f64, y: f64) -> At {
    At { x, y }
}

/// The pen of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pen {
    pub(crate) ink: Ink,
    pub(crate) width: f64,
    pub(crate) round: bool,
}

pub(crate) const fn pen(ink: Ink, width: f64) -> Pen {
    Pen { ink, width, round: false }
}

/// A mark on a page.
#[derive(Clone, Debug)]
pub(crate) enum Mark {
    /// Letters on a base line.
    Letters { at: At, size_pt: f64, ink: Ink, letters: Rc<Shaped> },
    /// A filled shape with these corners.
    Fill { corners: Vec<At>, ink: Ink },
    /// Many filled squares of one size: a code to be read by a camera.
    Squares { corners: Vec<At>, side: f64, ink: Ink },
    /// A line through these points.
    Line { points: Vec<At>, pen: Pen, closed: bool },
    /// A photo in this rectangle.
    Photo { corner: At, width: f64, height: f64, photo: krilla::image::Image },
    /// A circle, filled, drawn, or both.
    Circle { centre: At, radius: f64, fill: Option<Ink>, pen: Option<Pen> },
}

impl Mark {
    /// The same, moved.
    pub(crate) fn moved(mut self, by: At) -> Self {
        let shift = |at: &mut At| {
            at.x += by.x;
            at.y += by.y;
        };
        match &mut self {
            Mark::Letters { at, .. } => shift(at),
            Mark::Fill { corners, .. } | Mark::Squares { corners, .. } => corners.iter_mut().for_each(shift),
            Mark::Line { points, .. } => points.iter_mut().for_each(shift),
            Mark::Photo { corner, .. } => shift(corner),
            Mark::Circle { centre, .. } => shift(centre),
        }
        self
    }
}

/// A filled rectangle.
pub(crate) fn rectangle(corner: At, width: f64, height: f64, ink: Ink) -> Mark {
    let At { x, y } = corner;
    Mark::Fill { corners: vec![at(x, y), at(x + width, y), at(x + width, y + height), at(x, y + height)], ink }
}

/// A straight line.
pub(crate) fn line(from: At, to: At, pen: Pen) -> Mark {
    Mark::Line { points: vec![from, to], pen, closed: false }
}

/// A mark with its place in the structure; without one it is an ornament that nobody reads aloud.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    pub(crate) mark: Mark,
    pub(crate) piece: Option<Piece>,
}

/// A heading's place, for the outline.
#[derive(Clone, Debug)]
pub(crate) struct Heading {
    pub(crate) page: usize,
    pub(crate) y: f64,
    pub(crate) text: String,
}
