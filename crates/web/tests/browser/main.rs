//! The pages in a real browser: a field is changed by the keyboard, and the drawing and the numbers follow without the
//! page being loaded anew.
//!
//! Without a browser the tests say so and pass; where `CI` is set, a missing browser is a failure.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod access;
mod driver;
mod finish;
mod guard;
mod keep;
mod kept;
mod parts;
mod service;
mod sheets;
mod stand;
mod survey;
mod taken;
mod transmission;
mod two;

use driver::{Browser, installed, keys};
use std::sync::Arc;
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use witnessmark_core::build::sample::sample;
use witnessmark_store::{BuildId, By, Change, NewBuild, Store};
use witnessmark_web::{App, serve};

const SPACERS: &str = "settings.spacers_under";

/// A workshop with one build, and a browser on its page.
struct Bench {
    runtime: Runtime,
    store: Arc<Store>,
    build: BuildId,
    url: String,
    browser: Browser,
}

impl Bench {
    /// Opens the sample's page; `None` where there is no browser to do it with.
    fn open() -> Option<Self> {
        let mut leaves: Vec<(String, String)> =
            sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
        // One place stays free for the test that fills it.
        leaves.retain(|(path, _)| !path.starts_with("parts.chain."));
        Self::with(&leaves)
    }

    /// Opens the page of a build with these fields.
    fn with(leaves: &[(String, String)]) -> Option<Self> {
        let Some(programs) = installed() else {
            assert!(std::env::var_os("CI").is_none(), "no chromium or no chromedriver is installed");
            println!("skipped: no chromium or no chromedriver is installed");
            return None;
        };
        let runtime = Runtime::new().unwrap();
        let (store, build, address) = runtime.block_on(async {
            let store = Store::open_in_memory().await.unwrap();
            let build = store.create_build(NewBuild { leaves, copied_from: None }, &by("made")).await.unwrap();
            let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
            let address = listener.local_addr().unwrap();
            tokio::spawn(serve(listener, App::new(store.clone()), std::future::pending()));
            (store, build, address)
        });
        let url = format!("http://{address}/builds/{build}");
        let browser = Browser::open(&programs);
        browser.go(&url);
        browser.run("window.stays = true");
        Some(Bench { runtime, store: Arc::new(store), build, url, browser })
    }

    /// A second build in the same workshop; its name.
    fn another(&self, leaves: &[(String, String)]) -> String {
        let new = NewBuild { leaves, copied_from: None };
        self.runtime.block_on(self.store.create_build(new, &by("another"))).unwrap().to_string()
    }

    /// What the store says in a field.
    fn kept(&self, path: &str) -> Option<String> {
        let record = self.runtime.block_on(self.store.leaves(&self.build)).unwrap().unwrap();
        record.leaves.get(path).cloned()
    }

    /// A change by somebody else.
    fn somebody_else_puts(&self, path: &str, before: &str, after: &str) {
        let change = Change { path: path.into(), before: Some(before.into()), after: Some(after.into()) };
        self.runtime.block_on(self.store.edit(&self.build, &[change], &by(after))).unwrap();
    }

    /// Focuses a field, replaces its text and presses Enter.
    fn put(&self, path: &str, text: &str) {
        self.browser.run(&format!("document.getElementById('in.{path}').focus()"));
        self.browser.retype(text);
        self.browser.press(&[keys::ENTER]);
    }

    /// Ends a test: the page was never loaded anew, and the browser had nothing to complain about.
    fn done(&self, expected_refusals: usize) {
        assert_eq!(self.browser.run("return window.stays"), true, "the page was loaded anew");
        // A refused change is an answer with its own status, which a browser notes down as a failed load.
        let complaints = self.browser.complaints();
        let (refusals, others): (Vec<_>, Vec<_>) =
            complaints.into_iter().partition(|text| text.contains("/edit") && text.contains("status of 4"));
        assert_eq!(others, Vec::<String>::new());
        assert_eq!(refusals.len(), expected_refusals, "{refusals:?}");
    }
}

fn by(key: &str) -> By {
    By { who: "Ada".into(), at_ms: 0, request_key: key.into() }
}

/// The value of a field on the page.
fn value(path: &str) -> String {
    format!("document.getElementById('in.{path}').value")
}

/// The text of a number's column on the page, counted from the name as 1.
fn column(row: &str, column: usize) -> String {
    format!("document.getElementById('row.{row}').children[{}].firstChild?.textContent", column - 1)
}

#[test]
fn a_field_is_changed_by_the_keyboard_alone_and_the_page_follows() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    let bar = "return document.querySelector('#drawing [data-at~=\"parts.bar\"]').getAttribute('d')";
    let (bar_before, height_before) = (browser.text(bar), browser.text(&format!("return {}", column("bar-y", 3))));
    browser.tab_to("in.settings.spacers_under");
    browser.retype("2,5 cm");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.getElementById('told').textContent.includes('spacers under 2,5 cm (was 15)')");
    assert_eq!(bench.kept(SPACERS).as_deref(), Some("2,5 cm"));
    assert_eq!(browser.text(&format!("return {}", column("spacers-under", 3))), "25");
    assert_ne!(browser.text(&format!("return {}", column("bar-y", 3))), height_before, "the bar is higher");
    assert_ne!(browser.text(bar), bar_before, "and drawn so");
    assert_eq!(browser.text("return document.activeElement.id"), "in.settings.spacers_under", "the focus stays");
    assert!(
        browser.text("return document.getElementById('field.settings.spacers_under').textContent").contains("= 25 mm")
    );

    // Leaving a field with the tab key sends it too, and the focus goes on.
    browser.retype("10");
    browser.press(&[keys::TAB]);
    browser.wait_for("document.getElementById('told').textContent.includes('spacers under 10')");
    assert_eq!(browser.text("return document.activeElement.id"), "in.settings.spacers_over");
    bench.done(0);
}

#[test]
fn a_refused_text_stays_with_its_message_beside_it_until_it_is_put_right() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.put(SPACERS, "plenty");
    let note = "document.getElementById('note.settings.spacers_under')";
    browser.wait_for(&format!("{note}?.getAttribute('role') === 'alert'"));
    assert!(browser.text(&format!("return {note}.textContent")).contains("plenty"));
    assert_eq!(browser.text(&format!("return {}", value(SPACERS))), "plenty");
    assert_eq!(bench.kept(SPACERS).as_deref(), Some("15"));

    // Another field is changed meanwhile, and the refused text is still there.
    bench.put("settings.spacers_over", "10");
    browser.wait_for("document.getElementById('told').textContent.includes('spacers over')");
    assert_eq!(browser.text(&format!("return {}", value(SPACERS))), "plenty");
    browser.run("document.getElementById('in.settings.spacers_under').focus()");
    browser.press(&[keys::ESCAPE]);
    assert_eq!(browser.text(&format!("return {}", value(SPACERS))), "15", "Escape puts back what is kept");
    bench.put(SPACERS, "20");
    browser.wait_for(&format!("{note} === null"));
    assert_eq!(bench.kept(SPACERS).as_deref(), Some("20"));
    bench.done(1);
}

#[test]
fn a_change_is_taken_back_by_its_button() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.put(SPACERS, "20");
    browser.wait_for("document.querySelector('#told button[data-undo]')");
    browser.click("#told button[data-undo]");
    browser.wait_for(&format!("{} === '15'", value(SPACERS)));
    browser.wait_for(&format!("{} === '15'", column("spacers-under", 3)));
    assert_eq!(bench.kept(SPACERS).as_deref(), Some("15"));
    bench.done(0);
}

#[test]
fn who_was_slower_chooses_between_both_texts() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    // The page looks now and then whether somebody else has written; here it must not.
    browser.run(
        "const real = window.fetch; \
         window.fetch = (to, how) => String(to).endsWith('/revision') ? Promise.reject(new Error('away')) : real(to, how)",
    );
    for (mine, theirs, button, left) in [("20", "10", "mine", "20"), ("30", "25", "theirs", "25")] {
        let before = bench.kept(SPACERS).unwrap();
        bench.somebody_else_puts(SPACERS, &before, theirs);
        bench.put(SPACERS, mine);
        browser.wait_for("document.querySelector('.field.clash .note')");
        let note = browser.text("return document.querySelector('.field.clash .note').textContent");
        assert!(
            note.contains(&format!("Ada put “{theirs}” here")) && note.contains(&format!("you typed “{mine}”")),
            "{note}"
        );
        browser.click(&format!(".field.clash button[data-do='{button}']"));
        browser.wait_for(&format!("!document.querySelector('.clash') && {} === '{left}'", value(SPACERS)));
        browser.wait_for(&format!("document.getElementById('field.{SPACERS}').dataset.before === '{left}'"));
        assert_eq!(bench.kept(SPACERS).as_deref(), Some(left));
        // The page has looked again before the next round.
        browser.wait_for(&format!("{} === '{left}'", column("spacers-under", 3)));
    }
    bench.done(2);
}

#[test]
fn a_page_that_missed_something_catches_up_with_its_next_change() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.somebody_else_puts("settings.bar_roll", "0", "3");
    bench.put(SPACERS, "20");
    browser.wait_for(&format!("{} === '3'", value("settings.bar_roll")));
    browser.wait_for(&format!("{} === '3'", column("bar-roll", 3)));
    bench.done(0);
}

#[test]
fn what_another_tablet_wrote_arrives_when_somebody_comes_back_and_a_begun_text_stays() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    browser.run("document.getElementById('in.settings.spacers_over').focus()");
    browser.retype("7.");
    bench.somebody_else_puts(SPACERS, "15", "20");
    browser.run("document.dispatchEvent(new Event('visibilitychange'))");
    browser.wait_for(&format!("{} === '20'", value(SPACERS)));
    browser.wait_for(&format!("{} === '20'", column("spacers-under", 3)));
    assert_eq!(browser.text(&format!("return {}", value("settings.spacers_over"))), "7.");
    assert_eq!(browser.text("return document.activeElement.id"), "in.settings.spacers_over");
    bench.done(0);
}

#[test]
fn a_finding_lights_its_place_on_the_drawing_and_in_the_table() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.put(SPACERS, "60");
    let finding = "document.querySelector('#findings .finding.stop')";
    browser.wait_for(finding);
    browser.run(&format!("{finding}.querySelector('.about a').focus()"));
    let lit_in = |place: &str| {
        format!(
            "[...document.querySelectorAll('{place} .lit')]\
             .some(lit => lit.dataset.at.split(' ').some(at => {finding}.dataset.lights.split(' ').includes(at)))"
        )
    };
    browser.wait_for(&lit_in("#drawing"));
    browser.wait_for(&lit_in(".area"));
    // The finding goes when its reason goes.
    bench.put(SPACERS, "15");
    browser.wait_for("!document.querySelector('#findings .finding.stop')");
    bench.done(0);
}

#[test]
fn an_unfolded_part_stays_unfolded_while_its_facts_change() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    browser.run("document.querySelector('[id=\"part.parts.stem\"] summary').focus()");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.getElementById('in.parts.stem.length')");
    bench.put("parts.stem.length", "120");
    browser.wait_for("document.getElementById('summary.parts.stem').textContent.includes('length 120 mm')");
    assert_eq!(browser.run("return document.getElementById('part.parts.stem').open"), true);
    assert_eq!(browser.text("return document.activeElement.id"), "in.parts.stem.length");
    assert_eq!(browser.text(&format!("return {}", column("stem-length", 3))), "120");

    // What is known about a number unfolds below its row and is still there after a change.
    browser.run("document.querySelector('a.more[data-more=\"hood-y\"]').focus()");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.getElementById('in.measured.hood-y.left.with')");
    bench.put(SPACERS, "20");
    browser.wait_for(&format!("{} === '20'", column("spacers-under", 3)));
    assert_eq!(browser.run("return document.querySelectorAll('tr.unfolded').length"), 1);
    bench.done(0);
}

#[test]
fn a_part_is_added_by_its_first_fact() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    browser.go(&format!("{}/part/parts.chain", bench.url));
    browser.run("window.stays = true");
    bench.put("parts.chain.mass", "0.25 kg");
    browser.wait_for("document.getElementById('told').textContent.includes('chain: mass 0.25 kg')");
    // Now that there is a fact, it can be said where it comes from.
    browser.wait_for("document.getElementById('in.parts.chain.mass.from')");
    assert_eq!(bench.kept("parts.chain.mass").as_deref(), Some("0.25 kg"));
    bench.done(0);
}
