//! Degrees in, plain numbers out: the only place where degrees become radians for a sine or a cosine.

/// Sine and cosine of an angle in degrees.
///
/// Whole quarter turns come back exact (a level bar is level, not level to 1e-17), because a rounding there would
/// put a `-0.0` or a stray digit into every drawing.
pub(crate) fn sin_cos_deg(angle_deg: f64) -> (f64, f64) {
    // The remainder costs more than the sine; few angles need it.
    let turn = if angle_deg.abs() < 360.0 { angle_deg } else { angle_deg % 360.0 };
    for (quarter_deg, exact) in [(0.0, (0.0, 1.0)), (90.0, (1.0, 0.0)), (180.0, (0.0, -1.0)), (270.0, (-1.0, 0.0))] {
        if turn.abs().to_bits() == f64::to_bits(quarter_deg) {
            return if turn < 0.0 { (-exact.0, exact.1) } else { exact };
        }
    }
    libm::sincos(angle_deg.to_radians())
}

/// Tangent of an angle in degrees.
pub(crate) fn tan_deg(angle_deg: f64) -> f64 {
    let (sin, cos) = sin_cos_deg(angle_deg);
    sin / cos
}
