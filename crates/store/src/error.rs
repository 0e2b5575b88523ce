//! What can go wrong with keeping, in sentences a mechanic can act on.

use std::path::PathBuf;

use sqlx::sqlite::SqliteError;

use crate::BuildId;

/// The store cannot do its work. What the engine said is the error's source, for the log.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum StoreError {
    /// Another program holds the file.
    #[error(
        "The workshop's file is held by another program. Nothing was written; close the other program or wait a moment, then try again."
    )]
    Locked(#[source] sqlx::Error),

    /// More requests are waiting for the file than can be served in time.
    #[error("Too many requests are waiting for the workshop's file. Nothing was written; try again in a moment.")]
    Crowded(#[source] sqlx::Error),

    /// The file, or the folder it is in, does not take writing.
    #[error(
        "The workshop's file cannot be written to. Nothing was written; check that the file and its folder belong to whoever runs this program."
    )]
    ReadOnly(#[source] sqlx::Error),

    /// No room left on the disk.
    #[error("The disk is full. Nothing was written; make room, then try again.")]
    DiskFull(#[source] sqlx::Error),

    /// The disk failed to read or write.
    #[error("The disk could not read or write the workshop's file. Copy the file to another disk before going on.")]
    Disk(#[source] sqlx::Error),

    /// The file cannot be opened at all.
    #[error("The file {path} cannot be opened. Check its name and that its folder can be reached.")]
    CannotOpen {
        /// The file that was asked for.
        path: PathBuf,
        /// What the engine said.
        #[source]
        cause: sqlx::Error,
    },

    /// The folder of the file does not exist or cannot be entered.
    #[error("There is no folder {folder} to keep the workshop's file in. Make it first.")]
    NoFolder {
        /// The folder that was looked for.
        folder: PathBuf,
        /// What the operating system said.
        #[source]
        cause: std::io::Error,
    },

    /// The file's name is not readable text.
    #[error("The file's name {0:?} is not plain text. Give it a name in letters and digits.")]
    NameNotText(PathBuf),

    /// The address names an engine this program was made without.
    #[error("This program cannot keep its data in \"{scheme}\". Give the name of a file.")]
    NoSuchEngine {
        /// The part of the address before the colon.
        scheme: String,
    },

    /// The file is something else.
    #[error("The file is not a workshop's file, so it was left as it is. Check the name, or give a new one.")]
    NotAStore,

    /// The file was written by a newer version of this program.
    #[error(
        "The workshop's file has format {found}; this version knows formats up to {known}. It was left as it is; install the newer version to open it."
    )]
    Newer {
        /// The format the file says it has.
        found: i64,
        /// The newest format this version knows.
        known: i64,
    },

    /// The file contradicts itself.
    #[error("The workshop's file is damaged; keep it, and restore the last backup. {}", .problems.join(" "))]
    Damaged {
        /// Each contradiction, in a sentence.
        problems: Vec<String>,
    },

    /// Every name drawn for a new build was taken, which chance alone does not bring about.
    #[error("No free name for the new build was found. Nothing was written; try again.")]
    NoFreeName,

    /// The store was closed before.
    #[error("The workshop's file has been closed.")]
    Closed(#[source] sqlx::Error),

    /// Anything else the engine refused.
    #[error("The workshop's file could not be used: {0}")]
    Engine(#[source] sqlx::Error),
}

/// A revision was not written. Nothing of it was.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum EditError {
    /// Somebody else changed one of the fields meanwhile.
    #[error("{}", .0.iter().map(Clash::sentence).collect::<Vec<_>>().join(" "))]
    Clash(Vec<Clash>),

    /// There is no such build.
    #[error("There is no build {0}.")]
    NoSuchBuild(BuildId),

    /// The build has no such revision.
    #[error("Build {build} has no change number {revision}.")]
    NoSuchRevision {
        /// The build.
        build: BuildId,
        /// The revision that was asked for.
        revision: i64,
    },

    /// The key of the request was used before, for something else.
    #[error(
        "This request was sent before with other content, so it was not written. Look at the build as it is now and send it anew."
    )]
    KeyReused,

    /// The request has no key, or an unreadable key or name.
    #[error("The request does not say which request it is, so it was not written.")]
    KeyMissing,

    /// No change was named.
    #[error("Nothing was to be changed.")]
    NothingNamed,

    /// A change would leave its field as it is.
    #[error("The field {path} already says that.")]
    AlreadySo {
        /// The field.
        path: String,
    },

    /// One field was named twice in one request.
    #[error("The field {path} was named twice in one change.")]
    NamedTwice {
        /// The field.
        path: String,
    },

    /// A path or a text cannot be kept: the path is empty, or there is a NUL character in it.
    #[error("The field \"{path}\" cannot be kept: its name is empty, or an invisible character slipped in.")]
    NotText {
        /// The field, without the character.
        path: String,
    },

    /// The store could not do its work.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// A field that is no longer what the change took it for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// The field.
    pub path: String,
    /// What it says now.
    pub found: Option<String>,
    /// What the change took it to say.
    pub wanted_before: Option<String>,
    /// What the change would have made of it.
    pub yours: Option<String>,
    /// Who changed it last; `None` if nobody ever did.
    pub last_change: Option<LastChange>,
}

/// Who changed a field last, and when by the clock of that time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LastChange {
    /// Who it was.
    pub who: String,
    /// When, in milliseconds since 1970.
    pub at_ms: i64,
    /// The revision that did it.
    pub revision: i64,
}

impl Clash {
    /// Both texts and the other person's name, for the one who has to choose.
    fn sentence(&self) -> String {
        let quoted = |text: &Option<String>| match text {
            Some(text) => format!("\"{text}\""),
            None => "nothing".to_owned(),
        };
        let who = match &self.last_change {
            Some(last) => format!(" (by {})", last.who),
            None => String::new(),
        };
        format!(
            "{} now says {}{who}; you started from {} and wanted {}.",
            self.path,
            quoted(&self.found),
            quoted(&self.wanted_before),
            quoted(&self.yours),
        )
    }
}

impl From<sqlx::Error> for StoreError {
    fn from(cause: sqlx::Error) -> Self {
        match &cause {
            sqlx::Error::PoolTimedOut => Self::Crowded(cause),
            sqlx::Error::PoolClosed | sqlx::Error::WorkerCrashed => Self::Closed(cause),
            sqlx::Error::Io(_) => Self::Disk(cause),
            sqlx::Error::Database(said) => match sqlite_code(said.as_ref()) {
                Some(sqlite::BUSY | sqlite::LOCKED) => Self::Locked(cause),
                Some(sqlite::READONLY | sqlite::PERM) => Self::ReadOnly(cause),
                Some(sqlite::FULL) => Self::DiskFull(cause),
                Some(sqlite::IOERR) => Self::Disk(cause),
                Some(sqlite::NOTADB) => Self::NotAStore,
                Some(sqlite::CORRUPT) => {
                    Self::Damaged { problems: vec![format!("The engine says: {}.", said.message())] }
                }
                _ => Self::Engine(cause),
            },
            _ => Self::Engine(cause),
        }
    }
}

impl From<sqlx::Error> for EditError {
    fn from(cause: sqlx::Error) -> Self {
        Self::Store(cause.into())
    }
}

/// `SQLite`'s primary result codes, as its manual numbers them.
mod sqlite {
    pub(super) const PERM: i64 = 3;
    pub(super) const BUSY: i64 = 5;
    pub(super) const LOCKED: i64 = 6;
    pub(super) const READONLY: i64 = 8;
    pub(super) const IOERR: i64 = 10;
    pub(super) const CORRUPT: i64 = 11;
    pub(super) const FULL: i64 = 13;
    pub(super) const NOTADB: i64 = 26;
}

/// The primary code: the low byte of the extended one.
fn sqlite_code(said: &dyn sqlx::error::DatabaseError) -> Option<i64> {
    let error = said.try_downcast_ref::<SqliteError>()?;
    let extended: i64 = sqlx::error::DatabaseError::code(error)?.parse().ok()?;
    Some(extended & 0xff)
}
