//! Each bolt has a torque, and one that such a bolt can have.
//!
//! - Looks at: the torque that the maker states at steerer, expander, rail clamp, caliper, rotor, axle, derailleur,
//!   bottom bracket, crank, cassette and pedal.
//! - Why: a bolt without a figure is tightened by feel; a figure that no such bolt has was typed wrongly, in
//!   inch-pounds or without its point.
//! - Source: common practice, no source: the ranges in which makers' figures lie
//! - Fits: all are stated and usual.
//! - Does not fit: a rear axle at 24 N·m.
//! - Not known: nobody looked the crank's torque up.

use crate::build::Build;
use crate::check::words::nm;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::{Severity, figure};
use crate::model::Missing;
use crate::part::RotorMount;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: the ranges in which makers' figures lie";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the maker's figure counts, whatever is usual");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let [front, rear] = &model.ends;
    let (steerer_at, steerer) = if model.one_piece() {
        (model.cockpit.at("steerer_clamp_torque"), fact!(model.cockpit, steerer_clamp_torque_nm))
    } else {
        (model.stem.at("steerer_clamp_torque"), fact!(model.stem, steerer_clamp_torque_nm))
    };
    let mut bolts = vec![
        ("steerer clamp", steerer_at, steerer, 3.0, 9.0),
        ("expander", model.fork.at("expander_torque"), fact!(model.fork, expander_torque_nm), 2.0, 12.0),
        ("rail clamp", model.post.at("rail_clamp_torque"), fact!(model.post, rail_clamp_torque_nm), 3.0, 22.0),
        ("bottom bracket", model.bottom_bracket.at("torque"), fact!(model.bottom_bracket, torque_nm), 20.0, 60.0),
        ("crank", model.crankset.at("arm_torque"), fact!(model.crankset, arm_torque_nm), 5.0, 60.0),
        ("pedal", model.pedal.at("torque"), fact!(model.pedal, torque_nm), 20.0, 50.0),
        (
            "rear derailleur",
            model.rear_derailleur.at("mount_torque"),
            fact!(model.rear_derailleur, mount_torque_nm),
            6.0,
            16.0,
        ),
        ("cassette", model.cassette.at("lockring_torque"), fact!(model.cassette, lockring_torque_nm), 25.0, 55.0),
    ];
    if model.front_derailleur.part.is_some() {
        let stated = fact!(model.front_derailleur, mount_torque_nm);
        bolts.push(("front derailleur", model.front_derailleur.at("mount_torque"), stated, 3.0, 9.0));
    }
    for (end, [caliper, rotor, axle]) in
        [(front, ["front caliper", "front rotor", "front axle"]), (rear, ["rear caliper", "rear rotor", "rear axle"])]
    {
        bolts.push((caliper, end.caliper.at("mount_torque"), fact!(end.caliper, mount_torque_nm), 4.0, 10.0));
        let six = fact!(end.rotor, mount).is_ok_and(|mount| mount == RotorMount::SixBolt);
        let (low, high) = if six { (2.0, 7.0) } else { (30.0, 55.0) };
        bolts.push((rotor, end.rotor.at("torque"), fact!(end.rotor, torque_nm), low, high));
        if end.axle.part.is_some() {
            bolts.push((axle, end.axle.at("torque"), fact!(end.axle, torque_nm), 5.0, 20.0));
        }
    }
    for (name, at, stated, low_nm, high_nm) in bolts {
        let Some(stated_nm) = take(stated, &mut lacking) else { continue };
        if stated_nm < low_nm || high_nm < stated_nm {
            out.say(
                vec![at],
                format!("The torque for the {name} is not one that such a bolt has."),
                format!(
                    "{} are stated; makers' figures lie between {} and {}.",
                    nm(stated_nm),
                    figure(low_nm, 0),
                    nm(high_nm)
                ),
                "Read the maker's sheet again, and the unit beside the figure.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "the torque of each bolt");
}

/// All are stated and usual.
pub fn fits(_: &mut Build) {}

/// A rear axle at 24 N·m.
pub fn does_not_fit(build: &mut Build) {
    build.parts.axle.make("rear").torque_nm = Some(24.0.into());
}

/// Nobody looked the crank's torque up.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.crankset.make("").arm_torque_nm = None);
