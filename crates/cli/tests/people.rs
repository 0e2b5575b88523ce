//! People at the terminal, and a server that others reach: real processes, a real file.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use std::io::{BufRead, BufReader, Read, Write};
use std::path::PathBuf;
use std::process::{Child, Command, Output, Stdio};

struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// A server that ends with the test.
struct Served(Child);

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

fn program(folder: &Folder, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_witnessmark"));
    command.current_dir(&folder.0).args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

fn run(folder: &Folder, arguments: &[&str], typed: &str) -> Output {
    let mut child = program(folder, arguments).spawn().unwrap();
    child.stdin.take().unwrap().write_all(typed.as_bytes()).unwrap();
    child.wait_with_output().unwrap()
}

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

#[test]
fn people_are_added_listed_reset_and_removed() {
    let folder = Folder::new("people");
    let people = |arguments: &[&str], typed: &str| {
        let mut all = vec!["people"];
        all.extend(arguments);
        run(&folder, &all, typed)
    };
    let add =
        |name: &str, role: &str, password: &str| people(&["add", name, "--role", role, "--password-stdin"], password);
    let refused = add("Anna", "owner", "short\n");
    assert_eq!(refused.status.code(), Some(2));
    assert!(said(&refused).contains("at least 12 letters"), "{}", said(&refused));
    assert!(said(&add("Anna", "boss", "a gate of oak\n")).contains("owner, mechanic, viewer"));
    let added = add("Anna", "owner", "a gate of oak\n");
    assert_eq!(added.status.code(), Some(0), "{}", said(&added));
    assert!(!said(&added).contains("oak"));
    assert_eq!(add("Ben", "mechanic", "a hinge of brass\r\n").status.code(), Some(0));
    assert_eq!(people(&["reset", "Ben", "--pin", "--password-stdin"], "8302\n").status.code(), Some(0));
    assert_eq!(people(&["reset", "Ben", "--password-stdin"], "a latch of iron\n").status.code(), Some(0));
    let asked = people(&["reset", "Ben"], "a latch of iron\n");
    assert!(said(&asked).contains("--password-stdin"), "no terminal to ask at: {}", said(&asked));
    let list = said(&people(&["list"], ""));
    assert!(list.contains("owner     Anna") && list.contains("mechanic  Ben  has a PIN"), "{list}");
    assert!(said(&people(&["remove", "Anna"], "")).contains("only owner"));
    assert_eq!(people(&["remove", "Ben"], "").status.code(), Some(0));
    assert!(said(&people(&["remove", "Ben"], "")).contains("no person called Ben"));
}

#[test]
fn a_password_is_typed_twice_unseen_and_whoever_thinks_better_of_it_gets_the_terminal_back() {
    let folder = Folder::new("typed");
    // Whether the terminal still shows what is typed is asked of it afterwards, on the same one.
    let asked = |name: &str, typed: &[&str]| -> String {
        let line = format!(
            "tty; trap : INT; '{}' people add {name} --role owner --data '{}'; echo \"ended with $?\"; stty -a; exit 0",
            env!("CARGO_BIN_EXE_witnessmark"),
            folder.0.join("workshop.sqlite").display()
        );
        let mut terminal = Command::new("script")
            .args(["--quiet", "--command", &line, "/dev/null"])
            .env("SHELL", "/bin/sh")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let (mut keys, mut screen) = (terminal.stdin.take().unwrap(), terminal.stdout.take().unwrap());
        let (mut shown, mut prompts) = (String::new(), 0);
        let mut piece = [0; 256];
        loop {
            let length = screen.read(&mut piece).unwrap_or(0);
            if length == 0 {
                break;
            }
            shown.push_str(&String::from_utf8_lossy(&piece[..length]));
            if prompts < typed.len() && shown.matches(": ").count() > prompts {
                // The question stands there a moment before the terminal falls mute; nobody types so fast.
                let terminal = shown.lines().next().unwrap().trim();
                let is_mute = || {
                    let asked = Command::new("stty").args(["-a", "-F", terminal]).output().unwrap();
                    String::from_utf8_lossy(&asked.stdout).contains("-icanon")
                };
                while !is_mute() {
                    std::thread::sleep(std::time::Duration::from_millis(5));
                }
                keys.write_all(typed[prompts].as_bytes()).unwrap();
                prompts += 1;
            }
        }
        terminal.wait().unwrap();
        assert!(!shown.contains("oak"), "it was shown: {shown}");
        let words: Vec<&str> = shown.split_whitespace().collect();
        assert!(words.contains(&"echo") && words.contains(&"icanon") && words.contains(&"isig"), "{shown}");
        shown
    };
    let added = asked("Anna", &["a gate of oak\r", "a gate of oak\r"]);
    assert!(added.contains("Anna may sign in, as owner.") && added.contains("ended with 0"), "{added}");
    let differ = asked("Ben", &["a gate of oak\r", "a gate of oaks\r"]);
    assert!(differ.contains("the two differ; nothing was changed") && differ.contains("ended with 2"), "{differ}");
    for key in ["\u{3}", "\u{4}"] {
        let none = asked("Ben", &[key]);
        assert!(none.contains("None was given; nothing was changed.") && none.contains("ended with 2"), "{none}");
    }
    assert_eq!(said(&run(&folder, &["people", "list"], "")).trim(), "owner     Anna");
}

#[test]
fn beyond_this_machine_it_wants_tls_and_an_owner_and_says_what_to_do() {
    let folder = Folder::new("beyond");
    let bare = run(&folder, &["serve", "--listen", "0.0.0.0:0"], "");
    assert_eq!(bare.status.code(), Some(2));
    assert!(said(&bare).contains("--tls own") && said(&bare).contains("passwords"), "{}", said(&bare));
    for arguments in [&["--tls", "own"][..], &["--plain-http"]] {
        let mut all = vec!["serve", "--listen", "0.0.0.0:0"];
        all.extend(arguments);
        let nobody = run(&folder, &all, "");
        assert_eq!(nobody.status.code(), Some(2));
        assert!(said(&nobody).contains("witnessmark people add NAME --role owner"), "{}", said(&nobody));
    }
    assert!(said(&run(&folder, &["serve", "--sign-in"], "")).contains("people add"));

    let add = ["people", "add", "Anna", "--role", "owner", "--password-stdin"];
    assert_eq!(run(&folder, &add, "a gate of oak\n").status.code(), Some(0));
    let mut served = Served(program(&folder, &["serve", "--listen", "0.0.0.0:0", "--tls", "own"]).spawn().unwrap());
    let mut lines = BufReader::new(served.0.stdout.take().unwrap()).lines().map(Result::unwrap);
    let address = lines.next().unwrap();
    let port = address.split("https://0.0.0.0:").nth(1).unwrap().split('/').next().unwrap().to_owned();
    assert!(lines.next().unwrap().contains("fingerprint"));
    let fingerprint = lines.next().unwrap().trim().to_owned();
    assert!(folder.0.join("workshop.sqlite-tls/key.pem").exists());

    let curl = |arguments: &[&str]| {
        let answered = Command::new("curl").args(["--silent", "--show-error", "--include"]).args(arguments).output();
        answered.map(|output| said(&output))
    };
    let page = format!("https://127.0.0.1:{port}/builds");
    let pem = folder.0.join("workshop.sqlite-tls/certificate.pem");
    let Ok(answer) = curl(&["--cacert", pem.to_str().unwrap(), &page]) else {
        println!("skipped: curl is not installed");
        return;
    };
    assert!(answer.contains("303") && answer.contains("/sign-in?to=/builds"), "{answer}");
    let form = ["--data-urlencode", "name=Anna", "--data-urlencode", "password=a gate of oak"];
    let origin = format!("Origin: https://127.0.0.1:{port}");
    let way_in = format!("https://127.0.0.1:{port}/sign-in");
    let mut post = vec!["--cacert", pem.to_str().unwrap(), "--header", &origin, &way_in];
    post.extend(form);
    let answer = curl(&post).unwrap();
    assert!(answer.contains("__Host-witnessmark=") && answer.contains("Secure"), "{answer}");
    assert!(curl(&[&format!("http://127.0.0.1:{port}/builds")]).unwrap().contains("curl:"), "not in the clear");

    if let Ok(shown) = Command::new("openssl")
        .args(["x509", "-noout", "-fingerprint", "-sha256", "-in", pem.to_str().unwrap()])
        .output()
    {
        assert!(said(&shown).contains(&fingerprint), "{} and {fingerprint}", said(&shown));
    }
}

#[test]
fn everything_about_a_rider_is_handed_out_as_a_folder_and_erased() {
    let folder = Folder::new("rider");
    assert_eq!(run(&folder, &["demo", "--once"], "").status.code(), Some(0));
    let data = ["--data", "demo-workshop.sqlite"];
    let ask = |arguments: &[&str]| run(&folder, &[arguments, &data].concat(), "");
    let nobody = ask(&["person", "export", "Nobody", "--to", "out"]);
    assert!(said(&nobody).contains("nothing is kept"), "{}", said(&nobody));
    let exported = ask(&["person", "export", "Ilka", "--to", "out"]);
    assert_eq!(exported.status.code(), Some(0), "{}", said(&exported));
    let front = std::fs::read_to_string(folder.0.join("out/read-me-first.txt")).unwrap();
    assert!(front.contains("fields.txt") && front.contains("kept until"), "{front}");
    assert!(said(&ask(&["person", "export", "Ilka", "--to", "out"])).contains("is there already"));
    assert!(said(&ask(&["person", "erase", "Ilka"])).contains("--yes"), "nothing is erased unasked");
    let erased = ask(&["person", "erase", "Ilka", "--yes", "--kept-years", "10"]);
    assert_eq!(erased.status.code(), Some(0), "{}", said(&erased));
    let again = ask(&["person", "export", "Ilka", "--to", "after"]);
    assert_eq!(again.status.code(), Some(0));
    let builds = std::fs::read_dir(folder.0.join("after")).unwrap().map(|entry| entry.unwrap().path());
    for fields in builds.map(|path| path.join("fields.txt")).filter(|path| path.exists()) {
        let text = std::fs::read_to_string(fields).unwrap();
        assert!(text.contains("rider.name") && !text.contains("rider.mass") && !text.contains("asked."), "{text}");
    }
}
