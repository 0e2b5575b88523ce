//! The chain seen from above: where rings and sprockets stand, how far the chain is drawn out of line, and what it passes
//! close by.
//!
//! Distances across are from the bike's plane, outward to the drive side.

use crate::chain::{mean_radius_mm, tip_radius_mm};

/// A row of equal steps across: the sprockets of a cassette, or the rings of a crank, smallest sprocket or outer ring
/// first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Bike's plane to the middle of the row, mm.
    pub middle_mm: f64,
    /// Middle of one to the middle of the next, mm.
    pub spacing_mm: f64,
    /// How many.
    pub count: u32,
}

impl Row {
    /// How far out the one at this place stands, counted from the outermost, which is 0, mm.
    ///
    /// - Beyond the last, the row is continued.
    ///
    /// ```
    /// use witnessmark_mechanics::chain_line::Row;
    /// let cassette = Row { middle_mm: 43.0, spacing_mm: 3.74, count: 11 };
    /// assert!((cassette.out_mm(0) - 61.7).abs() < 1e-9 && (cassette.out_mm(5) - 43.0).abs() < 1e-9);
    /// ```
    ///
    /// Source: definition of the row.
    pub fn out_mm(&self, place: u32) -> f64 {
        let half = (f64::from(self.count) - 1.0) / 2.0;
        self.middle_mm + (half - f64::from(place)) * self.spacing_mm
    }
}

/// The upper run of the chain in a gear, seen from above.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UpperRun {
    /// Teeth of the ring.
    pub ring_teeth: u32,
    /// Teeth of the sprocket.
    pub sprocket_teeth: u32,
    /// How far out the ring stands, mm.
    pub ring_out_mm: f64,
    /// How far out the sprocket stands, mm.
    pub sprocket_out_mm: f64,
    /// Bottom-bracket centre to rear axle, mm.
    pub chainstay_mm: f64,
}

impl UpperRun {
    /// Length of the run seen from the side, mm: √(C² − (R − r)²).
    ///
    /// - Comes back: `None` where ring and sprocket overlap.
    ///
    /// Source: open tangent of two circles.
    pub fn length_mm(&self) -> Option<f64> {
        let (ring_mm, sprocket_mm) = (mean_radius_mm(self.ring_teeth), mean_radius_mm(self.sprocket_teeth));
        (self.chainstay_mm > ring_mm + sprocket_mm).then(|| {
            let difference_mm = ring_mm - sprocket_mm;
            libm::sqrt(self.chainstay_mm * self.chainstay_mm - difference_mm * difference_mm)
        })
    }

    /// How far the run is out of line, degrees: above zero when the ring stands further out than the sprocket, so that
    /// the chain runs inward on its way back.
    ///
    /// - Comes back: `None` where ring and sprocket overlap.
    ///
    /// ```
    /// use witnessmark_mechanics::chain_line::UpperRun;
    /// let run = UpperRun {
    ///     ring_teeth: 50, sprocket_teeth: 11, ring_out_mm: 43.5, sprocket_out_mm: 61.7, chainstay_mm: 410.0,
    /// };
    /// assert!((run.angle_deg().unwrap() + 2.589_963).abs() < 1e-6);
    /// ```
    ///
    /// Source: arc tangent of offset over length.
    pub fn angle_deg(&self) -> Option<f64> {
        self.length_mm().map(|length_mm| libm::atan2(self.ring_out_mm - self.sprocket_out_mm, length_mm).to_degrees())
    }

    /// Room between the chain on this ring and the larger ring outside it, mm: the chain leaves the smaller ring, drifts
    /// outward on its way to a small sprocket, and passes the tips of the larger ring where it crosses their circle.
    ///
    /// Room = across − drift − half the chain − half the ring, with drift = s·(sprocket − ring)/run and s = √(R² − r²)
    /// the way along the run from the smaller ring's touch to the tip circle of the larger.
    ///
    /// - Comes back: `None` where ring and sprocket overlap, or the other ring is not the larger; below zero it rubs.
    ///   On the safe side: full tips, none of them cut away for shifting.
    ///
    /// ```
    /// use witnessmark_mechanics::chain_line::{OuterRing, UpperRun};
    /// let run = UpperRun {
    ///     ring_teeth: 36, sprocket_teeth: 11, ring_out_mm: 40.5, sprocket_out_mm: 62.0, chainstay_mm: 410.0,
    /// };
    /// let outer = OuterRing { teeth: 52, out_mm: 47.5, thickness_mm: 2.2, chain_width_mm: 5.3 };
    /// // Tips at 108.8 mm, smaller ring at 72.8 mm: the drift acts over 80.9 mm of 406.8 mm.
    /// assert!((run.room_to_outer_ring_mm(outer).unwrap() - (7.0 - 21.5 * 80.876 / 406.840 - 2.65 - 1.1)).abs() < 2e-3);
    /// ```
    ///
    /// Source: similar triangles on the run.
    pub fn room_to_outer_ring_mm(&self, outer: OuterRing) -> Option<f64> {
        let (tip_mm, ring_mm) = (tip_radius_mm(outer.teeth)?, mean_radius_mm(self.ring_teeth));
        if outer.teeth <= self.ring_teeth {
            return None;
        }
        let along_mm = libm::sqrt(tip_mm * tip_mm - ring_mm * ring_mm);
        let drift_mm = along_mm * (self.sprocket_out_mm - self.ring_out_mm) / self.length_mm()?;
        Some(outer.out_mm - self.ring_out_mm - drift_mm - outer.chain_width_mm / 2.0 - outer.thickness_mm / 2.0)
    }
}

/// The ring outside the one in use, and the width of the chain that passes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OuterRing {
    /// Its teeth.
    pub teeth: u32,
    /// How far out it stands, mm.
    pub out_mm: f64,
    /// Thickness at its tips, mm.
    pub thickness_mm: f64,
    /// Width of the chain across its pins, mm.
    pub chain_width_mm: f64,
}

/// A ring beside the chainstay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RingAtStay {
    /// How far out the ring stands, mm.
    pub ring_out_mm: f64,
    /// Thickness of the ring at its tips, mm.
    pub thickness_mm: f64,
    /// Bike's plane to the outer face of the drive-side chainstay, where the tips pass, mm.
    pub stay_face_mm: f64,
}

impl RingAtStay {
    /// Room between the tips of the ring and the stay, mm; below zero they touch.
    ///
    /// ```
    /// use witnessmark_mechanics::chain_line::RingAtStay;
    /// let ring = RingAtStay { ring_out_mm: 40.5, thickness_mm: 2.0, stay_face_mm: 36.0 };
    /// assert_eq!(ring.room_mm(), 3.5);
    /// ```
    ///
    /// Source: subtraction.
    pub fn room_mm(&self) -> f64 {
        self.ring_out_mm - self.thickness_mm / 2.0 - self.stay_face_mm
    }
}

/// Room between the teeth of the cage's upper wheel and those of a sprocket, mm: the distance of their centres less both
/// tip radii.
///
/// - Comes back: `None` where a wheel has fewer than three teeth.
///
/// ```
/// use witnessmark_mechanics::chain_line::{WheelAndSprocket, wheel_gap_mm};
/// let at = WheelAndSprocket { centres_mm: 100.62, wheel_teeth: 11, sprocket_teeth: 34 };
/// assert!((wheel_gap_mm(at).unwrap() - 2.8465).abs() < 1e-4);
/// ```
///
/// Source: subtraction, with the tip radii of ASME B29.1.
pub fn wheel_gap_mm(at: WheelAndSprocket) -> Option<f64> {
    Some(at.centres_mm - tip_radius_mm(at.wheel_teeth)? - tip_radius_mm(at.sprocket_teeth)?)
}

/// The cage's upper wheel below a sprocket.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelAndSprocket {
    /// Centre to centre, mm.
    pub centres_mm: f64,
    /// Teeth of the upper wheel.
    pub wheel_teeth: u32,
    /// Teeth of the sprocket.
    pub sprocket_teeth: u32,
}
