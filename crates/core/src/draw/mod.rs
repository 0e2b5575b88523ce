//! Model and numbers → lines to scale, for page and sheet alike.
//!
//! Millimetres in the frame of the bike: origin at the bottom bracket, x forward, y up. Whoever shows a drawing turns
//! roles into strokes; nothing here knows a colour.

mod chain;
mod gears;
mod mass;
pub mod paper;
mod pressure;
mod side;
pub mod sign;
mod tape;
mod wiring;

pub use chain::{ChainDrawing, chain};
pub use gears::{GearChart, GearScale, LimitMark, Notch, ScaleMark, Tie, gear_chart};
pub use mass::{MassBar, balance, mass_bars};
pub use pressure::{PressureMarks, PressureScale};
pub use side::side;
pub use tape::tape;
pub use wiring::wiring;

pub use witnessmark_mechanics::Point2;

/// What a shape stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// The ground.
    Ground,
    /// Wheel and tyre.
    Wheel,
    /// Frame and fork.
    Frame,
    /// A part as planned.
    Part,
    /// Where something is asked to be.
    Asked,
    /// Where something was measured.
    Measured,
}

/// A shape, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A line through points.
    Path(Vec<Point2>),
    /// A circle.
    Circle {
        /// Its centre.
        centre: Point2,
        /// Its radius.
        radius_mm: f64,
    },
}

/// A shape with its meaning.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What it stands for.
    pub role: Role,
    /// The shape.
    pub shape: Shape,
    /// Its width where it is drawn as a tube; 0 for a plain line.
    pub thickness_mm: f64,
    /// The addresses of numbers and parts that it shows, so that a finding lights it.
    pub about: Vec<String>,
}

/// A number's place on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Callout {
    /// Where it points.
    pub at: Point2,
    /// The address of the number: id and side.
    pub about: String,
}

/// A drawing, mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// The shapes, back to front.
    pub marks: Vec<Mark>,
    /// The places of numbers.
    pub callouts: Vec<Callout>,
}

impl Drawing {
    /// The lower left and upper right corners of everything drawn.
    pub fn bounds(&self) -> Option<(Point2, Point2)> {
        let mut corners: Option<(Point2, Point2)> = None;
        let mut reach = |x_mm: f64, y_mm: f64| {
            let (low, high) = corners.get_or_insert((Point2 { x_mm, y_mm }, Point2 { x_mm, y_mm }));
            low.x_mm = low.x_mm.min(x_mm);
            low.y_mm = low.y_mm.min(y_mm);
            high.x_mm = high.x_mm.max(x_mm);
            high.y_mm = high.y_mm.max(y_mm);
        };
        for mark in &self.marks {
            let pad = mark.thickness_mm / 2.0;
            match &mark.shape {
                Shape::Path(points) => {
                    for point in points {
                        reach(point.x_mm - pad, point.y_mm - pad);
                        reach(point.x_mm + pad, point.y_mm + pad);
                    }
                }
                Shape::Circle { centre, radius_mm } => {
                    reach(centre.x_mm - radius_mm - pad, centre.y_mm - radius_mm - pad);
                    reach(centre.x_mm + radius_mm + pad, centre.y_mm + radius_mm + pad);
                }
            }
        }
        corners
    }
}
