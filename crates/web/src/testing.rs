//! For tests: a workshop with one build behind a real socket, and a browser that is no more than a request and an answer.

use crate::{App, serve};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU32, Ordering};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use witnessmark_core::build::sample::sample;
use witnessmark_store::{BuildId, By, NewBuild, Role, Store};

/// The password of everybody in a test.
pub(crate) const PASSWORD: &str = "a gate of oak";

/// A workshop behind a socket.
pub(crate) struct Workshop {
    /// Its store, to look behind the pages.
    pub(crate) store: Store,
    address: String,
}

/// An answer.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) headers: BTreeMap<String, String>,
    pub(crate) body: String,
}

impl Answer {
    /// The cookie it sets, as it is sent back.
    pub(crate) fn cookie(&self) -> String {
        self.headers["set-cookie"].split(';').next().unwrap().to_owned()
    }

    /// The text between two marks, first found.
    pub(crate) fn between(&self, start: &str, end: &str) -> &str {
        let from = self.body.find(start).unwrap_or_else(|| panic!("no {start} in:\n{}", self.body)) + start.len();
        self.body[from..].split(end).next().unwrap_or_default()
    }
}

/// A key that no other request of this test run has.
pub(crate) fn key() -> String {
    static DRAWN: AtomicU32 = AtomicU32::new(0);
    format!("key-{}", DRAWN.fetch_add(1, Ordering::Relaxed))
}

/// What is typed into each field of the sound sample.
pub(crate) fn sample_leaves() -> Vec<(String, String)> {
    sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect()
}

impl Workshop {
    /// An empty workshop.
    pub(crate) async fn open() -> Self {
        Self::of(|app| app).await
    }

    /// An empty workshop whose door stands in another way.
    pub(crate) async fn of(door: impl FnOnce(App) -> App) -> Self {
        let store = Store::open_in_memory().await.unwrap();
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let address = listener.local_addr().unwrap().to_string();
        tokio::spawn(serve(listener, door(App::new(store.clone())), std::future::pending()));
        Workshop { store, address }
    }

    /// A workshop with a sign-in: an owner Anna, a mechanic Ben with the PIN 8302, a viewer Vera; and the address of a build.
    pub(crate) async fn with_people() -> (Self, String) {
        let workshop = Self::of(App::with_sign_in).await;
        for (name, role) in [("Anna", Role::Owner), ("Ben", Role::Mechanic), ("Vera", Role::Viewer)] {
            workshop.store.add_person(name, role, PASSWORD, 0).await.unwrap();
        }
        workshop.store.set_pin("Ben", Some("8302")).await.unwrap();
        let build = format!("/builds/{}", workshop.make(&sample_leaves()).await);
        (workshop, build)
    }

    /// The cookie of somebody who signs in.
    pub(crate) async fn signed_in(&self, name: &str) -> String {
        let answer = self.post_as("", "/sign-in", &[("name", name), ("password", PASSWORD)]).await;
        assert_eq!(answer.status, 303, "{}", answer.body);
        answer.cookie()
    }

    /// Asks for a page with a cookie.
    pub(crate) async fn get_as(&self, cookie: &str, path: &str) -> Answer {
        self.ask("GET", path, &[("cookie", cookie)], "").await
    }

    /// Posts a form from one of our own pages, with a cookie.
    pub(crate) async fn post_as(&self, cookie: &str, path: &str, fields: &[(&str, &str)]) -> Answer {
        let body: Vec<String> = fields.iter().map(|(name, value)| format!("{name}={}", escaped(value))).collect();
        let origin = format!("http://{}", self.address);
        let headers =
            [("content-type", "application/x-www-form-urlencoded"), ("cookie", cookie), ("origin", origin.as_str())];
        self.ask("POST", path, &headers, &body.join("&")).await
    }

    /// A workshop with the sound sample in it, and the sample's address: `/builds/7k3m9x2a`.
    pub(crate) async fn with_sample() -> (Self, String) {
        Self::with_sample_but("nothing").await
    }

    /// The same without what lies below a path.
    pub(crate) async fn with_sample_but(path: &str) -> (Self, String) {
        let workshop = Self::open().await;
        let mut leaves = sample_leaves();
        leaves.retain(|(leaf, _)| !leaf.starts_with(&format!("{path}.")));
        let id = workshop.make(&leaves).await;
        (workshop, format!("/builds/{id}"))
    }

    /// The same with some fields typed otherwise; an empty text leaves the field out.
    pub(crate) async fn with_sample_where(fields: &[(&str, &str)]) -> (Self, String) {
        let workshop = Self::open().await;
        let mut leaves = sample_leaves();
        leaves.retain(|(path, _)| fields.iter().all(|(other, _)| other != path));
        let put = fields.iter().filter(|(_, text)| !text.is_empty());
        leaves.extend(put.map(|(path, text)| ((*path).to_owned(), (*text).to_owned())));
        let id = workshop.make(&leaves).await;
        (workshop, format!("/builds/{id}"))
    }

    /// Another build.
    pub(crate) async fn make(&self, leaves: &[(String, String)]) -> BuildId {
        let by = By { who: "tester".into(), at_ms: 0, request_key: key() };
        self.store.create_build(NewBuild { leaves, copied_from: None }, &by).await.unwrap()
    }

    /// What a build's field says in the store.
    pub(crate) async fn kept(&self, build: &str, path: &str) -> Option<String> {
        let id: BuildId = build.rsplit('/').next().unwrap().parse().unwrap();
        self.store.leaves(&id).await.unwrap().unwrap().leaves.get(path).cloned()
    }

    pub(crate) async fn get(&self, path: &str) -> Answer {
        self.ask("GET", path, &[], "").await
    }

    /// Posts a form.
    pub(crate) async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let body: Vec<String> = fields.iter().map(|(name, value)| format!("{name}={}", escaped(value))).collect();
        let kind = ("content-type", "application/x-www-form-urlencoded");
        self.ask("POST", path, &[kind, ("x-pieces", "1")], &body.join("&")).await
    }

    /// Sends one request on a connection of its own.
    pub(crate) async fn ask(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &str) -> Answer {
        self.ask_bytes(method, path, headers, body.as_bytes()).await
    }

    /// The same with a body that is no text.
    pub(crate) async fn ask_bytes(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Answer {
        let has_host = headers.iter().any(|(name, _)| *name == "host");
        let host = (!has_host).then_some(("host", self.address.as_str()));
        let length = body.len().to_string();
        let headers = headers.iter().copied().chain(host).chain([("content-length", length.as_str())]);
        let lines: Vec<String> = headers.map(|(name, value)| format!("{name}: {value}\r\n")).collect();
        let request = format!("{method} {path} HTTP/1.0\r\n{}\r\n", lines.concat());
        let mut stream = TcpStream::connect(&self.address).await.unwrap();
        stream.write_all(request.as_bytes()).await.unwrap();
        stream.write_all(body).await.unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).await.unwrap();
        let answer = String::from_utf8_lossy(&answer).into_owned();
        let (head, body) = answer.split_once("\r\n\r\n").unwrap();
        let mut lines = head.lines();
        let status = lines.next().unwrap().split(' ').nth(1).unwrap().parse().unwrap();
        let headers = lines.filter_map(|line| line.split_once(": "));
        let headers = headers.map(|(name, value)| (name.to_owned(), value.to_owned())).collect();
        Answer { status, headers, body: body.to_owned() }
    }
}

/// A text as a form and an address carry it.
pub(crate) fn escaped(text: &str) -> String {
    text.bytes().fold(String::new(), |all, byte| {
        if byte.is_ascii_alphanumeric() || b"-._".contains(&byte) {
            all + &char::from(byte).to_string()
        } else {
            all + &format!("%{byte:02X}")
        }
    })
}
