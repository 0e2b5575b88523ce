//! A server may go away for a moment: what is safe to ask again is asked again.
//!
//! Safe are questions, and changes that carry a key: if the first try got through after all, the second finds its key
//! and gives the first one's answer. A change without a key is never sent twice; whoever sent it is told that its fate
//! is not known ([`StoreError::Unsure`]).
//!
//! A file does not go away, so there everything is asked once.

use std::time::{Duration, Instant};

use crate::engine::Engine;
use crate::{EditError, StoreError};

/// How long a server is waited for, all tries together.
const WAIT: Duration = Duration::from_secs(30);
/// How long one try may take. A line that went dead without a word would be waited for much longer by the system.
const ONE_TRY: Duration = Duration::from_secs(10);
/// The first pause; each next one is twice as long, up to the last.
const PAUSES: (Duration, Duration) = (Duration::from_millis(20), Duration::from_secs(1));

/// What is left of one request's patience.
#[derive(Debug)]
pub(crate) struct Patience {
    until: Instant,
    pause: Duration,
    may_hang_up: bool,
    /// Whether one of the tries may have been written.
    unsure: bool,
}

/// An error that may mean that the other end went away.
pub(crate) trait Away: Sized {
    /// The store's part of it.
    fn store_error(&self) -> Option<&StoreError>;
    /// The same error, where it is not known what became of an earlier try.
    fn unsure(self) -> Self;
    /// No answer within the time of one try.
    fn silent() -> Self;
}

impl Patience {
    pub(crate) fn new(engine: Engine) -> Self {
        Self { until: Instant::now() + WAIT, pause: PAUSES.0, may_hang_up: engine.may_hang_up(), unsure: false }
    }

    /// Waits a little and says `None` where another try is worth it; otherwise gives the answer back.
    pub(crate) async fn settled<T, E: Away>(&mut self, answer: Result<T, E>) -> Option<Result<T, E>> {
        let error = match answer {
            Err(error) if self.may_hang_up => error,
            answer => return Some(answer),
        };
        match error.store_error() {
            Some(StoreError::Away(_) | StoreError::Silent) => {}
            Some(StoreError::Unsure(_)) => self.unsure = true,
            _ => return Some(Err(error)),
        }
        if Instant::now() + self.pause >= self.until {
            return Some(Err(if self.unsure { error.unsure() } else { error }));
        }
        tokio::time::sleep(self.pause).await;
        self.pause = (self.pause * 2).min(PAUSES.1);
        None
    }
}

/// One try, cut short where a server says nothing.
pub(crate) async fn in_time<T, E: Away>(engine: Engine, work: impl Future<Output = Result<T, E>>) -> Result<T, E> {
    if !engine.may_hang_up() {
        return work.await;
    }
    tokio::time::timeout(ONE_TRY, work).await.unwrap_or_else(|_| Err(E::silent()))
}

impl Away for StoreError {
    fn store_error(&self) -> Option<&StoreError> {
        Some(self)
    }

    fn unsure(self) -> Self {
        match self {
            Self::Away(cause) => Self::Unsure(Some(cause)),
            Self::Silent => Self::Unsure(None),
            other => other,
        }
    }

    fn silent() -> Self {
        Self::Silent
    }
}

impl Away for EditError {
    fn store_error(&self) -> Option<&StoreError> {
        match self {
            Self::Store(error) => Some(error),
            _ => None,
        }
    }

    fn unsure(self) -> Self {
        match self {
            Self::Store(error) => Self::Store(error.unsure()),
            other => other,
        }
    }

    fn silent() -> Self {
        // The time may have run out during the commit.
        Self::Store(StoreError::Unsure(None))
    }
}

/// Tries a request again for as long as that is safe and of use.
macro_rules! patiently {
    ($store:expr, $work:expr) => {{
        let mut patience = $crate::patience::Patience::new($store.engine());
        loop {
            if let Some(answer) = patience.settled($work.await).await {
                break answer;
            }
        }
    }};
}
pub(crate) use patiently;
