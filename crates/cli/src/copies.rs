//! Copies by the clock: `serve --copies FOLDER --every 1d --keep 14`.
//!
//! A copy's name is when it was made, so the folder alone says when the last one was and which are the oldest. An old copy
//! goes only after a new one has been made and read back. When the clock is set back, the newest copy seems to come from
//! the future; then the time since this program's last one counts, and one is made when it starts.

use crate::backup::now_ms;
use crate::print;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use witnessmark_store::{Store, StoreError};

/// How a copy's name begins and ends; the time stands between.
const NAME: (&str, &str) = ("workshop-", ".copy");
const TIME: &str = "%Y%m%d-%H%M%S";
/// How long after a copy that could not be made it is tried again.
const AGAIN: Duration = Duration::from_mins(15);

/// Which copies are made while it serves.
#[derive(clap::Args)]
pub(crate) struct ByTheClock {
    /// A folder for copies of the whole workshop, best on another disk
    #[arg(long = "copies", value_name = "FOLDER")]
    folder: Option<PathBuf>,
    /// How often one is made: 1d, 12h, 30m
    #[arg(long, value_name = "TIME", default_value = "1d", requires = "folder", value_parser = every)]
    every: Duration,
    /// How many are kept
    #[arg(long, value_name = "COUNT", default_value_t = 14, requires = "folder", value_parser = clap::value_parser!(u32).range(1..))]
    keep: u32,
}

/// Makes copies of a workshop for as long as it is served. Ends at once where no folder was named.
pub(crate) async fn made(store: Store, args: ByTheClock) {
    let ByTheClock { folder: Some(folder), every, keep } = args else { return };
    // Where the clock in the names says nothing of use, the time since this program's own last copy does.
    let mut next = Instant::now();
    loop {
        let wait = match due_in(&folder, every, now_ms()) {
            Ok(Due::In(wait)) => Ok(wait),
            Ok(Due::FromTheFuture) => Ok(next.saturating_duration_since(Instant::now())),
            Err(why) => Err(why),
        };
        let made = match wait {
            Ok(Duration::ZERO) => one(&store, &folder, keep, now_ms()).await.map(|()| {
                next = Instant::now() + every;
                Duration::ZERO
            }),
            other => other,
        };
        let wait = made.unwrap_or_else(|why| {
            print::complain(&format!("no copy was made: {why}"));
            AGAIN.min(every)
        });
        // Short sleeps, so that a machine that slept or a clock that was set does not put the next one off.
        tokio::time::sleep(wait.min(Duration::from_mins(1))).await;
    }
}

/// When the next copy is due.
#[derive(Debug, PartialEq, Eq)]
enum Due {
    /// After so long, by the clock.
    In(Duration),
    /// The newest copy seems to be made later than now: the clock was set back.
    FromTheFuture,
}

/// One copy more, and the oldest ones away.
async fn one(store: &Store, folder: &Path, keep: u32, now_ms: i64) -> Result<(), String> {
    let time = jiff::Timestamp::from_millisecond(now_ms).map_err(|error| error.to_string())?;
    let file = folder.join(format!("{}{}{}", NAME.0, time.strftime(TIME), NAME.1));
    match store.backup(&file, now_ms).await {
        // Another server of the same workshop made this second's.
        Err(StoreError::Taken { .. }) => tokio::time::sleep(Duration::from_secs(1)).await,
        made => {
            made.map_err(|error| error.to_string())?;
        }
    }
    let mut copies = copies(folder)?;
    let extra = copies.len().saturating_sub(keep as usize);
    for (_, old) in copies.drain(..extra) {
        // The one that was just made is never among those that go, whatever the clock says.
        if old != file {
            std::fs::remove_file(&old).map_err(|error| format!("{}: {error}", old.display()))?;
        }
    }
    Ok(())
}

/// When the next one is due, by the names in the folder.
fn due_in(folder: &Path, every: Duration, now_ms: i64) -> Result<Due, String> {
    let Some((newest_ms, _)) = copies(folder)?.pop() else { return Ok(Due::In(Duration::ZERO)) };
    Ok(match u64::try_from(now_ms - newest_ms) {
        Ok(age_ms) => Due::In(every.saturating_sub(Duration::from_millis(age_ms))),
        Err(_) => Due::FromTheFuture,
    })
}

/// The copies in a folder and when each was made, the oldest first. Anything else in it is not ours.
fn copies(folder: &Path) -> Result<Vec<(i64, PathBuf)>, String> {
    let told = |error| format!("{}: {error}", folder.display());
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(told)? {
        let path = entry.map_err(told)?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let time = name.strip_prefix(NAME.0).and_then(|rest| rest.strip_suffix(NAME.1));
        let time = time.and_then(|time| jiff::civil::DateTime::strptime(TIME, time).ok());
        let time = time.and_then(|time| jiff::tz::Offset::UTC.to_timestamp(time).ok());
        if let Some(time) = time {
            found.push((time.as_millisecond(), path));
        }
    }
    found.sort();
    Ok(found)
}

/// A time as people write it.
fn every(text: &str) -> Result<Duration, String> {
    let wrong = || "a number and d, h or m, such as 1d, 12h, 30m".to_owned();
    let number = text.trim_end_matches(|letter: char| letter.is_ascii_alphabetic());
    let unit = match &text[number.len()..] {
        "d" => 24 * 60 * 60,
        "h" => 60 * 60,
        "m" => 60,
        _ => return Err(wrong()),
    };
    let count: u64 = number.parse().map_err(|_| wrong())?;
    // Ten years are as good as never.
    (1..=3650 * 24 * 60).contains(&count).then(|| Duration::from_secs(count * unit)).ok_or_else(wrong)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

    use super::*;

    #[test]
    fn a_time_is_a_number_and_a_letter() {
        assert_eq!(every("1d"), Ok(Duration::from_hours(24)));
        assert_eq!(every("30m"), Ok(Duration::from_mins(30)));
        for wrong in ["", "d", "1", "0d", "-1d", "1w", "1 d", "99999999999999999999d"] {
            assert!(every(wrong).is_err(), "{wrong}");
        }
    }

    #[tokio::test]
    async fn the_oldest_copies_go_and_nothing_else_and_a_clock_set_back_is_noticed() {
        const HOUR_MS: i64 = 60 * 60 * 1000;
        let folder = std::env::temp_dir().join(format!("copies-by-the-clock-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join("workshop-notes.copy"), "mine").unwrap();
        let store = Store::open_in_memory().await.unwrap();
        let start = 1_900_000_000_000;
        assert_eq!(due_in(&folder, Duration::from_hours(1), start), Ok(Due::In(Duration::ZERO)));
        for hour in 0..5 {
            one(&store, &folder, 3, start + hour * HOUR_MS).await.unwrap();
        }
        let times = || copies(&folder).unwrap().into_iter().map(|(ms, _)| (ms - start) / HOUR_MS).collect::<Vec<_>>();
        assert_eq!(times(), [2, 3, 4]);
        let now = start + 4 * HOUR_MS;
        assert_eq!(due_in(&folder, Duration::from_hours(1), now + HOUR_MS / 2), Ok(Due::In(Duration::from_mins(30))));
        assert_eq!(due_in(&folder, Duration::from_hours(1), now + HOUR_MS), Ok(Due::In(Duration::ZERO)));
        // Set back by ten hours: the newest comes from the future. A copy is made, and stays although it seems the oldest.
        let back = now - 10 * HOUR_MS;
        assert_eq!(due_in(&folder, Duration::from_hours(1), back), Ok(Due::FromTheFuture));
        one(&store, &folder, 3, back).await.unwrap();
        assert_eq!(times(), [-6, 2, 3, 4]);
        assert!(folder.join("workshop-notes.copy").exists());
        store.close().await;
        std::fs::remove_dir_all(&folder).unwrap();
    }
}
