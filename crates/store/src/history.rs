//! The log, read back.

use sqlx::any::AnyRow;
use sqlx::{AssertSqlSafe, Row};

use crate::{BuildId, Store, StoreError};

/// One field's change as the log has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EditRow {
    /// The place of its revision in the whole log; later is larger.
    pub seq: i64,
    /// The revision it belongs to.
    pub revision: i64,
    /// The field.
    pub path: String,
    /// What the field said.
    pub before: Option<String>,
    /// What it said from then on.
    pub after: Option<String>,
    /// Who changed it.
    pub who: String,
    /// When, by the clock of that time.
    pub at_ms: i64,
    /// The revision that this one took back.
    pub undoes: Option<i64>,
}

impl Store {
    /// Everything that happened to one field, the oldest first.
    pub async fn history(&self, build: &BuildId, path: &str) -> Result<Vec<EditRow>, StoreError> {
        let question = || {
            sqlx::query(
                "SELECT r.seq, r.revision, e.path, e.text_before, e.text_after, r.who, r.at_ms, r.undoes \
                 FROM edits e JOIN revisions r ON r.build_id = e.build_id AND r.revision = e.revision \
                 WHERE e.build_id = $1 AND e.path = $2 ORDER BY e.revision",
            )
            .bind(build.as_str())
            .bind(path)
        };
        let rows = self.rows(question).await?;
        edit_rows(&rows)
    }

    /// The last changes of a build, the newest revision first; its changes come by the names of the fields.
    pub async fn recent(&self, build: &BuildId, limit: i64) -> Result<Vec<EditRow>, StoreError> {
        let text = format!(
            "SELECT r.seq, r.revision, e.path, e.text_before, e.text_after, r.who, r.at_ms, r.undoes \
             FROM edits e JOIN revisions r ON r.build_id = e.build_id AND r.revision = e.revision \
             WHERE e.build_id = $1 ORDER BY e.revision DESC, e.path{} LIMIT $2",
            self.engine().by_bytes()
        );
        let question = || sqlx::query(AssertSqlSafe(text.clone())).bind(build.as_str()).bind(limit);
        let rows = self.rows(question).await?;
        edit_rows(&rows)
    }
}

fn edit_rows(rows: &[AnyRow]) -> Result<Vec<EditRow>, StoreError> {
    let mut edits = Vec::with_capacity(rows.len());
    for row in rows {
        edits.push(EditRow {
            seq: row.try_get("seq")?,
            revision: row.try_get("revision")?,
            path: row.try_get("path")?,
            before: row.try_get("text_before")?,
            after: row.try_get("text_after")?,
            who: row.try_get("who")?,
            at_ms: row.try_get("at_ms")?,
            undoes: row.try_get("undoes")?,
        });
    }
    Ok(edits)
}
