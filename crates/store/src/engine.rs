//! The few things on which the two engines differ. Everything else is one text for both.

use sqlx::{AnyConnection, Executor};

/// Which engine keeps the data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Engine {
    /// A file, or memory.
    Sqlite,
}

/// What a connection is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// The one that writes.
    Writer,
    /// One of those that only look.
    Reader,
}

impl Engine {
    /// How a writing transaction begins: with the lock in hand, so that looking at *before* and writing
    /// *after* is one step, and no transaction is turned away half-way because another got in between.
    pub(crate) fn begin_writing(self) -> &'static str {
        match self {
            Self::Sqlite => "BEGIN IMMEDIATE",
        }
    }

    /// How a transaction begins that looks at one state of everything, whatever is written meanwhile.
    pub(crate) fn begin_looking(self) -> &'static str {
        match self {
            Self::Sqlite => "BEGIN DEFERRED",
        }
    }

    /// Whether a file without our tables is empty, so that ours may be made in it.
    pub(crate) fn count_tables(self) -> &'static str {
        match self {
            Self::Sqlite => "SELECT count(*) FROM sqlite_master WHERE type = 'table'",
        }
    }

    /// Whether the other end may be gone, so that it is asked before each use. A file does not go away, and
    /// the question would cost a tenth of an edit.
    pub(crate) fn may_hang_up(self) -> bool {
        match self {
            Self::Sqlite => false,
        }
    }

    /// Prepares a connection that has just been opened.
    pub(crate) async fn settle(self, connection: &mut AnyConnection, role: Role) -> Result<(), sqlx::Error> {
        match self {
            Self::Sqlite => {
                // Waiting comes first, since the next line may have to wait.
                connection.execute("PRAGMA busy_timeout = 5000").await?;
                // Readers do not hold up the writer, nor the writer them.
                connection.execute("PRAGMA journal_mode = WAL").await?;
                // In WAL mode NORMAL would answer before the disk does; FULL waits for it at each commit.
                connection.execute("PRAGMA synchronous = FULL").await?;
                connection.execute("PRAGMA foreign_keys = ON").await?;
                if role == Role::Reader {
                    connection.execute("PRAGMA query_only = ON").await?;
                }
            }
        }
        Ok(())
    }

    /// What the engine itself finds wrong with its file, in its own words.
    pub(crate) async fn self_check(self, connection: &mut AnyConnection) -> Result<Vec<String>, sqlx::Error> {
        match self {
            Self::Sqlite => {
                let said: Vec<String> =
                    sqlx::query_scalar("PRAGMA integrity_check").fetch_all(&mut *connection).await?;
                let orphans = sqlx::query("PRAGMA foreign_key_check").fetch_all(&mut *connection).await?;
                let mut problems: Vec<String> = said
                    .into_iter()
                    .filter(|line| line != "ok")
                    .map(|line| format!("The engine says: {line}."))
                    .collect();
                if !orphans.is_empty() {
                    problems.push(format!("{} rows point at nothing.", orphans.len()));
                }
                Ok(problems)
            }
        }
    }
}
