//! Nothing that carries the rider comes from a crash, or from nobody knows where.
//!
//! - Looks at: material and condition of frame, fork, bar, stem, one-piece cockpit, post, and the saddle's rails.
//! - Why: carbon that was in a fall breaks without a sign, weeks later; an aluminium bar that was bent once breaks next time.
//! - Source: common practice, no source: after a crash carbon is inspected by a specialist or replaced.
//! - Fits: every such part is new.
//! - Does not fit: a carbon bar carried over from a bike that fell.
//! - Not known: the condition of a carbon fork was not asked about.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, sentence};
use crate::field::{Choice, Record};
use crate::finding::{About, Severity};
use crate::model::Missing;
use crate::part::{Condition, Material, Part};

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: after a crash, inspected by a specialist or replaced";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    let mut stop = Vec::new();
    let mut ask = Vec::new();
    let mut look = Vec::new();
    for part in bearing_parts(&case.model.build.parts) {
        let carbon = part.material == Some(Material::Carbon);
        match part.condition {
            None => lacking = lacking.and(&Missing::fact(format!("parts.{}.condition", part.kind))),
            Some(Condition::New) => {}
            Some(Condition::Crashed) => stop.push(part),
            Some(Condition::UsedUnknown) if carbon => stop.push(part),
            Some(_) if part.material.is_none() => {
                lacking = lacking.and(&Missing::fact(format!("parts.{}.{}", part.kind, part.material_fact)));
            }
            Some(Condition::UsedUnknown) => ask.push(part),
            Some(Condition::UsedSound | Condition::UsedWorn | Condition::CrashedPassed) if carbon => look.push(part),
            Some(_) => {}
        }
    }
    say(
        out,
        Severity::Stop,
        &stop,
        "may not carry a rider",
        "Replace it, or let a specialist inspect it and pass it in writing.",
    );
    say(
        out,
        Severity::Caution,
        &ask,
        "may have been bent once",
        "Ask the customer in writing whether it was in a fall; in doubt replace it.",
    );
    say(
        out,
        Severity::Note,
        &look,
        "wants looking over before it is fitted",
        "Clean it, look at it under a bright light, tap it with a coin, and note who did so.",
    );
    out.not_known(&lacking, "whether the parts that carry the rider are sound");
}

/// A part that the rider hangs on or sits on.
struct Bearing {
    kind: &'static str,
    name: &'static str,
    material_fact: &'static str,
    material: Option<Material>,
    condition: Option<Condition>,
}

fn bearing_parts(parts: &crate::part::Parts) -> Vec<Bearing> {
    fn one<P: Part + Record>(
        part: Option<&P>,
        kind: &'static str,
        name: &'static str,
        material_fact: &'static str,
        material: impl Fn(&P) -> Option<Material>,
    ) -> Option<Bearing> {
        part.map(|part| Bearing { kind, name, material_fact, material: material(part), condition: part.condition() })
    }
    let of = |given: &Option<crate::field::Given<Material>>| given.as_ref().map(|given| given.value);
    [
        one(parts.frame.at(""), "frame", "frame", "material", |part| of(&part.material)),
        one(parts.fork.at(""), "fork", "fork", "material", |part| {
            // One carbon half makes a carbon fork.
            [of(&part.steerer_material), of(&part.material)].into_iter().flatten().min()
        }),
        one(parts.cockpit.at(""), "cockpit", "cockpit", "material", |part| of(&part.material)),
        one(parts.bar.at(""), "bar", "bar", "material", |part| of(&part.material)),
        one(parts.stem.at(""), "stem", "stem", "material", |part| of(&part.material)),
        one(parts.post.at(""), "post", "seat post", "material", |part| of(&part.material)),
        one(parts.saddle.at(""), "saddle", "saddle on its rails", "rail_material", |part| of(&part.rail_material)),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn say(out: &mut Report, severity: Severity, parts: &[Bearing], what: &str, action: &str) {
    if parts.is_empty() {
        return;
    }
    let names: Vec<String> = parts.iter().map(|part| part.name.to_owned()).collect();
    let verb = if parts.len() > 1 { what.replace("wants", "want") } else { what.to_owned() };
    let each: Vec<String> = parts
        .iter()
        .map(|part| {
            let made_of =
                part.material.map_or_else(|| "unknown material".to_owned(), |material| material.name().to_owned());
            let condition = part.condition.map_or("not told", |condition| condition.name());
            format!("the {} ({made_of}): {condition}", part.name)
        })
        .collect();
    out.say_as(
        severity,
        parts.iter().map(|part| About::Part(format!("parts.{}", part.kind))).collect(),
        format!("The {} {verb}.", and_list(&names)),
        format!("{}.", sentence(&each.join("; "))),
        action.into(),
    );
}

/// The sample's parts are new.
pub fn fits(_: &mut Build) {}

/// A bar from a bike that fell.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bar.make("").condition = Some(Condition::UsedUnknown.into());
}

/// Nobody asked about the fork.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").condition = None);
