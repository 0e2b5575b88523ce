//! Every reference row of the mechanics: printed values, measured bicycles, independent computations.

#![allow(clippy::panic, reason = "a test fails by panicking")]

mod rows;

use rows::{Row, rows};
use witnessmark_mechanics::bar::{BarCurve, Segment};
use witnessmark_mechanics::cockpit::{
    ClampWanted, LeverBody, LeverPlacement, Stack, Stem, bar_clamp, clamp_slopes, hood_offset, stem_and_spacers_for,
};
use witnessmark_mechanics::frame::{ForkLength, FrameTable, LevelTable, rear_axle};
use witnessmark_mechanics::ground::{Ground, Steering, TopTubeEdge, Wheels};
use witnessmark_mechanics::lean::PedalLean;
use witnessmark_mechanics::saddle::{
    CrankAndPedal, HeightLine, LegChange, Post, SaddleSetting, SaddleShape, SaddleWanted, SeatTube, saddle_position,
    saddle_setting_for, top_of_stroke_mm,
};
use witnessmark_mechanics::toe::{Foot, FrontWheel, SlowTurn, ToeOverlap};
use witnessmark_mechanics::{Point2, Side};

fn frame_table(row: &Row) -> FrameTable {
    FrameTable {
        stack_mm: row.input("stack_mm"),
        reach_mm: row.input("reach_mm"),
        head_angle_deg: row.input("head_angle_deg"),
        head_tube_mm: row.input("head_tube_mm"),
        lower_stack_mm: row.input("lower_stack_mm"),
        fork_length_mm: row.input("fork_length_mm"),
        fork_length_is: ForkLength::AlongAxis,
        fork_offset_mm: row.input("fork_offset_mm"),
        bb_drop_mm: row.input("bb_drop_mm"),
        chainstay_mm: row.input("chainstay_mm"),
    }
}

fn ground_under(table: &FrameTable, row: &Row) -> Ground {
    Ground::from_wheels(Wheels {
        front_axle: table.front_axle(),
        rear_axle: table.rear_axle().expect("a rear axle"),
        front_radius_mm: row.input("front_radius_mm"),
        rear_radius_mm: row.input("rear_radius_mm"),
    })
    .expect("ground")
}

#[test]
fn frames_stand_and_steer_as_computed_independently() {
    for row in rows("frame.toml", "frame") {
        let table = frame_table(&row);
        let ground = ground_under(&table, &row);
        let steering = Steering {
            head_angle_deg: table.head_angle_deg,
            fork_offset_mm: table.fork_offset_mm,
            front_radius_mm: row.input("front_radius_mm"),
            ground_tilt_deg: ground.tilt_deg,
        };
        row.holds("head_tube_bottom_x_mm", table.head_tube_bottom().x_mm);
        row.holds("head_tube_bottom_y_mm", table.head_tube_bottom().y_mm);
        row.holds("front_axle_x_mm", table.front_axle().x_mm);
        row.holds("front_axle_y_mm", table.front_axle().y_mm);
        row.holds("rear_axle_x_mm", table.rear_axle().expect("a rear axle").x_mm);
        row.holds("level_front_axle_x_mm", table.front_axle_from_drop().x_mm);
        row.holds("closing_fork_length_mm", table.closing_fork_length_mm());
        row.holds("closure_miss_mm", table.closure_miss_mm());
        row.holds("front_centre_mm", table.front_axle().length_mm());
        row.holds("ground_tilt_deg", ground.tilt_deg);
        row.holds("head_angle_on_ground_deg", steering.head_angle_on_ground_deg());
        row.holds("wheelbase_mm", ground.wheelbase_mm);
        row.holds("bb_height_mm", ground.bb_height_mm);
        row.holds("trail_mm", steering.trail_mm());
        row.holds("mechanical_trail_mm", steering.mechanical_trail_mm());
        row.holds("wheel_flop_mm", steering.wheel_flop_mm());
        row.holds("axis_share_under_axle", steering.axis_share_under_axle());
        row.all_seen();
    }
}

#[test]
fn trail_changes_with_angle_offset_and_radius_as_differences_say() {
    for row in rows("frame.toml", "trail slopes") {
        let steering = Steering {
            head_angle_deg: row.input("head_angle_deg"),
            fork_offset_mm: row.input("fork_offset_mm"),
            front_radius_mm: row.input("front_radius_mm"),
            ground_tilt_deg: 0.0,
        };
        row.holds("trail_mm", steering.trail_mm());
        row.holds("per_deg_head_angle_mm", steering.trail_per_deg_head_angle_mm());
        row.holds("per_mm_offset", steering.trail_per_mm_offset());
        row.holds("per_mm_radius", steering.trail_per_mm_radius());
        row.all_seen();
    }
}

#[test]
fn standover_follows_the_top_tube() {
    for row in rows("frame.toml", "standover") {
        let edge = TopTubeEdge {
            rear: Point2::at(row.input("rear_x_mm"), row.input("rear_y_mm")),
            front: Point2::at(row.input("front_x_mm"), row.input("front_y_mm")),
        };
        let ground = Ground { tilt_deg: 0.0, wheelbase_mm: 980.0, bb_height_mm: row.input("bb_height_mm") };
        row.holds("standover_mm", edge.standover_mm(&ground, row.input("x_mm")).expect("a tube above this place"));
        row.all_seen();
    }
}

/// Roll-out to radius, in mm.
fn radius_mm(rollout_m: f64, turns: f64) -> f64 {
    rollout_m * 1000.0 / turns / core::f64::consts::TAU
}

#[test]
fn bicycles_measured_by_others_have_the_trail_they_published() {
    for row in rows("measured-bicycles.toml", "measured bicycle") {
        let front_radius_mm = radius_mm(row.input("front_rollout_m"), row.input("front_turns"));
        let steering = Steering {
            head_angle_deg: row.input("head_angle_deg"),
            fork_offset_mm: row.input("fork_offset_m") * 1000.0,
            front_radius_mm,
            ground_tilt_deg: 0.0,
        };
        row.holds("trail_m", steering.trail_mm() / 1000.0);
        row.holds("front_radius_m", front_radius_mm / 1000.0);
        row.holds("rear_radius_m", radius_mm(row.input("rear_rollout_m"), row.input("rear_turns")) / 1000.0);
        row.holds("tilt_rad", (90.0 - steering.head_angle_on_ground_deg()).to_radians());
        // Kept for information: how well the trail itself is known.
        assert!(row.expected("trail_sd_m") < 0.002);
        row.all_seen();
    }
}

#[test]
fn a_bicycle_measured_from_its_steering_axis_stands_on_the_ground_as_published() {
    for row in rows("measured-bicycles.toml", "perpendicular distances") {
        let mean_m = |name: &str| {
            let readings = row.inputs(name);
            let count = f64::from(u8::try_from(readings.len()).expect("a few readings"));
            readings.iter().sum::<f64>() / count
        };
        // The steering axis is upright in the coordinates of this reading: distances square to it are x.
        let (d1, d2, d3, d4) = (mean_m("d1_m"), mean_m("d2_m"), mean_m("d3_m"), mean_m("d4_m"));
        let behind_m = mean_m("h1_m") + mean_m("h2_m") - mean_m("h3_m") + (d1 - d2) / 2.0;
        let ahead_m = mean_m("h4_m") - mean_m("h5_m") - (d3 - d4) / 2.0;
        let straight_m = mean_m("d_m") + f64::midpoint(d2, d3);
        let along_m = (straight_m * straight_m - (behind_m - ahead_m) * (behind_m - ahead_m)).sqrt();
        let front_radius_mm = radius_mm(mean_m("front_rollout_m"), row.input("turns"));
        let rear_radius_mm = radius_mm(mean_m("rear_rollout_m"), row.input("turns"));
        let ground = Ground::from_wheels(Wheels {
            front_axle: Point2::at(ahead_m, -along_m) * 1000.0,
            rear_axle: Point2::at(-behind_m, 0.0) * 1000.0,
            front_radius_mm,
            rear_radius_mm,
        })
        .expect("ground");
        let steering = Steering {
            head_angle_deg: 90.0,
            fork_offset_mm: ahead_m * 1000.0,
            front_radius_mm,
            ground_tilt_deg: ground.tilt_deg,
        };
        row.holds("tilt_rad", (90.0 - steering.head_angle_on_ground_deg()).to_radians());
        row.holds("wheelbase_m", ground.wheelbase_mm / 1000.0);
        row.holds("trail_m", steering.trail_mm() / 1000.0);
        row.holds("front_radius_m", front_radius_mm / 1000.0);
        row.holds("rear_radius_m", rear_radius_mm / 1000.0);
        row.all_seen();
    }
}

/// The open data hold one bicycle twice, the second time with its fork turned round. The first set of readings alone
/// must tell wheelbase and head angle of the second.
#[test]
fn a_fork_turned_round_stands_where_it_was_measured() {
    for row in rows("measured-bicycles.toml", "fork reversal") {
        let front_radius_mm = radius_mm(row.input("front_rollout_m"), row.input("turns"));
        let rear_radius_mm = radius_mm(row.input("rear_rollout_m"), row.input("turns"));
        let offset_mm = row.input("fork_offset_m") * 1000.0;
        let bb_height_mm = row.input("bb_height_m") * 1000.0;
        let rear_axle = rear_axle(row.input("chainstay_m") * 1000.0, rear_radius_mm - bb_height_mm).expect("rear axle");
        // As first measured: x along the ground, y from the bottom bracket's height.
        let front_axle = Point2::at(rear_axle.x_mm + row.input("wheelbase_m") * 1000.0, front_radius_mm - bb_height_mm);
        let forward = Point2::at(1.0, 0.0).rotated_deg(90.0 - row.input("head_angle_deg"));
        let ground = Ground::from_wheels(Wheels {
            front_axle: front_axle - forward * (2.0 * offset_mm),
            rear_axle,
            front_radius_mm,
            rear_radius_mm,
        })
        .expect("ground");
        let wheelbase_m = ground.wheelbase_mm / 1000.0;
        let head_angle_deg = row.input("head_angle_deg") + ground.tilt_deg;
        let two_sd = |name: &str| 2.0 * row.expected(name);
        assert!((wheelbase_m - row.expected("wheelbase_turned_m")).abs() <= two_sd("wheelbase_turned_sd_m"));
        assert!((head_angle_deg - row.expected("head_angle_turned_deg")).abs() <= two_sd("head_angle_turned_sd_deg"));
        row.all_seen();
    }
}

#[test]
fn the_benchmark_bicycle_has_the_offset_its_trail_implies() {
    for row in rows("measured-bicycles.toml", "benchmark bicycle") {
        let offset_mm = row.expected("fork_offset_m") * 1000.0;
        let steering = Steering {
            head_angle_deg: 90.0 - row.input("tilt_deg"),
            fork_offset_mm: offset_mm,
            front_radius_mm: row.input("front_radius_m") * 1000.0,
            ground_tilt_deg: 0.0,
        };
        assert!((steering.trail_mm() - row.input("trail_m") * 1000.0).abs() < 1e-6);
        row.all_seen();
    }
}

/// The bar that all hood rows of the file share; the file's head lists it.
fn reference_bar() -> BarCurve {
    BarCurve::from_segments(&[
        Segment::Line { length_mm: 14.0 },
        Segment::Arc { radius_mm: 40.0, turn_deg: -8.0 },
        Segment::Line { length_mm: 22.0 },
        Segment::Arc { radius_mm: 45.0, turn_deg: -100.0 },
        Segment::Arc { radius_mm: 62.0, turn_deg: -72.0 },
        Segment::Line { length_mm: 55.0 },
    ])
    .expect("a bar")
}

fn reference_hood_offset(roll_deg: f64) -> Point2 {
    let bar = reference_bar();
    let lever = LeverBody {
        clamp_above_foot_mm: 0.0,
        trough_along_mm: 40.0,
        trough_out_mm: 22.0,
        tip_out_mm: 60.0,
        hood_width_mm: 36.0,
    };
    // A tube without thickness: centre line and outside are the same, so 52 mm from the clamp is this from the end.
    let placement = LeverPlacement { from_end_mm: bar.length_mm() - 52.0, toe_in_mm: 0.0 };
    hood_offset(&bar, roll_deg, lever, placement, Side::Right).expect("a hood").side_view()
}

#[test]
fn the_reference_bar_has_its_length_reach_and_drop() {
    for row in rows("cockpit.toml", "bar curve") {
        let bar = reference_bar();
        row.holds("length_mm", bar.length_mm());
        row.holds("reach_mm", bar.reach_mm());
        row.holds("drop_mm", bar.drop_mm());
        row.holds("end_x_mm", bar.at(bar.length_mm()).x_mm);
        row.holds("end_y_mm", bar.at(bar.length_mm()).y_mm);
        row.all_seen();
    }
}

fn head_tube_top(row: &Row) -> Point2 {
    Point2::at(row.input("reach_mm"), row.input("stack_mm"))
}

#[test]
fn clamp_and_hood_lie_where_a_chain_of_transforms_puts_them() {
    for row in rows("cockpit.toml", "hood") {
        let stem = Stem { length_mm: row.input("stem_length_mm"), angle_deg: row.input("stem_angle_deg") };
        let stack = Stack {
            cover_mm: row.input("cover_mm"),
            spacers_under_mm: row.input("spacers_mm"),
            clamp_height_mm: row.input("clamp_height_mm"),
        };
        let clamp = bar_clamp(head_tube_top(&row), row.input("head_angle_deg"), stack, stem);
        let hood = clamp + reference_hood_offset(row.input("roll_deg"));
        row.holds("clamp_x_mm", clamp.x_mm);
        row.holds("clamp_y_mm", clamp.y_mm);
        row.holds("hood_x_mm", hood.x_mm);
        row.holds("hood_y_mm", hood.y_mm);
        row.holds("above_level_deg", stem.above_level_deg(row.input("head_angle_deg")));
        row.all_seen();
    }
}

#[test]
fn stem_and_spacers_solve_the_clamp_backwards() {
    for row in rows("cockpit.toml", "stem and spacers") {
        let answer = stem_and_spacers_for(ClampWanted {
            target: Point2::at(row.input("target_x_mm"), row.input("target_y_mm")),
            head_tube_top: head_tube_top(&row),
            head_angle_deg: row.input("head_angle_deg"),
            cover_mm: row.input("cover_mm"),
            clamp_height_mm: row.input("clamp_height_mm"),
            stem_angle_deg: row.input("stem_angle_deg"),
        })
        .expect("an answer");
        row.holds("length_mm", answer.length_mm);
        row.holds("spacers_mm", answer.spacers_mm);
        row.all_seen();
    }
}

#[test]
fn the_clamp_moves_as_differences_say() {
    for row in rows("cockpit.toml", "clamp slopes") {
        let stack = Stack {
            cover_mm: row.input("cover_mm"),
            spacers_under_mm: row.input("spacers_mm"),
            clamp_height_mm: row.input("clamp_height_mm"),
        };
        let stem = Stem { length_mm: row.input("stem_length_mm"), angle_deg: row.input("stem_angle_deg") };
        let slopes = clamp_slopes(head_tube_top(&row), row.input("head_angle_deg"), stack, stem);
        for (name, slope) in [
            ("per_mm_spacers", slopes.per_mm_spacers),
            ("per_mm_stem", slopes.per_mm_stem),
            ("per_deg_stem_angle", slopes.per_deg_stem_angle),
            ("per_deg_head_angle", slopes.per_deg_head_angle),
        ] {
            row.holds(&format!("{name}_x"), slope.x_mm);
            row.holds(&format!("{name}_y"), slope.y_mm);
        }
        row.all_seen();
    }
}

#[test]
fn trying_every_stem_spacer_and_roll_finds_the_same_nearest_hoods() {
    struct Tried {
        miss_mm: f64,
        spacers_mm: f64,
        stem: Stem,
        roll_deg: f64,
    }
    for row in rows("cockpit.toml", "enumeration") {
        let target = Point2::at(row.input("target_x_mm"), row.input("target_y_mm"));
        let mut tried = Vec::new();
        for roll_deg in row.inputs("rolls_deg") {
            let offset = reference_hood_offset(roll_deg);
            for length_mm in row.inputs("stem_lengths_mm") {
                for angle_deg in row.inputs("stem_angles_deg") {
                    let stem = Stem { length_mm, angle_deg };
                    let mut spacers_mm = 0.0;
                    while spacers_mm <= row.input("spacers_most_mm") {
                        let stack = Stack {
                            cover_mm: row.input("cover_mm"),
                            spacers_under_mm: spacers_mm,
                            clamp_height_mm: row.input("clamp_height_mm"),
                        };
                        let clamp = bar_clamp(head_tube_top(&row), row.input("head_angle_deg"), stack, stem);
                        let miss_mm = (clamp + offset).distance_mm(target);
                        tried.push(Tried { miss_mm, spacers_mm, stem, roll_deg });
                        spacers_mm += row.input("spacers_step_mm");
                    }
                }
            }
        }
        tried.sort_by(|a, b| a.miss_mm.total_cmp(&b.miss_mm));
        let number = |count: usize| f64::from(u16::try_from(count).expect("a few thousand"));
        let count = |within_mm: f64| number(tried.iter().filter(|one| one.miss_mm <= within_mm).count());
        row.holds("combinations", number(tried.len()));
        for within in ["1", "2", "3", "5", "8"] {
            row.holds(&format!("within_{within}_mm"), count(within.parse().expect("a number")));
        }
        row.holds("best_miss_mm", tried[0].miss_mm);
        row.holds("best_spacers_mm", tried[0].spacers_mm);
        row.holds("best_length_mm", tried[0].stem.length_mm);
        row.holds("best_angle_deg", tried[0].stem.angle_deg);
        row.holds("best_roll_deg", tried[0].roll_deg);
        row.holds("second_miss_mm", tried[1].miss_mm);
        row.holds("second_spacers_mm", tried[1].spacers_mm);
        row.all_seen();
    }
}

fn seat_tube(row: &Row) -> SeatTube {
    SeatTube { angle_deg: row.input("angle_deg"), axis_x_at_bb_mm: row.input("axis_x_at_bb_mm") }
}

fn saddle_shape(row: &Row) -> SaddleShape {
    SaddleShape {
        nose_to_reference_mm: row.input("nose_to_reference_mm"),
        nose_above_reference_mm: 0.0,
        clamp_to_top_mm: row.input("clamp_to_top_mm"),
    }
}

#[test]
fn the_saddle_stands_where_a_chain_of_transforms_puts_it() {
    for row in rows("saddle.toml", "saddle") {
        let setting = SaddleSetting {
            extension_mm: row.input("extension_mm"),
            rail_shift_mm: row.input("rail_shift_mm"),
            tilt_deg: row.input("tilt_deg"),
        };
        let post = Post { offset_mm: row.input("offset_mm") };
        let saddle = saddle_position(seat_tube(&row), post, saddle_shape(&row), setting);
        row.holds("clamp_x_mm", saddle.clamp.x_mm);
        row.holds("clamp_y_mm", saddle.clamp.y_mm);
        row.holds("reference_x_mm", saddle.reference.x_mm);
        row.holds("reference_y_mm", saddle.reference.y_mm);
        row.holds("nose_x_mm", saddle.nose.x_mm);
        row.holds("nose_y_mm", saddle.nose.y_mm);
        row.holds("height_straight_mm", HeightLine::Straight.height_mm(saddle.reference, seat_tube(&row)));
        row.holds("height_along_seat_tube_mm", HeightLine::AlongSeatTube.height_mm(saddle.reference, seat_tube(&row)));
        row.all_seen();
    }
}

#[test]
fn extension_and_rail_shift_solve_the_saddle_backwards() {
    for row in rows("saddle.toml", "saddle setting") {
        let wanted = SaddleWanted {
            reference: Point2::at(row.input("reference_x_mm"), row.input("reference_y_mm")),
            tilt_deg: row.input("tilt_deg"),
        };
        let post = Post { offset_mm: row.input("offset_mm") };
        let setting = saddle_setting_for(wanted, seat_tube(&row), post, saddle_shape(&row)).expect("a setting");
        row.holds("extension_mm", setting.extension_mm);
        row.holds("rail_shift_mm", setting.rail_shift_mm);
        row.all_seen();
    }
}

#[test]
fn a_new_crank_or_pedal_keeps_the_leg_as_long() {
    for row in rows("saddle.toml", "leg change") {
        let old =
            CrankAndPedal { crank_mm: row.input("crank_old_mm"), pedal_stack_mm: row.input("pedal_stack_old_mm") };
        let new =
            CrankAndPedal { crank_mm: row.input("crank_new_mm"), pedal_stack_mm: row.input("pedal_stack_new_mm") };
        let reference = Point2::at(row.input("reference_x_mm"), row.input("reference_y_mm"));
        let moved = LegChange { old, new }.keep_extension(reference).expect("a place");
        row.holds("straight_new_mm", moved.length_mm());
        row.holds("reference_new_x_mm", moved.x_mm);
        row.holds("reference_new_y_mm", moved.y_mm);
        row.holds("top_of_stroke_old_mm", top_of_stroke_mm(reference, old));
        row.holds("top_of_stroke_new_mm", top_of_stroke_mm(moved, new));
        row.all_seen();
    }
}

#[test]
fn the_toe_meets_the_tyre_where_a_sampled_torus_does() {
    for row in rows("toe.toml", "toe overlap") {
        let table = frame_table(&row);
        // These rows steer in the frame's own coordinates; their pedal and wheel do not know the ground.
        let overlap = ToeOverlap {
            wheel: FrontWheel {
                head_angle_deg: table.head_angle_deg,
                axis_point: table.crown_race_seat(),
                axle: table.front_axle(),
                outer_radius_mm: row.input("front_radius_mm"),
                section_radius_mm: row.input("tyre_half_width_mm"),
            },
            foot: Foot {
                crank_mm: row.input("crank_mm"),
                tip_ahead_mm: row.input("tip_ahead_mm"),
                toe_height_mm: row.input("toe_height_mm"),
                toe_radius_mm: row.input("toe_radius_mm"),
                lateral_mm: row.input("lateral_mm"),
            },
        };
        let contact_deg = overlap.contact_steer_deg(60.0).expect("a touch");
        let ground = ground_under(&table, &row);
        let turn = SlowTurn {
            wheelbase_mm: ground.wheelbase_mm,
            head_angle_deg: table.head_angle_deg,
            steer_deg: contact_deg,
        };
        row.holds("straight_clearance_mm", overlap.clearance(0.0).gap_mm);
        row.holds("clearance_at_10_deg_mm", overlap.clearance(10.0).gap_mm);
        row.holds("clearance_at_20_deg_mm", overlap.clearance(20.0).gap_mm);
        row.holds("contact_steer_deg", contact_deg);
        row.holds("turn_radius_mm", turn.radius_mm());
        row.holds("ahead_of_pedal_mm", overlap.ahead_of_pedal_mm(90.0).expect("a tyre ahead"));
        row.all_seen();
    }
}

#[test]
fn the_pedal_touches_the_road_at_the_lean_computed_independently() {
    for row in rows("lean.toml", "pedal lean") {
        let pedal = PedalLean {
            edge_height_mm: row.input("edge_height_mm"),
            edge_lateral_mm: row.input("edge_lateral_mm"),
            tyre_section_radius_mm: row.input("tyre_section_radius_mm"),
        };
        row.holds("lean_deg", pedal.lean_deg().expect("a lean"));
        row.all_seen();
    }
}

/// A frame of the reference file asks a front axle only of figures it has: the short table gives the same axle.
#[test]
fn the_short_table_gives_the_same_level_axle() {
    for row in rows("frame.toml", "frame") {
        let table = frame_table(&row);
        let short = LevelTable {
            stack_mm: table.stack_mm,
            reach_mm: table.reach_mm,
            head_angle_deg: table.head_angle_deg,
            fork_offset_mm: table.fork_offset_mm,
            bb_drop_mm: table.bb_drop_mm,
        };
        row.holds("level_front_axle_x_mm", short.front_axle().x_mm);
    }
}
