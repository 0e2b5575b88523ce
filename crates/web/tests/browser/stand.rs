//! The stand in a real browser: with a knuckle, without a network, beside a second tablet.

use crate::Bench;
use crate::driver::keys;
use serde_json::json;

impl Bench {
    fn at_step(&self, key: &str) {
        self.browser.go(&format!("{}/stand#step-{key}", self.url));
        self.browser.run("window.stays = true; document.getElementById('who').value = 'Ines'");
        self.browser.wait_for(&format!("document.querySelector('#step-{key}:target')"));
    }

    /// The network between tablet and program is there, or not.
    fn network(&self, is_there: bool) {
        let state = json!({ "offline": !is_there, "latency": 0, "download_throughput": -1, "upload_throughput": -1 });
        self.browser.command("chromium/network_conditions", &json!({ "network_conditions": state }));
    }

    /// Waits until the program has answered for whatever was entered.
    fn sent(&self) {
        self.browser.wait_for("localStorage.getItem('waiting') === '[]'");
    }

    /// Presses the keys of a step.
    fn knuckle(&self, step: &str, figures: &[&str]) {
        for key in figures {
            self.browser.click(&format!("#step-{step} [data-key='{key}']"));
        }
    }
}

#[test]
fn the_list_and_its_steps_pass_the_accessibility_checker() {
    let Some(bench) = Bench::open() else { return };
    bench.browser.go(&format!("{}/stand", bench.url));
    bench.browser.is_accessible("the list of steps");
    for step in ["cut-steerer", "set-lever-left", "wrap-tape-left", "torque-round", "release"] {
        bench.at_step(step);
        bench.browser.is_accessible(step);
    }
}

#[test]
fn a_number_is_read_by_the_keys_and_the_step_is_done_by_its_button() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.at_step("check-gap");
    bench.knuckle("check-gap", &["3", "6", "back", "5", "1", "enter"]);
    browser.wait_for("document.querySelector('#told p')?.textContent.includes('hood gap, value 351')");
    assert_eq!(bench.kept("measured.hood-gap.value").as_deref(), Some("351"));
    assert_eq!(bench.kept("measured.hood-gap.by").as_deref(), Some("Ines"));
    browser.click("#step-check-gap [data-word=done]");
    browser.wait_for("document.querySelector('#step-check-gap [data-word=done][aria-pressed=true]')");
    bench.sent();
    assert_eq!(bench.kept("steps.check-gap.state").as_deref(), Some("done"));
    // Pressed again, it is let go; at once again it would be a double tap.
    browser.run("document.querySelector('#step-check-gap [data-word=done]').focus()");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('#step-check-gap [data-word=done][aria-pressed=false]')");
    bench.sent();
    assert_eq!(bench.kept("steps.check-gap.state"), None);
    bench.done(0);
}

#[test]
fn the_work_is_walked_through_by_the_keyboard_alone() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.at_step("agree-position");
    browser.run("document.querySelector('#step-agree-position [data-word=done]').id = 'did'");
    browser.tab_to("did");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('#step-agree-position [data-word=done][aria-pressed=true]')");
    // The answer puts the step's piece in anew.
    bench.sent();
    browser.run("document.querySelector('#step-agree-position nav a.on').id = 'on'");
    browser.tab_to("on");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('#step-order-parts:target')");
    assert_eq!(browser.text("return document.activeElement.id"), "step-order-parts-title", "the title is read out");
    bench.done(0);
}

#[test]
fn a_gate_opens_by_a_name_and_against_something_only_with_a_reason() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.at_step("cut-hose-front");
    browser.run("document.getElementById('who').value = ''");
    browser.click("#step-cut-hose-front [data-do=sign]");
    browser.wait_for("document.querySelector('#told p')?.textContent.startsWith('Write your name')");
    browser.run("document.getElementById('who').value = 'Ines'");
    browser.click("#step-cut-hose-front [data-do=sign]");
    browser.wait_for("document.querySelector('#step-cut-hose-front .gate .note')");
    let note = browser.text("return document.querySelector('#step-cut-hose-front .gate .note').textContent");
    assert!(note.contains("write the reason"), "{note}");
    assert_eq!(bench.kept("steps.cut-hose-front.opened_by"), None);
    browser.run("document.getElementById('in.steps.cut-hose-front.opened_against@cut-hose-front').focus()");
    browser.press(&["the old hose was laid beside it", keys::ENTER]);
    browser.wait_for(
        "document.querySelector('[id=\"field.steps.cut-hose-front.opened_against@cut-hose-front\"]').dataset.before",
    );
    browser.click("#step-cut-hose-front [data-do=sign]");
    browser.wait_for("document.querySelector('#step-cut-hose-front .gate.opened')");
    assert_eq!(bench.kept("steps.cut-hose-front.opened_by").as_deref(), Some("Ines"));
    bench.done(1);
}

/// The bench of a workshop is where its network is worst.
#[test]
fn what_was_entered_without_a_network_is_kept_over_a_closed_page_and_sent_when_it_is_back() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.at_step("check-gap");
    bench.network(false);
    bench.knuckle("check-gap", &["3", "5", "2", "enter"]);
    browser.wait_for("document.getElementById('unsent')?.textContent.includes('1 entry is kept on this tablet')");
    // The message lies over the foot of the page, where a script finds the button all the same.
    browser.run("document.querySelector('#step-check-gap [data-word=open]').click()");
    browser.wait_for("document.getElementById('unsent').textContent.includes('2 entries are kept')");
    assert_eq!(bench.kept("measured.hood-gap.value"), None);
    // The tablet goes to sleep, and its browser lets the page go.
    browser.go("about:blank");
    bench.network(true);
    bench.at_step("weigh");
    browser.wait_for("!document.getElementById('unsent')?.textContent");
    browser.wait_for("localStorage.getItem('waiting') === '[]'");
    assert_eq!(bench.kept("measured.hood-gap.value").as_deref(), Some("352"));
    assert_eq!(bench.kept("measured.hood-gap.by").as_deref(), Some("Ines"), "as it was entered");
    assert_eq!(bench.kept("steps.check-gap.state").as_deref(), Some("open"));
}

#[test]
fn an_entry_that_clashes_when_the_network_is_back_is_shown_with_both_texts() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.at_step("weigh-bare");
    bench.network(false);
    browser.click("#step-weigh-bare [data-word=done]");
    browser.wait_for("document.getElementById('unsent')?.textContent.includes('1 entry is kept')");
    // The other tablet was quicker.
    let change =
        witnessmark_store::Change { path: "steps.weigh-bare.state".into(), before: None, after: Some("open".into()) };
    bench.runtime.block_on(bench.store.edit(&bench.build, &[change], &crate::by("quicker"))).unwrap();
    bench.network(true);
    browser.run("window.dispatchEvent(new Event('online'))");
    browser.wait_for("document.querySelector('#step-weigh-bare .record .clash .note')");
    let note = browser.text("return document.querySelector('#step-weigh-bare .record .note').textContent");
    assert!(note.contains("Ada put “open” here meanwhile") && note.contains("you typed “done”"), "{note}");
    browser.click("#step-weigh-bare .record [data-do=mine]");
    browser.wait_for("document.querySelector('#step-weigh-bare [data-word=done][aria-pressed=true]')");
    browser.wait_for("!document.querySelector('#step-weigh-bare .record .clash')");
    bench.sent();
    assert_eq!(bench.kept("steps.weigh-bare.state").as_deref(), Some("done"));
}

/// A browser lets the screen go dark as soon as the page is out of sight.
#[test]
fn the_screen_is_kept_on_and_again_after_the_tablet_wakes_and_when_it_was_let_go() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.at_step("weigh");
    browser.run(
        "const real = navigator.wakeLock.request.bind(navigator.wakeLock); window.locks = []; window.asked = 0; \
         navigator.wakeLock.request = (what) => { window.asked += 1; \
         return real(what).then(lock => { window.locks.push(lock); return lock; }); }",
    );
    let asked = || browser.run("return window.asked").as_u64().unwrap();
    browser.command("window/minimize", &json!({}));
    browser.wait_for("document.hidden");
    assert_eq!(asked(), 0, "a page out of sight asks for nothing");
    browser.command("window/rect", &json!({ "width": 1280, "height": 800 }));
    browser.wait_for("!document.hidden");
    browser.wait_for("window.asked === 1 && window.locks.length === 1 && !window.locks[0].released");
    browser.run("document.dispatchEvent(new Event('visibilitychange'))");
    assert_eq!(asked(), 1, "what it has it does not ask for again");
    // A low battery takes it away while the page is looked at: said so, and asked for again at the next touch.
    browser.run("return window.locks[0].release()");
    browser.wait_for("document.getElementById('tablet').textContent.includes('lets the screen go dark by itself')");
    browser.click("#step-weigh h2");
    browser.wait_for("window.asked === 2 && window.locks.length === 2");
    browser.wait_for("document.getElementById('tablet').textContent === ''");
}

#[test]
fn without_tls_the_page_says_once_what_the_tablet_cannot_do_and_why() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    // A name of this machine is a secure place for a browser, so the page is told that it is none.
    browser.command(
        "goog/cdp/execute",
        &json!({ "cmd": "Page.addScriptToEvaluateOnNewDocument", "params": { "source":
            "Object.defineProperty(window, 'isSecureContext', { get: () => false }); \
             delete Navigator.prototype.wakeLock; delete Navigator.prototype.serviceWorker;" } }),
    );
    bench.at_step("weigh");
    let told = "document.getElementById('tablet').textContent";
    browser.wait_for(&format!("{told}.includes('This page came without TLS')"));
    browser.is_accessible("the stand without TLS");
    browser.click("#tablet button");
    browser.wait_for(&format!("{told} === ''"));
    browser.go("about:blank");
    bench.at_step("check-gap");
    bench.knuckle("check-gap", &["3", "5", "1", "enter"]);
    browser.wait_for("document.querySelector('#told p')?.textContent.includes('351')");
    assert_eq!(browser.text(&format!("return {told}")), "", "it was said");
}

#[test]
fn a_double_tap_counts_once_and_the_keys_write_a_reading_anew() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.at_step("check-gap");
    bench.knuckle("check-gap", &["3", "5", "1", "enter"]);
    browser.wait_for("document.querySelector('#told p')?.textContent.includes('351')");
    bench.knuckle("check-gap", &["3", "5", "5", "enter"]);
    browser.wait_for("document.querySelector('#told p')?.textContent.includes('355')");
    assert_eq!(bench.kept("measured.hood-gap.value").as_deref(), Some("355"));
    let element =
        browser.command("element", &json!({ "using": "css selector", "value": "#step-check-gap [data-word=done]" }));
    let tap = [json!({ "type": "pointerDown", "button": 0 }), json!({ "type": "pointerUp", "button": 0 })];
    let mut taps = vec![json!({ "type": "pointerMove", "duration": 0, "x": 0, "y": 0, "origin": element })];
    taps.extend(tap.iter().chain(&[json!({ "type": "pause", "duration": 150 })]).chain(&tap).cloned());
    browser.command(
        "actions",
        &json!({ "actions": [{ "type": "pointer", "id": "finger",
        "parameters": { "pointerType": "touch" }, "actions": taps }] }),
    );
    bench.sent();
    browser.wait_for("document.querySelector('#step-check-gap [data-word=done][aria-pressed=true]')");
    assert_eq!(bench.kept("steps.check-gap.state").as_deref(), Some("done"));
    bench.done(0);
}

/// 44 pixels each way is what a finger hits; a knuckle needs no less.
#[test]
fn whatever_is_pressed_at_a_step_is_large_enough_for_a_knuckle_at_every_width() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    for (width, height) in [(1280, 800), (800, 1280), (360, 740)] {
        browser.resize(width, height);
        bench.at_step("check-gap");
        let small = browser.text(
            "const small = new Set(); let steps = 0; \
             for (const step of document.querySelectorAll('.step')) { \
               location.hash = '#' + step.id; steps += 1; \
               for (const one of document.querySelectorAll('a, button, input, select, summary')) { \
                 const { width, height } = one.getBoundingClientRect(); \
                 if (!one.checkVisibility() || one.matches('.skip, [type=hidden]')) continue; \
                 if (width < 44 || height < 44) small.add(`${one.outerHTML.slice(0, 80)}: ${width} × ${height}`); \
               } } \
             return steps > 20 ? [...small].join('\\n') : 'only ' + steps + ' steps'",
        );
        assert_eq!(small, "", "{width} wide");
    }
    browser.resize(1280, 800);
}
