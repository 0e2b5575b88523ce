//! The builds that were worked out last: as many as a workshop has in hand, not as many as it has ever built.

use crate::loaded::Loaded;
use std::collections::BTreeMap;
use std::sync::Arc;
use witnessmark_store::BuildId;

/// How many are kept. One worked out takes about 150 kB with its page.
const MOST: usize = 400;

/// The builds worked out last, each with the turn at which somebody asked for it.
#[derive(Debug, Default)]
pub(super) struct Last {
    builds: BTreeMap<BuildId, (u64, Arc<Loaded>)>,
    turn: u64,
}

impl Last {
    /// The build as it was worked out last.
    pub(super) fn of(&mut self, id: &BuildId) -> Option<Arc<Loaded>> {
        self.turn += 1;
        let (asked, loaded) = self.builds.get_mut(id)?;
        *asked = self.turn;
        Some(Arc::clone(loaded))
    }

    /// Keeps a state of a build; the one that nobody asked for longest is let go when there are too many.
    pub(super) fn keep(&mut self, loaded: Arc<Loaded>) {
        self.turn += 1;
        self.builds.insert(loaded.id.clone(), (self.turn, loaded));
        if self.builds.len() > MOST {
            let longest = self.builds.iter().min_by_key(|(_, (asked, _))| *asked).map(|(id, _)| id.clone());
            longest.and_then(|id| self.builds.remove(&id));
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;
    use witnessmark_store::BuildRecord;

    fn build(at: usize) -> Arc<Loaded> {
        let letters = b"0123456789abcdefghjkmnpqrstvwxyz";
        let name: String = (0..8).map(|place| char::from(letters[(at >> (5 * place)) % 32])).collect();
        Arc::new(Loaded::new(
            name.parse().unwrap(),
            BuildRecord { revision: 1, leaves: BTreeMap::new() },
            Arc::default(),
        ))
    }

    #[test]
    fn the_build_that_nobody_asked_for_longest_is_let_go() {
        let mut last = Last::default();
        for at in 0..MOST {
            last.keep(build(at));
        }
        assert!(last.of(&build(0).id).is_some(), "asked for, so the next one is now the oldest");
        last.keep(build(MOST));
        assert!(last.of(&build(0).id).is_some() && last.of(&build(MOST).id).is_some());
        assert!(last.of(&build(1).id).is_none());
        assert_eq!(last.builds.len(), MOST);
    }
}
