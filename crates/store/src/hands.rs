//! Three hands on the store, one a role. A hand lacks what its role may not do, so no page can do it by mistake.
//!
//! ```no_run
//! # async fn f(store: witnessmark_store::Store, id: witnessmark_store::BuildId, by: witnessmark_store::By)
//! # -> Result<(), Box<dyn std::error::Error>> {
//! use witnessmark_store::{Looks, Owns, Works};
//! let viewer = Looks::new(store.clone());
//! viewer.leaves(&id).await?;
//! let mechanic = Works::new(store.clone());
//! mechanic.leaves(&id).await?;
//! mechanic.undo(&id, 2, &by).await?;
//! let owner = Owns::new(store);
//! owner.undo(&id, 2, &by).await?;
//! owner.store().ledger(None, 10).await?;
//! # Ok(()) }
//! ```
//!
//! A viewer has no way to write:
//!
//! ```compile_fail,E0599
//! # async fn f(viewer: witnessmark_store::Looks, id: witnessmark_store::BuildId, by: witnessmark_store::By) {
//! viewer.undo(&id, 2, &by).await;
//! # }
//! ```
//!
//! ```compile_fail,E0599
//! # async fn f(viewer: witnessmark_store::Looks, id: witnessmark_store::BuildId, by: witnessmark_store::By) {
//! viewer.edit(&id, &[], &by).await;
//! # }
//! ```
//!
//! And a mechanic none to the people, the ledger and the rest of the store:
//!
//! ```compile_fail,E0599
//! # async fn f(mechanic: witnessmark_store::Works) {
//! mechanic.store();
//! # }
//! ```

use std::ops::Deref;

use crate::{
    Applied, BuildId, BuildLine, BuildRecord, BuildSummary, By, CatalogueBy, CatalogueChange, CataloguePart,
    CatalogueVersion, Change, EditError, EditRow, HandedOver, NewBuild, NewUpload, Size, Store, StoreError, Upload,
    UploadError,
};

/// The hand of a viewer: looks.
#[derive(Clone, Debug)]
pub struct Looks(Store);

/// The hand of a mechanic: looks and writes.
#[derive(Clone, Debug)]
pub struct Works(Looks);

/// The hand of an owner: the whole store.
#[derive(Clone, Debug)]
pub struct Owns(Works);

impl Looks {
    /// A hand that looks.
    pub fn new(store: Store) -> Self {
        Looks(store)
    }

    /// See [`Store::builds`].
    pub async fn builds(&self) -> Result<Vec<BuildSummary>, StoreError> {
        self.0.builds().await
    }

    /// See [`Store::handed_over`].
    pub async fn handed_over(&self) -> Result<HandedOver, StoreError> {
        self.0.handed_over().await
    }

    /// See [`Store::builds_after`].
    pub async fn builds_after(&self, seq: i64, fields: &[&str], most: i64) -> Result<Vec<BuildLine>, StoreError> {
        self.0.builds_after(seq, fields, most).await
    }

    /// See [`Store::saying`].
    pub async fn saying(&self, text: &str, path: &str) -> Result<Vec<(BuildId, String)>, StoreError> {
        self.0.saying(text, path).await
    }

    /// See [`Store::revision`].
    pub async fn revision(&self, build: &BuildId) -> Result<Option<i64>, StoreError> {
        self.0.revision(build).await
    }

    /// See [`Store::leaves`].
    pub async fn leaves(&self, build: &BuildId) -> Result<Option<BuildRecord>, StoreError> {
        self.0.leaves(build).await
    }

    /// See [`Store::history`].
    pub async fn history(&self, build: &BuildId, path: &str) -> Result<Vec<EditRow>, StoreError> {
        self.0.history(build, path).await
    }

    /// See [`Store::recent`].
    pub async fn recent(&self, build: &BuildId, limit: i64) -> Result<Vec<EditRow>, StoreError> {
        self.0.recent(build, limit).await
    }

    /// See [`Store::catalogue`].
    pub async fn catalogue(&self, kind: Option<&str>) -> Result<Vec<CataloguePart>, StoreError> {
        self.0.catalogue(kind).await
    }

    /// See [`Store::catalogue_named`].
    pub async fn catalogue_named(&self, kind: &str, ids: &[&str]) -> Result<Vec<CataloguePart>, StoreError> {
        self.0.catalogue_named(kind, ids).await
    }

    /// See [`Store::catalogue_versions`].
    pub async fn catalogue_versions(&self, kind: &str, id: &str) -> Result<Vec<CatalogueVersion>, StoreError> {
        self.0.catalogue_versions(kind, id).await
    }

    /// See [`Store::catalogue_seq`].
    pub async fn catalogue_seq(&self) -> Result<i64, StoreError> {
        self.0.catalogue_seq().await
    }

    /// See [`Store::uploads`].
    pub async fn uploads(&self, build: &BuildId) -> Result<Vec<Upload>, StoreError> {
        self.0.uploads(build).await
    }

    /// See [`Store::upload`].
    pub async fn upload(&self, build: &BuildId, id: &str, size: Size) -> Result<Option<(String, Vec<u8>)>, StoreError> {
        self.0.upload(build, id, size).await
    }
}

impl Works {
    /// A hand that looks and writes.
    pub fn new(store: Store) -> Self {
        Works(Looks(store))
    }

    /// See [`Store::create_build`].
    pub async fn create_build(&self, new: NewBuild<'_>, by: &By) -> Result<BuildId, EditError> {
        self.0.0.create_build(new, by).await
    }

    /// See [`Store::edit`].
    pub async fn edit(&self, build: &BuildId, changes: &[Change], by: &By) -> Result<Applied, EditError> {
        self.0.0.edit(build, changes, by).await
    }

    /// See [`Store::undo`].
    pub async fn undo(&self, build: &BuildId, revision: i64, by: &By) -> Result<Applied, EditError> {
        self.0.0.undo(build, revision, by).await
    }

    /// See [`Store::change_catalogue`].
    pub async fn change_catalogue(&self, by: CatalogueBy) -> Result<CatalogueChange, StoreError> {
        self.0.0.change_catalogue(by).await
    }

    /// See [`Store::add_uploads`].
    pub async fn add_uploads(&self, several: &[NewUpload<'_>], by: &By) -> Result<Vec<String>, UploadError> {
        self.0.0.add_uploads(several, by).await
    }

    /// See [`Store::remove_upload`].
    pub async fn remove_upload(&self, build: &BuildId, id: &str, by: &By) -> Result<bool, StoreError> {
        self.0.0.remove_upload(build, id, by).await
    }
}

impl Deref for Works {
    type Target = Looks;

    fn deref(&self) -> &Looks {
        &self.0
    }
}

impl Owns {
    /// The whole store in one hand.
    pub fn new(store: Store) -> Self {
        Owns(Works::new(store))
    }

    /// The store itself: people, sessions, the ledger, copies, erasing.
    pub fn store(&self) -> &Store {
        &self.0.0.0
    }
}

impl Deref for Owns {
    type Target = Works;

    fn deref(&self) -> &Works {
        &self.0
    }
}
