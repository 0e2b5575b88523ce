//! Fifty clients at once in a workshop of 50 000 builds: looking at builds, asking whether they changed, and editing them
//! through the pages; on a file and on a server. Beside it, in the same run, the floor: the same durable transaction given
//! to the bare engine by one client as one text, with no look at what was there before. Then one client alone leafs through
//! the list of builds and finds some in it.
//!
//! No client pauses between its requests, so what is measured is a shop of fifty in a hurry: together they take all that
//! the machine gives, and the clients themselves take a part of it.
//!
//! Run by `cargo xtask bench load`. `WITNESSMARK_LOAD_BUILDS` and `WITNESSMARK_LOAD_SECONDS` make it larger or shorter;
//! `WITNESSMARK_LOAD_PROGRAM` names another program, such as an older one, that is measured on the same data first (not by
//! its list).

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
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
use std::path::{Path, PathBuf};
use std::sync::{Arc, Barrier};
use std::time::{Duration, Instant};
use witnessmark_store::{BuildId, By, NewBuild, Store};

const CLIENTS: usize = 50;
/// How many builds a person has open in one sitting.
const OPEN: u64 = 20;
/// Edits for the floor.
const FLOOR: u32 = 300;
const DOCUMENT: &str = include_str!("../../../demo/builds/tamsin-first-talk.toml");
/// The field that is edited: the spacers under the stem, on which most numbers of the front end depend.
const FIELD: &str = "settings.spacers_under";
/// How often the list is looked at, and how often a build is found.
const LOOKS: u64 = 100;

/// What the field says after so many edits; to begin with, after none.
fn says_after(edits: u32) -> String {
    format!("{}.{}", 5 + edits % 300 / 10, edits % 10)
}

fn main() {
    // Each client has builds of its own, with each program.
    let many = number("WITNESSMARK_LOAD_BUILDS", 50_000).max(2 * CLIENTS as u64 * OPEN);
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
    let mut floor = on_runtime(floor(data));
    let whole = floor.iter().sum::<Duration>().as_secs_f64();
    let floor_rate = row("floor: bare engine, one client", &mut floor, whole);
    let mut edits = 0;
    let other = std::env::var_os("WITNESSMARK_LOAD_PROGRAM").map(PathBuf::from);
    for (round, program) in other.into_iter().chain([env!("CARGO_BIN_EXE_witnessmark").into()]).enumerate() {
        let before = size();
        let here = under_load(&program, data, round, &builds, seconds);
        let (rate, grown) = (here as f64 / seconds as f64, size().saturating_sub(before));
        println!(
            "  edits a second, of the floor's: {:.2}; the data grew by {} bytes an edit",
            rate / floor_rate,
            grown / here.max(1)
        );
        edits += here;
    }
    let start = Instant::now();
    on_runtime(async {
        let store = Store::open(data).await.unwrap();
        let revisions = sqlx_count(data).await;
        assert_eq!(revisions, many + u64::from(FLOOR) + edits, "every acknowledged edit, once");
        store.close().await;
    });
    println!("  every acknowledged edit is in the log, once (counted in {:.1} s)", start.elapsed().as_secs_f64());
}

/// One program on the data, with everybody at it at once; how many edits it acknowledged.
fn under_load(path: &Path, data: &str, round: usize, builds: &Arc<Vec<BuildId>>, seconds: u64) -> u64 {
    let program = Program::start_other(path, data);
    let ready = Arc::new(Barrier::new(CLIENTS));
    let until = Instant::now() + Duration::from_secs(seconds);
    let clients: Vec<_> = (0..CLIENTS)
        .map(|client| {
            let (builds, ready, port) = (Arc::clone(builds), Arc::clone(&ready), program.port);
            std::thread::spawn(move || {
                ready.wait();
                work(client, round, port, &builds, until)
            })
        })
        .collect();
    let mut times: BTreeMap<&str, Vec<Duration>> = BTreeMap::new();
    for client in clients {
        for (kind, mut took) in client.join().unwrap() {
            times.entry(kind).or_default().append(&mut took);
        }
    }
    let core_seconds = core_seconds(&program);
    println!("\n  {}, {CLIENTS} clients for {seconds} s", path.display());
    println!("                                 requests   per s        p50        p99");
    let requests: usize = times.values().map(Vec::len).sum();
    let edits = times.get("edit").map_or(0, Vec::len) as u64;
    for (kind, took) in &mut times {
        row(kind, took, seconds as f64);
    }
    println!(
        "  it took {:.1} ms of a core a request, and {} MB of memory at most",
        core_seconds / requests as f64 * 1e3,
        most_memory_kb(&program) / 1000
    );
    if path == Path::new(env!("CARGO_BIN_EXE_witnessmark")) {
        for (kind, mut took) in lists(program.port, builds) {
            let whole = took.iter().sum::<Duration>().as_secs_f64();
            row(kind, &mut took, whole);
        }
        println!("  {} MB of memory at most after that", most_memory_kb(&program) / 1000);
    }
    edits
}

/// Prints how long requests of one kind took, and says how many there were a second.
fn row(kind: &str, took: &mut [Duration], seconds: f64) -> f64 {
    took.sort();
    let at = |share: usize| took[(took.len() - 1) * share / 100].as_secs_f64() * 1e3;
    let (count, rate) = (took.len(), took.len() as f64 / seconds);
    println!("  {kind:<30} {count:>8} {rate:>7.0} {:>7.1} ms {:>7.1} ms", at(50), at(99));
    rate
}

async fn sqlx_count(data: &str) -> u64 {
    let mut connection = connected(data).await;
    let count: i64 = sqlx::query_scalar("SELECT count(*) FROM revisions").fetch_one(&mut connection).await.unwrap();
    connection.close().await.unwrap();
    count.unsigned_abs()
}

/// One person's sitting: most of the time looking, now and then writing.
fn work(
    client: usize,
    round: usize,
    port: u16,
    builds: &[BuildId],
    until: Instant,
) -> BTreeMap<&'static str, Vec<Duration>> {
    let mut chance = Chance::from(client as u64);
    let mut times: BTreeMap<&'static str, Vec<Duration>> = BTreeMap::new();
    // Each writes in builds of its own, so that nobody is told to choose; everybody looks anywhere.
    let own: Vec<&BuildId> =
        (0..OPEN).map(|at| &builds[client + CLIENTS * (round * OPEN as usize + at as usize)]).collect();
    let mut says = vec![0_u32; own.len()];
    while Instant::now() < until {
        let at = usize::try_from(chance.below(OPEN)).unwrap();
        let (kind, request) = match chance.below(10) {
            0..=2 => {
                let (before, after) = (says[at], says[at] + 1);
                // The page shows what this client wrote last: nobody else writes in its builds.
                let body = format!(
                    "path={FIELD}&before={}&after={}&key={round}-{client}-{at}-{after}&who=&seen={}",
                    says_after(before),
                    says_after(after),
                    before + 1
                );
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

/// Somebody who looks at the list, leafs on from it, and finds builds by their riders, as a page asks at each letter.
fn lists(port: u16, builds: &[BuildId]) -> BTreeMap<&'static str, Vec<Duration>> {
    let mut chance = Chance::from(7);
    let mut times: BTreeMap<&'static str, Vec<Duration>> = BTreeMap::new();
    for _ in 0..LOOKS {
        let rider = &builds[usize::try_from(chance.below(builds.len() as u64)).unwrap()];
        for (kind, address) in [
            ("the list of builds", "/builds".to_owned()),
            ("further down in the list", format!("/builds?before={}", 20 + chance.below(builds.len() as u64 - 20))),
            ("one rider’s builds, found", format!("/builds?q=rider+{rider}")),
            ("many builds, found", format!("/builds?q=rider+{}", &rider.as_str()[..3])),
        ] {
            let start = Instant::now();
            assert_eq!(ask(port, &format!("GET {address} HTTP/1.0\r\nhost: localhost\r\n\r\n")), 200, "{address}");
            times.entry(kind).or_default().push(start.elapsed());
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
    leaves.push((FIELD.to_owned(), says_after(0)));
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
         JOIN edits e ON e.build_id = '{first}' WHERE b.id <> '{first}'; \
         UPDATE fields SET text = 'Rider ' || build_id WHERE path = 'rider.name'; \
         UPDATE edits SET text_after = 'Rider ' || build_id WHERE path = 'rider.name'"
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

/// For how long the program kept a core busy until now, as Linux tells it in hundredths of a second.
fn core_seconds(program: &Program) -> f64 {
    let about = std::fs::read_to_string(format!("/proc/{}/stat", program.child.id())).unwrap_or_default();
    // The name of the program, in brackets, may hold anything; after it the fields are counted from 3.
    let fields = about.rsplit(')').next().unwrap_or_default().split_whitespace();
    fields.skip(14 - 3).take(2).filter_map(|ticks| ticks.parse::<f64>().ok()).sum::<f64>() / 100.0
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
