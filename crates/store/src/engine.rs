//! The few things on which the two engines differ. Everything else is one text for both.

use sqlx::{AnyConnection, Executor, Row};

use crate::StoreError;

/// Which engine keeps the data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Engine {
    /// A file, or memory.
    Sqlite,
    /// A server, shared by any number of programs.
    Postgres,
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
    ///
    /// `PostgreSQL` would let two writers begin. The lock on the log's table makes the second wait for the first,
    /// whichever program it belongs to, and lets everybody go on reading; each later statement sees what the first wrote.
    pub(crate) fn begin_writing(self) -> &'static str {
        match self {
            Self::Sqlite => "BEGIN IMMEDIATE",
            Self::Postgres => "BEGIN ISOLATION LEVEL READ COMMITTED; LOCK TABLE revisions IN SHARE ROW EXCLUSIVE MODE",
        }
    }

    /// How a transaction begins that looks at one state of everything, whatever is written meanwhile.
    pub(crate) fn begin_looking(self) -> &'static str {
        match self {
            Self::Sqlite => "BEGIN DEFERRED",
            Self::Postgres => "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY",
        }
    }

    /// How the step to a newer format begins. Two programs that start at once take turns: on a server the tables to be
    /// locked may not be there yet, so the lock is on a number of our own.
    pub(crate) fn begin_migrating(self) -> &'static str {
        match self {
            Self::Sqlite => "BEGIN IMMEDIATE",
            Self::Postgres => "BEGIN ISOLATION LEVEL READ COMMITTED; SELECT pg_advisory_xact_lock(5288716290413)",
        }
    }

    /// Whether a file or database without our tables is empty, so that ours may be made in it.
    pub(crate) fn count_tables(self) -> &'static str {
        match self {
            Self::Sqlite => "SELECT count(*) FROM sqlite_master WHERE type = 'table'",
            Self::Postgres => "SELECT count(*) FROM pg_catalog.pg_tables WHERE schemaname = current_schema()",
        }
    }

    /// The names of all tables.
    pub(crate) fn table_names(self) -> &'static str {
        match self {
            Self::Sqlite => "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'",
            Self::Postgres => "SELECT tablename::text FROM pg_catalog.pg_tables WHERE schemaname = current_schema()",
        }
    }

    /// The columns of one table, and what each holds.
    pub(crate) fn columns(self) -> &'static str {
        match self {
            Self::Sqlite => "SELECT name, type AS kind FROM pragma_table_info($1)",
            Self::Postgres => {
                "SELECT column_name::text AS name, data_type::text AS kind FROM information_schema.columns \
                 WHERE table_schema = current_schema() AND table_name = $1"
            }
        }
    }

    /// The columns of a table's key, in its order.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::Sqlite => "SELECT name FROM pragma_table_info($1) WHERE pk > 0 ORDER BY pk",
            Self::Postgres => {
                "SELECT column_name::text FROM information_schema.key_column_usage k \
                 JOIN information_schema.table_constraints c \
                   ON c.constraint_schema = k.constraint_schema AND c.constraint_name = k.constraint_name \
                 WHERE c.constraint_type = 'PRIMARY KEY' AND k.table_schema = current_schema() AND k.table_name = $1 \
                 ORDER BY k.ordinal_position"
            }
        }
    }

    /// Lets a transaction take as long as a whole workshop takes.
    pub(crate) async fn take_long(self, connection: &mut AnyConnection) -> Result<(), sqlx::Error> {
        if self == Self::Postgres {
            connection.execute("SET LOCAL idle_in_transaction_session_timeout = '1h'").await?;
        }
        Ok(())
    }

    /// Lets rows come in any order: what one row says of another is looked at when all are there.
    pub(crate) async fn look_at_references_later(self, connection: &mut AnyConnection) -> Result<(), sqlx::Error> {
        match self {
            Self::Sqlite => {
                connection.execute("PRAGMA defer_foreign_keys = ON").await?;
            }
            Self::Postgres => self.each_reference(connection, "DEFERRABLE INITIALLY DEFERRED").await?,
        }
        Ok(())
    }

    /// Looks at the references now. A file does so by itself at the commit.
    pub(crate) async fn look_at_references(self, connection: &mut AnyConnection) -> Result<(), sqlx::Error> {
        if self == Self::Postgres {
            connection.execute("SET CONSTRAINTS ALL IMMEDIATE").await?;
            self.each_reference(connection, "NOT DEFERRABLE").await?;
        }
        Ok(())
    }

    async fn each_reference(self, connection: &mut AnyConnection, how: &str) -> Result<(), sqlx::Error> {
        let alterations: Vec<String> = sqlx::query_scalar(
            "SELECT format('ALTER TABLE %s ALTER CONSTRAINT %I ', conrelid::regclass, conname) FROM pg_constraint \
             WHERE contype = 'f' AND connamespace = current_schema()::regnamespace ORDER BY 1",
        )
        .fetch_all(&mut *connection)
        .await?;
        for alteration in alterations {
            sqlx::raw_sql(sqlx::AssertSqlSafe(alteration + how)).execute(&mut *connection).await?;
        }
        Ok(())
    }

    /// What makes a server sort texts as a file does: by their bytes, not by a language.
    pub(crate) fn by_bytes(self) -> &'static str {
        match self {
            Self::Sqlite => "",
            Self::Postgres => " COLLATE \"C\"",
        }
    }

    /// What makes the engine write over what is deleted instead of marking its place as free. A server's own clearing-up
    /// does that in its time.
    pub(crate) fn overwrite_what_is_deleted(self) -> Option<&'static str> {
        match self {
            Self::Sqlite => Some("PRAGMA secure_delete = ON"),
            Self::Postgres => None,
        }
    }

    /// What brings an erasure from the engine's journal into its file, and empties the journal.
    pub(crate) fn empty_the_journal(self) -> Option<&'static str> {
        match self {
            Self::Sqlite => Some("PRAGMA wal_checkpoint(TRUNCATE)"),
            Self::Postgres => None,
        }
    }

    /// Whether the other end may be gone: a file does not go away.
    pub(crate) fn may_hang_up(self) -> bool {
        match self {
            Self::Sqlite => false,
            Self::Postgres => true,
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
            Self::Postgres => {
                // A commit waits for the disk, whatever the server's own setting is. Waiting for another writer has an end.
                // So has a writer that was cut off while it held the lock: the server asks after it, and takes back what
                // it had begun.
                let ways = "SET synchronous_commit = on; \
                     SET lock_timeout = '10s'; \
                     SET idle_in_transaction_session_timeout = '60s'; \
                     SET tcp_keepalives_idle = 10; \
                     SET tcp_keepalives_interval = 5; \
                     SET tcp_keepalives_count = 3";
                sqlx::raw_sql(ways).execute(&mut *connection).await?;
                if role == Role::Reader {
                    connection.execute("SET default_transaction_read_only = on").await?;
                }
            }
        }
        Ok(())
    }

    /// Whether a connection that comes back to the pool is still there and holds nothing.
    ///
    /// Whoever asked may have been cut off at any moment. Of a transaction that was cut off while it began sqlx does not
    /// know that it has begun: the connection would keep the log's lock, or an old state of everything, until its next use.
    /// Such a one is closed. A statement outside of a transaction begins when its transaction does, which tells it.
    pub(crate) async fn comes_back_free(self, connection: &mut AnyConnection) -> Result<bool, sqlx::Error> {
        match self {
            // The engine lies in this program, and `is_in_transaction` is its own word.
            Self::Sqlite => Ok(true),
            Self::Postgres => {
                sqlx::raw_sql("SELECT now() = statement_timestamp()").fetch_one(connection).await?.try_get(0)
            }
        }
    }

    /// Refuses an engine that is set up to lose what it has acknowledged, or cannot keep every letter.
    pub(crate) async fn trusted(self, connection: &mut AnyConnection) -> Result<(), StoreError> {
        match self {
            // Everything it needs was set by `settle`.
            Self::Sqlite => Ok(()),
            Self::Postgres => {
                let waits: String = sqlx::query_scalar("SHOW fsync").fetch_one(&mut *connection).await?;
                if waits != "on" {
                    return Err(StoreError::Forgetful);
                }
                let letters: String = sqlx::query_scalar("SHOW server_encoding").fetch_one(&mut *connection).await?;
                if letters != "UTF8" {
                    return Err(StoreError::FewLetters { encoding: letters });
                }
                Ok(())
            }
        }
    }

    /// What the engine itself finds wrong with its file, in its own words. A server looks after its own.
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
            Self::Postgres => Ok(Vec::new()),
        }
    }
}
