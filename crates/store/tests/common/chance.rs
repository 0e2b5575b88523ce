//! Numbers nobody chose, and the seed by which they come again.

#![allow(dead_code, reason = "each test file uses what it needs")]

use std::time::{SystemTime, UNIX_EPOCH};

/// Numbers nobody chose (splitmix64).
pub(crate) struct Chance(u64);

impl Chance {
    /// From `WITNESSMARK_SEED`, or from the clock; says which, so that a failure can be looked at again.
    pub(crate) fn told() -> Self {
        let seed = if let Ok(number) = std::env::var("WITNESSMARK_SEED") {
            number.parse().expect("WITNESSMARK_SEED is a number")
        } else {
            let now = SystemTime::now().duration_since(UNIX_EPOCH).expect("after 1970");
            u64::from(now.subsec_nanos())
        };
        println!("WITNESSMARK_SEED={seed}");
        Self(seed)
    }

    /// Numbers of their own for somebody who works beside others.
    pub(crate) fn from(seed: u64) -> Self {
        Self(seed)
    }

    pub(crate) fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) % end
    }
}
