//! What the readings give: the numbers of the position, the points, and left against right, each with its plus-minus and
//! how far a slip that nobody notices would move it; and what cannot be had, with the reason.

use super::super::build::{address, capital};
use super::Surveyed;
use crate::words::{plain, with_unit};
use maud::{Markup, html};
use witnessmark_core::build::SurveyPoint;
use witnessmark_core::field::{Choice, Kind};
use witnessmark_core::finding::{figure, mm};
use witnessmark_core::number::{Number, Side};
use witnessmark_core::survey::{Agreement, SEEN_BY_EYE_MM, SurveyedValue};

/// The half width that holds the truth 95 times in 100, in standard uncertainties.
const NINETY_FIVE: f64 = 1.96;

pub(super) fn numbers(surveyed: &Surveyed<'_>) -> Markup {
    let all = &surveyed.survey.numbers;
    let lacking: Vec<_> = all.iter().filter_map(|one| Some((one, one.value.as_ref().err()?))).collect();
    html! {
        section.area #survey-numbers aria-labelledby="survey-numbers-title" {
            h2 #survey-numbers-title { "The position" }
            @if let Some(missing) = &surveyed.survey.missing { p { (capital(&missing.to_string())) "." } }
            @if all.iter().any(|one| one.value.is_ok()) {
                table.surveyed {
                    thead { tr { th scope="col" { "number" } th scope="col" { "value" } th scope="col" { "±" } th scope="col" { "an unnoticed slip moves it by" } } }
                    tbody {
                        @for one in all {
                            @if let Ok(value) = &one.value {
                                @let address = address::of_number(one.number.id, one.side);
                                tr id={ "s." (address) } data-at=(address) {
                                    th scope="row" { (named(one.number, one.side)) }
                                    td.figure data-label="value" { (with_unit(one.number.kind, value.value)) }
                                    td data-label="give or take" { (plus_minus(one.number.kind, value.plus_minus())) }
                                    td data-label="unnoticed slip" { (hidden(one.number.kind, value)) }
                                }
                            }
                        }
                    }
                }
                p.quiet { "± holds the truth 95 times in 100. The last column: the furthest that a mistake in one reading moves the number while the others hide it." }
            }
            @if !lacking.is_empty() {
                h3 { "What cannot be had from these readings" }
                ul.lacking { @for (one, missing) in lacking {
                    li id={ "s." (address::of_number(one.number.id, one.side)) } { b { (named(one.number, one.side)) } ": " (missing) "." }
                } }
            }
        }
    }
}

fn named(number: &Number, side: Side) -> String {
    if side.word().is_empty() { number.name.to_owned() } else { format!("{}, {}", number.name, side.word()) }
}

/// Never less than the last place shown: "± 0" would be a lie.
fn plus_minus(kind: Kind, value: f64) -> String {
    format!("± {}", plain(kind, value.max(0.1)))
}

fn hidden(kind: Kind, value: &SurveyedValue) -> Markup {
    html! {
        @if !value.hidden.is_finite() || kind == Kind::Length && value.hidden >= SEEN_BY_EYE_MM {
            b.unchecked { "nothing checks it" }
        } @else { "up to " (with_unit(kind, value.hidden)) }
    }
}

pub(super) fn points(surveyed: &Surveyed<'_>) -> Markup {
    let points: Vec<_> =
        surveyed.survey.points.iter().filter(|placed| placed.point != SurveyPoint::BottomBracket).collect();
    html! {
        section.area #survey-points aria-labelledby="survey-points-title" {
            @if !points.is_empty() {
                h2 #survey-points-title { "The points" }
                table.surveyed {
                    thead { tr {
                        th scope="col" { "point" } th scope="col" { "forward" } th scope="col" { "±" }
                        th scope="col" { "up" } th scope="col" { "±" } th scope="col" { "ellipse, half axes" }
                    } }
                    tbody { @for placed in points {
                        tr {
                            th scope="row" { (placed.point.name()) }
                            @match placed.ellipse {
                                Some(ellipse) => {
                                    td.figure data-label="forward" { (mm(placed.at.x_mm)) } td data-label="give or take" { (plus_minus(Kind::Length, NINETY_FIVE * ellipse.sd_x_mm)) }
                                    td.figure data-label="up" { (mm(placed.at.y_mm)) } td data-label="give or take" { (plus_minus(Kind::Length, NINETY_FIVE * ellipse.sd_y_mm)) }
                                    td data-label="ellipse, half axes" { (figure(ellipse.long_mm, 1)) " × " (mm(ellipse.short_mm)) }
                                }
                                None => td colspan="5" { "open: the readings do not place it" },
                            }
                        }
                    } }
                }
                p.quiet { "From the bottom bracket, in the bike’s own frame: level along the line of its axles." (stood(surveyed)) }
            }
        }
    }
}

fn stood(surveyed: &Surveyed<'_>) -> String {
    let say = |(value, sd): (f64, f64)| format!("{}° ± {}", figure(value, 1), figure((NINETY_FIVE * sd).max(0.1), 1));
    let stand = &surveyed.survey.stand;
    let nose =
        stand.nose_down_deg.map(|one| format!(" When it was read, that line fell to the front by {}.", say(one)));
    let floor = stand.floor_deg.map(|one| format!(" The floor rose to the front by {} to that line.", say(one)));
    [nose, floor].into_iter().flatten().collect()
}

pub(super) fn sides(surveyed: &Surveyed<'_>) -> Markup {
    html! {
        section.area #survey-sides aria-labelledby="survey-sides-title" {
            @if !surveyed.survey.sides.is_empty() {
                h2 #survey-sides-title { "Left and right" }
                table.surveyed {
                    thead { tr { th scope="col" { "number" } th scope="col" { "left" } th scope="col" { "right" } th scope="col" { "differ by" } th scope="col" { "may differ by" } th scope="col" { "verdict" } } }
                    tbody { @for one in &surveyed.survey.sides {
                        tr {
                            th scope="row" { (one.number.name) }
                            td.figure data-label="left" { (with_unit(one.number.kind, one.left)) }
                            td.figure data-label="right" { (with_unit(one.number.kind, one.right)) }
                            td data-label="differ by" { (with_unit(one.number.kind, (one.left - one.right).abs())) " " (plus_minus(one.number.kind, NINETY_FIVE * one.sd)) }
                            td data-label="may differ by" { (with_unit(one.number.kind, one.tolerance)) }
                            td data-label="verdict" { @match one.agreement {
                                Agreement::Moved => b.unchecked { "they differ" },
                                other => (other.name()),
                            } }
                        }
                    } }
                }
            }
        }
    }
}
