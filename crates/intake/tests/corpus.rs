//! What the fuzzer found worth keeping, tried again: `fuzz/corpus/` holds a folder for each way in, and the functions that say
//! what must hold there are the fuzzer's own.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

#[path = "../../../fuzz/src/lib.rs"]
#[allow(unreachable_pub, reason = "it is a crate of its own for the fuzzer")]
mod fuzz;

use std::path::Path;
use std::time::{Duration, Instant};

/// No input may take longer, on a machine that is busy and without optimisation. A plan takes some hundredths of that.
const BOUND: Duration = Duration::from_secs(20);

#[test]
fn what_the_fuzzer_kept_still_holds() {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fuzz/corpus");
    for (name, holds) in fuzz::WAYS {
        let mut files: Vec<_> =
            std::fs::read_dir(corpus.join(name)).unwrap().map(|entry| entry.unwrap().path()).collect();
        files.sort();
        assert!(files.len() >= 10, "{name} has a corpus of {}", files.len());
        for file in files {
            let bytes = std::fs::read(&file).unwrap();
            println!("{}", file.display());
            let begun = Instant::now();
            holds(&bytes);
            assert!(begun.elapsed() < BOUND, "{} took {:?}", file.display(), begun.elapsed());
        }
    }
}

#[test]
fn every_way_in_takes_nothing_and_every_single_byte() {
    for (_, holds) in fuzz::WAYS {
        holds(&[]);
        for byte in 0..=u8::MAX {
            holds(&[byte]);
        }
    }
}
