//! The program itself, killed in mid-work, tapped twice, cut off and kept from writing: what was acknowledged is there, once.
//!
//! `WITNESSMARK_KILLS=1000 cargo test -p witnessmark --test faults killed -- --nocapture` is the long run.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

#[path = "../../store/tests/common/chance.rs"]
mod chance;
#[path = "../../store/tests/common/postgres.rs"]
mod postgres;

use chance::Chance;
use postgres::Postgres;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::sleep;
use std::time::{Duration, Instant};
use witnessmark_store::{BuildId, By, EditError, NewBuild, Store, StoreError, read_copy};

const CLIENTS: usize = 4;
const BINARY: &str = env!("CARGO_BIN_EXE_witnessmark");

#[test]
fn the_program_is_killed_again_and_again_and_no_acknowledged_edit_is_lost_from_a_file() {
    let folder = Folder::new("kills");
    killed(&folder.file("workshop.sqlite"));
}

#[test]
fn the_program_is_killed_again_and_again_and_no_acknowledged_edit_is_lost_from_a_server() {
    let server = Postgres::start();
    killed(&on_runtime(server.database()));
}

/// Clients edit through the pages; now and then they tap twice, go away without waiting for the answer, or are cut off in
/// the middle of asking. The program is killed (SIGKILL) at moments nobody chose and started again on the same port.
fn killed(data: &str) {
    let kills: u32 = std::env::var("WITNESSMARK_KILLS").map_or(12, |number| number.parse().unwrap());
    let mut chance = Chance::told();
    let build = on_runtime(make(data));
    let mut program = Program::start(data, 0);
    let port = program.port;
    let over = Arc::new(AtomicBool::new(false));
    let clients: Vec<_> = (0..CLIENTS)
        .map(|number| {
            let (over, chance) = (Arc::clone(&over), Chance::from(chance.below(u64::MAX)));
            let client = Client { number, port, build: build.clone(), chance, seen: Seen::default() };
            std::thread::spawn(move || client.work(&over))
        })
        .collect();
    let mut startings = Vec::new();
    for _ in 0..kills {
        sleep(Duration::from_millis(20 + chance.below(400)));
        program.kill();
        let start = Instant::now();
        program = Program::start(data, port);
        startings.push(start.elapsed());
    }
    sleep(Duration::from_millis(200));
    over.store(true, Ordering::Relaxed);
    let seen: Vec<Seen> = clients.into_iter().map(|client| client.join().unwrap()).collect();
    program.kill();
    startings.sort();
    println!(
        "{kills} kills; started again in {:?} as a rule, {:?} at most",
        startings[startings.len() / 2],
        startings.last()
    );
    println!("{seen:?}");

    let kept = on_runtime(async {
        let store = Store::open(data).await.unwrap();
        let mut kept = Vec::new();
        for client in 0..CLIENTS {
            let log = store.history(&build, path(client)).await.unwrap();
            kept.push(log.into_iter().skip(1).map(|row| row.after.unwrap()).collect::<Vec<_>>());
        }
        let verified = store.verify().await.unwrap();
        store.close().await;
        assert_eq!(verified.revisions, 1 + kept.iter().map(Vec::len).sum::<usize>());
        kept
    });
    for (client, (kept, seen)) in kept.iter().zip(&seen).enumerate() {
        let acknowledged: Vec<String> = (1..=seen.acknowledged).map(|step| step.to_string()).collect();
        assert_eq!(kept, &acknowledged, "client {client}: each step once, in order, and none that nobody asked for");
    }
    let all: u32 = seen.iter().map(|seen| seen.acknowledged).sum();
    assert!(all > kills, "hardly anything happened: {seen:?}");
}

/// What happened to a client.
#[derive(Debug, Default)]
#[allow(dead_code, reason = "printed as a whole")]
struct Seen {
    /// Its steps that were acknowledged.
    acknowledged: u32,
    /// Requests that were sent twice at once.
    double_taps: u32,
    /// Requests after which it went away without waiting.
    walked_away: u32,
    /// Requests that were cut off in the middle.
    cut_off: u32,
    /// Requests that found nobody, or got no answer.
    unanswered: u32,
    /// Answers that asked to try again.
    refused: u32,
}

struct Client {
    number: usize,
    port: u16,
    build: BuildId,
    chance: Chance,
    seen: Seen,
}

impl Client {
    /// Counts its own field up, each step with a key of its own until it is acknowledged.
    fn work(mut self, over: &AtomicBool) -> Seen {
        // Nobody goes home with a request of which it is not known what became of it.
        let mut open = false;
        while open || !over.load(Ordering::Relaxed) {
            let step = self.seen.acknowledged + 1;
            let request =
                edit(&self.build, path(self.number), Some(step - 1), step, &format!("{}-{step}", self.number));
            open = true;
            match self.chance.below(10) {
                0 => {
                    self.seen.double_taps += 1;
                    let (port, twin) = (self.port, request.clone());
                    let twin = std::thread::spawn(move || ask(port, &twin));
                    let here = ask(self.port, &request);
                    let there = twin.join().unwrap();
                    for answer in [here, there] {
                        // Both are told that it is written, whichever wrote it.
                        assert!(matches!(answer, None | Some((200 | 503, _))), "{answer:?}");
                    }
                }
                1 => {
                    self.seen.walked_away += 1;
                    if let Ok(mut line) = TcpStream::connect(("127.0.0.1", self.port)) {
                        let _ = line.write_all(request.as_bytes());
                    }
                }
                2 => {
                    self.seen.cut_off += 1;
                    let part = usize::try_from(self.chance.below(request.len() as u64)).unwrap();
                    if let Ok(mut line) = TcpStream::connect(("127.0.0.1", self.port)) {
                        let _ = line.write_all(&request.as_bytes()[..part]);
                    }
                }
                _ => {}
            }
            match ask(self.port, &request) {
                Some((200, _)) => {
                    self.seen.acknowledged += 1;
                    open = false;
                }
                Some((503, _)) => self.seen.refused += 1,
                Some((status, says)) => panic!("client {}, step {step}: {status}\n{says}", self.number),
                None => {
                    self.seen.unanswered += 1;
                    sleep(Duration::from_millis(10));
                }
            }
        }
        self.seen
    }
}

#[test]
fn of_two_tablets_on_one_field_one_wins_and_the_other_is_shown_both_texts() {
    let folder = Folder::new("two");
    let data = folder.file("workshop.sqlite");
    let build = on_runtime(make(&data));
    let mut program = Program::start(&data, 0);
    for round in 0..20_u32 {
        let request = |tablet: u32| {
            let after = 1000 + round * 10 + tablet;
            let before = if round == 0 { 0 } else { 5 + round };
            edit(&build, path(0), Some(before), after, &format!("{round}-{tablet}"))
        };
        let (port, mine, theirs) = (program.port, request(1), request(2));
        let other = std::thread::spawn(move || ask(port, &theirs).unwrap());
        let (here, there) = (ask(program.port, &mine).unwrap(), other.join().unwrap());
        let mut statuses = [here.0, there.0];
        statuses.sort_unstable();
        assert_eq!(statuses, [200, 409], "round {round}");
        let (lost, texts) = if here.0 == 409 { (here.1, [1, 2]) } else { (there.1, [1, 2]) };
        for tablet in texts {
            let text = (1000 + round * 10 + tablet).to_string();
            assert!(lost.contains(&text), "{text} in:\n{lost}");
        }
        // Back to a text that both know.
        let winner = 1000 + round * 10 + if here.0 == 200 { 1 } else { 2 };
        let back = edit(&build, path(0), Some(winner), 6 + round, &format!("{round}-back"));
        assert_eq!(ask(program.port, &back).unwrap().0, 200);
    }
    program.kill();
}

#[test]
fn a_reading_that_is_tapped_twice_is_written_once_and_both_taps_are_told_so() {
    let folder = Folder::new("reading");
    let data = folder.file("workshop.sqlite");
    let build = on_runtime(make(&data));
    let mut program = Program::start(&data, 0);
    // Who read it and when is written along with it, and is there already when the second tap comes.
    let reading = edit(&build, "measured.saddle-height.value", None, 720, "one").replace("&who=", "&who=Anna");
    let reading = counted(&reading);
    let first = ask(program.port, &reading).unwrap();
    assert_eq!(first.0, 200, "{}", first.1);
    let second = ask(program.port, &reading).unwrap();
    assert_eq!(second.0, 200, "{}", second.1);
    program.kill();
    let revisions = on_runtime(async {
        let store = Store::open(&data).await.unwrap();
        store.verify().await.unwrap().revisions
    });
    assert_eq!(revisions, 2);
}

/// The system refuses to let any file grow beyond so many bytes, a kilobyte more each time: writes fail in the middle of a
/// page, of the log's head, of a copy.
#[test]
fn a_disk_that_fails_at_the_nth_kilobyte_loses_nothing_and_leaves_nothing_half_written() {
    let folder = Folder::new("limit");
    let data = folder.file("workshop.sqlite");
    let build = on_runtime(make(&data));
    let original = std::fs::read(&data).unwrap();
    let size = original.len() / 1024;
    let mut step = 0_u32;
    let (mut refusals, mut written) = (0, 0);
    // The log beside the file grows from nothing: limits below the file's own size fail in the log alone.
    for limit in (1..60).chain([size - 1, size, size + 1, size + 40]) {
        let Some(mut program) = Program::start_limited(&data, limit) else {
            // Not even room to begin: told, and nothing touched.
            refusals += 1;
            continue;
        };
        for _ in 0..4 {
            let request = edit(&build, path(0), Some(step), step + 1, &format!("limit {}", step + 1));
            match ask(program.port, &request) {
                Some((200, _)) => (step, written) = (step + 1, written + 1),
                Some((500..=599, says)) => {
                    refusals += 1;
                    assert!(says.contains("disk") || says.contains("written"), "{limit} KiB: {says}");
                }
                other => panic!("{limit} KiB: {other:?}"),
            }
        }
        program.kill();
        let now = on_runtime(async {
            let store = Store::open(&data).await.unwrap();
            store.verify().await.unwrap();
            let now = store.leaves(&build).await.unwrap().unwrap().leaves[path(0)].clone();
            store.close().await;
            now
        });
        // A refused step may not be there: everybody was told so.
        assert_eq!(now, step.to_string(), "at {limit} KiB");
    }
    println!("limits: {refusals} refusals, {written} edits written");
    assert!(refusals > 10 && written > 40, "{refusals} refusals, {written} written");

    // Copies under the same limits: whole, or not there.
    let (mut whole, mut none) = (0, 0);
    for limit in (4..260).step_by(12) {
        let file = folder.file(&format!("copy{limit}"));
        let output = limited(limit).args(["backup", "--data", &data, "--to", &file]).output().unwrap();
        if output.status.success() {
            on_runtime(read_copy(Path::new(&file))).unwrap();
            whole += 1;
        } else {
            assert_eq!(output.status.code(), Some(2));
            assert!(!output.stderr.is_empty());
            none += 1;
        }
    }
    println!("copies: {whole} whole, {none} refused");
    assert!(whole > 0 && none > 0);
    let left: Vec<String> = folder.names().into_iter().filter(|name| name.contains("part")).collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn a_file_held_by_another_program_is_told_of_at_the_terminal_and_left_alone() {
    let folder = Folder::new("held");
    let data = folder.file("workshop.sqlite");
    let build = on_runtime(make(&data));
    on_runtime(async {
        let store = Store::open(&data).await.unwrap();
        let by = witnessmark_store::CatalogueBy { who: "Anna".into(), at_ms: 1, source: "by hand".into() };
        // The only pen, held.
        let held = store.change_catalogue(by).await.unwrap();
        let other = Store::open(&data).await;
        assert!(matches!(other, Err(StoreError::Locked(_))), "{other:?}");
        held.give_up().await;
        let other = Store::open(&data).await.unwrap();
        let change =
            [witnessmark_store::Change { path: path(0).into(), before: Some("0".into()), after: Some("1".into()) }];
        let by = By { who: "Anna".into(), at_ms: 1, request_key: "after".into() };
        let applied: Result<_, EditError> = other.edit(&build, &change, &by).await;
        assert_eq!(applied.unwrap().revision, 2);
        other.close().await;
        store.close().await;
    });
}

#[test]
fn where_nothing_may_be_written_each_command_says_so_in_a_sentence_and_leaves_nothing() {
    use std::os::unix::fs::PermissionsExt;
    // Where everybody may go: the program runs as somebody else here.
    let folder = Folder::made(std::env::temp_dir().join(format!("faults-readonly-{}", std::process::id())));
    let (shut, open) = (folder.file("shut"), folder.file("open"));
    for path in [&shut, &open] {
        std::fs::create_dir(path).unwrap();
    }
    let own = format!("{open}/workshop.sqlite");
    let (kept, copy) = (format!("{shut}/workshop.sqlite"), format!("{shut}/monday.copy"));
    on_runtime(make(&own));
    on_runtime(make(&kept));
    let copied = Command::new(BINARY).args(["backup", "--data", &own, "--to", &copy]).status().unwrap();
    assert!(copied.success());
    // To root nothing is shut: there the program runs as nobody, whose rights are everybody's.
    let as_root = Command::new("id").arg("-u").output().unwrap().stdout.trim_ascii() == b"0";
    let rights = |path: &str, mode: u32| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
    };
    rights(&own, 0o666);
    rights(&open, 0o777);
    rights(&kept, 0o444);
    rights(&copy, 0o444);
    rights(&shut, 0o555);
    // The program itself must be within that one's reach.
    let program = folder.file("program");
    std::fs::copy(BINARY, &program).unwrap();
    let run = |arguments: &[&str]| {
        let mut command = Command::new(if as_root { "setpriv" } else { &program });
        if as_root {
            command.args(["--reuid=65534", "--regid=65534", "--clear-groups", &program]);
        }
        command.args(arguments).current_dir("/").stdin(Stdio::null()).output().unwrap()
    };
    let new = |name: &str| format!("{shut}/{name}");
    let before = names_in(&shut);
    let not_written = "cannot be written to";
    let not_opened = "may read and write in its folder";
    let cases: &[(&[&str], &str)] = &[
        (&["serve", "--data", &kept, "--listen", "127.0.0.1:0"], not_written),
        (&["serve", "--data", &new("none.sqlite"), "--listen", "127.0.0.1:0"], not_opened),
        (&["demo", "--data", &new("demo.sqlite"), "--once"], not_opened),
        (&["people", "list", "--data", &kept], not_written),
        (&["backup", "--data", &kept, "--to", &format!("{open}/x.copy")], not_written),
        (&["backup", "--data", &own, "--to", &new("x.copy")], not_opened),
        (&["restore", &copy, "--to", &new("x.sqlite")], not_opened),
        (&["move", "--from", &own, "--to", &new("x.sqlite")], not_opened),
    ];
    for (arguments, says) in cases {
        let output = run(arguments);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {said}");
        assert!(said.contains(says) && said.lines().count() == 1 && !said.contains("code"), "{arguments:?}: {said}");
    }
    // A copy on a disk that takes no writing is put back all the same.
    let put_back = run(&["restore", &copy, "--to", &format!("{open}/again.sqlite")]);
    assert!(put_back.status.success(), "{}", String::from_utf8_lossy(&put_back.stderr));
    assert_eq!(names_in(&shut), before);
    rights(&shut, 0o755);
}

#[test]
fn a_workshop_is_copied_put_back_and_moved_at_the_terminal() {
    let folder = Folder::new("terminal");
    let data = folder.file("workshop.sqlite");
    on_runtime(make(&data));
    let copy = folder.file("monday.copy");
    let server = Postgres::start();
    let database = on_runtime(server.database());
    let again = folder.file("again.sqlite");
    let run = |arguments: &[&str]| Command::new(BINARY).args(arguments).output().unwrap();
    let says = |arguments: &[&str]| {
        let output = run(arguments);
        assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    let table =
        |said: &str| said.lines().filter(|line| line.contains("sha-256")).map(str::to_owned).collect::<Vec<_>>();
    let copied = table(&says(&["backup", "--data", &data, "--to", &copy]));
    assert!(copied.iter().any(|line| line.starts_with("builds ") && line.contains(" 1 rows")), "{copied:?}");
    assert_eq!(table(&says(&["restore", &copy, "--to", &database])), copied);
    assert_eq!(table(&says(&["move", "--from", &database, "--to", &again])), copied);
    // Nothing is written over, and nothing is made where there is nothing.
    for refused in [
        &["backup", "--data", &data, "--to", &copy][..],
        &["restore", &copy, "--to", &again],
        &["restore", &copy, "--to", &database],
        &["move", "--from", &data, "--to", &again],
        &["move", "--from", &folder.file("nothing.sqlite"), "--to", &folder.file("b.sqlite")],
    ] {
        let output = run(refused);
        assert_eq!(output.status.code(), Some(2), "{refused:?}");
        assert!(!output.stderr.is_empty());
    }
    assert_eq!(folder.names(), ["again.sqlite", "monday.copy", "workshop.sqlite"]);
}

fn names_in(folder: &str) -> Vec<String> {
    let names =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned());
    let mut names: Vec<String> = names.collect();
    names.sort();
    names
}

/// A workshop with one build, every client's field at nothing.
async fn make(data: &str) -> BuildId {
    let store = Store::open(data).await.unwrap();
    let leaves: Vec<(String, String)> = (0..CLIENTS).map(|client| (path(client).to_owned(), "0".to_owned())).collect();
    let by = By { who: "Anna".into(), at_ms: 1, request_key: "made".into() };
    let build = store.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by).await.unwrap();
    store.close().await;
    build
}

/// A field of free text for each client.
fn path(client: usize) -> &'static str {
    ["job.title", "job.note", "job.event", "rider.name"][client]
}

/// A request that changes a field from one number to another.
fn edit(build: &BuildId, path: &str, before: Option<u32>, after: u32, key: &str) -> String {
    let key = key.replace(' ', "+");
    let before = before.map(|before| format!("&before={before}")).unwrap_or_default();
    let body = format!("path={path}{before}&after={after}&key={key}&who=");
    counted(&format!(
        "POST /builds/{build}/edit HTTP/1.0\r\nhost: localhost\r\ncontent-type: application/x-www-form-urlencoded\r\n\r\n{body}"
    ))
}

/// The same request with its length told.
fn counted(request: &str) -> String {
    let (head, body) = request.split_once("\r\n\r\n").unwrap();
    let head: Vec<&str> = head.split("\r\n").filter(|line| !line.starts_with("content-length")).collect();
    format!("{}\r\ncontent-length: {}\r\n\r\n{body}", head.join("\r\n"), body.len())
}

/// Sends a request and waits for the answer; `None` where nobody is there or the line is cut.
fn ask(port: u16, request: &str) -> Option<(u16, String)> {
    let mut line = TcpStream::connect(("127.0.0.1", port)).ok()?;
    line.set_read_timeout(Some(Duration::from_mins(1))).ok()?;
    line.write_all(request.as_bytes()).ok()?;
    let mut answer = Vec::new();
    line.read_to_end(&mut answer).ok()?;
    let answer = String::from_utf8_lossy(&answer).into_owned();
    let (head, body) = answer.split_once("\r\n\r\n")?;
    // Half an answer is none.
    let length: usize = head.lines().find_map(|line| line.strip_prefix("content-length: "))?.parse().ok()?;
    if body.len() < length {
        return None;
    }
    Some((head.split(' ').nth(1)?.parse().ok()?, body.to_owned()))
}

/// The program, serving.
struct Program {
    child: Child,
    port: u16,
}

impl Program {
    fn start(data: &str, port: u16) -> Self {
        Self::served(Command::new(BINARY), data, port).unwrap()
    }

    /// Serving where no file may grow beyond so many kilobytes; `None` where it does not even start.
    fn start_limited(data: &str, kilobytes: usize) -> Option<Self> {
        Self::served(limited(kilobytes), data, 0)
    }

    fn served(mut command: Command, data: &str, port: u16) -> Option<Self> {
        let mut child = command
            .args(["serve", "--data", data, "--listen", &format!("127.0.0.1:{port}")])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut said = BufReader::new(child.stdout.take().unwrap());
        let mut line = String::new();
        let port = loop {
            line.clear();
            if said.read_line(&mut line).unwrap() == 0 {
                let status = child.wait().unwrap();
                assert_eq!(status.code(), Some(2), "it ends by itself only where it says why");
                return None;
            }
            // "The workshop's pages: http://127.0.0.1:40123/ …"
            let port = line.split("http://127.0.0.1:").nth(1).and_then(|rest| rest.split('/').next()?.parse().ok());
            if let Some(port) = port {
                break port;
            }
        };
        Some(Self { child, port })
    }

    fn kill(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The program where no file may grow beyond so many kilobytes. The signal that comes with it is ignored, so that the
/// write fails instead.
fn limited(kilobytes: usize) -> Command {
    let mut command = Command::new("bash");
    command.args(["-c", &format!("trap '' XFSZ; ulimit -f {kilobytes}; exec \"$0\" \"$@\""), BINARY]);
    command
}

fn on_runtime<T>(work: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(work)
}

/// A folder of this test's own, taken away with everything in it.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("faults-{name}-{}", std::process::id()));
        Self::made(path)
    }

    fn made(path: PathBuf) -> Self {
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn file(&self, name: &str) -> String {
        self.0.join(name).to_str().unwrap().to_owned()
    }

    fn names(&self) -> Vec<String> {
        let names = std::fs::read_dir(&self.0).unwrap().map(|entry| entry.unwrap().file_name());
        let mut names: Vec<String> = names.map(|name| name.to_string_lossy().into_owned()).collect();
        names.retain(|name| !name.ends_with("-wal") && !name.ends_with("-shm"));
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}
