//! Search as you type over 100 000 invented parts: every letter of each query is a search, as it is on the page.
//!
//! Run by `cargo xtask bench`.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark stops where it fails, prints what it measured, and has a clock"
)]

use std::collections::BTreeMap;
use std::time::{Duration, Instant};
use witnessmark_core::catalogue::{Index, sample::invented};

const PARTS: usize = 100_000;
const SHOWN: usize = 20;
const ROUNDS: usize = 5;

/// What people type: short and long, words, figures and slips.
const QUERIES: &[&str] = &[
    "stem 110 -6",
    "carbon bar 42",
    "28-622 tubeless",
    "rowan saddle 145",
    "maker",
    "bottom bracket 24",
    "a",
    "1 2 3 4 5",
    "casette 11 30",
    "sadlde heron",
    "front derailleur",
    "qzzzxx",
    "aluminium steel titanium",
    "rotor 160 six bolts",
];

fn main() {
    let parts = invented(PARTS);
    let start = Instant::now();
    let index = Index::new(&parts);
    println!("{} parts made ready in {:.0} ms", index.len(), ms(start.elapsed()));

    let mut best: BTreeMap<&str, (Duration, usize)> = BTreeMap::new();
    let mut every: Vec<Duration> = Vec::new();
    for _ in 0..ROUNDS {
        for query in QUERIES {
            for end in query.char_indices().map(|(at, sign)| at + sign.len_utf8()) {
                let start = Instant::now();
                let found = index.find(&query[..end], SHOWN);
                let took = start.elapsed();
                every.push(took);
                let kept = best.entry(&query[..end]).or_insert((took, found.all));
                kept.0 = kept.0.min(took);
            }
        }
    }
    every.sort();
    let mut all: Vec<(Duration, &str, usize)> =
        best.into_iter().map(|(query, (took, found))| (took, query, found)).collect();
    all.sort();
    println!("{} searches, one a letter, the best {SHOWN} parts of each; the quickest of {ROUNDS} rounds:", all.len());
    let at = |share: f64| {
        #[allow(
            clippy::cast_precision_loss,
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a place in a list of some thousands"
        )]
        let place = ((all.len() - 1) as f64 * share) as usize;
        all[place]
    };
    for (name, share) in [("p50", 0.5), ("p90", 0.9), ("p99", 0.99), ("most", 1.0)] {
        let (took, query, found) = at(share);
        println!("{:>8.2} ms  {name:<5} («{query}», {found} found)", ms(took));
    }
    let slow = every.iter().filter(|took| took.as_millis() >= 20).count();
    println!(
        "{:>8.2} ms  most of all {} of all rounds, {slow} of them 20 ms or more",
        ms(every[every.len() - 1]),
        every.len()
    );
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}
