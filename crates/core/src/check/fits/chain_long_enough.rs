//! The chain reaches round the largest ring and sprocket.
//!
//! - Looks at: the cage's angle with the largest ring and the largest sprocket, locked off or not, for the links
//!   chosen; the links that the chain has.
//! - Why: one slip of the hand shifts into that pair; a chain that is too short tears derailleur and hanger off,
//!   and stops the wheel.
//! - Source: geometry of the path; that one link is left before the cage's stop is common practice, no source
//! - Fits: 110 links where 107.5 are needed with the cage at its stop.
//! - Does not fit: 106 links, cut by an old count.
//! - Not known: nobody measured the cage; then only the rules of thumb speak.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::compute::MARGIN_LINKS;
use crate::fact;
use crate::finding::{About, Severity, figure};
use crate::number::{CAGE_BIG_BIG, CHAIN_LINKS, Side};
use witnessmark_mechanics::chain::Lies;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "geometry of the path; that one link is left before the cage's stop is common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let worked = &case.worked.transmission;
    if worked.absent {
        return;
    }
    let about = || vec![About::number(&CHAIN_LINKS, Side::None), About::number(&CAGE_BIG_BIG, Side::None)];
    let has = crate::compute::drivetrain(case.model).chain.part.and_then(|chain| chain.links.as_ref());
    if let (Ok(links), Some(has)) = (&worked.links, has.map(|given| given.value))
        && has < *links
    {
        out.say(
            vec![About::path("parts.chain.links"), About::number(&CHAIN_LINKS, Side::None)],
            "The chain on hand has too few links.".into(),
            format!("It has {has} and {links} are planned."),
            "Take a chain with more links; joining a piece of another chain on is no repair for a race bike.".into(),
        );
    }
    let chain = match &worked.chain {
        Ok(chain) => chain,
        Err(missing) => {
            out.not_known_as(Severity::Note, missing, "how near its stop the cage comes in the largest pair");
            by_thumb(case, out);
            return;
        }
    };
    let Ok(gears) = &worked.gears else { return };
    let pair = gears
        .get(chain.largest)
        .map_or_else(String::new, |line| format!("{} × {}", line.gear.ring, line.gear.sprocket));
    let Some(Ok(swing)) = chain.swings.get(chain.largest) else {
        out.say(
            about(),
            format!("There is no way for the chain in {pair}."),
            "With the cage between its stops, two wheels that the chain passes stand in one another.".into(),
            "Measure chainstay, pivot and cage again; if they are right, the parts do not go together.".into(),
        );
        return;
    };
    let Ok(links) = worked.links else { return };
    let least = figure(swing.least_links, 1);
    let advice = chain.shortest.map_or_else(String::new, |shortest| format!("Take {shortest} links."));
    match swing.lies(f64::from(links)) {
        Lies::TooShort { .. } => out.say(
            about(),
            format!("The chain is too short for {pair}."),
            format!(
                "With the cage at its stop ahead that pair needs {least} ± {} links, and {links} are planned.",
                figure(chain.plus_minus_links, 1)
            ),
            advice,
        ),
        Lies::Tight { .. } if f64::from(links) < swing.least_links + MARGIN_LINKS => out.say_as(
            Severity::Caution,
            about(),
            format!("The cage comes near its stop in {pair}."),
            format!(
                "That pair needs {least} ± {} links with the cage at its stop, and {links} are planned.",
                figure(chain.plus_minus_links, 1)
            ),
            advice,
        ),
        Lies::Tight { .. } | Lies::Slack { .. } => {}
    }
}

/// Without the cage's figures a chosen number of links is held against the rules of thumb.
fn by_thumb(case: &Case<'_>, out: &mut Report) {
    let worked = &case.worked.transmission;
    let (Ok(rules), Ok(links)) = (&worked.rules, fact!(case.model.settings, chain_links)) else { return };
    if links < rules.wrapped {
        out.say_as(
            Severity::Caution,
            vec![About::number(&CHAIN_LINKS, Side::None)],
            "The chain is shorter than the customary rule allows.".into(),
            format!(
                "Round the largest ring and sprocket, with a pair of plates more, the rule gives {} links, give or take a pair; {links} are planned.",
                rules.wrapped
            ),
            format!("Take {} links, or measure the cage.", rules.links()),
        );
    }
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// Cut by an old count.
pub fn does_not_fit(build: &mut Build) {
    build.settings.chain_links = Some(106.into());
}

/// Nobody measured the cage.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.rear_derailleur.make("").pivot_to_lower_mm = None;
});
