//! Search as you type over 100 000 invented parts: every letter of each query is a search, as it is on the page.
//!
//! Run by `cargo xtask bench`.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark stops where it fails, prints what it measured, and has a clock"
)]

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
    let start = Clock::now();
    let index = Index::new(&parts);
    let (wall, own) = start.took();
    println!("{} parts made ready in {:.0} ms ({:.0} ms of it computing)", index.len(), ms(wall), ms(own));

    let mut all: Vec<(Duration, Duration, &str, usize)> = Vec::new();
    for _ in 0..ROUNDS {
        for query in QUERIES {
            for (end, _) in query.char_indices().map(|(at, sign)| (at + sign.len_utf8(), sign)) {
                let start = Clock::now();
                let found = index.find(&query[..end], SHOWN);
                let (wall, own) = start.took();
                all.push((own, wall, &query[..end], found.all));
            }
        }
    }
    all.sort_by_key(|(own, ..)| *own);
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
    println!(
        "{} searches, one a letter, the best {SHOWN} of each; computing, and with what else the machine did:",
        all.len()
    );
    for (name, share) in [("p50", 0.5), ("p90", 0.9), ("p99", 0.99), ("most", 1.0)] {
        let (own, wall, query, found) = at(share);
        println!("{:>8.2} ms {:>8.2} ms  {name:<5} («{query}», {found} found)", ms(own), ms(wall));
    }
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}

/// The clock on the wall, and the time this thread computed: on a machine that does other work too they differ. Where the
/// system does not tell, both are the clock's.
struct Clock(Instant, Option<Duration>);

impl Clock {
    fn now() -> Self {
        Clock(Instant::now(), computed())
    }

    fn took(&self) -> (Duration, Duration) {
        let wall = self.0.elapsed();
        let own = self.1.and_then(|before| Some(computed()?.saturating_sub(before)));
        (wall, own.unwrap_or(wall))
    }
}

fn computed() -> Option<Duration> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    Some(Duration::from_nanos(told.split_whitespace().next()?.parse().ok()?))
}
