//! A browser driven by the W3C `WebDriver` protocol: JSON over HTTP to a driver program, spoken here in a few lines.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// How long the page may take for anything before the test gives up.
const PATIENCE: Duration = Duration::from_secs(30);

/// The keys that have no letter, as the protocol names them.
pub(crate) mod keys {
    pub(crate) const TAB: &str = "\u{e004}";
    pub(crate) const ENTER: &str = "\u{e007}";
    pub(crate) const ESCAPE: &str = "\u{e00c}";
    pub(crate) const DOWN: &str = "\u{e015}";
    pub(crate) const CONTROL: &str = "\u{e009}";
}

/// An open browser. It is closed with the value.
pub(crate) struct Browser {
    driver: Child,
    port: u16,
    session: String,
}

/// The browser and its driver, where they are installed.
pub(crate) fn installed() -> Option<(PathBuf, PathBuf)> {
    let on_path = |name: &str| {
        let path = std::env::var_os("PATH")?;
        std::env::split_paths(&path).map(|folder| folder.join(name)).find(|file| file.is_file())
    };
    let browser = ["chromium", "chromium-browser", "google-chrome"].into_iter().find_map(on_path)?;
    Some((browser, on_path("chromedriver")?))
}

impl Browser {
    /// Starts the driver on a free port and the browser under it.
    pub(crate) fn open((browser, driver): &(PathBuf, PathBuf)) -> Self {
        let mut driver = Command::new(driver)
            .args(["--port=0", "--log-level=WARNING"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // The driver says which port it found: "… was started successfully on port 40123."
        let said = BufReader::new(driver.stdout.take().unwrap()).lines();
        let port = said
            .map_while(Result::ok)
            .find_map(|line| line.split("successfully on port ").nth(1)?.trim_end_matches('.').parse().ok())
            .unwrap();
        let arguments = [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--disable-dev-shm-usage",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--window-size=1280,800",
        ];
        let wanted = json!({ "capabilities": { "alwaysMatch": {
            "goog:chromeOptions": { "binary": browser, "args": arguments },
            "goog:loggingPrefs": { "browser": "ALL" },
        } } });
        let mut opened = Browser { driver, port, session: String::new() };
        let session = opened.ask("POST", "/session", &wanted);
        session["sessionId"].as_str().unwrap().clone_into(&mut opened.session);
        opened
    }

    /// Goes to an address and waits until it is loaded.
    pub(crate) fn go(&self, url: &str) {
        self.command("url", &json!({ "url": url }));
    }

    /// Makes the window so many pixels wide and high.
    pub(crate) fn resize(&self, width: u32, height: u32) {
        self.command("window/rect", &json!({ "width": width, "height": height }));
    }

    /// Presses keys, one after the other, wherever the focus is.
    pub(crate) fn press(&self, keys: &[&str]) {
        let strokes: Vec<Value> = keys
            .iter()
            .flat_map(|text| text.chars())
            .flat_map(|key| [json!({ "type": "keyDown", "value": key }), json!({ "type": "keyUp", "value": key })])
            .collect();
        self.act(&strokes);
    }

    /// Replaces what stands in the focused field, by the keyboard.
    pub(crate) fn retype(&self, text: &str) {
        self.act(&[
            json!({ "type": "keyDown", "value": keys::CONTROL }),
            json!({ "type": "keyDown", "value": "a" }),
            json!({ "type": "keyUp", "value": "a" }),
            json!({ "type": "keyUp", "value": keys::CONTROL }),
        ]);
        self.press(&[text]);
    }

    fn act(&self, strokes: &[Value]) {
        self.command("actions", &json!({ "actions": [{ "type": "key", "id": "keyboard", "actions": strokes }] }));
    }

    /// What a piece of script returns.
    pub(crate) fn run(&self, script: &str) -> Value {
        self.command("execute/sync", &json!({ "script": script, "args": [] }))
    }

    /// The text that a script returns.
    pub(crate) fn text(&self, script: &str) -> String {
        self.run(script).as_str().unwrap_or_default().to_owned()
    }

    /// Waits until a script returns true; stops the test, with the script, when it does not.
    pub(crate) fn wait_for(&self, script: &str) {
        let started = Instant::now();
        while self.run(&format!("return Boolean({script})")) != Value::Bool(true) {
            assert!(
                started.elapsed() < PATIENCE,
                "never true: {script}\nthe page says: {}",
                self.text("return document.getElementById('told')?.textContent")
            );
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    /// Presses the tab key until the element with this id has the focus.
    pub(crate) fn tab_to(&self, id: &str) {
        // No page has more stops than this.
        for _ in 0..600 {
            if self.text("return document.activeElement.id") == id {
                return;
            }
            self.press(&[keys::TAB]);
        }
        panic!("the tab key never came to {id}");
    }

    /// Clicks the element that a selector finds.
    pub(crate) fn click(&self, selector: &str) {
        let element = self.command("element", &json!({ "using": "css selector", "value": selector }));
        let id = element.as_object().and_then(|ids| ids.values().next()).and_then(Value::as_str).unwrap();
        self.command(&format!("element/{id}/click"), &json!({}));
    }

    /// What the browser complained about on its console: errors of the script, and files or styles it refused.
    pub(crate) fn complaints(&self) -> Vec<String> {
        let log = self.command("se/log", &json!({ "type": "browser" }));
        let severe = log.as_array().unwrap().iter().filter(|entry| entry["level"] == "SEVERE");
        severe.map(|entry| entry["message"].as_str().unwrap_or_default().to_owned()).collect()
    }

    /// One command of the session, as the driver names it.
    pub(crate) fn command(&self, what: &str, body: &Value) -> Value {
        self.ask("POST", &format!("/session/{}/{what}", self.session), body)
    }

    /// One request to the driver. The answer's `value`; a refusal stops the test.
    fn ask(&self, method: &str, path: &str, body: &Value) -> Value {
        let body = body.to_string();
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nhost: 127.0.0.1:{}\r\nconnection: close\r\ncontent-length: {}\r\n\r\n{body}",
            self.port,
            body.len()
        )
        .unwrap();
        // The driver keeps the connection open whatever it was asked, so the answer ends where its length says.
        let mut answer = BufReader::new(stream);
        let mut head = String::new();
        while !head.ends_with("\r\n\r\n") {
            assert!(answer.read_line(&mut head).unwrap() > 0, "{method} {path}: the driver hung up after {head:?}");
        }
        let mut lines = head.lines().filter_map(|line| line.split_once(':'));
        let length = lines.find(|(name, _)| name.eq_ignore_ascii_case("content-length")).unwrap().1;
        let mut body = vec![0; length.trim().parse().unwrap()];
        answer.read_exact(&mut body).unwrap();
        let mut answer: Value = serde_json::from_slice(&body).unwrap();
        assert!(head.starts_with("HTTP/1.1 200"), "{method} {path}: {}", answer["value"]["message"]);
        answer["value"].take()
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if !std::thread::panicking() {
            self.ask("DELETE", &format!("/session/{}", self.session), &json!({}));
        }
        // The driver takes its browser along.
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}
