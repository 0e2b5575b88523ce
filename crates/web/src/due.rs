//! What is due across all bikes: those that were handed over, each with its service plan.
//!
//! A service plan does not depend on the day on which somebody looks, only on the document. So it is worked out once for
//! each state of a bike and kept; a look asks the store which bikes have left the house, and works out those alone that
//! have changed since somebody looked.

use crate::app::App;
use crate::computing::Computing;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};
use witnessmark_core::service::{ServicePlan, service};
use witnessmark_store::{BuildId, BuildRecord, Looks, StoreError};

/// How many days ahead count as coming up.
pub(crate) const AHEAD_DAYS: i32 = 30;

/// How many are read and worked out at a time.
const AT_A_TIME: usize = 64;

/// What a service plan looks at: of the thousand and more leaves of a finished bike less than half, and reading them is
/// most of the work.
fn counts(path: &str) -> bool {
    ["job.", "rider.", "parts.", "serviced."].iter().any(|section| path.starts_with(section))
        && path.rsplit('.').next() != Some("from")
}

/// A bike that has left the house.
#[derive(Debug)]
pub struct Bike {
    /// Its build.
    pub id: BuildId,
    /// The state of the build that was worked out.
    revision: i64,
    /// What the workshop calls it.
    pub title: Option<String>,
    /// Who rides it.
    pub rider: Option<String>,
    /// Its service plan.
    pub plan: ServicePlan,
    /// The kept day of hand-over cannot be read: nothing is counted from it.
    pub unreadable: bool,
}

impl Bike {
    fn new(id: BuildId, record: &BuildRecord) -> Self {
        let (build, problems) = witnessmark_intake::from_leaves(record.leaves.iter().filter(|(path, _)| counts(path)));
        let said = |given: Option<&witnessmark_core::field::Given<String>>| given.map(|given| given.value.clone());
        Bike {
            id,
            revision: record.revision,
            title: said(build.job.title.as_ref()),
            rider: said(build.rider.name.as_ref()),
            plan: service(&build),
            unreadable: problems.iter().any(|problem| problem.path == "job.handed_over_on"),
        }
    }
}

/// The bikes of the workshop, as far as service goes.
#[derive(Debug)]
pub struct Bikes {
    /// Those that were handed over.
    pub out: Vec<Arc<Bike>>,
    /// Those that are said to be finished and have no day of hand-over: nothing counts for them.
    pub finished_without: Vec<BuildId>,
    /// How many builds there are in all.
    pub builds: usize,
}

/// The bikes as they were worked out last.
#[derive(Debug, Default)]
pub(crate) struct Known(Mutex<BTreeMap<BuildId, Arc<Bike>>>);

/// The bikes of a workshop that nobody has looked at yet.
///
/// # Errors
///
/// What the store says when it cannot be read.
pub async fn bikes(store: &Looks) -> Result<Bikes, StoreError> {
    Known::default().bikes(store, &Computing::default()).await
}

/// The bikes of this workshop.
pub(crate) async fn bikes_of(app: &App) -> Result<Bikes, StoreError> {
    app.due().bikes(app.store(), app.computing()).await
}

impl Known {
    async fn bikes(&self, store: &Looks, computing: &Computing) -> Result<Bikes, StoreError> {
        let handed_over = store.handed_over().await?;
        let mut known: BTreeMap<BuildId, Arc<Bike>> = {
            // Whoever panicked while holding it left a whole map behind: it is put in by one assignment.
            let last = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            let same = handed_over.out.iter().filter_map(|(id, revision)| {
                last.get(id).filter(|bike| bike.revision == *revision).map(|bike| (id.clone(), Arc::clone(bike)))
            });
            same.collect()
        };
        let fresh: Vec<&BuildId> =
            handed_over.out.iter().map(|(id, _)| id).filter(|id| !known.contains_key(*id)).collect();
        for ids in fresh.chunks(AT_A_TIME) {
            let mut records = Vec::with_capacity(ids.len());
            for id in ids {
                if let Some(record) = store.leaves(id).await? {
                    records.push(((*id).clone(), record));
                }
            }
            let work =
                move || -> Vec<Bike> { records.into_iter().map(|(id, record)| Bike::new(id, &record)).collect() };
            let worked = computing.done(work).await;
            known.extend(worked.into_iter().map(|bike| (bike.id.clone(), Arc::new(bike))));
        }
        let out = known.values().cloned().collect();
        if !fresh.is_empty() {
            *self.0.lock().unwrap_or_else(PoisonError::into_inner) = known;
        }
        Ok(Bikes {
            out,
            finished_without: handed_over.finished_without,
            builds: usize::try_from(handed_over.builds).unwrap_or_default(),
        })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;
    use std::path::Path;
    use witnessmark_core::Build;
    use witnessmark_core::build::sample::sample;

    #[test]
    fn the_leaves_that_are_read_give_the_plan_that_all_of_them_give() {
        let mut builds: Vec<Build> = vec![sample()];
        for entry in std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/builds")).unwrap() {
            let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
            builds.push(witnessmark_intake::document("demo", &text).unwrap());
        }
        for mut build in builds {
            build.job.handed_over_on = Some(jiff::civil::date(2027, 3, 14).into());
            build.serviced.entry("chain-wear".into()).or_default().on = Some(jiff::civil::date(2027, 5, 1).into());
            let leaves: BTreeMap<String, String> =
                build.leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
            let read = leaves.keys().filter(|path| counts(path)).count();
            assert!(read < leaves.len());
            let bike = Bike::new("7k3m9x2a".parse().unwrap(), &BuildRecord { revision: 1, leaves });
            assert_eq!(bike.plan, service(&build));
            assert_eq!(bike.title, build.job.title.map(|given| given.value));
        }
    }
}
