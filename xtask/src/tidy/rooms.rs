//! The rooms inside `core`: each knows only the rooms below it, so that data goes one way, from document to plan.
//!
//! Read are the lines of code that name `crate::room` (or reach it by `super`), tests at the end of a file aside: a
//! test may build a whole document.

use super::Complaint;
use super::tree::{File, line_at};

/// The rooms from the ground up. A room knows those of earlier lines; rooms of one line do not know each other.
const ORDER: &[&[&str]] = &[
    &["field"],
    &["number"],
    &["part", "rulebook"],
    &["catalogue"],
    &["build"],
    &["model"],
    &["finding"],
    &["compute"],
    &["survey"],
    &["held"],
    &["check", "draw"],
    &["plan"],
    &["search"],
    &["carry", "compare", "stand", "service"],
];

const CORE: &str = "crates/core/src/";

/// Holds every file of core against the order.
pub(super) fn check(files: &[File]) -> Vec<Complaint> {
    let mut complaints = Vec::new();
    for file in files.iter().filter(|file| file.is_rust()) {
        let Some(inside) = file.path.strip_prefix(CORE) else {
            continue;
        };
        let is_test = inside.contains("/tests/") || inside.ends_with("/tests.rs");
        if inside == "lib.rs" || is_test {
            continue;
        }
        let room = inside.split(['/', '.']).next().unwrap_or_default();
        let mut complain = |line, says| {
            complaints.push(Complaint { path: file.path.clone(), line, says });
        };
        let Some(floor) = floor_of(room) else {
            complain(0, format!("the room {room} has no place in the table of xtask/src/tidy/rooms.rs"));
            continue;
        };
        for Reference { name, line } in references(&file.code(), depth(inside)) {
            match floor_of(&name) {
                Some(other) if name != room && other == floor => {
                    complain(line, format!("{room} and {name} do not know each other"));
                }
                Some(other) if other > floor => {
                    complain(
                        line,
                        format!("{room} may not know {name}, which stands above it: arrows point down only"),
                    );
                }
                None if name.starts_with(char::is_uppercase) => {
                    complain(line, format!("write crate::<room>::{name}, so that the arrow can be seen"));
                }
                // An arrow downwards; or a macro, which belongs to no room.
                Some(_) | None => {}
            }
        }
    }
    complaints
}

fn floor_of(room: &str) -> Option<usize> {
    ORDER.iter().position(|floor| floor.contains(&room))
}

/// How many `super::` lead from a file to the front of the crate.
fn depth(inside: &str) -> usize {
    let folders = inside.matches('/').count();
    if inside.ends_with("/mod.rs") { folders } else { folders + 1 }
}

#[derive(Debug, PartialEq, Eq)]
struct Reference {
    name: String,
    line: usize,
}

/// The names that stand right behind `crate::`, or behind as many `super::` as mean the same.
fn references(code: &str, depth: usize) -> Vec<Reference> {
    let mut found = Vec::new();
    for front in ["crate::".to_owned(), "super::".repeat(depth)] {
        for (at, _) in code.match_indices(&front) {
            let is_part_of_a_word = code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_');
            if is_part_of_a_word {
                continue;
            }
            let line = line_at(code, at);
            let names = first_names(&code[at + front.len()..]);
            found.extend(names.into_iter().map(|name| Reference { name, line }));
        }
    }
    found
}

/// `part` of `part::Stem`; `part` and `number` of `{part::{Stem, Bar}, number}`.
fn first_names(path: &str) -> Vec<String> {
    let path = path.trim_start();
    let Some(group) = path.strip_prefix('{') else {
        let name: String = path.chars().take_while(|&c| c.is_alphanumeric() || c == '_').collect();
        return if name.is_empty() { Vec::new() } else { vec![name] };
    };
    let mut names = Vec::new();
    let mut open = 0_usize;
    let mut start = 0;
    for (at, c) in group.char_indices() {
        match c {
            '{' => open += 1,
            '}' if open > 0 => open -= 1,
            ',' | '}' if open == 0 => {
                names.extend(first_names(&group[start..at]));
                start = at + 1;
                if c == '}' {
                    break;
                }
            }
            _ => {}
        }
    }
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    fn complaints(inside: &str, text: &str) -> Vec<String> {
        check(&[File::new(&format!("{CORE}{inside}"), text)]).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_room_may_know_itself_and_those_below() {
        let text = "use crate::part::Stem;\nuse crate::{build::Build, model};\nuse crate::record;\nfn f() { crate::number::all() }\n";
        assert!(complaints("model.rs", text).is_empty());
    }

    #[test]
    fn an_arrow_upwards_is_found_with_its_line() {
        assert_eq!(
            complaints("part/stem.rs", "//! A stem.\n\nuse crate::plan::Plan;\n"),
            ["crates/core/src/part/stem.rs:3: part may not know plan, which stands above it: arrows point down only"]
        );
    }

    #[test]
    fn an_arrow_upwards_does_not_hide() {
        for text in [
            "use crate::{\n    field::Field,\n    number::{Number, Area},\n    plan::Plan,\n};\n",
            "fn f() -> crate::plan::Plan { todo() }\n",
            "pub(in crate::plan) fn f() {}\n",
            "macro_rules! m { () => { $crate::plan::plan() } }\n",
            "use super::super::plan::Plan;\n",
        ] {
            assert_eq!(complaints("part/stem.rs", text).len(), 1, "{text}");
        }
        assert_eq!(complaints("part/mod.rs", "use super::plan::Plan;\n").len(), 1);
        assert_eq!(complaints("model.rs", "use super::plan::Plan;\n").len(), 1);
    }

    #[test]
    fn neighbours_on_one_floor_do_not_know_each_other() {
        assert_eq!(
            complaints("draw/side.rs", "use crate::check::Check;\n"),
            ["crates/core/src/draw/side.rs:1: draw and check do not know each other"]
        );
    }

    #[test]
    fn a_name_taken_from_the_front_door_hides_its_room() {
        assert_eq!(complaints("part/stem.rs", "use crate::Build;\n").len(), 1);
        assert_eq!(complaints("part/stem.rs", "use crate::{Plan, choice};\n").len(), 1);
    }

    #[test]
    fn comments_tests_and_longer_words_are_no_arrows() {
        for text in [
            "//! See [`crate::plan`].\n",
            "fn f() {} // crate::plan\n",
            "use other_crate::plan;\n",
            "#[cfg(test)]\nmod tests {\n    use crate::plan::plan;\n}\n",
        ] {
            assert!(complaints("part/stem.rs", text).is_empty(), "{text}");
        }
        assert!(complaints("part/tests.rs", "use crate::plan::plan;\n").is_empty());
        assert!(complaints("lib.rs", "pub use crate::plan::plan;\n").is_empty(), "the front door");
        assert!(check(&[File::new("crates/web/src/page.rs", "use crate::plan;\n")]).is_empty(), "another crate");
    }

    #[test]
    fn a_new_room_asks_for_its_place() {
        assert!(complaints("attic/box.rs", "")[0].contains("attic has no place in the table"));
    }
}
