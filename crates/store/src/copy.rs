//! A whole workshop, copied: into one file to be kept, out of it again, or from one engine to the other.
//!
//! A copy is taken in one look, while people go on writing. It is a file of `SQLite`'s whichever engine it was taken from,
//! with a manifest: the format, when it was made, and of each table how many rows it has and what they hash to. It counts
//! as made once it has been closed, opened again, looked through and found to say what its original says; until then it
//! has another name, so that a half copy is never taken for a whole one.
//!
//! Nothing is ever written over. What is put back is first made in the format it had, then brought to this version's.

use std::path::{Path, PathBuf};
use std::str::FromStr;

use futures_util::TryStreamExt;
use sqlx::any::{AnyConnectOptions, install_default_drivers};
use sqlx::{AnyConnection, AssertSqlSafe, ConnectOptions, Connection, Row};

use crate::contents::{
    Contents, MANIFEST, MANIFEST_TABLES, Table, TableContents, TableHash, Value, contents, tables_of, values,
};
use crate::engine::{Engine, Role};
use crate::migrate::{make_empty, newest, take_steps};
use crate::open::{Place, place, url_of};
use crate::verify::looked_through;
use crate::{HANDFUL, Store, StoreError, Verified};

/// The form of the manifest. It grows when an older program could not read a newer copy.
const FORM: i64 = 1;
/// How many bytes one statement carries at most, a single row apart.
const MOUTHFUL: usize = 1024 * 1024;

/// A copy, as its manifest describes it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CopyMade {
    /// When it was made, by the clock of that time.
    pub made_at_ms: i64,
    /// What is in it.
    pub contents: Contents,
}

/// A workshop that was made from another, and found to say the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Copied {
    /// What was copied, in the format it had.
    pub contents: Contents,
    /// The format it has now.
    pub format: i64,
    /// What was looked through in the new place.
    pub verified: Verified,
}

impl Store {
    /// Writes everything into one new file, and reads it back. People may go on writing; what they write meanwhile is not
    /// in it. Who is signed in is not copied.
    ///
    /// Refuses a name that is taken, and a copy that does not read back as what it was made from; then nothing of it is
    /// left.
    pub async fn backup(&self, file: &Path, made_at_ms: i64) -> Result<CopyMade, StoreError> {
        let new = NewFile::at(file)?;
        let mut look = self.begin_looking().await?;
        self.engine().take_long(&mut look).await?;
        let to = Target { url: url_of(&new.part)?, engine: Engine::Sqlite, says: file.display().to_string() };
        let contents = to.filled(&mut look, self.engine(), Made::Copy { made_at_ms }).await?;
        look.rollback().await?;
        let made = CopyMade { made_at_ms, contents };
        let read = read_copy(&new.part).await?;
        if read != made {
            return Err(StoreError::CopyDiffers { what: "its manifest".to_owned() });
        }
        protect(&new.part)?;
        new.keep()?;
        Ok(made)
    }
}

/// Reads a copy from its first row to its last, and compares it with its own manifest. The file is not touched.
///
/// Refuses a file that is no copy, that a newer version made, and one that is damaged.
pub async fn read_copy(file: &Path) -> Result<CopyMade, StoreError> {
    let mut connection = opened(file).await?;
    let made = looked_at(&mut connection).await;
    connection.close().await?;
    made
}

/// Puts a copy back, into a new file or an empty database, and brings it to this version's format.
///
/// Refuses what [`read_copy`] refuses, and a place that holds something; then nothing is there that was not before.
pub async fn restore(file: &Path, to: &str) -> Result<Copied, StoreError> {
    let mut connection = opened(file).await?;
    let made = looked_at(&mut connection).await?;
    let copied = made_new(&mut connection, Engine::Sqlite, to).await?;
    connection.close().await?;
    same(&made.contents, &copied.contents).map_err(|what| StoreError::CopyDamaged { what })?;
    Ok(copied)
}

/// Copies a whole workshop into a new file or an empty database. The old one stays as it is.
pub async fn move_workshop(from: &Store, to: &str) -> Result<Copied, StoreError> {
    let mut look = from.begin_looking().await?;
    from.engine().take_long(&mut look).await?;
    let copied = made_new(&mut look, from.engine(), to).await?;
    look.rollback().await?;
    Ok(copied)
}

/// Makes a workshop in a new place from what a transaction sees.
async fn made_new(source: &mut AnyConnection, engine: Engine, to: &str) -> Result<Copied, StoreError> {
    install_default_drivers();
    match place(to)? {
        Place::Server(url) => {
            let says = "The database".to_owned();
            let target = Target { url, engine: Engine::Postgres, says };
            target.copied(source, engine).await
        }
        Place::File(path) => {
            let new = NewFile::at(&path)?;
            let says = path.display().to_string();
            let target = Target { url: url_of(&new.part)?, engine: Engine::Sqlite, says };
            let copied = target.copied(source, engine).await?;
            new.keep()?;
            Ok(copied)
        }
    }
}

/// Where something new is made.
struct Target {
    url: String,
    engine: Engine,
    /// Its name, for people.
    says: String,
}

/// What it is to become.
#[derive(Clone, Copy)]
enum Made {
    /// A copy to be kept.
    Copy { made_at_ms: i64 },
    /// A workshop to work in.
    Workshop,
}

impl Target {
    /// Fills it, and looks it through on a new connection.
    async fn copied(&self, source: &mut AnyConnection, from: Engine) -> Result<Copied, StoreError> {
        let copied = self.filled(source, from, Made::Workshop).await?;
        let mut again = AnyConnection::connect(&self.url).await?;
        let verified = looked_through(&mut again, self.engine).await;
        let now = contents(&mut again, self.engine).await;
        again.close().await?;
        let (verified, now) = (verified?, now?);
        if now.format == copied.format {
            same(&copied, &now).map_err(|what| StoreError::CopyDiffers { what })?;
        }
        Ok(Copied { contents: copied, format: now.format, verified })
    }

    /// Copies every row, reads every row back, and commits: all or nothing.
    async fn filled(&self, source: &mut AnyConnection, from: Engine, made: Made) -> Result<Contents, StoreError> {
        let mut target = AnyConnection::connect(&self.url).await.map_err(|cause| match StoreError::from(cause) {
            // Its folder takes no new file: the sentence must say which, since there are two of them here.
            StoreError::Engine(cause) | StoreError::ReadOnly(cause) if self.engine == Engine::Sqlite => {
                StoreError::CannotOpen { path: PathBuf::from(&self.says), cause }
            }
            other => other,
        })?;
        if self.engine == Engine::Postgres {
            self.engine.settle(&mut target, Role::Writer).await?;
            self.engine.trusted(&mut target).await?;
        } else {
            // No log beside the file: it is one file when it is done.
            sqlx::raw_sql("PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON").execute(&mut target).await?;
        }
        let mut tx = target.begin_with(self.engine.begin_migrating()).await?;
        self.engine.take_long(&mut tx).await?;
        let tables: i64 = sqlx::query_scalar(self.engine.count_tables()).fetch_one(&mut *tx).await?;
        if tables != 0 {
            return Err(StoreError::Taken { what: self.says.clone() });
        }
        let format = sqlx::query_scalar("SELECT max(number) FROM schema_version").fetch_one(&mut *source).await?;
        if format > newest() {
            return Err(StoreError::Newer { found: format, known: newest() });
        }
        make_empty(&mut tx, format).await?;
        self.engine.look_at_references_later(&mut tx).await?;
        let there = tables_of(source, from).await?;
        if there != tables_of(&mut tx, self.engine).await? {
            return Err(StoreError::NotAStore);
        }
        let mut copied = Contents { format, tables: Vec::new() };
        for table in &there {
            copied.tables.push(poured(table, source, from, &mut tx).await?);
        }
        self.engine.look_at_references(&mut tx).await?;
        let read_back = contents(&mut tx, self.engine).await?;
        same(&copied, &read_back).map_err(|what| StoreError::CopyDiffers { what })?;
        match made {
            Made::Copy { made_at_ms } => sign(&mut tx, made_at_ms, &copied).await?,
            Made::Workshop => {
                take_steps(&mut tx, format, newest()).await?;
            }
        }
        committed_here(tx).await?;
        target.close().await?;
        Ok(copied)
    }
}

async fn committed_here(tx: sqlx::Transaction<'_, sqlx::Any>) -> Result<(), StoreError> {
    tx.commit().await.map_err(|cause| match StoreError::from(cause) {
        StoreError::Away(cause) => StoreError::Unsure(Some(cause)),
        other => other,
    })
}

/// Copies one table, and tells what passed.
async fn poured(
    table: &Table,
    source: &mut AnyConnection,
    from: Engine,
    target: &mut AnyConnection,
) -> Result<TableContents, StoreError> {
    let mut hash = TableHash::default();
    let mut rows = sqlx::query(AssertSqlSafe(table.select(from))).fetch(source);
    let mut hand: Vec<Vec<Value>> = Vec::with_capacity(HANDFUL);
    let mut size = 0;
    while let Some(row) = rows.try_next().await? {
        let row = values(&row)?;
        hash.add(&row);
        size += row.iter().map(Value::size).sum::<usize>();
        hand.push(row);
        if hand.len() == HANDFUL || size > MOUTHFUL {
            write(table, std::mem::take(&mut hand), target).await?;
            size = 0;
        }
    }
    drop(rows);
    if !hand.is_empty() {
        write(table, hand, target).await?;
    }
    Ok(hash.told(&table.name))
}

async fn write(table: &Table, rows: Vec<Vec<Value>>, target: &mut AnyConnection) -> Result<(), StoreError> {
    let text = table.insert(rows.len());
    let query = rows.into_iter().fold(sqlx::query(AssertSqlSafe(text)), |query, row| table.bind(query, row));
    query.execute(target).await?;
    Ok(())
}

/// Writes the manifest.
async fn sign(tx: &mut AnyConnection, made_at_ms: i64, contents: &Contents) -> Result<(), StoreError> {
    let text = format!(
        "CREATE TABLE {MANIFEST} (form BIGINT NOT NULL PRIMARY KEY, made_at_ms BIGINT NOT NULL, format BIGINT NOT NULL); \
         CREATE TABLE {MANIFEST_TABLES} (name TEXT NOT NULL PRIMARY KEY, row_count BIGINT NOT NULL, hash TEXT NOT NULL)"
    );
    sqlx::raw_sql(AssertSqlSafe(text)).execute(&mut *tx).await?;
    sqlx::query("INSERT INTO copy_manifest (form, made_at_ms, format) VALUES ($1, $2, $3)")
        .bind(FORM)
        .bind(made_at_ms)
        .bind(contents.format)
        .execute(&mut *tx)
        .await?;
    for table in &contents.tables {
        sqlx::query("INSERT INTO copy_tables (name, row_count, hash) VALUES ($1, $2, $3)")
            .bind(table.name.clone())
            .bind(table.rows)
            .bind(table.hash.clone())
            .execute(&mut *tx)
            .await?;
    }
    Ok(())
}

/// Opens a copy for reading alone.
async fn opened(file: &Path) -> Result<AnyConnection, StoreError> {
    install_default_drivers();
    if !file.is_file() {
        let cause = std::io::Error::from(std::io::ErrorKind::NotFound);
        return Err(StoreError::File { path: file.to_owned(), cause });
    }
    let url = url_of(file)?.replace("mode=rwc", "mode=ro");
    Ok(AnyConnectOptions::from_str(&url)?.connect().await?)
}

/// Reads the manifest, then everything, and compares.
async fn looked_at(connection: &mut AnyConnection) -> Result<CopyMade, StoreError> {
    let not_ours = |error: StoreError| match error {
        StoreError::NotAStore | StoreError::Engine(_) => StoreError::NotACopy,
        StoreError::Damaged { problems } => StoreError::CopyDamaged { what: problems.join(" ") },
        other => other,
    };
    let read = sqlx::query("SELECT form, made_at_ms, format FROM copy_manifest").fetch_one(&mut *connection).await;
    let read = read.map_err(|cause| not_ours(cause.into()))?;
    let (form, format): (i64, i64) = (read.try_get("form")?, read.try_get("format")?);
    if form > FORM || format > newest() {
        return Err(StoreError::Newer { found: format, known: newest() });
    }
    let problems = Engine::Sqlite.self_check(connection).await.map_err(|cause| not_ours(cause.into()))?;
    if let Some(problem) = problems.first() {
        return Err(StoreError::CopyDamaged { what: problem.trim_end_matches('.').to_owned() });
    }
    let rows = sqlx::query("SELECT name, row_count, hash FROM copy_tables").fetch_all(&mut *connection).await?;
    let mut said = Contents { format, tables: Vec::with_capacity(rows.len()) };
    for row in &rows {
        said.tables.push(TableContents {
            name: row.try_get("name")?,
            rows: row.try_get("row_count")?,
            hash: row.try_get("hash")?,
        });
    }
    said.tables.sort_by(|a, b| a.name.cmp(&b.name));
    let found = contents(connection, Engine::Sqlite).await.map_err(not_ours)?;
    same(&said, &found).map_err(|what| StoreError::CopyDamaged { what })?;
    Ok(CopyMade { made_at_ms: read.try_get("made_at_ms")?, contents: found })
}

/// Whether two say the same; the first difference in words where they do not.
fn same(one: &Contents, other: &Contents) -> Result<(), String> {
    if one.format != other.format {
        return Err(format!("format {} against {}", one.format, other.format));
    }
    let names = |contents: &Contents| contents.tables.iter().map(|table| table.name.clone()).collect::<Vec<_>>();
    if names(one) != names(other) {
        return Err("not the same tables".to_owned());
    }
    for (a, b) in one.tables.iter().zip(&other.tables) {
        if a.rows != b.rows {
            return Err(format!("{}: {} rows against {}", a.name, a.rows, b.rows));
        }
        if a.hash != b.hash {
            return Err(format!("{}: a row says something else", a.name));
        }
    }
    Ok(())
}

/// A file that has its name only once it is whole.
struct NewFile {
    path: PathBuf,
    part: PathBuf,
}

impl NewFile {
    /// Refuses a name that is taken.
    fn at(path: &Path) -> Result<Self, StoreError> {
        if path.exists() {
            return Err(StoreError::Taken { what: path.display().to_string() });
        }
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let part = path.with_file_name(format!(".{name}.{}.part", std::process::id()));
        let new = Self { path: path.to_owned(), part };
        // What an earlier process with the same number left there.
        new.clear();
        Ok(new)
    }

    /// Gives it its name, unless somebody else took it meanwhile.
    fn keep(self) -> Result<(), StoreError> {
        let refused = |cause| StoreError::File { path: self.path.clone(), cause };
        match std::fs::hard_link(&self.part, &self.path) {
            Ok(()) => {}
            Err(cause) if cause.kind() == std::io::ErrorKind::AlreadyExists => {
                return Err(StoreError::Taken { what: self.path.display().to_string() });
            }
            // A disk that knows no second names, such as a stick: the small gap between looking and naming stays.
            Err(_) if !self.path.exists() => std::fs::rename(&self.part, &self.path).map_err(refused)?,
            Err(cause) => return Err(refused(cause)),
        }
        // The name is on the disk when the folder is; a system that cannot sync a folder does so by itself.
        if let Some(folder) = self.path.parent().filter(|folder| !folder.as_os_str().is_empty())
            && let Ok(folder) = std::fs::File::open(folder)
        {
            let _ = folder.sync_all();
        }
        Ok(())
    }

    /// Takes away what has no name yet.
    fn clear(&self) {
        for ending in ["", "-journal", "-wal", "-shm"] {
            let mut name = self.part.clone().into_os_string();
            name.push(ending);
            let _ = std::fs::remove_file(name);
        }
    }
}

impl Drop for NewFile {
    fn drop(&mut self) {
        self.clear();
    }
}

/// A copy is read and never written, by nobody but its owner: the names of customers are in it.
fn protect(file: &Path) -> Result<(), StoreError> {
    let refused = |cause| StoreError::File { path: file.to_owned(), cause };
    #[cfg(unix)]
    let rights = std::os::unix::fs::PermissionsExt::from_mode(0o400);
    #[cfg(not(unix))]
    let rights = {
        let mut rights = std::fs::metadata(file).map_err(refused)?.permissions();
        rights.set_readonly(true);
        rights
    };
    std::fs::set_permissions(file, rights).map_err(refused)
}
