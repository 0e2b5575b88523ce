//! A tyre under load: its section on the rim, how far it is pressed, and what a pressure carries over to another tyre.
//!
//! The casing is taken as a membrane that does not stretch, from bead to bead, filled with air: round where nothing touches
//! it, flat where it lies on the road. The load is pressure times the flat. Casing and tread have no stiffness of their own
//! here, so the model asks for somewhat more pressure than tests do for the same drop (13 to 23 % more than the printed
//! chart). It is good for *ratios*: what a pressure that a rider likes becomes on another tyre, rim or load.
//!
//! No formula gives the best pressure: rolling loss falls with pressure on a smooth road and rises on a rough one.

use crate::roots::{Bracket, root};
use core::f64::consts::PI;

/// Steps along the contact for the sum of the load.
const STEPS: u16 = 32;

/// The mean pressure of the air, kPa: a gauge counts from there.
pub const ATMOSPHERE_KPA: f64 = 101.325;

/// A tyre on its rim, seen in section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Greatest width of the tyre, mm.
    pub width_mm: f64,
    /// Inner width of the rim, bead to bead, mm.
    pub rim_inner_mm: f64,
}

/// A pressure that is liked, and the load and width at which it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LikedPressure {
    /// The pressure, kPa.
    pub pressure_kpa: f64,
    /// What stands on that wheel, in any unit.
    pub load: f64,
    /// Width of that tyre as measured, mm.
    pub width_mm: f64,
}

/// What a pressure is to be carried over to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherTyre {
    /// What stands on the other wheel, in the same unit.
    pub load: f64,
    /// Width of the other tyre as measured, mm.
    pub width_mm: f64,
}

impl Section {
    /// A tyre wider than its rim, and both above nothing.
    fn is_one(&self) -> bool {
        0.0 < self.rim_inner_mm && self.rim_inner_mm < self.width_mm
    }

    /// Length of the casing from bead to bead, mm: S = 2 ϱ (π − asin(w / 2ϱ)), ϱ half the width.
    ///
    /// - Comes back: `None` for a tyre that is not wider than its rim.
    ///
    /// Source: elementary geometry of a circle through both beads.
    pub fn casing_mm(&self) -> Option<f64> {
        self.is_one().then(|| self.width_mm * (PI - libm::asin(self.rim_inner_mm / self.width_mm)))
    }

    /// Height of the crown over the beads, unloaded, mm.
    ///
    /// - Comes back: `None` for a tyre that is not wider than its rim.
    ///
    /// Source: elementary geometry.
    pub fn height_mm(&self) -> Option<f64> {
        let half_mm = self.width_mm / 2.0;
        let under_mm = self.rim_inner_mm / 2.0;
        self.is_one().then(|| half_mm + libm::sqrt(half_mm * half_mm - under_mm * under_mm))
    }

    /// The width of the same tyre on another rim, mm: the casing keeps its length.
    ///
    /// - Comes back: `None` for a tyre that is not wider than its rim, on the old or on the new one.
    ///
    /// ```
    /// use witnessmark_mechanics::tyre::Section;
    /// let tyre = Section { width_mm: 28.0, rim_inner_mm: 17.0 };
    /// let wider = tyre.width_on_mm(19.0).unwrap();
    /// assert!((wider - 28.0 - 0.8).abs() < 0.03);       // the trade's 0.4 mm of tyre for each mm of rim
    /// ```
    ///
    /// Source: the casing's length kept; the slope at 28 on 17 is 0.387, the trade says 0.4.
    pub fn width_on_mm(&self, rim_inner_mm: f64) -> Option<f64> {
        let casing_mm = self.casing_mm()?;
        // On the rim itself the casing would be half a circle; no tyre is wider than its casing over π plus the rim.
        let bracket = Bracket { low: rim_inner_mm * (1.0 + 1e-9), high: casing_mm, tolerance: 1e-9 };
        let with = |width_mm: f64| Section { width_mm, rim_inner_mm };
        root(bracket, |width_mm| with(width_mm).casing_mm().map_or(f64::NAN, |length_mm| length_mm - casing_mm))
    }

    /// Half the width of the flat when the crown is pressed in by so much, mm.
    ///
    /// The flat lies at height h = H − y; from its edge an arc of radius ϱ' runs to the bead, touching the road. With
    /// m = w/2 − b the arc's radius is (m² + h²) / 2h; b is found so that flat and arcs have the casing's length.
    ///
    /// - Comes back: `None` for a tyre that is not wider than its rim, or a press beyond its height.
    ///
    /// ```
    /// use witnessmark_mechanics::tyre::Section;
    /// let tyre = Section { width_mm: 28.0, rim_inner_mm: 17.0 };
    /// assert!((tyre.half_flat_mm(4.2).unwrap() - 4.753).abs() < 1e-3);
    /// ```
    ///
    /// Source: own geometry, held against an inextensible chain that encloses the greatest area (`reference/tyre.toml`).
    pub fn half_flat_mm(&self, pressed_mm: f64) -> Option<f64> {
        let (casing_mm, height_mm) = (self.casing_mm()?, self.height_mm()?);
        let possible = 0.0 <= pressed_mm && pressed_mm < height_mm;
        if !possible {
            return None;
        }
        if pressed_mm == 0.0 {
            return Some(0.0);
        }
        let h_mm = height_mm - pressed_mm;
        let over = |half_mm: f64| {
            let m_mm = self.rim_inner_mm / 2.0 - half_mm;
            let radius_mm = (m_mm * m_mm + h_mm * h_mm) / (2.0 * h_mm);
            let turn = libm::atan2(m_mm, radius_mm - h_mm);
            let turn = if turn < 0.0 { turn + 2.0 * PI } else { turn };
            half_mm + radius_mm * turn - casing_mm / 2.0
        };
        root(Bracket { low: 0.0, high: casing_mm / 2.0, tolerance: 1e-10 }, over)
    }

    /// The load that a wheel carries when its axle has sunk by so much, N.
    ///
    /// F = p ∫ 2 b(y(x)) dx, y(x) = drop − (R − √(R² − x²)): the flat, summed along the wheel.
    ///
    /// - `outer_radius_mm`: wheel centre to tread, unloaded.
    /// - Comes back: `None` as [`Section::half_flat_mm`] does.
    ///
    /// Source: pressure times area; the 3/2 power of the drop agrees with tests (Renart and Roura-Grabulosa 2019, seen:
    /// quoted).
    pub fn load_n(&self, outer_radius_mm: f64, drop_mm: f64, pressure_kpa: f64) -> Option<f64> {
        let (r_mm, steps) = (outer_radius_mm, f64::from(STEPS));
        let half_mm = libm::sqrt((2.0 * r_mm * drop_mm - drop_mm * drop_mm).max(0.0));
        let mut area_mm2 = 0.0;
        // The flat ends like a square root; with x = half · sin φ the sum over φ is smooth at its end.
        for step in 0..STEPS {
            let (sin, cos) = libm::sincos(PI / 2.0 * (f64::from(step) + 0.5) / steps);
            let x_mm = half_mm * sin;
            let pressed_mm = (drop_mm - (r_mm - libm::sqrt(r_mm * r_mm - x_mm * x_mm))).max(0.0);
            area_mm2 += 4.0 * self.half_flat_mm(pressed_mm)? * half_mm * cos * (PI / 2.0 / steps);
        }
        // kPa times mm² are thousandths of a newton.
        Some(pressure_kpa * area_mm2 / 1000.0)
    }

    /// How far the axle sinks under a load, mm.
    ///
    /// - Comes back: `None` where no drop short of the rim carries it.
    ///
    /// Source: [`Section::load_n`] solved for the drop.
    pub fn drop_mm(&self, outer_radius_mm: f64, load_n: f64, pressure_kpa: f64) -> Option<f64> {
        let most_mm = self.height_mm()? * 0.9;
        let bracket = Bracket { low: 0.0, high: most_mm, tolerance: 1e-7 };
        root(bracket, |drop_mm| {
            self.load_n(outer_radius_mm, drop_mm, pressure_kpa).map_or(f64::NAN, |carried_n| carried_n - load_n)
        })
    }
}

/// Area of the contact, mm²: load over pressure.
///
/// ```
/// assert_eq!(witnessmark_mechanics::tyre::contact_mm2(500.0, 500.0), 1000.0);
/// ```
///
/// Source: equilibrium of a membrane; tread and casing carry a little more, so it is an upper bound.
pub fn contact_mm2(load_n: f64, pressure_kpa: f64) -> f64 {
    1000.0 * load_n / pressure_kpa
}

/// The pressure at which a road tyre sinks by 15 % of its width, by a fit of Berto's chart, kPa.
///
/// p = 120 L / W^1.5 in pounds a square inch, pounds and millimetres. A rule of thumb from tyres of another generation, and
/// the start of a trial, no more.
///
/// - Valid for widths from 20 to 37 mm and 30 to 75 kg on the wheel, as the chart is.
/// - Comes back: `None` for a load or a width that is not above zero.
///
/// ```
/// let kpa = witnessmark_mechanics::tyre::chart_pressure_kpa(444.822, 28.0).unwrap();
/// assert!((kpa - 558.4).abs() < 0.1);
/// ```
///
/// Source: F. Berto's 15 % drop chart by a fit that others made (seen: quoted; ± 10 %, the chart itself was not seen).
pub fn chart_pressure_kpa(load_n: f64, width_mm: f64) -> Option<f64> {
    const NEWTONS_A_POUND: f64 = 4.448_221_615_260_5;
    const KPA_A_PSI: f64 = 6.894_757_293_168;
    let possible = load_n > 0.0 && width_mm > 0.0;
    possible.then(|| KPA_A_PSI * 120.0 * load_n / NEWTONS_A_POUND / (width_mm * libm::sqrt(width_mm)))
}

/// A liked pressure on another tyre or under another load: the drop stays the same share of the width.
///
/// p₂ / p₁ = (L₂ / L₁) (W₁ / W₂)^1.5. That ratio is the part of all this that is to be trusted: the same power comes out of
/// the membrane and of the chart.
///
/// - Comes back: `None` for a load, width or pressure that is not above zero.
///
/// ```
/// use witnessmark_mechanics::tyre::{LikedPressure, OtherTyre, carried_kpa};
/// let liked = LikedPressure { pressure_kpa: 600.0, load: 40.0, width_mm: 25.0 };
/// let on_28 = carried_kpa(liked, OtherTyre { load: 40.0, width_mm: 28.0 }).unwrap();
/// assert!((on_28 - 506.2).abs() < 0.1);
/// ```
///
/// Source: similarity of the membrane at the same drop over width.
pub fn carried_kpa(liked: LikedPressure, other: OtherTyre) -> Option<f64> {
    let all = [liked.pressure_kpa, liked.load, liked.width_mm, other.load, other.width_mm];
    let width = liked.width_mm / other.width_mm;
    all.iter()
        .all(|value| *value > 0.0)
        .then(|| liked.pressure_kpa * other.load / liked.load * width * libm::sqrt(width))
}

/// A gauge's reading at another temperature, kPa, the air shut in.
///
/// ```
/// let cold = witnessmark_mechanics::tyre::at_temperature_kpa(500.0, 20.0, 5.0);
/// assert!((cold - 469.2).abs() < 0.1);
/// ```
///
/// Source: the gas law at a volume that stays.
pub fn at_temperature_kpa(pressure_kpa: f64, from_celsius: f64, to_celsius: f64) -> f64 {
    const ZERO: f64 = 273.15;
    (pressure_kpa + ATMOSPHERE_KPA) * (to_celsius + ZERO) / (from_celsius + ZERO) - ATMOSPHERE_KPA
}
