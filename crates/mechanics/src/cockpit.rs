//! From the head tube's upper face to the bar clamp, and from the clamp to the hoods; forwards and backwards.

use crate::angle::{sin_cos_deg, tan_deg};
use crate::bar::{ArcSpan, BarCurve};
use crate::frame::{square_to_axis, steering_axis};
use crate::roots::{Bracket, Least, least, root};
use crate::vector::{Point2, Point3, Side};

/// What stands on the head tube below the middle of the stem's steerer clamp, measured along the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stack {
    /// Upper headset cover above the head tube's upper face, mm.
    pub cover_mm: f64,
    /// Loose spacers between cover and stem, mm.
    pub spacers_under_mm: f64,
    /// Height of the stem's steerer clamp, mm; the stem's centre line starts at half of it.
    pub clamp_height_mm: f64,
}

/// A stem, or the stem part of a one-piece cockpit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stem {
    /// Centre of steerer to centre of bar clamp, along the extension, mm.
    pub length_mm: f64,
    /// Angle of the extension against the line square to the steerer, degrees; + rises.
    pub angle_deg: f64,
}

impl Stem {
    /// The same stem upside down: the angle changes its sign.
    ///
    /// - Valid only for a stem whose clamp is symmetrical about its extension, which the maker must say.
    ///
    /// Source: mirror image in the extension's plane.
    #[must_use]
    pub const fn flipped(self) -> Self {
        Self { length_mm: self.length_mm, angle_deg: -self.angle_deg }
    }

    /// Angle of the extension above level on this frame, degrees: 90 − H + β.
    ///
    /// Source: sum of angles.
    pub const fn above_level_deg(self, head_angle_deg: f64) -> f64 {
        90.0 - head_angle_deg + self.angle_deg
    }
}

/// Centre of the bar clamp.
///
/// clamp = T + (cover + spacers + half the clamp height) u + L (sin(H − β), cos(H − β)), with T the head tube's upper
/// middle, u the direction up the steering axis, L and β the stem's length and angle.
///
/// A one-piece cockpit is the same with the length and angle of its stem part.
///
/// To try many spacer stacks, work out the clamp once with none and add [`ClampSlopes::per_mm_spacers`] times the stack:
/// the clamp moves on a straight line.
///
/// - Valid for any figures; a stem longer than zero puts the clamp in front.
///
/// ```
/// use witnessmark_mechanics::{cockpit::{bar_clamp, Stack, Stem}, Point2};
/// let clamp = bar_clamp(
///     Point2::at(384.0, 545.0), 73.0,
///     Stack { cover_mm: 8.0, spacers_under_mm: 20.0, clamp_height_mm: 40.0 },
///     Stem { length_mm: 110.0, angle_deg: -6.0 },
/// );
/// assert!(clamp.distance_mm(Point2::at(477.945_148_4, 611.891_617_8)) < 1e-6);
/// ```
///
/// Source: elementary geometry; checked against a chain of homogeneous transforms.
pub fn bar_clamp(head_tube_top: Point2, head_angle_deg: f64, stack: Stack, stem: Stem) -> Point2 {
    let up_mm = stack.cover_mm + stack.spacers_under_mm + stack.clamp_height_mm / 2.0;
    head_tube_top + steering_axis(head_angle_deg) * up_mm + stem_direction(head_angle_deg, stem) * stem.length_mm
}

/// The direction of the stem's extension on this frame.
fn stem_direction(head_angle_deg: f64, stem: Stem) -> Point2 {
    square_to_axis(head_angle_deg - stem.angle_deg)
}

/// A place wanted for the bar clamp, on a frame, with stems of one angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClampWanted {
    /// Where the centre of the bar clamp should be.
    pub target: Point2,
    /// Middle of the head tube's upper face.
    pub head_tube_top: Point2,
    /// Head angle, degrees.
    pub head_angle_deg: f64,
    /// Upper headset cover, mm.
    pub cover_mm: f64,
    /// Height of the stem's steerer clamp, mm.
    pub clamp_height_mm: f64,
    /// Angle of the stems on the shelf, degrees.
    pub stem_angle_deg: f64,
}

/// The one stem length and spacer stack of that stem angle that reaches a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StemAndSpacers {
    /// Stem length, mm; negative when the place lies behind the axis.
    pub length_mm: f64,
    /// Loose spacers under the stem, mm; negative when the place lies too low for this stem angle.
    pub spacers_mm: f64,
}

/// The stem length and the spacers that put the bar clamp exactly where it is wanted.
///
/// With D = target − T: L = (D·n)/cos β, s = D·u − cover − half clamp − (D·n) tan β. There is exactly one answer for
/// each stem angle; whether it can be bought, and whether it is allowed, is for the caller.
///
/// - Comes back: `None` for a stem along the steerer (|β| = 90° or more).
///
/// ```
/// use witnessmark_mechanics::{cockpit::{stem_and_spacers_for, ClampWanted}, Point2};
/// let answer = stem_and_spacers_for(ClampWanted {
///     target: Point2::at(455.0, 600.0), head_tube_top: Point2::at(384.0, 545.0), head_angle_deg: 73.0,
///     cover_mm: 8.0, clamp_height_mm: 40.0, stem_angle_deg: -6.0,
/// }).unwrap();
/// assert!((answer.length_mm - 84.440_656_18).abs() < 1e-7);
/// assert!((answer.spacers_mm - 12.664_822_57).abs() < 1e-7);
/// ```
///
/// Source: [`bar_clamp`] solved for its two lengths.
pub fn stem_and_spacers_for(wanted: ClampWanted) -> Option<StemAndSpacers> {
    if !(-90.0 < wanted.stem_angle_deg && wanted.stem_angle_deg < 90.0) {
        return None;
    }
    let step = wanted.target - wanted.head_tube_top;
    let forward_mm = step.dot(square_to_axis(wanted.head_angle_deg));
    let up_mm = step.dot(steering_axis(wanted.head_angle_deg));
    Some(StemAndSpacers {
        length_mm: forward_mm / sin_cos_deg(wanted.stem_angle_deg).1,
        spacers_mm: up_mm
            - wanted.cover_mm
            - wanted.clamp_height_mm / 2.0
            - forward_mm * tan_deg(wanted.stem_angle_deg),
    })
}

/// How the bar clamp moves when one thing changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClampSlopes {
    /// Per millimetre of spacers: up the steering axis.
    pub per_mm_spacers: Point2,
    /// Per millimetre of stem length: along the extension.
    pub per_mm_stem: Point2,
    /// Per degree of stem angle.
    pub per_deg_stem_angle: Point2,
    /// Per degree of head angle, with stack and reach kept.
    pub per_deg_head_angle: Point2,
}

/// The derivatives of [`bar_clamp`].
///
/// ```
/// use witnessmark_mechanics::{cockpit::{clamp_slopes, Stack, Stem}, Point2};
/// let slopes = clamp_slopes(
///     Point2::at(384.0, 545.0), 73.0,
///     Stack { cover_mm: 8.0, spacers_under_mm: 20.0, clamp_height_mm: 40.0 },
///     Stem { length_mm: 110.0, angle_deg: -6.0 },
/// );
/// assert!(slopes.per_deg_stem_angle.distance_mm(Point2::at(-0.366_326_97, 1.884_588_90)) < 1e-6);
/// ```
///
/// Source: derivative of [`bar_clamp`]; a smaller head angle turns everything above the head tube backwards.
pub fn clamp_slopes(head_tube_top: Point2, head_angle_deg: f64, stack: Stack, stem: Stem) -> ClampSlopes {
    let extension = stem_direction(head_angle_deg, stem);
    let arm = bar_clamp(head_tube_top, head_angle_deg, stack, stem) - head_tube_top;
    let one_deg = 1.0_f64.to_radians();
    ClampSlopes {
        per_mm_spacers: steering_axis(head_angle_deg),
        per_mm_stem: extension,
        per_deg_stem_angle: extension.quarter_turned() * (stem.length_mm * one_deg),
        per_deg_head_angle: -arm.quarter_turned() * one_deg,
    }
}

/// A lever body, measured on the bench; all figures are the lever's own and do not depend on the bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeverBody {
    /// From the hood's lower edge to the middle of the clamp band, along the outside of the bar, mm.
    pub clamp_above_foot_mm: f64,
    /// Deepest place of the hood (where the thumb's web lies) against the bar's centre at the clamp: away from the
    /// stem along the bar's tangent, mm.
    pub trough_along_mm: f64,
    /// The same place square to the bar, on its outer side, mm.
    pub trough_out_mm: f64,
    /// How far the hood's tip stands off the bar's centre, square to the bar, mm; the arm on which toe-in is read.
    pub tip_out_mm: f64,
    /// Width of the hood at its deepest place, mm.
    pub hood_width_mm: f64,
}

/// Where a lever sits on its bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeverPlacement {
    /// From the bar's end to the hood's lower edge, along the outside of the bare bar, mm.
    pub from_end_mm: f64,
    /// How far the hood's tip stands inward of its root, mm; + towards the bike's plane.
    pub toe_in_mm: f64,
}

/// A hood in space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hood {
    /// Deepest place of the hood, on its centre line.
    pub trough: Point3,
    /// Centre of the bar in the middle of the lever's clamp band.
    pub clamp_point: Point3,
    /// The hood's inner flank beside its deepest place.
    pub inner_face: Point3,
    /// z of that flank, mm: negative on the left.
    pub inner_face_z_mm: f64,
    /// Where the clamp band's middle sits, from the bar clamp along the bar's centre line, mm.
    pub clamp_arc_mm: f64,
    /// Angle of the bar's tangent at the clamp, above level, with the bar rolled, degrees (flare left out).
    pub clamp_tangent_deg: f64,
}

/// The hood of one side, from the bar clamp's centre.
///
/// The lever clamps the bar at the place that lies `from_end + clamp_above_foot` from the bar's end, measured along
/// the outside. Its trough stands off the bar's centre there by (along, out) in the directions of tangent and outer
/// normal. Toe-in turns the body about the bar's tangent, the only way a clamped lever can turn: out becomes
/// out·cos τ, and out·sin τ goes inward, with sin τ = toe-in ÷ tip-out. The bar's plane is tilted by the flare about
/// the fore-and-aft line; the roll then turns everything about the bar clamp's axis.
///
/// - `roll_deg`: bar roll against the rotation the bar's figures are quoted for, + nose up.
/// - Comes back: `None` when the clamp would sit off the bar, or the toe-in asks for more than the tip's reach.
///
/// With flare 0 and toe-in 0 it is clamp + Rot(roll) [ q + along (cos θ, sin θ) + out (−sin θ, cos θ) ].
///
/// ```
/// use witnessmark_mechanics::{bar::{BarCurve, Segment}, cockpit::{hood, LeverBody, LeverPlacement}, Point2, Side};
/// let bar = BarCurve::from_segments(&[
///     Segment::Line { length_mm: 14.0 }, Segment::Arc { radius_mm: 40.0, turn_deg: -8.0 },
///     Segment::Line { length_mm: 22.0 }, Segment::Arc { radius_mm: 45.0, turn_deg: -100.0 },
///     Segment::Arc { radius_mm: 62.0, turn_deg: -72.0 }, Segment::Line { length_mm: 55.0 },
/// ]).unwrap();
/// let lever = LeverBody {
///     clamp_above_foot_mm: 0.0, trough_along_mm: 40.0, trough_out_mm: 22.0, tip_out_mm: 70.0, hood_width_mm: 36.0,
/// };
/// let placement = LeverPlacement { from_end_mm: bar.length_mm() - 52.0, toe_in_mm: 0.0 };
/// let clamp = Point2::at(477.945_148_4, 611.891_617_8);
/// let hood = hood(clamp, &bar, 0.0, lever, placement, Side::Right).unwrap();
/// assert!(hood.trough.side_view().distance_mm(Point2::at(574.607_814_8, 611.813_953_8)) < 1e-6);
/// ```
///
/// Source: elementary geometry; checked against a chain of homogeneous transforms over a sampled curve.
pub fn hood(
    clamp: Point2,
    curve: &BarCurve,
    roll_deg: f64,
    lever: LeverBody,
    placement: LeverPlacement,
    side: Side,
) -> Option<Hood> {
    let from_clamp = hood_from_clamp(curve, roll_deg, lever, placement, side)?;
    let step = clamp.with_z(0.0);
    Some(Hood {
        trough: from_clamp.trough + step,
        clamp_point: from_clamp.clamp_point + step,
        inner_face: from_clamp.inner_face + step,
        ..from_clamp
    })
}

/// The hood's deepest place as a step from the bar clamp's centre.
///
/// It does not depend on stem and spacers: work it out once for each bar, roll and lever placement, and add it to as
/// many clamps as there are stems and spacers.
///
/// - Comes back: as [`hood`].
///
/// Source: see [`hood`].
pub fn hood_offset(
    curve: &BarCurve,
    roll_deg: f64,
    lever: LeverBody,
    placement: LeverPlacement,
    side: Side,
) -> Option<Point3> {
    hood_from_clamp(curve, roll_deg, lever, placement, side).map(|hood| hood.trough)
}

/// [`hood`] with the bar clamp at the origin.
fn hood_from_clamp(
    curve: &BarCurve,
    roll_deg: f64,
    lever: LeverBody,
    placement: LeverPlacement,
    side: Side,
) -> Option<Hood> {
    let clamp_arc_mm = curve.arc_from_end_outside(placement.from_end_mm + lever.clamp_above_foot_mm)?;
    let toe = toe_turn(lever, placement.toe_in_mm)?;
    Some(hood_clamped_at(curve, clamp_arc_mm, toe, roll_deg, lever, side))
}

/// [`hood_from_clamp`] with the lever's clamp at a known place and its turn as (sine, cosine).
fn hood_clamped_at(
    curve: &BarCurve,
    clamp_arc_mm: f64,
    (toe_sin, toe_cos): (f64, f64),
    roll_deg: f64,
    lever: LeverBody,
    side: Side,
) -> Hood {
    let on_bar = curve.at(clamp_arc_mm);
    let (tangent_sin, tangent_cos) = sin_cos_deg(on_bar.tangent_deg);

    // In the bar's own plane: x forward, y up, and w inward, square to the plane.
    let root = Point3::at(on_bar.x_mm, on_bar.y_mm, 0.0);
    let tangent = Point3::at(tangent_cos, tangent_sin, 0.0);
    let out = Point3::at(-tangent_sin, tangent_cos, 0.0);
    let inward = Point3::at(0.0, 0.0, 1.0);
    let lever_out = out * toe_cos + inward * toe_sin;
    let lever_inward = inward * toe_cos - out * toe_sin;
    let trough = root + tangent * lever.trough_along_mm + lever_out * lever.trough_out_mm;
    let inner_face = trough + lever_inward * (lever.hood_width_mm / 2.0);

    let (flare_sin, flare_cos) = sin_cos_deg(curve.flare_deg());
    let plane_z_mm = curve.plane_z_mm(clamp_arc_mm);
    let (roll_sin, roll_cos) = sin_cos_deg(roll_deg);
    let in_space = |p: Point3| {
        let y_mm = p.y_mm * flare_cos - p.z_mm * flare_sin;
        let outward_mm = plane_z_mm - p.y_mm * flare_sin - p.z_mm * flare_cos;
        Point3::at(p.x_mm * roll_cos - y_mm * roll_sin, p.x_mm * roll_sin + y_mm * roll_cos, outward_mm * side.sign())
    };
    let inner_face = in_space(inner_face);
    Hood {
        trough: in_space(trough),
        clamp_point: in_space(root),
        inner_face,
        inner_face_z_mm: inner_face.z_mm,
        clamp_arc_mm,
        clamp_tangent_deg: on_bar.tangent_deg + roll_deg,
    }
}

/// Sine and cosine of the lever's turn about the bar.
fn toe_turn(lever: LeverBody, toe_in_mm: f64) -> Option<(f64, f64)> {
    if toe_in_mm == 0.0 {
        return Some((0.0, 1.0));
    }
    let sin = toe_in_mm / lever.tip_out_mm;
    let reached = lever.tip_out_mm > 0.0 && sin.abs() <= 1.0;
    reached.then(|| (sin, libm::sqrt((1.0 - sin) * (1.0 + sin))))
}

/// A hood height wanted, at a given toe-in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoodHeight {
    /// Where the hood's deepest place should be, above the bottom-bracket centre, mm.
    pub y_mm: f64,
    /// Toe-in that is kept, mm.
    pub toe_in_mm: f64,
}

/// Where to put a lever so that its hood has a wanted height.
///
/// Between the clamp and the bar's foremost place a hood sinks as its lever slides forward: the clamp comes down and
/// the body tips over. Only a bar whose ramp rises, by its shape or by its roll, lets it climb first and sink after;
/// of two such places the one nearer the foremost place comes back, which is where levers are.
///
/// - Comes back: `None` when no place on that stretch gives the height, or the hood's lower edge would lie beyond the
///   bar's end.
///
/// ```
/// use witnessmark_mechanics::{bar::*, cockpit::*, Point2, Side};
/// let bar = BarCurve::from_figures(&BarFigures {
///     reach_mm: 80.0, drop_mm: 125.0, ramp_angle_deg: 8.0, clamp_straight_mm: 14.0, ramp_bend_radius_mm: 40.0,
///     front_bend_radius_mm: 45.0, lower_bend_radius_mm: 62.0, end_length_mm: 55.0, end_angle_deg: 0.0,
///     flare_deg: 8.0, width_at_hoods_mm: 400.0, tube_diameter_mm: 24.0,
/// }).unwrap();
/// let lever = LeverBody {
///     clamp_above_foot_mm: 20.0, trough_along_mm: 40.0, trough_out_mm: 22.0, tip_out_mm: 70.0, hood_width_mm: 36.0,
/// };
/// let clamp = Point2::at(480.0, 610.0);
/// let wanted = HoodHeight { y_mm: 612.0, toe_in_mm: 4.0 };
/// let placement = placement_for_hood_height(clamp, &bar, 1.0, lever, wanted).unwrap();
/// let there = hood(clamp, &bar, 1.0, lever, placement, Side::Left).unwrap();
/// assert!((there.trough.y_mm - 612.0).abs() < 1e-8);
/// ```
///
/// Source: [`hood`] solved for the lever's place by a bracketed root finder, to 1e-9 mm.
pub fn placement_for_hood_height(
    clamp: Point2,
    curve: &BarCurve,
    roll_deg: f64,
    lever: LeverBody,
    wanted: HoodHeight,
) -> Option<LeverPlacement> {
    /// Looks along the stretch: about one each two millimetres of bar.
    const LOOKS: i32 = 64;

    let toe = toe_turn(lever, wanted.toe_in_mm)?;
    let over_mm = |arc_mm: f64| {
        // Height is the same on both sides.
        let hood = hood_clamped_at(curve, arc_mm, toe, roll_deg, lever, Side::Right);
        clamp.y_mm + hood.trough.y_mm - wanted.y_mm
    };
    let foremost_mm = curve.foremost_arc_mm()?;
    let step_mm = foremost_mm / f64::from(LOOKS);
    // From the foremost place up the bar: the first step over which the hood comes down through the height.
    let mut highest = Least { at: foremost_mm, value: -over_mm(foremost_mm) };
    let mut clamp_arc_mm = None;
    for look in (0..LOOKS).rev() {
        let low = step_mm * f64::from(look);
        clamp_arc_mm = root(Bracket { low, high: low + step_mm, tolerance: 1e-9 }, over_mm);
        if clamp_arc_mm.is_some() {
            break;
        }
        let value = -over_mm(low);
        if value < highest.value {
            highest = Least { at: low, value };
        }
    }
    // Two places inside one step: the height lies just below the highest possible one.
    let clamp_arc_mm = clamp_arc_mm.or_else(|| {
        let (low, high) = ((highest.at - step_mm).max(0.0), (highest.at + step_mm).min(foremost_mm));
        let peak = least(Bracket { low, high, tolerance: 1e-9 }, |arc_mm| -over_mm(arc_mm));
        root(Bracket { low: peak.at, high, tolerance: 1e-9 }, over_mm)
    })?;
    let clamp_from_end_mm = curve.outside_length_mm(ArcSpan { from_mm: clamp_arc_mm, to_mm: curve.length_mm() });
    let from_end_mm = clamp_from_end_mm - lever.clamp_above_foot_mm;
    (from_end_mm >= 0.0).then_some(LeverPlacement { from_end_mm, toe_in_mm: wanted.toe_in_mm })
}

/// The gap between the hoods, inside to inside, beside their deepest places, mm.
///
/// Source: definition of the reading.
pub fn hood_gap_mm(left: &Hood, right: &Hood) -> f64 {
    right.inner_face_z_mm - left.inner_face_z_mm
}
