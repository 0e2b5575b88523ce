//! A real `PostgreSQL`, on a free port, in a folder of its own, that goes away with the test.
//!
//! The server refuses to run as root, so there it runs as the user that Debian's package makes. It hangs on a pipe from
//! this process: when the process ends, however it ends, the pipe closes, the server stops and its folder is taken away.

#![allow(dead_code, reason = "each test file uses what it needs")]

use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Mutex, OnceLock, PoisonError};
use std::time::{Duration, Instant};

use sqlx::{AnyConnection, AssertSqlSafe, Connection};

/// How long it may take to start.
const PATIENCE: Duration = Duration::from_mins(1);

/// Waits for the pipe to close, then stops the server and takes its folder away. `$1` is the server, `$2` its
/// folder, `$3` its port.
const KEEPER: &str = r#"
"$1" -D "$2/data" -p "$3" -h 127.0.0.1 -k "$2" -c fsync=on -c max_connections=60 -c shared_buffers=32MB >>"$2/log" 2>&1 &
server=$!
read nothing
kill -INT $server
wait $server
rm -rf "$2"
"#;

/// A server with its own data.
pub(crate) struct Postgres {
    programs: PathBuf,
    folder: PathBuf,
    port: u16,
    running: Mutex<Option<Running>>,
}

struct Running {
    keeper: Child,
    pipe: ChildStdin,
}

/// The server that the tests of one file share; each has a database of its own.
pub(crate) fn shared() -> &'static Postgres {
    static SHARED: OnceLock<Postgres> = OnceLock::new();
    SHARED.get_or_init(Postgres::start)
}

impl Postgres {
    /// Makes a folder, fills it, and starts a server in it.
    pub(crate) fn start() -> Self {
        static STARTED: AtomicU32 = AtomicU32::new(0);
        let programs = programs().expect("PostgreSQL is not installed: `cargo xtask test` says how to get it");
        let number = STARTED.fetch_add(1, Ordering::Relaxed);
        let folder = std::env::temp_dir().join(format!("witnessmark-postgres-{}-{number}", std::process::id()));
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).expect("a folder for the server");
        if is_root() {
            let given = Command::new("chown").arg("postgres:").arg(&folder).status().expect("chown starts");
            assert!(given.success(), "the folder could not be given to the user postgres");
        }
        let made = as_server(&programs.join("initdb"))
            .arg("--pgdata")
            .arg(folder.join("data"))
            .args(["--username=postgres", "--auth=trust", "--encoding=UTF8", "--no-sync"])
            .args(["--locale=C.UTF-8"])
            .current_dir(&folder)
            .output()
            .expect("initdb starts");
        assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
        let server = Self { programs, folder, port: free_port(), running: Mutex::new(None) };
        server.go();
        server
    }

    pub(crate) fn port(&self) -> u16 {
        self.port
    }

    /// The address of a database.
    pub(crate) fn url(&self, database: &str) -> String {
        format!("postgres://postgres@127.0.0.1:{}/{database}", self.port)
    }

    /// Makes an empty database and gives its address.
    pub(crate) async fn database(&self) -> String {
        static MADE: AtomicU32 = AtomicU32::new(0);
        let name = format!("workshop{}", MADE.fetch_add(1, Ordering::Relaxed));
        sqlx::any::install_default_drivers();
        let mut connection = AnyConnection::connect(&self.url("postgres")).await.expect("the server answers");
        let text = format!("CREATE DATABASE \"{name}\"");
        sqlx::raw_sql(AssertSqlSafe(text)).execute(&mut connection).await.expect("a new database");
        connection.close().await.expect("the server says goodbye");
        self.url(&name)
    }

    /// Starts it, again on the same port, and waits until it answers.
    pub(crate) fn go(&self) {
        self.launch();
        let start = Instant::now();
        while std::net::TcpStream::connect(("127.0.0.1", self.port)).is_err() || !self.answers() {
            assert!(start.elapsed() < PATIENCE, "it did not start:\n{}", self.log());
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// From now on it shows this certificate (two texts in PEM), and speaks to nobody without TLS.
    pub(crate) async fn shows(&self, certificate: &str, key: &str) {
        let data = self.folder.join("data");
        let put = |name: &str, text: &str| {
            let path = data.join(name);
            std::fs::write(&path, text).expect("a file for the server");
            let only_its_owner = std::os::unix::fs::PermissionsExt::from_mode(0o600);
            std::fs::set_permissions(&path, only_its_owner).expect("rights of a file");
            if is_root() {
                assert!(Command::new("chown").arg("postgres:").arg(&path).status().expect("chown starts").success());
            }
        };
        let mut connection = AnyConnection::connect(&self.url("postgres")).await.expect("the server answers");
        put("server.crt", certificate);
        put("server.key", key);
        put("pg_hba.conf", "hostssl all all 127.0.0.1/32 trust\n");
        for text in ["ALTER SYSTEM SET ssl = on", "SELECT pg_reload_conf()"] {
            sqlx::raw_sql(text).execute(&mut connection).await.expect("it takes a setting");
        }
        connection.close().await.expect("the server says goodbye");
    }

    fn launch(&self) {
        let mut keeper = as_server(Path::new("/bin/sh"))
            .args(["-c", KEEPER, "keeper"])
            .arg(self.programs.join("postgres"))
            .arg(&self.folder)
            .arg(self.port.to_string())
            .current_dir(&self.folder)
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .spawn()
            .expect("a shell starts");
        let pipe = keeper.stdin.take().expect("a pipe");
        *self.running() = Some(Running { keeper, pipe });
    }

    /// Stops it as a power cut would: no goodbye, nothing written that was not written. Its data stays.
    pub(crate) fn pull_the_plug(&self) {
        let pid = std::fs::read_to_string(self.folder.join("data/postmaster.pid")).expect("it runs");
        let pid = pid.lines().next().expect("a number").to_owned();
        // The server's processes are one group each; an immediate stop ends all of them at once.
        let stopped = Command::new("kill").args(["-QUIT", &pid]).status().expect("kill starts");
        assert!(stopped.success());
        let start = Instant::now();
        while self.folder.join("data/postmaster.pid").exists() {
            assert!(start.elapsed() < PATIENCE, "it did not stop:\n{}", self.log());
            std::thread::sleep(Duration::from_millis(10));
        }
        if let Some(mut running) = self.running().take() {
            // Its keeper would take the folder away when the pipe closes.
            let _ = running.keeper.kill();
            let _ = running.keeper.wait();
        }
    }

    fn answers(&self) -> bool {
        Command::new(self.programs.join("pg_isready"))
            .args(["--quiet", "--host=127.0.0.1", "--port", &self.port.to_string()])
            .status()
            .is_ok_and(|status| status.success())
    }

    fn log(&self) -> String {
        std::fs::read_to_string(self.folder.join("log")).unwrap_or_default()
    }

    fn running(&self) -> std::sync::MutexGuard<'_, Option<Running>> {
        self.running.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Drop for Postgres {
    fn drop(&mut self) {
        if let Some(Running { mut keeper, pipe }) = self.running().take() {
            drop(pipe);
            let _ = keeper.wait();
        }
    }
}

/// The folder of the newest server's programs.
pub(crate) fn programs() -> Option<PathBuf> {
    let versions = std::fs::read_dir("/usr/lib/postgresql").into_iter().flatten().flatten();
    let mut found: Vec<(u32, PathBuf)> = versions
        .filter_map(|version| Some((version.file_name().to_str()?.parse().ok()?, version.path().join("bin"))))
        .filter(|(_, folder)| folder.join("initdb").is_file())
        .collect();
    found.sort();
    let packaged = found.pop().map(|(_, folder)| folder);
    packaged.or_else(|| {
        let path = std::env::var_os("PATH")?;
        std::env::split_paths(&path).find(|folder| folder.join("initdb").is_file())
    })
}

fn as_server(program: &Path) -> Command {
    if is_root() {
        let mut command = Command::new("setpriv");
        command.args(["--reuid=postgres", "--regid=postgres", "--clear-groups"]).arg(program);
        command
    } else {
        Command::new(program)
    }
}

fn is_root() -> bool {
    static ROOT: OnceLock<bool> = OnceLock::new();
    *ROOT.get_or_init(|| Command::new("id").arg("-u").output().is_ok_and(|output| output.stdout.trim_ascii() == b"0"))
}

fn free_port() -> u16 {
    let door = TcpListener::bind(("127.0.0.1", 0)).expect("a free port");
    door.local_addr().expect("it has an address").port()
}
