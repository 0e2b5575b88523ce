//! A person at a clock, a change in a line, a folder that goes away.

#![allow(dead_code, reason = "each test file uses what it needs")]

pub(crate) mod chance;
pub(crate) mod postgres;

use std::path::{Path, PathBuf};

use witnessmark_store::{By, Change};

/// The same tests with the data in a file and on a server: each is a function that takes the address of new data.
#[allow(unused_macros, reason = "each test file uses what it needs")]
macro_rules! on_both {
    ($($sentence:ident;)+) => {
        $(mod $sentence {
            #[tokio::test(flavor = "multi_thread", worker_threads = 4)]
            async fn in_a_file() {
                let folder = crate::common::Folder::new(stringify!($sentence));
                super::$sentence(&folder.file("a.db")).await;
            }

            #[tokio::test(flavor = "multi_thread", worker_threads = 4)]
            async fn on_a_server() {
                super::$sentence(&crate::common::postgres::shared().database().await).await;
            }
        })+
    };
}
#[allow(unused_imports, reason = "each test file uses what it needs")]
pub(crate) use on_both;

pub(crate) fn by(who: &str, at_ms: i64, request_key: &str) -> By {
    By { who: who.to_owned(), at_ms, request_key: request_key.to_owned() }
}

pub(crate) fn change(path: &str, before: Option<&str>, after: Option<&str>) -> Change {
    Change { path: path.to_owned(), before: before.map(str::to_owned), after: after.map(str::to_owned) }
}

pub(crate) fn leaves(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
    pairs.iter().map(|&(path, text)| (path.to_owned(), text.to_owned())).collect()
}

/// A folder of this test's own, taken away with everything in it.
pub(crate) struct Folder(PathBuf);

impl Folder {
    pub(crate) fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()));
        std::fs::create_dir_all(&path).expect("the build's own folder takes a folder");
        Self(path)
    }

    pub(crate) fn file(&self, name: &str) -> String {
        let path = self.0.join(name);
        path.to_str().expect("plain text").to_owned()
    }
}

impl Folder {
    /// What is in it, sorted; the engine's own side files apart.
    pub(crate) fn names(&self) -> Vec<String> {
        let entries = std::fs::read_dir(&self.0).expect("it is there");
        let names = entries.map(|entry| entry.expect("it can be listed").file_name().to_string_lossy().into_owned());
        let mut names: Vec<String> = names.filter(|name| !name.ends_with("-wal") && !name.ends_with("-shm")).collect();
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}
