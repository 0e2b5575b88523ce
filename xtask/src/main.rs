//! The project's own chores: `cargo xtask test`, `tidy`, `supply`, `advisories`, `bench`, `kills`, `reference`.

mod advisories;
mod bench;
mod kills;
mod reference;
mod shell;
mod supply;
mod test;
mod tidy;
mod tools;

use std::process::ExitCode;

const HELP: &str = "\
cargo xtask <chore>

  test                  everything that must pass: tools, format, lints, tidy, tests, reference values
  tidy                  the walls of the house: who may know whom, paths, words, lengths
  supply                licences of every package, where it comes from, and whether a hole in it is known
  advisories FOLDER     write the known holes anew, from a checkout of the public database of them
  bench [NAME]          how long the work takes
  kills                 the long run: a thousand kills of the store, and of the program on a file and on a server
  reference [--check]   compute the reference values again; with --check only compare them";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = shell::root().and_then(|root| match arguments[..] {
        ["test"] => test::run(&root),
        ["tidy"] => tidy::run(&root),
        ["supply"] => supply::run(&root),
        ["advisories", database] => advisories::renew(&root, std::path::Path::new(database)),
        ["bench"] => bench::run(&root, None),
        ["bench", name] => bench::run(&root, Some(name)),
        ["kills"] => kills::run(&root),
        ["reference"] => reference::run(&root, reference::Mode::Rewrite),
        ["reference", "--check"] => reference::run(&root, reference::Mode::Check),
        [] | ["help" | "--help" | "-h"] => {
            println!("{HELP}");
            Ok(())
        }
        _ => Err(format!("“{}” is no chore of this house\n\n{HELP}", arguments.join(" "))),
    });
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("\n{why}");
            ExitCode::FAILURE
        }
    }
}
