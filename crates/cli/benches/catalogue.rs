//! The catalogue at 100 000 invented parts: imported, imported again, exported, through the binary and onto the disk.
//!
//! Run by `cargo xtask bench`. The time is that of the whole command, from its start to its end; the memory is the most it
//! held, as Linux tells it.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a benchmark stops where it fails and prints what it measured"
)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;
use witnessmark_core::catalogue::Entry;
use witnessmark_core::catalogue::sample::invented;
use witnessmark_core::part::KINDS;
use witnessmark_intake::catalogue::{write_csv, write_toml};

const PARTS: usize = 100_000;

fn main() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("catalogue-bench");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let parts = invented(PARTS);
    let mut tables: Vec<PathBuf> = Vec::new();
    let mut bytes = 0;
    for kind in KINDS {
        let of_kind: Vec<&Entry> = parts.iter().filter(|part| part.kind.key == kind.key).collect();
        let text = write_csv(kind, &of_kind, b';');
        bytes += text.len();
        tables.push(folder.join(format!("{}.csv", kind.key)));
        fs::write(tables.last().unwrap(), text).unwrap();
    }
    let toml = folder.join("all.toml");
    fs::write(&toml, write_toml(&parts)).unwrap();
    println!("{PARTS} parts of {} kinds, {} MB of tables", KINDS.len(), bytes / 1_000_000);

    let tables: Vec<&str> = tables.iter().map(|path| path.to_str().unwrap()).collect();
    let data = |name: &str| folder.join(name).to_str().unwrap().to_owned();
    let kept = data("a.sqlite");
    let import = |first: &[&str], files: &[&str], data: &str| {
        [&["parts", "import"], first, files, &["--data", data]]
            .concat()
            .iter()
            .map(|word| (*word).to_owned())
            .collect::<Vec<String>>()
    };
    timed("look at what would be imported (--dry-run)", &import(&["--dry-run"], &tables, &kept));
    timed("import, everything new", &import(&["--yes"], &tables, &kept));
    timed("import again, nothing new", &import(&["--yes"], &tables, &kept));
    let cheaper: Vec<String> = tables
        .iter()
        .map(|table| {
            let name = Path::new(table).file_name().unwrap().to_str().unwrap().replace(".csv", "-prices.csv");
            let path = folder.join(name);
            fs::write(&path, with_other_prices(table)).unwrap();
            path.to_str().unwrap().to_owned()
        })
        .collect();
    let cheaper: Vec<&str> = cheaper.iter().map(String::as_str).collect();
    timed("import prices, a new version of each", &import(&["--yes"], &cheaper, &kept));
    timed("import from one TOML file", &import(&["--yes"], &[toml.to_str().unwrap()], &data("b.sqlite")));
    timed("export as TOML", &["parts", "export", "--data", &kept].map(str::to_owned));
    timed("find stem 110 -6", &["parts", "find", "stem", "110", "-6", "--data", &kept].map(str::to_owned));
    let _ = fs::remove_dir_all(&folder);
}

/// The ids of a table with a price of 123.45 each.
fn with_other_prices(table: &str) -> String {
    let text = fs::read_to_string(table).unwrap();
    let ids = text.lines().skip(1).map(|line| format!("{};123.45\n", line.split(';').next().unwrap()));
    std::iter::once("id;price\n".to_owned()).chain(ids).collect()
}

fn timed(what: &str, arguments: &[String]) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_witnessmark"));
    command.args(arguments).stdin(Stdio::null()).stdout(Stdio::null());
    let start = Instant::now();
    let mut child = command.spawn().unwrap();
    let mut most_kb = 0;
    let status = loop {
        if let Some(status) = child.try_wait().unwrap() {
            break status;
        }
        most_kb = most_kb.max(memory_kb(child.id()));
        std::thread::sleep(std::time::Duration::from_millis(5));
    };
    let took = start.elapsed();
    assert!(status.success(), "{arguments:?}");
    println!("{:>8.2} s  {:>5} MB  {what}", took.as_secs_f64(), most_kb / 1024);
}

/// The most memory a process has held so far; 0 where the system does not tell.
fn memory_kb(process: u32) -> u64 {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|rest| rest.split_whitespace().next()?.parse().ok()).unwrap_or(0)
}
