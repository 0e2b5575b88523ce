//! Every part with its mass, how far off that may be and whose word it is; those without one first in sight.

use crate::loaded::Loaded;
use crate::pages::build::capital;
use maud::{Markup, html};
use witnessmark_core::compute::{Mass, MassItem};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::figure;

pub(super) fn section(loaded: &Loaded, mass: &Mass) -> Markup {
    let lacking = mass.items.iter().filter(|item| item.counted && item.mass_g.is_err()).count();
    let mut items: Vec<&MassItem> = mass.items.iter().collect();
    items.sort_by_key(|item| item.area);
    html! {
        @if !items.is_empty() {
            section.area aria-labelledby="parts-title" {
                h2 #parts-title { "Part by part" }
                @if lacking > 0 { p.says.caution { (crate::words::count(lacking, "part")) " without a mass: put it on the scale before it is fitted." } }
                table.drive-rows.mass-parts {
                    thead { tr { th scope="col" { "part" } th scope="col" { "mass" } th scope="col" { "give or take" } th scope="col" { "counted" } } }
                    @for area in items.chunk_by(|a, b| a.area == b.area) {
                        tbody {
                            @if let Some(first) = area.first() { tr.area-of { th colspan="4" scope="rowgroup" { (capital(first.area.name())) } } }
                            @for item in area { (one(loaded, item)) }
                        }
                    }
                }
                p.quiet { "Where nobody told how far off a mass may be, custom stands in by where the figure comes from: 0.2 % weighed here, 5 % a maker’s, 7 % a catalogue’s, 10 % where nobody said, 15 % assumed." }
            }
        }
    }
}

fn one(loaded: &Loaded, item: &MassItem) -> Markup {
    html! {
        tr.not-counted[!item.counted] {
            th scope="row" { a href={ "/builds/" (loaded.id) "/part/" (item.path) } { (capital(&item.name)) } }
            td data-label="mass" { @match item.mass_g { Ok(mass) => { b { (figure(mass, 0)) " g" } } Err(_) => { span.says.caution { "not known" } } } }
            td data-label="give or take" { @if item.mass_g.is_ok() { "± " (figure(item.plus_minus_g, usize::from(item.plus_minus_g < 2.0))) " g" @if item.plus_minus_by_custom { small { " by custom" } } } }
            td data-label="counted" { @if item.counted { "yes" } @else { "no: it was not on" } }
        }
    }
}
