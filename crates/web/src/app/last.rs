//! The builds that were worked out last: as many as a workshop has in hand, not as many as it has ever built. Each state
//! of a build is worked out once, by the first who asks for it; whoever asks meanwhile waits for the same.

use crate::loaded::Loaded;
use std::collections::BTreeMap;
use std::sync::Arc;
use tokio::sync::OnceCell;
use witnessmark_store::BuildId;

/// How many are kept.
const MOST: usize = 400;

/// A build at a revision, beside a catalogue: worked out, or about to be.
#[derive(Debug)]
pub(super) struct State {
    revision: i64,
    catalogue: i64,
    /// The build, once it is worked out.
    pub(super) loaded: OnceCell<Arc<Loaded>>,
}

impl State {
    /// A state that is to be worked out.
    pub(super) fn open(revision: i64, catalogue: i64) -> Self {
        State { revision, catalogue, loaded: OnceCell::new() }
    }

    /// A state that is worked out.
    pub(super) fn worked_out(loaded: Arc<Loaded>) -> Self {
        let (revision, catalogue) = (loaded.revision, loaded.catalogue.seq);
        State { revision, catalogue, loaded: OnceCell::new_with(Some(loaded)) }
    }

    fn stands(&self) -> (i64, i64) {
        (self.revision, self.catalogue)
    }
}

/// The states worked out last, each with the turn at which somebody asked for it.
#[derive(Debug, Default)]
pub(super) struct Last {
    builds: BTreeMap<BuildId, (u64, Arc<State>)>,
    turn: u64,
}

impl Last {
    /// The last state of a build that is worked out.
    pub(super) fn of(&mut self, id: &BuildId) -> Option<Arc<Loaded>> {
        self.turn += 1;
        let (asked, state) = self.builds.get_mut(id)?;
        *asked = self.turn;
        state.loaded.get().map(Arc::clone)
    }

    /// The place of a state, or of a later one that is here already. The one that nobody asked for longest makes room.
    pub(super) fn place(&mut self, id: &BuildId, state: State) -> Arc<State> {
        self.turn += 1;
        let new = Arc::new(state);
        let (asked, kept) = self.builds.entry(id.clone()).or_insert_with(|| (0, Arc::clone(&new)));
        *asked = self.turn;
        if kept.stands() < new.stands() {
            *kept = new;
        }
        let kept = Arc::clone(kept);
        if self.builds.len() > MOST {
            let longest = self.builds.iter().min_by_key(|(_, (asked, _))| *asked).map(|(id, _)| id.clone());
            longest.and_then(|id| self.builds.remove(&id));
        }
        kept
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;
    use witnessmark_store::BuildRecord;

    fn name(at: usize) -> BuildId {
        let letters = b"0123456789abcdefghjkmnpqrstvwxyz";
        let name: String = (0..8).map(|place| char::from(letters[(at >> (5 * place)) % 32])).collect();
        name.parse().unwrap()
    }

    fn worked_out(at: usize, revision: i64) -> State {
        let record = BuildRecord { revision, leaves: BTreeMap::new() };
        State::worked_out(Arc::new(Loaded::new(name(at), record, Arc::default())))
    }

    #[test]
    fn the_build_that_nobody_asked_for_longest_is_let_go() {
        let mut last = Last::default();
        for at in 0..MOST {
            last.place(&name(at), worked_out(at, 1));
        }
        assert!(last.of(&name(0)).is_some(), "asked for, so the next one is now the oldest");
        last.place(&name(MOST), worked_out(MOST, 1));
        assert!(last.of(&name(0)).is_some() && last.of(&name(MOST)).is_some());
        assert!(last.of(&name(1)).is_none());
        assert_eq!(last.builds.len(), MOST);
    }

    #[test]
    fn who_comes_with_an_older_state_finds_the_later_one_and_who_comes_with_the_same_finds_its_place() {
        let mut last = Last::default();
        let first = last.place(&name(1), State::open(2, 0));
        assert!(Arc::ptr_eq(&first, &last.place(&name(1), State::open(2, 0))), "one place for one state");
        assert!(last.of(&name(1)).is_none(), "nobody has worked it out yet");
        last.place(&name(1), worked_out(1, 3));
        assert_eq!(last.place(&name(1), State::open(2, 0)).revision, 3);
        assert_eq!(last.of(&name(1)).unwrap().revision, 3);
    }
}
