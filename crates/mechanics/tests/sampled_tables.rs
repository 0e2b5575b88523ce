//! The computed tables in `reference/`: random cockpits, saddles and toes, worked out by another road than ours.
//!
//! How each table is made, and how far its method can be trusted, is said at the head of its generator.

#![allow(clippy::panic, reason = "a test fails by panicking")]

mod table;

use table::{Line, lines};
use witnessmark_mechanics::bar::{BarCurve, BarFigures};
use witnessmark_mechanics::cockpit::{
    HoodHeight, LeverBody, LeverPlacement, Stack, Stem, bar_clamp, hood, placement_for_hood_height,
};
use witnessmark_mechanics::saddle::{
    HeightLine, MeasuredHeight, Post, SaddleSetting, SaddleShape, SaddleWanted, SeatTube, saddle_position,
    saddle_setting_for,
};
use witnessmark_mechanics::toe::{Foot, FrontWheel, ToeOverlap};
use witnessmark_mechanics::{Point2, Side};

/// The generator integrates and solves to better than this; the file keeps 1e-8.
const COCKPIT_MM: f64 = 1e-6;

fn figures(line: &Line) -> BarFigures {
    BarFigures {
        reach_mm: line.get("bar_reach_mm"),
        drop_mm: line.get("bar_drop_mm"),
        ramp_angle_deg: line.get("ramp_angle_deg"),
        clamp_straight_mm: line.get("clamp_straight_mm"),
        ramp_bend_radius_mm: line.get("ramp_bend_radius_mm"),
        front_bend_radius_mm: line.get("front_bend_radius_mm"),
        lower_bend_radius_mm: line.get("lower_bend_radius_mm"),
        end_length_mm: line.get("end_length_mm"),
        end_angle_deg: line.get("end_angle_deg"),
        flare_deg: line.get("flare_deg"),
        width_at_hoods_mm: line.get("width_at_hoods_mm"),
        tube_diameter_mm: line.get("tube_diameter_mm"),
    }
}

fn lever(line: &Line) -> LeverBody {
    LeverBody {
        clamp_above_foot_mm: line.get("clamp_above_foot_mm"),
        trough_along_mm: line.get("trough_along_mm"),
        trough_out_mm: line.get("trough_out_mm"),
        tip_out_mm: line.get("tip_out_mm"),
        hood_width_mm: line.get("hood_width_mm"),
    }
}

fn clamp(line: &Line) -> Point2 {
    bar_clamp(
        Point2::at(line.get("reach_mm"), line.get("stack_mm")),
        line.get("head_angle_deg"),
        Stack {
            cover_mm: line.get("cover_mm"),
            spacers_under_mm: line.get("spacers_mm"),
            clamp_height_mm: line.get("clamp_height_mm"),
        },
        Stem { length_mm: line.get("stem_length_mm"), angle_deg: line.get("stem_angle_deg") },
    )
}

#[test]
fn two_thousand_random_cockpits_agree_with_integrated_bars_and_matrix_chains() {
    let mut count = 0;
    for line in lines("cockpits.csv") {
        let curve = BarCurve::from_figures(&figures(&line)).unwrap_or_else(|refusal| panic!("{line}: {refusal:?}"));
        let placement = LeverPlacement { from_end_mm: line.get("from_end_mm"), toe_in_mm: line.get("toe_in_mm") };
        let side = if line.text("side") == "left" { Side::Left } else { Side::Right };
        let clamp = clamp(&line);
        let hood = hood(clamp, &curve, line.get("roll_deg"), lever(&line), placement, side)
            .unwrap_or_else(|| panic!("{line}: no hood"));
        line.holds("clamp_x_mm", clamp.x_mm, COCKPIT_MM);
        line.holds("clamp_y_mm", clamp.y_mm, COCKPIT_MM);
        line.holds("bar_length_mm", curve.length_mm(), COCKPIT_MM);
        line.holds("trough_x_mm", hood.trough.x_mm, COCKPIT_MM);
        line.holds("trough_y_mm", hood.trough.y_mm, COCKPIT_MM);
        line.holds("trough_z_mm", hood.trough.z_mm, COCKPIT_MM);
        line.holds("inner_face_z_mm", hood.inner_face_z_mm, COCKPIT_MM);
        line.holds("end_width_mm", curve.end_width_mm(hood.clamp_arc_mm), COCKPIT_MM);
        // The file's figures are what the curve must show.
        line.holds("bar_reach_mm", curve.reach_mm(), COCKPIT_MM);
        line.holds("bar_drop_mm", curve.drop_mm(), COCKPIT_MM);
        count += 1;
    }
    assert!(count >= 2000, "{count} rows");
}

/// A hood whose lever sits on the ramp or the front bend can be found again from its height.
#[test]
fn the_lever_place_is_found_again_from_the_hood_height() {
    let mut count = 0;
    for line in lines("cockpits.csv") {
        let curve = BarCurve::from_figures(&figures(&line)).unwrap_or_else(|refusal| panic!("{line}: {refusal:?}"));
        let placement = LeverPlacement { from_end_mm: line.get("from_end_mm"), toe_in_mm: line.get("toe_in_mm") };
        let (clamp, roll_deg) = (clamp(&line), line.get("roll_deg"));
        let hood_at = |placement| hood(clamp, &curve, roll_deg, lever(&line), placement, Side::Right);
        let there = hood_at(placement).unwrap_or_else(|| panic!("{line}: no hood"));
        // Beyond the foremost place a hood of the same height may exist further up; that is another answer.
        if there.clamp_arc_mm > curve.foremost_arc_mm().unwrap_or(0.0) {
            continue;
        }
        let wanted = HoodHeight { y_mm: there.trough.y_mm, toe_in_mm: placement.toe_in_mm };
        let found = placement_for_hood_height(clamp, &curve, roll_deg, lever(&line), wanted)
            .unwrap_or_else(|| panic!("{line}: no place for {wanted:?}"));
        let again = hood_at(found).unwrap_or_else(|| panic!("{line}: no hood at {found:?}"));
        assert!((again.trough.y_mm - wanted.y_mm).abs() < 1e-7, "{line}: {found:?}");
        count += 1;
    }
    assert!(count >= 500, "{count} rows with the lever on ramp or front bend");
}

#[test]
fn a_thousand_random_saddles_agree_with_matrix_chains_and_solve_backwards() {
    const MM: f64 = 1e-7;
    let mut count = 0;
    for line in lines("saddles.csv") {
        let tube = SeatTube { angle_deg: line.get("seat_angle_deg"), axis_x_at_bb_mm: line.get("axis_x_at_bb_mm") };
        let post = Post { offset_mm: line.get("offset_mm") };
        let shape = SaddleShape {
            nose_to_reference_mm: line.get("nose_to_reference_mm"),
            nose_above_reference_mm: line.get("nose_above_reference_mm"),
            clamp_to_top_mm: line.get("clamp_to_top_mm"),
        };
        let setting = SaddleSetting {
            extension_mm: line.get("extension_mm"),
            rail_shift_mm: line.get("rail_shift_mm"),
            tilt_deg: line.get("tilt_deg"),
        };
        let saddle = saddle_position(tube, post, shape, setting);
        line.holds("clamp_x_mm", saddle.clamp.x_mm, MM);
        line.holds("clamp_y_mm", saddle.clamp.y_mm, MM);
        line.holds("reference_x_mm", saddle.reference.x_mm, MM);
        line.holds("reference_y_mm", saddle.reference.y_mm, MM);
        line.holds("nose_x_mm", saddle.nose.x_mm, MM);
        line.holds("nose_y_mm", saddle.nose.y_mm, MM);
        line.holds("straight_mm", HeightLine::Straight.height_mm(saddle.reference, tube), MM);
        line.holds("along_seat_tube_mm", HeightLine::AlongSeatTube.height_mm(saddle.reference, tube), MM);

        let wanted = SaddleWanted { reference: saddle.reference, tilt_deg: setting.tilt_deg };
        let back = saddle_setting_for(wanted, tube, post, shape).unwrap_or_else(|| panic!("{line}: no setting"));
        line.holds("extension_mm", back.extension_mm, MM);
        line.holds("rail_shift_mm", back.rail_shift_mm, MM);
        for height in [HeightLine::Vertical, HeightLine::Straight, HeightLine::AlongSeatTube] {
            let measured =
                MeasuredHeight { height_mm: height.height_mm(saddle.reference, tube), x_mm: saddle.reference.x_mm };
            let point = height.point_at(measured, tube).unwrap_or_else(|| panic!("{line}: no point"));
            assert!(point.distance_mm(saddle.reference) < MM, "{line}: {height:?}");
        }
        count += 1;
    }
    assert_eq!(count, 1000);
}

#[test]
fn sixty_random_shoes_touch_where_a_tyre_of_a_million_points_does() {
    /// The sampled gap is up to 0.002 mm too large, and a millimetre of gap is up to a quarter of a degree of steering.
    const GAP_MM: f64 = 0.003;
    const STEER_DEG: f64 = 0.002;
    let (mut touching, mut free) = (0, 0);
    for line in lines("toes.csv") {
        let head_angle_deg = line.get("head_angle_deg");
        let axle = Point2::at(line.get("axle_x_mm"), line.get("axle_y_mm"));
        let ahead = Point2::direction(90.0 - head_angle_deg);
        let overlap = ToeOverlap {
            wheel: FrontWheel {
                head_angle_deg,
                axis_point: axle - ahead * line.get("fork_offset_mm"),
                axle,
                outer_radius_mm: line.get("outer_radius_mm"),
                section_radius_mm: line.get("section_radius_mm"),
            },
            foot: Foot {
                crank_mm: line.get("crank_mm"),
                tip_ahead_mm: line.get("tip_ahead_mm"),
                toe_height_mm: line.get("toe_height_mm"),
                toe_radius_mm: line.get("toe_radius_mm"),
                lateral_mm: line.get("lateral_mm"),
            },
        };
        line.holds("straight_gap_mm", overlap.clearance(0.0).gap_mm, GAP_MM);
        let contact = overlap.contact_steer_deg(60.0);
        if line.text("contact_steer_deg").is_empty() {
            assert_eq!(contact, None, "{line}");
            free += 1;
        } else {
            let steer_deg = contact.unwrap_or_else(|| panic!("{line}: no touch"));
            line.holds("contact_steer_deg", steer_deg, STEER_DEG);
            touching += 1;
        }
    }
    assert!(touching >= 20 && free >= 10, "{touching} touch, {free} do not");
}
