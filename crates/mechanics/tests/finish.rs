//! Bolts, tape, mass and tyres against printed tables and independent computations.

#![allow(clippy::panic, reason = "a test fails by panicking")]

mod rows;

use rows::{Row, rows};
use witnessmark_mechanics::fastener::{
    Applied, Between, HeadRing, Thread, nut_factor, preload_n, torque_arm_mm, yield_preload_n,
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
