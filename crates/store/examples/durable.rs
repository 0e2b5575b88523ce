//! How many durable edits a second, and how long one takes, beside the bare engine doing the same writing.
//!
//! `cargo run --release -p witnessmark-store --example durable [folder]` — the folder decides which disk is
//! measured. The two take turns, so that a busy moment of the disk meets both.
//!
//! The bare engine gets each edit as one text of statements with the values written in: no look at the key,
//! no comparing, one trip. It is a floor, and no way to keep a workshop's data.

#![allow(
    clippy::unwrap_used,
    clippy::cast_precision_loss,
    reason = "a measurement that cannot go on should stop; counts here are small"
)]

use std::time::{Duration, Instant};

use sqlx::sqlite::SqliteConnection;
use sqlx::{AssertSqlSafe, Connection};
use witnessmark_store::{BuildId, By, Change, NewBuild, Store};

const TURNS: usize = 20;
const EDITS_A_TURN: usize = 200;
const CLIENTS: usize = 8;
/// A build of a usual size.
const LEAVES: usize = 150;

#[tokio::main]
async fn main() {
    let folder = std::env::args().nth(1).map_or_else(std::env::temp_dir, Into::into);
    let folder = folder.join(format!("durable-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = |name: &str| folder.join(name).to_str().unwrap().to_owned();

    let mut bare = Bare::open(&file("bare.db")).await;
    let alone = Kept::open(&file("alone.db")).await;
    let crowd = Kept::open(&file("crowd.db")).await;
    let (mut bare_times, mut alone_times, mut crowd_times) = (Times::new(), Times::new(), Times::new());
    for _ in 0..TURNS {
        let start = Instant::now();
        for _ in 0..EDITS_A_TURN {
            bare_times.one(bare.edit().await);
        }
        bare_times.whole += start.elapsed();

        let start = Instant::now();
        let first = alone_times.each.len();
        for number in first..first + EDITS_A_TURN {
            alone_times.one(alone.edit(0, number).await);
        }
        alone_times.whole += start.elapsed();

        let start = Instant::now();
        let first = crowd_times.each.len() / CLIENTS;
        let mut clients = Vec::new();
        for client in 0..CLIENTS {
            let crowd = crowd.clone();
            clients.push(tokio::spawn(async move {
                let mut times = Vec::new();
                for number in first..first + EDITS_A_TURN / CLIENTS {
                    times.push(crowd.edit(client, number).await);
                }
                times
            }));
        }
        for client in clients {
            crowd_times.each.extend(client.await.unwrap());
        }
        crowd_times.whole += start.elapsed();
    }

    println!("                     edits/s       p50       p99   and of the bare engine's edits/s, p50");
    let floor = (bare_times.rate(), bare_times.at(50));
    bare_times.print("bare engine", floor);
    alone_times.print("store, one client", floor);
    crowd_times.print(&format!("store, {CLIENTS} clients"), floor);
    println!("{:?}", alone.store.verify().await.unwrap());
    alone.store.close().await;
    crowd.store.close().await;
    bare.connection.close().await.unwrap();
    std::fs::remove_dir_all(&folder).unwrap();
}

/// The store, with one build in it.
#[derive(Clone)]
struct Kept {
    store: Store,
    build: BuildId,
}

impl Kept {
    async fn open(name: &str) -> Self {
        let store = Store::open(name).await.unwrap();
        let leaves: Vec<(String, String)> =
            (0..LEAVES).map(|number| (format!("field{number}"), "0".to_owned())).collect();
        let new = NewBuild { leaves: &leaves, copied_from: None };
        let start = Instant::now();
        let build = store.create_build(new, &by("made".to_owned())).await.unwrap();
        println!("a build of {LEAVES} fields was made in {:.1} ms", start.elapsed().as_secs_f64() * 1e3);
        Self { store, build }
    }

    /// A client's next edit, of its own field.
    async fn edit(&self, client: usize, number: usize) -> Duration {
        let change = [Change {
            path: format!("field{client}"),
            before: Some(number.to_string()),
            after: Some((number + 1).to_string()),
        }];
        let signed = by(format!("client {client} edit {number}"));
        let start = Instant::now();
        self.store.edit(&self.build, &change, &signed).await.unwrap();
        start.elapsed()
    }
}

fn by(request_key: String) -> By {
    By { who: "Anna".to_owned(), at_ms: 1_700_000_000_000, request_key }
}

/// The engine alone, in the same kind of file.
struct Bare {
    connection: SqliteConnection,
    build: BuildId,
    done: usize,
}

impl Bare {
    async fn open(name: &str) -> Self {
        // The store makes the file; then only the engine touches it.
        let Kept { store, build } = Kept::open(name).await;
        store.close().await;
        let mut connection = SqliteConnection::connect(&format!("sqlite://{name}")).await.unwrap();
        sqlx::raw_sql("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON")
            .execute(&mut connection)
            .await
            .unwrap();
        Self { connection, build, done: 0 }
    }

    /// The same rows as one edit of one field.
    async fn edit(&mut self) -> Duration {
        let (build, number) = (&self.build, self.done);
        self.done += 1;
        let (revision, next) = (number + 2, number + 1);
        let text = format!(
            "BEGIN IMMEDIATE;
             INSERT INTO revisions VALUES ({revision}, '{build}', {revision}, 'Anna', 1700000000000, 'client 0 edit {number}', NULL);
             UPDATE fields SET text = '{next}' WHERE build_id = '{build}' AND path = 'field0';
             INSERT INTO edits VALUES ('{build}', {revision}, 'field0', '{number}', '{next}');
             COMMIT"
        );
        let start = Instant::now();
        sqlx::raw_sql(AssertSqlSafe(text)).execute(&mut self.connection).await.unwrap();
        start.elapsed()
    }
}

/// How long each took, and all together.
struct Times {
    each: Vec<Duration>,
    whole: Duration,
}

impl Times {
    fn new() -> Self {
        Self { each: Vec::new(), whole: Duration::ZERO }
    }

    fn one(&mut self, time: Duration) {
        self.each.push(time);
    }

    fn rate(&self) -> f64 {
        self.each.len() as f64 / self.whole.as_secs_f64()
    }

    /// The time that so many of a hundred stay under, in milliseconds.
    fn at(&mut self, share: usize) -> f64 {
        self.each.sort();
        self.each[(self.each.len() - 1) * share / 100].as_secs_f64() * 1e3
    }

    /// The median is the steadier of the two comparisons: a disk shared with others stalls now and then.
    fn print(&mut self, name: &str, (floor_rate, floor_median_ms): (f64, f64)) {
        let (rate, median_ms, p99_ms) = (self.rate(), self.at(50), self.at(99));
        println!(
            "{name:<20} {rate:>7.0}  {median_ms:>5.2} ms  {p99_ms:>5.2} ms   {:.2}  {:.2}",
            rate / floor_rate,
            median_ms / floor_median_ms,
        );
    }
}
