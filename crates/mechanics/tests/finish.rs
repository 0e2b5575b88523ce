//! Bolts, tape, mass and tyres against printed tables and independent computations.

#![allow(clippy::panic, reason = "a test fails by panicking")]

mod rows;
mod table;

use rows::{Row, rows};
use table::lines;
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::bar::{ArcSpan, BarCurve, Segment};
use witnessmark_mechanics::fastener::{
    Applied, Between, HeadRing, Thread, nut_factor, preload_n, torque_arm_mm, yield_preload_n,
};
use witnessmark_mechanics::mass::{self, Axles, Lump, Wanted};
use witnessmark_mechanics::tape::{Roll, Run, Strip};
use witnessmark_mechanics::tyre::{
    LikedPressure, OtherTyre, Section, at_temperature_kpa, carried_kpa, chart_pressure_kpa, contact_mm2,
};

fn thread(row: &Row) -> Thread {
    Thread { diameter_mm: row.input("diameter_mm"), pitch_mm: row.input("pitch_mm") }
}

/// Within a share of what is printed, where a table rounds more coarsely than its last digit says.
fn within(row: &Row, name: &str, computed: f64, share: f64) {
    let printed = row.expected(name);
    let off = (computed / printed - 1.0).abs();
    assert!(off <= share, "{}: {name} is {computed}, printed {printed}, {:.2} % off", row.id(), off * 100.0);
}

#[test]
fn stress_areas_and_proof_loads_are_those_of_the_standard() {
    for row in rows("fasteners.toml", "stress area") {
        row.holds("area_mm2", thread(&row).stress_area_mm2());
        row.all_seen();
    }
    for row in rows("fasteners.toml", "proof load") {
        row.holds("proof_n", thread(&row).proof_load_n(row.input("proof_mpa")));
        row.all_seen();
    }
}

#[test]
fn preload_and_torque_at_nine_tenths_of_yield_are_those_of_the_guideline() {
    for row in rows("fasteners.toml", "assembly preload") {
        let head = HeadRing { outside_mm: row.input("outside_mm"), hole_mm: row.input("hole_mm") };
        let friction = row.input("friction");
        let pull_n = yield_preload_n(thread(&row), friction, row.input("yield_mpa"), 0.9).expect("a thread");
        within(&row, "preload_n", pull_n, 0.004);
        within(&row, "torque_nm", pull_n * torque_arm_mm(thread(&row), head, friction) / 1000.0, 0.01);
        row.all_seen();
    }
}

#[test]
fn a_printed_table_of_pull_and_torque_lies_where_the_formula_does() {
    for row in rows("fasteners.toml", "torque for a pull") {
        let head = HeadRing::of_socket_screw(row.input("diameter_mm")).expect("a socket screw");
        let torque_nm = row.input("preload_n") * torque_arm_mm(thread(&row), head, row.input("friction")) / 1000.0;
        within(&row, "torque_nm", torque_nm, 0.07);
        row.all_seen();
    }
}

#[test]
fn a_bolt_turned_as_a_wedge_by_the_work_done_in_one_turn_needs_the_same_torque() {
    // Another road: the work of one turn. Friction works along the true slope of the thread, on the face that leans by 30°.
    for (diameter_mm, friction) in [(4.0, 0.08), (5.0, 0.12), (6.0, 0.16), (8.0, 0.2), (12.0, 0.1)] {
        let thread = Thread::coarse(diameter_mm).expect("a coarse thread");
        let head = HeadRing::of_socket_screw(diameter_mm).expect("a socket screw");
        let d2_mm = thread.pitch_diameter_mm();
        let lead = thread.pitch_mm / (std::f64::consts::PI * d2_mm);
        let on_face = friction / 30f64.to_radians().cos();
        let exact = d2_mm / 2.0 * (lead.atan() + on_face.atan()).tan() + head.friction_diameter_mm() / 2.0 * friction;
        let ours = torque_arm_mm(thread, head, friction);
        assert!((ours / exact - 1.0).abs() < 0.012, "M{diameter_mm} at {friction}: {ours} against {exact}");
    }
}

#[test]
fn a_pull_is_widest_where_friction_is_least_known_and_scales_with_the_torque() {
    let (m5, head) = (Thread::coarse(5.0).expect("M5"), HeadRing::of_socket_screw(5.0).expect("a head"));
    let at = |torque_nm, low, high| {
        preload_n(Applied { torque_nm, plus_minus_percent: 4.0 }, m5, head, Between { low, high }).expect("a pull")
    };
    let (one, two) = (at(3.0, 0.08, 0.16), at(6.0, 0.08, 0.16));
    assert!((two.low / one.low - 2.0).abs() < 1e-12 && (two.high / one.high - 2.0).abs() < 1e-12);
    let wide = at(3.0, 0.08, 0.24);
    assert!(wide.low < one.low && (wide.high - one.high).abs() < 1e-9);
    let known =
        preload_n(Applied { torque_nm: 5.0, plus_minus_percent: 0.0 }, m5, head, Between { low: 0.12, high: 0.12 })
            .expect("a pull");
    assert!((known.low - known.high).abs() < 1e-9, "nothing is left to doubt");
    assert!((nut_factor(m5, head, 0.12) * 5.0 * known.low - 5000.0).abs() < 1e-6);
    assert!(
        preload_n(Applied { torque_nm: 0.0, plus_minus_percent: 4.0 }, m5, head, Between { low: 0.1, high: 0.2 })
            .is_none()
    );
    assert!(
        preload_n(Applied { torque_nm: 5.0, plus_minus_percent: 4.0 }, m5, head, Between { low: 0.2, high: 0.1 })
            .is_none()
    );
}

#[test]
fn three_hundred_wound_tubes_agree_with_curves_integrated_in_space() {
    let all = lines("tapes.csv");
    assert_eq!(all.len(), 300);
    for line in all {
        let strip = Strip {
            tube_mm: line.get("tube_mm"),
            thickness_mm: line.get("thickness_mm"),
            width_mm: line.get("width_mm"),
        };
        let bend_mm = (!line.text("bend_mm").is_empty()).then(|| line.get("bend_mm"));
        let pitch_mm = line.get("pitch_mm");
        let wound = strip.wind(pitch_mm, [Run { length_mm: line.get("run_mm"), bend_mm }]).expect("a wound tube");
        // On a bend a run rarely ends with a full turn; what its last part differs from the mean is less than this share of
        // a turn.
        let part_of_a_turn = if bend_mm.is_some() { 0.02 * pitch_mm } else { 1e-5 };
        line.holds("strip_mm", wound.strip_mm, part_of_a_turn);
        line.holds("outside", wound.least_overlap, 1e-7);
        line.holds("inside", wound.most_overlap, 1e-7);
    }
}

#[test]
fn layers_counted_on_a_painted_tube_are_what_the_overlap_says() {
    for row in rows("tape.toml", "layers") {
        let strip = Strip {
            tube_mm: row.input("tube_mm"),
            thickness_mm: row.input("thickness_mm"),
            width_mm: row.input("width_mm"),
        };
        let pitch_mm = strip.pitch_for_mm(row.input("overlap")).expect("a pitch");
        let run = Run { length_mm: row.input("length_mm"), bend_mm: None };
        let wound = strip.wind(pitch_mm, [run]).expect("a wound tube");
        row.holds("pitch_mm", pitch_mm);
        row.holds("strip_mm", wound.strip_mm);
        row.holds("turns", wound.turns);
        within(&row, "layers", wound.strip_mm * strip.width_mm / (strip.girth_mm() * run.length_mm), 0.004);
        row.all_seen();
    }
}

#[test]
fn a_bend_of_endless_radius_is_a_straight_and_two_halves_are_a_whole() {
    let strip = Strip { tube_mm: 24.0, thickness_mm: 2.5, width_mm: 30.0 };
    let straight = strip.wind(19.0, [Run { length_mm: 300.0, bend_mm: None }]).expect("a straight");
    let endless = strip.wind(19.0, [Run { length_mm: 300.0, bend_mm: Some(1e9) }]).expect("nearly a straight");
    assert!((straight.strip_mm - endless.strip_mm).abs() < 1e-5);
    let half = Run { length_mm: 150.0, bend_mm: Some(60.0) };
    let whole = strip.wind(19.0, [Run { length_mm: 300.0, ..half }]).expect("a bend");
    let halves = strip.wind(19.0, [half, half]).expect("two bends");
    assert!((whole.strip_mm - halves.strip_mm).abs() < 1e-9 && (whole.turns - halves.turns).abs() < 1e-12);
    assert!(whole.strip_mm > straight.strip_mm, "a bend takes more");
    assert!(strip.overlap(19.0, Some(13.0)).is_none(), "tighter than the tube itself");
    assert!(strip.pitch_for_mm(1.0).is_none() && strip.wind(19.0, []).is_none());
}

#[test]
fn a_pulled_roll_is_longer_and_narrower() {
    let roll = Roll { width_mm: 30.0, thickness_mm: 2.5, length_mm: 2000.0, stretch_percent: 8.0 };
    assert!((roll.wound_width_mm() - 29.28).abs() < 1e-9);
    assert!((roll.off_the_roll_mm(2160.0) - 2000.0).abs() < 1e-9);
}

#[test]
fn the_runs_of_a_bar_are_its_pieces_cut_to_the_span() {
    let bar = BarCurve::from_segments(&[
        Segment::Line { length_mm: 40.0 },
        Segment::Arc { radius_mm: 60.0, turn_deg: -90.0 },
        Segment::Line { length_mm: 50.0 },
    ])
    .expect("a bar");
    let bend_mm = 30.0 * std::f64::consts::PI;
    let runs: Vec<_> = bar.runs(ArcSpan { from_mm: 10.0, to_mm: 40.0 + bend_mm + 20.0 }).collect();
    assert_eq!(runs.len(), 3);
    assert!((runs[0].0 - 30.0).abs() < 1e-9 && (runs[1].0 - bend_mm).abs() < 1e-9 && (runs[2].0 - 20.0).abs() < 1e-9);
    assert_eq!((runs[0].1, runs[1].1, runs[2].1), (None, Some(60.0), None));
    assert_eq!(bar.runs(ArcSpan { from_mm: 900.0, to_mm: 999.0 }).count(), 0);
}

fn list(line: &table::Line, name: &str) -> Vec<f64> {
    line.text(name).split(' ').map(|cell| cell.parse().expect("a number")).collect()
}

#[test]
fn sums_doubts_and_wheel_loads_are_those_of_two_hundred_thousand_weighings() {
    for line in lines("masses.csv") {
        let (masses, doubts) = (list(&line, "mass_g"), list(&line, "mass_u_g"));
        let (places, place_doubts) = (list(&line, "x_mm"), list(&line, "x_u_mm"));
        let lumps: Vec<Lump> = (0..masses.len())
            .map(|at| Lump {
                mass_g: masses[at],
                mass_u_g: doubts[at],
                at: Point2 { x_mm: places[at], y_mm: 0.0 },
                at_u_mm: place_doubts[at],
            })
            .collect();
        let axles = Axles { rear_x_mm: line.get("rear_x_mm"), front_x_mm: line.get("front_x_mm") };
        let sum = mass::sum(lumps.iter().copied()).expect("a sum");
        let loads = axles.loads(lumps.iter().copied()).expect("loads");
        // A mean of so many draws is good to its doubt over 450, a spread to its own over 630; five of either are allowed.
        line.holds("sum_g", sum.mass_g, sum.mass_u_g / 90.0);
        line.holds("sum_u_g", sum.mass_u_g, sum.mass_u_g / 125.0);
        line.holds("front_g", loads.front_g, loads.front_u_g / 90.0);
        line.holds("front_u_g", loads.front_u_g, loads.front_u_g / 60.0);
        line.holds("rear_u_g", loads.rear_u_g, loads.rear_u_g / 60.0);
        assert!((loads.front_g + loads.rear_g - sum.mass_g).abs() < 1e-9, "{line}: nothing is lost");
        assert!((axles.front_share(sum.centre.x_mm) * sum.mass_g - loads.front_g).abs() < 1e-9, "{line}");
        let mut sets = 0.0;
        let wanted = Wanted { mass_g: line.get("wanted_g"), within_g: line.get("within_g") };
        mass::explain(&masses, wanted, |set, _| {
            assert!(set.is_sorted() && (1..=3).contains(&set.len()));
            sets += 1.0;
        });
        line.holds("sets", sets, 0.0);
    }
}

fn section(row: &Row) -> Section {
    Section { width_mm: row.input("width_mm"), rim_inner_mm: row.input("rim_inner_mm") }
}

#[test]
fn a_pressed_tyre_is_as_flat_as_a_chain_that_encloses_the_most_air() {
    for row in rows("tyre.toml", "flat") {
        let half_mm = section(&row).half_flat_mm(row.input("pressed_mm")).expect("a flat");
        row.holds("closed_mm", half_mm);
        within(&row, "chain_mm", half_mm, 0.02);
        row.all_seen();
    }
}

#[test]
fn loads_and_drops_are_those_of_the_membrane_integrated_elsewhere() {
    for row in rows("tyre.toml", "load") {
        let (radius_mm, pressure_kpa) = (row.input("outer_radius_mm"), row.input("pressure_kpa"));
        let load_n = section(&row).load_n(radius_mm, row.input("drop_mm"), pressure_kpa).expect("a load");
        row.holds("load_n", load_n);
        let drop_mm = section(&row).drop_mm(radius_mm, load_n, pressure_kpa).expect("a drop");
        assert!((drop_mm - row.input("drop_mm")).abs() < 1e-5, "{}: back to {drop_mm}", row.id());
        row.all_seen();
    }
}

#[test]
fn a_tyre_on_another_rim_keeps_its_casing() {
    for row in rows("tyre.toml", "other rim") {
        let width_mm = section(&row).width_on_mm(row.input("other_rim_mm")).expect("a width");
        row.holds("width_on_mm", width_mm);
        let back = Section { width_mm, rim_inner_mm: row.input("other_rim_mm") };
        let there_and_back = back.width_on_mm(row.input("rim_inner_mm")).expect("a width");
        assert!((there_and_back - row.input("width_mm")).abs() < 1e-7, "{}", row.id());
        row.all_seen();
    }
    let flat = Section { width_mm: 17.0, rim_inner_mm: 17.0 };
    assert!(flat.casing_mm().is_none() && flat.width_on_mm(19.0).is_none() && flat.half_flat_mm(1.0).is_none());
}

#[test]
fn the_chart_lies_below_the_membrane_by_what_casing_and_tread_carry() {
    for row in rows("tyre.toml", "chart") {
        let (tyre, load_n) = (section(&row), row.input("load_n"));
        let chart_kpa = chart_pressure_kpa(load_n, tyre.width_mm).expect("a pressure");
        row.holds("chart_kpa", chart_kpa);
        // Pressure is load over what a kilopascal carries at 15 % of the width.
        let radius_mm = 311.0 + tyre.height_mm().expect("a height");
        let at_one_kpa = tyre.load_n(radius_mm, 0.15 * tyre.width_mm, 1.0).expect("a load");
        within(&row, "membrane_kpa", load_n / at_one_kpa, 0.002);
        let more = load_n / at_one_kpa / chart_kpa;
        assert!((1.12..1.24).contains(&more), "{}: {more}", row.id());
        row.all_seen();
    }
}

#[test]
fn cold_air_reads_lower_and_the_benchmark_bicycle_stands_a_third_on_its_front_wheel() {
    for row in rows("tyre.toml", "temperature") {
        row.holds("at_kpa", at_temperature_kpa(row.input("pressure_kpa"), 20.0, row.input("to_celsius")));
        row.all_seen();
    }
    for row in rows("tyre.toml", "front share") {
        let lumps = row.inputs("masses_kg").into_iter().zip(row.inputs("x_m")).map(|(mass_g, x_mm)| Lump {
            mass_g,
            mass_u_g: 0.0,
            at: Point2 { x_mm, y_mm: 0.0 },
            at_u_mm: 0.0,
        });
        let centre = mass::sum(lumps).expect("a sum").centre;
        let axles = Axles { rear_x_mm: 0.0, front_x_mm: row.input("wheelbase_m") };
        row.holds("share", axles.front_share(centre.x_mm));
        row.all_seen();
    }
}

#[test]
fn a_pressure_carried_there_and_back_is_the_same_and_the_membrane_agrees_with_the_ratio() {
    let liked = LikedPressure { pressure_kpa: 520.0, load: 380.0, width_mm: 26.4 };
    let other = OtherTyre { load: 430.0, width_mm: 31.0 };
    let carried = carried_kpa(liked, other).expect("a pressure");
    let there = LikedPressure { pressure_kpa: carried, load: other.load, width_mm: other.width_mm };
    let back = carried_kpa(there, OtherTyre { load: liked.load, width_mm: liked.width_mm }).expect("a pressure");
    assert!((back - liked.pressure_kpa).abs() < 1e-9);
    // The membrane at the same share of rim to width sinks by the same share of its width, within 3 %: the wheel does not
    // grow with the tyre.
    let sinks = |width_mm: f64, load_n: f64, kpa: f64| {
        let tyre = Section { width_mm, rim_inner_mm: 0.62 * width_mm };
        let radius_mm = 311.0 + tyre.height_mm().expect("a height");
        tyre.drop_mm(radius_mm, load_n, kpa).expect("a drop") / width_mm
    };
    let (before, after) = (sinks(26.4, 380.0, 520.0), sinks(31.0, 430.0, carried));
    assert!((before / after - 1.0).abs() < 0.03, "{before} against {after}");
    assert!(carried_kpa(LikedPressure { load: 0.0, ..liked }, other).is_none());
    assert!((contact_mm2(400.0, 500.0) - 800.0).abs() < 1e-9);
}
