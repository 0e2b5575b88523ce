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
    all.extend(settings());
    all.extend(readings());
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
