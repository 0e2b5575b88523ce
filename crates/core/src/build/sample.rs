//! A sound, finished build, invented: what the examples of the checks start from. The demo workshop has its own builds.

use super::Build;
use crate::field::{Given, Leaf, Value};
use jiff::civil::date;

/// A build on which every check is silent or makes a note.
///
/// # Panics
///
/// Never while the paths below are fields of the document; the tests call it.
#[allow(clippy::panic, reason = "a path that is no field is a mistake in this file, and the tests find it")]
pub fn sample() -> Build {
    let mut build = Build::default();
    for (path, leaf) in facts() {
        if let Err(unknown) = build.set(&path, Some(leaf)) {
            panic!("{path}: {unknown:?}");
        }
    }
    build
}

fn leaf(value: Value, typed: String) -> Leaf {
    Given { value, typed, origin: None }
}

fn n(value: f64) -> Leaf {
    leaf(Value::Number(value), value.to_string())
}

fn c(count: u32) -> Leaf {
    leaf(Value::Count(count), count.to_string())
}

fn t(text: &str) -> Leaf {
    leaf(Value::Text(text.into()), text.into())
}

fn yes(value: bool) -> Leaf {
    leaf(Value::YesNo(value), if value { "yes" } else { "no" }.into())
}

fn facts() -> Vec<(String, Leaf)> {
    let mut all = position();
    all.extend(frame_and_fork());
    all.extend(front());
    all.extend(rest());
    all.extend(transmission());
    all.extend(ends_of_the_frame());
    all.extend(wheels_and_brakes());
    all.extend(interfaces());
    all.extend(found_at_the_bench());
    all.extend(settings());
    all.extend(readings());
    all.extend(super::sample_drive::facts());
    all.extend(super::sample_finish::facts());
    all
}

fn position() -> Vec<(String, Leaf)> {
    vec![
        ("job.title".into(), t("sample")),
        ("job.stage".into(), t("finished")),
        ("job.day".into(), leaf(Value::Day(date(2027, 3, 14)), "2027-03-14".into())),
        ("rider.mass".into(), n(68_000.0)),
        ("rider.front_brake".into(), t("right")),
        ("fit.nose_to_reference".into(), n(138.0)),
        ("fit.crank_length".into(), n(170.0)),
        ("fit.pedal_stack".into(), n(11.0)),
        ("asked.saddle-height.value".into(), n(728.0)),
        ("asked.saddle-height.line".into(), t("straight")),
        ("asked.saddle-height.from".into(), t("width")),
        ("asked.saddle-setback.value".into(), n(61.0)),
        ("asked.saddle-setback.from".into(), t("nose")),
        ("asked.saddle-tilt.value".into(), n(-2.0)),
        ("asked.hood-x.value".into(), n(588.0)),
        ("asked.hood-y.value".into(), n(615.5)),
        ("asked.bar-width.value".into(), n(400.0)),
        ("asked.bar-width.across".into(), t("centre to centre")),
        ("asked.crank-length.value".into(), n(170.0)),
    ]
}

fn frame_and_fork() -> Vec<(String, Leaf)> {
    vec![
        ("parts.frame.mass".into(), n(1010.0)),
        ("parts.frame.condition".into(), t("new")),
        ("parts.frame.material".into(), t("carbon")),
        ("parts.frame.facts_from".into(), t("maker's sheet")),
        ("parts.frame.stack".into(), n(552.0)),
        ("parts.frame.reach".into(), n(387.0)),
        ("parts.frame.stack_counts_cover".into(), yes(false)),
        ("parts.frame.head_angle".into(), n(73.2)),
        ("parts.frame.seat_angle".into(), n(73.5)),
        ("parts.frame.seat_axis_behind_bb".into(), n(0.0)),
        ("parts.frame.seat_tube".into(), n(505.0)),
        ("parts.frame.head_tube".into(), n(138.0)),
        ("parts.frame.chainstay".into(), n(410.0)),
        ("parts.frame.bb_drop".into(), n(72.0)),
        ("parts.frame.front_centre".into(), n(582.4)),
        ("parts.frame.wheelbase".into(), n(981.5)),
        ("parts.frame.head_tube_upper_shis".into(), t("IS52/28.6")),
        ("parts.frame.head_tube_lower_shis".into(), t("IS52/40")),
        ("parts.frame.post_shape".into(), t("round 27.2")),
        ("parts.frame.post_insertion_min".into(), n(80.0)),
        ("parts.frame.post_depth_max".into(), n(240.0)),
        ("parts.frame.tyre_width_max".into(), n(32.0)),
        ("parts.frame.rider_mass_max".into(), n(110_000.0)),
        ("parts.frame.system_mass_max".into(), n(125_000.0)),
        ("parts.fork.mass".into(), n(410.0)),
        ("parts.fork.condition".into(), t("new")),
        ("parts.fork.material".into(), t("carbon")),
        ("parts.fork.steerer_material".into(), t("carbon")),
        ("parts.fork.length".into(), n(369.7)),
        ("parts.fork.length_is".into(), t("along the steering axis")),
        ("parts.fork.offset".into(), n(44.0)),
        ("parts.fork.steerer_upper_diameter".into(), n(28.6)),
        ("parts.fork.crown_race_diameter".into(), n(39.8)),
        ("parts.fork.steerer_shape".into(), t("round")),
        ("parts.fork.steerer_uncut".into(), n(300.0)),
        ("parts.fork.spacers_max".into(), n(30.0)),
        ("parts.fork.spacers_max_counts_cover".into(), yes(false)),
        ("parts.fork.spacer_over_required".into(), yes(true)),
        ("parts.fork.spacer_over_max".into(), n(10.0)),
        ("parts.fork.steerer_cut_min".into(), n(150.0)),
        ("parts.fork.steerer_cut_max".into(), n(300.0)),
        ("parts.fork.set_down_min".into(), n(2.0)),
        ("parts.fork.set_down_max".into(), n(4.0)),
        ("parts.fork.expander_length".into(), n(60.0)),
        ("parts.fork.tyre_width_max".into(), n(32.0)),
    ]
}

fn front() -> Vec<(String, Leaf)> {
    let mut all = vec![
        ("parts.headset.mass".into(), n(95.0)),
        ("parts.headset.upper_shis".into(), t("IS52/28.6")),
        ("parts.headset.lower_shis".into(), t("IS52/40")),
        ("parts.headset.steerer_diameter".into(), n(28.6)),
        ("parts.headset.cover_height".into(), n(9.0)),
        ("parts.headset.lower_stack".into(), n(7.0)),
        ("parts.spacer.ten.mass".into(), n(6.0)),
        ("parts.spacer.ten.height".into(), n(10.0)),
        ("parts.spacer.ten.sits".into(), t("under the stem")),
        ("parts.spacer.ten.shape".into(), t("round")),
        ("parts.spacer.five.mass".into(), n(3.0)),
        ("parts.spacer.five.height".into(), n(5.0)),
        ("parts.spacer.five.sits".into(), t("under the stem")),
        ("parts.spacer.five.shape".into(), t("round")),
        ("parts.spacer.top.mass".into(), n(3.0)),
        ("parts.spacer.top.height".into(), n(5.0)),
        ("parts.spacer.top.sits".into(), t("over the stem")),
        ("parts.spacer.top.shape".into(), t("round")),
        ("parts.stem.mass".into(), n(132.0)),
        ("parts.stem.condition".into(), t("new")),
        ("parts.stem.material".into(), t("aluminium")),
        ("parts.stem.length".into(), n(110.0)),
        ("parts.stem.angle".into(), n(-6.0)),
        ("parts.stem.reversible".into(), yes(true)),
        ("parts.stem.clamp_height".into(), n(40.0)),
        ("parts.stem.steerer_diameter".into(), n(28.6)),
        ("parts.stem.bar_diameter".into(), n(31.8)),
        ("parts.stem.bar_clamp_torque".into(), n(5.0)),
        ("parts.stem.steerer_insertion_min".into(), n(36.0)),
        ("parts.stem.spacer_over_required".into(), yes(false)),
        ("parts.stem.spacer_shape".into(), t("round")),
        ("parts.bar.mass".into(), n(215.0)),
        ("parts.bar.condition".into(), t("new")),
        ("parts.bar.material".into(), t("carbon")),
        ("parts.bar.clamp_diameter".into(), n(31.8)),
        ("parts.bar.stem_clamp_torque".into(), n(5.0)),
        ("parts.bar.lever_clamp_torque".into(), n(6.0)),
        ("parts.bar.tube_diameter".into(), n(23.8)),
        ("parts.bar.width_hoods".into(), n(400.0)),
        ("parts.bar.width_ends".into(), n(421.0)),
        ("parts.bar.reach".into(), n(78.0)),
        ("parts.bar.drop".into(), n(124.0)),
        ("parts.bar.flare".into(), n(6.0)),
        ("parts.bar.ramp_angle".into(), n(6.0)),
        ("parts.bar.clamp_straight".into(), n(12.0)),
        ("parts.bar.ramp_bend_radius".into(), n(40.0)),
        ("parts.bar.front_bend_radius".into(), n(44.0)),
        ("parts.bar.lower_bend_radius".into(), n(66.0)),
        ("parts.bar.end_length".into(), n(60.0)),
        ("parts.bar.end_angle".into(), n(6.0)),
    ];
    let lever = [
        ("mass", n(205.0)),
        ("brake", t("mineral oil")),
        ("shifting", t("electronic, wired")),
        ("clamp_diameter", n(23.8)),
        ("clamp_torque", n(6.0)),
        ("foot_to_clamp", n(16.0)),
        ("trough_along", n(-2.0)),
        ("trough_out", n(42.0)),
        ("tip_out", n(96.0)),
        ("hood_width", n(34.0)),
    ];
    for (key, leaf) in lever {
        for side in ["left", "right"] {
            all.push((format!("parts.lever.{side}.{key}"), leaf.clone()));
        }
    }
    all.push(("parts.lever.left.works_brake".into(), t("rear")));
    all.push(("parts.lever.right.works_brake".into(), t("front")));
    all
}

fn rest() -> Vec<(String, Leaf)> {
    vec![
        ("parts.crankset.mass".into(), n(640.0)),
        ("parts.crankset.arm_length".into(), n(170.0)),
        ("parts.crankset.rings".into(), leaf(Value::Counts(vec![52, 36]), "52; 36".into())),
        ("parts.crankset.stance".into(), n(146.0)),
        ("parts.pedal.mass".into(), n(230.0)),
        ("parts.pedal.stack".into(), n(11.0)),
        ("parts.pedal.width".into(), n(88.0)),
        ("parts.pedal.below_axle".into(), n(16.0)),
        ("parts.pedal.foot_from_crank".into(), n(53.0)),
        ("parts.pedal.toe_ahead".into(), n(112.0)),
        ("parts.pedal.toe_above".into(), n(15.0)),
        ("parts.pedal.toe_radius".into(), n(38.0)),
        ("parts.tyre.front.mass".into(), n(250.0)),
        ("parts.tyre.front.outer_radius".into(), n(338.0)),
        ("parts.tyre.front.width_measured".into(), n(28.4)),
        ("parts.tyre.rear.mass".into(), n(250.0)),
        ("parts.tyre.rear.outer_radius".into(), n(338.0)),
        ("parts.tyre.rear.width_measured".into(), n(28.4)),
        ("parts.saddle.mass".into(), n(190.0)),
        ("parts.saddle.condition".into(), t("new")),
        ("parts.saddle.length".into(), n(255.0)),
        ("parts.saddle.width".into(), n(143.0)),
        ("parts.saddle.nose_to_reference".into(), n(138.0)),
        ("parts.saddle.nose_to_middle_of_rail".into(), n(127.0)),
        ("parts.saddle.rail_to_top".into(), n(47.0)),
        ("parts.saddle.nose_below_reference".into(), n(2.0)),
        ("parts.saddle.rail_usable".into(), n(72.0)),
        ("parts.saddle.rail_shape".into(), t("oval 7 x 9")),
        ("parts.saddle.rail_material".into(), t("carbon")),
        ("parts.post.mass".into(), n(180.0)),
        ("parts.post.condition".into(), t("new")),
        ("parts.post.material".into(), t("carbon")),
        ("parts.post.shape".into(), t("round 27.2")),
        ("parts.post.length".into(), n(350.0)),
        ("parts.post.layback".into(), n(0.0)),
        ("parts.post.insertion_min".into(), n(90.0)),
        ("parts.post.clamp_length".into(), n(38.0)),
        ("parts.post.rail_shapes".into(), t("oval 7 x 9, round 7")),
        ("parts.post.inside_below".into(), n(0.0)),
    ]
}

fn transmission() -> Vec<(String, Leaf)> {
    let sprockets = vec![11, 12, 13, 14, 15, 16, 17, 19, 21, 24, 27, 30];
    let counts = |list: Vec<u32>| {
        let typed = list.iter().map(u32::to_string).collect::<Vec<_>>().join("; ");
        leaf(Value::Counts(list), typed)
    };
    vec![
        ("parts.bottom_bracket.mass".into(), n(82.0)),
        ("parts.bottom_bracket.shell".into(), t("threaded 1.37 in x 24")),
        ("parts.bottom_bracket.hold".into(), t("threaded, drive side left-handed")),
        ("parts.bottom_bracket.shell_width".into(), n(68.0)),
        ("parts.bottom_bracket.spindle_diameter".into(), n(24.0)),
        ("parts.bottom_bracket.bearing_width".into(), n(86.5)),
        ("parts.bottom_bracket.spacer_left".into(), n(0.0)),
        ("parts.bottom_bracket.spacer_right".into(), n(0.0)),
        ("parts.bottom_bracket.torque".into(), n(40.0)),
        ("parts.frame.shell".into(), t("threaded 1.37 in x 24")),
        ("parts.frame.shell_threads".into(), t("threaded, drive side left-handed")),
        ("parts.frame.shell_width".into(), n(68.0)),
        ("parts.frame.front_derailleur_mount".into(), t("braze-on")),
        ("parts.frame.ring_min".into(), c(34)),
        ("parts.frame.ring_max".into(), c(54)),
        ("parts.frame.hanger".into(), t("hanger 12")),
        ("parts.frame.arm_room_left".into(), n(14.0)),
        ("parts.crankset.condition".into(), t("new")),
        ("parts.crankset.material".into(), t("aluminium")),
        ("parts.crankset.spindle_diameter".into(), n(24.0)),
        ("parts.crankset.spindle_length".into(), n(90.0)),
        ("parts.crankset.preload_travel".into(), n(5.0)),
        ("parts.crankset.chain_line".into(), n(44.5)),
        ("parts.crankset.power_meter".into(), t("left arm")),
        ("parts.crankset.power_room_needed".into(), n(9.0)),
        ("parts.crankset.pedal_thread".into(), t("9/16 in x 20")),
        ("parts.crankset.arm_torque".into(), n(13.0)),
        ("parts.pedal.thread".into(), t("9/16 in x 20")),
        ("parts.pedal.torque".into(), n(36.0)),
        ("parts.front_derailleur.mass".into(), n(98.0)),
        ("parts.front_derailleur.mount".into(), t("braze-on")),
        ("parts.front_derailleur.shifting".into(), t("electronic, wired")),
        ("parts.front_derailleur.family".into(), t("wired 12")),
        ("parts.front_derailleur.speeds".into(), c(12)),
        ("parts.front_derailleur.ring_min".into(), c(46)),
        ("parts.front_derailleur.ring_max".into(), c(55)),
        ("parts.front_derailleur.difference_max".into(), c(16)),
        ("parts.front_derailleur.chain_line_min".into(), n(43.5)),
        ("parts.front_derailleur.chain_line_max".into(), n(45.0)),
        ("parts.front_derailleur.chainstay_angle_min".into(), n(61.0)),
        ("parts.front_derailleur.mount_torque".into(), n(6.0)),
        ("parts.rear_derailleur.mass".into(), n(216.0)),
        ("parts.rear_derailleur.mount".into(), t("hanger 12")),
        ("parts.rear_derailleur.shifting".into(), t("electronic, wired")),
        ("parts.rear_derailleur.family".into(), t("wired 12")),
        ("parts.rear_derailleur.speeds".into(), c(12)),
        ("parts.rear_derailleur.smallest_sprocket_min".into(), c(11)),
        ("parts.rear_derailleur.smallest_sprocket_max".into(), c(12)),
        ("parts.rear_derailleur.largest_sprocket_min".into(), c(28)),
        ("parts.rear_derailleur.largest_sprocket_max".into(), c(34)),
        ("parts.rear_derailleur.ring_difference_max".into(), c(16)),
        ("parts.rear_derailleur.capacity".into(), c(39)),
        ("parts.rear_derailleur.mount_torque".into(), n(10.0)),
        ("parts.cassette.mass".into(), n(228.0)),
        ("parts.cassette.condition".into(), t("new")),
        ("parts.cassette.sprockets".into(), counts(sprockets)),
        ("parts.cassette.speeds".into(), c(12)),
        ("parts.cassette.chain_speeds".into(), c(12)),
        ("parts.cassette.freehub".into(), t("spline S-11")),
        ("parts.cassette.spacing".into(), n(3.6)),
        ("parts.cassette.body_length".into(), n(36.8)),
        ("parts.cassette.spacer_behind".into(), n(0.0)),
        ("parts.cassette.lockring_torque".into(), n(40.0)),
        ("parts.chain.mass".into(), n(240.0)),
        ("parts.chain.condition".into(), t("new")),
        ("parts.chain.speeds".into(), c(12)),
        ("parts.chain.outer_width".into(), n(5.3)),
        ("parts.chain.joining".into(), t("joining link, used once")),
        ("parts.chain.joining_for_speeds".into(), c(12)),
        ("parts.chain.lubricant".into(), t("wax")),
        ("parts.chain.elongation".into(), n(0.0)),
        ("parts.battery.mass".into(), n(50.0)),
        ("parts.battery.family".into(), t("wired 12")),
        ("parts.battery.place".into(), t("in the down tube")),
        ("parts.battery.charge".into(), n(95.0)),
        ("parts.frame.battery_place".into(), t("in the down tube")),
    ]
}

/// Where wheels and brakes meet frame and fork.
fn ends_of_the_frame() -> Vec<(String, Leaf)> {
    vec![
        ("parts.fork.axle".into(), t("12 x 100")),
        ("parts.fork.axle_length".into(), n(120.0)),
        ("parts.fork.axle_pitch".into(), n(1.5)),
        ("parts.fork.axle_head".into(), t("flush cone")),
        ("parts.fork.brake_mount".into(), t("flat 160")),
        ("parts.fork.rotor_min".into(), n(160.0)),
        ("parts.fork.rotor_max".into(), n(160.0)),
        ("parts.frame.axle".into(), t("12 x 142")),
        ("parts.frame.axle_length".into(), n(164.0)),
        ("parts.frame.axle_pitch".into(), n(1.0)),
        ("parts.frame.axle_head".into(), t("flush cone")),
        ("parts.frame.brake_mount".into(), t("flat 140")),
        ("parts.frame.rotor_min".into(), n(140.0)),
        ("parts.frame.rotor_max".into(), n(160.0)),
    ]
}

fn wheels_and_brakes() -> Vec<(String, Leaf)> {
    let mut all: Vec<(String, Leaf)> = vec![
        ("parts.wheel.front.axle".into(), t("12 x 100")),
        ("parts.wheel.front.hub_spacing".into(), n(100.0)),
        ("parts.wheel.rear.axle".into(), t("12 x 142")),
        ("parts.wheel.rear.hub_spacing".into(), n(142.0)),
        ("parts.wheel.rear.freehub".into(), t("spline S-11")),
        ("parts.wheel.rear.freehub_length".into(), n(36.8)),
        ("parts.axle.front.length".into(), n(120.0)),
        ("parts.axle.front.pitch".into(), n(1.5)),
        ("parts.axle.front.hub_spacing".into(), n(100.0)),
        ("parts.axle.rear.length".into(), n(164.0)),
        ("parts.axle.rear.pitch".into(), n(1.0)),
        ("parts.axle.rear.hub_spacing".into(), n(142.0)),
        ("parts.rotor.front.diameter".into(), n(160.0)),
        ("parts.rotor.rear.diameter".into(), n(140.0)),
        ("parts.caliper.front.rotor_direct".into(), n(160.0)),
        ("parts.caliper.rear.rotor_direct".into(), n(140.0)),
    ];
    let both = [
        ("axle", "mass", n(38.0)),
        ("axle", "diameter", n(12.0)),
        ("axle", "thread_length", n(14.0)),
        ("axle", "head", t("flush cone")),
        ("axle", "torque", n(12.0)),
        ("wheel", "mass", n(690.0)),
        ("wheel", "condition", t("new")),
        ("wheel", "material", t("carbon")),
        ("wheel", "bead", t("hooked")),
        ("wheel", "bead_seat_diameter", n(622.0)),
        ("wheel", "rim_inner_width", n(21.0)),
        ("wheel", "rim_depth", n(44.0)),
        ("wheel", "valve_hole", n(6.6)),
        ("wheel", "valve_bed", n(42.0)),
        ("wheel", "tyre_width_min", n(25.0)),
        ("wheel", "tyre_width_max", n(35.0)),
        ("wheel", "pressure_max", n(750.0)),
        ("wheel", "rotor_mount", t("splined")),
        ("wheel", "lockring", t("inner teeth")),
        ("wheel", "spokes", c(24)),
        ("wheel", "rider_mass_max", n(115_000.0)),
        ("wheel", "tubeless_bed", yes(true)),
        ("tyre", "condition", t("new")),
        ("tyre", "etrto", t("28-622")),
        ("tyre", "kind", t("tubeless-ready")),
        ("tyre", "pressure_max", n(690.0)),
        ("tyre", "pressure_min", n(350.0)),
        ("tyre", "hookless_approved", yes(true)),
        ("tube", "mass", n(42.0)),
        ("tube", "kind", t("sealant")),
        ("tube", "tyre_width_min", n(23.0)),
        ("tube", "tyre_width_max", n(40.0)),
        ("tube", "valve", t("narrow, 6 mm")),
        ("tube", "valve_length", n(62.0)),
        ("tube", "valve_core_out", yes(true)),
        ("tube", "extender", n(0.0)),
        ("tube", "filled_on", leaf(Value::Day(date(2027, 3, 1)), "2027-03-01".into())),
        ("tube", "refill_days", c(75)),
        ("rotor", "mass", n(105.0)),
        ("rotor", "condition", t("new")),
        ("rotor", "mount", t("splined")),
        ("rotor", "lockring", t("inner teeth")),
        ("rotor", "adapter", t("none")),
        ("rotor", "thickness_new", n(1.8)),
        ("rotor", "thickness_min", n(1.5)),
        ("rotor", "resin_pads_only", yes(false)),
        ("rotor", "torque", n(40.0)),
        ("caliper", "mass", n(121.0)),
        ("caliper", "condition", t("new")),
        ("caliper", "brake", t("mineral oil")),
        ("caliper", "mount", t("flat")),
        ("caliper", "adapter", t("none")),
        ("caliper", "hose_fitting", t("olive and insert")),
        ("caliper", "pad_compound", t("resin")),
        ("caliper", "pad_thickness", n(3.9)),
        ("caliper", "pad_thickness_min", n(0.5)),
        ("caliper", "bolt_engagement", n(9.0)),
        ("caliper", "mount_torque", n(6.5)),
        ("hose", "mass", n(34.0)),
        ("hose", "brake", t("mineral oil")),
        ("hose", "lever_fitting", t("olive and insert")),
        ("hose", "caliper_fitting", t("olive and insert")),
    ];
    for (kind, key, leaf) in both {
        for place in ["front", "rear"] {
            all.push((format!("parts.{kind}.{place}.{key}"), leaf.clone()));
        }
    }
    all
}

/// Where the parts of cockpit, front end, saddle and finish meet each other.
fn interfaces() -> Vec<(String, Leaf)> {
    let mut all: Vec<(String, Leaf)> = vec![
        ("job.recheck_on".into(), leaf(Value::Day(date(2027, 4, 4)), "2027-04-04".into())),
        ("job.front_brake_by_law".into(), t("right")),
        ("settings.pressure_front".into(), n(470.0)),
        ("settings.pressure_rear".into(), n(490.0)),
        ("parts.headset.upper_bearing_diameter".into(), n(52.0)),
        ("parts.headset.upper_bearing_bore".into(), n(40.0)),
        ("parts.headset.upper_bearing_angle".into(), n(45.0)),
        ("parts.headset.upper_bearing_inner_angle".into(), n(36.0)),
        ("parts.headset.lower_bearing_diameter".into(), n(52.0)),
        ("parts.headset.lower_bearing_bore".into(), n(40.0)),
        ("parts.headset.lower_bearing_angle".into(), n(45.0)),
        ("parts.headset.lower_bearing_inner_angle".into(), n(45.0)),
        ("parts.headset.compression_ring_angle".into(), n(36.0)),
        ("parts.headset.covers_offered".into(), t("5; 9; 15")),
        ("parts.headset.hose_passage".into(), yes(true)),
        ("parts.frame.head_tube_upper_angle".into(), n(45.0)),
        ("parts.frame.head_tube_lower_angle".into(), n(45.0)),
        ("parts.frame.hoses_in_head_tube".into(), yes(true)),
        ("parts.frame.wire_routing".into(), yes(true)),
        ("parts.frame.cable_routing".into(), yes(false)),
        ("parts.frame.post_clamp_torque".into(), n(5.5)),
        ("parts.frame.bottle_room_down".into(), n(230.0)),
        ("parts.frame.bottle_room_seat".into(), n(210.0)),
        ("parts.frame.bottle_bolt_longest".into(), n(15.0)),
        ("parts.frame.bottle_bolt_torque".into(), n(2.5)),
        ("parts.fork.crown_race_angle".into(), n(45.0)),
        ("parts.fork.steerer_clamp_torque".into(), n(5.0)),
        ("parts.fork.expander_torque".into(), n(7.0)),
        ("parts.stem.steerer_shape".into(), t("round")),
        ("parts.stem.steerer_clamp_torque".into(), n(5.0)),
        ("parts.stem.rider_mass_max".into(), n(120_000.0)),
        ("parts.bar.end_bore".into(), n(20.5)),
        ("parts.bar.clamp_compound".into(), t("carbon paste")),
        ("parts.bar.rider_mass_max".into(), n(115_000.0)),
        ("parts.post.bore".into(), n(23.0)),
        ("parts.post.compound".into(), t("carbon paste")),
        ("parts.post.clamp_torque".into(), n(6.0)),
        ("parts.post.rail_clamp_torque".into(), n(8.0)),
        ("parts.post.rider_mass_max".into(), n(115_000.0)),
        ("parts.saddle.rail_clamp_torque".into(), n(9.0)),
        ("parts.saddle.rider_mass_max".into(), n(110_000.0)),
        ("parts.pedal.rider_mass_max".into(), n(110_000.0)),
        ("parts.tape.mass".into(), n(60.0)),
        ("parts.tape.width".into(), n(30.0)),
        ("parts.tape.length".into(), n(2100.0)),
        ("parts.computer_mount.mass".into(), n(30.0)),
        ("parts.computer_mount.bar_diameter".into(), n(31.8)),
        ("parts.computer_mount.interface".into(), t("quarter turn")),
        ("parts.computer_mount.load_max".into(), n(200.0)),
        ("parts.computer_mount.torque".into(), n(1.5)),
        ("parts.display.mass".into(), n(78.0)),
        ("parts.display.interface".into(), t("quarter turn")),
    ];
    for side in ["left", "right"] {
        all.push((format!("parts.end_plug.{side}.mass"), n(7.0)));
        all.push((format!("parts.end_plug.{side}.bar_bore_min"), n(19.5)));
        all.push((format!("parts.end_plug.{side}.bar_bore_max"), n(21.5)));
        all.push((format!("parts.lever.{side}.speeds"), c(12)));
        all.push((format!("parts.lever.{side}.family"), t("wired 12")));
        all.push((format!("parts.lever.{side}.hose_fitting"), t("olive and insert")));
    }
    for (place, room) in [("down-tube", 205.0), ("seat-tube", 195.0)] {
        all.push((format!("parts.bottle_cage.{place}.mass"), n(24.0)));
        all.push((format!("parts.bottle_cage.{place}.place"), t(&place.replace('-', " "))));
        all.push((format!("parts.bottle_cage.{place}.room_needed"), n(room)));
        all.push((format!("parts.bottle_cage.{place}.bolt_length"), n(12.0)));
        all.push((format!("parts.bottle_cage.{place}.torque"), n(2.0)));
    }
    all
}

/// What nobody writes on a sheet and the bench finds out.
fn found_at_the_bench() -> Vec<(String, Leaf)> {
    let mut all: Vec<(String, Leaf)> = vec![
        ("parts.fork.tyre_opening".into(), n(44.0)),
        ("parts.frame.tyre_opening".into(), n(44.0)),
        ("parts.frame.hanger_spare".into(), yes(true)),
        ("parts.frame.hanger_screw_used".into(), yes(false)),
        ("parts.frame.upper_bearing_height".into(), n(6.5)),
        ("parts.frame.lower_bearing_height".into(), n(8.0)),
        ("parts.frame.mount_thickness".into(), n(25.0)),
        ("parts.frame.heel_stay".into(), n(62.0)),
        ("parts.frame.strap_film".into(), yes(true)),
        ("parts.frame.chain_line".into(), n(44.5)),
        ("parts.fork.crown_race_moulded".into(), yes(false)),
        ("parts.fork.crown_open".into(), yes(false)),
        ("parts.headset.upper_bearing_height".into(), n(6.5)),
        ("parts.headset.lower_bearing_height".into(), n(8.0)),
        ("parts.headset.compression_ring".into(), t("ring for internal hoses")),
        ("parts.headset.crown_race_supplied".into(), yes(true)),
        ("parts.headset.ring_proud".into(), n(3.0)),
        ("parts.headset.cover_recess".into(), n(3.5)),
        ("parts.caliper.rear.bolt_length".into(), n(34.0)),
        ("parts.caliper.rear.bolt_washers".into(), n(0.0)),
        ("parts.caliper.rear.thread_depth".into(), n(11.0)),
        ("parts.pedal.heel_inside".into(), n(56.0)),
        ("parts.crankset.magnet_needed".into(), yes(false)),
        ("parts.crankset.chain_speeds".into(), c(12)),
        ("parts.cassette.spare_largest".into(), c(30)),
        ("parts.post.number_holder".into(), yes(true)),
        ("parts.post.cut_min".into(), n(300.0)),
        ("parts.hose.front.length".into(), n(900.0)),
        ("parts.hose.front.route".into(), n(860.0)),
        ("parts.hose.front.inside".into(), n(150.0)),
        ("parts.hose.rear.length".into(), n(1620.0)),
        ("parts.hose.rear.route".into(), n(1580.0)),
        ("parts.hose.rear.inside".into(), n(600.0)),
    ];
    let both = [
        ("wheel", "tape_width", n(25.0)),
        ("tube", "valve_held", yes(true)),
        ("tube", "sealant_allows", t("CO2")),
        ("tube", "co2", yes(false)),
        ("caliper", "pad_fins", yes(true)),
        ("caliper", "fin_to_spoke", n(4.0)),
        ("hose", "insertion", n(10.0)),
        ("hose", "sleeve_length", n(400.0)),
    ];
    for (kind, key, leaf) in both {
        for place in ["front", "rear"] {
            all.push((format!("parts.{kind}.{place}.{key}"), leaf.clone()));
        }
    }
    for side in ["left", "right"] {
        all.push((format!("parts.lever.{side}.hoods_offered"), yes(true)));
    }
    all
}

fn settings() -> Vec<(String, Leaf)> {
    vec![
        ("settings.spacers_under".into(), n(15.0)),
        ("settings.spacers_over".into(), n(5.0)),
        ("settings.set_down".into(), n(3.0)),
        ("settings.expander_depth".into(), n(1.0)),
        ("settings.stem_flipped".into(), yes(false)),
        ("settings.bar_roll".into(), n(0.0)),
        ("settings.lever_from_end_left".into(), n(196.0)),
        ("settings.lever_from_end_right".into(), n(196.0)),
        ("settings.toe_in_left".into(), n(6.0)),
        ("settings.toe_in_right".into(), n(6.0)),
        ("settings.lever_reach_left".into(), n(62.0)),
        ("settings.lever_reach_right".into(), n(62.0)),
        ("settings.post_extension".into(), n(176.2)),
        ("settings.rail_position".into(), n(4.0)),
        ("settings.saddle_tilt".into(), n(-2.0)),
    ]
}

fn readings() -> Vec<(String, Leaf)> {
    vec![
        ("measured.steerer-cut.value".into(), n(211.2)),
        ("measured.steerer-cut.plus_minus".into(), n(0.5)),
        ("measured.steerer-cut.with".into(), t("steel rule")),
    ]
}
