//! The catalogue's log: where it stands, by which a reader notices that what it holds is old.

use crate::{Store, StoreError};
use sqlx::Row;

impl Store {
    /// The place in the log of the catalogue's last change; 0 where nothing was ever written. Whoever keeps a copy of the
    /// catalogue asks this, which takes a fraction of a millisecond, and reads everything again only when it has moved.
    pub async fn catalogue_seq(&self) -> Result<i64, StoreError> {
        let question = || sqlx::query("SELECT coalesce(max(seq), 0) AS seq FROM catalogue_changes");
        match self.rows(question).await?.first() {
            Some(row) => Ok(row.try_get("seq")?),
            None => Ok(0),
        }
    }
}
