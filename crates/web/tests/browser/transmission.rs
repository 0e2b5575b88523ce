//! Gears, chain and shift wires, by the keyboard alone.

use crate::Bench;
use crate::driver::keys;
use witnessmark_core::build::sample::sample;

/// The sample with some fields typed otherwise.
fn sample_but(fields: &[(&str, &str)]) -> Vec<(String, String)> {
    let mut leaves: Vec<(String, String)> =
        sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
    leaves.retain(|(path, _)| fields.iter().all(|(other, _)| other != path));
    leaves.extend(fields.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())));
    leaves
}

#[test]
fn a_cadence_is_tried_on_from_the_build_s_page_by_the_keyboard_alone() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    browser.run("document.querySelector('#transmission a[href$=\"/gears\"]').id = 'to-the-gears'");
    browser.tab_to("to-the-gears");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.getElementById('cadence')");
    browser.is_accessible("gears");
    browser.tab_to("cadence");
    browser.retype("100");
    browser.press(&[keys::ENTER]);
    browser.wait_for("location.search === '?cadence=100'");
    assert!(browser.text("return document.querySelector('.drive-rows thead').textContent").contains("km/h at 100"));
    // The rule lies along a wide page and stands upright on a narrow one.
    let shown = "return [...document.querySelectorAll('.gear-rules > svg')]\
                 .filter(svg => svg.getBoundingClientRect().width > 0).map(svg => svg.getAttribute('class').trim()).join()";
    assert_eq!(browser.text(shown), "lying");
    browser.resize(360, 740);
    assert_eq!(browser.text(shown), "upright");
    browser.resize(1280, 800);

    browser.tab_to("cadence");
    browser.retype("as fast as she can");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('[role=alert]')");
    assert_eq!(browser.text("return document.getElementById('cadence').value"), "as fast as she can");
    assert_eq!(
        browser.text("return document.getElementById('cadence').getAttribute('aria-describedby')"),
        "note-cadence"
    );
    browser.is_accessible("gears with a refused cadence");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn another_number_of_links_is_looked_at_by_the_keyboard_alone() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    browser.go(&format!("{}/chain", bench.url));
    browser.is_accessible("chain");
    browser.tab_to("links");
    browser.retype("104");
    browser.press(&[keys::TAB, keys::ENTER]);
    browser.wait_for("location.search === '?links=104'");
    assert!(browser.text("return document.querySelector('main').textContent").contains("too short by"));
    // What is wider than its place scrolls within it, and the keyboard gets hold of it.
    browser.run("document.querySelector('.wide').id = 'every-length'");
    browser.tab_to("every-length");
    browser.is_accessible("chain that is too short");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Goes to a page of another build.
fn go(bench: &Bench, build: &str, page: &str) {
    let origin = bench.url.split("/builds").next().unwrap();
    bench.browser.go(&format!("{origin}/builds/{build}/{page}"));
}

#[test]
fn a_sound_tree_of_wires_and_a_wrong_one_are_told_to_everybody() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    browser.go(&format!("{}/wiring", bench.url));
    browser.is_accessible("shift wires");
    let wrong = bench.another(&sample_but(&[("parts.wire.rear.other_end", "junction seat")]));
    go(&bench, &wrong, "wiring");
    assert!(browser.text("return document.querySelector('main').textContent").contains("which is not there"));
    browser.is_accessible("shift wires with a wrong end");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn the_limit_of_a_junior_is_told_to_everybody() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    let junior = bench.another(&sample_but(&[
        ("job.rules", "UCI, road mass start"),
        ("job.day", "2022-06-01"),
        ("rider.birth_year", "2005"),
    ]));
    go(&bench, &junior, "gears");
    assert!(browser.text("return document.querySelector('svg.lying').getAttribute('aria-label')").contains("7.93 m"));
    browser.is_accessible("gears of a junior");
}

#[test]
fn a_bike_of_which_nothing_is_known_says_so_to_everybody() {
    let Some(bench) = Bench::open() else { return };
    let bare = bench.another(&[("job.title".to_owned(), "bare".to_owned())]);
    for page in ["gears", "chain", "wiring"] {
        go(&bench, &bare, page);
        bench.browser.is_accessible(&format!("{page} of a bike of which nothing is known"));
    }
    assert_eq!(bench.browser.complaints(), Vec::<String>::new());
}
