//! What every page has at hand: the store, and the builds it worked out last.

use crate::loaded::Loaded;
use std::collections::BTreeMap;
use std::net::{IpAddr, SocketAddr};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use witnessmark_store::{BuildId, Store, StoreError};

/// The workshop on screen. Cloning it gives another handle to the same one.
#[derive(Clone, Debug)]
pub struct App {
    inner: Arc<Inner>,
    names: Arc<Names>,
}

#[derive(Debug)]
struct Inner {
    store: Store,
    /// The last state of each build that was worked out. A plan takes milliseconds; a list of builds needs all of them.
    last: Mutex<BTreeMap<BuildId, Arc<Loaded>>>,
}

/// The names under which a browser may ask for this program.
#[derive(Clone, Debug, Default)]
pub(crate) struct Names {
    /// The address it listens on.
    pub(crate) address: Option<IpAddr>,
    /// Names it was told about.
    pub(crate) told: Vec<String>,
}

impl App {
    /// The workshop of this store.
    pub fn new(store: Store) -> Self {
        let inner = Inner { store, last: Mutex::new(BTreeMap::new()) };
        App { inner: Arc::new(inner), names: Arc::default() }
    }

    /// Answers also to browsers that ask for this address. Without it, only to those that ask for this machine.
    #[must_use]
    pub fn listening_on(mut self, address: SocketAddr) -> Self {
        Arc::make_mut(&mut self.names).address = Some(address.ip());
        self
    }

    /// Answers also to browsers that ask for this name, such as the workshop's name for the machine.
    #[must_use]
    pub fn known_as(mut self, name: &str) -> Self {
        Arc::make_mut(&mut self.names).told.push(name.to_ascii_lowercase());
        self
    }

    pub(crate) fn store(&self) -> &Store {
        &self.inner.store
    }

    pub(crate) fn names(&self) -> &Names {
        &self.names
    }

    /// The build as it is now; `None` if there is no such build.
    pub(crate) async fn load(&self, id: &BuildId) -> Result<Option<Arc<Loaded>>, StoreError> {
        let Some(record) = self.store().leaves(id).await? else { return Ok(None) };
        if let Some(known) = self.last_of(id).filter(|known| known.revision == record.revision) {
            return Ok(Some(known));
        }
        Ok(Some(self.remember(Loaded::new(id.clone(), record))))
    }

    /// Keeps a state of a build as the last one, unless a later one is known already.
    pub(crate) fn remember(&self, loaded: Loaded) -> Arc<Loaded> {
        let loaded = Arc::new(loaded);
        let mut last = self.last();
        if last.get(&loaded.id).is_none_or(|known| known.revision < loaded.revision) {
            last.insert(loaded.id.clone(), Arc::clone(&loaded));
        }
        loaded
    }

    /// The build as it was when somebody last looked; no disk is asked.
    pub(crate) fn last_of(&self, id: &BuildId) -> Option<Arc<Loaded>> {
        self.last().get(id).cloned()
    }

    fn last(&self) -> MutexGuard<'_, BTreeMap<BuildId, Arc<Loaded>>> {
        // Whoever panicked while holding it left whole states behind: they are put in by one insert.
        self.inner.last.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
