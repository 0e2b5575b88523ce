//! Pictures and documents of a build, kept in the data itself, so that a copy of the data has them.
//!
//! Bytes are kept under the SHA-256 of themselves. What somebody called the file is nowhere a path, and is not kept. What
//! the bytes are, whether they are safe to show, and how large a picture may be is the caller's to find out; how much
//! there may be in all is held here.

use sqlx::{AnyConnection, Row};

use crate::ledger::{self, Noted};
use crate::open::committed;
use crate::secret::{draw_token, sha256};
use crate::{BuildId, By, Store, StoreError};

/// How much there may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Quota {
    /// Bytes of all uploads together.
    pub whole_bytes: i64,
    /// Uploads of one build.
    pub per_build: i64,
}

impl Default for Quota {
    /// Eight gigabytes, and five hundred for one build: two hundred bikes with forty photos of a megabyte each.
    fn default() -> Self {
        Self { whole_bytes: 8 * 1024 * 1024 * 1024, per_build: 500 }
    }
}

/// Bytes, and what they are by their content.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Content<'a> {
    /// `image/jpeg`, `application/pdf` ….
    pub kind: &'a str,
    /// The bytes.
    pub bytes: &'a [u8],
}

/// Something to be kept with a build.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NewUpload<'a> {
    /// The build.
    pub build: &'a BuildId,
    /// The number, step or part it shows; empty for the whole bike.
    pub place: &'a str,
    /// What somebody wrote beside it.
    pub note: &'a str,
    /// The picture or document.
    pub content: Content<'a>,
    /// The picture made small.
    pub small: Option<Content<'a>>,
    /// How much there may be.
    pub quota: Quota,
}

/// Something that is kept with a build.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Upload {
    /// By which it is asked for.
    pub id: String,
    /// The build.
    pub build: BuildId,
    /// The number, step or part it shows; empty for the whole bike.
    pub place: String,
    /// What somebody wrote beside it.
    pub note: String,
    /// What it is.
    pub kind: String,
    /// How many bytes it has.
    pub size: i64,
    /// The SHA-256 of its bytes.
    pub hash: String,
    /// Whether there is a small picture of it.
    pub has_small: bool,
    /// Who brought it.
    pub who: String,
    /// When, by the clock of that time.
    pub at_ms: i64,
}

/// Which of the two pictures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// As it was brought.
    Whole,
    /// Made small, for a list.
    Small,
}

/// Something was not kept. Nothing of it was.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum UploadError {
    /// There is no such build.
    #[error("There is no build {0}.")]
    NoSuchBuild(BuildId),
    /// The build has its fill.
    #[error("This build has {0} pictures and documents, and may have no more. Remove some first.")]
    TooMany(i64),
    /// The workshop has its fill.
    #[error("Pictures and documents fill the {0} MB set aside for them. Nothing was kept; remove some first.")]
    Full(i64),
    /// An invisible character slipped in.
    #[error("The note or the place has a character in it that cannot be kept.")]
    NotText,
    /// The store could not do its work.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl From<sqlx::Error> for UploadError {
    fn from(cause: sqlx::Error) -> Self {
        Self::Store(cause.into())
    }
}

const SELECT: &str = "SELECT u.id, u.build_id, u.place, u.note, u.hash, u.small_hash, u.who, u.at_ms, b.kind, b.size \
                      FROM uploads u JOIN blobs b ON b.hash = u.hash WHERE u.build_id = $1 ORDER BY u.at_ms, u.id";

impl Store {
    /// Keeps a picture or a document: all of it or nothing, and on the disk when this returns its id. The same request
    /// again gives the same id.
    pub async fn add_upload(&self, new: NewUpload<'_>, by: &By) -> Result<String, UploadError> {
        Ok(self.add_uploads(&[new], by).await?.remove(0))
    }

    /// Keeps several, as [`Store::add_upload`] does one: all of them or none, in one transaction. Their ids come in the
    /// same order.
    pub async fn add_uploads(&self, several: &[NewUpload<'_>], by: &By) -> Result<Vec<String>, UploadError> {
        let texts = several.iter().flat_map(|new| [new.place, new.note]).chain([by.who.as_str(), &by.request_key]);
        if texts.into_iter().any(|text| text.contains('\0')) {
            return Err(UploadError::NotText);
        }
        let drawn: Result<Vec<String>, StoreError> = several.iter().map(|_| Ok(draw_token()?.split_off(48))).collect();
        let drawn = drawn?;
        let mut tx = self.begin_writing().await?;
        let mut kept = Vec::new();
        for (at, (new, id)) in several.iter().zip(drawn).enumerate() {
            // Each is known again by a key of its own.
            let request_key = if at == 0 { by.request_key.clone() } else { format!("{}-{at}", by.request_key) };
            match added(&mut tx, &id, *new, &By { request_key, ..by.clone() }).await {
                Ok(id) => kept.push(id),
                Err(refusal) => {
                    let _ = tx.rollback().await;
                    return Err(refusal);
                }
            }
        }
        committed(tx).await?;
        Ok(kept)
    }

    /// What is kept with a build, the oldest first.
    pub async fn uploads(&self, build: &BuildId) -> Result<Vec<Upload>, StoreError> {
        let rows = self.rows(|| sqlx::query(SELECT).bind(build.as_str())).await?;
        let uploads: Result<Vec<_>, sqlx::Error> = rows
            .iter()
            .map(|row| {
                Ok(Upload {
                    id: row.try_get("id")?,
                    build: BuildId::stored(row.try_get("build_id")?),
                    place: row.try_get("place")?,
                    note: row.try_get("note")?,
                    kind: row.try_get("kind")?,
                    size: row.try_get("size")?,
                    hash: row.try_get("hash")?,
                    has_small: row.try_get::<Option<String>, _>("small_hash")?.is_some(),
                    who: row.try_get("who")?,
                    at_ms: row.try_get("at_ms")?,
                })
            })
            .collect();
        Ok(uploads?)
    }

    /// The bytes of an upload of a build, and what they are; `None` if there is no such upload or no small picture of it.
    pub async fn upload(&self, build: &BuildId, id: &str, size: Size) -> Result<Option<(String, Vec<u8>)>, StoreError> {
        const WHOLE: &str = "SELECT b.kind, b.bytes FROM uploads u JOIN blobs b ON b.hash = u.hash \
                             WHERE u.build_id = $1 AND u.id = $2";
        const SMALL: &str = "SELECT b.kind, b.bytes FROM uploads u JOIN blobs b ON b.hash = u.small_hash \
                             WHERE u.build_id = $1 AND u.id = $2";
        let text = if size == Size::Whole { WHOLE } else { SMALL };
        let id = id.replace('\0', "");
        let rows = self.rows(|| sqlx::query(text).bind(build.as_str()).bind(id.clone())).await?;
        let Some(row) = rows.first() else { return Ok(None) };
        Ok(Some((row.try_get("kind")?, row.try_get("bytes")?)))
    }

    /// Removes an upload for good, its bytes too unless another upload has the same, and notes down who did. Says whether
    /// there was one.
    pub async fn remove_upload(&self, build: &BuildId, id: &str, by: &By) -> Result<bool, StoreError> {
        let mut tx = self.begin_writing().await?;
        let gone = removed(&mut tx, build, &id.replace('\0', "")).await?;
        if gone {
            let noted =
                Noted { who: &by.who, did: "removed a picture or document of", what: build.as_str(), at_ms: by.at_ms };
            ledger::write(&mut tx, noted).await?;
        }
        committed(tx).await?;
        Ok(gone)
    }

    /// How many bytes all uploads have together.
    pub async fn uploads_bytes(&self) -> Result<i64, StoreError> {
        let rows = self.rows(|| sqlx::query(TAKEN)).await?;
        Ok(rows.first().map(|row| row.try_get("taken")).transpose()?.unwrap_or(0))
    }
}

const TAKEN: &str = "SELECT CAST(coalesce(sum(size), 0) AS BIGINT) AS taken FROM blobs";

async fn added(connection: &mut AnyConnection, id: &str, new: NewUpload<'_>, by: &By) -> Result<String, UploadError> {
    let first: Option<String> = sqlx::query_scalar("SELECT id FROM uploads WHERE request_key = $1")
        .bind(by.request_key.clone())
        .fetch_optional(&mut *connection)
        .await?;
    if let Some(first) = first {
        return Ok(first);
    }
    let build = sqlx::query("SELECT id FROM builds WHERE id = $1").bind(new.build.as_str());
    if build.fetch_optional(&mut *connection).await?.is_none() {
        return Err(UploadError::NoSuchBuild(new.build.clone()));
    }
    let there: i64 = sqlx::query_scalar("SELECT count(*) FROM uploads WHERE build_id = $1")
        .bind(new.build.as_str())
        .fetch_one(&mut *connection)
        .await?;
    if new.quota.per_build <= there {
        return Err(UploadError::TooMany(there));
    }
    let hash = keep(connection, new.content).await?;
    let small_hash = match new.small {
        Some(small) => Some(keep(connection, small).await?),
        None => None,
    };
    let taken: i64 = sqlx::query_scalar(TAKEN).fetch_one(&mut *connection).await?;
    if new.quota.whole_bytes < taken {
        return Err(UploadError::Full(new.quota.whole_bytes / 1_000_000));
    }
    sqlx::query(
        "INSERT INTO uploads (id, build_id, place, note, hash, small_hash, who, at_ms, request_key) \
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
    )
    .bind(id.to_owned())
    .bind(new.build.as_str())
    .bind(new.place.to_owned())
    .bind(new.note.to_owned())
    .bind(hash)
    .bind(small_hash)
    .bind(by.who.clone())
    .bind(by.at_ms)
    .bind(by.request_key.clone())
    .execute(connection)
    .await?;
    Ok(id.to_owned())
}

/// Keeps bytes once, and gives their hash.
async fn keep(connection: &mut AnyConnection, content: Content<'_>) -> Result<String, StoreError> {
    let hash = sha256(content.bytes);
    sqlx::query("INSERT INTO blobs (hash, kind, size, bytes) VALUES ($1, $2, $3, $4) ON CONFLICT (hash) DO NOTHING")
        .bind(hash.clone())
        .bind(content.kind.to_owned())
        .bind(i64::try_from(content.bytes.len()).unwrap_or(i64::MAX))
        .bind(content.bytes.to_vec())
        .execute(connection)
        .await?;
    Ok(hash)
}

/// Takes an upload away, and the bytes that nothing points at any more.
pub(crate) async fn removed(connection: &mut AnyConnection, build: &BuildId, id: &str) -> Result<bool, StoreError> {
    let gone = sqlx::query("DELETE FROM uploads WHERE build_id = $1 AND id = $2")
        .bind(build.as_str())
        .bind(id.to_owned())
        .execute(&mut *connection)
        .await?;
    if gone.rows_affected() == 0 {
        return Ok(false);
    }
    sqlx::query(
        "DELETE FROM blobs WHERE NOT EXISTS \
         (SELECT 1 FROM uploads u WHERE u.hash = blobs.hash OR u.small_hash = blobs.hash)",
    )
    .execute(connection)
    .await?;
    Ok(true)
}

/// Holds the bytes against their hashes.
pub(crate) async fn look_at_blobs(
    connection: &mut AnyConnection,
    problems: &mut Vec<String>,
) -> Result<(), StoreError> {
    let hashes: Vec<String> =
        sqlx::query_scalar("SELECT hash FROM blobs ORDER BY hash").fetch_all(&mut *connection).await?;
    for hash in hashes {
        let bytes: Vec<u8> = sqlx::query_scalar("SELECT bytes FROM blobs WHERE hash = $1")
            .bind(hash.clone())
            .fetch_one(&mut *connection)
            .await?;
        if sha256(&bytes) != hash {
            problems.push(format!(
                "A picture or document is not what it was when it was kept ({}…).",
                &hash[..8.min(hash.len())]
            ));
        }
    }
    Ok(())
}
