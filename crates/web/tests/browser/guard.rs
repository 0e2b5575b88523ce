//! Signing in, a tablet at the bench, and a viewer who may not write: by the keyboard, in a real browser.

use crate::driver::{Browser, installed, keys};
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use witnessmark_core::build::sample::sample;
use witnessmark_store::{BuildId, By, NewBuild, Role, Store};
use witnessmark_web::{App, serve};

const PASSWORD: &str = "a gate of oak";
const SPACERS: &str = "settings.spacers_under";

/// A workshop with a sign-in: Anna the owner, Ben the mechanic with the PIN 8302, Vera the viewer.
struct Door {
    runtime: Runtime,
    store: Store,
    build: BuildId,
    origin: String,
}

impl Door {
    fn open() -> Option<(Self, Browser)> {
        let programs = installed()?;
        let runtime = Runtime::new().unwrap();
        let (store, build, address) = runtime.block_on(async {
            let store = Store::open_in_memory().await.unwrap();
            for (name, role) in [("Anna", Role::Owner), ("Ben", Role::Mechanic), ("Vera", Role::Viewer)] {
                store.add_person(name, role, PASSWORD, 0).await.unwrap();
            }
            store.set_pin("Ben", Some("8302")).await.unwrap();
            let leaves: Vec<(String, String)> =
                sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
            let by = By { who: "Ada".into(), at_ms: 0, request_key: "made".into() };
            let build = store.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by).await.unwrap();
            let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
            let address = listener.local_addr().unwrap();
            tokio::spawn(serve(listener, App::new(store.clone()).with_sign_in(), std::future::pending()));
            (store, build, address)
        });
        Some((Door { runtime, store, build, origin: format!("http://{address}") }, Browser::open(&programs)))
    }

    fn kept(&self) -> Option<String> {
        self.runtime.block_on(self.store.leaves(&self.build)).unwrap().unwrap().leaves.get(SPACERS).cloned()
    }

    fn who_changed_last(&self) -> String {
        self.runtime.block_on(self.store.recent(&self.build, 1)).unwrap()[0].who.clone()
    }

    /// Signs in on the page that asks for it.
    fn sign_in(browser: &Browser, name: &str) {
        browser.wait_for("document.getElementById('password')");
        browser.tab_to("name");
        browser.retype(name);
        browser.press(&[keys::TAB]);
        browser.retype(PASSWORD);
        browser.press(&[keys::ENTER]);
    }
}

/// Puts the spacers on the page that is open.
fn put_spacers(browser: &Browser, text: &str) {
    browser.run(&format!("document.getElementById('in.{SPACERS}').focus()"));
    browser.retype(text);
    browser.press(&[keys::ENTER]);
}

#[test]
fn a_stranger_signs_in_and_comes_back_to_the_page_and_a_viewer_writes_nothing() {
    let Some((door, browser)) = Door::open() else { return };
    let page = format!("{}/builds/{}", door.origin, door.build);
    browser.go(&page);
    browser.wait_for("document.querySelector('h1').textContent === 'Sign in'");
    browser.is_accessible("the sign-in page");
    browser.tab_to("name");
    browser.retype("Vera");
    browser.press(&[keys::TAB]);
    browser.retype("a gate of elm");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.getElementById('refused')");
    browser.is_accessible("a refused sign-in");
    assert_eq!(browser.text("return document.getElementById('name').value"), "Vera", "what was typed stays");
    assert_eq!(browser.text("return document.getElementById('password').value"), "", "but for the password");
    Door::sign_in(&browser, "Vera");
    browser.wait_for("document.getElementById('head')");
    assert_eq!(browser.text("return location.href"), page);
    assert!(browser.text("return document.querySelector('header .who').textContent").contains("Vera, viewer"));
    assert_eq!(browser.text("return document.cookie"), "", "no script sees the cookie");
    browser.is_accessible("a build as a viewer sees it");
    assert_eq!(browser.run(&format!("return document.getElementById('in.{SPACERS}').readOnly")), true);
    // Whoever gets round the page is refused all the same.
    let status = browser.run(&format!(
        "return fetch('/builds/{}/edit', {{ method: 'POST', body: new URLSearchParams({{ path: '{SPACERS}', \
         before: '15', after: '25', key: 'k' }}) }}).then(answer => answer.status)",
        door.build
    ));
    assert_eq!(status, 403);
    assert_eq!(door.kept().as_deref(), Some("15"));
    browser.run("document.querySelector('form.who button').id = 'out'");
    browser.tab_to("out");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.getElementById('password')");
    browser.go(&page);
    browser.wait_for("document.querySelector('h1').textContent === 'Sign in'");
}

#[test]
fn a_tablet_is_let_in_by_the_desks_code_and_a_mechanic_writes_after_name_and_pin() {
    let Some((door, desk)) = Door::open() else { return };
    let Some(programs) = installed() else { return };
    desk.go(&format!("{}/people", door.origin));
    Door::sign_in(&desk, "Anna");
    desk.wait_for("document.getElementById('browsers')");
    desk.is_accessible("people");
    desk.run("document.querySelector('#browsers form button').id = 'let'");
    desk.tab_to("let");
    desk.press(&[keys::ENTER]);
    desk.wait_for("document.querySelector('p.code')");
    desk.is_accessible("the code for a tablet");
    let code = desk.text("return document.querySelector('p.code').textContent");

    let tablet = Browser::open(&programs);
    tablet.go(&format!("{}/bench", door.origin));
    tablet.is_accessible("the page for a tablet");
    tablet.tab_to("code");
    tablet.retype(&code);
    tablet.press(&[keys::ENTER]);
    tablet.wait_for("document.getElementById('pin')");
    tablet.is_accessible("taking turns");
    let page = format!("{}/builds/{}", door.origin, door.build);
    tablet.go(&page);
    assert!(tablet.text("return document.querySelector('.who').textContent").contains("nobody at the bench"));
    assert_eq!(tablet.run(&format!("return document.getElementById('in.{SPACERS}').readOnly")), true);

    tablet.go(&format!("{}/bench/turn", door.origin));
    tablet.tab_to("who-0");
    tablet.press(&[" ", keys::TAB]);
    tablet.retype("8302");
    tablet.press(&[keys::ENTER]);
    tablet.wait_for("document.querySelector('ol.builds')");
    tablet.go(&page);
    assert!(tablet.text("return document.querySelector('.who').textContent").contains("Ben at the bench"));
    put_spacers(&tablet, "25");
    tablet.wait_for("document.getElementById('told').textContent.includes('25')");
    assert_eq!(door.kept().as_deref(), Some("25"));
    assert_eq!(door.who_changed_last(), "Ben");
    desk.go(&format!("{}/ledger", door.origin));
    assert!(desk.text("return document.body.textContent").contains("Ben came to the bench"));
    desk.is_accessible("who looked");
    desk.go(&format!("{}/person?name=nobody", door.origin));
    desk.is_accessible("what is kept about somebody");
    desk.go(&format!("{}/me", door.origin));
    desk.is_accessible("one's own");
    desk.go(&format!("{page}/photos"));
    desk.is_accessible("photos");
}
