//! The catalogue: parts kept once, in versions.
//!
//! A part is a kind, an id and leaves (key and text, as a build's fields are): this room knows what none of them means. A
//! change of its leaves is a new version, and the old ones stay. How many lie on the shelf is kept beside it, with a log of
//! its own, because it changes daily and makes no part another part.
//!
//! Reading and writing go by the few hundred, so that an import of any length takes the memory of one handful.

use std::fmt::Write as _;

use sqlx::any::{Any, AnyArguments, AnyRow};
use sqlx::query::Query;
use sqlx::{AnyConnection, AssertSqlSafe, Row, Transaction};

use crate::edit::given_up;
use crate::open::committed;
use crate::{EditError, Store, StoreError};

/// How many rows one statement writes or asks for: enough that its own cost is spread. More would be slower: the engine
/// finds each value's name (`$1`) by going along a list of them, so that a statement's cost grows as the square of its rows.
pub const HANDFUL: usize = 64;

/// A part as it is now.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CataloguePart {
    /// Its kind.
    pub kind: String,
    /// Its id among the parts of its kind.
    pub id: String,
    /// The number of its newest version, from 1.
    pub version: i64,
    /// How many lie on the shelf; `None` where nobody counts.
    pub stock: Option<i64>,
    /// Its facts: key and text as typed.
    pub leaves: Vec<(String, String)>,
}

/// A version of a part, as it came about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CatalogueVersion {
    /// Its number, from 1.
    pub version: i64,
    /// Its facts: key and text as typed.
    pub leaves: Vec<(String, String)>,
    /// Who made it.
    pub who: String,
    /// When, by the clock of that time.
    pub at_ms: i64,
    /// The file it came from, or where it was typed.
    pub source: String,
}

/// Who changes the catalogue, when, and from what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CatalogueBy {
    /// Who it is.
    pub who: String,
    /// The caller's clock, in milliseconds since 1970. It is kept, and orders nothing.
    pub at_ms: i64,
    /// The file the parts come from, or where they were typed.
    pub source: String,
}

/// A part to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CatalogueEdit {
    /// As it is to be. Its version is one more than before where its facts are new, and the same where they are not.
    pub part: CataloguePart,
    /// Whether its facts are a new version.
    pub new_facts: bool,
    /// Whether the number on the shelf is said anew.
    pub new_stock: bool,
}

/// A change of the catalogue under way: nothing of it is seen by others, or on the disk, before [`CatalogueChange::commit`].
#[derive(Debug)]
pub struct CatalogueChange {
    tx: Transaction<'static, Any>,
    by: CatalogueBy,
    /// Its place in the log, once something was written.
    seq: Option<i64>,
}

impl Store {
    /// Every part as it is now, or those of one kind, by kind and id.
    pub async fn catalogue(&self, kind: Option<&str>) -> Result<Vec<CataloguePart>, StoreError> {
        let of_kind = if kind.is_some() { "WHERE p.kind = $1 " } else { "" };
        let by_bytes = self.engine().by_bytes();
        let text = format!("{SELECT_PARTS}{of_kind}ORDER BY p.kind{by_bytes}, p.part{by_bytes}");
        let question = || {
            let query = sqlx::query(AssertSqlSafe(text.clone()));
            match kind {
                Some(kind) => query.bind(kind.to_owned()),
                None => query,
            }
        };
        self.rows(question).await?.iter().map(part).collect()
    }

    /// Those of the named parts of a kind that are there.
    pub async fn catalogue_named(&self, kind: &str, ids: &[&str]) -> Result<Vec<CataloguePart>, StoreError> {
        let mut found = Vec::new();
        for ids in ids.chunks(HANDFUL) {
            let text = named(ids.len());
            let question = || bound(sqlx::query(AssertSqlSafe(text.clone())), kind, ids);
            let rows = self.rows(question).await?;
            found.extend(rows.iter().map(part).collect::<Result<Vec<_>, _>>()?);
        }
        Ok(found)
    }

    /// Every version of a part, the oldest first; none if there is no such part.
    pub async fn catalogue_versions(&self, kind: &str, id: &str) -> Result<Vec<CatalogueVersion>, StoreError> {
        let question = || {
            sqlx::query(
                "SELECT v.version, v.facts, c.who, c.at_ms, c.source FROM catalogue_versions v \
                 JOIN catalogue_changes c ON c.seq = v.change_seq \
                 WHERE v.kind = $1 AND v.part = $2 ORDER BY v.version",
            )
            .bind(kind.to_owned())
            .bind(id.to_owned())
        };
        let rows = self.rows(question).await?;
        let versions: Result<Vec<_>, sqlx::Error> = rows
            .iter()
            .map(|row| {
                Ok(CatalogueVersion {
                    version: row.try_get("version")?,
                    leaves: leaves(row.try_get("facts")?),
                    who: row.try_get("who")?,
                    at_ms: row.try_get("at_ms")?,
                    source: row.try_get("source")?,
                })
            })
            .collect();
        Ok(versions?)
    }

    /// Begins a change of the catalogue. It holds the only pen until it is committed or given up: whoever wants to ask a
    /// person first asks before.
    pub async fn change_catalogue(&self, by: CatalogueBy) -> Result<CatalogueChange, StoreError> {
        Ok(CatalogueChange { tx: self.begin_writing().await?, by, seq: None })
    }
}

impl CatalogueChange {
    /// Those of the named parts of a kind that are there, with what this change has written so far.
    pub async fn named(&mut self, kind: &str, ids: &[&str]) -> Result<Vec<CataloguePart>, StoreError> {
        let mut found = Vec::new();
        for ids in ids.chunks(HANDFUL) {
            let text = named(ids.len());
            let rows = bound(sqlx::query(AssertSqlSafe(text)), kind, ids).fetch_all(&mut *self.tx).await?;
            found.extend(rows.iter().map(part).collect::<Result<Vec<_>, _>>()?);
        }
        Ok(found)
    }

    /// The place in the log at which the catalogue stands, without what this change has written: nobody else can move it
    /// while this change holds the pen.
    pub async fn stands_at(&mut self) -> Result<i64, StoreError> {
        if let Some(seq) = self.seq {
            return Ok(seq - 1);
        }
        let last = sqlx::query_scalar("SELECT coalesce(max(seq), 0) FROM catalogue_changes");
        Ok(last.fetch_one(&mut *self.tx).await?)
    }

    /// Writes parts. Refuses a version that is there already or leaves a gap, and a text that cannot be kept; then the
    /// change is good for nothing but giving up.
    pub async fn write(&mut self, edits: &[CatalogueEdit]) -> Result<(), EditError> {
        for edit in edits {
            readable(&edit.part)?;
        }
        for edits in edits.chunks(HANDFUL) {
            let seq = self.seq().await?;
            self.write_parts(edits).await?;
            self.write_versions(edits, seq).await?;
            self.write_stock(edits, seq).await?;
        }
        Ok(())
    }

    /// Ends the change: it is on the disk when this returns. Says its place in the catalogue's log, or `None` where nothing
    /// was written.
    pub async fn commit(self) -> Result<Option<i64>, StoreError> {
        if self.seq.is_some() {
            committed(self.tx).await?;
        } else {
            self.tx.rollback().await?;
        }
        Ok(self.seq)
    }

    /// Takes everything back that the change has written.
    pub async fn give_up(self) {
        // The engine may have taken it back by itself already, when the disk was full.
        let _ = given_up(self.tx, EditError::NothingNamed).await;
    }

    /// The change's place in the log, taken at its first writing.
    async fn seq(&mut self) -> Result<i64, StoreError> {
        if let Some(seq) = self.seq {
            return Ok(seq);
        }
        let seq: i64 = sqlx::query_scalar(
            "INSERT INTO catalogue_changes (seq, who, at_ms, source) \
             SELECT coalesce(max(seq), 0) + 1, $1, $2, $3 FROM catalogue_changes RETURNING seq",
        )
        .bind(self.by.who.clone())
        .bind(self.by.at_ms)
        .bind(self.by.source.clone())
        .fetch_one(&mut *self.tx)
        .await?;
        self.seq = Some(seq);
        Ok(seq)
    }

    async fn write_parts(&mut self, edits: &[CatalogueEdit]) -> Result<(), StoreError> {
        let text = format!(
            "INSERT INTO catalogue_parts (kind, part, version, stock) VALUES {} \
             ON CONFLICT (kind, part) DO UPDATE SET version = excluded.version, stock = excluded.stock",
            places(edits.len(), 4)
        );
        let mut query = sqlx::query(AssertSqlSafe(text));
        for CatalogueEdit { part, .. } in edits {
            query = query.bind(part.kind.clone()).bind(part.id.clone()).bind(part.version).bind(part.stock);
        }
        query.execute(&mut *self.tx).await?;
        Ok(())
    }

    async fn write_versions(&mut self, edits: &[CatalogueEdit], seq: i64) -> Result<(), StoreError> {
        let edits: Vec<&CatalogueEdit> = edits.iter().filter(|edit| edit.new_facts).collect();
        if edits.is_empty() {
            return Ok(());
        }
        let text = format!(
            "INSERT INTO catalogue_versions (kind, part, version, change_seq, facts) VALUES {}",
            places(edits.len(), 5)
        );
        let mut query = sqlx::query(AssertSqlSafe(text));
        for CatalogueEdit { part, .. } in edits {
            query = query
                .bind(part.kind.clone())
                .bind(part.id.clone())
                .bind(part.version)
                .bind(seq)
                .bind(lines(&part.leaves));
        }
        query.execute(&mut *self.tx).await?;
        Ok(())
    }

    async fn write_stock(&mut self, edits: &[CatalogueEdit], seq: i64) -> Result<(), StoreError> {
        let edits: Vec<&CatalogueEdit> = edits.iter().filter(|edit| edit.new_stock).collect();
        if edits.is_empty() {
            return Ok(());
        }
        let text = format!(
            "INSERT INTO catalogue_stock (kind, part, change_seq, stock) VALUES {} \
             ON CONFLICT (kind, part, change_seq) DO UPDATE SET stock = excluded.stock",
            places(edits.len(), 4)
        );
        let mut query = sqlx::query(AssertSqlSafe(text));
        for CatalogueEdit { part, .. } in edits {
            query = query.bind(part.kind.clone()).bind(part.id.clone()).bind(seq).bind(part.stock);
        }
        query.execute(&mut *self.tx).await?;
        Ok(())
    }
}

const SELECT_PARTS: &str = "SELECT p.kind, p.part, p.version, p.stock, v.facts FROM catalogue_parts p \
     JOIN catalogue_versions v ON v.kind = p.kind AND v.part = p.part AND v.version = p.version ";

fn named(count: usize) -> String {
    let mut text = format!("{SELECT_PARTS}WHERE p.kind = $1 AND p.part IN (");
    for place in 0..count {
        let comma = if place == 0 { "" } else { ", " };
        let _ = write!(text, "{comma}${}", place + 2);
    }
    text.push(')');
    text
}

fn bound<'q>(query: Query<'q, Any, AnyArguments>, kind: &str, ids: &[&str]) -> Query<'q, Any, AnyArguments> {
    ids.iter().fold(query.bind(kind.to_owned()), |query, id| query.bind((*id).to_owned()))
}

/// `($1, $2), ($3, $4)`: so many rows of so many values.
pub(crate) fn places(rows: usize, columns: usize) -> String {
    let mut text = String::with_capacity(rows * columns * 8);
    for row in 0..rows {
        text.push_str(if row == 0 { "(" } else { ", (" });
        for column in 0..columns {
            let comma = if column == 0 { "" } else { ", " };
            let _ = write!(text, "{comma}${}", row * columns + column + 1);
        }
        text.push(')');
    }
    text
}

fn part(row: &AnyRow) -> Result<CataloguePart, StoreError> {
    Ok(CataloguePart {
        kind: row.try_get("kind")?,
        id: row.try_get("part")?,
        version: row.try_get("version")?,
        stock: row.try_get("stock")?,
        leaves: leaves(row.try_get("facts")?),
    })
}

/// Refuses, before anything is asked of the disk, what could never be kept.
fn readable(part: &CataloguePart) -> Result<(), EditError> {
    let texts = part.leaves.iter().flat_map(|(key, text)| [key, text]);
    let named = !part.kind.is_empty() && !part.id.is_empty() && part.leaves.iter().all(|(key, _)| !key.is_empty());
    // PostgreSQL keeps no NUL character in a text.
    if named && ![&part.kind, &part.id].into_iter().chain(texts).any(|text| text.contains('\0')) {
        Ok(())
    } else {
        Err(EditError::NotText { path: format!("{}.{}", part.kind, part.id).replace('\0', "") })
    }
}

/// Leaves as one text: a fact a line, key, tab, text. A tab, a line end or a backslash in a text is written with a
/// backslash before it.
fn lines(leaves: &[(String, String)]) -> String {
    let mut text = String::with_capacity(leaves.iter().map(|(key, typed)| key.len() + typed.len() + 2).sum());
    for (key, typed) in leaves {
        escape(key, &mut text);
        text.push('\t');
        escape(typed, &mut text);
        text.push('\n');
    }
    text
}

/// The leaves of such a text.
fn leaves(text: &str) -> Vec<(String, String)> {
    text.lines()
        .map(|line| {
            let (key, typed) = line.split_once('\t').unwrap_or((line, ""));
            (plain(key), plain(typed))
        })
        .collect()
}

fn escape(from: &str, to: &mut String) {
    for sign in from.chars() {
        match sign {
            '\\' => to.push_str("\\\\"),
            '\t' => to.push_str("\\t"),
            '\n' => to.push_str("\\n"),
            '\r' => to.push_str("\\r"),
            other => to.push(other),
        }
    }
}

fn plain(escaped: &str) -> String {
    if !escaped.contains('\\') {
        return escaped.to_owned();
    }
    let mut text = String::with_capacity(escaped.len());
    let mut signs = escaped.chars();
    while let Some(sign) = signs.next() {
        let meant = if sign == '\\' { signs.next() } else { Some(sign) };
        text.extend(match (sign, meant) {
            ('\\', Some('t')) => Some('\t'),
            ('\\', Some('n')) => Some('\n'),
            ('\\', Some('r')) => Some('\r'),
            (_, meant) => meant,
        });
    }
    text
}

/// Looks through the catalogue: versions must run from 1 without a gap, and the parts must be the sum of their logs.
pub(crate) async fn look_at_catalogue(
    connection: &mut AnyConnection,
    problems: &mut Vec<String>,
) -> Result<(), StoreError> {
    let gaps = sqlx::query(
        "SELECT p.kind, p.part, p.version FROM catalogue_parts p \
         LEFT JOIN catalogue_versions v ON v.kind = p.kind AND v.part = p.part \
         GROUP BY p.kind, p.part, p.version \
         HAVING count(v.version) <> p.version OR min(v.version) <> 1 OR max(v.version) <> p.version",
    )
    .fetch_all(&mut *connection)
    .await?;
    for row in &gaps {
        let (kind, part, version): (String, String, i64) =
            (row.try_get("kind")?, row.try_get("part")?, row.try_get("version")?);
        problems.push(format!("Catalogue: the versions of {kind} {part} do not run from 1 to {version}."));
    }
    let miscounted = sqlx::query(
        "SELECT p.kind, p.part FROM catalogue_parts p WHERE coalesce(p.stock, -1) <> coalesce( \
            (SELECT s.stock FROM catalogue_stock s WHERE s.kind = p.kind AND s.part = p.part \
             ORDER BY s.change_seq DESC LIMIT 1), -1)",
    )
    .fetch_all(&mut *connection)
    .await?;
    for row in &miscounted {
        let (kind, part): (String, String) = (row.try_get("kind")?, row.try_get("part")?);
        problems.push(format!("Catalogue: the stock of {kind} {part} is not what its log says."));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn any_leaves_come_back_as_they_were(leaves in prop::collection::vec((".+", any::<String>()), 0..6)) {
            prop_assert_eq!(super::leaves(&lines(&leaves)), leaves);
        }
    }

    #[test]
    fn a_statement_holds_as_many_values_as_rows_times_columns() {
        assert_eq!(places(2, 3), "($1, $2, $3), ($4, $5, $6)");
        assert!(named(3).ends_with("p.kind = $1 AND p.part IN ($2, $3, $4)"));
    }
}
