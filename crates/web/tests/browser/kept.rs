//! What a tablet keeps: the stand opened anew while the program is away, whose entries wait, and what goes when somebody
//! leaves. The program is really stopped here: a browser's own switch for the network does not reach its workers.

use crate::by;
use crate::driver::{Browser, installed, keys};
use serde_json::{Value, json};
use std::net::SocketAddr;
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use tokio::sync::oneshot;
use tokio::task::JoinHandle;
use witnessmark_core::build::sample::sample;
use witnessmark_store::{BuildId, Change, NewBuild, Role, SessionKind, Store};
use witnessmark_web::{App, serve};

const PASSWORD: &str = "a gate of oak";
const GAP: &str = "measured.hood-gap.value";

/// A workshop whose program can be stopped and started, and a browser as its tablet.
struct Shop {
    runtime: Runtime,
    store: Store,
    build: BuildId,
    signs_in: bool,
    address: SocketAddr,
    serving: Option<(oneshot::Sender<()>, JoinHandle<()>)>,
    tablet: Browser,
}

impl Shop {
    /// With a sign-in: Anna the owner with the PIN 7401, Ben the mechanic with 8302.
    fn open(signs_in: bool) -> Option<Self> {
        let programs = installed()?;
        let runtime = Runtime::new().unwrap();
        let (store, build) = runtime.block_on(async {
            let store = Store::open_in_memory().await.unwrap();
            for (name, role, pin) in [("Anna", Role::Owner, "7401"), ("Ben", Role::Mechanic, "8302")] {
                store.add_person(name, role, PASSWORD, 0).await.unwrap();
                store.set_pin(name, Some(pin)).await.unwrap();
            }
            let mut leaves: Vec<(String, String)> =
                sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
            leaves.retain(|(path, _)| !path.starts_with("measured.hood-gap."));
            let build = store.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by("made")).await.unwrap();
            (store, build)
        });
        let address = "127.0.0.1:0".parse().unwrap();
        let tablet = Browser::open(&programs);
        let mut shop = Shop { runtime, store, build, signs_in, address, serving: None, tablet };
        shop.starts();
        Some(shop)
    }

    /// The program begins, at the address where it was before.
    fn starts(&mut self) {
        let (stop, stopped) = oneshot::channel();
        let app = App::new(self.store.clone());
        let app = if self.signs_in { app.with_sign_in() } else { app };
        let listener = self.runtime.block_on(TcpListener::bind(self.address)).unwrap();
        self.address = listener.local_addr().unwrap();
        let serving = self.runtime.spawn(async move {
            serve(listener, app, async { drop(stopped.await) }).await.unwrap();
        });
        self.serving = Some((stop, serving));
    }

    /// The program ends, and with it every line to it.
    fn stops(&mut self) {
        let (stop, serving) = self.serving.take().unwrap();
        stop.send(()).unwrap();
        self.runtime.block_on(serving).unwrap();
    }

    fn go(&self, page: &str) {
        self.tablet.go(&format!("http://{}{page}", self.address));
    }

    fn stand(&self) -> String {
        format!("/builds/{}/stand", self.build)
    }

    /// Opens the stand and waits until it is kept with all it needs.
    fn opens_the_stand(&self) {
        self.go(&format!("{}#step-check-gap", self.stand()));
        self.tablet.wait_for("navigator.serviceWorker.controller");
        self.waits_for_kept(true);
    }

    /// How many pages the browser keeps for later.
    fn waits_for_kept(&self, is_kept: bool) {
        self.until(
            "caches.keys().then(names => Promise.all(names.filter(name => name.startsWith('pages-'))\
             .map(name => caches.open(name).then(cache => cache.keys())))).then(all => all.flat().length > 0)",
            is_kept,
        );
    }

    /// Waits until a promise comes out so.
    fn until(&self, promise: &str, wanted: bool) {
        let started = std::time::Instant::now();
        while self.tablet.run(&format!("return ({promise}).then(Boolean)")) != Value::Bool(wanted) {
            assert!(started.elapsed().as_secs() < 30, "never {wanted}: {promise}");
            std::thread::sleep(std::time::Duration::from_millis(20));
        }
    }

    /// Reads the gap with a knuckle.
    fn reads(&self, figures: &str) {
        self.tablet.run("document.querySelector('#step-check-gap .keypad').scrollIntoView({ block: 'center' })");
        for figure in figures.chars() {
            self.tablet.click(&format!("#step-check-gap [data-key='{figure}']"));
        }
        self.tablet.click("#step-check-gap [data-key=enter]");
    }

    /// What the bar at the foot says.
    fn says(&self, text: &str) {
        self.tablet.wait_for(&format!("document.getElementById('unsent')?.textContent.includes({})", json!(text)));
    }

    fn kept(&self, path: &str) -> Option<String> {
        self.runtime.block_on(self.store.leaves(&self.build)).unwrap().unwrap().leaves.get(path).cloned()
    }

    /// How often somebody wrote a field, and who did last.
    fn written(&self, path: &str) -> (usize, Option<String>) {
        let rows = self.runtime.block_on(self.store.history(&self.build, path)).unwrap();
        (rows.len(), rows.last().map(|row| row.who.clone()))
    }

    /// Makes the browser a tablet of the bench.
    fn is_let_in(&self) {
        let code = self.runtime.block_on(self.store.open_bench_code("Anna", now_ms())).unwrap().unwrap();
        self.go("/bench");
        self.tablet.tab_to("code");
        self.tablet.retype(&code);
        self.tablet.press(&[keys::ENTER]);
        self.tablet.wait_for("document.getElementById('pin')");
    }

    /// Somebody says who they are, on the page that asks for it.
    fn is_here(&self, name: &str, pin: &str) {
        self.tablet.wait_for("document.getElementById('pin')");
        self.tablet.run(&format!("document.querySelector('input[type=radio][value={name}]').id = 'me'"));
        self.tablet.click("#me");
        self.tablet.run("document.getElementById('pin').focus()");
        self.tablet.retype(pin);
        self.tablet.press(&[keys::ENTER]);
        self.tablet
            .wait_for(&format!("document.querySelector('header .who')?.textContent.includes('{name} at the bench')"));
    }

    /// Puts nobody at the bench, as half an hour without a touch does.
    fn rests(&self) {
        self.runtime.block_on(async {
            let sessions = self.store.sessions(now_ms()).await.unwrap();
            let bench = sessions.into_iter().find(|one| one.kind == SessionKind::Bench).unwrap();
            self.store.act(&bench, None, now_ms()).await.unwrap();
        });
    }
}

fn now_ms() -> i64 {
    i64::try_from(std::time::UNIX_EPOCH.elapsed().unwrap().as_millis()).unwrap()
}

#[test]
fn the_stand_is_opened_anew_without_the_program_and_a_reading_is_saved_once_when_it_is_back() {
    let Some(mut shop) = Shop::open(false) else { return };
    // What a program of another version kept goes when this one begins.
    shop.go("/builds");
    shop.until("caches.open('pages-0123456789abcdef').then(cache => cache.put('/old', new Response('old')))", false);
    shop.opens_the_stand();
    shop.until("caches.has('pages-0123456789abcdef')", false);
    shop.tablet.run("document.getElementById('who').value = 'Ines'; localStorage.setItem('who', 'Ines')");
    shop.stops();
    shop.go(&format!("{}?again#step-check-gap", shop.stand()));
    assert!(shop.tablet.text("return document.querySelector('h1').textContent").contains("At the stand"));
    shop.says("No connection: this is how it was at");
    shop.tablet.is_accessible("the stand without a connection");
    shop.reads("352");
    shop.says("1 entry is kept on this tablet");
    // Opened once more, what was typed is still in its field.
    shop.go(&format!("{}#step-check-gap", shop.stand()));
    shop.tablet.wait_for(&format!("document.getElementById('in.{GAP}@check-gap')?.value === '352'"));
    assert_eq!(shop.kept(GAP), None);
    // A page that nobody has opened before says what there is.
    shop.go("/checks");
    assert!(shop.tablet.text("return document.body.textContent").contains("No connection"));
    shop.tablet.is_accessible("no connection, and not kept");
    shop.tablet.click("li a");
    shop.says("1 entry is kept on this tablet");
    shop.starts();
    shop.tablet.wait_for("localStorage.getItem('waiting') === '[]'");
    shop.tablet.wait_for("!document.getElementById('unsent').textContent");
    // The page is of now.
    shop.tablet.wait_for("document.body.dataset.keptAt === undefined");
    assert_eq!(shop.kept(GAP).as_deref(), Some("352"));
    assert_eq!(shop.kept("measured.hood-gap.by").as_deref(), Some("Ines"));
    assert_eq!(shop.written(GAP), (1, Some("Ines".to_owned())), "once");
}

#[test]
fn where_the_program_answers_its_page_is_shown_and_not_the_kept_one() {
    let Some(shop) = Shop::open(false) else { return };
    shop.opens_the_stand();
    let change = Change { path: GAP.into(), before: None, after: Some("347".into()) };
    shop.runtime.block_on(shop.store.edit(&shop.build, &[change], &by("meanwhile"))).unwrap();
    shop.opens_the_stand();
    shop.go(&format!("{}?again", shop.stand()));
    assert_eq!(shop.tablet.text(&format!("return document.getElementById('in.{GAP}@check-gap').value")), "347");
    assert_eq!(shop.tablet.run("return document.body.dataset.keptAt ?? null"), Value::Null);
}

/// The page that was kept knows nothing of the other tablet, and what was typed into it does not write over that.
#[test]
fn what_waited_while_another_tablet_wrote_is_shown_with_both_values_and_overwrites_nothing() {
    let Some(mut shop) = Shop::open(false) else { return };
    shop.opens_the_stand();
    shop.stops();
    shop.reads("352");
    shop.says("1 entry is kept");
    shop.tablet.go("about:blank");
    let change = Change { path: GAP.into(), before: None, after: Some("347".into()) };
    shop.runtime.block_on(shop.store.edit(&shop.build, &[change], &by("meanwhile"))).unwrap();
    shop.starts();
    // Opened at another step: the clash is said where it is seen, with the way to put it right.
    shop.go(&format!("{}#step-weigh", shop.stand()));
    shop.says("Ada put “347” here meanwhile");
    shop.says("you typed “352”");
    shop.tablet.is_accessible("a clash of another step");
    assert_eq!(shop.kept(GAP).as_deref(), Some("347"));
    shop.tablet.run(
        "[...document.querySelectorAll('#unsent button')].find(one => one.textContent === 'put mine').id = 'mine'",
    );
    shop.tablet.click("#mine");
    shop.tablet.wait_for("localStorage.getItem('waiting') === '[]' && localStorage.getItem('refused') === '[]'");
    assert_eq!(shop.kept(GAP).as_deref(), Some("352"));
}

#[test]
fn an_entry_waits_for_the_one_who_typed_it_or_is_taken_over_by_another() {
    let Some(mut shop) = Shop::open(true) else { return };
    shop.is_let_in();
    for (figures, who_sends) in [("352", "Ben"), ("353", "Anna")] {
        shop.go("/bench/turn");
        shop.is_here("Ben", "8302");
        shop.opens_the_stand();
        shop.stops();
        shop.reads(figures);
        shop.says("1 entry is kept on this tablet");
        shop.rests();
        shop.starts();
        shop.says("1 entry of Ben waits for Ben’s PIN");
        assert!(shop.tablet.text("return document.querySelector('.who').textContent").contains("nobody at the bench"));
        shop.waits_for_kept(false);
        let before = shop.written(GAP);
        shop.tablet.click("#unsent a[href^='/bench/turn']");
        shop.is_here("Anna", "7401");
        assert!(shop.tablet.text("return location.href").contains("/stand#step-check-gap"), "back where they were");
        shop.says("1 entry of Ben waits for Ben’s PIN");
        shop.tablet.is_accessible("an entry of somebody else");
        assert_eq!(shop.written(GAP), before, "nothing goes out in Anna's name by itself");
        if who_sends == "Anna" {
            shop.tablet.click("#unsent p button");
        } else {
            shop.go("/bench/turn");
            shop.is_here("Ben", "8302");
        }
        shop.tablet.wait_for("localStorage.getItem('waiting') === '[]'");
        assert_eq!(shop.kept(GAP).as_deref(), Some(figures));
        assert_eq!(shop.written(GAP), (before.0 + 1, Some(who_sends.to_owned())));
    }
}

/// Without the program nobody says that half an hour is over; the tablet has to.
#[test]
fn what_is_typed_after_a_long_rest_without_the_program_is_nobodys_until_it_is_taken_over() {
    let Some(mut shop) = Shop::open(true) else { return };
    shop.is_let_in();
    shop.is_here("Ben", "8302");
    shop.opens_the_stand();
    shop.stops();
    // Half an hour, as the page counts it.
    shop.tablet.run("document.body.dataset.rests = '-1'");
    shop.reads("352");
    shop.says("1 entry typed while nobody was at the bench waits for somebody to take over");
    shop.starts();
    shop.tablet.wait_for("document.querySelector('.who').textContent.includes('nobody at the bench')");
    shop.go("/bench/turn");
    shop.is_here("Ben", "8302");
    shop.says("waits for somebody to take over");
    assert_eq!(shop.kept(GAP), None);
    shop.tablet.click("#unsent p button");
    shop.tablet.wait_for("localStorage.getItem('waiting') === '[]'");
    assert_eq!(shop.written(GAP), (1, Some("Ben".to_owned())));
}

#[test]
fn nothing_of_a_page_is_kept_after_signing_out_or_leaving_or_when_an_owner_shuts_the_tablet_out() {
    let Some(mut shop) = Shop::open(true) else { return };
    shop.is_let_in();
    shop.is_here("Ben", "8302");
    shop.opens_the_stand();
    // Another one comes.
    shop.go("/bench/turn");
    shop.is_here("Anna", "7401");
    shop.waits_for_kept(false);
    shop.opens_the_stand();
    // She leaves.
    shop.go("/bench/turn");
    shop.tablet.run("document.querySelector('form button').id = 'leaves'");
    shop.tablet.click("#leaves");
    shop.tablet.wait_for("document.body.textContent.includes('Nobody: this tablet shows everything')");
    shop.waits_for_kept(false);
    shop.go(&shop.stand());
    shop.waits_for_kept(false);
    // An owner shuts the tablet out while its page lies open.
    shop.go("/bench/turn");
    shop.is_here("Ben", "8302");
    shop.opens_the_stand();
    shop.runtime.block_on(async {
        for session in shop.store.sessions(now_ms()).await.unwrap() {
            shop.store.end_session(&session.id).await.unwrap();
        }
    });
    shop.tablet.run("document.dispatchEvent(new Event('visibilitychange'))");
    shop.waits_for_kept(false);
    // Somebody signs in and out by password.
    shop.go(&shop.stand());
    shop.tablet.wait_for("document.getElementById('password')");
    shop.tablet.tab_to("name");
    shop.tablet.retype("Ben");
    shop.tablet.press(&[keys::TAB]);
    shop.tablet.retype(PASSWORD);
    shop.tablet.press(&[keys::ENTER]);
    shop.tablet.wait_for("document.getElementById('stand')");
    shop.opens_the_stand();
    shop.tablet.click("form.who button");
    shop.tablet.wait_for("document.getElementById('password')");
    shop.waits_for_kept(false);
    shop.stops();
    shop.go(&shop.stand());
    let text = shop.tablet.text("return document.body.textContent");
    assert!(text.contains("No connection") && !text.contains("At the stand"), "{text}");
}
