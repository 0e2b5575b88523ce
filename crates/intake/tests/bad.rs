//! A folder of bad documents, one a file, named for what is wrong. What is printed for each is kept beside it, so that a
//! person can read all messages from top to bottom and a change of one is seen.
//!
//! After a change that is meant: `WITNESSMARK_WRITE=1 cargo test -p witnessmark-intake --test bad`, and read the difference.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use std::fmt::Write as _;
use std::path::Path;

#[test]
fn every_bad_document_is_refused_with_the_message_that_is_kept() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad");
    let mut names: Vec<String> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| Path::new(name).extension().is_some_and(|ending| ending == "toml"))
        .collect();
    names.sort();
    assert!(names.len() > 20);
    let mut said = String::new();
    for name in &names {
        let problems = witnessmark_intake::file(name, &std::fs::read(folder.join(name)).unwrap())
            .expect_err(&format!("{name} is read as if nothing were wrong with it"));
        assert!(!problems.is_empty(), "{name}");
        for problem in problems {
            let text = problem.to_string();
            assert!(text.starts_with(name.as_str()), "{text}");
            let _ = writeln!(said, "{text}");
        }
    }
    let kept = folder.join("messages.txt");
    if std::env::var_os("WITNESSMARK_WRITE").is_some() {
        std::fs::write(&kept, &said).unwrap();
    }
    assert_eq!(said, std::fs::read_to_string(&kept).unwrap());
}
