//! Fifty clients at once in a workshop of 50 000 builds: looking at builds, asking whether they changed, and editing them
//! through the pages; on a file and on a server. Beside it, in the same run, the floor: the same durable transaction given
//! to the bare engine by one client as one text, with no look at what was there before.
//!
//! Run by `cargo xtask bench load`. `WITNESSMARK_LOAD_BUILDS` and `WITNESSMARK_LOAD_SECONDS` make it larger or shorter.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::cast_precision_loss,
    reason = "a benchmark stops where it fails and prints what it measured; counts here are small"
)]

#[path = "../../store/tests/common/chance.rs"]
mod chance;
#[path = "../../store/tests/common/postgres.rs"]
mod postgres;
#[path = "common/program.rs"]
mod program;

use chance::Chance;
use postgres::Postgres;
use program::Program;
use sqlx::{AnyConnection, AssertSqlSafe, Connection};
use std::collections::BTreeMap;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::sync::{Arc, Barrier};
use std::time::{Duration, Instant};
use witnessmark_store::{BuildId, By, NewBuild, Store};

const CLIENTS: usize = 50;
/// How many builds a person has open in one sitting.
const OPEN: u64 = 20;
/// Edits for the floor.
const FLOOR: u32 = 300;
const DOCUMENT: &str = include_str!("../../../demo/builds/tamsin-first-talk.toml");
/// A field of the document with free text, and what it says in every build to begin with.
const FIELD: &str = "job.note";

fn main() {
    // Each client has builds of its own.
    let many = number("WITNESSMARK_LOAD_BUILDS", 50_000).max(CLIENTS as u64 * OPEN);
    let seconds = number("WITNESSMARK_LOAD_SECONDS", 30);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("load-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("workshop.sqlite").to_str().unwrap().to_owned();
    let wal = format!("{file}-wal");
    let size = |path: &str| std::fs::metadata(path).map_or(0, |about| about.len());
    measured("a file", &file, many, seconds, || size(&file) + size(&wal));

    let server = Postgres::start();
    let database = on_runtime(server.database());
    measured("a PostgreSQL server", &database, many, seconds, || {
        on_runtime(async {
            let mut connection = AnyConnection::connect(&database).await.unwrap();
            let size = sqlx::query_scalar("SELECT pg_database_size(current_database())");
            let size: i64 = size.fetch_one(&mut connection).await.unwrap();
            connection.close().await.unwrap();
            size.unsigned_abs()
        })
    });
    std::fs::remove_dir_all(&folder).unwrap();
}

fn measured(name: &str, data: &str, many: u64, seconds: u64, size: impl Fn() -> u64) {
    let start = Instant::now();
    let builds = Arc::new(on_runtime(filled(data, many)));
    println!("\n{name}: {many} builds, {} MB, made in {:.0} s", size() / 1_000_000, start.elapsed().as_secs_f64());
    let floor = on_runtime(floor(data));
    let before = size();
    let program = Program::start(data);
    let ready = Arc::new(Barrier::new(CLIENTS));
    let until = Instant::now() + Duration::from_secs(seconds);
    let clients: Vec<_> = (0..CLIENTS)
        .map(|client| {
            let (builds, ready, port) = (Arc::clone(&builds), Arc::clone(&ready), program.port);
            std::thread::spawn(move || {
                ready.wait();
                work(client, port, &builds, until)
            })
        })
        .collect();
    let mut times: BTreeMap<&str, Vec<Duration>> = BTreeMap::new();
    for client in clients {
        for (kind, mut took) in client.join().unwrap() {
            times.entry(kind).or_default().append(&mut took);
        }
    }
    println!("  {CLIENTS} clients for {seconds} s          requests   per s        p50        p99");
    let row = |kind: &str, took: &mut Vec<Duration>, seconds: f64| {
        took.sort();
        let at = |share: usize| took[(took.len() - 1) * share / 100].as_secs_f64() * 1e3;
        let (count, rate) = (took.len(), took.len() as f64 / seconds);
        println!("  {kind:<30} {count:>8} {rate:>7.0} {:>7.1} ms {:>7.1} ms", at(50), at(99));
        rate
    };
    let mut rates = BTreeMap::new();
    for (kind, took) in &mut times {
        rates.insert(*kind, row(kind, took, seconds as f64));
    }
    let mut floor = floor;
    let whole = floor.iter().sum::<Duration>().as_secs_f64();
    let floor_rate = row("floor: bare engine, one client", &mut floor, whole);
    let edits = times.get("edit").map_or(0, Vec::len).max(1) as u64;
    println!(
        "  edits a second, of the floor's: {:.2}; memory of the program: {} MB at most; the data grew by {} bytes an edit",
        rates.get("edit").copied().unwrap_or(0.0) / floor_rate,
        most_memory_kb(&program) / 1000,
        size().saturating_sub(before) / edits,
    );
    drop(program);
    let start = Instant::now();
    on_runtime(async {
        let store = Store::open(data).await.unwrap();
        let revisions = sqlx_count(data).await;
        assert_eq!(revisions, many + u64::from(FLOOR) + edits, "every acknowledged edit, once");
        store.close().await;
    });
    println!("  every acknowledged edit is in the log, once (counted in {:.1} s)", start.elapsed().as_secs_f64());
}

async fn sqlx_count(data: &str) -> u64 {
    let mut connection = connected(data).await;
    let count: i64 = sqlx::query_scalar("SELECT count(*) FROM revisions").fetch_one(&mut connection).await.unwrap();
    connection.close().await.unwrap();
    count.unsigned_abs()
}

/// One person's sitting: most of the time looking, now and then writing.
fn work(client: usize, port: u16, builds: &[BuildId], until: Instant) -> BTreeMap<&'static str, Vec<Duration>> {
    let mut chance = Chance::from(client as u64);
    let mut times: BTreeMap<&'static str, Vec<Duration>> = BTreeMap::new();
    // Each writes in builds of its own, so that nobody is told to choose; everybody looks anywhere.
    let own: Vec<&BuildId> =
        (0..OPEN).map(|at| &builds[(client + CLIENTS * usize::try_from(at).unwrap()) % builds.len()]).collect();
    let mut says = vec![0_u32; own.len()];
    while Instant::now() < until {
        let at = usize::try_from(chance.below(OPEN)).unwrap();
        let (kind, request) = match chance.below(10) {
            0..=2 => {
                let (before, after) = (says[at], says[at] + 1);
                let body = format!("path={FIELD}&before={before}&after={after}&key={client}-{at}-{after}&who=");
                let head = format!(
                    "POST /builds/{}/edit HTTP/1.0\r\nhost: localhost\r\ncontent-type: \
                     application/x-www-form-urlencoded\r\ncontent-length: {}\r\n\r\n",
                    own[at],
                    body.len()
                );
                ("edit", head + &body)
            }
            3..=5 => {
                ("has it changed?", format!("GET /builds/{}/revision HTTP/1.0\r\nhost: localhost\r\n\r\n", own[at]))
            }
            6..=8 => ("a build's page, open", format!("GET /builds/{} HTTP/1.0\r\nhost: localhost\r\n\r\n", own[at])),
            _ => {
                let any = &builds[usize::try_from(chance.below(builds.len() as u64)).unwrap()];
                ("a build's page, any", format!("GET /builds/{any} HTTP/1.0\r\nhost: localhost\r\n\r\n"))
            }
        };
        let start = Instant::now();
        let status = ask(port, &request);
        assert_eq!(status, 200, "{request}");
        times.entry(kind).or_default().push(start.elapsed());
        if kind == "edit" {
            says[at] += 1;
        }
    }
    times
}

fn ask(port: u16, request: &str) -> u16 {
    let mut line = TcpStream::connect(("127.0.0.1", port)).unwrap();
    line.write_all(request.as_bytes()).unwrap();
    let mut answer = Vec::new();
    line.read_to_end(&mut answer).unwrap();
    String::from_utf8_lossy(&answer[9..12]).parse().unwrap()
}

/// A workshop of so many builds, each like the document: the first is made as every build is, the others are its rows
/// again under other names, which takes the engine seconds instead of minutes.
async fn filled(data: &str, many: u64) -> Vec<BuildId> {
    let document = witnessmark_intake::document("tamsin", DOCUMENT).unwrap();
    let mut leaves: Vec<(String, String)> =
        document.leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
    leaves.retain(|(path, _)| path != FIELD);
    leaves.push((FIELD.to_owned(), "0".to_owned()));
    println!("each build has {} fields", leaves.len());
    let store = Store::open(data).await.unwrap();
    let by = By { who: "Anna".into(), at_ms: 1, request_key: "first".into() };
    let first = store.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by).await.unwrap();
    store.close().await;

    let mut connection = connected(data).await;
    let mut tx = connection.begin().await.unwrap();
    let mut builds = vec![first.clone()];
    let numbers: Vec<u64> = (1..many).collect();
    for some in numbers.chunks(500) {
        let (mut names, mut revisions) = (Vec::new(), Vec::new());
        for number in some {
            // Digits alone are names too.
            let name: BuildId = format!("{number:08}").parse().unwrap();
            names.push(format!("('{name}', NULL)"));
            revisions.push(format!("({}, '{name}', 1, 'Anna', 1, 'made {number}', NULL)", number + 1));
            builds.push(name);
        }
        let text = format!(
            "INSERT INTO builds (id, copied_from) VALUES {}; \
             INSERT INTO revisions (seq, build_id, revision, who, at_ms, request_key, undoes) VALUES {}",
            names.join(", "),
            revisions.join(", ")
        );
        sqlx::raw_sql(AssertSqlSafe(text)).execute(&mut *tx).await.unwrap();
    }
    let text = format!(
        "INSERT INTO fields (build_id, path, text) SELECT b.id, f.path, f.text FROM builds b \
         JOIN fields f ON f.build_id = '{first}' WHERE b.id <> '{first}'; \
         INSERT INTO edits (build_id, revision, path, text_before, text_after) \
         SELECT b.id, 1, e.path, e.text_before, e.text_after FROM builds b \
         JOIN edits e ON e.build_id = '{first}' WHERE b.id <> '{first}'"
    );
    sqlx::raw_sql(AssertSqlSafe(text)).execute(&mut *tx).await.unwrap();
    tx.commit().await.unwrap();
    connection.close().await.unwrap();
    builds
}

/// The bare engine: the same rows as one edit of one field, in one durable transaction, one after the other.
async fn floor(data: &str) -> Vec<Duration> {
    let mut connection = connected(data).await;
    if !data.starts_with("postgres") {
        let ways = "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON";
        sqlx::raw_sql(ways).execute(&mut connection).await.unwrap();
    }
    let first: i64 = sqlx::query_scalar("SELECT max(seq) FROM revisions").fetch_one(&mut connection).await.unwrap();
    let build: String =
        sqlx::query_scalar("SELECT max(id) FROM builds WHERE id < '0a'").fetch_one(&mut connection).await.unwrap();
    let mut times = Vec::new();
    for number in 0..FLOOR {
        let (seq, revision) = (first + 1 + i64::from(number), number + 2);
        let text = format!(
            "BEGIN; \
             INSERT INTO revisions VALUES ({seq}, '{build}', {revision}, 'Anna', 1, 'floor {number}', NULL); \
             UPDATE fields SET text = 'floor {number}' WHERE build_id = '{build}' AND path = 'job.title'; \
             INSERT INTO edits VALUES ('{build}', {revision}, 'job.title', 'a', 'floor {number}'); \
             COMMIT"
        );
        let start = Instant::now();
        sqlx::raw_sql(AssertSqlSafe(text)).execute(&mut connection).await.unwrap();
        times.push(start.elapsed());
    }
    connection.close().await.unwrap();
    times
}

async fn connected(data: &str) -> AnyConnection {
    sqlx::any::install_default_drivers();
    let url = if data.contains("://") { data.to_owned() } else { format!("sqlite://{data}") };
    AnyConnection::connect(&url).await.unwrap()
}

/// The most memory the program ever held, as Linux tells it.
fn most_memory_kb(program: &Program) -> u64 {
    let about = std::fs::read_to_string(format!("/proc/{}/status", program.child.id())).unwrap_or_default();
    let line = about.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.trim().trim_end_matches(" kB").parse().ok()).unwrap_or(0)
}

fn number(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).map_or(otherwise, |number| number.parse().expect("a number"))
}

fn on_runtime<T>(work: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(work)
}
