//! Erasing what is personal, from the log too, without breaking the log.
//!
//! The log of edits is never rewritten, with this one exception: a text that is to be forgotten is put out of it, before
//! and after alike, and a mark stands in its place. Numbers, order, names of fields, who and when stay, so the log still
//! runs without a gap and still adds up to what the fields say: an edit from one forgotten text to another leads from mark
//! to mark. The fields themselves are then emptied by an edit like any other, by whoever erases.

use sqlx::{AnyConnection, Row};

use crate::edit::{Outcome, Revision, recorded};
use crate::ledger::{self, Noted};
use crate::open::committed;
use crate::uploads::removed;
use crate::{BuildId, By, Change, EditError, Store, StoreError};

/// What stands where a text was put out.
pub const ERASED: &str = "(erased)";

/// What is to be forgotten of one build.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Forgotten {
    /// The build.
    pub build: BuildId,
    /// Fields, as [`Store::texts_ever`] names them.
    pub paths: Vec<String>,
    /// Pictures and documents.
    pub uploads: Vec<String>,
}

/// How much was put out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Erased {
    /// Fields that said something and are empty now.
    pub fields: usize,
    /// Changes in the log whose texts were put out.
    pub edits: u64,
    /// Pictures and documents.
    pub uploads: usize,
}

impl Store {
    /// Every text that a field of any build ever had.
    pub async fn builds_ever_saying(&self, path: &str) -> Result<Vec<(BuildId, String)>, StoreError> {
        const TEXT: &str = "SELECT DISTINCT build_id, text_after FROM edits WHERE path = $1 AND text_after IS NOT NULL";
        let rows = self.rows(|| sqlx::query(TEXT).bind(path.to_owned())).await?;
        let said: Result<Vec<_>, sqlx::Error> = rows
            .iter()
            .map(|row| Ok((BuildId::stored(row.try_get("build_id")?), row.try_get("text_after")?)))
            .collect();
        let mut said = said?;
        said.sort_by(|a, b| (a.0.as_str(), &a.1).cmp(&(b.0.as_str(), &b.1)));
        Ok(said)
    }

    /// Every field that a build ever had, with every text it ever said.
    pub async fn texts_ever(&self, build: &BuildId) -> Result<Vec<(String, String)>, StoreError> {
        const TEXT: &str = "SELECT DISTINCT path, text_after FROM edits WHERE build_id = $1 AND text_after IS NOT NULL";
        let rows = self.rows(|| sqlx::query(TEXT).bind(build.as_str())).await?;
        let said: Result<Vec<_>, sqlx::Error> =
            rows.iter().map(|row| Ok((row.try_get("path")?, row.try_get("text_after")?))).collect();
        let mut said = said?;
        said.sort();
        Ok(said)
    }

    /// Puts texts out, all of them or none, and notes down that it was done, without saying about whom.
    pub async fn erase(&self, forgotten: &[Forgotten], by: &By) -> Result<Erased, EditError> {
        let mut tx = self.begin_writing().await?;
        // Otherwise the engine would only mark the place as free.
        if let Some(statement) = self.engine().overwrite_what_is_deleted() {
            sqlx::query(statement).fetch_all(&mut *tx).await?;
        }
        let mut erased = Erased::default();
        for (at, one) in forgotten.iter().enumerate() {
            let by = By { request_key: format!("{}-{at}", by.request_key), ..by.clone() };
            match put_out(&mut tx, one, &by, &mut erased).await {
                Ok(()) => {}
                Err(refusal) => {
                    let _ = tx.rollback().await;
                    return Err(refusal);
                }
            }
        }
        committed(tx).await?;
        self.settle_after_erasing().await;
        Ok(erased)
    }
}

async fn put_out(
    connection: &mut AnyConnection,
    forgotten: &Forgotten,
    by: &By,
    erased: &mut Erased,
) -> Result<(), EditError> {
    let build = forgotten.build.as_str();
    let mut changes = Vec::new();
    for path in &forgotten.paths {
        let edits = sqlx::query(
            "UPDATE edits SET text_before = CASE WHEN text_before IS NULL THEN NULL ELSE $3 END, \
                              text_after = CASE WHEN text_after IS NULL THEN NULL ELSE $3 END \
             WHERE build_id = $1 AND path = $2",
        )
        .bind(build)
        .bind(path.clone())
        .bind(ERASED)
        .execute(&mut *connection)
        .await?;
        erased.edits += edits.rows_affected();
        let field = sqlx::query("UPDATE fields SET text = $3 WHERE build_id = $1 AND path = $2")
            .bind(build)
            .bind(path.clone())
            .bind(ERASED)
            .execute(&mut *connection)
            .await?;
        if field.rows_affected() == 1 {
            changes.push(Change { path: path.clone(), before: Some(ERASED.to_owned()), after: None });
        }
    }
    if !changes.is_empty() {
        erased.fields += changes.len();
        let revision = Revision { build: &forgotten.build, changes: &changes, by, undoes: None };
        if let Outcome::Seen(_) = recorded(&mut *connection, revision).await? {
            return Err(EditError::KeyReused);
        }
    }
    for id in &forgotten.uploads {
        if removed(&mut *connection, &forgotten.build, id).await? {
            erased.uploads += 1;
        }
    }
    let noted = Noted { who: &by.who, did: "erased personal data of", what: build, at_ms: by.at_ms };
    ledger::write(connection, noted).await?;
    Ok(())
}
