//! The chain stays tight in the smallest pair that is used.
//!
//! - Looks at: the cage's angle and the lower run's distance from the upper wheel in every gear that is not locked
//!   off, for the links chosen.
//! - Why: a slack chain falls off, and a lower run that touches the chain above it rattles and wears.
//! - Source: geometry of the path
//! - Fits: 110 links, with the smallest sprocket locked off on the inner ring.
//! - Does not fit: 114 links in the fear of the largest pair.
//! - Not known: nobody measured the cage.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::compute::Longest;
use crate::finding::{About, Severity, figure};
use crate::number::{CAGE_SMALL_SMALL, CHAIN_LINKS, Side};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "geometry of the path";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the chain can hang slack in a gear that is left alone");
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let worked = &case.worked.transmission;
    if worked.absent {
        return;
    }
    let chain = match &worked.chain {
        Ok(chain) => chain,
        Err(missing) => {
            out.not_known_as(Severity::Note, missing, "whether the chain stays tight in the smallest pair");
            return;
        }
    };
    let (Ok(gears), Some(longest)) = (&worked.gears, chain.longest) else { return };
    let pair =
        gears.get(longest.gear).map_or_else(String::new, |line| format!("{} × {}", line.gear.ring, line.gear.sprocket));
    let happens = match longest.by {
        Longest::Slack => "the cage is at its rear stop",
        Longest::RubsItself => "the lower run touches the chain on the upper wheel",
    };
    let about = || vec![About::number(&CHAIN_LINKS, Side::None), About::number(&CAGE_SMALL_SMALL, Side::None)];
    let Some(shortest) = chain.shortest else { return };
    let doubt = figure(chain.plus_minus_links, 1);
    let lock = chain.inner_from.map_or_else(
        || "Fit a cage that takes up more.".to_owned(),
        |from| format!("Leave the inner ring's sprockets under {from} alone or lock them off, or fit a cage that takes up more."),
    );
    match worked.links {
        Err(_) if chain.recommended.is_none() => out.say(
            about(),
            "No length of chain is right at both ends.".into(),
            format!(
                "The largest pair asks for {shortest} links; with more than {} in {pair}, {happens} (± {doubt}).",
                longest.links
            ),
            lock,
        ),
        Ok(links) if links > longest.links => {
            let action = if shortest <= longest.links { format!("Take {shortest} links.") } else { lock };
            out.say(
                about(),
                format!("The chain is too long for {pair}."),
                format!("With more than {} links {happens} there, and {links} are planned (± {doubt}).", longest.links),
                action,
            );
        }
        _ => {}
    }
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// In the fear of the largest pair.
pub fn does_not_fit(build: &mut Build) {
    build.settings.chain_links = Some(114.into());
}

/// Nobody measured the stop.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.rear_derailleur.make("").cage_rear_deg = None);
