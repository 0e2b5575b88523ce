//! A cage with larger wheels gets its own chain length.
//!
//! - Looks at: whether the fitted cage is its maker's own, and what it asks of the chain beside the maker's own
//!   cage.
//! - Why: the derailleur maker's chain length and capacity do not hold any more, and the customary rule does not
//!   look at the wheels.
//! - Source: geometry of both cages between the same stops
//! - Fits: its maker's own cage.
//! - Does not fit: a cage with 13 and 19 teeth in the place of 11 and 11.
//! - Not known: the own cage's figures were not kept.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::{About, Severity, figure};
use crate::model::Missing;
use crate::number::{CHAIN_LINKS, Side};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "geometry of both cages between the same stops";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "it changes a length that another check judges");
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let worked = &case.worked.transmission;
    let derailleur = crate::compute::drivetrain(case.model).rear_derailleur;
    if worked.absent || !fact!(derailleur, oversize_cage).unwrap_or(false) {
        return;
    }
    let question = "what the cage with larger wheels asks of the chain beside its maker's own";
    let chain = match &worked.chain {
        Ok(chain) => chain,
        Err(missing) => {
            out.not_known_as(Severity::Note, missing, question);
            return;
        }
    };
    let Some(own) = chain.own else {
        let missing = ["own_upper_wheel", "own_lower_wheel", "own_pivot_to_upper", "own_pivot_to_lower"]
            .iter()
            .fold(Missing::default(), |missing, fact| {
                missing.and(&Missing::fact(format!("parts.rear_derailleur.{fact}")))
            });
        out.not_known_as(Severity::Note, &missing, question);
        return;
    };
    let take_up = chain.take_up_teeth.zip(own.take_up_teeth).map_or_else(String::new, |(fitted, own)| {
        format!("; it takes up {} teeth instead of {}", figure(fitted, 1), figure(own, 1))
    });
    let links = chain.shortest.map_or_else(|| "no length".to_owned(), |links| format!("{links} links"));
    out.say(
        vec![About::path("parts.rear_derailleur.oversize_cage"), About::number(&CHAIN_LINKS, Side::None)],
        format!("The fitted cage asks for {links}, its maker's own for {}.", own.shortest),
        format!(
            "In the largest pair the path is {} links longer than round the maker's own cage{take_up}.",
            figure(own.added_links, 1)
        ),
        "Cut the chain by this cage, and check the largest pair by hand before the first ride.".into(),
    );
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// Larger wheels.
pub fn does_not_fit(build: &mut Build) {
    let derailleur = build.parts.rear_derailleur.make("");
    derailleur.oversize_cage = Some(true.into());
    derailleur.own_upper_wheel = Some(11.into());
    derailleur.own_lower_wheel = Some(11.into());
    derailleur.own_pivot_to_upper_mm = Some(0.0.into());
    derailleur.own_pivot_to_lower_mm = Some(62.0.into());
    derailleur.upper_wheel = Some(13.into());
    derailleur.lower_wheel = Some(19.into());
    derailleur.pivot_to_lower_mm = Some(80.0.into());
    derailleur.pivot_below_smallest_mm = Some(76.0.into());
    derailleur.pivot_below_largest_mm = Some(100.0.into());
}

/// Nothing was kept of the maker's own cage.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.rear_derailleur.make("").oversize_cage = Some(true.into()));
