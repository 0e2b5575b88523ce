//! What every page has at hand: the store, the catalogue ready to be searched, and the builds it worked out last.

mod hands;
mod last;

pub(crate) use hands::{Mechanic, Owner};

use crate::catalogue::Catalogue;
use crate::computing::Computing;
use crate::copies::CopyFolder;
use crate::loaded::Loaded;
use crate::pages::{Completing, Import};
use crate::register::{Found, Line, Register, Sought};
use crate::sign_in::tries::Tries;
use last::{Last, State};
use std::collections::{BTreeMap, VecDeque};
use std::net::{IpAddr, SocketAddr};
use std::sync::{Arc, Mutex, PoisonError};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::task::JoinError;
use witnessmark_store::{BuildId, Looks, Store, StoreError};

/// The workshop on screen. Cloning it gives another handle to the same one.
#[derive(Clone, Debug)]
pub struct App {
    inner: Arc<Inner>,
    names: Arc<Names>,
    copies: Option<Arc<CopyFolder>>,
}

#[derive(Debug)]
struct Inner {
    /// In reach of the hands alone.
    store: Store,
    looks: Looks,
    /// The line before the cores.
    computing: Computing,
    /// The last state of the builds that were worked out last.
    last: Mutex<Last>,
    /// A line for each build, by which it is found.
    register: Register,
    /// The catalogue as it was when somebody last looked.
    catalogue: Mutex<Arc<Catalogue>>,
    /// Held by the one who reads the catalogue again; the others wait for what comes of it.
    reading: tokio::sync::Mutex<()>,
    /// Files that were shown and wait for a yes, the newest last.
    imports: Mutex<VecDeque<Arc<Import>>>,
    /// Searches for a complete list, under way or over, the newest last.
    completing: Mutex<VecDeque<Arc<Completing>>>,
    /// Who may search: two at a time, so that the machine has hands left for everybody else.
    turns: Arc<Semaphore>,
    /// How often somebody guessed at a password lately.
    tries: Tries,
    /// The service plans of the bikes that have left the house.
    due: crate::due::Known,
    /// Who looked at what, and in which hour that was last noted down.
    looked: Mutex<BTreeMap<(String, String), i64>>,
}

/// How many looks are remembered before all of them may be noted down again.
const LOOKS: usize = 4_096;
const HOUR_MS: i64 = 3_600_000;

/// The names under which a browser may ask for this program.
#[derive(Clone, Debug, Default)]
pub(crate) struct Names {
    /// The address it listens on.
    pub(crate) address: Option<IpAddr>,
    /// Names it was told about.
    pub(crate) told: Vec<String>,
    /// Whether it wants to know who asks.
    pub(crate) signs_in: bool,
    /// Whether it is reached over TLS.
    pub(crate) secure: bool,
}

impl App {
    /// The workshop of this store.
    pub fn new(store: Store) -> Self {
        let inner = Inner {
            looks: Looks::new(store.clone()),
            store,
            computing: Computing::default(),
            last: Mutex::default(),
            register: Register::default(),
            catalogue: Mutex::default(),
            reading: tokio::sync::Mutex::default(),
            imports: Mutex::default(),
            completing: Mutex::default(),
            turns: Arc::new(Semaphore::new(2)),
            tries: Tries::default(),
            due: crate::due::Known::default(),
            looked: Mutex::default(),
        };
        App { inner: Arc::new(inner), names: Arc::default(), copies: None }
    }

    /// Answers also to browsers that ask for this address. Without it, only to those that ask for this machine.
    ///
    /// From an address that others can reach, it wants to know who asks.
    #[must_use]
    pub fn listening_on(mut self, address: SocketAddr) -> Self {
        let names = Arc::make_mut(&mut self.names);
        names.address = Some(address.ip());
        names.signs_in |= !address.ip().is_loopback();
        self
    }

    /// Wants to know who asks, also on this machine alone: where another program stands before it and brings people in
    /// from elsewhere, or where several people use the machine.
    #[must_use]
    pub fn with_sign_in(mut self) -> Self {
        Arc::make_mut(&mut self.names).signs_in = true;
        self
    }

    /// It is reached over TLS, so its cookies never go in the clear.
    #[must_use]
    pub fn over_tls(mut self) -> Self {
        Arc::make_mut(&mut self.names).secure = true;
        self
    }

    /// Answers also to browsers that ask for this name, such as the workshop's name for the machine.
    #[must_use]
    pub fn known_as(mut self, name: &str) -> Self {
        Arc::make_mut(&mut self.names).told.push(name.to_ascii_lowercase());
        self
    }

    /// Keeps copies of the whole workshop in this folder.
    #[must_use]
    pub fn keeping_copies(mut self, folder: CopyFolder) -> Self {
        self.copies = Some(Arc::new(folder));
        self
    }

    pub(crate) fn copies(&self) -> Option<&CopyFolder> {
        self.copies.as_deref()
    }

    /// The store as everybody who is let in may use it: to look. Who writes asks for a hand: [`Mechanic`], [`Owner`].
    pub(crate) fn store(&self) -> &Looks {
        &self.inner.looks
    }

    pub(crate) fn names(&self) -> &Names {
        &self.names
    }

    /// The line before the cores.
    pub(crate) fn computing(&self) -> &Computing {
        &self.inner.computing
    }

    pub(crate) fn due(&self) -> &crate::due::Known {
        &self.inner.due
    }

    pub(crate) fn tries(&self) -> &Tries {
        &self.inner.tries
    }

    /// Whether this look has not been noted down within the hour. Then it counts as noted.
    pub(crate) fn names_a_new_look(&self, who: &str, what: &str, now_ms: i64) -> bool {
        let mut looks = self.inner.looked.lock().unwrap_or_else(PoisonError::into_inner);
        if looks.len() >= LOOKS {
            looks.clear();
        }
        let hour = now_ms.div_euclid(HOUR_MS);
        looks.insert((who.to_owned(), what.to_owned()), hour) != Some(hour)
    }

    /// Reads the catalogue and the log, which takes seconds where there is much: better now than when somebody waits for it.
    /// Should it fail, whoever asks first is told.
    pub(crate) fn make_ready(&self) {
        let app = self.clone();
        tokio::spawn(async move {
            let _ = app.catalogue().await;
            let _ = app.inner.register.catch_up(app.store()).await;
        });
    }

    /// Works something out beside the threads that answer. A plan, a page, a sheet: whatever takes a millisecond or more.
    pub(crate) async fn compute<T: Send + 'static>(&self, work: impl FnOnce() -> T + Send + 'static) -> T {
        self.inner.computing.done(work).await
    }

    /// The same for work that may stop in the middle: a library that meets a picture or a letter it did not expect.
    pub(crate) async fn try_compute<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, JoinError> {
        self.inner.computing.tried(work).await
    }

    /// The build as it is now; `None` if there is no such build. It is worked out once, however many ask.
    pub(crate) async fn load(&self, id: &BuildId) -> Result<Option<Arc<Loaded>>, StoreError> {
        let Some(revision) = self.store().revision(id).await? else { return Ok(None) };
        self.load_at(id, revision).await
    }

    /// The same for whoever knows already which revision is the last.
    pub(crate) async fn load_at(&self, id: &BuildId, revision: i64) -> Result<Option<Arc<Loaded>>, StoreError> {
        let catalogue = self.catalogue().await?;
        let place = self.with_last(|last| last.place(id, State::open(revision, catalogue.seq)));
        let worked_out = place.loaded.get_or_try_init(|| async {
            let record = self.store().leaves(id).await.map_err(Some)?.ok_or(None)?;
            let id = id.clone();
            Ok(self.compute(move || Arc::new(Loaded::new(id, record, catalogue))).await)
        });
        match worked_out.await {
            Ok(loaded) => Ok(Some(Arc::clone(loaded))),
            Err(None) => Ok(None),
            Err(Some(error)) => Err(error),
        }
    }

    /// The builds that are sought, as the log of edits is now. None of them is worked out.
    pub(crate) async fn find(&self, sought: Sought) -> Result<Found, StoreError> {
        self.inner.register.catch_up(self.store()).await?;
        let app = self.clone();
        Ok(self.compute(move || app.inner.register.find(&sought)).await)
    }

    /// The lines of these builds in the register, as the log of edits is now.
    pub(crate) async fn lines_of(&self, ids: &[BuildId]) -> Result<Vec<Arc<Line>>, StoreError> {
        self.inner.register.catch_up(self.store()).await?;
        Ok(ids.iter().filter_map(|id| self.inner.register.of(id)).collect())
    }

    /// The catalogue as it is now: read again if it has changed since somebody looked, whoever changed it.
    pub(crate) async fn catalogue(&self) -> Result<Arc<Catalogue>, StoreError> {
        let known = || Arc::clone(&self.inner.catalogue.lock().unwrap_or_else(PoisonError::into_inner));
        let is_new = |known: &Catalogue, seq: i64| known.seq == seq;
        let seq = self.store().catalogue_seq().await?;
        if is_new(&known(), seq) {
            return Ok(known());
        }
        let _turn = self.inner.reading.lock().await;
        // Asked before the parts are: if they change in between, the next one to look reads them again.
        let seq = self.store().catalogue_seq().await?;
        if is_new(&known(), seq) {
            return Ok(known());
        }
        let kept = self.store().catalogue(None).await?;
        let fresh = self.compute(move || Arc::new(Catalogue::new(seq, &kept))).await;
        *self.inner.catalogue.lock().unwrap_or_else(PoisonError::into_inner) = Arc::clone(&fresh);
        Ok(fresh)
    }

    /// Keeps files that were sent until somebody says yes to them; the oldest makes room.
    pub(crate) fn keep_import(&self, import: Import) -> Arc<Import> {
        const KEPT: usize = 4;
        let import = Arc::new(import);
        let mut imports = self.inner.imports.lock().unwrap_or_else(PoisonError::into_inner);
        if imports.len() >= KEPT {
            imports.pop_front();
        }
        imports.push_back(Arc::clone(&import));
        import
    }

    /// Files that were sent, by the key they were given.
    pub(crate) fn import(&self, key: &str) -> Option<Arc<Import>> {
        let imports = self.inner.imports.lock().unwrap_or_else(PoisonError::into_inner);
        imports.iter().find(|import| import.key == key).cloned()
    }

    /// The search that answers this question.
    pub(crate) fn completing(&self, of: &str) -> Option<Arc<Completing>> {
        let all = self.inner.completing.lock().unwrap_or_else(PoisonError::into_inner);
        all.iter().find(|one| one.of == of).cloned()
    }

    /// Keeps a search and its answer; the oldest makes room.
    pub(crate) fn keep_completing(&self, one: Arc<Completing>) {
        const KEPT: usize = 8;
        let mut all = self.inner.completing.lock().unwrap_or_else(PoisonError::into_inner);
        if all.len() >= KEPT {
            all.pop_front();
        }
        all.push_back(one);
    }

    /// A turn to search; `None` while others do.
    pub(crate) fn turn_to_complete(&self) -> Option<OwnedSemaphorePermit> {
        Arc::clone(&self.inner.turns).try_acquire_owned().ok()
    }

    /// Keeps a state of a build that was just worked out, unless a later one is known already.
    pub(crate) fn remember(&self, loaded: Arc<Loaded>) {
        let id = loaded.id.clone();
        self.with_last(|last| last.place(&id, State::worked_out(loaded)));
    }

    /// The build as it was when somebody last looked; no disk is asked.
    pub(crate) fn last_of(&self, id: &BuildId) -> Option<Arc<Loaded>> {
        self.with_last(|last| last.of(id))
    }

    fn with_last<T>(&self, doing: impl FnOnce(&mut Last) -> T) -> T {
        // Whoever panicked while holding it left whole states behind: they are put in by one insert.
        doing(&mut self.inner.last.lock().unwrap_or_else(PoisonError::into_inner))
    }
}
