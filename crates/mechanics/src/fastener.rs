//! Bolts: how hard a torque pulls, between the friction it may meet, and what the bolt bears.
//!
//! A torque wrench reads torque; what holds a bar is the pull along the bolt. Between the two stands friction, in the
//! thread and under the head, which nobody knows to better than half. So a pull comes back as an interval, from the driest
//! bolt and a wrench that reads high to the most slippery one and a wrench that reads low.
//!
//! Units: newtons, millimetres, newton metres, megapascals. Threads are metric ISO threads of 60°.

use core::f64::consts::PI;

/// A metric ISO thread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thread {
    /// Nominal diameter d, mm.
    pub diameter_mm: f64,
    /// Pitch P, mm.
    pub pitch_mm: f64,
}

/// The ring on which a screw's head turns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeadRing {
    /// Outside diameter of the bearing face, mm.
    pub outside_mm: f64,
    /// Diameter of the hole under it, mm.
    pub hole_mm: f64,
}

/// A value that lies between two.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// The least it may be.
    pub low: f64,
    /// The most it may be.
    pub high: f64,
}

/// A torque as a wrench gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Applied {
    /// What the wrench says, N·m.
    pub torque_nm: f64,
    /// How far off it may be, either way, per cent.
    pub plus_minus_percent: f64,
}

impl Thread {
    /// The coarse thread of this nominal diameter, M3 to M12.
    ///
    /// - Comes back: `None` for a diameter that is not in the list.
    ///
    /// ```
    /// use witnessmark_mechanics::fastener::Thread;
    /// assert_eq!(Thread::coarse(5.0).unwrap().pitch_mm, 0.8);
    /// assert_eq!(Thread::coarse(5.5), None);
    /// ```
    ///
    /// Source: ISO 261 and ISO 262, coarse series (from memory).
    pub fn coarse(diameter_mm: f64) -> Option<Self> {
        const COARSE: [(f64, f64); 7] =
            [(3.0, 0.5), (4.0, 0.7), (5.0, 0.8), (6.0, 1.0), (8.0, 1.25), (10.0, 1.5), (12.0, 1.75)];
        COARSE
            .into_iter()
            .find(|(d_mm, _)| (d_mm - diameter_mm).abs() < 1e-9)
            .map(|(diameter_mm, pitch_mm)| Self { diameter_mm, pitch_mm })
    }

    /// Diameter at which thread and gap are equally wide, mm: d₂ = d − 3/4 · H with H = √3/2 · P.
    ///
    /// Source: ISO 724 (from memory); d₂ = d − 0.64952 P.
    pub fn pitch_diameter_mm(self) -> f64 {
        self.diameter_mm - 0.75 * height_mm(self.pitch_mm)
    }

    /// Diameter at the root of a screw's thread, mm: d₃ = d − 17/12 · H.
    ///
    /// Source: ISO 898-1, formula of the nominal stress area (from memory); d₃ = d − 1.22687 P.
    pub fn root_diameter_mm(self) -> f64 {
        self.diameter_mm - 17.0 / 12.0 * height_mm(self.pitch_mm)
    }

    /// Diameter of the stress area, mm: the mean of pitch and root diameter.
    ///
    /// Source: ISO 898-1, nominal stress area.
    pub fn stress_diameter_mm(self) -> f64 {
        f64::midpoint(self.pitch_diameter_mm(), self.root_diameter_mm())
    }

    /// The area on which a pull acts, mm²: π/4 · ((d₂ + d₃)/2)².
    ///
    /// ```
    /// use witnessmark_mechanics::fastener::Thread;
    /// let m5 = Thread { diameter_mm: 5.0, pitch_mm: 0.8 };
    /// assert!((m5.stress_area_mm2() - 14.2).abs() < 0.05);
    /// ```
    ///
    /// Source: ISO 898-1, nominal stress area; its printed areas stand in `reference/fasteners.toml`.
    pub fn stress_area_mm2(self) -> f64 {
        let d_mm = self.stress_diameter_mm();
        PI / 4.0 * d_mm * d_mm
    }

    /// The pull that a screw of this proof stress must bear without lengthening for good, N.
    ///
    /// ```
    /// use witnessmark_mechanics::fastener::Thread;
    /// let m6 = Thread { diameter_mm: 6.0, pitch_mm: 1.0 };
    /// assert!((m6.proof_load_n(830.0) - 16_700.0).abs() < 50.0);
    /// ```
    ///
    /// Source: ISO 898-1: proof load = stress area × stress under proof load.
    pub fn proof_load_n(self, proof_stress_mpa: f64) -> f64 {
        self.stress_area_mm2() * proof_stress_mpa
    }

    /// A thread with a diameter and a pitch that a screw can have.
    fn is_one(self) -> bool {
        self.pitch_mm > 0.0 && self.root_diameter_mm() > 0.0
    }
}

/// Height of the sharp triangle of a 60° thread.
fn height_mm(pitch_mm: f64) -> f64 {
    pitch_mm * libm::sqrt(3.0) / 2.0
}

impl HeadRing {
    /// The head of a socket screw on a hole of the medium series, for M3 to M12.
    ///
    /// - Comes back: `None` for a diameter that is not in the list.
    ///
    /// Source: ISO 4762 for the head, less a chamfer; ISO 273, medium series, for the hole (both from memory).
    pub fn of_socket_screw(diameter_mm: f64) -> Option<Self> {
        const HEADS: [(f64, f64, f64); 7] = [
            (3.0, 5.07, 3.4),
            (4.0, 6.53, 4.5),
            (5.0, 8.03, 5.5),
            (6.0, 9.38, 6.6),
            (8.0, 12.33, 9.0),
            (10.0, 15.33, 11.0),
            (12.0, 17.23, 13.5),
        ];
        HEADS
            .into_iter()
            .find(|(d_mm, ..)| (d_mm - diameter_mm).abs() < 1e-9)
            .map(|(_, outside_mm, hole_mm)| Self { outside_mm, hole_mm })
    }

    /// The diameter at which friction under the head acts, mm: the middle of the ring.
    ///
    /// Source: VDI 2230 part 1, the effective diameter under the head (from memory).
    pub fn friction_diameter_mm(self) -> f64 {
        f64::midpoint(self.outside_mm, self.hole_mm)
    }
}

/// How much torque a newton of pull takes, mm (N·mm for each N): the thread's slope, friction in the thread, friction under
/// the head.
///
/// M = F · (P/2π + 0.577 d₂ μ + D/2 · μ), one coefficient for both places.
///
/// - Valid for metal on metal; for a thread of 60°; for slopes so small that their tangent is the slope.
///
/// ```
/// use witnessmark_mechanics::fastener::{HeadRing, Thread, torque_arm_mm};
/// let m5 = Thread::coarse(5.0).unwrap();
/// let arm = torque_arm_mm(m5, HeadRing::of_socket_screw(5.0).unwrap(), 0.12);
/// assert!((arm / m5.diameter_mm - 0.17).abs() < 0.01);   // the nut factor of the short form
/// ```
///
/// Source: VDI 2230 part 1, the assembly torque (from memory); N. Motosh 1976 has the same three terms.
pub fn torque_arm_mm(thread: Thread, head: HeadRing, friction: f64) -> f64 {
    thread.pitch_mm / (2.0 * PI)
        + thread.pitch_diameter_mm() * friction / libm::sqrt(3.0)
        + head.friction_diameter_mm() / 2.0 * friction
}

/// The short form's factor: torque = factor × diameter × pull.
///
/// Source: definition.
pub fn nut_factor(thread: Thread, head: HeadRing, friction: f64) -> f64 {
    torque_arm_mm(thread, head, friction) / thread.diameter_mm
}

/// The pull along the bolt, N, between the driest bolt with a wrench that gives too little and the most slippery one with
/// a wrench that gives too much.
///
/// - `friction`: between the two coefficients, above zero.
/// - Comes back: `None` for a thread that is none, a torque or a friction that is not above zero, or a friction in the
///   wrong order.
///
/// ```
/// use witnessmark_mechanics::fastener::{Applied, Between, HeadRing, Thread, preload_n};
/// let pull = preload_n(
///     Applied { torque_nm: 5.0, plus_minus_percent: 4.0 },
///     Thread::coarse(5.0).unwrap(),
///     HeadRing::of_socket_screw(5.0).unwrap(),
///     Between { low: 0.08, high: 0.16 },
/// ).unwrap();
/// assert!(4_400.0 < pull.low && pull.low < 4_600.0);
/// assert!(8_500.0 < pull.high && pull.high < 8_900.0);
/// ```
///
/// Source: [`torque_arm_mm`] solved for the pull.
pub fn preload_n(applied: Applied, thread: Thread, head: HeadRing, friction: Between) -> Option<Between> {
    let in_order = applied.torque_nm > 0.0 && 0.0 < friction.low && friction.low <= friction.high;
    if !in_order || !thread.is_one() {
        return None;
    }
    let off = applied.plus_minus_percent / 100.0;
    let pull = |share: f64, friction: f64| 1000.0 * applied.torque_nm * share / torque_arm_mm(thread, head, friction);
    Some(Between { low: pull(1.0 - off, friction.high), high: pull(1.0 + off, friction.low) })
}

/// The pull, N, at which pull and twist together use this share of a screw's yield while it is being tightened.
///
/// F = A ν R / √(1 + 3 [3/2 · d₂/dₛ · (P/(π d₂) + 1.155 μ)]²), the twist spread as in a section that yields right through.
///
/// - `yield_mpa`: the screw's yield or 0.2 % limit R; `share`: ν, customarily 0.9.
/// - Comes back: `None` for a thread that is none.
///
/// ```
/// use witnessmark_mechanics::fastener::{Thread, yield_preload_n};
/// let m8 = Thread { diameter_mm: 8.0, pitch_mm: 1.0 };
/// assert!((yield_preload_n(m8, 0.12, 640.0, 0.9).unwrap() - 20_200.0).abs() < 60.0);
/// ```
///
/// Source: VDI 2230 part 1, the permitted assembly preload (from memory); printed rows in `reference/fasteners.toml`.
pub fn yield_preload_n(thread: Thread, friction: f64, yield_mpa: f64, share: f64) -> Option<f64> {
    if !thread.is_one() {
        return None;
    }
    let (d2_mm, ds_mm) = (thread.pitch_diameter_mm(), thread.stress_diameter_mm());
    let slope = thread.pitch_mm / (PI * d2_mm) + 2.0 / libm::sqrt(3.0) * friction;
    let twist = 1.5 * d2_mm / ds_mm * slope;
    Some(thread.stress_area_mm2() * share * yield_mpa / libm::sqrt(1.0 + 3.0 * twist * twist))
}
