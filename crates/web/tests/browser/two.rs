//! Two bikes side by side, and the position of one put onto the other, by the keyboard alone.

use crate::Bench;
use crate::driver::keys;
use witnessmark_core::build::sample::sample;

/// The sample under another title, with shorter cranks.
fn other() -> Vec<(String, String)> {
    let mut leaves: Vec<(String, String)> =
        sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
    leaves.retain(|(path, _)| path != "job.title" && path != "parts.crankset.arm_length");
    leaves.push(("job.title".into(), "Zoe’s frame".into()));
    leaves.push(("parts.crankset.arm_length".into(), "165".into()));
    leaves
}

#[test]
fn two_bikes_are_compared_by_the_keyboard_alone() {
    let Some(bench) = Bench::open() else { return };
    let other = bench.another(&other());
    let browser = &bench.browser;
    let origin = bench.url.split("/builds").next().unwrap();
    browser.go(&format!("{origin}/compare?a={}", bench.build));
    browser.is_accessible("compare, before the second is chosen");
    browser.tab_to("b");
    // A letter chooses in a list.
    browser.press(&["Z"]);
    assert_eq!(browser.text("return document.getElementById('b').value"), other);
    browser.press(&[keys::TAB, keys::TAB, keys::ENTER]);
    browser.wait_for("document.getElementById('numbers-title')");
    let crank = browser.text("return document.querySelector('[data-number=crank-length]').textContent");
    assert!(crank.contains("165 mm") && crank.contains("they differ"), "{crank}");
    // What is the same is folded away, and unfolds by the keyboard.
    browser.run("document.querySelector('details.fold summary').id = 'folded'");
    browser.tab_to("folded");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('details.fold').open");
    browser.is_accessible("two bikes compared");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_position_is_carried_over_by_the_keyboard_alone() {
    let Some(bench) = Bench::open() else { return };
    let other = bench.another(&other());
    let browser = &bench.browser;
    browser.go(&format!("{}/carry", bench.url));
    browser.is_accessible("carry over, before the other is chosen");
    browser.tab_to("onto");
    browser.press(&["Z"]);
    browser.press(&[keys::TAB, keys::ENTER]);
    browser.wait_for("document.getElementById('accounted-title')");
    let text = browser.text("return document.querySelector('main').textContent");
    assert!(text.contains("so the saddle goes") && text.contains("Then measure"), "{text}");
    browser.is_accessible("a position carried over");
    browser.run("document.querySelector('[aria-labelledby=take-title] button').id = 'take-it'");
    browser.tab_to("take-it");
    browser.press(&[keys::ENTER]);
    browser.wait_for(&format!("location.pathname === '/builds/{other}'"));
    assert!(
        !browser.text("return document.getElementById('in.fit.crank_length').value").is_empty(),
        "with which cranks the position was taken stands there"
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
