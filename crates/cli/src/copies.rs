//! Copies by the clock: `serve --copies FOLDER --every 1d --keep 14`.
//!
//! The names in the folder tell when the last one was made, also before a restart. When the clock is set back, the newest
//! copy seems to come from the future; then the time since this program's own last one counts, and one is made when it
//! starts.

use crate::clock::now_ms;
use crate::print;
use std::path::PathBuf;
use std::time::{Duration, Instant};
use witnessmark_store::Store;
use witnessmark_web::CopyFolder;

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

impl ByTheClock {
    /// The folder, if one was named.
    pub(crate) fn folder(&self) -> Option<CopyFolder> {
        let keep = usize::try_from(self.keep).unwrap_or(usize::MAX);
        self.folder.clone().map(|path| CopyFolder { path, keep })
    }
}

/// Makes copies of a workshop for as long as it is served. Ends at once where no folder was named.
pub(crate) async fn made(store: Store, args: ByTheClock) {
    let Some(folder) = args.folder() else { return };
    let every = args.every;
    // Where the clock in the names says nothing of use, the time since this program's own last copy does.
    let mut next = Instant::now();
    loop {
        let wait = match due_in(&folder, every, now_ms()) {
            Ok(Due::In(wait)) => Ok(wait),
            Ok(Due::FromTheFuture) => Ok(next.saturating_duration_since(Instant::now())),
            Err(why) => Err(format!("{}: {why}", folder.path.display())),
        };
        let wait = match wait {
            Ok(Duration::ZERO) => folder.make(&store, now_ms()).await.map_err(|why| why.to_string()).map(|_| {
                next = Instant::now() + every;
                Duration::ZERO
            }),
            other => other,
        };
        let wait = wait.unwrap_or_else(|why| {
            print::complain(&format!("no copy was made: {why}"));
            AGAIN.min(every)
        });
        // A failure is waited out; else short sleeps, so that a machine that slept or a clock that was set does not put the
        // next one off.
        tokio::time::sleep(wait.clamp(Duration::from_secs(1), AGAIN)).await;
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

/// When the next one is due, by the names in the folder.
fn due_in(folder: &CopyFolder, every: Duration, now_ms: i64) -> std::io::Result<Due> {
    let Some(newest) = folder.list()?.pop() else { return Ok(Due::In(Duration::ZERO)) };
    Ok(match u64::try_from(now_ms - newest.made_at_ms) {
        Ok(age_ms) => Due::In(every.saturating_sub(Duration::from_millis(age_ms))),
        Err(_) => Due::FromTheFuture,
    })
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

    #[test]
    fn the_names_in_the_folder_tell_when_the_next_is_due_and_that_the_clock_was_set_back() {
        const HOUR_MS: i64 = 60 * 60 * 1000;
        let hour = Duration::from_hours(1);
        let path = std::env::temp_dir().join(format!("copies-by-the-clock-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).unwrap();
        let folder = CopyFolder { path: path.clone(), keep: 3 };
        assert_eq!(due_in(&folder, hour, 0).unwrap(), Due::In(Duration::ZERO));
        std::fs::write(path.join("workshop-20270314-120000.copy"), "").unwrap();
        let noon = folder.list().unwrap()[0].made_at_ms;
        assert_eq!(due_in(&folder, hour, noon + HOUR_MS / 2).unwrap(), Due::In(Duration::from_mins(30)));
        assert_eq!(due_in(&folder, hour, noon + 2 * HOUR_MS).unwrap(), Due::In(Duration::ZERO));
        assert_eq!(due_in(&folder, hour, noon - HOUR_MS).unwrap(), Due::FromTheFuture);
        std::fs::remove_dir_all(&path).unwrap();
        assert!(due_in(&folder, hour, noon).is_err());
    }
}
