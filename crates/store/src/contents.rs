//! Everything that is kept, table by table: how many rows, and what they hash to.
//!
//! A hash is taken over every value of every row in the order of the table's key, so it is the same for the same data on
//! both engines, whatever they look like on the disk. The tables, their columns and their keys are read from the engine's
//! own list: a table that a later format adds is in every copy without anybody having to think of it.

use futures_util::TryStreamExt;
use sha2::{Digest, Sha256};
use sqlx::any::{Any, AnyArguments, AnyRow, AnyTypeInfoKind};
use sqlx::query::Query;
use sqlx::{AnyConnection, AssertSqlSafe, Column, Row, TypeInfo, ValueRef};

use crate::engine::Engine;
use crate::{Store, StoreError};

/// Who is signed in at this moment is no part of the workshop: a copy that was put back would let in again whoever was
/// shown out since.
const LEFT_OUT: &[&str] = &["sessions", "bench_codes"];
/// The format is told beside the tables, and a copy's manifest is about them.
const ABOUT: &[&str] = &["schema_version", MANIFEST, MANIFEST_TABLES];
/// When and of what a copy was made.
pub(crate) const MANIFEST: &str = "copy_manifest";
/// What is in a copy.
pub(crate) const MANIFEST_TABLES: &str = "copy_tables";

/// Everything that is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contents {
    /// The format.
    pub format: i64,
    /// Every table, by name.
    pub tables: Vec<TableContents>,
}

/// What is in one table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableContents {
    /// Its name.
    pub name: String,
    /// How many rows it has.
    pub rows: i64,
    /// The SHA-256 of all of them, in the order of its key.
    pub hash: String,
}

impl Store {
    /// Counts and hashes everything, as of one moment; people may go on writing.
    pub async fn contents(&self) -> Result<Contents, StoreError> {
        let mut tx = self.begin_looking().await?;
        let contents = contents(&mut tx, self.engine()).await?;
        tx.rollback().await?;
        Ok(contents)
    }
}

/// Counts and hashes everything that a transaction sees.
pub(crate) async fn contents(connection: &mut AnyConnection, engine: Engine) -> Result<Contents, StoreError> {
    let format = sqlx::query_scalar("SELECT max(number) FROM schema_version").fetch_one(&mut *connection).await?;
    let mut tables = Vec::new();
    for table in tables_of(connection, engine).await? {
        let mut hash = TableHash::default();
        let mut rows = sqlx::query(AssertSqlSafe(table.select(engine))).fetch(&mut *connection);
        while let Some(row) = rows.try_next().await? {
            hash.add(&values(&row)?);
        }
        drop(rows);
        tables.push(hash.told(&table.name));
    }
    Ok(Contents { format, tables })
}

/// A table as its engine describes it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Table {
    pub(crate) name: String,
    columns: Vec<(String, Kind)>,
    key: Vec<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Number,
    Text,
    Bytes,
}

/// One value of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Value {
    Nothing,
    Number(i64),
    Text(String),
    Bytes(Vec<u8>),
}

impl Value {
    /// About how much memory it takes.
    pub(crate) fn size(&self) -> usize {
        match self {
            Self::Nothing | Self::Number(_) => 8,
            Self::Text(text) => text.len(),
            Self::Bytes(bytes) => bytes.len(),
        }
    }
}

impl Table {
    /// Every row, in the order of the key.
    pub(crate) fn select(&self, engine: Engine) -> String {
        let names: Vec<&str> = self.columns.iter().map(|(name, _)| name.as_str()).collect();
        let order: Vec<String> = self
            .key
            .iter()
            .map(|key| {
                let is_text = self.columns.iter().any(|(name, kind)| name == key && *kind == Kind::Text);
                format!("{key}{}", if is_text { engine.by_bytes() } else { "" })
            })
            .collect();
        format!("SELECT {} FROM {} ORDER BY {}", names.join(", "), self.name, order.join(", "))
    }

    /// A statement that writes so many rows.
    pub(crate) fn insert(&self, rows: usize) -> String {
        let names: Vec<&str> = self.columns.iter().map(|(name, _)| name.as_str()).collect();
        let places = crate::catalogue::places(rows, names.len());
        format!("INSERT INTO {} ({}) VALUES {places}", self.name, names.join(", "))
    }

    /// Puts a row's values into a statement.
    pub(crate) fn bind<'q>(
        &self,
        mut query: Query<'q, Any, AnyArguments>,
        row: Vec<Value>,
    ) -> Query<'q, Any, AnyArguments> {
        for (value, (_, kind)) in row.into_iter().zip(&self.columns) {
            query = match (value, kind) {
                (Value::Number(number), _) => query.bind(number),
                (Value::Text(text), _) => query.bind(text),
                (Value::Bytes(bytes), _) => query.bind(bytes),
                // A server wants to know of what kind the missing value is.
                (Value::Nothing, Kind::Number) => query.bind(None::<i64>),
                (Value::Nothing, Kind::Text) => query.bind(None::<String>),
                (Value::Nothing, Kind::Bytes) => query.bind(None::<Vec<u8>>),
            };
        }
        query
    }
}

/// Every table that is part of the workshop, by name.
pub(crate) async fn tables_of(connection: &mut AnyConnection, engine: Engine) -> Result<Vec<Table>, StoreError> {
    let mut names: Vec<String> = sqlx::query_scalar(engine.table_names()).fetch_all(&mut *connection).await?;
    names.retain(|name| !LEFT_OUT.contains(&name.as_str()) && !ABOUT.contains(&name.as_str()));
    // Sorted here: two engines sort texts in two ways.
    names.sort();
    let mut tables = Vec::with_capacity(names.len());
    for name in names {
        let rows = sqlx::query(engine.columns()).bind(name.clone()).fetch_all(&mut *connection).await?;
        let mut columns = Vec::with_capacity(rows.len());
        for row in &rows {
            let (column, kind): (String, String) = (row.try_get("name")?, row.try_get("kind")?);
            let kind = match kind.to_ascii_lowercase().as_str() {
                "bigint" => Kind::Number,
                "text" => Kind::Text,
                "bytea" => Kind::Bytes,
                other => {
                    return Err(StoreError::UnknownColumn { column: format!("{name}.{column}"), kind: other.into() });
                }
            };
            columns.push((column, kind));
        }
        // The order of the columns is no part of the data.
        columns.sort();
        let key = sqlx::query_scalar(engine.key()).bind(name.clone()).fetch_all(&mut *connection).await?;
        tables.push(Table { name, columns, key });
    }
    Ok(tables)
}

/// The values of a row.
pub(crate) fn values(row: &AnyRow) -> Result<Vec<Value>, StoreError> {
    let mut values = Vec::with_capacity(row.columns().len());
    for (at, column) in row.columns().iter().enumerate() {
        let raw = row.try_get_raw(at)?;
        if raw.is_null() {
            values.push(Value::Nothing);
            continue;
        }
        let kind = raw.type_info().kind();
        values.push(match kind {
            kind if kind.is_integer() => Value::Number(row.try_get(at)?),
            AnyTypeInfoKind::Text => Value::Text(row.try_get(at)?),
            AnyTypeInfoKind::Blob => Value::Bytes(row.try_get(at)?),
            _ => {
                let kind = raw.type_info().name().to_owned();
                return Err(StoreError::UnknownColumn { column: column.name().to_owned(), kind });
            }
        });
    }
    Ok(values)
}

/// Rows, counted and hashed as they pass.
#[derive(Default)]
pub(crate) struct TableHash {
    rows: i64,
    hash: Sha256,
}

impl TableHash {
    pub(crate) fn add(&mut self, row: &[Value]) {
        self.rows += 1;
        for value in row {
            // What kind it is and how long comes first, so that no two rows run together into the same bytes.
            match value {
                Value::Nothing => self.hash.update([0]),
                Value::Number(number) => {
                    self.hash.update([1]);
                    self.hash.update(number.to_le_bytes());
                }
                Value::Text(text) => self.long(2, text.as_bytes()),
                Value::Bytes(bytes) => self.long(3, bytes),
            }
        }
    }

    fn long(&mut self, kind: u8, bytes: &[u8]) {
        self.hash.update([kind]);
        self.hash.update((bytes.len() as u64).to_le_bytes());
        self.hash.update(bytes);
    }

    pub(crate) fn told(self, name: &str) -> TableContents {
        let hash =
            self.hash.finalize().iter().fold(String::with_capacity(64), |text, byte| format!("{text}{byte:02x}"));
        TableContents { name: name.to_owned(), rows: self.rows, hash }
    }
}
