//! The chain is closed with a link or pin of its own kind, once.
//!
//! - Looks at: the speeds that the chain's pin or joining link is made for; whether a link that may be closed once was
//!   closed before.
//! - Why: a link of another width opens under load; one that was opened once holds no longer, and the chain comes
//!   apart in a sprint.
//! - Source: common practice, no source: the chain maker's own link, closed as often as the maker says
//! - Fits: a link for 12 speeds in a new chain for 12.
//! - Does not fit: a link for 11 speeds in a chain for 12.
//! - Not known: nobody looked which speeds the link is for.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::{ChainJoin, Condition};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: the chain maker's own link, closed as often as the maker says";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["chain"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let chain = &model.chain;
    let mut lacking = Missing::default();
    if let Some((speeds, link)) = take(all((fact!(chain, speeds), fact!(chain, joining_for_speeds))), &mut lacking)
        && speeds != link
    {
        out.say(
            vec![chain.at("joining_for_speeds"), chain.at("speeds")],
            "The chain's joining link or pin is for another chain.".into(),
            format!("It is made for {link} speeds and the chain for {speeds}."),
            "Close the chain with a new link or pin of its own maker and width.".into(),
        );
    }
    if let Some((joining, condition)) = take(all((fact!(chain, joining), fact!(chain, condition))), &mut lacking)
        && joining != ChainJoin::LinkAgain
        && condition != Condition::New
    {
        out.say_as(
            Severity::Caution,
            vec![chain.at("joining"), chain.at("condition")],
            "A used chain wants a new joining link or pin.".into(),
            format!("The chain is «{}» and is closed with «{}», which holds once.", condition.name(), joining.name()),
            "Put a new link or pin on the parts order.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the chain is closed with what belongs to it");
}

/// A link for 12 speeds in a new chain for 12.
pub fn fits(_: &mut Build) {}

/// A link for 11 speeds in a chain for 12.
pub fn does_not_fit(build: &mut Build) {
    build.parts.chain.make("").joining_for_speeds = Some(11.into());
}

/// Nobody looked which speeds the link is for.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.chain.make("").joining_for_speeds = None);
