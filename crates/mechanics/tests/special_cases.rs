//! Cases simple enough to be drawn on a napkin, and everything that is refused.

#![allow(clippy::float_cmp, reason = "these cases are exact by construction")]

use witnessmark_mechanics::bar::{BarCurve, BarFigure, BarFigures, BarRefusal, BarSection, MOST_SEGMENTS, Segment};
use witnessmark_mechanics::cockpit::{
    ClampWanted, HoodHeight, LeverBody, LeverPlacement, Stack, Stem, bar_clamp, hood, hood_gap_mm,
    placement_for_hood_height, stem_and_spacers_for,
};
use witnessmark_mechanics::frame::{
    Figure, ForkLength, FrameTable, LevelFrontCentre, StatedChecks, disagreement, rear_axle, straight_front_centre_mm,
};
use witnessmark_mechanics::ground::{Ground, Steering, TopTubeEdge, Wheels};
use witnessmark_mechanics::lean::PedalLean;
use witnessmark_mechanics::roots::{Bracket, Least, least, root};
use witnessmark_mechanics::saddle::{
    CrankAndPedal, HeightLine, Insertion, InsertionLimits, InsertionMargin, LegChange, MeasuredHeight, Post, RailClamp,
    SaddleShape, SaddleWanted, SeatTube, ShiftRange, saddle_setting_for,
};
use witnessmark_mechanics::steerer::{Backing, Expander, SteererStack};
use witnessmark_mechanics::toe::{Foot, FrontWheel, SlowTurn, ToeOverlap};
use witnessmark_mechanics::{Point2, Side};

const UPRIGHT: FrameTable = FrameTable {
    stack_mm: 500.0,
    reach_mm: 400.0,
    head_angle_deg: 90.0,
    head_tube_mm: 100.0,
    lower_stack_mm: 10.0,
    fork_length_mm: 320.0,
    fork_length_is: ForkLength::AlongAxis,
    fork_offset_mm: 45.0,
    bb_drop_mm: 70.0,
    chainstay_mm: 410.0,
};

const MEDIUM: FrameTable = FrameTable {
    stack_mm: 545.0,
    reach_mm: 384.0,
    head_angle_deg: 73.0,
    head_tube_mm: 140.0,
    lower_stack_mm: 8.0,
    fork_length_mm: 364.0,
    fork_length_is: ForkLength::Straight,
    fork_offset_mm: 43.0,
    bb_drop_mm: 70.0,
    chainstay_mm: 410.0,
};

#[test]
fn an_upright_head_tube_is_a_sum_of_lengths() {
    assert_eq!(UPRIGHT.head_tube_bottom(), Point2::at(400.0, 400.0));
    assert_eq!(UPRIGHT.crown_race_seat(), Point2::at(400.0, 390.0));
    assert_eq!(UPRIGHT.front_axle(), Point2::at(445.0, 70.0));
    assert_eq!(UPRIGHT.closure_miss_mm(), 0.0);
    assert_eq!(UPRIGHT.closing_fork_length_mm(), 320.0);
}

#[test]
fn a_straight_fork_length_is_a_hypotenuse() {
    let fork = FrameTable { fork_length_mm: 373.0, fork_offset_mm: 52.0, ..MEDIUM };
    let along_mm = fork.fork_length_along_axis_mm();
    assert!((along_mm * along_mm + 52.0 * 52.0 - 373.0 * 373.0).abs() < 1e-9);
    let impossible = FrameTable { fork_length_mm: 40.0, ..MEDIUM };
    assert!(impossible.front_axle().x_mm.is_nan());
    let nothing = StatedChecks { front_centre_mm: None, wheelbase_mm: None };
    assert!(disagreement(&impossible, nothing).ranked().is_empty());
}

#[test]
fn a_drop_longer_than_the_chainstay_has_no_rear_axle() {
    assert_eq!(rear_axle(410.0, 410.5), None);
    assert_eq!(rear_axle(410.0, 410.0), Some(Point2::at(0.0, 410.0)));
    assert_eq!(rear_axle(f64::NAN, 70.0), None);
    assert_eq!(rear_axle(500.0, 300.0), Some(Point2::at(-400.0, 300.0)));
}

#[test]
fn a_level_front_centre_becomes_a_straight_one() {
    assert_eq!(straight_front_centre_mm(LevelFrontCentre { horizontal_mm: 400.0, bb_drop_mm: 300.0 }), 500.0);
}

/// The usual misprint: two digits of the fork length exchanged.
#[test]
fn a_misprint_is_found_among_figures_rounded_as_makers_round() {
    let misprint = FrameTable { fork_length_mm: 346.0, ..MEDIUM };
    let checks = StatedChecks { front_centre_mm: Some(578.0), wheelbase_mm: Some(978.0) };
    assert!(!disagreement(&MEDIUM, checks).is_real());
    let found = disagreement(&misprint, checks);
    assert!(found.is_real());
    let first = found.ranked()[0];
    assert_eq!(first.figure, Figure::ForkLength);
    assert!((first.corrected - 364.0).abs() < 1.0, "{first:?}");
    assert!(first.explains());
    // Reach has nothing to do with a fork that is too short.
    assert!(found.ranked().iter().all(|one| one.figure != Figure::Reach || !one.explains()));
}

#[test]
fn with_only_the_fork_to_go_by_a_wrong_reach_cannot_be_seen() {
    let nothing = StatedChecks { front_centre_mm: None, wheelbase_mm: None };
    let wrong_reach = FrameTable { reach_mm: 404.0, ..MEDIUM };
    assert!(!disagreement(&wrong_reach, nothing).is_real());
    // A wrong stack is seen, but every figure that lifts the axle is a candidate.
    let wrong_stack = FrameTable { stack_mm: 565.0, ..MEDIUM };
    let found = disagreement(&wrong_stack, nothing);
    assert!(found.is_real());
    let explaining: Vec<Figure> = found.ranked().iter().filter(|one| one.explains()).map(|one| one.figure).collect();
    for figure in [Figure::Stack, Figure::ForkLength, Figure::HeadTube, Figure::BbDrop, Figure::HeadAngle] {
        assert!(explaining.contains(&figure), "{figure:?} {explaining:?}");
    }
    assert!(!explaining.contains(&Figure::Reach) && !explaining.contains(&Figure::Chainstay));
    // All close it exactly, so the smallest change comes first.
    let changes_mm: Vec<f64> = found.ranked().iter().filter(|one| one.explains()).map(|one| one.change_mm).collect();
    assert!(changes_mm.is_sorted_by(|a, b| *a <= *b + 0.01), "{changes_mm:?}");
    assert_eq!(explaining[..2], [Figure::Stack, Figure::BbDrop]);
}

#[test]
fn a_length_below_zero_is_no_explanation() {
    let nothing = StatedChecks { front_centre_mm: None, wheelbase_mm: None };
    let short_fork = FrameTable { fork_length_mm: MEDIUM.fork_length_mm + 20.0, ..MEDIUM };
    let found = disagreement(&short_fork, nothing);
    let lower = found.ranked().last().copied().filter(|one| one.figure == Figure::LowerStack);
    assert!(lower.is_some_and(|one| one.corrected < 0.0 && !one.explains()), "{lower:?}");
}

/// Makers round to millimetres and tenths of a degree. One figure of a rounded sheet is then 12 mm (or 1.2°) wrong; how
/// often does the first candidate name it, or one that cannot be told from it?
#[test]
fn a_wrong_figure_of_a_rounded_sheet_is_mostly_named_first() {
    let mut state = 2_463_534_242_u32;
    let mut random = |least: f64, most: f64| {
        // A small generator is enough to spread frames over the usual sizes; the seed is fixed.
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        least + (most - least) * f64::from(state) / f64::from(u32::MAX)
    };
    let mut named = 0_u32;
    let mut asked = 0_u32;
    for _ in 0..300 {
        let open = FrameTable {
            stack_mm: random(490.0, 620.0).round(),
            reach_mm: random(360.0, 410.0).round(),
            head_angle_deg: (random(70.0, 74.0) * 10.0).round() / 10.0,
            head_tube_mm: random(95.0, 210.0).round(),
            lower_stack_mm: random(5.0, 10.0).round(),
            fork_offset_mm: random(40.0, 52.0).round(),
            bb_drop_mm: random(65.0, 80.0).round(),
            chainstay_mm: random(405.0, 420.0).round(),
            ..MEDIUM
        };
        let axle = open.front_axle_from_drop();
        let wheelbase_mm = open.rear_axle().map(|rear| axle.distance_mm(rear).round());
        let table = FrameTable { fork_length_mm: open.closing_fork_length_mm().round(), ..open };
        let checks = StatedChecks { front_centre_mm: Some(axle.length_mm().round()), wheelbase_mm };
        let off = if random(0.0, 1.0) < 0.5 { -12.0 } else { 12.0 };
        let spoilt = [
            (Figure::Stack, FrameTable { stack_mm: table.stack_mm + off, ..table }),
            (Figure::Reach, FrameTable { reach_mm: table.reach_mm + off, ..table }),
            (Figure::HeadAngle, FrameTable { head_angle_deg: table.head_angle_deg + off / 10.0, ..table }),
            (Figure::ForkOffset, FrameTable { fork_offset_mm: table.fork_offset_mm + off, ..table }),
            (Figure::ForkLength, FrameTable { fork_length_mm: table.fork_length_mm + off, ..table }),
            (Figure::BbDrop, FrameTable { bb_drop_mm: table.bb_drop_mm + off, ..table }),
            (Figure::Chainstay, FrameTable { chainstay_mm: table.chainstay_mm + off, ..table }),
        ];
        for (figure, table) in spoilt {
            let found = disagreement(&table, checks);
            assert!(found.is_real(), "{figure:?}");
            let first = found.ranked()[0].figure;
            let twin = first == figure
                || matches!((figure, first), (Figure::ForkLength, Figure::LowerStack | Figure::HeadTube))
                || matches!((figure, first), (Figure::Chainstay, Figure::Wheelbase));
            asked += 1;
            named += u32::from(twin);
        }
    }
    let share = f64::from(named) / f64::from(asked);
    assert!(share > 0.85, "{named} of {asked}");
}

#[test]
fn wheels_that_cannot_stand_have_no_ground() {
    let level = Wheels {
        front_axle: Point2::at(574.0, 70.0),
        rear_axle: Point2::at(-404.0, 70.0),
        front_radius_mm: 337.0,
        rear_radius_mm: 337.0,
    };
    assert!(Ground::from_wheels(level).is_some());
    assert_eq!(Ground::from_wheels(Wheels { front_axle: Point2::at(-500.0, 70.0), ..level }), None);
    assert_eq!(Ground::from_wheels(Wheels { front_radius_mm: 2000.0, ..level }), None);
    assert_eq!(Ground::from_wheels(Wheels { rear_radius_mm: f64::NAN, ..level }), None);
}

/// Radii and distance of a 3-4-5 triangle: the tangent is exact.
#[test]
fn unequal_wheels_of_a_right_triangle_stand_exactly() {
    let ground = Ground::from_wheels(Wheels {
        front_axle: Point2::at(500.0, 0.0),
        rear_axle: Point2::at(0.0, 0.0),
        front_radius_mm: 600.0,
        rear_radius_mm: 300.0,
    });
    let ground = ground.expect("ground");
    assert!((ground.wheelbase_mm - 400.0).abs() < 1e-12);
    assert!((ground.tilt_deg + 36.869_897_645_844_02).abs() < 1e-12);
    assert!((ground.bb_height_mm - 300.0).abs() < 1e-12);
}

#[test]
fn there_is_no_standover_where_there_is_no_tube() {
    let ground = Ground { tilt_deg: 0.0, wheelbase_mm: 980.0, bb_height_mm: 267.0 };
    let tube = TopTubeEdge { rear: Point2::at(-140.0, 455.0), front: Point2::at(370.0, 520.0) };
    assert_eq!(tube.standover_mm(&ground, -140.0), Some(722.0));
    assert_eq!(tube.standover_mm(&ground, -141.0), None);
    assert_eq!(tube.standover_mm(&ground, 371.0), None);
}

#[test]
fn an_upright_axis_trails_by_minus_its_offset() {
    let upright = Steering { head_angle_deg: 90.0, fork_offset_mm: 45.0, front_radius_mm: 337.0, ground_tilt_deg: 0.0 };
    assert_eq!(upright.trail_mm(), -45.0);
    assert_eq!(upright.mechanical_trail_mm(), -45.0);
    assert_eq!(upright.wheel_flop_mm(), 0.0);
}

const STACK: Stack = Stack { cover_mm: 8.0, spacers_under_mm: 20.0, clamp_height_mm: 40.0 };

#[test]
fn a_stem_square_to_an_upright_steerer_is_level() {
    let clamp = bar_clamp(Point2::at(400.0, 500.0), 90.0, STACK, Stem { length_mm: 100.0, angle_deg: 0.0 });
    assert_eq!(clamp, Point2::at(500.0, 548.0));
    // A head angle of 73 and a stem of minus 17 degrees are level too.
    assert_eq!(Stem { length_mm: 100.0, angle_deg: -17.0 }.above_level_deg(73.0), 0.0);
}

#[test]
fn turning_a_stem_over_twice_is_no_turn() {
    let stem = Stem { length_mm: 110.0, angle_deg: -6.0 };
    assert_eq!(stem.flipped().angle_deg, 6.0);
    assert_eq!(stem.flipped().flipped(), stem);
}

#[test]
fn a_stem_along_the_steerer_reaches_nothing() {
    let wanted = ClampWanted {
        target: Point2::at(480.0, 600.0),
        head_tube_top: Point2::at(384.0, 545.0),
        head_angle_deg: 73.0,
        cover_mm: 8.0,
        clamp_height_mm: 40.0,
        stem_angle_deg: 90.0,
    };
    assert_eq!(stem_and_spacers_for(wanted), None);
    // Behind the steerer the length comes back negative, below the cover the spacers do.
    let behind = ClampWanted { target: Point2::at(300.0, 500.0), stem_angle_deg: -6.0, ..wanted };
    let answer = stem_and_spacers_for(behind).expect("an answer");
    assert!(answer.length_mm < 0.0 && answer.spacers_mm < 0.0, "{answer:?}");
}

const ORDINARY: BarFigures = BarFigures {
    reach_mm: 80.0,
    drop_mm: 125.0,
    ramp_angle_deg: 8.0,
    clamp_straight_mm: 14.0,
    ramp_bend_radius_mm: 40.0,
    front_bend_radius_mm: 45.0,
    lower_bend_radius_mm: 62.0,
    end_length_mm: 55.0,
    end_angle_deg: 0.0,
    flare_deg: 0.0,
    width_at_hoods_mm: 400.0,
    tube_diameter_mm: 24.0,
};

/// Level ramp, equal bends: a half circle of 60 on a line of 20, and a straight where the drop asks for more.
#[test]
fn a_bar_of_lines_and_quarter_circles_is_exact() {
    let plain = BarFigures {
        reach_mm: 80.0,
        drop_mm: 120.0,
        ramp_angle_deg: 0.0,
        front_bend_radius_mm: 60.0,
        lower_bend_radius_mm: 60.0,
        ..ORDINARY
    };
    let half_circle_mm = 60.0 * core::f64::consts::PI;
    let bar = BarCurve::from_figures(&plain).expect("a bar");
    assert!((bar.length_mm() - (20.0 + half_circle_mm + 55.0)).abs() < 1e-12);
    let deep = BarCurve::from_figures(&BarFigures { drop_mm: 130.0, ..plain }).expect("a bar");
    assert!((deep.length_mm() - bar.length_mm() - 10.0).abs() < 1e-12);
    assert!((deep.drop_mm() - 130.0).abs() < 1e-12);
    // Half a millimetre less than the bends give is rounding and is built as the bends are; more is refused.
    let rounded = BarCurve::from_figures(&BarFigures { drop_mm: 119.6, ..plain }).expect("a bar");
    assert_eq!(rounded.drop_mm(), 120.0);
    assert_eq!(
        BarCurve::from_figures(&BarFigures { drop_mm: 119.0, ..plain }),
        Err(BarRefusal::DropTooSmall { drop_mm: 119.0, least_mm: 120.0 })
    );
}

#[test]
fn a_bar_whose_bends_reach_too_far_is_refused_with_the_least_reach() {
    let short = BarFigures { reach_mm: 55.0, ramp_angle_deg: 0.0, front_bend_radius_mm: 60.0, ..ORDINARY };
    assert_eq!(BarCurve::from_figures(&short), Err(BarRefusal::ReachTooShort { reach_mm: 55.0, least_mm: 74.0 }));
}

#[test]
fn a_slipped_unit_is_refused_by_name() {
    let centimetres = BarFigures { drop_mm: 12.5, ..ORDINARY };
    let refusal = BarRefusal::OutOfRange { figure: BarFigure::Drop, given: 12.5, least: 40.0, most: 250.0 };
    assert_eq!(BarCurve::from_figures(&centimetres), Err(refusal));
    let missing = BarFigures { flare_deg: f64::NAN, ..ORDINARY };
    let refused = BarCurve::from_figures(&missing);
    assert!(matches!(refused, Err(BarRefusal::OutOfRange { figure: BarFigure::Flare, .. })), "{refused:?}");
}

#[test]
fn a_bar_has_one_to_twelve_pieces_of_real_size() {
    let line = Segment::Line { length_mm: 10.0 };
    assert_eq!(BarCurve::from_segments(&[]), Err(BarRefusal::SegmentCount { given: 0 }));
    assert_eq!(BarCurve::from_segments(&[line; 13]), Err(BarRefusal::SegmentCount { given: 13 }));
    assert!(BarCurve::from_segments(&[line; MOST_SEGMENTS]).is_ok_and(|bar| bar.length_mm() == 120.0));
    let backwards = BarCurve::from_segments(&[Segment::Line { length_mm: -1.0 }]);
    assert!(matches!(backwards, Err(BarRefusal::OutOfRange { figure: BarFigure::Segment, .. })), "{backwards:?}");
}

#[test]
fn ends_that_rise_leave_the_deepest_point_in_the_bend() {
    let rising = BarCurve::from_figures(&BarFigures { end_angle_deg: -6.0, ..ORDINARY }).expect("a bar");
    let falling = BarCurve::from_figures(&BarFigures { end_angle_deg: 6.0, ..ORDINARY }).expect("a bar");
    let end_depth_mm = |bar: &BarCurve| -bar.at(bar.length_mm()).y_mm;
    assert!(end_depth_mm(&rising) < rising.drop_mm() - 5.0);
    assert!((end_depth_mm(&falling) - falling.drop_mm()).abs() < 1e-9);
    assert!((rising.drop_mm() - 125.0).abs() < 1e-9 && (falling.drop_mm() - 125.0).abs() < 1e-9);
}

/// Rising ends: the front bend may go on to the very bottom, and not a tenth of a millimetre further.
#[test]
fn the_least_drop_is_the_tighter_bend_all_the_way_down() {
    let level_ramp = BarFigures { ramp_angle_deg: 0.0, end_angle_deg: -8.0, drop_mm: 90.0, ..ORDINARY };
    let bar = BarCurve::from_figures(&level_ramp).expect("a bar");
    assert!((bar.drop_mm() - 90.0).abs() < 1e-9);
    let too_small = BarFigures { drop_mm: 89.4, ..level_ramp };
    assert_eq!(BarCurve::from_figures(&too_small), Err(BarRefusal::DropTooSmall { drop_mm: 89.4, least_mm: 90.0 }));
}

/// Flare of 30 degrees: in the bar's plane the drop is longer, and the ends stand out by its sine.
#[test]
fn flare_keeps_the_vertical_drop_and_widens_the_ends() {
    let flared = BarCurve::from_figures(&BarFigures { flare_deg: 30.0, ..ORDINARY }).expect("a bar");
    assert!((flared.drop_mm() - 125.0).abs() < 1e-9);
    let end_y_mm = flared.at(flared.length_mm()).y_mm;
    assert!((-end_y_mm * 30.0_f64.to_radians().cos() - 125.0).abs() < 1e-9);
    // With the width stated at the clamp's own height, the ends stand out by tan(flare) for each millimetre of drop.
    let wider_mm = flared.end_width_mm(0.0) - 400.0;
    assert!((wider_mm - 2.0 * 125.0 * 30.0_f64.to_radians().tan()).abs() < 1e-9);
    // A width stated at the ends is the width at the ends, wherever the lever sits.
    let at_ends = flared.with_width_at(flared.length_mm());
    assert!((at_ends.end_width_mm(60.0) - 400.0).abs() < 1e-9);
    assert!((at_ends.with_section(at_ends.section()).end_width_mm(90.0) - 400.0).abs() < 1e-9);
}

#[test]
fn the_outside_of_a_half_circle_is_longer_by_half_the_tube_a_radian() {
    let section = BarSection { flare_deg: 0.0, width_at_hoods_mm: 400.0, tube_diameter_mm: 20.0 };
    let bar = BarCurve::from_segments(&[Segment::Arc { radius_mm: 60.0, turn_deg: -180.0 }]).expect("a bar");
    let bar = bar.with_section(section);
    let outside_mm = 70.0 * core::f64::consts::PI;
    assert!(bar.arc_from_end_outside(outside_mm + 0.001).is_none());
    assert!(bar.arc_from_end_outside(-0.001).is_none());
    let middle_mm = bar.arc_from_end_outside(outside_mm / 2.0).expect("a place");
    assert!((middle_mm - 30.0 * core::f64::consts::PI).abs() < 1e-12);
    assert_eq!(bar.at(middle_mm).tangent_deg, -90.0);
    assert_eq!(bar.foremost_arc_mm(), Some(middle_mm));
    // Off the bar the nearest end comes back.
    assert_eq!(bar.at(-5.0), bar.at(0.0));
    assert_eq!(bar.at(1e6), bar.at(bar.length_mm()));
}

const LEVER: LeverBody = LeverBody {
    clamp_above_foot_mm: 20.0,
    trough_along_mm: 40.0,
    trough_out_mm: 22.0,
    tip_out_mm: 70.0,
    hood_width_mm: 36.0,
};

#[test]
fn a_lever_off_the_bar_or_turned_too_far_has_no_hood() {
    let bar = BarCurve::from_figures(&ORDINARY).expect("a bar");
    let hood_at = |from_end_mm, toe_in_mm| {
        let placement = LeverPlacement { from_end_mm, toe_in_mm };
        hood(Point2::ORIGIN, &bar, 0.0, LEVER, placement, Side::Right)
    };
    assert!(hood_at(180.0, 0.0).is_some());
    assert!(hood_at(400.0, 0.0).is_none());
    assert!(hood_at(-30.0, 0.0).is_none());
    assert!(hood_at(180.0, 70.0).is_some());
    assert!(hood_at(180.0, 71.0).is_none());
    assert!(hood_at(f64::NAN, 0.0).is_none());
}

#[test]
fn the_gap_between_straight_hoods_is_the_width_less_one_hood() {
    let bar = BarCurve::from_figures(&ORDINARY).expect("a bar");
    let placement = LeverPlacement { from_end_mm: 180.0, toe_in_mm: 0.0 };
    let side = |side| hood(Point2::at(480.0, 610.0), &bar, 0.0, LEVER, placement, side).expect("a hood");
    assert_eq!(hood_gap_mm(&side(Side::Left), &side(Side::Right)), 364.0);
    // Toe-in closes it.
    let turned = LeverPlacement { toe_in_mm: 10.0, ..placement };
    let side = |side| hood(Point2::at(480.0, 610.0), &bar, 0.0, LEVER, turned, side).expect("a hood");
    assert!(hood_gap_mm(&side(Side::Left), &side(Side::Right)) < 364.0 - 2.0 * 10.0 * 22.0 / 70.0 + 1.0);
}

#[test]
fn a_hood_higher_than_any_place_is_not_found() {
    let bar = BarCurve::from_figures(&ORDINARY).expect("a bar");
    let place = |y_mm| {
        placement_for_hood_height(Point2::at(480.0, 610.0), &bar, 0.0, LEVER, HoodHeight { y_mm, toe_in_mm: 0.0 })
    };
    assert!(place(900.0).is_none());
    assert!(place(300.0).is_none());
    assert!(place(615.0).is_some_and(|placement| placement.from_end_mm > 100.0));
}

const STEERER: SteererStack = SteererStack {
    lower_stack_mm: 1.5,
    head_tube_mm: 140.0,
    cover_mm: 8.0,
    spacers_under_mm: 20.0,
    clamp_height_mm: 40.0,
    spacers_over_mm: 5.0,
    gap_mm: 3.0,
};

#[test]
fn a_steerer_is_cut_below_the_top_spacer_and_above_the_stem() {
    assert_eq!(STEERER.clamp_bottom_mm(), 169.5);
    assert_eq!(STEERER.clamp_top_mm(), 209.5);
    assert_eq!(STEERER.cut_length_mm(), 211.5);
    assert_eq!(STEERER.proud_of_clamp_mm(), 2.0);
    let bare = SteererStack { spacers_over_mm: 0.0, ..STEERER };
    assert_eq!(bare.proud_of_clamp_mm(), -3.0);
}

#[test]
fn a_steerer_cut_already_says_how_many_spacers_it_takes() {
    assert_eq!(STEERER.most_spacers_under_mm(221.5), 30.0);
    assert_eq!(STEERER.most_spacers_under_mm(181.5), -10.0);
    assert_eq!(STEERER.gap_over_mm(215.5), -1.0);
}

#[test]
fn an_expander_backs_the_clamp_it_reaches() {
    // The clamp runs from 169.5 to 209.5, the steerer ends at 211.5.
    let full = STEERER.backing(Expander { grip_length_mm: 50.0, depth_mm: 1.0 });
    assert_eq!(full, Backing { backed_mm: 40.0, bare_above_mm: 0.0, bare_below_mm: 0.0 });
    let short = STEERER.backing(Expander { grip_length_mm: 25.0, depth_mm: 4.0 });
    assert_eq!(short, Backing { backed_mm: 25.0, bare_above_mm: 2.0, bare_below_mm: 13.0 });
    let sunk = STEERER.backing(Expander { grip_length_mm: 25.0, depth_mm: 60.0 });
    assert_eq!(sunk, Backing { backed_mm: 0.0, bare_above_mm: 40.0, bare_below_mm: 0.0 });
}

#[test]
fn rails_along_the_post_cannot_be_solved() {
    let wanted = SaddleWanted { reference: Point2::at(-200.0, 700.0), tilt_deg: 106.5 };
    let tube = SeatTube { angle_deg: 73.5, axis_x_at_bb_mm: 0.0 };
    let shape = SaddleShape { nose_to_reference_mm: 150.0, nose_above_reference_mm: 0.0, clamp_to_top_mm: 46.0 };
    assert_eq!(saddle_setting_for(wanted, tube, Post { offset_mm: 0.0 }, shape), None);
}

/// 700 up and 190 back: the two readings of one saddle height differ by 25 mm.
#[test]
fn vertical_and_straight_saddle_heights_differ_by_the_setback() {
    let tube = SeatTube { angle_deg: 73.5, axis_x_at_bb_mm: 0.0 };
    let point = Point2::at(-190.0, 700.0);
    assert!((HeightLine::Straight.height_mm(point, tube) - 725.3).abs() < 0.05);
    assert_eq!(HeightLine::Vertical.height_mm(point, tube), 700.0);
    let too_short = MeasuredHeight { height_mm: 150.0, x_mm: -190.0 };
    assert_eq!(HeightLine::Straight.point_at(too_short, tube), None);
    let level = SeatTube { angle_deg: 0.0, ..tube };
    assert_eq!(HeightLine::AlongSeatTube.point_at(MeasuredHeight { height_mm: 700.0, x_mm: -190.0 }, level), None);
}

#[test]
fn a_leg_change_has_no_meaning_at_the_bottom_bracket() {
    let old = CrankAndPedal { crank_mm: 170.0, pedal_stack_mm: 11.0 };
    let change = LegChange { old, new: CrankAndPedal { crank_mm: 165.0, pedal_stack_mm: 11.0 } };
    assert_eq!(change.straight_height_gain_mm(), 5.0);
    assert_eq!(change.keep_extension(Point2::ORIGIN), None);
}

#[test]
fn the_stricter_insertion_limit_counts() {
    let post = Insertion { post_length_mm: 350.0, extension_mm: 680.0, collar_mm: 510.0 };
    let limits = InsertionLimits { post_mark_mm: 100.0, frame_least_mm: 120.0, frame_most_mm: f64::INFINITY };
    assert_eq!(post.margin(limits), InsertionMargin { over_least_mm: 60.0, under_most_mm: f64::INFINITY });
    let shallow = InsertionLimits { frame_most_mm: 170.0, ..limits };
    assert_eq!(post.margin(shallow).under_most_mm, -10.0);
}

#[test]
fn a_clamp_longer_than_the_rail_has_no_range() {
    let rails = RailClamp { straight_rail_mm: 70.0, clamp_length_mm: 40.0, reference_ahead_of_middle_mm: -5.0 };
    assert_eq!(rails.shift_range(), Some(ShiftRange { least_mm: -20.0, most_mm: 10.0 }));
    assert_eq!(RailClamp { clamp_length_mm: 71.0, ..rails }.shift_range(), None);
}

fn shoe_beside(axle_x_mm: f64, tip_ahead_mm: f64) -> ToeOverlap {
    let axle = Point2::at(axle_x_mm, 70.0);
    ToeOverlap {
        wheel: FrontWheel {
            head_angle_deg: 90.0,
            axis_point: axle - Point2::at(45.0, 0.0),
            axle,
            outer_radius_mm: 337.0,
            section_radius_mm: 14.0,
        },
        foot: Foot { crank_mm: 170.0, tip_ahead_mm, toe_height_mm: 15.0, toe_radius_mm: 40.0, lateral_mm: 126.0 },
    }
}

/// Straight ahead the gap is plane geometry: a circle's distance in the wheel's plane and the foot's distance sideways.
#[test]
fn the_straight_gap_is_a_hypotenuse() {
    let overlap = shoe_beside(575.0, 112.0);
    let clearance = overlap.clearance(0.0);
    let crank = Point2::direction(clearance.crank_angle_deg) * 170.0;
    let toe = crank + Point2::at(72.0, 15.0);
    let in_plane_mm = toe.distance_mm(Point2::at(575.0, 70.0)) - 323.0;
    let gap_mm = in_plane_mm.hypot(126.0) - 14.0 - 40.0;
    assert!((clearance.gap_mm - gap_mm).abs() < 1e-12);
}

#[test]
fn a_long_bike_never_touches_and_a_foot_in_the_wheel_always_does() {
    assert_eq!(shoe_beside(700.0, 112.0).contact_steer_deg(70.0), None);
    let mut inside = shoe_beside(575.0, 112.0);
    inside.foot.lateral_mm = 20.0;
    assert_eq!(inside.contact_steer_deg(70.0), Some(0.0));
    assert_eq!(shoe_beside(700.0, 112.0).contact_steer_deg(0.0), None);
}

#[test]
fn a_wheel_held_straight_is_never_ahead_of_the_pedal() {
    assert_eq!(shoe_beside(575.0, 112.0).ahead_of_pedal_mm(0.0), None);
    assert!(shoe_beside(575.0, 112.0).ahead_of_pedal_mm(60.0).is_some());
}

#[test]
fn the_radius_of_a_turn_is_the_wheelbase_at_45_degrees() {
    let turn = SlowTurn { wheelbase_mm: 980.0, head_angle_deg: 90.0, steer_deg: 45.0 };
    assert!((turn.radius_mm() - 980.0).abs() < 1e-9);
    assert_eq!(SlowTurn { steer_deg: 0.0, ..turn }.radius_mm(), f64::INFINITY);
}

#[test]
fn a_sharp_tyre_leans_by_the_slope_to_the_pedal() {
    let pedal = PedalLean { edge_height_mm: 100.0, edge_lateral_mm: 100.0, tyre_section_radius_mm: 0.0 };
    assert!((pedal.lean_deg().expect("a lean") - 45.0).abs() < 1e-12);
    let inside = PedalLean { edge_height_mm: 14.0, edge_lateral_mm: 10.0, tyre_section_radius_mm: 14.0 };
    assert_eq!(inside.lean_deg(), None);
}

#[test]
fn a_bracket_without_a_change_of_sign_has_no_root() {
    let bracket = Bracket { low: 1.0, high: 2.0, tolerance: 1e-9 };
    assert_eq!(root(bracket, |x| x), None);
    assert_eq!(root(bracket, |_| f64::NAN), None);
    assert_eq!(root(Bracket { low: 2.0, high: 1.0, ..bracket }, |x| x - 1.5), None);
    assert_eq!(root(bracket, |x| x - 2.0), Some(2.0));
    assert_eq!(root(bracket, |x| if x < 1.5 { -1.0 } else { f64::NAN }), None);
    // A hole between two good ends is refused too.
    let holed = |x: f64| if x > 1.1 && x < 1.9 { f64::NAN } else { x - 1.5 };
    assert_eq!(root(bracket, holed), None);
}

#[test]
fn a_least_value_on_an_end_is_the_end_itself() {
    let bracket = Bracket { low: 0.0, high: 1.0, tolerance: 1e-6 };
    assert_eq!(least(bracket, |x| -x), Least { at: 1.0, value: -1.0 });
    assert_eq!(least(bracket, |x| x), Least { at: 0.0, value: 0.0 });
}

/// The bound of the root finder, counted: three calls for each halving, and the two ends.
#[test]
fn the_root_finder_keeps_to_its_bound() {
    let calls = core::cell::Cell::new(0_u32);
    for power in [1, 3, 9, 21] {
        calls.set(0);
        let found = root(Bracket { low: -1.0, high: 1e6, tolerance: 1e-9 }, |x| {
            calls.set(calls.get() + 1);
            (x - 0.3).signum() * (x - 0.3).abs().powi(power).min(1e300)
        });
        assert!(found.is_some());
        // log2(1e6 / 1e-9) is 49.8.
        assert!(calls.get() <= 3 * 50 + 2 + 3, "{} calls for power {power}", calls.get());
    }
}

#[test]
fn an_upright_front_end_keeps_its_level_axle() {
    assert_eq!(UPRIGHT.front_axle_from_drop(), Point2::at(445.0, 70.0));
}
