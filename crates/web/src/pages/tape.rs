//! The bar tape of a build: both sides turn by turn on the bar to scale, what it takes of the roll, and the settings that
//! decide it.

#[cfg(test)]
mod tests;

use super::chain::picture::{Paper, picture, tenth};
use super::gears::{found, lacking_in};
use super::whole::{Whole, fields};
use crate::app::App;
use crate::loaded::Loaded;
use axum::routing::MethodRouter;
use maud::{Markup, html};
use witnessmark_core::compute::{Tape, TapeSide};
use witnessmark_core::draw::{self, Drawing};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::{capital, figure};
use witnessmark_core::model::{Known, Model};
use witnessmark_core::number::Side;
use witnessmark_sheets::finish::{TAPE_CHECKS, TAPE_ROWS, piece_said};

pub(super) static WHOLE: Whole = Whole { word: "tape", title: "Bar tape", body };

/// The settings on which the winding depends, in the order in which they are thought of.
const SETTINGS: [&str; 7] = [
    "settings.tape_turns_left",
    "settings.tape_turns_right",
    "settings.tape_overlap",
    "settings.tape_stop_left",
    "settings.tape_stop_right",
    "settings.tape_at_lever",
    "settings.tape_over_lever",
];

pub(super) fn methods() -> MethodRouter<App> {
    WHOLE.methods()
}

fn body(loaded: &Loaded) -> Markup {
    let tape = &loaded.plan.worked.tape;
    html! {
        p.links {
            a href={ "/builds/" (loaded.id) "/part/parts.tape" } { "the tape itself" }
            a href={ "/builds/" (loaded.id) "/stand#step-wrap-tape-left" } { "wrap it at the stand" }
            a href={ "/builds/" (loaded.id) "/sheets/cockpit.pdf" } { "card as PDF" }
            a href={ "/builds/" (loaded.id) "/tape.json" } { "as JSON" }
        }
        (in_short(tape))
        (wound(loaded, tape))
        (found(&loaded.plan, TAPE_CHECKS, loaded))
        (figures(tape))
        section.area aria-labelledby="set-title" {
            h2 #set-title { "How it is to be wound" }
            p.quiet { "Turns go before the overlap: where turns are set, the overlap follows from them." }
            (fields(loaded, &SETTINGS))
        }
        p.quiet {
            "By the bar’s own curve and a round tube, one layer, pulled as the tape’s stretch says; a hand is good to about 5 %. "
            "Before a turn goes on: levers at their torque, hoses held down, both sides read off and photographed. The plug and its "
            "screw close the end: an open end of a bar cuts whoever falls on it."
        }
    }
}

/// How it is wound, in a sentence.
fn in_short(tape: &Tape) -> Markup {
    let side = tape.left.as_ref().or(tape.right.as_ref());
    html! {
        @match (tape.listed, side) {
            (false, _) => p.lead { "No tape is listed yet." },
            (true, Err(_)) => p.lead { "How it is wound is not known yet." },
            (true, Ok(side)) => p.lead {
                b { (figure(side.turns_to_lever, 1)) " turns" } " from the end to the lever, "
                b { (figure(side.turns_to_stop, 1)) } " on to the stop"
                @if let Some(way) = tape.passes { "; at the lever: " (way.name()) }
                ". "
                @match tape.alike() {
                    Ok(true) => { "Both sides alike." }
                    Ok(false) => { span.says.stop { "The sides differ." } " These are the " (if tape.left.is_ok() { "left" } else { "right" }) " one’s." }
                    Err(_) => { span.says.caution { "The other side is not known." } }
                }
            },
        }
    }
}

/// Each side on its bar, to one scale; where both are wound alike, one picture does for both.
fn wound(loaded: &Loaded, tape: &Tape) -> Markup {
    let model = Model::new(&loaded.build);
    let draw = |side| draw::tape(&model, &loaded.plan.worked, side);
    let drawn = [draw(Side::Left), draw(Side::Right)];
    let both: Vec<&Drawing> = drawn.iter().filter(|drawing| !drawing.marks.is_empty()).collect();
    let same = match (&tape.left, &tape.right) {
        (Ok(left), Ok(right)) => left == right,
        _ => false,
    };
    let sides = [("left", &tape.left), ("right", &tape.right)];
    html! {
        section.area aria-labelledby="wound-title" {
            h2 #wound-title { "Turn by turn" }
            div.extremes {
                @for ((word, side), drawing) in sides.iter().zip(&drawn) {
                    @match side {
                        Ok(_) if same && *word == "right" => {}
                        Ok(side) => { (one_side(if same { "both sides" } else { word }, side, drawing, &both)) }
                        Err(missing) => { div { h3 { (capital(word)) } (lacking_in(missing, loaded)) } }
                    }
                }
            }
        }
    }
}

fn one_side(word: &str, side: &TapeSide, drawing: &Drawing, both: &[&Drawing]) -> Markup {
    let says = format!(
        "The bar to scale in its own plane, its tops laid straight back: {} turns from the end to the lever, {} from there to the \
         stop, {} mm from the mount’s centre.",
        figure(side.turns_to_lever, 1),
        figure(side.turns_to_stop, 1),
        figure(side.stop_mm, 0)
    );
    html! {
        figure.to-scale.tape-drawing {
            (picture(&[drawing], &Paper { room_for: both, margin_mm: 34.0, says: &says }, &names(drawing)))
            figcaption {
                span { b { (capital(word)) } }
                span { "a stroke where each turn’s edge is seen; the band is the lever’s clamp" }
                span { "to scale, in the bar’s own plane, the tops laid straight" }
            }
        }
    }
}

/// What stands beside the places of the bar.
fn names(drawing: &Drawing) -> Markup {
    html! {
        g.places {
            @for callout in &drawing.callouts {
                @let (word, x, y, anchor) = match callout.about.split('.').next() {
                    Some("tape-turns") => ("end", -6.0, 4.0, "end"),
                    Some("lever-from-end") => ("lever", 22.0, -6.0, "start"),
                    _ => ("stop", 0.0, -20.0, "middle"),
                };
                text x=(tenth(callout.at.x_mm + x)) y=(tenth(-callout.at.y_mm + y)) text-anchor=(anchor) { (word) }
            }
        }
    }
}

/// The figures, both sides beside each other.
fn figures(tape: &Tape) -> Markup {
    let cell =
        |side: &Known<TapeSide>, pick: fn(&TapeSide) -> String| side.as_ref().map_or_else(|_| "?".to_owned(), pick);
    let piece = |side: &Known<TapeSide>| match side.as_ref().map(|side| (side.piece_mm, side.piece_from_this_roll())) {
        Ok((Some(mm), from)) => format!("{} mm; {}", figure(mm, 0), piece_said(from)),
        Ok((None, _)) => "none is wanted".to_owned(),
        Err(_) => "?".to_owned(),
    };
    let source = |side: &Known<TapeSide>| side.as_ref().map_or("?", |side| side.from.name()).to_owned();
    let measured = [&tape.left, &tape.right].iter().any(|side| side.as_ref().is_ok_and(|side| side.at_lever_measured));
    html! {
        @if tape.left.is_ok() || tape.right.is_ok() {
            section.area aria-labelledby="figures-title" {
                h2 #figures-title { "In figures" }
                table.drive-rows.two-sides {
                    thead { tr { th scope="col" { "what" } th scope="col" { "left" } th scope="col" { "right" } } }
                    tbody {
                        @for (name, pick) in TAPE_ROWS {
                            tr {
                                th scope="row" { (name) }
                                td data-label="left" { b { (cell(&tape.left, *pick)) } }
                                td data-label="right" { b { (cell(&tape.right, *pick)) } }
                            }
                        }
                        tr {
                            th scope="row" { "piece behind the lever" }
                            td.piece data-label="left" { (piece(&tape.left)) } td.piece data-label="right" { (piece(&tape.right)) }
                        }
                        tr {
                            th scope="row" { "the pitch follows from" }
                            td data-label="left" { (source(&tape.left)) } td data-label="right" { (source(&tape.right)) }
                        }
                    }
                }
                @if measured { p.quiet { "What passing the lever takes was measured in this workshop." } }
            }
        }
    }
}
