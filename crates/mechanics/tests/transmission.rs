//! Chain, gears, chain line, wear and wires: every reference row, the computed tables, what must not change, and what is
//! refused.

#![allow(clippy::panic, reason = "a test fails by panicking")]

mod rows;
mod table;

use proptest::prelude::*;
use rows::{Row, rows};
use table::{Line, lines};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::chain::{
    Cage, Drive, Lies, OnCassette, Path, PivotTravel, Refusal, Sense, Swing, SwingEnd, TwoWheels, Wheel, around,
    even_at_least, even_at_most, pitch_diameter_mm, place,
};
use witnessmark_mechanics::chain_line::{Row as AcrossRow, UpperRun};
use witnessmark_mechanics::gears::{Gear, Turning, speed_kmh};
use witnessmark_mechanics::wear::{ChainReading, reading_mm};
use witnessmark_mechanics::wiring::{self, MOST_UNITS, MOST_WIRES, Net, Role, Wire};

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "tooth counts in the files are whole")]
fn whole(value: f64) -> u32 {
    assert!(value >= 0.0 && value.fract().abs() < 1e-9, "{value}");
    value as u32
}

fn point(pair: &[f64]) -> Point2 {
    Point2::at(pair[0], pair[1])
}

// ---------------------------------------------------------------- printed values

#[test]
fn pitch_diameters_are_those_of_a_printed_table() {
    for row in rows("chain.toml", "pitch diameter, one inch") {
        let for_half_inch = pitch_diameter_mm(whole(row.input("teeth"))).expect("a wheel");
        row.holds("diameter_mm", for_half_inch * 2.0);
        row.all_seen();
    }
}

fn two_wheels(row: &Row) -> TwoWheels {
    TwoWheels {
        ring_teeth: whole(row.input("ring")),
        sprocket_teeth: whole(row.input("sprocket")),
        centres_mm: row.input("centres_mm"),
    }
}

#[test]
fn a_chain_round_two_wheels_is_as_long_as_hulls_and_handbooks_say() {
    for row in rows("chain.toml", "two wheels") {
        row.holds("links", two_wheels(&row).links().expect("a path"));
        row.all_seen();
    }
    for row in rows("chain.toml", "two wheels, handbook") {
        row.holds("links", two_wheels(&row).handbook_links());
        row.all_seen();
    }
}

fn drive(row: &Row, ring: u32, sprocket: u32) -> Drive {
    let (stay, drop) = (row.input("chainstay_mm"), row.input("bb_drop_mm"));
    let rear_axle = Point2::at(-(stay * stay - drop * drop).sqrt(), drop);
    let sprockets = row.inputs("sprockets");
    let travel = PivotTravel {
        smallest: point(&row.inputs("pivot_smallest_mm")),
        largest: point(&row.inputs("pivot_largest_mm")),
    };
    let on =
        OnCassette { sprocket, smallest: whole(sprockets[0]), largest: whole(*sprockets.last().expect("a sprocket")) };
    Drive {
        ring_teeth: ring,
        sprocket_teeth: sprocket,
        rear_axle,
        pivot: rear_axle + travel.at(on),
        cage: Cage {
            upper_teeth: whole(row.input("upper")),
            lower_teeth: whole(row.input("lower")),
            pivot_to_upper_mm: row.input("pivot_to_upper_mm"),
            pivot_to_lower_mm: row.input("pivot_to_lower_mm"),
            upper_from_lower_deg: row.input("upper_from_lower_deg"),
            forward_stop_deg: row.input("forward_stop_deg"),
            rear_stop_deg: row.input("rear_stop_deg"),
        },
    }
}

fn swing(drive: &Drive) -> Swing {
    drive.swing().unwrap_or_else(|refusal| panic!("{drive:?}: {refusal:?}"))
}

#[test]
fn the_extremes_of_four_derailleurs_are_as_computed_elsewhere() {
    for row in rows("chain.toml", "extremes") {
        let (rings, sprockets) = (row.inputs("rings"), row.inputs("sprockets"));
        let large = drive(&row, whole(rings[0]), whole(*sprockets.last().expect("one")));
        let small = drive(&row, whole(rings[1]), whole(sprockets[0]));
        row.holds("least_links_large", swing(&large).least_links);
        row.holds("most_links_small", swing(&small).most_links);
        row.holds("take_up_teeth", swing(&small).take_up_teeth());
        row.all_seen();
    }
}

#[test]
fn every_gear_of_a_derailleur_is_as_computed_elsewhere() {
    for row in rows("chain.toml", "gear") {
        let drive = drive(&row, whole(row.input("ring")), whole(row.input("sprocket")));
        let links = row.input("links");
        let swing = swing(&drive);
        row.holds("links_to_forward_stop", links - swing.least_links);
        row.holds("links_to_rear_stop", swing.most_links - links);
        if let Lies::Tight { cage_deg } = swing.lies(links) {
            row.holds("cage_deg", cage_deg);
            let path = drive.path_at(cage_deg).expect("a path");
            let wraps = path.wraps_deg;
            row.holds("wrap_ring_deg", wraps[place::RING]);
            row.holds("wrap_lower_deg", wraps[place::LOWER]);
            row.holds("wrap_upper_deg", wraps[place::UPPER]);
            row.holds("wrap_sprocket_deg", wraps[place::SPROCKET]);
            row.holds("self_gap_mm", swing.self_gap_mm(cage_deg, row.input("chain_height_mm")).expect("a lower run"));
        }
        row.all_seen();
    }
}

#[test]
fn chain_lines_are_as_computed_elsewhere() {
    for row in rows("chain.toml", "chain line") {
        let sprockets = row.inputs("sprockets");
        let count = u32::try_from(sprockets.len()).expect("a cassette");
        let cassette = AcrossRow { middle_mm: row.input("middle_mm"), spacing_mm: row.input("spacing_mm"), count };
        for (at, sprocket) in sprockets.iter().enumerate() {
            let run = UpperRun {
                ring_teeth: whole(row.input("ring")),
                sprocket_teeth: whole(*sprocket),
                ring_out_mm: row.input("ring_out_mm"),
                sprocket_out_mm: cassette.out_mm(u32::try_from(at).expect("a place")),
                chainstay_mm: row.input("chainstay_mm"),
            };
            row.holds(&format!("angle_deg_{at}"), run.angle_deg().expect("an angle"));
        }
        row.all_seen();
    }
}

#[test]
fn worn_chains_measure_what_is_printed() {
    for row in rows("chain.toml", "chain wear") {
        let (pitches, percent) = (whole(row.input("pitches")), row.input("elongation_percent"));
        row.holds("length_mm", reading_mm(pitches, percent));
        row.all_seen();
        let back = ChainReading { length_mm: reading_mm(pitches, percent), pitches }.elongation_percent();
        assert!((back.expect("a reading") - percent).abs() < 1e-9);
    }
    assert_eq!(ChainReading { length_mm: 304.8, pitches: 0 }.elongation_percent(), None);
}

#[test]
fn developments_are_those_of_a_printed_chart_but_for_its_three_misprints() {
    let development_m = |row: &Row| {
        let gear = Gear { ring: whole(row.input("ring")), sprocket: whole(row.input("sprocket")) };
        gear.development_mm(row.input("circumference_mm")) / 1000.0
    };
    for row in rows("gears.toml", "development") {
        row.holds("development_m", development_m(&row));
        row.all_seen();
    }
    for row in rows("gears.toml", "misprint") {
        row.holds("development_m", development_m(&row));
        assert!((row.expected("printed_m") - development_m(&row)).abs() > 0.3, "{}", row.id());
        row.all_seen();
    }
}

#[test]
fn ratios_steps_and_speeds_are_as_computed_elsewhere() {
    for row in rows("gears.toml", "gear") {
        let gear = Gear { ring: whole(row.input("ring")), sprocket: whole(row.input("sprocket")) };
        let development_mm = gear.development_mm(row.input("circumference_mm"));
        row.holds("turns", gear.turns());
        row.holds("development_m", development_mm / 1000.0);
        row.holds("speed_kmh", speed_kmh(Turning { development_mm, cadence_per_minute: row.input("cadence") }));
        row.all_seen();
    }
    for row in rows("gears.toml", "step") {
        let gear = |name| Gear { ring: whole(row.input("ring")), sprocket: whole(row.input(name)) };
        row.holds("percent", gear("from").step_to(gear("to")) * 100.0);
        row.all_seen();
    }
    for row in rows("gears.toml", "near duplicates") {
        let one = Gear { ring: whole(row.input("ring")), sprocket: whole(row.input("sprocket")) };
        let other = Gear { ring: whole(row.input("other_ring")), sprocket: whole(row.input("other_sprocket")) };
        let percent = row.expected("percent");
        row.holds("percent", one.step_to(other).abs().max(other.step_to(one).abs()) * 100.0);
        assert!(one.is_nearly(other, percent / 100.0 + 1e-9) && other.is_nearly(one, percent / 100.0 + 1e-9));
        assert!(!one.is_nearly(other, percent / 100.0 - 1e-9));
        row.all_seen();
    }
}

// ---------------------------------------------------------------- computed tables

fn wheel(line: &Line, at: usize) -> Wheel {
    Wheel {
        centre: Point2::at(line.get(&format!("x_mm_{at}")), line.get(&format!("y_mm_{at}"))),
        teeth: whole(line.get(&format!("teeth_{at}"))),
        sense: if line.get(&format!("sense_{at}")) > 0.0 { Sense::Anticlockwise } else { Sense::Clockwise },
    }
}

fn length<const N: usize>(line: &Line) -> f64 {
    let wheels: [Wheel; N] = core::array::from_fn(|at| wheel(line, at));
    around(&wheels).unwrap_or_else(|refusal| panic!("{line}: {refusal:?}")).links
}

#[test]
fn three_thousand_random_layouts_are_as_long_as_chains_of_stiff_links() {
    /// A chain of stiff links breathes; its mean over the phases is known to five of its standard errors. What is left
    /// is what the circle of mean radius cannot know: the corners of wheels with few teeth.
    const CORNERS_LINKS: f64 = 0.0015;
    let (mut count, mut crossed, mut worst) = (0, 0, 0.0_f64);
    for line in lines("chain-paths.csv") {
        let links = match line.text("wheels") {
            "2" => length::<2>(&line),
            "3" => length::<3>(&line),
            "4" => length::<4>(&line),
            "5" => length::<5>(&line),
            other => panic!("{line}: {other} wheels"),
        };
        let error = 5.0 * line.get("standard_error");
        line.holds("links", links, CORNERS_LINKS.max(error));
        worst = worst.max((links - line.get("links")).abs());
        count += 1;
        crossed += usize::from(line.text("crossed") != "0");
    }
    assert!(count >= 3000 && crossed >= 1500, "{count} layouts, {crossed} with crossed runs");
    assert!(worst > 1e-5, "the table is not made from this formula");
}

#[test]
fn a_thousand_random_cages_come_to_rest_where_another_root_finder_puts_them() {
    let (mut tight, mut short, mut slack, mut turning) = (0, 0, 0, 0);
    for line in lines("chain-cages.csv") {
        let (stay, drop) = (line.get("chainstay_mm"), line.get("bb_drop_mm"));
        let rear_axle = Point2::at(-(stay * stay - drop * drop).sqrt(), drop);
        let drive = Drive {
            ring_teeth: whole(line.get("ring")),
            sprocket_teeth: whole(line.get("sprocket")),
            rear_axle,
            pivot: rear_axle + Point2::at(line.get("pivot_x_mm"), line.get("pivot_y_mm")),
            cage: Cage {
                upper_teeth: whole(line.get("upper")),
                lower_teeth: whole(line.get("lower")),
                pivot_to_upper_mm: line.get("pivot_to_upper_mm"),
                pivot_to_lower_mm: line.get("pivot_to_lower_mm"),
                upper_from_lower_deg: line.get("upper_from_lower_deg"),
                forward_stop_deg: line.get("forward_stop_deg"),
                rear_stop_deg: line.get("rear_stop_deg"),
            },
        };
        let swing = drive.swing().unwrap_or_else(|refusal| panic!("{line}: {refusal:?}"));
        line.holds("least_links", swing.least_links, 1e-6);
        line.holds("most_links", swing.most_links, 1e-6);
        turning += usize::from(swing.forward_end == SwingEnd::Turning || swing.rear_end == SwingEnd::Turning);
        match swing.lies(line.get("links")) {
            Lies::Tight { cage_deg } => {
                assert_eq!(line.text("lies"), "tight", "{line}");
                line.holds("cage_deg", cage_deg, 1e-5);
                line.holds("self_gap_mm", swing.self_gap_mm(cage_deg, 8.6).expect("a lower run"), 1e-4);
                tight += 1;
            }
            Lies::TooShort { by_links } => {
                assert_eq!(line.text("lies"), "short", "{line}");
                line.holds("by_links", by_links, 1e-6);
                short += 1;
            }
            Lies::Slack { by_links } => {
                assert_eq!(line.text("lies"), "slack", "{line}");
                line.holds("by_links", by_links, 1e-6);
                slack += 1;
            }
        }
    }
    assert!(tight >= 500 && short >= 60 && slack >= 60, "{tight} tight, {short} short, {slack} slack");
    assert!(turning >= 50, "{turning} swings end where the length turns");
}

#[test]
fn random_nets_are_judged_as_a_graph_library_judges_them() {
    let (mut trees, mut broken, mut ways) = (0, 0, 0);
    for line in lines("wiring-nets.csv") {
        let units = usize::try_from(whole(line.get("units"))).expect("units");
        let wires: Vec<Wire> = line
            .text("net")
            .split_whitespace()
            .map(|pair| {
                let (one, other) = pair.split_once('-').expect("a wire");
                Wire { one: one.parse().expect("a unit"), other: other.parse().expect("a unit") }
            })
            .collect();
        let net = Net::new(units, &wires).unwrap_or_else(|refusal| panic!("{line}: {refusal:?}"));
        let count = |role| (0..wires.len()).filter(|&at| net.role(at) == Some(role)).count().to_string();
        assert_eq!(net.groups().to_string(), line.text("groups"), "{line}");
        assert_eq!(net.is_tree(), line.text("tree") == "1", "{line}");
        assert_eq!(count(Role::ClosesRing), line.text("rings"), "{line}");
        assert_eq!(count(Role::UponItself), line.text("upon_itself"), "{line}");
        let most = (0..units).map(|unit| net.ends_in(unit)).max().unwrap_or(0);
        assert_eq!(most.to_string(), line.text("most_ends"), "{line}");
        if net.is_tree() {
            trees += 1;
        } else {
            broken += 1;
        }
        if !line.text("way").is_empty() {
            let mut way = vec![0];
            while let Some(step) = net.next_on_way(way[way.len() - 1], units - 1) {
                way.push(step.unit);
                assert!(way.len() <= units, "{line}: the way does not end");
            }
            let way: Vec<String> = way.iter().map(ToString::to_string).collect();
            assert_eq!(way.join(" "), line.text("way"), "{line}");
            ways += 1;
        }
    }
    assert!(trees >= 300 && broken >= 300 && ways >= 300, "{trees} trees, {broken} broken, {ways} ways");
}

// ---------------------------------------------------------------- special cases and refusals

fn plain_cage() -> Cage {
    Cage {
        upper_teeth: 11,
        lower_teeth: 11,
        pivot_to_upper_mm: 0.0,
        pivot_to_lower_mm: 56.0,
        upper_from_lower_deg: 0.0,
        forward_stop_deg: -25.0,
        rear_stop_deg: -172.0,
    }
}

fn plain_drive() -> Drive {
    let rear_axle = Point2::at(-404.0, 70.0);
    Drive {
        ring_teeth: 52,
        sprocket_teeth: 25,
        rear_axle,
        pivot: rear_axle + Point2::at(16.0, -85.0),
        cage: plain_cage(),
    }
}

#[test]
fn two_equal_wheels_take_their_teeth_and_twice_their_distance() {
    let links = TwoWheels { ring_teeth: 40, sprocket_teeth: 40, centres_mm: 32.0 * 12.7 }.links();
    assert!((links.expect("a path") - (40.0 + 64.0)).abs() < 1e-12);
}

#[test]
fn a_crossed_chain_round_two_equal_wheels_is_known_by_hand() {
    // Centres a circumference apart over π: with d = 4r the run leans by 30°, is 4r·cos 30° long and turns 240° each.
    let radius = 30.0 * 12.7 / core::f64::consts::TAU;
    let wheel = |x, sense| Wheel { centre: Point2::at(x, 0.0), teeth: 30, sense };
    let path = around(&[wheel(0.0, Sense::Clockwise), wheel(4.0 * radius, Sense::Anticlockwise)]).expect("a path");
    for wrap_deg in path.wraps_deg {
        assert!((wrap_deg - 240.0).abs() < 1e-9, "{wrap_deg}");
    }
    let by_hand = 2.0 * 4.0 * radius * 30_f64.to_radians().cos() / 12.7 + 2.0 * 30.0 * 240.0 / 360.0;
    assert!((path.links - by_hand).abs() < 1e-12);
}

#[test]
fn what_is_no_drive_is_refused_by_its_name() {
    let of = |change: fn(&mut Drive)| {
        let mut drive = plain_drive();
        change(&mut drive);
        drive.swing().map(|_| ()).expect_err("a refusal")
    };
    assert_eq!(of(|drive| drive.ring_teeth = 0), Refusal::TooFewTeeth(place::RING));
    assert_eq!(of(|drive| drive.sprocket_teeth = 2), Refusal::TooFewTeeth(place::SPROCKET));
    assert_eq!(of(|drive| drive.cage.lower_teeth = 0), Refusal::TooFewTeeth(place::LOWER));
    assert_eq!(of(|drive| drive.cage.upper_teeth = 1), Refusal::TooFewTeeth(place::UPPER));
    // A ring of a thousand teeth reaches two metres: nothing behind it stands clear.
    assert!(matches!(of(|drive| drive.ring_teeth = 1000), Refusal::Overlap(_) | Refusal::NoSwing));
    assert!(matches!(of(|drive| drive.ring_teeth = u32::MAX), Refusal::Overlap(_) | Refusal::NoSwing));
    assert_eq!(of(|drive| drive.rear_axle.x_mm = f64::NAN), Refusal::NotANumber(place::SPROCKET));
    assert_eq!(of(|drive| drive.cage.pivot_to_lower_mm = f64::INFINITY), Refusal::NotANumber(place::LOWER));
    assert_eq!(of(|drive| drive.cage.forward_stop_deg = -180.0), Refusal::NoSwing);
    assert_eq!(of(|drive| drive.cage.forward_stop_deg = f64::NAN), Refusal::NoSwing);
    assert_eq!(of(|drive| drive.cage.rear_stop_deg = -1e9), Refusal::NoSwing);
    // The upper wheel inside the sprocket.
    assert_eq!(of(|drive| drive.pivot = drive.rear_axle), Refusal::NoSwing);
}

#[test]
fn a_cage_longer_than_the_chainstay_ends_its_swing_where_it_would_meet_the_ring() {
    let mut drive = plain_drive();
    drive.cage.pivot_to_lower_mm = 420.0;
    drive.cage.forward_stop_deg = 60.0;
    match drive.swing() {
        Ok(swing) => assert!(swing.forward_deg < 60.0 && swing.forward_end != SwingEnd::Stop, "{swing:?}"),
        Err(refusal) => assert_eq!(refusal, Refusal::NoSwing),
    }
}

#[test]
fn a_number_of_links_that_is_no_number_ends_at_once() {
    let swing = swing(&plain_drive());
    assert!(matches!(swing.lies(f64::NAN), Lies::Slack { .. }));
    assert!(matches!(swing.lies(f64::INFINITY), Lies::Slack { .. }));
    assert!(matches!(swing.lies(f64::NEG_INFINITY), Lies::TooShort { .. }));
    assert_eq!(even_at_least(f64::NAN), None);
    assert_eq!(even_at_least(-2.0), None);
    assert_eq!((even_at_least(109.1), even_at_least(110.0), even_at_most(109.9)), (Some(110), Some(110), Some(108)));
}

#[test]
fn a_cassette_of_one_sprocket_has_one_place_of_the_pivot() {
    let travel = PivotTravel { smallest: Point2::at(14.0, -70.0), largest: Point2::at(18.0, -99.0) };
    assert_eq!(travel.at(OnCassette { sprocket: 14, smallest: 14, largest: 14 }), travel.smallest);
    assert_eq!(travel.at(OnCassette { sprocket: 34, smallest: 11, largest: 34 }), travel.largest);
}

#[test]
fn a_net_that_is_too_large_or_names_a_unit_that_is_not_there_is_refused() {
    let wire = Wire { one: 0, other: 1 };
    assert_eq!(Net::new(MOST_UNITS + 1, &[]), Err(wiring::Refusal::TooManyUnits));
    assert_eq!(Net::new(2, &[wire; MOST_WIRES + 1]), Err(wiring::Refusal::TooManyWires));
    assert_eq!(Net::new(1, &[wire]), Err(wiring::Refusal::NoSuchUnit(0)));
    let net = Net::new(0, &[]).expect("an empty net");
    assert!(net.groups() == 0 && !net.is_tree() && net.next_on_way(0, 0).is_none() && net.role(0).is_none());
}

// ---------------------------------------------------------------- what must not change

fn path_of(drive: &Drive, cage_deg: f64) -> Option<Path<4>> {
    drive.path_at(cage_deg).ok()
}

prop_compose! {
    fn any_drive()(
        ring_teeth in 28_u32..60, sprocket_teeth in 9_u32..40, upper_teeth in 9_u32..15, lower_teeth in 9_u32..20,
        x in -20.0..30.0, y in -120.0..-60.0, to_lower in 40.0..110.0, to_upper in 0.0..25.0, between in -180.0..180.0,
        forward in -70.0..60.0, width in 0.0..300.0,
    ) -> Drive {
        let rear_axle = Point2::at(-404.0, 70.0);
        Drive {
            ring_teeth,
            sprocket_teeth,
            rear_axle,
            pivot: rear_axle + Point2::at(x, y),
            cage: Cage {
                upper_teeth,
                lower_teeth,
                pivot_to_upper_mm: to_upper,
                pivot_to_lower_mm: to_lower,
                upper_from_lower_deg: between,
                forward_stop_deg: forward,
                rear_stop_deg: forward - width,
            },
        }
    }
}

proptest! {
    /// The same chain, counted from another wheel.
    #[test]
    fn a_path_is_as_long_from_whichever_wheel_it_is_counted(drive in any_drive(), cage_deg in -180.0..0.0) {
        if let Some(path) = path_of(&drive, cage_deg) {
            let [a, b, c, d] = drive.wheels(cage_deg);
            let from_third = around(&[c, d, a, b]).expect("the same path");
            prop_assert!((path.links - from_third.links).abs() < 1e-9);
        }
    }

    /// The same chain, run backwards: every wheel turns the other way and comes in the opposite order.
    #[test]
    fn a_path_is_as_long_run_backwards(drive in any_drive(), cage_deg in -180.0..0.0) {
        if let Some(path) = path_of(&drive, cage_deg) {
            let mut wheels = drive.wheels(cage_deg);
            wheels.reverse();
            for wheel in &mut wheels {
                wheel.sense = match wheel.sense {
                    Sense::Clockwise => Sense::Anticlockwise,
                    Sense::Anticlockwise => Sense::Clockwise,
                };
            }
            prop_assert!((path.links - around(&wheels).expect("the same path").links).abs() < 1e-9);
        }
    }

    /// The bike turned about any angle and moved anywhere.
    #[test]
    fn a_path_does_not_know_where_the_bike_stands(
        drive in any_drive(), cage_deg in -180.0..0.0, turn_deg in -180.0..180.0, x in -900.0..900.0, y in -900.0..900.0,
    ) {
        if let Some(path) = path_of(&drive, cage_deg) {
            let moved = drive.wheels(cage_deg).map(|wheel| Wheel {
                centre: wheel.centre.rotated_deg(turn_deg) + Point2::at(x, y),
                ..wheel
            });
            prop_assert!((path.links - around(&moved).expect("the same path").links).abs() < 1e-8);
        }
    }

    /// Runs leave and meet their wheels square to the radius, and are as long as their ends are apart.
    #[test]
    fn runs_are_tangents(drive in any_drive(), cage_deg in -180.0..0.0) {
        if let Some(path) = path_of(&drive, cage_deg) {
            let wheels = drive.wheels(cage_deg);
            for (at, run) in path.runs.iter().enumerate() {
                prop_assert!((run.from.distance_mm(run.to) - run.length_mm).abs() < 1e-9);
                prop_assert!((run.from - wheels[at].centre).dot(run.along).abs() < 1e-9);
                prop_assert!((run.to - wheels[(at + 1) % 4].centre).dot(run.along).abs() < 1e-9);
            }
        }
    }

    /// Whatever the drive: the look over its swing ends, its ends are in order, every length between them is tight at an
    /// angle whose path is that long, and more links never bring the cage further ahead.
    #[test]
    fn a_tight_chain_is_as_long_as_its_path_and_more_links_swing_the_cage_back(drive in any_drive()) {
        if let Ok(swing) = drive.swing() {
            prop_assert!(swing.rear_deg <= swing.forward_deg && swing.least_links <= swing.most_links + 1e-9);
            prop_assert!(drive.cage.rear_stop_deg <= swing.rear_deg && swing.forward_deg <= drive.cage.forward_stop_deg);
            let mut before_deg = f64::INFINITY;
            for links in 60..200 {
                if let Lies::Tight { cage_deg } = swing.lies(f64::from(links)) {
                    let path = drive.path_at(cage_deg).expect("a path");
                    prop_assert!((path.links - f64::from(links)).abs() < 1e-9, "{} for {links}", path.links);
                    prop_assert!(cage_deg <= before_deg);
                    before_deg = cage_deg;
                }
            }
        }
    }

    /// No figures, however absurd, stop the program or keep it busy.
    #[test]
    fn nothing_absurd_panics_or_runs_on(
        teeth in prop::array::uniform4(any::<u32>()), mm in prop::array::uniform6(any::<f64>()),
        deg in prop::array::uniform3(any::<f64>()), links in any::<f64>(),
    ) {
        let drive = Drive {
            ring_teeth: teeth[0],
            sprocket_teeth: teeth[1],
            rear_axle: Point2::at(mm[0], mm[1]),
            pivot: Point2::at(mm[2], mm[3]),
            cage: Cage {
                upper_teeth: teeth[2],
                lower_teeth: teeth[3],
                pivot_to_upper_mm: mm[4],
                pivot_to_lower_mm: mm[5],
                upper_from_lower_deg: deg[0],
                forward_stop_deg: deg[1],
                rear_stop_deg: deg[2],
            },
        };
        if let Ok(swing) = drive.swing() {
            let _: Lies = swing.lies(links);
        }
        let gear = Gear { ring: teeth[0], sprocket: teeth[1] };
        prop_assert_eq!(gear.ratio().is_none(), teeth[1] == 0);
        if let Some(ratio) = gear.ratio() {
            prop_assert_eq!(u64::from(ratio.over) * u64::from(teeth[1]), u64::from(ratio.under) * u64::from(teeth[0]));
        }
    }
}
