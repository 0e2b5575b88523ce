//! The format of the file, step by step. Steps are numbered and never edited.

use sqlx::{AnyConnection, Connection};

use crate::StoreError;
use crate::engine::Engine;

/// All steps in order; the number of the last one is the format this version writes.
const STEPS: &[(i64, &str)] = &[
    (1, include_str!("../migrations/0001_builds.sql")),
    (2, include_str!("../migrations/0002_catalogue.sql")),
    (3, include_str!("../migrations/0003_people.sql")),
    (4, include_str!("../migrations/0004_handed_over.sql")),
];

/// Brings the file to this version's format, in one transaction.
///
/// Refuses a file that a newer version made, and one that holds somebody else's tables; both are left
/// as they were.
pub(crate) async fn migrate(connection: &mut AnyConnection, engine: Engine) -> Result<(), StoreError> {
    let mut tx = connection.begin_with(engine.begin_migrating()).await?;
    let done = match bring_up(&mut tx, engine).await {
        Ok(done) => done,
        Err(refusal) => {
            // The refusal is the news, whatever becomes of the rollback: the file is not used any further.
            let _ = tx.rollback().await;
            return Err(refusal);
        }
    };
    if done == 0 {
        tx.rollback().await?;
    } else {
        tx.commit().await?;
    }
    Ok(())
}

/// The format that this version writes.
pub(crate) fn newest() -> i64 {
    STEPS.last().map_or(0, |&(number, _)| number)
}

/// Takes the missing steps and says how many there were.
async fn bring_up(connection: &mut AnyConnection, engine: Engine) -> Result<usize, StoreError> {
    let found = format_of(connection, engine).await?;
    if found > newest() {
        return Err(StoreError::Newer { found, known: newest() });
    }
    // A file that cannot be written to would let a transaction begin, and fail at the first edit.
    sqlx::query("UPDATE schema_version SET number = number").execute(&mut *connection).await?;
    take_steps(connection, found, newest()).await
}

/// Makes empty tables of a format, where there are none.
pub(crate) async fn make_empty(connection: &mut AnyConnection, format: i64) -> Result<(), StoreError> {
    make_first_table(connection).await?;
    take_steps(connection, 0, format).await?;
    Ok(())
}

/// Takes the steps after one format up to another.
pub(crate) async fn take_steps(connection: &mut AnyConnection, after: i64, upto: i64) -> Result<usize, StoreError> {
    let mut done = 0;
    for &(number, text) in STEPS.iter().filter(|&&(number, _)| after < number && number <= upto) {
        sqlx::raw_sql(text).execute(&mut *connection).await?;
        sqlx::query("INSERT INTO schema_version (number) VALUES ($1)").bind(number).execute(&mut *connection).await?;
        done += 1;
    }
    Ok(done)
}

async fn make_first_table(connection: &mut AnyConnection) -> Result<(), StoreError> {
    sqlx::query("CREATE TABLE schema_version (number BIGINT NOT NULL PRIMARY KEY)").execute(connection).await?;
    Ok(())
}

/// The last step the file has taken; 0 for an empty file.
async fn format_of(connection: &mut AnyConnection, engine: Engine) -> Result<i64, StoreError> {
    let tables: i64 = sqlx::query_scalar(engine.count_tables()).fetch_one(&mut *connection).await?;
    if tables == 0 {
        make_first_table(connection).await?;
        return Ok(0);
    }
    // Tables, but not this one: a database of some other program.
    let found: Option<i64> = sqlx::query_scalar("SELECT max(number) FROM schema_version")
        .fetch_one(&mut *connection)
        .await
        .map_err(|cause| match StoreError::from(cause) {
            StoreError::Engine(_) => StoreError::NotAStore,
            other => other,
        })?;
    Ok(found.unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_steps_are_numbered_from_one_without_a_gap() {
        let numbers: Vec<i64> = STEPS.iter().map(|&(number, _)| number).collect();
        let expected: Vec<i64> = (1..).take(STEPS.len()).collect();
        assert_eq!(numbers, expected);
    }
}
