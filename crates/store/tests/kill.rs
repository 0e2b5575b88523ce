//! The program is killed in the middle of its work, again and again, and nothing it said it kept is gone.
//!
//! This test starts itself as a second process ([`hammer`]) in which several clients edit one build as fast
//! as they can, each saying on its standard output what it is about to send and what was acknowledged. The
//! process is killed at a moment nobody chose (SIGKILL: no handler, no goodbye), the file is opened again,
//! and the log is compared with what was said. Then each client's unanswered request is sent once more with
//! its key, as a tablet would: whether or not the first one got through, it must be there once.
//!
//! A killed process is not a pulled plug: what the operating system holds is not lost here. That each commit
//! waits for the disk is `SQLite`'s own promise under `synchronous = FULL`, which `engine.rs` asks for.
//!
//! `WITNESSMARK_KILLS=1000 cargo test -p witnessmark-store --test kill -- --nocapture` takes longer and says
//! how much was seen.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod common;

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::process::{Command, Stdio};
use std::time::Duration;

use common::chance::Chance;
use common::{Folder, by, change, leaves};
use witnessmark_store::{BuildId, By, Change, NewBuild, Store};

const CLIENTS: usize = 6;
/// How many kills one file lives through; a longer log would only make each look through it slower.
const KILLS_A_FILE: usize = 20;
const FILE: &str = "WITNESSMARK_HAMMER_FILE";

#[tokio::test]
async fn no_acknowledged_edit_is_lost_when_the_program_is_killed() {
    let kills: usize = match std::env::var("WITNESSMARK_KILLS") {
        Ok(number) => number.parse().expect("WITNESSMARK_KILLS is a number"),
        Err(_) => 12,
    };
    let mut chance = Chance::told();
    let folder = Folder::new("kill");
    let mut totals = Totals::default();
    let mut life = Life::new(folder.file("0.db"));
    for kill in 0..kills {
        if kill > 0 && kill % KILLS_A_FILE == 0 {
            life = Life::new(folder.file(&format!("{kill}.db")));
        }
        // Some come before the file is made, most while six clients are writing.
        let patience = Duration::from_micros(chance.below(300_000));
        life.one_kill(patience, &mut totals).await;
    }
    println!("{totals:?}");
    assert_eq!(totals.kills, kills);
    assert!(totals.acknowledged > 10 * kills, "hardly anything happened: {totals:?}");
}

/// What was seen, all kills together.
#[derive(Debug, Default)]
#[allow(dead_code, reason = "printed as a whole")]
struct Totals {
    kills: usize,
    /// Kills with at least one request unanswered.
    in_mid_work: usize,
    acknowledged: usize,
    /// Unanswered requests that had got through all the same.
    unanswered_and_kept: usize,
    /// Unanswered requests that had not.
    unanswered_and_not_kept: usize,
}

/// One file, and what its clients have said so far.
struct Life {
    name: String,
    /// For each client, the revision each of its steps was acknowledged under.
    acknowledged: [BTreeMap<i64, i64>; CLIENTS],
    /// For each client, the last step it was about to send.
    tried: [i64; CLIENTS],
}

impl Life {
    fn new(name: String) -> Self {
        Self { name, acknowledged: std::array::from_fn(|_| BTreeMap::new()), tried: [0; CLIENTS] }
    }

    /// How many acknowledgements there have been.
    fn said(&self) -> usize {
        self.acknowledged.iter().map(BTreeMap::len).sum()
    }

    async fn one_kill(&mut self, patience: Duration, totals: &mut Totals) {
        let said_before = self.said();
        self.run_and_kill(patience);
        totals.kills += 1;
        totals.acknowledged += self.said() - said_before;

        let store = Store::open(&self.name).await.unwrap();
        store.verify().await.unwrap();
        let builds = store.builds().await.unwrap();
        let Some(build) = builds.first() else {
            assert!(self.tried.iter().all(|&step| step == 0), "the build is gone");
            store.close().await;
            return;
        };
        assert_eq!(builds.len(), 1, "made once, however often it was asked for");
        let mut unanswered = 0;
        for client in 0..CLIENTS {
            unanswered += usize::from(self.look_at(&store, &build.id, client, totals).await);
        }
        totals.in_mid_work += usize::from(unanswered > 0);

        // Every request that was ever sent is there, once, beside the making of the build.
        let sent: i64 = self.tried.iter().sum();
        let seen = store.verify().await.unwrap();
        assert_eq!(i64::try_from(seen.revisions).unwrap(), sent + 1);
        store.close().await;
    }

    /// Compares one client's words with the log, and sends its unanswered request again.
    async fn look_at(&mut self, store: &Store, build: &BuildId, client: usize, totals: &mut Totals) -> bool {
        let acknowledged = &mut self.acknowledged[client];
        let last_acknowledged = acknowledged.keys().next_back().copied().unwrap_or(0);
        let tried = self.tried[client];

        let log = store.history(build, &step_path(client)).await.unwrap();
        let kept: BTreeMap<i64, i64> = log
            .iter()
            .skip(1) // the making of the build
            .map(|row| (row.after.as_deref().unwrap().parse().unwrap(), row.revision))
            .collect();
        for (step, revision) in &*acknowledged {
            assert_eq!(kept.get(step), Some(revision), "client {client} lost step {step}");
        }
        let last_kept = kept.keys().next_back().copied().unwrap_or(0);
        assert!(
            last_kept == last_acknowledged || (last_kept == tried && tried == last_acknowledged + 1),
            "client {client}: acknowledged {last_acknowledged}, sent {tried}, kept {last_kept}"
        );
        // A step that changes two fields has changed both or none.
        let notes = store.history(build, &note_path(client)).await.unwrap();
        let noted: BTreeMap<i64, i64> =
            notes.iter().skip(1).map(|row| (row.after.as_deref().unwrap().parse().unwrap(), row.revision)).collect();
        let expected: BTreeMap<i64, i64> =
            kept.iter().filter(|(step, _)| *step % 3 == 0).map(|(&s, &r)| (s, r)).collect();
        assert_eq!(noted, expected, "client {client}: half a step");

        if tried == last_acknowledged {
            return false;
        }
        let was_kept = last_kept == tried;
        let applied = store.edit(build, &step(client, tried), &signed(client, tried)).await.unwrap();
        assert_eq!(applied.replayed, was_kept);
        acknowledged.insert(tried, applied.revision);
        totals.unanswered_and_kept += usize::from(was_kept);
        totals.unanswered_and_not_kept += usize::from(!was_kept);
        true
    }

    /// Starts the hammering process, kills it, and takes down what it said.
    fn run_and_kill(&mut self, patience: Duration) {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["hammer", "--exact", "--ignored", "--nocapture"])
            .env(FILE, &self.name)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let out = child.stdout.take().unwrap();
        let listener = std::thread::spawn(move || {
            let mut words = Vec::new();
            let mut out = BufReader::new(out);
            let mut line = String::new();
            while out.read_line(&mut line).unwrap() > 0 {
                // A line cut short by the kill was not said.
                if line.ends_with('\n') {
                    words.push(line.trim_end().to_owned());
                }
                line.clear();
            }
            words
        });
        std::thread::sleep(patience);
        child.kill().unwrap();
        let status = child.wait_with_output().unwrap();
        let complaint = String::from_utf8_lossy(&status.stderr);
        assert!(status.status.code().is_none(), "it ended before the kill: {complaint}");
        assert!(!complaint.contains("panicked"), "{complaint}");
        for line in listener.join().unwrap() {
            self.take_down(&line);
        }
    }

    fn take_down(&mut self, line: &str) {
        let words: Vec<&str> = line.split(' ').collect();
        match words.as_slice() {
            ["try", client, step] => {
                let client: usize = client.parse().unwrap();
                self.tried[client] = step.parse().unwrap();
            }
            ["ack", client, step, revision] => {
                let client: usize = client.parse().unwrap();
                let earlier = self.acknowledged[client].insert(step.parse().unwrap(), revision.parse().unwrap());
                assert_eq!(earlier, None, "{line}: acknowledged twice");
            }
            _ => {} // the test harness talks too
        }
    }
}

/// The process that is killed. It never ends by itself.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
#[ignore = "started, and killed, by the test above"]
async fn hammer() {
    let Ok(name) = std::env::var(FILE) else {
        return; // somebody ran all ignored tests
    };
    say(""); // the harness has begun a line
    let store = Store::open(&name).await.unwrap();
    let mut brought = Vec::new();
    for client in 0..CLIENTS {
        brought.extend(leaves(&[(&step_path(client), "0"), (&note_path(client), "0")]));
    }
    let new = NewBuild { leaves: &brought, copied_from: None };
    let build = store.create_build(new, &by("Anna", 0, "the build")).await.unwrap();
    let now = store.leaves(&build).await.unwrap().unwrap().leaves;

    let mut clients = Vec::new();
    for client in 0..CLIENTS {
        let (store, build) = (store.clone(), build.clone());
        let done: i64 = now[&step_path(client)].parse().unwrap();
        clients.push(tokio::spawn(async move {
            for number in done + 1.. {
                say(&format!("try {client} {number}"));
                let applied = store.edit(&build, &step(client, number), &signed(client, number)).await.unwrap();
                assert!(!applied.replayed);
                say(&format!("ack {client} {number} {}", applied.revision));
            }
        }));
    }
    for client in clients {
        client.await.unwrap();
    }
}

/// One line, out of the door before this returns.
fn say(line: &str) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{line}").unwrap();
    out.flush().unwrap();
}

/// A client's step: its own count goes up by one, and every third time its note follows.
fn step(client: usize, number: i64) -> Vec<Change> {
    let text = |number: i64| number.to_string();
    let mut changes = vec![change(&step_path(client), Some(&text(number - 1)), Some(&text(number)))];
    if number % 3 == 0 {
        changes.push(change(&note_path(client), Some(&text(number - 3)), Some(&text(number))));
    }
    changes
}

fn signed(client: usize, number: i64) -> By {
    by(&format!("client {client}"), number, &format!("client {client} step {number}"))
}

fn step_path(client: usize) -> String {
    format!("client{client}.step")
}

fn note_path(client: usize) -> String {
    format!("client{client}.note")
}
