//! Secrets: passwords and PINs as slow hashes, tokens and codes as fast ones, and where their randomness comes from.
//!
//! A password is guessed from a list, so its hash is made costly: Argon2id with 64 MiB, 3 passes, 4 lanes, a salt of
//! 128 bits and a tag of 256, the second recommended option of RFC 9106, section 4. The first one asks for 2 GiB, which
//! the small machine in a workshop's corner does not have. At most two hashes are worked out at a time, so that a flood
//! of sign-ins costs 128 MiB and not the machine.
//!
//! A token is 256 bits of the system's randomness. Nobody guesses it, so a plain SHA-256 keeps it.

use std::fmt::Write as _;
use std::sync::LazyLock;

use argon2::password_hash::phc::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};
use argon2::{Algorithm, Argon2, Params, Version};
use sha2::{Digest, Sha256};
use tokio::sync::Semaphore;

use crate::StoreError;

/// Memory in KiB, passes, lanes.
const COST: (u32, u32, u32) = (64 * 1024, 3, 4);
/// How many are worked out at a time.
static TURNS: Semaphore = Semaphore::const_new(2);
/// A hash of nothing anybody could type, for names that nobody has: finding out that a name is unknown takes as long as
/// finding out that its password is wrong.
static DECOY: LazyLock<Option<String>> = LazyLock::new(|| hashed(&draw_token().ok()?).ok());

/// The slow hash of a password or a PIN, as a line that names its own salt and cost.
pub(crate) async fn slow_hash(secret: &str) -> Result<String, StoreError> {
    let secret = secret.to_owned();
    in_turn(move || hashed(&secret)).await?
}

/// Whether a secret is the one behind a hash. Without a hash it is not, and that takes as long.
pub(crate) async fn fits(secret: &str, hash: Option<String>) -> Result<bool, StoreError> {
    let secret = secret.to_owned();
    in_turn(move || {
        let there = hash.is_some();
        // Made at the first sign-in of all, whoever it is: made when it is needed, it would tell that it was.
        let decoy = LazyLock::force(&DECOY).clone();
        let Some(hash) = hash.or(decoy) else { return Err(StoreError::NoRandomness) };
        let read = PasswordHash::new(&hash).map_err(|_| StoreError::Damaged {
            problems: vec!["A person’s password is kept in no form this program knows.".into()],
        })?;
        // The comparison takes the same time wherever the first difference is: the library sees to it.
        let same = argon2().and_then(|argon2| argon2.verify_password(secret.as_bytes(), &read).ok()).is_some();
        Ok(there && same)
    })
    .await?
}

/// A new token: 256 bits in 64 letters.
pub(crate) fn draw_token() -> Result<String, StoreError> {
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes).map_err(|_| StoreError::NoRandomness)?;
    Ok(hex(&bytes))
}

/// A new code of six digits, each as likely as the next.
pub(crate) fn draw_code() -> Result<String, StoreError> {
    // The largest multiple of a million that fits: what lies above would make small codes likelier.
    const FAIR: u32 = u32::MAX - u32::MAX % 1_000_000;
    loop {
        let mut bytes = [0; 4];
        getrandom::fill(&mut bytes).map_err(|_| StoreError::NoRandomness)?;
        let number = u32::from_le_bytes(bytes);
        // Ends: each draw passes with a chance above 0.999.
        if number < FAIR {
            return Ok(format!("{:06}", number % 1_000_000));
        }
    }
}

/// SHA-256 in 64 letters.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    hex(Sha256::digest(bytes).as_slice())
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

fn argon2() -> Option<Argon2<'static>> {
    let (memory_kib, passes, lanes) = COST;
    let params = Params::new(memory_kib, passes, lanes, Some(32)).ok()?;
    Some(Argon2::new(Algorithm::Argon2id, Version::V0x13, params))
}

fn hashed(secret: &str) -> Result<String, StoreError> {
    let argon2 = argon2().ok_or(StoreError::NoRandomness)?;
    let hash = argon2.hash_password(secret.as_bytes()).map_err(|_| StoreError::NoRandomness)?;
    Ok(hash.to_string())
}

/// Works something costly out on a thread that may be busy, when its turn comes.
async fn in_turn<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Result<T, StoreError> {
    // The line is never closed, so there is always a turn.
    let turn = TURNS.acquire().await;
    let done = tokio::task::spawn_blocking(work).await;
    drop(turn);
    done.map_err(|_| StoreError::NoRandomness)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;

    #[tokio::test]
    async fn a_password_fits_its_own_hash_and_no_other() {
        let hash = slow_hash("a gate of oak").await.unwrap();
        assert!(hash.starts_with("$argon2id$v=19$m=65536,t=3,p=4$"), "{hash}");
        assert!(fits("a gate of oak", Some(hash.clone())).await.unwrap());
        assert!(!fits("a gate of elm", Some(hash)).await.unwrap());
        assert!(!fits("a gate of oak", None).await.unwrap());
    }

    /// FIPS 180-4's example, the digest of "abc" (from memory, and the same in every table).
    #[test]
    fn the_fast_hash_is_the_published_one() {
        assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn codes_have_six_digits_and_differ() {
        let codes: std::collections::BTreeSet<String> = (0..50).map(|_| draw_code().unwrap()).collect();
        assert!(codes.iter().all(|code| code.len() == 6 && code.bytes().all(|digit| digit.is_ascii_digit())));
        assert!(codes.len() > 40, "{codes:?}");
    }
}
