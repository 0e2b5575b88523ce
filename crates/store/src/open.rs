//! Opening and closing the store.

use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::time::Duration;

use sqlx::any::{Any, AnyConnectOptions, AnyPoolOptions, install_default_drivers};
use sqlx::{AnyConnection, AnyPool, Connection, Transaction};

use crate::StoreError;
use crate::engine::{Engine, Role};
use crate::migrate::migrate;

/// How long a request waits for its turn before it is turned away.
const PATIENCE: Duration = Duration::from_secs(30);

/// How many may look at the same time.
const READERS: u32 = 4;

/// The workshop's file, open. Cloning it gives another handle to the same file.
///
/// All writing goes through one connection, in the order it was asked for: writers wait in a line here
/// instead of racing for the file's lock, which is kept for other programs that have the file open.
#[derive(Clone, Debug)]
pub struct Store {
    writer: AnyPool,
    reader: AnyPool,
    engine: Engine,
}

impl Store {
    /// Opens the file, makes it if there is none, and brings it to this version's format.
    ///
    /// Takes the name of a file, or `sqlite:` and a name. Refuses a folder that is not there, a file that
    /// cannot be written to, that is held by another program, that is something else, or that a newer
    /// version has made.
    pub async fn open(url_or_path: &str) -> Result<Self, StoreError> {
        let path = file_name(url_or_path)?;
        let url = url_of(&path)?;
        install_default_drivers();
        // A pool would try again and again, and in the end say only that it took too long. So the file is
        // opened by hand first; this also keeps readers from seeing a file without tables.
        let mut first = AnyConnection::connect(&url).await.map_err(|cause| match StoreError::from(cause) {
            StoreError::Engine(cause) => StoreError::CannotOpen { path, cause },
            other => other,
        })?;
        made_ready(&mut first, Engine::Sqlite).await?;
        let store = Self {
            writer: pool(&url, Engine::Sqlite, Role::Writer, 1).await?,
            reader: pool(&url, Engine::Sqlite, Role::Reader, READERS).await?,
            engine: Engine::Sqlite,
        };
        first.close().await?;
        Ok(store)
    }

    /// Opens a store in memory, for tests. It is gone when the last handle is.
    pub async fn open_in_memory() -> Result<Self, StoreError> {
        install_default_drivers();
        let only = pool("sqlite::memory:", Engine::Sqlite, Role::Writer, 1).await?;
        migrate(&mut *only.acquire().await?, Engine::Sqlite).await?;
        Ok(Self { writer: only.clone(), reader: only, engine: Engine::Sqlite })
    }

    /// Waits for what is being written and closes the file. Every handle to it is closed.
    pub async fn close(&self) {
        self.reader.close().await;
        self.writer.close().await;
    }

    /// A transaction that writes. It holds the only pen: nobody else writes until it is over.
    pub(crate) async fn begin_writing(&self) -> Result<Transaction<'static, Any>, StoreError> {
        Ok(self.writer.begin_with(self.engine.begin_writing()).await?)
    }

    /// A transaction that looks at one state of everything.
    pub(crate) async fn begin_looking(&self) -> Result<Transaction<'static, Any>, StoreError> {
        Ok(self.reader.begin_with(self.engine.begin_looking()).await?)
    }

    /// For a single question.
    pub(crate) fn reader(&self) -> &AnyPool {
        &self.reader
    }

    pub(crate) fn engine(&self) -> Engine {
        self.engine
    }

    #[cfg(test)]
    pub(crate) fn writer(&self) -> &AnyPool {
        &self.writer
    }
}

/// Settles the first connection to a file and brings the file to this version's format.
async fn made_ready(first: &mut AnyConnection, engine: Engine) -> Result<(), StoreError> {
    engine.settle(first, Role::Writer).await?;
    migrate(first, engine).await
}

/// The connections of one role. They are kept for good: a store in memory lives in its connection.
async fn pool(url: &str, engine: Engine, role: Role, most: u32) -> Result<AnyPool, StoreError> {
    let options = AnyConnectOptions::from_str(url)?;
    let pool = AnyPoolOptions::new()
        .max_connections(most)
        .min_connections(1)
        .idle_timeout(None)
        .max_lifetime(None)
        .acquire_timeout(PATIENCE)
        .test_before_acquire(engine.may_hang_up())
        .after_connect(move |connection, _| Box::pin(engine.settle(connection, role)))
        // When the disk is full the engine may end a transaction by itself; the driver still counts it as
        // open and would refuse every later one. Such a connection is not handed out again.
        .before_acquire(|connection, _| {
            let sound = !connection.is_in_transaction();
            Box::pin(async move { Ok(sound) })
        })
        .connect_with(options)
        .await?;
    Ok(pool)
}

/// The file that a name or an address means.
fn file_name(url_or_path: &str) -> Result<PathBuf, StoreError> {
    if let Some((scheme, _)) = url_or_path.split_once("://")
        && scheme != "sqlite"
        && scheme.bytes().all(|letter| letter.is_ascii_alphanumeric())
    {
        return Err(StoreError::NoSuchEngine { scheme: scheme.to_owned() });
    }
    let name =
        url_or_path.strip_prefix("sqlite://").or_else(|| url_or_path.strip_prefix("sqlite:")).unwrap_or(url_or_path);
    Ok(PathBuf::from(name))
}

/// The driver's address of a file. The folder must exist; every odd character of the name is escaped.
fn url_of(path: &Path) -> Result<String, StoreError> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let folder = folder.canonicalize().map_err(|cause| StoreError::NoFolder { folder: folder.to_owned(), cause })?;
    let whole = folder.join(path.file_name().unwrap_or_default());
    let text = whole.to_str().ok_or_else(|| StoreError::NameNotText(path.to_owned()))?;

    let escaped: String = text
        .bytes()
        .map(|byte| match byte {
            b'/' | b'.' | b'_' | b'-' => char::from(byte).to_string(),
            plain if plain.is_ascii_alphanumeric() => char::from(plain).to_string(),
            odd => format!("%{odd:02X}"),
        })
        .collect();
    Ok(format!("sqlite://{escaped}?mode=rwc"))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

    use super::*;

    #[test]
    fn an_address_of_another_engine_is_refused_by_its_name() {
        let refusal = file_name("postgres://bench/workshop").unwrap_err();
        assert!(matches!(&refusal, StoreError::NoSuchEngine { scheme } if scheme == "postgres"), "{refusal:?}");
    }

    #[test]
    fn a_file_is_named_plainly_or_by_an_address() {
        for name in ["box/a.db", "sqlite:box/a.db", "sqlite://box/a.db"] {
            assert_eq!(file_name(name).unwrap(), Path::new("box/a.db"), "{name}");
        }
    }

    #[test]
    fn odd_characters_in_a_file_name_are_escaped() {
        let folder = std::env::temp_dir().canonicalize().unwrap();
        let url = url_of(&folder.join("über 50% ?#.db")).unwrap();
        assert!(url.ends_with("/%C3%BCber%2050%25%20%3F%23.db?mode=rwc"), "{url}");
    }

    /// A killed process does not show whether a commit waits for the disk, so the settings are read back.
    #[tokio::test]
    async fn each_connection_waits_for_the_disk_and_readers_cannot_write() {
        async fn settings(pool: &AnyPool) -> (String, Vec<i64>) {
            let mut connection = pool.acquire().await.unwrap();
            let journal = sqlx::query_scalar("PRAGMA journal_mode");
            let journal = journal.fetch_one(&mut *connection).await.unwrap();
            let mut numbers = Vec::new();
            for question in ["PRAGMA synchronous", "PRAGMA foreign_keys", "PRAGMA busy_timeout", "PRAGMA query_only"] {
                let number = sqlx::query_scalar(question);
                numbers.push(number.fetch_one(&mut *connection).await.unwrap());
            }
            (journal, numbers)
        }

        let folder = std::env::temp_dir().join(format!("store-settings-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let store = Store::open(folder.join("a.db").to_str().unwrap()).await.unwrap();
        // 2 is FULL in the engine's manual.
        let writer = settings(&store.writer).await;
        assert_eq!(writer, ("wal".to_owned(), vec![2, 1, 5000, 0]));
        let reader = settings(&store.reader).await;
        assert_eq!(reader, ("wal".to_owned(), vec![2, 1, 5000, 1]));
        store.close().await;
        std::fs::remove_dir_all(&folder).unwrap();
    }

    /// Whoever may do anything may write to a file marked read-only too; then the file is opened for
    /// reading only, which the engine reports the same way.
    #[tokio::test]
    async fn a_file_that_takes_no_writing_is_refused_with_that_sentence() {
        let folder = std::env::temp_dir().join(format!("store-read-only-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let path = folder.join("a.db");
        let name = path.to_str().unwrap();
        Store::open(name).await.unwrap().close().await;
        let mut rights = std::fs::metadata(&path).unwrap().permissions();
        rights.set_readonly(true);
        std::fs::set_permissions(&path, rights).unwrap();

        let almighty = std::fs::OpenOptions::new().append(true).open(&path).is_ok();
        let refusal = if almighty {
            let url = url_of(&path).unwrap().replace("mode=rwc", "mode=ro");
            let mut first = AnyConnection::connect(&url).await.unwrap();
            made_ready(&mut first, Engine::Sqlite).await.unwrap_err()
        } else {
            Store::open(name).await.unwrap_err()
        };
        assert!(matches!(refusal, StoreError::ReadOnly(_)), "{refusal:?}");
        std::fs::remove_dir_all(&folder).unwrap();
    }
}
