//! At the terminal: the `witnessmark` binary, one file a command.
//!
//! Exit status: 0 when nothing stops the work, 1 when a finding does, 2 when the input cannot be used.

// What stands above an argument is its help, read in a terminal: marks for a browser would be read as marks.
#![allow(clippy::doc_markdown, rustdoc::bare_urls, reason = "the words are the help text")]

mod backup;
mod carry;
mod chain;
mod check_file;
mod checks;
mod clock;
mod compare;
mod complete;
mod copies;
mod demo;
mod due;
mod export;
mod fasteners;
mod fitting;
mod gears;
mod input;
mod mass;
mod r#move;
mod offer;
mod parts;
mod people;
mod person;
mod plan;
mod print;
mod reach;
mod restore;
mod schema;
mod serve;
mod service;
mod sheet;
mod show;
mod stand;
mod survey;
mod tape;
mod tyres;
mod view;
mod wiring;

use clap::{Parser, Subcommand};
use std::path::PathBuf;
use std::process::ExitCode;

/// Race bikes built to a measured position: every number asked, planned and measured.
#[derive(Parser)]
#[command(name = "witnessmark", version, about, max_term_width = 80, disable_help_subcommand = true)]
struct Command {
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand)]
enum What {
    /// Work a build document out: numbers, findings, verdict
    Plan(view::Args),
    /// Search backwards: every combination of parts and settings that reaches the asked position
    Reach(reach::Args),
    /// Take the position from a real bike: readings that do not quite agree, with an honest plus-minus
    Survey(view::Args),
    /// Put the position of one bike onto another: what settings reach it, what cannot be kept
    Carry(carry::Args),
    /// Hold bikes side by side, or one bike at two dates
    Compare(compare::Args),
    /// Judge parts for a place of the bike: which fit their neighbours, which do not and why, which cannot be judged
    Fitting(fitting::Args),
    /// Choose the best parts for the places that are open, within a budget and a mass
    Complete(complete::Args),
    /// What each gear does, on a rule and in figures
    Gears(view::Args),
    /// How long the chain is, and where the cage stands in every gear
    Chain(view::Args),
    /// The shift wires: ports, ways, lengths, what to buy
    Wiring(view::Args),
    /// Every bolt: how hard, by whose limit, what that pulls, what was done
    Fasteners(view::Args),
    /// The work at the stand: steps in order, what each one hits, what holds its gate
    Stand(view::Args),
    /// The bar tape of both sides: turns, overlap, what it takes of the roll
    Tape(view::Args),
    /// The mass by area, on each wheel, and the scale against the list
    Mass(view::Args),
    /// Tyre pressures: limits, load, where a trial starts
    Tyres(view::Args),
    /// The service plan, also as a calendar file
    Service(service::Args),
    /// What is due across all bikes that were handed over
    Due(due::Args),
    /// Read a build document and say what is wrong with its form
    CheckFile(check_file::Args),
    /// List what is checked, how much it weighs and where it comes from
    Checks(checks::Args),
    /// The catalogue: import, export, find
    Parts(parts::Args),
    /// Print the JSON Schema of a file that comes in, for editors
    Schema(schema::Args),
    /// Make a sheet for the printer, as PDF
    Sheet(sheet::Args),
    /// Numbers, parts, bolts and findings as tables for other programs
    Export(export::Args),
    /// Make the page of a finished bike: one HTML file with what its rider agreed to show
    Show(show::Args),
    /// Copy the whole workshop into one file, while it is in use
    Backup(backup::Args),
    /// Put a copy back, into a new file or an empty database
    Restore(restore::Args),
    /// Take a whole workshop from a file to a PostgreSQL database, or back
    Move(r#move::Args),
    /// Serve the workshop's pages on this machine, or to others with a sign-in
    Serve(serve::Args),
    /// Who may sign in: add, list, remove, reset
    People(people::Args),
    /// What is kept about a rider: hand it out, erase it
    Person(person::Args),
    /// Make an invented workshop, work its builds out and serve its pages
    Demo(demo::Args),
}

/// A build document to read; `-` is standard input.
#[derive(clap::Args)]
struct FileArg {
    /// The build document, a TOML file; - reads standard input
    file: PathBuf,
}

/// How a command ended.
enum Outcome {
    /// Nothing stops the work.
    Fine,
    /// A finding stops it.
    Stopped,
    /// The input cannot be used; it has been said why.
    Unusable,
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        match outcome {
            Outcome::Fine => ExitCode::SUCCESS,
            Outcome::Stopped => ExitCode::from(1),
            Outcome::Unusable => ExitCode::from(2),
        }
    }
}

fn main() -> ExitCode {
    let outcome = match Command::parse().what {
        What::Plan(args) => plan::run(&args),
        What::Reach(args) => reach::run(&args),
        What::Survey(args) => survey::run(&args),
        What::Carry(args) => carry::run(&args),
        What::Compare(args) => compare::run(&args),
        What::Fitting(args) => fitting::run(&args),
        What::Complete(args) => complete::run(&args),
        What::Gears(args) => gears::run(&args),
        What::Chain(args) => chain::run(&args),
        What::Wiring(args) => wiring::run(&args),
        What::Fasteners(args) => fasteners::run(&args),
        What::Stand(args) => stand::run(&args),
        What::Tape(args) => tape::run(&args),
        What::Mass(args) => mass::run(&args),
        What::Tyres(args) => tyres::run(&args),
        What::Service(args) => service::run(&args),
        What::Due(args) => due::run(args),
        What::CheckFile(args) => check_file::run(&args),
        What::Checks(args) => checks::run(&args),
        What::Parts(args) => parts::run(args),
        What::Schema(args) => schema::run(&args),
        What::Sheet(args) => sheet::run(&args),
        What::Export(args) => export::run(&args),
        What::Show(args) => show::run(&args),
        What::Backup(args) => backup::run(args),
        What::Restore(args) => restore::run(args),
        What::Move(args) => r#move::run(args),
        What::Serve(args) => serve::run(args),
        What::People(args) => people::run(args),
        What::Person(args) => person::run(args),
        What::Demo(args) => demo::run(args),
    };
    outcome.into()
}
