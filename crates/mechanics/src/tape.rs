//! Bar tape as a strip wound on a tube: a helix on the straight, a helix round a ring on a bend.
//!
//! The strip advances by one pitch along the tube's centre line with each turn. Where it overlaps the turn before, two
//! layers lie on the bar; on a bend the turns fan out on the outside, where the overlap is least and the bar shows first,
//! and crowd on the inside.
//!
//! Valid for a strip that lies flat, on a tube that is round: lever bodies, end plugs and the bulge at the clamp are not in
//! here. A tape pulled by hand varies by some percent; a length is good to about a turn.

use crate::angle::sin_cos_deg;
use core::f64::consts::PI;

/// Of a stretch in length, how much the tape loses in width. Foams and weaves lie between 0.2 and 0.4: an assumption, from
/// memory; at 8 % of stretch the whole doubt is a quarter of a millimetre of width.
pub const NARROWING: f64 = 0.3;

/// Steps round one turn: a smooth periodic function is summed to the last digit by far fewer.
const STEPS: u16 = 64;

/// A roll of tape as it lies on the table, unstretched.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roll {
    /// Width, mm.
    pub width_mm: f64,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Length, mm.
    pub length_mm: f64,
    /// How much longer it is pulled when wound, per cent.
    pub stretch_percent: f64,
}

impl Roll {
    /// Width as wound, mm: a pulled strip is narrower.
    ///
    /// Source: definition, with [`NARROWING`].
    pub fn wound_width_mm(&self) -> f64 {
        self.width_mm * (1.0 - NARROWING * self.stretch_percent / 100.0)
    }

    /// Length of roll that so much wound strip takes, mm.
    ///
    /// Source: definition.
    pub fn off_the_roll_mm(&self, wound_mm: f64) -> f64 {
        wound_mm / (1.0 + self.stretch_percent / 100.0)
    }
}

/// A strip on a tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// Diameter of the tube, mm.
    pub tube_mm: f64,
    /// Thickness of the strip, mm.
    pub thickness_mm: f64,
    /// Width of the strip as wound, mm.
    pub width_mm: f64,
}

/// A piece of tube that is wound.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// Length along the centre line, mm.
    pub length_mm: f64,
    /// Radius of its bend, centre line; nothing for a straight.
    pub bend_mm: Option<f64>,
}

/// How far neighbouring turns overlap, as a share of the strip's width; below zero the bar shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Overlap {
    /// On the outside of the bend; on a straight the same all round.
    pub outside: f64,
    /// On the inside of the bend.
    pub inside: f64,
}

/// What winding several runs takes and leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wound {
    /// Turns.
    pub turns: f64,
    /// Strip as wound, mm.
    pub strip_mm: f64,
    /// The least overlap anywhere.
    pub least_overlap: f64,
    /// The greatest overlap anywhere.
    pub most_overlap: f64,
}

impl Strip {
    /// A strip, a tube and figures that can be.
    fn is_one(&self) -> bool {
        self.tube_mm > 0.0 && self.thickness_mm >= 0.0 && self.width_mm > 0.0
    }

    /// Half the strip's mean diameter on the tube: where its middle lies.
    fn radius_mm(&self) -> f64 {
        f64::midpoint(self.tube_mm, self.thickness_mm)
    }

    /// Once round the tube in the middle of the strip's thickness, mm.
    ///
    /// ```
    /// use witnessmark_mechanics::tape::Strip;
    /// let strip = Strip { tube_mm: 31.8, thickness_mm: 2.5, width_mm: 30.0 };
    /// assert!((strip.girth_mm() - 107.757).abs() < 1e-3);
    /// ```
    ///
    /// Source: definition.
    pub fn girth_mm(&self) -> f64 {
        2.0 * PI * self.radius_mm()
    }

    /// The pitch at which neighbouring turns overlap by this share of the width on a straight run, mm.
    ///
    /// With U the girth and w the width, the strip runs at the angle sin γ = w (1 − f) / U to a ring round the tube, and
    /// advances by U tan γ.
    ///
    /// - Comes back: `None` for a share outside 0 to below 1, or a strip so wide that it would lie along the tube.
    ///
    /// ```
    /// use witnessmark_mechanics::tape::Strip;
    /// let strip = Strip { tube_mm: 31.8, thickness_mm: 2.5, width_mm: 30.0 };
    /// assert!((strip.pitch_for_mm(1.0 / 3.0).unwrap() - 20.3537).abs() < 1e-4);
    /// ```
    ///
    /// Source: elementary geometry of a helix laid flat.
    pub fn pitch_for_mm(&self, overlap: f64) -> Option<f64> {
        let rises = self.width_mm * (1.0 - overlap) / self.girth_mm();
        let possible = self.is_one() && (0.0..1.0).contains(&overlap) && rises < 1.0;
        possible.then(|| self.girth_mm() * rises / libm::sqrt(1.0 - rises * rises))
    }

    /// The overlap at this pitch, on a straight or on a bend.
    ///
    /// On a bend of radius R the surface outside is longer than the centre line by 1 + r/R and inside shorter by 1 − r/R;
    /// each place is taken as a straight of its own pitch.
    ///
    /// - Comes back: `None` for a pitch that is not above zero, or a bend tighter than the wound tube itself.
    ///
    /// ```
    /// use witnessmark_mechanics::tape::Strip;
    /// let strip = Strip { tube_mm: 24.2, thickness_mm: 2.5, width_mm: 30.0 };
    /// let bend = strip.overlap(19.0, Some(70.0)).unwrap();
    /// assert!((bend.outside - 0.2719).abs() < 1e-4 && (bend.inside - 0.4959).abs() < 1e-4);
    /// ```
    ///
    /// Source: elementary geometry.
    pub fn overlap(&self, pitch_mm: f64, bend_mm: Option<f64>) -> Option<Overlap> {
        let possible = self.is_one() && pitch_mm > 0.0 && bend_mm.is_none_or(|bend| bend > self.radius_mm());
        if !possible {
            return None;
        }
        let leans = bend_mm.map_or(0.0, |bend| self.radius_mm() / bend);
        let at = |stretched: f64| {
            let pitch_mm = pitch_mm * stretched;
            let girth_mm = self.girth_mm();
            // The gap from turn to turn, square to the strip.
            let apart_mm = pitch_mm * girth_mm / libm::hypot(girth_mm, pitch_mm);
            1.0 - apart_mm / self.width_mm
        };
        Some(Overlap { outside: at(1.0 + leans), inside: at(1.0 - leans) })
    }

    /// Strip that one turn takes, mm.
    ///
    /// On a straight √(U² + P²). On a bend the advance differs round the turn, P (1 + r/R cos θ): the length is summed over
    /// equal steps of θ, which for a periodic function is exact to the last digit.
    ///
    /// ```
    /// use witnessmark_mechanics::tape::Strip;
    /// let strip = Strip { tube_mm: 31.8, thickness_mm: 2.5, width_mm: 30.0 };
    /// assert!((strip.turn_mm(20.353_650_1, None) - 109.662).abs() < 1e-3);
    /// ```
    ///
    /// Source: arc length of a curve on a torus.
    pub fn turn_mm(&self, pitch_mm: f64, bend_mm: Option<f64>) -> f64 {
        let girth_mm = self.girth_mm();
        let Some(bend_mm) = bend_mm else { return libm::hypot(girth_mm, pitch_mm) };
        let leans = self.radius_mm() / bend_mm;
        let sum: f64 = (0..STEPS)
            .map(|step| {
                let (_, cos) = sin_cos_deg(360.0 * f64::from(step) / f64::from(STEPS));
                libm::hypot(girth_mm, pitch_mm * (1.0 + leans * cos))
            })
            .sum();
        sum / f64::from(STEPS)
    }

    /// Winds these runs at one pitch.
    ///
    /// - Comes back: `None` where a run cannot be wound, as [`Strip::overlap`] says, or there is none.
    ///
    /// ```
    /// use witnessmark_mechanics::tape::{Run, Strip};
    /// let strip = Strip { tube_mm: 31.8, thickness_mm: 2.5, width_mm: 30.0 };
    /// let pitch_mm = strip.pitch_for_mm(1.0 / 3.0).unwrap();
    /// let wound = strip.wind(pitch_mm, [Run { length_mm: 400.0, bend_mm: None }]).unwrap();
    /// assert!((wound.strip_mm - 2155.13).abs() < 0.01 && (wound.turns - 19.6525).abs() < 1e-4);
    /// ```
    ///
    /// Source: the above, run by run.
    pub fn wind(&self, pitch_mm: f64, runs: impl IntoIterator<Item = Run>) -> Option<Wound> {
        let mut all: Option<Wound> = None;
        for run in runs {
            let overlap = self.overlap(pitch_mm, run.bend_mm)?;
            let turns = run.length_mm / pitch_mm;
            let so_far = all.unwrap_or(Wound {
                turns: 0.0,
                strip_mm: 0.0,
                least_overlap: overlap.outside,
                most_overlap: overlap.inside,
            });
            all = Some(Wound {
                turns: so_far.turns + turns,
                strip_mm: so_far.strip_mm + turns * self.turn_mm(pitch_mm, run.bend_mm),
                least_overlap: so_far.least_overlap.min(overlap.outside),
                most_overlap: so_far.most_overlap.max(overlap.inside),
            });
        }
        all
    }

    /// What a figure of eight at a lever takes more than passing it once, mm.
    ///
    /// The strip comes up behind the lever, goes half round the bar above it, comes down across it on the other side, goes
    /// half round below it and up again: two diagonals and two half turns more, each diagonal half round the bar and over
    /// the height of the lever's foot.
    ///
    /// - `zone_mm`: along the bar, from the lower edge of the lever's foot to its upper one.
    ///
    /// Source: own geometry, no print; what a workshop has measured once goes before it.
    pub fn figure_of_eight_mm(&self, zone_mm: f64) -> f64 {
        let half_mm = self.girth_mm() / 2.0;
        2.0 * libm::hypot(half_mm, zone_mm) + 2.0 * half_mm
    }

    /// Length of the piece that covers the clamp behind a lever: the half of the bar that is seen, and a tuck under the
    /// hood at either end, mm.
    ///
    /// Source: definition; customary pieces are 75 to 150 mm long (common practice, no source).
    pub fn piece_mm(&self, tuck_mm: f64) -> f64 {
        self.girth_mm() / 2.0 + 2.0 * tuck_mm
    }
}
