//! The ledger: who looked at what, who was let in or turned away, who took something away. Owners read it.
//!
//! It stands beside the log of edits and is no part of it: an edit says what became of a bike, a line here what became of
//! somebody's data.

use sqlx::{AnyConnection, Row};

use crate::open::committed;
use crate::{Store, StoreError};

/// A line of the ledger.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LedgerLine {
    /// Its place; later is larger.
    pub seq: i64,
    /// When, by the clock of that time.
    pub at_ms: i64,
    /// Who, or what name was tried.
    pub who: String,
    /// What was done: "looked at", "signed in".
    pub did: String,
    /// To what.
    pub what: String,
}

/// What is to be written down.
#[derive(Clone, Copy, Debug)]
pub struct Noted<'a> {
    /// Who.
    pub who: &'a str,
    /// What was done.
    pub did: &'a str,
    /// To what.
    pub what: &'a str,
    /// When.
    pub at_ms: i64,
}

impl Store {
    /// Writes a line.
    pub async fn note(&self, noted: Noted<'_>) -> Result<(), StoreError> {
        let mut tx = self.begin_writing().await?;
        write(&mut tx, noted).await?;
        committed(tx).await
    }

    /// The last lines, the newest first; those about one thing, if it is named.
    pub async fn ledger(&self, what: Option<&str>, limit: i64) -> Result<Vec<LedgerLine>, StoreError> {
        const ALL: &str = "SELECT seq, at_ms, who, did, what FROM ledger ORDER BY seq DESC LIMIT $1";
        const SOME: &str = "SELECT seq, at_ms, who, did, what FROM ledger WHERE what = $2 ORDER BY seq DESC LIMIT $1";
        let question = || match what {
            Some(what) => sqlx::query(SOME).bind(limit).bind(what.to_owned()),
            None => sqlx::query(ALL).bind(limit),
        };
        let rows = self.rows(question).await?;
        let lines: Result<Vec<_>, sqlx::Error> = rows
            .iter()
            .map(|row| {
                Ok(LedgerLine {
                    seq: row.try_get("seq")?,
                    at_ms: row.try_get("at_ms")?,
                    who: row.try_get("who")?,
                    did: row.try_get("did")?,
                    what: row.try_get("what")?,
                })
            })
            .collect();
        Ok(lines?)
    }
}

/// Writes a line as a part of something larger.
pub(crate) async fn write(connection: &mut AnyConnection, noted: Noted<'_>) -> Result<(), StoreError> {
    sqlx::query(
        "INSERT INTO ledger (seq, at_ms, who, did, what) \
         SELECT coalesce(max(seq), 0) + 1, $1, $2, $3, $4 FROM ledger",
    )
    .bind(noted.at_ms)
    .bind(noted.who.replace('\0', ""))
    .bind(noted.did.to_owned())
    .bind(noted.what.replace('\0', ""))
    .execute(connection)
    .await?;
    Ok(())
}
