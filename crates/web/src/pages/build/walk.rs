//! The walk round the bike: the areas as places on the page, each with how it stands.

use super::fragment::AREAS;
use crate::loaded::Loaded;
use maud::{Markup, html};
use witnessmark_core::compute::Verdict;
use witnessmark_core::field::Choice;
use witnessmark_core::number::Area;

/// The id of an area's section: `front-end`.
pub(crate) fn id_of(area: Area) -> String {
    area.name().replace(' ', "-")
}

/// What of the document stands behind the areas: the key of its section and its title.
pub(crate) const BEHIND: [(&str, &str); 5] =
    [("job", "the job"), ("rider", "the rider"), ("fit", "the fit"), ("shelf", "the shelf"), ("search", "the search")];

pub(crate) fn nav(loaded: &Loaded) -> Markup {
    html! {
        nav #walk aria-label="Walk round the bike" {
            @for area in AREAS {
                @let (in_line, total) = stands(loaded, area);
                a href={ "#" (id_of(area)) } {
                    (area.name())
                    @if total > 0 { " " small title="in line, of those to bring in line" { (in_line) "/" (total) } }
                }
            }
            @for (id, title) in BEHIND { a.behind href={ "#" (id) } { (title) } }
        }
    }
}

fn stands(loaded: &Loaded, area: Area) -> (usize, usize) {
    let here = || loaded.plan.numbers.each().iter().filter(|one| one.number.area == area);
    let total = here().filter(|one| one.verdict != Verdict::NotKnown).count();
    (here().filter(|one| one.verdict == Verdict::InLine).count(), total)
}
