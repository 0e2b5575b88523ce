//! Folding the log again and comparing it with what the fields say.

use std::collections::BTreeMap;

use sqlx::{AnyConnection, Row};

use crate::engine::Engine;
use crate::{Store, StoreError};

/// How many problems are written out; a file that has more is no better known by the rest.
const PROBLEMS_TOLD: usize = 20;

/// What was looked through and found sound.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Verified {
    /// Builds.
    pub builds: usize,
    /// Revisions of them.
    pub revisions: usize,
    /// Changes in the revisions.
    pub edits: usize,
    /// Fields that say something now.
    pub fields: usize,
}

impl Store {
    /// Looks through the whole file: the engine's own check, then the log. Its numbers must run without a
    /// gap, each change must start from what the one before it left, and the fields must be their sum.
    ///
    /// Reports every contradiction as [`StoreError::Damaged`]. People may go on writing meanwhile.
    pub async fn verify(&self) -> Result<Verified, StoreError> {
        let mut tx = self.begin_looking().await?;
        let seen = looked_through(&mut tx, self.engine()).await?;
        tx.rollback().await?;
        Ok(seen)
    }
}

/// Looks through everything that a transaction sees.
pub(crate) async fn looked_through(connection: &mut AnyConnection, engine: Engine) -> Result<Verified, StoreError> {
    let mut problems = engine.self_check(connection).await?;
    let mut seen = Verified::default();
    look_at_numbers(connection, &mut seen, &mut problems).await?;

    let builds: Vec<String> =
        sqlx::query_scalar("SELECT id FROM builds ORDER BY id").fetch_all(&mut *connection).await?;
    seen.builds = builds.len();
    for build in &builds {
        look_at_build(connection, build, &mut seen, &mut problems).await?;
    }
    crate::catalogue::look_at_catalogue(connection, &mut problems).await?;
    crate::uploads::look_at_blobs(connection, &mut problems).await?;

    if problems.is_empty() {
        Ok(seen)
    } else {
        problems.truncate(PROBLEMS_TOLD);
        Err(StoreError::Damaged { problems })
    }
}

/// The numbers of the log must run 1, 2, 3 … without a gap: a missing one is a lost revision.
async fn look_at_numbers(
    connection: &mut AnyConnection,
    seen: &mut Verified,
    problems: &mut Vec<String>,
) -> Result<(), StoreError> {
    let row = sqlx::query(
        "SELECT count(*) AS rows_seen, coalesce(min(seq), 1) AS lowest, coalesce(max(seq), 0) AS highest \
         FROM revisions",
    )
    .fetch_one(connection)
    .await?;
    let count: i64 = row.try_get("rows_seen")?;
    let lowest: i64 = row.try_get("lowest")?;
    let highest: i64 = row.try_get("highest")?;
    if lowest != 1 || highest != count {
        problems.push(format!("The log has {count} revisions, numbered {lowest} to {highest}."));
    }
    seen.revisions = usize::try_from(count).unwrap_or(0);
    Ok(())
}

/// Folds one build's log and compares.
async fn look_at_build(
    connection: &mut AnyConnection,
    id: &str,
    seen: &mut Verified,
    problems: &mut Vec<String>,
) -> Result<(), StoreError> {
    let log = sqlx::query(
        "SELECT r.revision, e.path, e.text_before, e.text_after \
         FROM revisions r LEFT JOIN edits e ON e.build_id = r.build_id AND e.revision = r.revision \
         WHERE r.build_id = $1 ORDER BY r.revision",
    )
    .bind(id)
    .fetch_all(&mut *connection)
    .await?;

    let mut folded: BTreeMap<String, String> = BTreeMap::new();
    let mut reached = 0;
    for row in &log {
        let revision: i64 = row.try_get("revision")?;
        if revision != reached && revision != reached + 1 {
            problems.push(format!("Build {id}: revision {revision} follows revision {reached}."));
        }
        reached = revision;
        let Some(path) = row.try_get::<Option<String>, _>("path")? else {
            problems.push(format!("Build {id}: revision {revision} changes nothing."));
            continue;
        };
        let before: Option<String> = row.try_get("text_before")?;
        let after: Option<String> = row.try_get("text_after")?;
        if folded.get(&path) != before.as_ref() {
            problems.push(format!(
                "Build {id}: revision {revision} starts from another {path} than the one before it left."
            ));
        }
        match after {
            Some(text) => folded.insert(path, text),
            None => folded.remove(&path),
        };
        seen.edits += 1;
    }
    if reached == 0 {
        problems.push(format!("Build {id}: nobody made it."));
    }

    let fields =
        sqlx::query("SELECT path, text FROM fields WHERE build_id = $1").bind(id).fetch_all(&mut *connection).await?;
    seen.fields += fields.len();
    for row in &fields {
        let path: String = row.try_get("path")?;
        let text: String = row.try_get("text")?;
        if folded.remove(&path).as_ref() != Some(&text) {
            problems.push(format!("Build {id}: {path} is not what its log adds up to."));
        }
    }
    for path in folded.keys() {
        problems.push(format!("Build {id}: {path} is in its log and not in its fields."));
    }
    Ok(())
}
