#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use super::*;
use crate::build::Reading;
use crate::build::sample::sample;
use crate::field::{Choice, Given};
use crate::plan::plan;
use std::collections::BTreeSet;

/// The sample bike, read as planned and each fact that a step asks for noted.
fn read_as_planned() -> Build {
    let mut build = sample();
    let planned = plan(&build);
    for line in planned.numbers.each() {
        if let Ok(value) = line.planned {
            let reading = Reading { value: Some(Given::from(value)), ..Reading::default() };
            build.measured.insert((line.number.id, line.side), reading);
        }
    }
    build
}

fn record(build: &mut Build, key: &str, state: StepState) {
    build.steps.entry(key.to_owned()).or_default().state = Some(state.into());
}

fn open_gate(build: &mut Build, key: &str) {
    build.steps.entry(key.to_owned()).or_default().opened_by = Some("Ines".into());
}

fn gate_of(build: &Build, key: &str) -> GateNow {
    stand(build, &plan(build)).step(key).unwrap().gate.clone().unwrap()
}

fn says(gate: &GateNow) -> Vec<&str> {
    gate.against.iter().map(|against| against.says.as_str()).collect()
}

#[test]
fn every_step_has_an_id_of_its_own_and_says_what_how_and_with_what() {
    let mut keys = BTreeSet::new();
    for (_, step) in all() {
        for side in step.sides.each() {
            let key = key(step, *side);
            assert!(part::is_name(&key), "{key}");
            assert!(keys.insert(key.clone()), "{key} stands twice");
        }
        assert!(!step.does.is_empty() && !step.does.ends_with('.'), "{}: «{}» is called out", step.id, step.does);
        assert!(step.how.ends_with('.') && !step.tool.is_empty(), "{}", step.id);
        assert!(step.caution.is_empty() || step.caution.ends_with('.'), "{}", step.id);
    }
    assert!(keys.len() > 60, "{}", keys.len());
}

#[test]
fn what_a_step_asks_for_exists_and_a_gate_waits_only_for_what_comes_before_it() {
    let mut before: Vec<&str> = Vec::new();
    for (_, step) in all() {
        let gate = step.gate.iter().flat_map(|gate| gate.asks);
        for asks in step.hides.iter().chain(gate) {
            if let Asks::Fact(kind, fact) = asks {
                let kind = part::kind(kind).unwrap_or_else(|| panic!("{}: no kind {kind}", step.id));
                assert!(kind.fields.iter().any(|field| field.key() == *fact), "{}: no fact {fact}", step.id);
            }
        }
        if let Some(gate) = &step.gate {
            assert!(!gate.protects.is_empty(), "{}", step.id);
            for id in gate.after {
                assert!(before.contains(id), "the gate of {} waits for {id}, which does not come before", step.id);
            }
            if let Heeds::Parts(kinds) = gate.heeds {
                assert!(!kinds.is_empty(), "the gate of {} heeds nothing", step.id);
                for kind in kinds {
                    assert!(part::kind(kind).is_some(), "{}: no kind {kind}", step.id);
                }
            }
        }
        before.push(step.id);
    }
}

#[test]
fn the_phases_come_in_working_order() {
    let order: Vec<usize> =
        all().map(|(phase, _)| Phase::NAMES.iter().position(|name| *name == phase.name()).unwrap()).collect();
    assert!(order.is_sorted());
    assert_eq!(order.last(), Some(&(Phase::NAMES.len() - 1)));
}

#[test]
fn a_bike_has_the_steps_of_its_own_parts() {
    let mut build = sample();
    let steps = |build: &Build| stand(build, &plan(build));
    assert!(steps(&build).step("cut-hose-front").is_some() && steps(&build).step("cut-post").is_none());
    build.settings.post_cut_mm = Some(20.0.into());
    build.parts.hose.0.remove("front");
    let work = steps(&build);
    assert!(work.step("cut-hose-front").is_none(), "there is no front hose");
    assert!(work.step("cut-hose-rear").is_some() && work.step("cut-post").is_some());
    build.parts = crate::part::Parts::default();
    let bare = steps(&build);
    assert!(bare.step("release").is_some() && bare.step("cut-steerer").is_none());
}

#[test]
fn a_length_cut_off_the_post_is_no_longer_inside_the_frame() {
    let mut build = sample();
    let inside =
        |build: &Build| plan(build).numbers.of(&crate::number::POST_INSERTION, Side::None).unwrap().planned.clone();
    let whole = inside(&build).unwrap();
    build.settings.post_cut_mm = Some(20.0.into());
    assert!((whole - inside(&build).unwrap() - 20.0).abs() < 1e-9);
}

#[test]
fn what_is_cut_off_the_bar_leaves_the_hoods_where_they_are_only_when_the_levers_are_measured_from_the_new_end() {
    let mut build = sample();
    let hood =
        |build: &Build| plan(build).numbers.of(&crate::number::HOOD_X, Side::Left).unwrap().planned.clone().unwrap();
    let whole = hood(&build);
    build.settings.bar_cut_mm = Some(15.0.into());
    assert!((hood(&build) - whole).abs() > 1.0, "the same distance from a nearer end is another place");
    let from_end = build.settings.lever_from_end_left_mm.as_ref().unwrap().value;
    build.settings.lever_from_end_left_mm = Some((from_end - 15.0).into());
    assert!((hood(&build) - whole).abs() < 1e-9);
    build.settings.bar_cut_mm = Some(60.0.into());
    assert!(
        plan(&build).numbers.of(&crate::number::HOOD_X, Side::Left).unwrap().planned.is_err(),
        "nothing straight is left"
    );
}

#[test]
fn the_bars_end_is_cut_behind_a_gate_that_wants_the_levers_read_and_the_makers_word() {
    let mut build = read_as_planned();
    assert!(stand(&build, &plan(&build)).step("cut-bar-left").is_none(), "nothing is to be cut");
    build.settings.bar_cut_mm = Some(10.0.into());
    for side in ["left", "right"] {
        build.parts.end_plug.make(side).insertion_mm = Some(25.0.into());
    }
    build.parts.bar.make("").end_cut_max_mm = None;
    build.measured.remove(&("lever-from-end", Side::Left));
    let shut = gate_of(&build, "cut-bar-left");
    assert_eq!(shut.stands, Stands::Shut);
    let text = says(&shut).join(" ");
    for wanted in ["Not read yet: left", "Not done yet: Left: mark the bar’s end", "whether the bar may be cut so far"]
    {
        assert!(text.replace('\'', "’").contains(wanted), "no “{wanted}” in {text}");
    }

    // Read again against the plan for the cut bar, marked, approved, and the maker's word is there.
    build.parts.bar.make("").end_cut_max_mm = Some(12.0.into());
    for (number, side) in
        [(&crate::number::LEVER_FROM_END, Side::Left), (&crate::number::LEVER_FROM_END, Side::Right)].into_iter().chain(
            [&crate::number::HOOD_X, &crate::number::HOOD_Y]
                .into_iter()
                .flat_map(|number| [(number, Side::Left), (number, Side::Right)]),
        )
    {
        let planned = plan(&build).numbers.of(number, side).unwrap().planned.clone().unwrap();
        build.measured.entry((number.id, side)).or_default().value = Some(planned.into());
    }
    for key in ["approve-dry", "levers-dry", "mark-bar-left"] {
        record(&mut build, key, StepState::Done);
    }
    let ready = gate_of(&build, "cut-bar-left");
    assert_eq!(ready.stands, Stands::Ready, "{:?}", says(&ready));
    assert!(
        says(&gate_of(&build, "cut-bar-right")).join(" ").contains("mark the bar"),
        "the other end has its own mark"
    );
    build.settings.bar_cut_mm = Some(14.0.into());
    assert!(says(&gate_of(&build, "cut-bar-left")).contains(&"More is to be cut off the bar than its maker allows."));
}

#[test]
fn nothing_is_cut_before_it_was_read_and_approved() {
    let mut build = sample();
    build.measured.clear();
    let gate = gate_of(&build, "cut-steerer");
    assert_eq!(gate.stands, Stands::Shut);
    let says = says(&gate);
    assert!(says.contains(&"Not read yet: steerer, cut length."), "{says:?}");
    assert!(says.contains(&"Not read yet: left hood, forward of the bottom bracket."), "{says:?}");
    assert!(says.contains(&"Not done yet: Let the rider approve the dry bike"), "{says:?}");
}

#[test]
fn a_gate_is_ready_when_everything_is_read_as_planned_and_opens_by_a_name() {
    let mut build = read_as_planned();
    record(&mut build, "approve-dry", StepState::Done);
    record(&mut build, "mark-steerer", StepState::Done);
    let gate = gate_of(&build, "cut-steerer");
    assert_eq!((gate.stands, gate.against), (Stands::Ready, vec![]));
    open_gate(&mut build, "cut-steerer");
    assert_eq!(gate_of(&build, "cut-steerer").stands, Stands::Opened);
}

#[test]
fn a_reading_further_off_than_its_tolerance_shuts_the_gate_and_one_on_it_does_not() {
    let mut build = read_as_planned();
    record(&mut build, "approve-dry", StepState::Done);
    record(&mut build, "mark-steerer", StepState::Done);
    let read = |build: &mut Build, off_mm: f64| {
        let planned = plan(build).numbers.of(&crate::number::STEERER_CUT, Side::None).unwrap().planned.clone().unwrap();
        let reading = build.measured.get_mut(&("steerer-cut", Side::None)).unwrap();
        reading.value = Some((planned + off_mm).into());
    };
    read(&mut build, 1.0);
    assert_eq!(gate_of(&build, "cut-steerer").stands, Stands::Ready);
    read(&mut build, -4.0);
    let gate = gate_of(&build, "cut-steerer");
    assert_eq!(gate.stands, Stands::Shut);
    assert!(says(&gate).iter().any(|says| says.ends_with("4 mm apart where 1 mm is allowed.")), "{:?}", says(&gate));
}

#[test]
fn a_gate_opened_against_something_keeps_its_reason_or_stands_in_doubt() {
    let mut build = sample();
    open_gate(&mut build, "cut-steerer");
    assert_eq!(gate_of(&build, "cut-steerer").stands, Stands::OpenedInDoubt);
    build.steps.get_mut("cut-steerer").unwrap().opened_against = Some("measured on paper".into());
    let gate = gate_of(&build, "cut-steerer");
    assert_eq!(gate.stands, Stands::OpenedAgainst);
    assert!(!gate.against.is_empty(), "what speaks against it is still shown");
}

#[test]
fn a_cut_that_nobody_opened_the_gate_for_holds_the_release() {
    let mut build = read_as_planned();
    record(&mut build, "cut-steerer", StepState::Done);
    assert_eq!(gate_of(&build, "cut-steerer").stands, Stands::PassedBy);
    let release = gate_of(&build, "release");
    assert!(
        says(&release).contains(&"The gate before cutting the steerer was never opened by anybody."),
        "{:?}",
        says(&release)
    );
}

/// All the way on or all the way off.
#[test]
fn the_release_waits_for_every_step_and_one_left_open_holds_it() {
    let mut build = read_as_planned();
    for step in stand(&build, &plan(&build)).steps {
        if step.step.id != "release" {
            record(&mut build, &step.key, StepState::Done);
        }
        if step.gate.is_some() && step.step.id != "release" {
            let kept = build.steps.entry(step.key.clone()).or_default();
            kept.opened_by = Some("Ines".into());
            kept.opened_against = Some("seen by both".into());
        }
    }
    let only_findings = |build: &Build| {
        let gate = gate_of(build, "release");
        gate.against.iter().filter(|one| one.check.is_none()).map(|one| one.says.clone()).collect::<Vec<_>>()
    };
    let unknown: Vec<String> = only_findings(&build).into_iter().filter(|says| !says.starts_with("Not ")).collect();
    assert_eq!(unknown, Vec::<String>::new(), "beside what was never noted, nothing speaks against it");
    record(&mut build, "set-lever-left", StepState::Open);
    let says = only_findings(&build);
    assert!(says.contains(&"Begun and not finished: Left: set the lever".to_owned()), "{says:?}");
    record(&mut build, "set-lever-left", StepState::Cannot);
    assert!(only_findings(&build).iter().any(|says| says.starts_with("It is not said why")));
    build.steps.get_mut("set-lever-left").unwrap().reason = Some("bar already taped by its maker".into());
    assert!(!only_findings(&build).iter().any(|says| says.contains("Left: set the lever")));
}

#[test]
fn what_a_step_hides_is_asked_for_first() {
    let mut build = sample();
    build.measured.clear();
    let first = |build: &Build| stand(build, &plan(build)).step("wrap-tape-left").unwrap().first.clone();
    let asked: Vec<String> = first(&build).into_iter().map(|one| one.says).collect();
    assert_eq!(asked, ["Not read yet: left lever, from the bar's end.", "Not read yet: left lever reach."]);
    for number in ["lever-from-end", "lever-reach"] {
        let reading = Reading { value: Some(80.0.into()), ..Reading::default() };
        build.measured.insert((number, Side::Left), reading);
    }
    assert!(first(&build).is_empty(), "the right side is asked for at the right side's step");
}

#[test]
fn a_record_that_no_step_has_is_named() {
    let mut build = sample();
    record(&mut build, "polish-chrome", StepState::Done);
    assert_eq!(stand(&build, &plan(&build)).strays, ["polish-chrome"]);
}

#[test]
fn every_bolt_of_the_sample_is_tightened_by_a_step_of_its_own_before_the_round() {
    let build = sample();
    let plan = plan(&build);
    let work = stand(&build, &plan);
    assert!(plan.worked.fasteners.list.len() > 20);
    for bolt in &plan.worked.fasteners.list {
        let steps: Vec<&str> =
            work.steps.iter().filter(|step| step.bolts.contains(&bolt.id)).map(|step| step.key.as_str()).collect();
        assert_eq!(steps.last(), Some(&"torque-round"), "{}", bolt.id);
        // Pedals, cages and small parts are screwed on wherever there is time; the round finds them.
        let anywhere = ["pedal-", "cage-", "small-"].iter().any(|start| bolt.id.starts_with(start));
        assert_eq!(steps.len(), if anywhere { 1 } else { 2 }, "{}: {steps:?}", bolt.id);
    }
}

#[test]
fn a_bolt_without_its_line_or_its_torque_holds_the_release() {
    let mut build = sample();
    build.fasteners.clear();
    let held = |build: &Build| {
        let gate = gate_of(build, "release");
        gate.against.iter().filter(|one| one.says.starts_with("Clamp on the post")).map(|one| one.says.clone()).next()
    };
    let bolt = plan(&build).worked.fasteners.of("seat-clamp").unwrap().name.clone();
    assert!(held(&build).is_some_and(|says| says.ends_with("is not said to be tightened.")), "{bolt}");
    let kept = build.fasteners.entry("seat-clamp".to_owned()).or_default();
    kept.state = Some(crate::build::FastenerState::Closed.into());
    assert!(held(&build).is_some_and(|says| says.ends_with("has no torque written down.")));
    build.fasteners.get_mut("seat-clamp").unwrap().applied_nm = Some(5.0.into());
    assert!(held(&build).is_some_and(|says| says.ends_with("has no line painted across it.")));
    build.fasteners.get_mut("seat-clamp").unwrap().witness = Some(true.into());
    assert_eq!(held(&build), None);
}

#[test]
fn a_step_behind_a_shut_gate_is_not_taken_as_done_and_a_gate_wants_a_reason() {
    let mut build = sample();
    build.measured.clear();
    let says = |build: &Build, path: &str, after: &str| refuses(&stand(build, &plan(build)), path, Some(after));
    let done = says(&build, "steps.cut-steerer.state", "done").unwrap();
    assert_eq!(done, "The gate before cutting the steerer is not open: open it first, with your name.");
    let opened = says(&build, "steps.cut-steerer.opened_by", "Ines").unwrap();
    assert!(opened.starts_with("Something speaks against cutting the steerer. Not read yet: steerer, cut length."));
    assert!(opened.contains("more. Mend it, or write the reason"), "{opened}");
    assert_eq!(says(&build, "steps.cut-steerer.state", "open"), None, "begun and left may always be said");
    let kept = build.steps.entry("cut-steerer".to_owned()).or_default();
    kept.opened_against = Some("off-cut of the old fork".into());
    assert_eq!(says(&build, "steps.cut-steerer.opened_by", "Ines"), None);
    open_gate(&mut build, "cut-steerer");
    assert_eq!(says(&build, "steps.cut-steerer.state", "done"), None);
    assert!(says(&build, "steps.polish-chrome.state", "done").unwrap().contains("no such step"));
    assert!(says(&build, "steps.ride.opened_by", "Ines").unwrap().contains("No gate"));
}

#[test]
fn a_number_is_not_buried_unread_without_a_reason() {
    let mut build = sample();
    build.measured.clear();
    let says = |build: &Build| refuses(&stand(build, &plan(build)), "steps.wrap-tape-left.state", Some("done"));
    assert!(says(&build).is_some_and(|says| says.contains("Not read yet: left lever reach.")));
    build.steps.entry("wrap-tape-left".to_owned()).or_default().reason = Some("taped by the rider".into());
    assert_eq!(says(&build), None);
}
