//! Where computing happens: on threads of its own, as many at a time as the machine has cores. Who comes first is first.
//!
//! A plan, a page and a sheet take milliseconds of a core each. The threads that answer are few, and while one of them
//! computes, everything else that it has in hand waits: other people's answers, and the next step of a change that holds
//! the store's only pen, so that everybody who wants to write waits behind it. So the threads that answer fetch and send,
//! and what is to be worked out between the two is handed over by [`crate::app::App::compute`]. Pictures, which need much
//! memory, and searches, which take seconds, stand in shorter lines of their own (`crate::uploads`, `crate::pages`).

use crate::sign_in;
use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::Arc;
use std::thread::available_parallelism;
use tokio::sync::Semaphore;
use tokio::task::{JoinError, spawn_blocking};

/// The line before the cores.
#[derive(Debug)]
pub(crate) struct Computing {
    turns: Arc<Semaphore>,
}

impl Default for Computing {
    fn default() -> Self {
        let cores = available_parallelism().map_or(1, NonZero::get);
        Computing { turns: Arc::new(Semaphore::new(cores)) }
    }
}

impl Computing {
    /// Does the work when its turn has come. Whoever asks for the page is known to the work too.
    ///
    /// Work that has begun is done to its end, also for somebody who went away; work that has not is not begun for them.
    pub(crate) async fn done<T: Send + 'static>(&self, work: impl FnOnce() -> T + Send + 'static) -> T {
        self.tried(work).await.unwrap_or_else(|stopped| resume_unwind(stopped.into_panic()))
    }

    /// The same for work that may stop in the middle, which is to be told of.
    pub(crate) async fn tried<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, JoinError> {
        // The line is never closed, so there is always a turn.
        let turn = Arc::clone(&self.turns).acquire_owned().await;
        let asks = sign_in::asks();
        let worked = spawn_blocking(move || {
            let _turn = turn;
            asks.while_doing(work)
        });
        worked.await
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering::SeqCst};
    use std::sync::mpsc;

    #[tokio::test]
    async fn no_more_is_worked_at_a_time_than_there_are_turns_and_everything_is_done() {
        let computing = Arc::new(Computing { turns: Arc::new(Semaphore::new(2)) });
        let (now, most) = (Arc::new(AtomicUsize::new(0)), Arc::new(AtomicUsize::new(0)));
        let work = |number: usize| {
            let (computing, now, most) = (Arc::clone(&computing), Arc::clone(&now), Arc::clone(&most));
            tokio::spawn(async move {
                let worked = computing.done(move || {
                    most.fetch_max(now.fetch_add(1, SeqCst) + 1, SeqCst);
                    std::thread::yield_now();
                    now.fetch_sub(1, SeqCst);
                    number
                });
                worked.await
            })
        };
        let all: Vec<_> = (0..50).map(work).collect();
        for (number, one) in all.into_iter().enumerate() {
            assert_eq!(one.await.ok(), Some(number));
        }
        assert!(most.load(SeqCst) <= 2, "{most:?}");
    }

    #[tokio::test]
    async fn the_thread_that_answers_goes_on_while_work_is_done() {
        let computing = Arc::new(Computing::default());
        let (go, waits) = mpsc::channel();
        let work = tokio::spawn(async move { computing.done(move || waits.recv().is_ok()).await });
        // This runtime has one thread; if the work stood on it, nobody would ever say go.
        tokio::task::yield_now().await;
        assert!(go.send(()).is_ok());
        assert_eq!(work.await.ok(), Some(true));
    }

    #[tokio::test]
    async fn work_that_stops_in_the_middle_stops_only_the_one_who_asked_and_gives_its_turn_back() {
        let computing = Arc::new(Computing { turns: Arc::new(Semaphore::new(1)) });
        let other = Arc::clone(&computing);
        let stopped = tokio::spawn(async move { other.done(|| resume_unwind(Box::new("stopped"))).await });
        let stopped: Result<(), _> = stopped.await;
        assert!(stopped.is_err_and(|error| error.is_panic()));
        assert_eq!(computing.done(|| 7).await, 7);
    }
}
