//! Every sentence that the checks say of their own examples, in one file that a person reads from top to bottom.
//!
//! When a sentence changes on purpose: `WITNESSMARK_REWRITE=1 cargo test -p witnessmark-core --test sentences`, and read
//! the difference aloud before it is committed.

#![allow(clippy::unwrap_used, reason = "a test stops at what it did not expect")]
#![allow(clippy::disallowed_methods, reason = "a snapshot lies on the disk and is rewritten on demand")]

use std::fmt::Write;
use witnessmark_core::Build;
use witnessmark_core::build::sample::sample;
use witnessmark_core::check::{self, Case, Check};
use witnessmark_core::finding::Finding;
use witnessmark_core::model::Model;
use witnessmark_core::{compute, plan};

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/sentences.txt");

#[test]
fn the_sentences_are_those_that_were_read_aloud() {
    let now = sentences();
    if std::env::var_os("WITNESSMARK_REWRITE").is_some() {
        std::fs::write(FILE, &now).unwrap();
    }
    let then = std::fs::read_to_string(FILE).unwrap_or_default();
    let differs = now.lines().zip(then.lines()).find(|(now, then)| now != then);
    assert_eq!(now, then, "first difference, now and then: {differs:#?}; see the head of this file");
}

fn sentences() -> String {
    let mut text = String::new();
    for check in check::ALL {
        writeln!(text, "{} — {}", check.id, check.title()).unwrap();
        for finding in findings_of(check, check.does_not_fit) {
            write_finding(&mut text, &finding);
        }
        for finding in check.not_known.map(|example| findings_of(check, example)).unwrap_or_default() {
            write_finding(&mut text, &finding);
        }
        text.push('\n');
    }
    text.push_str("An empty document\n");
    for finding in plan(&Build::default()).findings {
        write_finding(&mut text, &finding);
    }
    text.push_str("\nThe sample as it stands\n");
    for finding in plan(&sample()).findings {
        write_finding(&mut text, &finding);
    }
    text
}

fn write_finding(text: &mut String, finding: &Finding) {
    writeln!(text, "  {}: {}", finding.severity_word(), finding.what).unwrap();
    writeln!(text, "    {}", finding.why).unwrap();
    writeln!(text, "    → {}", finding.action).unwrap();
}

fn findings_of(check: &Check, change: fn(&mut Build)) -> Vec<Finding> {
    let mut build = sample();
    change(&mut build);
    let model = Model::new(&build);
    let worked = compute::work_out(&model);
    let numbers = compute::numbers(&model, &worked);
    check::run_one(check, &Case { model: &model, worked: &worked, numbers: &numbers })
}
