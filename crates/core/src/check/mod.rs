//! Model and numbers → findings, one check a file.
//!
//! A check is a file under the folder of its concern and a word in the `checks!` table below; the tests at the end catch
//! a file that is not listed, a heading that is missing, and an example that does not do what it says. A check has three
//! outcomes: silence, a finding, and «not known», which names the fact to find out.

mod assumed;
mod compare;
mod limit;
mod origin;
mod sizes;
mod unknown;
mod words;

use crate::build::Build;
use crate::compute::{Numbers, PlannedNumber, Worked};
use crate::field::Choice;
use crate::finding::{About, Finding, Severity};
use crate::model::{Known, Missing, Model, Place};
use crate::number::{Number, Side};
use unknown::Unknown;

pub use origin::Origin;

/// What a check looks at.
#[derive(Clone, Copy, Debug)]
pub struct Case<'a> {
    /// The document with every part in its place.
    pub model: &'a Model<'a>,
    /// Everything worked out.
    pub worked: &'a Worked,
    /// The three columns.
    pub numbers: &'a Numbers,
}

impl<'a> Case<'a> {
    /// A number on a side; every number of the registry has its line.
    pub(crate) fn number(&self, number: &Number, side: Side) -> Option<&'a PlannedNumber> {
        self.numbers.of(number, side)
    }

    /// A number as worked out.
    pub(crate) fn planned(&self, number: &Number, side: Side) -> Known<f64> {
        self.number(number, side).map_or_else(|| Err(Missing::default()), |line| line.planned.clone())
    }
}

impl<T> Place<'_, T> {
    /// Points at a fact of the part.
    pub(crate) fn at(&self, fact: &str) -> About {
        About::path(&format!("{}.{fact}", self.path))
    }
}

/// How much a check's findings weigh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Weight {
    /// As its concern: `safe` and `fits` stop, `reach` and `asked` caution.
    OfConcern,
    /// Otherwise, for this reason.
    Other(Severity, &'static str),
}

/// A check of the registry.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// `concern/name`.
    pub id: &'static str,
    /// The concern.
    pub concern: &'static str,
    /// Its file, for the headings.
    pub text: &'static str,
    /// Where its limit or custom comes from.
    pub source: &'static str,
    /// How much its findings weigh.
    pub weight: Weight,
    /// The kinds of part whose facts alone decide it, so that candidates can be judged against their neighbours; empty
    /// where it needs settings, numbers or anything that is worked out.
    pub between: &'static [&'static str],
    /// The check itself.
    pub run: fn(&Case<'_>, &mut Report),
    /// Makes of the sound sample a build that this check is content with.
    pub fits: fn(&mut Build),
    /// Makes of the sound sample a build that this check objects to.
    pub does_not_fit: fn(&mut Build),
    /// Makes of the sound sample a build that this check cannot judge; a check that never lacks a fact says so.
    pub not_known: Option<fn(&mut Build)>,
}

impl Check {
    /// The severity of its findings.
    pub fn severity(&self) -> Severity {
        match (self.weight, self.concern) {
            (Weight::Other(severity, _), _) => severity,
            (Weight::OfConcern, "safe" | "fits") => Severity::Stop,
            (Weight::OfConcern, _) => Severity::Caution,
        }
    }

    /// The text under a heading of its file: `looks at`, `why`, `fits`, `does not fit`, `not known`.
    pub fn heading(&self, name: &str) -> Option<String> {
        let start = format!("//! - {name}: ").to_lowercase();
        let mut lines = self.text.lines().skip_while(|line| !line.to_lowercase().starts_with(&start));
        let first = lines.next()?.get(start.len()..)?.to_owned();
        let more = lines.take_while(|line| line.starts_with("//!   ")).filter_map(|line| line.get(6..));
        Some(more.fold(first, |text, line| format!("{text} {line}")))
    }

    /// Its title: the first line of its file.
    pub fn title(&self) -> &'static str {
        let first = self.text.lines().next().unwrap_or_default();
        first.trim_start_matches("//! ").trim_end_matches('.')
    }
}

/// Where a check writes what it found.
#[derive(Debug)]
pub struct Report {
    check: &'static str,
    severity: Severity,
    source: &'static str,
    findings: Vec<Finding>,
    unknowns: Vec<Unknown>,
}

impl Report {
    /// A finding at the check's own severity.
    pub fn say(&mut self, about: Vec<About>, what: String, why: String, action: String) {
        self.say_as(self.severity, about, what, why, action);
    }

    /// A finding at another severity: a check that sees degrees says in its file which is which.
    pub fn say_as(&mut self, severity: Severity, about: Vec<About>, what: String, why: String, action: String) {
        let finding =
            Finding { check: self.check, severity, about, what, why, action, source: self.source, not_known: false };
        self.findings.push(finding);
    }

    /// The fact, or a finding that it is not known and `None`. `question` is what cannot be judged, as a clause:
    /// "whether the steerer is long enough". What cannot be judged is never more than a caution and never silent.
    pub fn need<T>(&mut self, known: Known<T>, question: &str) -> Option<T> {
        match known {
            Ok(value) => Some(value),
            Err(missing) => {
                self.not_known(&missing, question);
                None
            }
        }
    }

    /// Says that something cannot be judged, and what is to be found out. Silent when nothing is missing, so that a
    /// check can collect what it lacks and say it once.
    pub fn not_known(&mut self, missing: &Missing, question: &str) {
        self.not_known_as(Severity::Caution.max(self.severity), missing, question);
    }

    /// The same at another severity: a limit that most makers do not state is worth a note.
    pub fn not_known_as(&mut self, severity: Severity, missing: &Missing, question: &str) {
        if *missing != Missing::default() {
            self.unknowns.push(Unknown {
                check: self.check,
                source: self.source,
                severity,
                missing: missing.clone(),
                question: question.to_owned(),
            });
        }
    }
}

/// Several facts that are needed together: `all((a, b))` has both, or everything that is missing for either.
pub(crate) fn all<T: Together>(facts: T) -> Known<T::Values> {
    facts.together()
}

/// A tuple of facts.
pub(crate) trait Together {
    /// The tuple of their values.
    type Values;
    /// All of them, or everything that is missing.
    fn together(self) -> Known<Self::Values>;
}

macro_rules! together {
    ($($type:ident $name:ident),+) => {
        impl<$($type),+> Together for ($(Known<$type>,)+) {
            type Values = ($($type,)+);
            fn together(self) -> Known<Self::Values> {
                let ($($name,)+) = self;
                crate::known!($($name = $name),+);
                Ok(($($name,)+))
            }
        }
    };
}
together!(A a, B b);
together!(A a, B b, C c);
together!(A a, B b, C c, D d);

/// The value of a fact; where there is none, what is missing goes onto the list.
pub(crate) fn take<T>(known: Known<T>, lacking: &mut Missing) -> Option<T> {
    match known {
        Ok(value) => Some(value),
        Err(missing) => {
            *lacking = std::mem::take(lacking).and(&missing);
            None
        }
    }
}

/// The text with a capital at its head.
pub(crate) fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

macro_rules! checks {
    ($($concern:ident: [$($name:ident),+ $(,)?]),+ $(,)?) => {
        $(
            #[doc = concat!("Checks of the concern `", stringify!($concern), "`.")]
            pub mod $concern { $(pub mod $name;)+ }
        )+

        /// Every check, in the order in which they run.
        pub static ALL: &[Check] = &[$($(Check {
            id: concat!(stringify!($concern), "/", stringify!($name)),
            concern: stringify!($concern),
            text: include_str!(concat!(stringify!($concern), "/", stringify!($name), ".rs")),
            source: $concern::$name::SOURCE,
            weight: $concern::$name::WEIGHT,
            between: $concern::$name::BETWEEN,
            run: $concern::$name::run,
            fits: $concern::$name::fits,
            does_not_fit: $concern::$name::does_not_fit,
            not_known: $concern::$name::NOT_KNOWN,
        }),+),+];
    };
}

checks! {
    asked: [definition, contradiction, customary, rebased],
    fits: [
        listed, geometry_table, stack_counts_cover, headset_in_frame, headset_on_steerer, crown_race, stem_on_steerer,
        stem_flipped, bar_in_stem, bar_figures, lever_on_bar, lever_place, levers_alike, spacers_on_hand, spacer_shape,
        spacer_maximum, steerer_length, steerer_cut_limits, post_shape, post_insertion, post_depth, rails_in_clamp,
        rail_position, tyre_room, bottom_bracket_in_shell, shell_threads, press_fit, spindle_in_bearings, bearing_wall,
        spindle_length, front_derailleur_mount, front_derailleur_rings, front_derailleur_chain_line, chainstay_angle,
        ring_difference, rings_in_frame, hanger, largest_sprocket, smallest_sprocket, speeds_alike, sprocket_count,
        cassette_on_freehub, freehub_length, sprocket_spacing, shifting_alike, shifting_family, shift_routing,
        power_meter_room, pedal_in_crank, chain_width, chain_joining, chain_lubricant, worn_chain, new_chain_on_worn,
        axle_in_frame, axle_head, hub_in_frame, rotor_on_hub, rotor_lockring, rotor_limits, caliper_mount,
        rotor_in_caliper, native_rotor, hose_fittings, pads_on_rotor, tyre_on_bead_seat, tyre_on_rim_width,
        tyre_in_wheel_range, tubeless_bed, tube_in_tyre, valve_in_hole, valve_length, valve_extender,
        bearings_in_head_tube, bearing_angles, ring_and_race_angles, bearings_on_steerer, cover_offered, steerer_shape,
        hoses_through_headset, hoses_from_cockpit, mount_on_bar, mount_on_cockpit, display_in_mount, mount_load,
        plugs_in_bar, tape_length, tape_wrap, scale_agrees, battery_place, battery_in_post, bottle_room, bottle_bolts,
        gears_listed, chain_long_enough, chain_taut, chain_pairs, chain_capacity, oversize_cage, chain_clears_outer_ring,
        ring_clears_stay, upper_wheel_gap, wire_ends, wiring_tree, wire_ports, wire_plugs, wire_length, spare_ports,
        charging_point, valve_rattle, tape_width, spare_hanger, pad_fins, cover_over_ring, bearing_height,
        crown_race_once,
        ring_for_hoses, hose_length, hose_sleeve, mount_bolts, chain_catcher, number_holder, spare_wheel_sprocket,
        sealant_beside, crown_plug, hoods_to_be_had, strap_film, bag_and_light, power_magnet, rings_for_chain,
        chain_line_in_frame, bar_end_junction, post_cut, tyre_gap, bar_cut,
    ],
    reach: [
        position, as_asked, sides_alike, measured, trail, toe_overlap, pedal_strike, room_left, heel_on_stay,
        steering_by_standard,
    ],
    race: [
        rules_on_file, by_eye, bar_width, hood_gap, bar_flare, hood_lean, bar_ahead, bb_height, front_axle, rear_axle,
        bike_length, fork_inside, stays_inside, wheel_diameter, rim_depth, spokes, saddle_setback, saddle_length,
        saddle_tilt, mass, longest_gear,
    ],
    safe: [
        steerer_cut, steerer_in_clamp, steerer_backed, spacer_over, set_down, clamp_torque, used_carbon, brake_hand,
        rider_mass, hookless_approved, hookless_width, pressure_limit, latex_overnight, sealant_age, wheel_rider_mass,
        part_rider_mass, brake_fluid, rotor_thickness, pad_thickness, chain_worn, bolt_engagement, axle_engagement,
        spokes_for_rider, steerer_clamp_torque, post_clamp_torque, rail_clamp_torque, boss_torque, torque_stated,
        carbon_paste, recheck_agreed, bar_ends_plugged, brake_hand_by_law, used_wheels, used_cranks, used_pads,
        battery_charged, pressure_for_load, bolt_open, bolt_torque, bolt_recorded, bolt_preload, wrench_due,
        clip_ons, axle_lever, hanger_screw, bar_width_by_standard,
    ],
}

/// Runs every check; the worst findings come first, and among equals those that stand first in the list. What could not
/// be judged is gathered, as the head of `unknown.rs` says, and so is what rests on an assumption.
pub fn run(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut unknowns = Vec::new();
    for check in ALL {
        let mut report = report(check, case);
        findings.append(&mut report.findings);
        unknowns.append(&mut report.unknowns);
    }
    unknown::gather(unknowns, &mut findings);
    findings.extend(assumed::note(ALL, case));
    findings.sort_by_key(|finding| finding.severity);
    findings
}

/// Runs one check; each question that it cannot answer is a finding of its own.
pub fn run_one(check: &Check, case: &Case<'_>) -> Vec<Finding> {
    let mut findings = judge(check, case);
    findings.extend(assumed::note(std::slice::from_ref(check), case));
    findings
}

/// The same without the note on what rests on an assumption, which changes no verdict: for whoever asks very often.
pub(crate) fn judge(check: &Check, case: &Case<'_>) -> Vec<Finding> {
    let report = report(check, case);
    let mut findings = report.findings;
    findings.append(&mut unknown::each(report.unknowns));
    findings
}

fn report(check: &Check, case: &Case<'_>) -> Report {
    let mut report = Report {
        check: check.id,
        severity: check.severity(),
        source: check.source,
        findings: Vec::new(),
        unknowns: Vec::new(),
    };
    (check.run)(case, &mut report);
    report
}

/// The check with this id.
pub fn by_id(id: &str) -> Option<&'static Check> {
    ALL.iter().find(|check| check.id == id)
}

/// The words of the severities, worst first.
pub fn severities() -> &'static [&'static str] {
    Severity::NAMES
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a folder that cannot be read is to stop the test")]

    use super::*;
    use crate::build::sample::sample;
    use crate::compute;
    use crate::part::Places;
    use std::collections::BTreeSet;
    use std::path::Path;

    fn findings_of(check: &Check, change: fn(&mut Build)) -> Vec<Finding> {
        let mut build = sample();
        change(&mut build);
        findings_in(check, &build)
    }

    fn findings_in(check: &Check, build: &Build) -> Vec<Finding> {
        let model = Model::new(build);
        let worked = compute::work_out(&model);
        let numbers = compute::numbers(&model, &worked);
        run_one(check, &Case { model: &model, worked: &worked, numbers: &numbers })
    }

    #[test]
    fn every_example_does_what_it_says() {
        for check in ALL {
            let content = findings_of(check, check.fits);
            assert!(content.is_empty(), "{}: the fitting example is objected to: {content:#?}", check.id);
            let objected = findings_of(check, check.does_not_fit);
            assert!(
                objected.iter().any(|finding| !finding.not_known),
                "{}: the failing example passes: {objected:#?}",
                check.id
            );
            if let Some(not_known) = check.not_known {
                let unknown = findings_of(check, not_known);
                assert!(
                    unknown.iter().any(|finding| finding.not_known && !finding.about.is_empty()),
                    "{}: the not-known example is judged or names no fact: {unknown:#?}",
                    check.id
                );
            }
        }
    }

    /// Facts that a check is content without, and why.
    const CONTENT_WITHOUT: &[(&str, &[&str], &str)] = &[
        ("asked/contradiction", &["fit.nose_to_reference"], "the check of definitions asks for it"),
        (
            "fits/stack_counts_cover",
            &[
                "parts.headset.cover_height",
                "parts.headset.lower_stack",
                "parts.fork.length",
                "parts.fork.length_is",
                "parts.fork.offset",
                "parts.frame.stack",
                "parts.frame.reach",
                "parts.frame.head_angle",
                "parts.frame.head_tube",
                "parts.frame.chainstay",
                "parts.frame.bb_drop",
            ],
            "what is said is believed; the check of the table asks for what would test it",
        ),
        (
            "fits/cover_offered",
            &["parts.headset.covers_offered"],
            "a maker that lists no heights is not held against any",
        ),
        ("fits/mount_on_bar", &["parts.computer_mount.bar_diameter"], "a mount without a band is bolted elsewhere"),
        ("fits/mount_on_cockpit", &["parts.computer_mount.bolt_spacing"], "a mount without bolts has a band"),
        ("fits/valve_extender", &["parts.tube.front.extender"], "an extender that is not listed is not fitted"),
        ("safe/brake_hand_by_law", &["rider.front_brake"], "the check of brake hands asks the rider first"),
        ("safe/pressure_for_load", &["settings.pressure_front"], "the check of limits asks for the pressure"),
        ("fits/stem_flipped", &["settings.stem_flipped"], "a stem goes on the way it is printed"),
        ("fits/chain_long_enough", &["settings.chain_links"], "the program takes a length that is right"),
        ("fits/chain_taut", &["settings.chain_links"], "the program takes a length that is right"),
        ("fits/chain_pairs", &["settings.chain_links"], "the program takes an even number"),
        (
            "fits/oversize_cage",
            &["parts.rear_derailleur.oversize_cage"],
            "a cage that is not said to be another's is its maker's own",
        ),
        ("fits/bar_cut", &["settings.bar_cut"], "a bar of which nothing is to be cut stays as it is"),
        ("safe/clip_ons", &["parts.bar.clip_ons"], "clip-on bars that are not listed are not fitted"),
        ("fits/chain_catcher", &["parts.front_derailleur.catcher"], "a catcher that is not listed is not fitted"),
        (
            "fits/bag_and_light",
            &["parts.saddle.bag", "parts.saddle.light_sensor"],
            "what is not listed does not hang under the saddle",
        ),
        ("reach/trail", &["parts.frame.trail"], "road bikes' usual trail stands in for one that is not stated"),
    ];

    /// The parts that the check looks at: those without which it does not find exactly the same. Half of them are taken
    /// away at once, and only a half that matters is split further.
    fn parts_it_looks_at(check: &Check, build: &Build) -> Vec<String> {
        let mut parts: BTreeSet<String> = BTreeSet::new();
        for (path, _) in build.leaves().iter().filter(|(path, _)| path.starts_with("parts.")) {
            let keys: Vec<&str> = path.split('.').collect();
            let depth = if crate::part::kind(keys[1]).unwrap().places == Places::One { 2 } else { 3 };
            parts.insert(format!("{}.", keys[..depth].join(".")));
        }
        let found = findings_in(check, build);
        let mut looked_at = Vec::new();
        let mut halves: Vec<Vec<String>> = vec![parts.into_iter().collect()];
        // Each half is smaller than the list it was split from, so the list of halves runs empty.
        while let Some(mut half) = halves.pop() {
            let mut without = build.clone();
            for (path, _) in build.leaves() {
                if half.iter().any(|part| path.starts_with(part)) {
                    without.set(&path, None).unwrap();
                }
            }
            if findings_in(check, &without) == found {
                continue;
            }
            if half.len() == 1 {
                looked_at.append(&mut half);
            } else {
                halves.push(half.split_off(half.len() / 2));
                halves.push(half);
            }
        }
        looked_at
    }

    /// The facts of its objected example that the check is content without, where it should not be, or no longer is.
    fn content_without(check: &Check) -> Vec<String> {
        let mut objected = sample();
        (check.does_not_fit)(&mut objected);
        let looked_at = parts_it_looks_at(check, &objected);
        let mut silent = Vec::new();
        for (path, _) in objected.leaves() {
            let is_a_fact = looked_at.iter().any(|part| path.starts_with(part))
                || ["settings.", "fit.", "rider."].iter().any(|section| path.starts_with(section));
            if !is_a_fact || path.split('.').next_back() == Some("from") {
                continue;
            }
            let mut build = objected.clone();
            build.set(&path, None).unwrap();
            let allowed =
                CONTENT_WITHOUT.iter().any(|(id, facts, _)| *id == check.id && facts.contains(&path.as_str()));
            if findings_in(check, &build).is_empty() != allowed {
                silent.push(format!("{}: {path}", check.id));
            }
        }
        silent
    }

    #[test]
    fn a_fact_that_is_taken_away_never_makes_a_check_content() {
        // Tens of thousands of bikes are worked out; every core takes its share of the checks.
        let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
        let silent: Vec<String> = std::thread::scope(|scope| {
            let shares: Vec<_> = (0..cores)
                .map(|core| {
                    scope.spawn(move || {
                        ALL.iter().skip(core).step_by(cores).flat_map(content_without).collect::<Vec<_>>()
                    })
                })
                .collect();
            shares.into_iter().flat_map(|share| share.join().unwrap()).collect()
        });
        assert!(silent.is_empty(), "content without the fact, or no longer content: {silent:#?}");
    }

    #[test]
    fn an_empty_document_is_answered_by_a_few_findings_and_none_of_them_stops() {
        let build = Build::default();
        let model = Model::new(&build);
        let worked = compute::work_out(&model);
        let numbers = compute::numbers(&model, &worked);
        let findings = run(&Case { model: &model, worked: &worked, numbers: &numbers });
        assert!(findings.len() <= 5, "{findings:#?}");
        assert!(findings.iter().all(|finding| finding.severity != Severity::Stop), "{findings:#?}");
        assert!(findings.iter().any(|finding| finding.check == fits::listed::ID));
    }

    #[test]
    fn every_check_has_its_headings_a_source_and_well_formed_sentences() {
        for check in ALL {
            for heading in ["looks at", "why", "source", "fits", "does not fit", "not known"] {
                assert!(check.heading(heading).is_some_and(|text| text.len() > 5), "{}: no «{heading}»", check.id);
            }
            assert!(check.source.len() > 10, "{}", check.id);
            for change in [Some(check.does_not_fit), check.not_known].into_iter().flatten() {
                for finding in findings_of(check, change) {
                    for text in [&finding.what, &finding.why, &finding.action] {
                        assert!(
                            text.ends_with('.') && text.chars().next().is_some_and(|c| !c.is_lowercase()),
                            "{}: «{text}» is no sentence",
                            check.id
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn every_file_is_listed() {
        let here = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/check");
        let mut files = BTreeSet::new();
        for concern in std::fs::read_dir(&here).unwrap().flatten().filter(|entry| entry.path().is_dir()) {
            for file in std::fs::read_dir(concern.path()).unwrap().flatten() {
                let name = file.file_name().to_string_lossy().replace(".rs", "");
                files.insert(format!("{}/{name}", concern.file_name().to_string_lossy()));
            }
        }
        let listed: BTreeSet<String> = ALL.iter().map(|check| check.id.to_owned()).collect();
        let forgotten: Vec<&String> = files.symmetric_difference(&listed).collect();
        assert!(forgotten.is_empty(), "a file without its word in checks!, or a word without its file: {forgotten:?}");
    }

    #[test]
    fn the_sound_sample_is_content_with_every_check() {
        let build = sample();
        let model = Model::new(&build);
        let worked = compute::work_out(&model);
        let numbers = compute::numbers(&model, &worked);
        let findings = run(&Case { model: &model, worked: &worked, numbers: &numbers });
        assert!(findings.iter().all(|finding| finding.severity == Severity::Note), "{findings:#?}");
    }
}
