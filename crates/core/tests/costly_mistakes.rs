//! The forty mistakes that cost a workshop money, and the near misses: each made on the sound sample, and caught.
//!
//! A mistake is told in our own words and made by setting leaves of the document, as somebody at the bench would; beside
//! it stands the check that must see it, and how much it must weigh. A list of names would prove nothing: the bike is
//! spoilt, the check objects, and on the unspoilt bike it is silent.
//!
//! Source of the list: common practice, no source: what workshops tell each other of their dearest mistakes.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a leaf that cannot be set is to stop the test")]

use std::collections::BTreeSet;
use witnessmark_core::Build;
use witnessmark_core::build::sample::sample;
use witnessmark_core::check::{self, Case};
use witnessmark_core::field::{Given, Leaf, Value};
use witnessmark_core::finding::{Finding, Severity};
use witnessmark_core::model::Model;
use witnessmark_core::{compute, plan};

use Set::{Count, Counts, Number, Says, Word};
use Severity::{Caution, Note, Stop};

/// What somebody writes into a leaf.
#[derive(Clone, Copy, Debug)]
enum Set {
    Number(f64),
    Count(u32),
    Counts(&'static [u32]),
    Word(&'static str),
    Says(bool),
}

/// One way to make a mistake: the leaves, the check that must see it, and how much it must weigh.
type Way = (&'static [(&'static str, Set)], &'static str, Severity);

/// A mistake by its number, in our own words, and the ways in which it is made.
type Mistake = (u8, &'static str, &'static [Way]);

const FORTY: &[Mistake] = &[
    (
        1,
        "a stem that cannot bring the hoods where they were asked",
        &[(&[("parts.stem.length", Number(80.0))], "reach/position", Caution)],
    ),
    (
        2,
        "the steerer is cut by a list that changed since",
        &[
            (&[("measured.steerer-cut.value", Number(201.0))], "safe/steerer_cut", Stop),
            (&[("parts.fork.steerer_uncut", Number(205.0))], "fits/steerer_length", Stop),
        ],
    ),
    (
        3,
        "the steerer stands so high that the cap bottoms on it",
        &[(&[("settings.set_down", Number(0.5))], "safe/set_down", Stop)],
    ),
    (
        4,
        "more spacers than fork or cockpit allow",
        &[
            (&[("parts.fork.spacers_max", Number(10.0))], "fits/spacer_maximum", Stop),
            (
                &[("parts.fork.spacers_max", Number(20.0)), ("parts.fork.spacers_max_counts_cover", Says(true))],
                "fits/spacer_maximum",
                Stop,
            ),
        ],
    ),
    (
        5,
        "the compression ring of another kit",
        &[
            (&[("parts.headset.compression_ring_angle", Number(45.0))], "fits/ring_and_race_angles", Stop),
            (&[("parts.headset.steerer_diameter", Number(25.4))], "fits/headset_on_steerer", Stop),
            (&[("parts.headset.cover_recess", Number(0.5))], "fits/cover_over_ring", Caution),
            (&[("parts.headset.compression_ring", Word("split ring"))], "fits/ring_for_hoses", Stop),
        ],
    ),
    (
        6,
        "a headset bearing of the wrong diameter, bore, height or angle",
        &[
            (&[("parts.headset.upper_bearing_angle", Number(36.0))], "fits/bearing_angles", Stop),
            (&[("parts.headset.lower_bearing_inner_angle", Number(36.0))], "fits/ring_and_race_angles", Stop),
            (&[("parts.headset.upper_bearing_diameter", Number(49.0))], "fits/bearings_in_head_tube", Stop),
            (&[("parts.headset.lower_bearing_bore", Number(30.0))], "fits/bearings_on_steerer", Stop),
            (&[("parts.headset.lower_bearing_height", Number(7.0))], "fits/bearing_height", Stop),
        ],
    ),
    (
        7,
        "a crown race for another fork",
        &[
            (&[("parts.fork.crown_race_diameter", Number(33.0))], "fits/crown_race", Stop),
            (&[("parts.fork.crown_race_angle", Number(36.0))], "fits/ring_and_race_angles", Stop),
            (&[("parts.fork.crown_race_moulded", Says(true))], "fits/crown_race_once", Stop),
        ],
    ),
    (
        8,
        "round spacers on a steerer or under a stem that are not round",
        &[
            (&[("parts.stem.spacer_shape", Word("tear drop"))], "fits/spacer_shape", Stop),
            (&[("parts.fork.steerer_shape", Word("flat at the rear"))], "fits/steerer_shape", Stop),
        ],
    ),
    (
        9,
        "a longer stem, and the hoses stay as they are",
        &[(&[("parts.hose.front.route", Number(890.0))], "fits/hose_length", Caution)],
    ),
    (
        10,
        "hoses so long that they buckle in the cockpit and turn the bar",
        &[(&[("parts.hose.rear.length", Number(1700.0))], "fits/hose_length", Caution)],
    ),
    (
        11,
        "the front brake at the other hand",
        &[
            (&[("rider.front_brake", Word("left"))], "safe/brake_hand", Stop),
            (&[("job.front_brake_by_law", Word("left"))], "safe/brake_hand_by_law", Caution),
        ],
    ),
    (
        12,
        "levers for mineral oil and calipers for DOT fluid",
        &[(&[("parts.caliper.rear.brake", Word("DOT fluid"))], "safe/brake_fluid", Stop)],
    ),
    (
        13,
        "calipers or rotors for another mount",
        &[
            (&[("parts.caliper.front.mount", Word("post"))], "fits/caliper_mount", Stop),
            (&[("parts.rotor.front.diameter", Number(140.0))], "fits/native_rotor", Stop),
        ],
    ),
    (
        14,
        "bolts of the wrong length through the stay",
        &[
            (&[("parts.caliper.rear.bolt_length", Number(38.0))], "fits/mount_bolts", Stop),
            (&[("parts.caliper.rear.bolt_length", Number(29.0))], "fits/mount_bolts", Stop),
            (&[("parts.caliper.rear.bolt_engagement", Number(5.0))], "safe/bolt_engagement", Stop),
        ],
    ),
    (
        15,
        "a rotor that frame or fork does not allow",
        &[
            (&[("parts.rotor.rear.diameter", Number(180.0))], "fits/rotor_limits", Stop),
            (&[("parts.rotor.front.diameter", Number(140.0))], "fits/rotor_limits", Stop),
        ],
    ),
    (
        16,
        "a lockring of the other kind",
        &[(&[("parts.rotor.front.lockring", Word("outer teeth"))], "fits/rotor_lockring", Caution)],
    ),
    (
        17,
        "an axle of another length, pitch or head",
        &[
            (&[("parts.axle.rear.pitch", Number(1.5))], "fits/axle_in_frame", Stop),
            (&[("parts.axle.rear.length", Number(172.0))], "fits/axle_in_frame", Stop),
            (&[("parts.axle.front.head", Word("flat with washer"))], "fits/axle_head", Stop),
        ],
    ),
    (
        18,
        "a bottom bracket for another shell, or with no room for its bearings",
        &[
            (&[("parts.bottom_bracket.shell_width", Number(86.5))], "fits/bottom_bracket_in_shell", Stop),
            (&[("parts.crankset.spindle_diameter", Number(30.0))], "fits/spindle_in_bearings", Stop),
            (
                &[
                    ("parts.bottom_bracket.hold", Word("pressed in")),
                    ("parts.frame.shell_bore", Number(41.0)),
                    ("parts.crankset.spindle_diameter", Number(30.0)),
                ],
                "fits/bearing_wall",
                Caution,
            ),
        ],
    ),
    (
        19,
        "pressed cups that creep in their bore, or split it",
        &[
            (
                &[
                    ("parts.bottom_bracket.hold", Word("pressed in")),
                    ("parts.bottom_bracket.cup_diameter", Number(46.3)),
                    ("parts.frame.shell_bore", Number(46.0)),
                ],
                "fits/press_fit",
                Caution,
            ),
            (
                &[
                    ("parts.bottom_bracket.hold", Word("pressed in")),
                    ("parts.bottom_bracket.cup_diameter", Number(45.98)),
                    ("parts.frame.shell_bore", Number(46.0)),
                ],
                "fits/press_fit",
                Caution,
            ),
        ],
    ),
    (
        20,
        "a spindle that is too short for its bearings, or too long for its preload",
        &[
            (&[("parts.crankset.spindle_length", Number(84.0))], "fits/spindle_length", Stop),
            (&[("parts.crankset.spindle_length", Number(104.0))], "fits/spindle_length", Stop),
        ],
    ),
    (
        21,
        "rings that touch the stay",
        &[
            (&[("parts.crankset.rings", Counts(&[56, 40]))], "fits/rings_in_frame", Stop),
            (&[("parts.frame.stay_face_inner_ring", Number(38.5))], "fits/ring_clears_stay", Stop),
            (&[("parts.crankset.chain_line", Number(42.0))], "fits/chain_line_in_frame", Caution),
        ],
    ),
    (
        22,
        "a front derailleur that does not reach ring, step or seat tube",
        &[
            (&[("parts.front_derailleur.ring_max", Count(50))], "fits/front_derailleur_rings", Stop),
            (&[("parts.front_derailleur.difference_max", Count(14))], "fits/ring_difference", Stop),
            (&[("parts.front_derailleur.chainstay_angle_min", Number(72.0))], "fits/chainstay_angle", Stop),
            (&[("parts.front_derailleur.mount", Word("band 31.8"))], "fits/front_derailleur_mount", Stop),
        ],
    ),
    (
        23,
        "a rear derailleur for smaller sprockets or less slack",
        &[
            (&[("parts.rear_derailleur.largest_sprocket_max", Count(28))], "fits/largest_sprocket", Stop),
            (&[("parts.rear_derailleur.capacity", Count(30))], "fits/chain_capacity", Caution),
        ],
    ),
    (
        24,
        "the old chain round a larger sprocket",
        &[(&[("settings.chain_links", Count(106))], "fits/chain_long_enough", Stop)],
    ),
    (
        25,
        "a cassette for another freehub",
        &[
            (&[("parts.wheel.rear.freehub", Word("spline M-12"))], "fits/cassette_on_freehub", Stop),
            (&[("parts.wheel.rear.freehub_length", Number(34.95))], "fits/freehub_length", Caution),
        ],
    ),
    (
        26,
        "parts for different numbers of speeds",
        &[
            (&[("parts.chain.speeds", Count(11))], "fits/speeds_alike", Stop),
            (&[("parts.chain.outer_width", Number(5.9))], "fits/chain_width", Caution),
            (&[("parts.cassette.spacing", Number(3.95))], "fits/sprocket_spacing", Caution),
            (&[("parts.crankset.chain_speeds", Count(10))], "fits/rings_for_chain", Caution),
        ],
    ),
    (
        27,
        "electronic parts of two families",
        &[(&[("parts.rear_derailleur.family", Word("wired 11"))], "fits/shifting_family", Stop)],
    ),
    (
        28,
        "a wire that is too short, a port too few, a hole without its plug",
        &[
            (&[("parts.wire.main.length", Number(850.0))], "fits/wire_length", Stop),
            (&[("parts.junction.shell.ports", Count(3))], "fits/wire_ports", Stop),
            (&[("parts.junction.shell.ports", Count(5))], "fits/spare_ports", Note),
        ],
    ),
    (
        29,
        "a frame without holes for what moves the shifting",
        &[
            (&[("parts.frame.wire_routing", Says(false))], "fits/shift_routing", Stop),
            (
                &[
                    ("parts.lever.left.shifting", Word("cable")),
                    ("parts.lever.right.shifting", Word("cable")),
                    ("parts.front_derailleur.shifting", Word("cable")),
                    ("parts.rear_derailleur.shifting", Word("cable")),
                ],
                "fits/shift_routing",
                Stop,
            ),
        ],
    ),
    (
        30,
        "a battery that the post or the frame does not take",
        &[
            (&[("parts.battery.place", Word("in the post"))], "fits/battery_place", Stop),
            (
                &[
                    ("parts.battery.place", Word("in the post")),
                    ("parts.battery.diameter", Number(25.0)),
                    ("parts.battery.holder_length", Number(0.0)),
                ],
                "fits/battery_in_post",
                Stop,
            ),
            (&[("parts.bottle_cage.down-tube.bolt_length", Number(20.0))], "fits/bottle_bolts", Stop),
        ],
    ),
    (
        31,
        "a post too short to hold, too long to go down, or cut too far",
        &[
            (&[("parts.post.length", Number(250.0))], "fits/post_insertion", Stop),
            (&[("parts.frame.post_depth_max", Number(150.0))], "fits/post_depth", Stop),
            (&[("parts.post.length", Number(290.0))], "fits/post_cut", Stop),
            (&[("settings.post_cut", Number(60.0))], "fits/post_cut", Stop),
        ],
    ),
    (
        32,
        "a saddle that is clamped beyond the marks on its rails",
        &[(&[("settings.rail_position", Number(30.0))], "fits/rail_position", Stop)],
    ),
    (
        33,
        "oval rails in jaws for round ones",
        &[(&[("parts.post.rail_shapes", Word("round 7"))], "fits/rails_in_clamp", Stop)],
    ),
    (
        34,
        "the wrong hanger, and no spare",
        &[
            (&[("parts.rear_derailleur.mount", Word("direct mount"))], "fits/hanger", Stop),
            (&[("parts.frame.hanger_spare", Says(false))], "fits/spare_hanger", Caution),
        ],
    ),
    (
        35,
        "a tyre that grew on its rim until it fouls the frame",
        &[(&[("parts.tyre.rear.width_measured", Number(33.5))], "fits/tyre_room", Stop)],
    ),
    (
        36,
        "a tyre that a rim without hooks does not hold",
        &[
            (
                &[("parts.wheel.front.bead", Word("hookless")), ("parts.tyre.front.hookless_approved", Says(false))],
                "safe/hookless_approved",
                Stop,
            ),
            (
                &[("parts.wheel.front.bead", Word("hookless")), ("parts.wheel.front.rim_inner_width", Number(25.0))],
                "safe/hookless_width",
                Stop,
            ),
            (
                &[("parts.wheel.front.bead", Word("hookless")), ("settings.pressure_front", Number(560.0))],
                "safe/pressure_limit",
                Stop,
            ),
        ],
    ),
    (
        37,
        "a valve that is too short, does not go through, cannot be extended, or knocks",
        &[
            (&[("parts.tube.front.valve_length", Number(48.0))], "fits/valve_length", Caution),
            (&[("parts.wheel.front.valve_hole", Number(8.5))], "fits/valve_in_hole", Caution),
            (
                &[("parts.tube.front.extender", Number(30.0)), ("parts.tube.front.valve_core_out", Says(false))],
                "fits/valve_extender",
                Caution,
            ),
            (&[("parts.tube.front.valve_held", Says(false))], "fits/valve_rattle", Note),
        ],
    ),
    (
        38,
        "a power meter without room, or without its magnet",
        &[
            (&[("parts.frame.arm_room_left", Number(6.0))], "fits/power_meter_room", Stop),
            (
                &[("parts.crankset.magnet_needed", Says(true)), ("parts.crankset.magnet_fitted", Says(false))],
                "fits/power_magnet",
                Caution,
            ),
        ],
    ),
    (
        39,
        "carbon clamped by the wrong figure, or with nothing behind it",
        &[
            (&[("parts.stem.bar_clamp_torque", Number(6.0))], "safe/clamp_torque", Caution),
            (&[("parts.stem.steerer_clamp_torque", Number(7.0))], "safe/steerer_clamp_torque", Caution),
            (&[("parts.post.clamp_torque", Number(4.0))], "safe/post_clamp_torque", Caution),
            (&[("parts.saddle.rail_clamp_torque", Number(6.0))], "safe/rail_clamp_torque", Caution),
            (&[("parts.fork.expander_length", Number(25.0))], "safe/steerer_backed", Stop),
        ],
    ),
    (
        40,
        "a rider heavier than a part allows",
        &[
            (&[("rider.mass", Number(118_000.0))], "safe/rider_mass", Stop),
            (&[("rider.mass", Number(118_000.0))], "safe/wheel_rider_mass", Stop),
            (&[("rider.mass", Number(118_000.0))], "safe/part_rider_mass", Stop),
        ],
    ),
];

/// What nearly went wrong, told in our own words; numbered for the messages alone.
const NEAR_MISSES: &[Mistake] = &[
    (
        1,
        "a computer mount for another bar",
        &[(&[("parts.computer_mount.bar_diameter", Number(25.4))], "fits/mount_on_bar", Caution)],
    ),
    (
        2,
        "a bottle that does not come out on a small frame",
        &[(&[("parts.frame.bottle_room_seat", Number(180.0))], "fits/bottle_room", Caution)],
    ),
    (
        3,
        "a pedal forced into another thread",
        &[(&[("parts.crankset.pedal_thread", Word("1/2 in x 20"))], "fits/pedal_in_crank", Stop)],
    ),
    (4, "a heel on the stay", &[(&[("parts.frame.heel_stay", Number(80.0))], "reach/heel_on_stay", Caution)]),
    (
        5,
        "a toe that meets the tyre where the old bike's did not",
        &[(
            &[("parts.pedal.foot_from_crank", Number(28.0)), ("parts.crankset.arm_length", Number(175.0))],
            "reach/toe_overlap",
            Caution,
        )],
    ),
    (
        6,
        "a chain catcher beside a ring with a power meter in it",
        &[(
            &[("parts.front_derailleur.catcher", Says(true)), ("parts.crankset.catcher_allowed", Says(false))],
            "fits/chain_catcher",
            Caution,
        )],
    ),
    (
        7,
        "clip-on bars on a bar that forbids them",
        &[(&[("parts.bar.clip_ons", Says(true)), ("parts.bar.clip_ons_allowed", Says(false))], "safe/clip_ons", Stop)],
    ),
    (
        8,
        "a bar's end closed by a loose junction and tape",
        &[(
            &[("parts.junction.end.stands", Word("right bar end")), ("parts.junction.end.diameter", Number(15.0))],
            "fits/bar_end_junction",
            Caution,
        )],
    ),
    (
        9,
        "a bag that hangs before the light's sensor",
        &[(&[("parts.saddle.bag", Says(true)), ("parts.saddle.light_sensor", Says(true))], "fits/bag_and_light", Note)],
    ),
    (
        10,
        "an axle lever that reaches the rotor",
        &[(
            &[("parts.axle.front.head", Word("flat with lever")), ("parts.axle.front.lever_to_rotor", Number(1.0))],
            "safe/axle_lever",
            Stop,
        )],
    ),
    (
        11,
        "a race number and a post that takes no holder",
        &[(&[("job.event", Word("a race")), ("parts.post.number_holder", Says(false))], "fits/number_holder", Note)],
    ),
    (
        12,
        "a spare wheel with a larger cassette",
        &[
            (&[("parts.cassette.spare_largest", Count(34))], "fits/spare_wheel_sprocket", Caution),
            (&[("parts.cassette.spare_largest", Count(36))], "fits/spare_wheel_sprocket", Stop),
        ],
    ),
    (
        13,
        "sealant that eats latex, or clots in CO2",
        &[
            (
                &[
                    ("parts.tube.front.kind", Word("latex tube")),
                    ("parts.tube.front.sealant_ml", Number(20.0)),
                    ("parts.tube.front.sealant_allows", Word("CO2")),
                ],
                "fits/sealant_beside",
                Caution,
            ),
            (
                &[("parts.tube.rear.co2", Says(true)), ("parts.tube.rear.sealant_allows", Word("latex tubes"))],
                "fits/sealant_beside",
                Caution,
            ),
        ],
    ),
    (
        14,
        "a plug that drops out of the crown",
        &[(
            &[("parts.fork.crown_open", Says(true)), ("parts.fork.crown_plug_held", Says(false))],
            "fits/crown_plug",
            Caution,
        )],
    ),
    (
        15,
        "pads whose fins touch the spokes",
        &[(&[("parts.caliper.front.fin_to_spoke", Number(0.5))], "fits/pad_fins", Stop)],
    ),
    (
        16,
        "levers whose hoods are gone from the lists",
        &[(&[("parts.lever.left.hoods_offered", Says(false))], "fits/hoods_to_be_had", Note)],
    ),
    (
        17,
        "bottle screws that go through the battery's wire",
        &[(&[("parts.bottle_cage.down-tube.bolt_length", Number(20.0))], "fits/bottle_bolts", Stop)],
    ),
    (
        18,
        "rim tape of the wrong width",
        &[
            (&[("parts.wheel.front.tape_width", Number(21.0))], "fits/tape_width", Caution),
            (&[("parts.wheel.front.tape_width", Number(30.0))], "fits/tape_width", Caution),
        ],
    ),
    (
        19,
        "a transponder's strap on bare paint",
        &[(&[("job.event", Word("a race")), ("parts.frame.strap_film", Says(false))], "fits/strap_film", Note)],
    ),
    (
        20,
        "cups whose threads turn the other way",
        &[(&[("parts.bottom_bracket.hold", Word("threaded, both right-handed"))], "fits/shell_threads", Stop)],
    ),
    (
        21,
        "the old hanger screw without thread lock",
        &[(
            &[("parts.frame.hanger_screw_used", Says(true)), ("parts.frame.hanger_screw_compound", Word("dry"))],
            "safe/hanger_screw",
            Caution,
        )],
    ),
    (
        22,
        "a fork with the offset of another size",
        &[(&[("parts.frame.trail", Number(56.0)), ("parts.fork.offset", Number(30.0))], "reach/trail", Caution)],
    ),
];

/// What stands exactly at its limit, or just inside, and is let through by the check beside it.
const JUST_INSIDE: &[(&[(&str, Set)], &str)] = &[
    (&[("parts.fork.spacers_max", Number(15.0))], "fits/spacer_maximum"),
    (&[("parts.tyre.rear.width_measured", Number(32.0))], "fits/tyre_room"),
    (&[("parts.tyre.front.hookless_approved", Says(false))], "safe/hookless_approved"),
    (&[("parts.stem.bar_clamp_torque", Number(5.0))], "safe/clamp_torque"),
    (&[("parts.saddle.rail_clamp_torque", Number(8.0))], "safe/rail_clamp_torque"),
    (&[("rider.mass", Number(110_000.0))], "safe/part_rider_mass"),
    (&[("parts.rear_derailleur.largest_sprocket_max", Count(30))], "fits/largest_sprocket"),
    (&[("parts.front_derailleur.difference_max", Count(16))], "fits/ring_difference"),
    (&[("parts.rotor.rear.thickness", Number(1.7))], "safe/rotor_thickness"),
    (&[("parts.caliper.rear.bolt_length", Number(32.5))], "fits/mount_bolts"),
    (&[("parts.hose.front.route", Number(870.0))], "fits/hose_length"),
    (&[("parts.wheel.front.tape_width", Number(23.0))], "fits/tape_width"),
    (&[("parts.wheel.front.tape_width", Number(0.0))], "fits/tape_width"),
    (&[("parts.cassette.spare_largest", Count(28))], "fits/spare_wheel_sprocket"),
    (&[("parts.caliper.front.fin_to_spoke", Number(2.0))], "fits/pad_fins"),
    (&[("parts.frame.post_insertion_min", Number(100.0))], "fits/post_insertion"),
    (&[("settings.pressure_front", Number(690.0))], "safe/pressure_limit"),
    (&[("parts.fork.steerer_shape", Word("Round"))], "fits/steerer_shape"),
    (&[("parts.headset.upper_shis", Word("is 52 / 28,6"))], "fits/headset_in_frame"),
];

#[test]
fn each_of_the_forty_is_caught_by_its_check_and_weighs_what_it_should() {
    assert_eq!(missed(FORTY), [""; 0]);
    let numbers: Vec<u8> = FORTY.iter().map(|(number, ..)| *number).collect();
    assert_eq!(numbers, (1..=40).collect::<Vec<u8>>());
}

#[test]
fn each_near_miss_is_caught_and_weighs_no_more_than_it_should() {
    assert_eq!(missed(NEAR_MISSES), [""; 0]);
}

#[test]
fn what_is_just_inside_its_limit_is_let_through() {
    let said: Vec<String> = JUST_INSIDE
        .iter()
        .flat_map(|(leaves, check)| objections(check, &spoilt(leaves)))
        .map(|finding| format!("{}: {}", finding.check, finding.why))
        .collect();
    assert_eq!(said, [""; 0]);
}

#[test]
fn the_unspoilt_bike_has_none_of_these_mistakes() {
    let checks: BTreeSet<&str> =
        FORTY.iter().chain(NEAR_MISSES).flat_map(|(.., ways)| *ways).map(|way| way.1).collect();
    for check in &checks {
        let found: Vec<Finding> = objections(check, &sample());
        assert!(found.iter().all(|finding| *check == "reach/toe_overlap" && finding.severity == Note), "{found:#?}");
    }
    assert!(checks.len() > 80, "{}", checks.len());
}

/// Every way of making these mistakes that its check does not see, alone and among all the others, with its weight.
fn missed(mistakes: &[Mistake]) -> Vec<String> {
    let mut missed = Vec::new();
    for (number, what, ways) in mistakes {
        for (leaves, check, severity) in *ways {
            let build = spoilt(leaves);
            let found = objections(check, &build);
            let worst = found.iter().map(|finding| finding.severity).min();
            let in_the_plan = plan(&build).findings.iter().any(|finding| found.contains(finding));
            let points = found.iter().all(|finding| !finding.about.is_empty() && !finding.action.is_empty());
            if worst != Some(*severity) || !in_the_plan || !points {
                missed.push(format!("{number}, {what}: {check} on {leaves:?}: {worst:?}, in the plan: {in_the_plan}"));
            }
        }
    }
    missed
}

/// The sound sample with these leaves set.
fn spoilt(leaves: &[(&str, Set)]) -> Build {
    let mut build = sample();
    for (path, set) in leaves {
        if let Err(unknown) = build.set(path, Some(leaf(*set))) {
            panic!("{path}: {unknown:?}");
        }
    }
    build
}

fn leaf(set: Set) -> Leaf {
    let value = match set {
        Number(number) => Value::Number(number),
        Count(count) => Value::Count(count),
        Counts(list) => Value::Counts(list.to_vec()),
        Word(word) => Value::Text(word.to_owned()),
        Says(yes) => Value::YesNo(yes),
    };
    Given { value, typed: format!("{set:?}"), origin: None }
}

/// What the check objects to, questions left out.
fn objections(id: &str, build: &Build) -> Vec<Finding> {
    let check = check::by_id(id).unwrap_or_else(|| panic!("there is no check {id}"));
    let model = Model::new(build);
    let worked = compute::work_out(&model);
    let numbers = compute::numbers(&model, &worked);
    let mut found = check::run_one(check, &Case { model: &model, worked: &worked, numbers: &numbers });
    found.retain(|finding| !finding.not_known);
    found
}
