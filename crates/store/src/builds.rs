//! Builds: making one, listing them, reading one.

use std::collections::BTreeMap;

use sqlx::{AssertSqlSafe, Row};

use crate::edit::{Change, Outcome, Revision, given_up, readable, recorded};
use crate::open::committed;
use crate::patience::{in_time, patiently};
use crate::{BuildId, By, EditError, Store, StoreError};

/// How often a new name is drawn before giving up. Forty bits meet once in a million builds or so; eight
/// meetings in a row mean that the names are not random.
const DRAWS: usize = 8;

/// A build to be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewBuild<'a> {
    /// Every field with a text, in any order.
    pub leaves: &'a [(String, String)],
    /// The build whose leaves these were, if they were another's.
    pub copied_from: Option<&'a BuildId>,
}

/// A build in the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildSummary {
    /// Its name.
    pub id: BuildId,
    /// The number of its last revision.
    pub revision: i64,
    /// The build it was copied from.
    pub copied_from: Option<BuildId>,
    /// Who made it.
    pub created_by: String,
    /// When it was made, by the clock of that time.
    pub created_at_ms: i64,
    /// Who changed it last.
    pub changed_by: String,
    /// When it was last changed, by the clock of that time.
    pub changed_at_ms: i64,
}

/// Which bikes have left the house.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HandedOver {
    /// Those with a day of hand-over, each with its last revision.
    pub out: Vec<(BuildId, i64)>,
    /// Those that are said to be finished and have no such day.
    pub finished_without: Vec<BuildId>,
    /// How many builds there are in all.
    pub builds: i64,
}

/// A build as it was last changed, with what it says in a few fields.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildLine {
    /// Its name.
    pub id: BuildId,
    /// The place of its last change in the whole log; later is larger.
    pub seq: i64,
    /// The number of its last revision.
    pub revision: i64,
    /// Who changed it last.
    pub changed_by: String,
    /// When, by the clock of that time.
    pub changed_at_ms: i64,
    /// Those of the fields asked for that have a text.
    pub leaves: BTreeMap<String, String>,
}

/// A build as it is now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildRecord {
    /// The number of its last revision.
    pub revision: i64,
    /// Every field and its text.
    pub leaves: BTreeMap<String, String>,
}

impl Store {
    /// Makes a build; its leaves are its first revision. The same request again gives the same build.
    ///
    /// Refuses a build without a leaf, a path twice, a `copied_from` that is not
    /// there, and a key that was used for something else.
    pub async fn create_build(&self, new: NewBuild<'_>, by: &By) -> Result<BuildId, EditError> {
        let changes: Vec<Change> = new
            .leaves
            .iter()
            .map(|(path, text)| Change { path: path.clone(), before: None, after: Some(text.clone()) })
            .collect();
        readable(&changes, by)?;
        patiently!(self, self.create_build_once(new.copied_from, &changes, by))
    }

    async fn create_build_once(
        &self,
        original: Option<&BuildId>,
        changes: &[Change],
        by: &By,
    ) -> Result<BuildId, EditError> {
        let mut tx = self.begin_writing().await?;
        in_time(self.engine(), async {
            match make(&mut tx, original, changes, by).await {
                Ok((id, Outcome::Written(_))) => {
                    committed(tx).await?;
                    Ok(id)
                }
                Ok((_, Outcome::Seen(first))) => {
                    let copied_from = copied_from(&mut tx, &first.build).await?;
                    tx.rollback().await?;
                    let same = first.revision == 1 && first.says(changes, by, None) && copied_from.as_ref() == original;
                    if same { Ok(first.build) } else { Err(EditError::KeyReused) }
                }
                Err(refusal) => Err(given_up(tx, refusal).await),
            }
        })
        .await
    }

    /// All builds, the one changed last first.
    pub async fn builds(&self) -> Result<Vec<BuildSummary>, StoreError> {
        let question = || {
            sqlx::query(
                "SELECT b.id, last.revision, b.copied_from, \
                    first.who AS created_by, first.at_ms AS created_at_ms, \
                    last.who AS changed_by, last.at_ms AS changed_at_ms \
             FROM builds b \
             JOIN revisions first ON first.build_id = b.id AND first.revision = 1 \
             JOIN revisions last ON last.build_id = b.id AND last.revision = \
                  (SELECT max(revision) FROM revisions WHERE build_id = b.id) \
             ORDER BY last.seq DESC",
            )
        };
        let rows = self.rows(question).await?;
        let summaries: Result<Vec<_>, sqlx::Error> = rows
            .iter()
            .map(|row| {
                Ok(BuildSummary {
                    id: BuildId::stored(row.try_get("id")?),
                    revision: row.try_get("revision")?,
                    copied_from: row.try_get::<Option<String>, _>("copied_from")?.map(BuildId::stored),
                    created_by: row.try_get("created_by")?,
                    created_at_ms: row.try_get("created_at_ms")?,
                    changed_by: row.try_get("changed_by")?,
                    changed_at_ms: row.try_get("changed_at_ms")?,
                })
            })
            .collect();
        Ok(summaries?)
    }

    /// The builds that have a day of hand-over, and those that are said to be finished and have none.
    ///
    /// Of everything a build holds these two paths alone are asked across all builds, so they alone are known here.
    pub async fn handed_over(&self) -> Result<HandedOver, StoreError> {
        // The path stands in the text, as the index of this path alone is found by it.
        const OUT: &str = "SELECT f.build_id, \
             (SELECT max(revision) FROM revisions WHERE build_id = f.build_id) AS revision \
             FROM fields f WHERE f.path = 'job.handed_over_on' ORDER BY f.build_id";
        const FINISHED: &str = "SELECT f.build_id FROM fields f WHERE f.path = 'job.stage' AND f.text = 'finished' \
             AND NOT EXISTS (SELECT 1 FROM fields h WHERE h.build_id = f.build_id AND h.path = 'job.handed_over_on') \
             ORDER BY f.build_id";
        let out = self.rows(|| sqlx::query(OUT)).await?;
        let out: Result<Vec<_>, sqlx::Error> =
            out.iter().map(|row| Ok((BuildId::stored(row.try_get("build_id")?), row.try_get("revision")?))).collect();
        let finished = self.rows(|| sqlx::query(FINISHED)).await?;
        let finished: Result<Vec<_>, sqlx::Error> =
            finished.iter().map(|row| Ok(BuildId::stored(row.try_get("build_id")?))).collect();
        let all = self.rows(|| sqlx::query("SELECT count(*) AS builds FROM builds")).await?;
        let builds = all.first().map(|row| row.try_get("builds")).transpose()?.unwrap_or(0);
        Ok(HandedOver { out: out?, finished_without: finished?, builds })
    }

    /// The builds changed after a place in the log, the one changed first first, with what each says in these fields; so
    /// many at most. Whoever asks again with the last one's place, until nothing comes, knows every build and can go on
    /// from there later: what was changed meanwhile comes again.
    pub async fn builds_after(&self, seq: i64, fields: &[&str], most: i64) -> Result<Vec<BuildLine>, StoreError> {
        // Each build stands at its last change alone. A field is looked up for each line by itself: no engine can come to
        // think that it were quicker to read all fields of all builds and throw most of them away.
        let texts: Vec<String> = (0..fields.len())
            .map(|at| {
                format!(", (SELECT text FROM fields WHERE build_id = r.build_id AND path = ${}) AS text_{at}", at + 3)
            })
            .collect();
        let text = format!(
            "SELECT r.build_id, r.seq, r.revision, r.who, r.at_ms{} FROM revisions r WHERE r.seq > $1 \
             AND r.revision = (SELECT max(revision) FROM revisions WHERE build_id = r.build_id) ORDER BY r.seq LIMIT $2",
            texts.concat()
        );
        let question = || {
            let question = sqlx::query(AssertSqlSafe(text.clone())).bind(seq).bind(most);
            fields.iter().fold(question, |question, field| question.bind((*field).to_owned()))
        };
        let mut lines = Vec::new();
        for row in self.rows(question).await? {
            let mut leaves = BTreeMap::new();
            for (at, field) in fields.iter().enumerate() {
                if let Some(text) = row.try_get(format!("text_{at}").as_str())? {
                    leaves.insert((*field).to_owned(), text);
                }
            }
            lines.push(BuildLine {
                id: BuildId::stored(row.try_get("build_id")?),
                seq: row.try_get("seq")?,
                revision: row.try_get("revision")?,
                changed_by: row.try_get("who")?,
                changed_at_ms: row.try_get("at_ms")?,
                leaves,
            });
        }
        Ok(lines)
    }

    /// Every field that says exactly this now, of all builds: the build and the path. Of the paths only those that meet a
    /// pattern, in which `%` stands for anything.
    pub async fn saying(&self, text: &str, path: &str) -> Result<Vec<(BuildId, String)>, StoreError> {
        let question = || {
            sqlx::query("SELECT build_id, path FROM fields WHERE text = $1 AND path LIKE $2 ORDER BY build_id, path")
                .bind(text)
                .bind(path)
        };
        let rows = self.rows(question).await?;
        let places = rows.iter().map(|row| Ok((BuildId::stored(row.try_get("build_id")?), row.try_get("path")?)));
        Ok(places.collect::<Result<_, sqlx::Error>>()?)
    }

    /// The number of a build's last revision; `None` if there is no such build.
    pub async fn revision(&self, build: &BuildId) -> Result<Option<i64>, StoreError> {
        let question =
            || sqlx::query("SELECT max(revision) AS revision FROM revisions WHERE build_id = $1").bind(build.as_str());
        let rows = self.rows(question).await?;
        Ok(rows.first().map(|row| row.try_get("revision")).transpose()?.flatten())
    }

    /// One build's leaves, as of one revision; `None` if there is no such build.
    pub async fn leaves(&self, build: &BuildId) -> Result<Option<BuildRecord>, StoreError> {
        // One statement sees one state: the number and the leaves belong together.
        let question = || {
            sqlx::query(
                "SELECT (SELECT max(revision) FROM revisions WHERE build_id = b.id) AS revision, f.path, f.text \
             FROM builds b LEFT JOIN fields f ON f.build_id = b.id WHERE b.id = $1",
            )
            .bind(build.as_str())
        };
        let rows = self.rows(question).await?;
        let Some(first) = rows.first() else {
            return Ok(None);
        };
        let revision = first.try_get("revision")?;
        let mut leaves = BTreeMap::new();
        for row in &rows {
            // A build whose fields were all taken away has one row without a path.
            if let Some(path) = row.try_get("path")? {
                leaves.insert(path, row.try_get("text")?);
            }
        }
        Ok(Some(BuildRecord { revision, leaves }))
    }
}

/// Writes the row of a new build and its first revision.
async fn make(
    connection: &mut sqlx::AnyConnection,
    copied_from: Option<&BuildId>,
    changes: &[Change],
    by: &By,
) -> Result<(BuildId, Outcome), EditError> {
    if let Some(original) = copied_from {
        let there = sqlx::query("SELECT id FROM builds WHERE id = $1")
            .bind(original.as_str())
            .fetch_optional(&mut *connection)
            .await?;
        if there.is_none() {
            return Err(EditError::NoSuchBuild(original.clone()));
        }
    }
    let id = take_a_name(connection, copied_from).await?;
    let revision = Revision { build: &id, changes, by, undoes: None };
    let outcome = recorded(connection, revision).await?;
    Ok((id, outcome))
}

/// Draws names until one is free and puts the build's row under it.
async fn take_a_name(
    connection: &mut sqlx::AnyConnection,
    copied_from: Option<&BuildId>,
) -> Result<BuildId, EditError> {
    for _ in 0..DRAWS {
        let id = BuildId::draw();
        let written = sqlx::query(
            "INSERT INTO builds (id, copied_from) VALUES ($1, $2) \
             ON CONFLICT (id) DO NOTHING",
        )
        .bind(id.as_str())
        .bind(copied_from.map(BuildId::as_str))
        .execute(&mut *connection)
        .await?;
        if written.rows_affected() == 1 {
            return Ok(id);
        }
    }
    Err(StoreError::NoFreeName.into())
}

/// The build that this one was copied from.
async fn copied_from(connection: &mut sqlx::AnyConnection, build: &BuildId) -> Result<Option<BuildId>, EditError> {
    let name: Option<String> = sqlx::query_scalar("SELECT copied_from FROM builds WHERE id = $1")
        .bind(build.as_str())
        .fetch_one(connection)
        .await?;
    Ok(name.map(BuildId::stored))
}
