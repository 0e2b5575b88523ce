//! What somebody types into the fields of a transmission, however wrong: it is refused with a sentence that names the
//! field, or it is taken and planned; it never stops the program.

use witnessmark_core::plan;
use witnessmark_intake::from_leaves;

#[test]
fn wrong_teeth_lengths_and_wires_are_refused_with_their_field() {
    let wrong = [
        ("parts.cassette.sprockets", "0; 11; 12"),
        ("parts.cassette.sprockets", "11; twelve; 13"),
        ("parts.cassette.sprockets", "NaN"),
        ("parts.cassette.sprockets", "11; -12"),
        ("parts.crankset.rings", "1000; 34"),
        ("parts.crankset.rings", "52.5; 36"),
        ("parts.crankset.rings", "99999999999999999999"),
        ("parts.rear_derailleur.pivot_to_lower", "500"),
        ("parts.rear_derailleur.pivot_to_lower", "NaN"),
        ("parts.rear_derailleur.pivot_to_lower", "inf"),
        ("parts.rear_derailleur.cage_forward", "1e400"),
        ("parts.rear_derailleur.upper_wheel", "-11"),
        ("parts.rear_derailleur.upper_wheel_ahead", "perhaps"),
        ("settings.chain_links", "4294967296"),
        ("settings.cadence_per_minute", "0"),
        ("parts.junction.shell.ports", "4000000000"),
        ("parts.battery.second.ports", "1"),
        ("parts.wire.rear.third_end", "battery"),
    ];
    for (path, typed) in wrong {
        let (build, problems) = from_leaves([(path, typed)]);
        assert_eq!(problems.len(), 1, "{path} «{typed}» was taken: {problems:?}");
        assert!(problems[0].to_string().contains(path.rsplit('.').next().unwrap_or(path)), "{}", problems[0]);
        assert!(plan(&build).findings.iter().all(|finding| !finding.what.is_empty()));
    }
}

#[test]
fn wrong_orders_and_wires_upon_themselves_are_taken_and_found() {
    let typed = [
        ("parts.cassette.sprockets", "30; 11; 12"),
        ("parts.crankset.rings", "36; 52"),
        ("parts.lever.left.shifting", "electronic, wired"),
        ("parts.lever.left.ports", "2"),
        ("parts.battery.ports", "2"),
        ("parts.wire.a.one_end", "left lever"),
        ("parts.wire.a.other_end", "left lever"),
        ("parts.wire.b.one_end", "left lever"),
        ("parts.wire.b.other_end", "battery two"),
    ];
    let (build, problems) = from_leaves(typed);
    assert_eq!(problems, []);
    let findings = plan(&build).findings;
    for (check, says) in [
        ("fits/gears_listed", "The sprockets are not listed in their order."),
        ("fits/gears_listed", "The rings are not listed in their order."),
        ("fits/wire_ends", "Both ends of the wire “a” are in the left lever."),
        ("fits/wire_ends", "The wire “b” leads to a unit that is not there."),
    ] {
        assert!(findings.iter().any(|finding| finding.check == check && finding.what == says), "{check}: {says}");
    }
}
