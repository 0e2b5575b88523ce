//! How often somebody may guess: after a few misses each further one has to wait, twice as long each time.
//!
//! Counted are misses for one name and misses from one address, each in a count of its own. A guess is counted before it
//! is judged, so that a hundred sent at once are a hundred. What is counted is forgotten after a quiet hour, and there is
//! room for a few thousand counts: whoever fills it pushes the oldest out. It lives in memory: a program that is started
//! anew begins anew, and so does a second one on the same database.

use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::{Mutex, PoisonError};

/// Guesses at one name before waiting begins: a person who mistypes is no attack.
const FREE_OF_NAME: u32 = 5;
/// Guesses from one address: a few people may share it.
const FREE_OF_ADDRESS: u32 = 20;
/// The first wait; each next one is twice as long, up to the longest.
const FIRST_MS: i64 = 20_000;
/// The longest wait. It also bounds how long an attack can keep the right person from signing in.
const LONGEST_MS: i64 = 15 * 60_000;
/// After so long without a guess a count is forgotten.
const FORGOTTEN_MS: i64 = 60 * 60_000;
/// How many counts there is room for.
const ROOM: usize = 4_096;
/// The longest part of a name that is looked at.
const LONGEST_KEY: usize = 80;

/// What a guess is counted against.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Counted {
    key: String,
    free: u32,
}

/// A guess at a name: of a kind, such as a password or a PIN.
pub(crate) fn at_name(kind: &str, name: &str) -> Counted {
    let name: String = name.trim().to_lowercase().chars().take(LONGEST_KEY).collect();
    Counted { key: format!("{kind} {name}"), free: FREE_OF_NAME }
}

/// A guess from an address. Of the newer addresses the front half counts: the rest is anybody's to choose.
pub(crate) fn from_address(address: Option<IpAddr>) -> Counted {
    let key = match address {
        Some(IpAddr::V6(v6)) if v6.to_ipv4_mapped().is_none() => {
            let [a, b, c, d, ..] = v6.segments();
            format!("from {a:x}:{b:x}:{c:x}:{d:x}")
        }
        Some(IpAddr::V6(v6)) => format!("from {}", v6.to_canonical()),
        Some(address) => format!("from {address}"),
        None => "from nowhere".to_owned(),
    };
    Counted { key, free: FREE_OF_ADDRESS }
}

#[derive(Clone, Copy, Debug)]
struct Count {
    misses: u32,
    last_ms: i64,
}

/// All counts.
#[derive(Debug, Default)]
pub(crate) struct Tries(Mutex<BTreeMap<String, Count>>);

impl Tries {
    /// Counts a guess and lets it be made, or says how many milliseconds it has to wait; then it is not counted.
    pub(crate) fn begin(&self, counted: &[Counted], now_ms: i64) -> Result<(), i64> {
        let mut counts = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let waits = counted.iter().filter_map(|one| Some(counts.get(&one.key)?.wait_ms(one.free, now_ms)));
        let wait = waits.max().unwrap_or(0);
        if wait > 0 {
            return Err(wait);
        }
        for one in counted {
            if counts.len() >= ROOM && !counts.contains_key(&one.key) {
                make_room(&mut counts, now_ms);
            }
            let count = counts.entry(one.key.clone()).or_insert(Count { misses: 0, last_ms: now_ms });
            if count.is_over(now_ms) {
                count.misses = 0;
            }
            count.misses = count.misses.saturating_add(1);
            count.last_ms = now_ms;
        }
        Ok(())
    }

    /// The guess was right: it and the misses before it are no longer held against the name. Against the address only the
    /// guess itself is not: else one good password would buy twenty guesses at another's.
    pub(crate) fn was_right(&self, name: &Counted, address: &Counted) {
        let mut counts = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        counts.remove(&name.key);
        if let Some(count) = counts.get_mut(&address.key) {
            count.misses = count.misses.saturating_sub(1);
        }
    }
}

impl Count {
    fn is_over(&self, now_ms: i64) -> bool {
        self.last_ms + FORGOTTEN_MS <= now_ms
    }

    fn wait_ms(&self, free: u32, now_ms: i64) -> i64 {
        if self.misses < free || self.is_over(now_ms) {
            return 0;
        }
        let doublings = (self.misses - free).min(20);
        let wait = (FIRST_MS << doublings).min(LONGEST_MS);
        // A clock that was set back makes nobody wait longer than the wait itself.
        (self.last_ms + wait - now_ms).clamp(0, wait)
    }
}

/// Forgets what is over; where that is nothing, the oldest half: one that fills the room pays for sorting it only seldom.
fn make_room(counts: &mut BTreeMap<String, Count>, now_ms: i64) {
    counts.retain(|_, count| !count.is_over(now_ms));
    if counts.len() >= ROOM {
        let mut ages: Vec<i64> = counts.values().map(|count| count.last_ms).collect();
        ages.sort_unstable();
        let middle = ages[ages.len() / 2];
        counts.retain(|_, count| count.last_ms > middle);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn five_guesses_are_free_and_then_each_waits_twice_as_long() {
        let tries = Tries::default();
        let anna = [at_name("password", "Anna")];
        for _ in 0..5 {
            assert_eq!(tries.begin(&anna, 0), Ok(()));
        }
        assert_eq!(tries.begin(&anna, 0), Err(20_000));
        assert_eq!(tries.begin(&anna, 500), Err(19_500), "waiting in vain makes the wait no longer");
        assert_eq!(tries.begin(&anna, 20_000), Ok(()));
        assert_eq!(tries.begin(&anna, 20_000), Err(40_000));
        let mut now = 20_000;
        for _ in 0..20 {
            now += tries.begin(&anna, now).err().unwrap_or(0);
            assert_eq!(tries.begin(&anna, now), Ok(()));
        }
        assert_eq!(tries.begin(&anna, now), Err(LONGEST_MS), "and never longer than that");
        assert_eq!(tries.begin(&[at_name("password", " ANNA ")], now), Err(LONGEST_MS), "however it is written");
        assert_eq!(tries.begin(&[at_name("password", "Ben")], now), Ok(()));
        assert_eq!(tries.begin(&anna, now + FORGOTTEN_MS), Ok(()));
    }

    #[test]
    fn the_right_password_clears_the_name_and_not_the_address() {
        let tries = Tries::default();
        let (anna, here) = (at_name("password", "Anna"), from_address("192.168.1.9".parse().ok()));
        for guess in 0..19 {
            let other = at_name("password", &format!("name {guess}"));
            assert_eq!(tries.begin(&[other, here.clone()], 0), Ok(()));
        }
        assert_eq!(tries.begin(&[anna.clone(), here.clone()], 0), Ok(()));
        tries.was_right(&anna, &here);
        assert_eq!(tries.begin(&[at_name("password", "Ben"), here.clone()], 0), Ok(()), "the twentieth miss");
        assert!(tries.begin(&[anna, here], 0).is_err());
    }

    #[test]
    fn one_network_of_new_addresses_is_one_address() {
        let from = |text: &str| from_address(text.parse().ok());
        assert_eq!(from("2001:db8:1:2::1"), from("2001:db8:1:2:ffff::9"));
        assert_ne!(from("2001:db8:1:2::1"), from("2001:db8:1:3::1"));
        assert_eq!(from("::ffff:192.168.1.9"), from("192.168.1.9"));
    }

    #[test]
    fn a_flood_of_names_takes_no_more_room_than_there_is() {
        let tries = Tries::default();
        for number in 0..3 * i64::try_from(ROOM).unwrap_or(0) {
            let _ = tries.begin(&[at_name("password", &format!("name {number}"))], number);
        }
        assert!(tries.0.lock().is_ok_and(|counts| counts.len() <= ROOM));
    }

    #[test]
    fn a_clock_set_back_locks_nobody_out_for_longer_than_the_wait() {
        let tries = Tries::default();
        let anna = [at_name("password", "Anna")];
        for _ in 0..5 {
            let _ = tries.begin(&anna, 1_000_000_000);
        }
        assert_eq!(tries.begin(&anna, 0), Err(20_000));
    }
}
