//! Each sheet of a finished bike: the same bytes each time, sound on both papers, its words found in it by another program.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a sheet that cannot be made is to stop the test")]

use super::*;
use std::io::Write as _;
use std::process::{Command, Stdio};
use witnessmark_core::build::sample::sample;
use witnessmark_core::plan;

const PAPERS: [Paper; 2] = [Paper::A4, Paper::Letter];

fn made(kind: Kind, build: &Build, paper: Paper) -> Vec<u8> {
    let record = Some(Record { address: "http://bench.example/builds/7k3m9x2a", revision: Some(41) });
    pdf(kind, &Subject { build, plan: &plan(build), record }, paper).unwrap()
}

/// What another program makes of a PDF: `pdftotext`, `pdfinfo`.
fn poppler(program: &str, arguments: &[&str], pdf: &[u8]) -> String {
    let mut child = Command::new(program)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap_or_else(|error| panic!("{program}: {error}"));
    child.stdin.take().unwrap().write_all(pdf).unwrap();
    let output = child.wait_with_output().unwrap();
    // Of an entry that the standard has as a truth value, it expects another kind; everything else is a complaint.
    const KNOWN: &str = "Suspects object is wrong type (boolean)";
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    let complaints: Vec<&str> = told.lines().filter(|line| !line.contains(KNOWN)).collect();
    assert!(output.status.success() && complaints.is_empty(), "{program}: {complaints:?}");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn text_of(pdf: &[u8]) -> String {
    poppler("pdftotext", &["-layout", "-", "-"], pdf)
}

#[test]
fn the_same_build_gives_the_same_bytes() {
    for kind in Kind::ALL {
        for paper in PAPERS {
            assert!(made(*kind, &sample(), paper) == made(*kind, &sample(), paper), "{kind:?} on {paper:?}");
        }
    }
}

#[test]
fn another_program_opens_every_sheet_and_finds_title_language_size_and_structure() {
    for kind in Kind::ALL {
        for (paper, size) in [(Paper::A4, "595.276 x 841.89"), (Paper::Letter, "612 x 792")] {
            let told = poppler("pdfinfo", &["-"], &made(*kind, &sample(), paper));
            for wanted in [kind.title(), "Tagged:          yes", size] {
                assert!(told.contains(wanted), "{kind:?} on {paper:?}: no “{wanted}” in\n{told}");
            }
        }
    }
}
