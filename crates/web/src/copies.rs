//! The folder in which copies of the whole workshop are kept: which there are, one more, and the oldest ones away.
//!
//! A copy's name is when it was made, so the folder alone says when the last one was and which are the oldest. An old copy
//! goes only after a new one has been made and read back. Anything else in the folder is left alone.

use std::path::{Path, PathBuf};
use std::time::Duration;
use witnessmark_store::{CopyMade, Store, StoreError};

/// How a copy's name begins and ends; the time stands between.
const NAME: (&str, &str) = ("workshop-", ".copy");
const TIME: &str = "%Y%m%d-%H%M%S";

/// The folder, and how many copies are kept in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CopyFolder {
    /// The folder.
    pub path: PathBuf,
    /// How many are kept.
    pub keep: usize,
}

/// A copy in the folder.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct KeptCopy {
    /// When it was made, by the clock of that time and to the second.
    pub made_at_ms: i64,
    /// The file.
    pub path: PathBuf,
    /// How large it is.
    pub bytes: u64,
}

impl CopyFolder {
    /// The copies in it, the oldest first.
    pub fn list(&self) -> std::io::Result<Vec<KeptCopy>> {
        let mut found = Vec::new();
        for entry in std::fs::read_dir(&self.path)? {
            let path = entry?.path();
            if let Some(made_at_ms) = time_of(&path) {
                found.push(KeptCopy { made_at_ms, bytes: path.metadata()?.len(), path });
            }
        }
        found.sort();
        Ok(found)
    }

    /// Makes one more, reads it back, and takes the oldest ones away. Says what is in it and where it is.
    pub async fn make(&self, store: &Store, now_ms: i64) -> Result<(PathBuf, CopyMade), StoreError> {
        let refused = |cause| StoreError::File { path: self.path.clone(), cause };
        let mut at_ms = now_ms;
        let (path, made) = loop {
            let path = self.path.join(name_of(at_ms).map_err(refused)?);
            match store.backup(&path, at_ms).await {
                // Another server of the same workshop made this second's.
                Err(StoreError::Taken { .. }) if at_ms < now_ms + 10_000 => {
                    tokio::time::sleep(Duration::from_secs(1)).await;
                    at_ms += 1_000;
                }
                made => break (path, made?),
            }
        };
        let mut all = self.list().map_err(refused)?;
        let extra = all.len().saturating_sub(self.keep);
        for old in all.drain(..extra) {
            // The one that was just made is never among those that go, whatever the clock says.
            if old.path != path {
                std::fs::remove_file(&old.path).map_err(|cause| StoreError::File { path: old.path.clone(), cause })?;
            }
        }
        Ok((path, made))
    }
}

fn name_of(at_ms: i64) -> std::io::Result<String> {
    let time = jiff::Timestamp::from_millisecond(at_ms).map_err(std::io::Error::other)?;
    Ok(format!("{}{}{}", NAME.0, time.strftime(TIME), NAME.1))
}

/// When a file was made, if its name is that of a copy.
fn time_of(path: &Path) -> Option<i64> {
    let name = path.file_name()?.to_str()?;
    let time = name.strip_prefix(NAME.0)?.strip_suffix(NAME.1)?;
    let time = jiff::civil::DateTime::strptime(TIME, time).ok()?;
    Some(jiff::tz::Offset::UTC.to_timestamp(time).ok()?.as_millisecond())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]
mod tests {
    use super::*;

    #[tokio::test]
    async fn the_oldest_copies_go_and_nothing_else_and_a_new_one_stays_whatever_the_clock_says() {
        const HOUR_MS: i64 = 60 * 60 * 1000;
        let path = std::env::temp_dir().join(format!("copy-folder-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).unwrap();
        std::fs::write(path.join("workshop-notes.copy"), "mine").unwrap();
        let folder = CopyFolder { path: path.clone(), keep: 3 };
        let store = Store::open_in_memory().await.unwrap();
        let start = 1_900_000_000_000;
        for hour in 0..5 {
            folder.make(&store, start + hour * HOUR_MS).await.unwrap();
        }
        let hours =
            || -> Vec<i64> { folder.list().unwrap().iter().map(|copy| (copy.made_at_ms - start) / HOUR_MS).collect() };
        assert_eq!(hours(), [2, 3, 4]);
        // The clock was set back by ten hours.
        folder.make(&store, start - 6 * HOUR_MS).await.unwrap();
        assert_eq!(hours(), [-6, 2, 3, 4]);
        assert!(path.join("workshop-notes.copy").exists());
        store.close().await;
        std::fs::remove_dir_all(&path).unwrap();
    }
}
