//! `witnessmark demo`: an invented workshop in a file of its own, worked out and served.

use crate::clock::now_ms;
use crate::serve::{on_runtime, open, until_interrupted};
use crate::{Outcome, print};
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::time::Instant;
use tokio::net::TcpListener;
use witnessmark_core::{Build, plan};
use witnessmark_sheets::text;
use witnessmark_store::{By, CatalogueBy, NewBuild, Store};

/// The demo's documents: a test holds this list against the folder.
const DOCUMENTS: &[(&str, &str)] = &[
    ("tamsin-first-talk.toml", include_str!("../../../demo/builds/tamsin-first-talk.toml")),
    ("oren-new-frame.toml", include_str!("../../../demo/builds/oren-new-frame.toml")),
    ("ilka-race-bike.toml", include_str!("../../../demo/builds/ilka-race-bike.toml")),
    ("ilka-second-bike.toml", include_str!("../../../demo/builds/ilka-second-bike.toml")),
    ("sanna-old-bike.toml", include_str!("../../../demo/builds/sanna-old-bike.toml")),
];

/// The demo's catalogue, a table a kind: a test holds this list against the folder.
const CATALOGUE: &[(&str, &str)] = &[
    ("bar.csv", include_str!("../../../demo/catalogue/bar.csv")),
    ("cassette.csv", include_str!("../../../demo/catalogue/cassette.csv")),
    ("saddle.csv", include_str!("../../../demo/catalogue/saddle.csv")),
    ("stem.csv", include_str!("../../../demo/catalogue/stem.csv")),
    ("tyre.csv", include_str!("../../../demo/catalogue/tyre.csv")),
];

/// The one whose verdict is printed.
const SHOWN: &str = "oren-new-frame.toml";

/// The first port that is tried, and how many after it.
const PORTS: std::ops::Range<u16> = 8417..8437;

/// Arguments of `demo`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Where the demo workshop is kept; what you change in it stays
    #[arg(long, value_name = "FILE", default_value = "demo-workshop.sqlite")]
    data: PathBuf,
    /// Begin anew: the file is taken away first
    #[arg(long)]
    fresh: bool,
    /// Make the workshop and print the verdict, and do not serve it
    #[arg(long)]
    once: bool,
}

/// Makes the workshop, prints a verdict and serves the pages.
pub(crate) fn run(args: Args) -> Outcome {
    if args.fresh {
        for ending in ["", "-wal", "-shm"] {
            let path = PathBuf::from(format!("{}{ending}", args.data.display()));
            if path.exists()
                && let Err(error) = std::fs::remove_file(&path)
            {
                print::complain(&format!("{}: {error}", path.display()));
                return Outcome::Unusable;
            }
        }
    }
    on_runtime(async move {
        let Some(store) = open(&args.data.display().to_string()).await else { return Outcome::Unusable };
        if let Err(error) = fill(&store).await {
            print::complain(&error);
            return Outcome::Unusable;
        }
        if let Err(problem) = show() {
            print::complain(&problem);
            return Outcome::Unusable;
        }
        if args.once {
            store.close().await;
            return Outcome::Fine;
        }
        for port in PORTS {
            if let Ok(listener) = TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port))).await {
                return until_interrupted(listener, store).await;
            }
        }
        print::complain(&format!("no free port from {} to {}", PORTS.start, PORTS.end - 1));
        Outcome::Unusable
    })
}

/// Puts the demo's builds into a workshop that has none, and its catalogue into one whose catalogue was never written.
async fn fill(store: &Store) -> Result<(), String> {
    if store.catalogue_seq().await.map_err(|error| error.to_string())? == 0 {
        let by =
            CatalogueBy { who: "demo".into(), at_ms: now_ms(), source: "the catalogue of the demo workshop".into() };
        witnessmark_web::bring_parts(store, CATALOGUE, by).await.map_err(|slips| slips.join("\n"))?;
    }
    if !store.builds().await.map_err(|error| error.to_string())?.is_empty() {
        return Ok(());
    }
    for (name, text) in DOCUMENTS {
        let build = read(name, text)?;
        let leaves: Vec<(String, String)> = build.leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
        let by = By { who: "demo".into(), at_ms: now_ms(), request_key: format!("demo-{name}") };
        let new = NewBuild { leaves: &leaves, copied_from: None };
        store.create_build(new, &by).await.map_err(|error| format!("{name}: {error}"))?;
    }
    Ok(())
}

/// Works the demo's builds out, says how long that took, and prints the verdict of one.
fn show() -> Result<(), String> {
    let mut builds = Vec::new();
    for (name, text) in DOCUMENTS {
        builds.push((*name, read(name, text)?));
    }
    let start = Instant::now();
    let plans: Vec<_> = builds.iter().map(|(name, build)| (*name, build, plan(build))).collect();
    let took = start.elapsed();
    print::out(&format!(
        "{} builds of the demo workshop, worked out in {:.1} ms. One of them:\n\n",
        plans.len(),
        took.as_secs_f64() * 1e3
    ));
    for (name, build, plan) in &plans {
        if *name == SHOWN {
            print::sheet(&text::verdict(build, plan));
            print::out(&format!("The whole of it: witnessmark plan demo/builds/{name}\n\n"));
        }
    }
    Ok(())
}

fn read(name: &str, text: &str) -> Result<Build, String> {
    witnessmark_intake::document(name, text)
        .map_err(|problems| problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    fn names_in(folder: &str) -> BTreeSet<String> {
        let folder = format!("{}/../../demo/{folder}", env!("CARGO_MANIFEST_DIR"));
        let files = std::fs::read_dir(folder).unwrap();
        files.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect()
    }

    #[tokio::test]
    async fn the_demo_workshop_is_filled_once_and_stays_what_somebody_made_of_it() {
        let store = Store::open_in_memory().await.unwrap();
        fill(&store).await.unwrap();
        let (builds, parts) = (store.builds().await.unwrap(), store.catalogue(None).await.unwrap());
        assert_eq!(builds.len(), DOCUMENTS.len());
        assert!(CATALOGUE.iter().all(|(name, _)| parts.iter().any(|part| format!("{}.csv", part.kind) == *name)));
        fill(&store).await.unwrap();
        assert_eq!((store.builds().await.unwrap(), store.catalogue(None).await.unwrap()), (builds, parts));
        store.verify().await.unwrap();
    }

    #[test]
    fn every_document_of_the_demo_is_in_the_workshop_and_reads_without_a_problem() {
        let files = names_in("builds");
        let listed: BTreeSet<String> = DOCUMENTS.iter().map(|(name, _)| (*name).to_owned()).collect();
        assert_eq!(files, listed);
        assert_eq!(names_in("catalogue"), CATALOGUE.iter().map(|(name, _)| (*name).to_owned()).collect());
        for (name, text) in DOCUMENTS {
            assert!(read(name, text).is_ok(), "{:?}", read(name, text).err());
        }
    }

    #[test]
    fn every_kind_of_part_stands_in_the_demo() {
        let mut there = BTreeSet::new();
        for (name, text) in DOCUMENTS {
            there.extend(read(name, text).unwrap().parts.each().into_iter().map(|(kind, ..)| kind.key));
        }
        let missing: Vec<&str> =
            witnessmark_core::part::KINDS.iter().map(|kind| kind.key).filter(|key| !there.contains(key)).collect();
        assert!(missing.is_empty(), "{missing:?}");
    }
}
