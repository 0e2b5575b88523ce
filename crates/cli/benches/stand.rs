//! A reading at the stand: from the tap that sends it to the whole answer that the page puts in place, through the program
//! as it is shipped, on a file, on the disk. Beside it, in the same run, the floor: the same rows in one durable
//! transaction given to the bare engine as one text. The two take turns, so that a busy moment of the disk meets both.
//!
//! Run by `cargo xtask bench stand`. What the tablet adds, its radio and its own drawing, is measured in a browser and not
//! here.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::cast_precision_loss,
    reason = "a benchmark stops where it fails and prints what it measured; counts here are small"
)]

#[path = "common/program.rs"]
mod program;

use program::Program;
use sqlx::sqlite::SqliteConnection;
use sqlx::{AssertSqlSafe, Connection};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::time::{Duration, Instant};
use witnessmark_store::{BuildId, By, NewBuild, Store};

const TURNS: usize = 20;
const READINGS_A_TURN: usize = 25;
/// The bike with the most steps.
const DOCUMENT: &str = include_str!("../../../demo/builds/ilka-race-bike.toml");
/// What each tablet reads, and at which step.
const READ: [(&str, &str); 2] = [("hood-gap", "check-gap"), ("post-extension", "set-post")];
/// A reading is written with who took it and on which day: both change each time, so that all three fields do.
const TAKEN: [(&str, &str); 2] = [("Ines", "2027-02-03"), ("Ben", "2027-02-04")];

fn main() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("stand-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = |name: &str| folder.join(name).to_str().unwrap().to_owned();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let build = runtime.block_on(workshop(&file("workshop.sqlite")));
    let mut floor = runtime.block_on(Floor::open(&file("floor.sqlite")));
    let program = Program::start(&file("workshop.sqlite"));
    let mut tablets = READ.map(|(number, step)| Tablet::open(program.port, &build, number, step));

    let [mut alone, mut pair, mut page, mut bare] = [const { Vec::new() }; 4];
    for _ in 0..TURNS {
        for _ in 0..READINGS_A_TURN {
            bare.push(runtime.block_on(floor.reading()));
        }
        for _ in 0..READINGS_A_TURN {
            alone.push(tablets[0].reading());
        }
        std::thread::scope(|both| {
            let work = |tablet| both.spawn(move || readings(tablet));
            for one in tablets.each_mut().map(work) {
                pair.extend(one.join().unwrap());
            }
        });
        page.push(tablets[0].page());
    }
    println!("the answer to a reading has {} bytes, the whole page {}", tablets[0].answer_bytes, tablets[0].page_bytes);
    println!("                                       p50        p99    p50 of the floor's");
    let floor_p50 = at(&mut bare, 50);
    for (name, times) in [
        ("a reading, one tablet", &mut alone),
        ("a reading, two tablets on one bike", &mut pair),
        ("the whole page of the stand", &mut page),
        ("floor: the bare engine", &mut bare),
    ] {
        let (p50, p99) = (at(times, 50), at(times, 99));
        println!("{name:<36} {p50:>6.2} ms {p99:>7.2} ms    {:.2}", p50 / floor_p50);
    }
    let sent = tablets.iter().map(|tablet| tablet.sent).sum::<usize>();
    drop(tablets);
    drop(program);
    runtime.block_on(async {
        let store = Store::open(&file("workshop.sqlite")).await.unwrap();
        let record = store.leaves(&build).await.unwrap().unwrap();
        assert_eq!(record.revision, 1 + i64::try_from(sent).unwrap(), "every reading that was answered is kept, once");
        store.close().await;
        floor.connection.close().await.unwrap();
    });
    println!("every reading that was answered is kept, once");
    std::fs::remove_dir_all(&folder).unwrap();
}

fn readings(tablet: &mut Tablet) -> Vec<Duration> {
    (0..READINGS_A_TURN).map(|_| tablet.reading()).collect()
}

fn at(times: &mut [Duration], share: usize) -> f64 {
    times.sort();
    times[(times.len() - 1) * share / 100].as_secs_f64() * 1e3
}

/// A workshop with one bike, on which nobody has read what is read here.
async fn workshop(data: &str) -> BuildId {
    let document = witnessmark_intake::document("ilka", DOCUMENT).unwrap();
    let mut leaves: Vec<(String, String)> =
        document.leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
    leaves.retain(|(path, _)| !READ.iter().any(|(number, _)| path.starts_with(&format!("measured.{number}."))));
    println!("the bike has {} fields", leaves.len());
    let store = Store::open(data).await.unwrap();
    let by = By { who: "Anna".into(), at_ms: 1, request_key: "made".into() };
    let build = store.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by).await.unwrap();
    store.close().await;
    build
}

/// A tablet: one line that stays open, as a browser's does.
struct Tablet {
    line: BufReader<TcpStream>,
    build: String,
    number: &'static str,
    step: &'static str,
    sent: usize,
    seen: String,
    answer_bytes: usize,
    page_bytes: usize,
}

impl Tablet {
    fn open(port: u16, build: &BuildId, number: &'static str, step: &'static str) -> Self {
        let line = TcpStream::connect(("127.0.0.1", port)).unwrap();
        line.set_nodelay(true).unwrap();
        let line = BufReader::new(line);
        let build = build.to_string();
        let mut tablet =
            Tablet { line, build, number, step, sent: 0, seen: "1".into(), answer_bytes: 0, page_bytes: 0 };
        tablet.page();
        tablet
    }

    /// Sends a reading and takes the whole answer.
    fn reading(&mut self) -> Duration {
        let value = |sent: usize| 300.0 + sent as f64 / 10.0;
        let (who, day) = TAKEN[self.sent % 2];
        let before = if self.sent == 0 { String::new() } else { format!("&before={}", value(self.sent)) };
        let body = format!(
            "path=measured.{number}.value{before}&after={}&key={number}-{}&who={who}&day={day}&page=stand&place={}&seen={}",
            value(self.sent + 1),
            self.sent,
            self.step,
            self.seen,
            number = self.number,
        );
        let head = format!(
            "POST /builds/{}/edit HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/x-www-form-urlencoded\r\n\
             content-length: {}\r\n\r\n",
            self.build,
            body.len()
        );
        let start = Instant::now();
        let answer = self.ask(&(head + &body));
        let took = start.elapsed();
        assert!(answer.contains(&format!("id=\"step-{}\"", self.step)), "the step is answered anew: {answer}");
        self.sent += 1;
        self.answer_bytes = answer.len();
        answer.split("data-revision=\"").nth(1).unwrap().split('"').next().unwrap().clone_into(&mut self.seen);
        took
    }

    fn page(&mut self) -> Duration {
        let request = format!("GET /builds/{}/stand HTTP/1.1\r\nhost: localhost\r\n\r\n", self.build);
        let start = Instant::now();
        self.page_bytes = self.ask(&request).len();
        start.elapsed()
    }

    fn ask(&mut self, request: &str) -> String {
        self.line.get_mut().write_all(request.as_bytes()).unwrap();
        let (mut head, mut length) = (String::new(), 0);
        while !head.ends_with("\r\n\r\n") {
            let from = head.len();
            assert!(self.line.read_line(&mut head).unwrap() > 0, "the program hung up: {head}");
            if let Some((name, value)) = head[from..].split_once(':')
                && name.eq_ignore_ascii_case("content-length")
            {
                length = value.trim().parse().unwrap();
            }
        }
        let mut body = vec![0; length];
        self.line.read_exact(&mut body).unwrap();
        let body = String::from_utf8(body).unwrap();
        assert!(head.starts_with("HTTP/1.1 200"), "{head}{body}");
        body
    }
}

/// The engine alone, in the same kind of file with the same bike.
struct Floor {
    connection: SqliteConnection,
    build: BuildId,
    done: usize,
}

impl Floor {
    async fn open(data: &str) -> Self {
        let build = workshop(data).await;
        let mut connection = SqliteConnection::connect(&format!("sqlite://{data}")).await.unwrap();
        sqlx::raw_sql("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON")
            .execute(&mut connection)
            .await
            .unwrap();
        Self { connection, build, done: 0 }
    }

    /// The same rows as one reading: a revision and three fields.
    async fn reading(&mut self) -> Duration {
        let (build, number) = (&self.build, self.done);
        self.done += 1;
        let revision = number + 2;
        let field = |path: &str| {
            format!(
                "INSERT INTO fields VALUES ('{build}', '{path}', '{number}') \
                 ON CONFLICT (build_id, path) DO UPDATE SET text = '{number}'; \
                 INSERT INTO edits VALUES ('{build}', {revision}, '{path}', 'a', '{number}');"
            )
        };
        let fields = ["measured.hood-gap.value", "measured.hood-gap.by", "measured.hood-gap.on"].map(field).concat();
        let text = format!(
            "BEGIN IMMEDIATE; \
             INSERT INTO revisions VALUES ({revision}, '{build}', {revision}, 'Ines', 1, 'floor {number}', NULL); \
             {fields} COMMIT"
        );
        let start = Instant::now();
        sqlx::raw_sql(AssertSqlSafe(text)).execute(&mut self.connection).await.unwrap();
        start.elapsed()
    }
}
