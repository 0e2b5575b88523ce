//! A revision: changing a few fields of a build in one step, or taking such a step back.

use std::collections::BTreeSet;

use sqlx::{AnyConnection, Row};

use crate::open::committed;
use crate::patience::{in_time, patiently};
use crate::{BuildId, Clash, EditError, LastChange, Store};

/// One field's change. An absent text is an absent field.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Change {
    /// The field.
    pub path: String,
    /// What the field said to the one who changed it.
    pub before: Option<String>,
    /// What it is to say.
    pub after: Option<String>,
}

/// Who asks for a change, when, and the key by which the same request is known again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct By {
    /// Who it is.
    pub who: String,
    /// The caller's clock, in milliseconds since 1970. It is kept, and orders nothing.
    pub at_ms: i64,
    /// Drawn anew for each request, and sent again with each repetition of it.
    pub request_key: String,
}

/// A revision that is on the disk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Applied {
    /// Its number in the build, by which it can be undone.
    pub revision: i64,
    /// Whether it was there already: the request is a repetition, and nothing was written this time.
    pub replayed: bool,
}

impl Store {
    /// Changes fields of a build: all of them or none, and on the disk when this returns.
    ///
    /// Refuses when a *before* no longer holds ([`EditError::Clash`] names every such field, with what it
    /// says now), and what is listed at [`EditError`]. The same key with the same changes gives the first
    /// answer again, whatever happened to the fields since.
    pub async fn edit(&self, build: &BuildId, changes: &[Change], by: &By) -> Result<Applied, EditError> {
        readable(changes, by)?;
        patiently!(self, self.edit_once(build, changes, by))
    }

    async fn edit_once(&self, build: &BuildId, changes: &[Change], by: &By) -> Result<Applied, EditError> {
        let mut tx = self.begin_writing().await?;
        let revision = Revision { build, changes, by, undoes: None };
        in_time(self.engine(), async {
            let outcome = recorded(&mut tx, revision).await;
            finished(tx, outcome, revision).await
        })
        .await
    }

    /// Takes a revision back: writes the opposite revision, and says in the log what it undoes.
    ///
    /// Refuses when one of its fields has been changed since. An undo is a revision too, and can be undone.
    pub async fn undo(&self, build: &BuildId, revision: i64, by: &By) -> Result<Applied, EditError> {
        patiently!(self, self.undo_once(build, revision, by))
    }

    async fn undo_once(&self, build: &BuildId, revision: i64, by: &By) -> Result<Applied, EditError> {
        let mut tx = self.begin_writing().await?;
        in_time(self.engine(), async {
            let mut changes = changes_of(&mut tx, build, revision).await?;
            if changes.is_empty() {
                let refusal = EditError::NoSuchRevision { build: build.clone(), revision };
                return Err(given_up(tx, refusal).await);
            }
            for change in &mut changes {
                std::mem::swap(&mut change.before, &mut change.after);
            }
            let opposite = Revision { build, changes: &changes, by, undoes: Some(revision) };
            let outcome = recorded(&mut tx, opposite).await;
            finished(tx, outcome, opposite).await
        })
        .await
    }
}

/// A revision to be written.
#[derive(Clone, Copy)]
pub(crate) struct Revision<'a> {
    pub(crate) build: &'a BuildId,
    pub(crate) changes: &'a [Change],
    pub(crate) by: &'a By,
    pub(crate) undoes: Option<i64>,
}

/// What became of it.
pub(crate) enum Outcome {
    /// It is written, under this number, and waits for the commit.
    Written(i64),
    /// Its key is known: this is what was written under it. The transaction is to be rolled back.
    Seen(Recorded),
}

/// A revision as the log has it.
pub(crate) struct Recorded {
    pub(crate) build: BuildId,
    pub(crate) revision: i64,
    who: String,
    undoes: Option<i64>,
    changes: Vec<Change>,
}

impl Recorded {
    /// Whether all that is asked for now was written then. A page may write something along with a change (who did it, on
    /// which day), and has nothing more to write along when the same change comes again.
    fn has_done(&self, changes: &[Change], by: &By, undoes: Option<i64>) -> bool {
        self.who == by.who && self.undoes == undoes && changes.iter().all(|asked| self.changes.contains(asked))
    }

    /// Whether this is what is asked for now. The time is not compared: a repetition comes later.
    pub(crate) fn says(&self, changes: &[Change], by: &By, undoes: Option<i64>) -> bool {
        let mut asked = changes.to_vec();
        asked.sort();
        self.who == by.who && self.undoes == undoes && self.changes == asked
    }
}

/// Refuses, before anything is asked of the disk, what could never be kept.
pub(crate) fn readable(changes: &[Change], by: &By) -> Result<(), EditError> {
    if changes.is_empty() {
        return Err(EditError::NothingNamed);
    }
    let has_nul = |text: &Option<String>| text.as_ref().is_some_and(|text| text.contains('\0'));
    let mut named = BTreeSet::new();
    for change in changes {
        let path = change.path.replace('\0', "");
        // PostgreSQL keeps no NUL character in a text.
        if path.is_empty() || path != change.path || has_nul(&change.before) || has_nul(&change.after) {
            return Err(EditError::NotText { path });
        }
        if change.before == change.after {
            return Err(EditError::AlreadySo { path });
        }
        if !named.insert(&change.path) {
            return Err(EditError::NamedTwice { path });
        }
    }
    if by.who.contains('\0') || by.request_key.contains('\0') || by.request_key.is_empty() {
        return Err(EditError::KeyMissing);
    }
    Ok(())
}

/// Writes a revision inside the transaction, or says why not.
pub(crate) async fn recorded(connection: &mut AnyConnection, revision: Revision<'_>) -> Result<Outcome, EditError> {
    let Revision { build, changes, by, undoes } = revision;

    // One statement looks for the build, takes the next numbers and finds out whether the key is new. The
    // transaction began with the lock in hand, so nobody else takes the same numbers; if somebody could,
    // the table's own keys would refuse it.
    let number: Option<i64> = sqlx::query_scalar(
        "INSERT INTO revisions (seq, build_id, revision, who, at_ms, request_key, undoes) \
         SELECT (SELECT coalesce(max(seq), 0) + 1 FROM revisions), id, \
                (SELECT coalesce(max(revision), 0) + 1 FROM revisions WHERE build_id = builds.id), \
                $2, $3, $4, $5 \
         FROM builds WHERE id = $1 \
         ON CONFLICT (request_key) DO NOTHING RETURNING revision",
    )
    .bind(build.as_str())
    .bind(by.who.as_str())
    .bind(by.at_ms)
    .bind(by.request_key.as_str())
    .bind(undoes)
    .fetch_optional(&mut *connection)
    .await?;
    let Some(number) = number else {
        return match first_answer(connection, by).await? {
            Some(first) => Ok(Outcome::Seen(first)),
            None => Err(EditError::NoSuchBuild(build.clone())),
        };
    };

    let mut clashes = Vec::new();
    for change in changes {
        if exchanged(connection, build, change).await? {
            log(connection, build, number, change).await?;
        } else {
            clashes.push(clash(connection, build, change).await?);
        }
    }
    if !clashes.is_empty() {
        return Err(EditError::Clash(clashes));
    }
    Ok(Outcome::Written(number))
}

/// Ends the transaction the way the outcome wants it.
async fn finished(
    tx: sqlx::Transaction<'static, sqlx::Any>,
    outcome: Result<Outcome, EditError>,
    asked: Revision<'_>,
) -> Result<Applied, EditError> {
    match outcome {
        Ok(Outcome::Written(revision)) => {
            committed(tx).await?;
            Ok(Applied { revision, replayed: false })
        }
        Ok(Outcome::Seen(first)) => {
            tx.rollback().await?;
            // The first revision of a build is its making, and no edit.
            let same = first.build == *asked.build
                && first.revision > 1
                && first.has_done(asked.changes, asked.by, asked.undoes);
            if same { Ok(Applied { revision: first.revision, replayed: true }) } else { Err(EditError::KeyReused) }
        }
        Err(refusal) => Err(given_up(tx, refusal).await),
    }
}

/// Takes back what the transaction has written, and passes the refusal on.
///
/// When the disk is full the engine has taken everything back already, and a second time is an error. The
/// refusal is the news then, not that error; the pool sorts the connection out.
pub(crate) async fn given_up(tx: sqlx::Transaction<'static, sqlx::Any>, refusal: EditError) -> EditError {
    let _ = tx.rollback().await;
    refusal
}

/// Puts *after* in the place of *before*, if *before* is what is there: compared and written in one statement.
async fn exchanged(connection: &mut AnyConnection, build: &BuildId, change: &Change) -> Result<bool, EditError> {
    let query = match (&change.before, &change.after) {
        (Some(before), Some(after)) => {
            sqlx::query("UPDATE fields SET text = $4 WHERE build_id = $1 AND path = $2 AND text = $3")
                .bind(build.as_str())
                .bind(change.path.as_str())
                .bind(before.as_str())
                .bind(after.as_str())
        }
        (Some(before), None) => sqlx::query("DELETE FROM fields WHERE build_id = $1 AND path = $2 AND text = $3")
            .bind(build.as_str())
            .bind(change.path.as_str())
            .bind(before.as_str()),
        (None, Some(after)) => sqlx::query(
            "INSERT INTO fields (build_id, path, text) VALUES ($1, $2, $3) \
             ON CONFLICT (build_id, path) DO NOTHING",
        )
        .bind(build.as_str())
        .bind(change.path.as_str())
        .bind(after.as_str()),
        (None, None) => {
            return Err(EditError::AlreadySo { path: change.path.clone() });
        }
    };
    Ok(query.execute(connection).await?.rows_affected() == 1)
}

/// Writes one change into the log.
async fn log(connection: &mut AnyConnection, build: &BuildId, revision: i64, change: &Change) -> Result<(), EditError> {
    sqlx::query(
        "INSERT INTO edits (build_id, revision, path, text_before, text_after) \
         VALUES ($1, $2, $3, $4, $5)",
    )
    .bind(build.as_str())
    .bind(revision)
    .bind(change.path.as_str())
    .bind(change.before.as_deref())
    .bind(change.after.as_deref())
    .execute(connection)
    .await?;
    Ok(())
}

/// What stands in the way of a change.
async fn clash(connection: &mut AnyConnection, build: &BuildId, change: &Change) -> Result<Clash, EditError> {
    let found: Option<String> = sqlx::query_scalar("SELECT text FROM fields WHERE build_id = $1 AND path = $2")
        .bind(build.as_str())
        .bind(change.path.as_str())
        .fetch_optional(&mut *connection)
        .await?;
    let last = sqlx::query(
        "SELECT r.who, r.at_ms, r.revision FROM edits e \
         JOIN revisions r ON r.build_id = e.build_id AND r.revision = e.revision \
         WHERE e.build_id = $1 AND e.path = $2 ORDER BY e.revision DESC LIMIT 1",
    )
    .bind(build.as_str())
    .bind(change.path.as_str())
    .fetch_optional(&mut *connection)
    .await?;
    let last_change = match last {
        None => None,
        Some(row) => Some(LastChange {
            who: row.try_get("who")?,
            at_ms: row.try_get("at_ms")?,
            revision: row.try_get("revision")?,
        }),
    };
    Ok(Clash {
        path: change.path.clone(),
        found,
        wanted_before: change.before.clone(),
        yours: change.after.clone(),
        last_change,
    })
}

/// What was written under a key; `None` if nothing was.
async fn first_answer(connection: &mut AnyConnection, by: &By) -> Result<Option<Recorded>, EditError> {
    let row = sqlx::query("SELECT build_id, revision, who, undoes FROM revisions WHERE request_key = $1")
        .bind(by.request_key.as_str())
        .fetch_optional(&mut *connection)
        .await?;
    let Some(row) = row else {
        return Ok(None);
    };
    let build = BuildId::stored(row.try_get("build_id")?);
    let revision = row.try_get("revision")?;
    let changes = changes_of(connection, &build, revision).await?;
    Ok(Some(Recorded { who: row.try_get("who")?, undoes: row.try_get("undoes")?, build, revision, changes }))
}

/// The changes of a revision, sorted; none if there is no such revision.
async fn changes_of(connection: &mut AnyConnection, build: &BuildId, revision: i64) -> Result<Vec<Change>, EditError> {
    let rows = sqlx::query("SELECT path, text_before, text_after FROM edits WHERE build_id = $1 AND revision = $2")
        .bind(build.as_str())
        .bind(revision)
        .fetch_all(connection)
        .await?;
    let mut changes = Vec::with_capacity(rows.len());
    for row in &rows {
        changes.push(Change {
            path: row.try_get("path")?,
            before: row.try_get("text_before")?,
            after: row.try_get("text_after")?,
        });
    }
    // Sorted here and not by the engine: two engines sort texts in two ways.
    changes.sort();
    Ok(changes)
}
