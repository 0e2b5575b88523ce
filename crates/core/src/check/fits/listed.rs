//! The parts that the others stand on are listed.
//!
//! - Looks at: whether frame, fork, headset, stem and bar or one-piece cockpit, levers, crankset, pedals, tyres, saddle,
//!   post, bottom bracket, rear derailleur (with two rings the front one too), cassette, chain, wheels, rotors and calipers
//!   are in the document at all.
//! - Why: with a part missing nothing that touches it can be worked out; each question that waits for it stands here, once.
//! - Source: common practice, no source: what a position and a steerer cut depend on.
//! - Fits: all of them are listed.
//! - Does not fit: the fork is not in the document yet.
//! - Not known: nothing; a part is listed or it is not.

use crate::build::Build;
use crate::check::words::{and_list, is_or_are};
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity};
use crate::model::Model;

/// The id under which the questions that wait for parts are gathered.
pub(crate) const ID: &str = "fits/listed";
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: what a position and a steerer cut depend on";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a document is filled in bit by bit");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let absent = absent(case.model);
    if absent.is_empty() {
        return;
    }
    let names: Vec<String> =
        absent.iter().filter(|(_, name)| !name.is_empty()).map(|(_, name)| (*name).to_owned()).collect();
    out.say(
        absent.iter().map(|(path, _)| About::Part((*path).to_owned())).collect(),
        format!("The {} {} not listed yet.", and_list(&names), is_or_are(names.len())),
        "Nothing that touches a part can be worked out without it.".into(),
        "List what is on hand or to be ordered, with the facts of its maker's sheet.".into(),
    );
}

/// The parts that are not there, with the names a mechanic gives them.
fn absent(model: &Model<'_>) -> Vec<(&'static str, &'static str)> {
    let two_piece = !model.one_piece();
    let no_cockpit = two_piece && model.stem.part.is_none() && model.bar.part.is_none();
    let mut all = vec![
        (model.frame.path, "frame", model.frame.part.is_none()),
        (model.fork.path, "fork", model.fork.part.is_none()),
        (model.headset.path, "headset", model.headset.part.is_none()),
    ];
    if no_cockpit {
        all.push((model.stem.path, "stem with its bar (or the one-piece cockpit)", true));
        // One name for both, and both paths, so that what waits for either is gathered here.
        all.push((model.bar.path, "", true));
    } else {
        all.push((model.stem.path, "stem", two_piece && model.stem.part.is_none()));
        all.push((model.bar.path, "bar", two_piece && model.bar.part.is_none()));
    }
    all.extend([
        (model.lever_left.path, "left lever", model.lever_left.part.is_none()),
        (model.lever_right.path, "right lever", model.lever_right.part.is_none()),
        (model.crankset.path, "crankset", model.crankset.part.is_none()),
        (model.pedal.path, "pair of pedals", model.pedal.part.is_none()),
        (model.tyre_front.path, "front tyre", model.tyre_front.part.is_none()),
        (model.tyre_rear.path, "rear tyre", model.tyre_rear.part.is_none()),
        (model.saddle.path, "saddle", model.saddle.part.is_none()),
        (model.post.path, "seat post", model.post.part.is_none()),
        (model.bottom_bracket.path, "bottom bracket", model.bottom_bracket.part.is_none()),
        (model.rear_derailleur.path, "rear derailleur", model.rear_derailleur.part.is_none()),
        (model.front_derailleur.path, "front derailleur", two_rings(model) && model.front_derailleur.part.is_none()),
        (model.cassette.path, "cassette", model.cassette.part.is_none()),
        (model.chain.path, "chain", model.chain.part.is_none()),
    ]);
    let [front, rear] = &model.ends;
    for (front_path, rear_path, [both, front_name, rear_name], no_front, no_rear) in [
        (front.wheel.path, rear.wheel.path, NAMES[0], front.wheel.part.is_none(), rear.wheel.part.is_none()),
        (front.rotor.path, rear.rotor.path, NAMES[1], front.rotor.part.is_none(), rear.rotor.part.is_none()),
        (front.caliper.path, rear.caliper.path, NAMES[2], front.caliper.part.is_none(), rear.caliper.part.is_none()),
    ] {
        if no_front && no_rear {
            // One name for both, and both paths.
            all.push((front_path, both, true));
            all.push((rear_path, "", true));
        } else {
            all.push((front_path, front_name, no_front));
            all.push((rear_path, rear_name, no_rear));
        }
    }
    all.into_iter().filter(|(.., missing)| *missing).map(|(path, name, _)| (path, name)).collect()
}

/// A part of which there is one at each wheel: both together, the front one, the rear one.
const NAMES: [[&str; 3]; 3] = [
    ["pair of wheels", "front wheel", "rear wheel"],
    ["pair of rotors", "front rotor", "rear rotor"],
    ["pair of calipers", "front caliper", "rear caliper"],
];

fn two_rings(model: &Model<'_>) -> bool {
    model.crankset.part.and_then(|part| part.rings.as_ref()).is_some_and(|rings| rings.value.len() > 1)
}

/// The sample lists them all.
pub fn fits(_: &mut Build) {}

/// No fork yet.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.0.clear();
}

/// No fact can be missing.
pub const NOT_KNOWN: Option<fn(&mut Build)> = None;
