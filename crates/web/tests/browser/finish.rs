//! Bolts, tape, mass and tyres, by the keyboard alone.

use crate::Bench;
use crate::driver::keys;
use witnessmark_core::build::sample::sample;

const PAGES: [&str; 4] = ["fasteners", "tape", "mass", "tyres"];

/// The sample with some fields typed otherwise; an empty text leaves the field out.
fn sample_but(fields: &[(&str, &str)]) -> Vec<(String, String)> {
    let mut leaves: Vec<(String, String)> =
        sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
    leaves.retain(|(path, _)| fields.iter().all(|(other, _)| other != path));
    let put = fields.iter().filter(|(_, text)| !text.is_empty());
    leaves.extend(put.map(|(path, text)| ((*path).to_owned(), (*text).to_owned())));
    leaves
}

impl Bench {
    /// From the build's page to one of its own pages, by the keyboard.
    fn walk_to(&self, section: &str, page: &str) {
        self.browser.go(&self.url);
        self.browser.run(&format!("document.querySelector('#{section} a[href$=\"/{page}\"]').id = 'to-the-page'"));
        self.browser.tab_to("to-the-page");
        self.browser.press(&[keys::ENTER]);
        self.browser.wait_for(&format!("document.getElementById('whole')?.dataset.page === '{page}'"));
        self.browser.run("window.stays = true");
    }
}

#[test]
fn the_tape_is_wound_anew_as_its_turns_are_typed_and_the_change_is_taken_back() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.walk_to("cockpit", "tape");
    browser.is_accessible("tape");
    let turns = "document.querySelector('.tape-drawing svg').getAttribute('aria-label')";
    assert!(browser.text(&format!("return {turns}")).contains("9 turns from the end"));
    let strokes = "return document.querySelector('.tape-drawing svg .subject').querySelectorAll('path.part').length";
    let before = browser.run(strokes).as_u64().unwrap();
    browser.tab_to("in.settings.tape_turns_left");
    browser.retype("12");
    browser.press(&[keys::ENTER]);
    browser.wait_for(&format!("{turns}.includes('12 turns from the end')"));
    assert!(browser.run(strokes).as_u64().unwrap() > before, "and more turns are drawn");
    assert_eq!(browser.text("return document.activeElement.id"), "in.settings.tape_turns_left", "the focus stays");
    assert_eq!(bench.kept("settings.tape_turns_left").as_deref(), Some("12"));
    browser.is_accessible("tape with sides that differ");

    browser.click("#told button[data-undo]");
    browser.wait_for(&format!("{turns}.includes('9 turns from the end')"));
    assert_eq!(browser.text("return document.getElementById('in.settings.tape_turns_left').value"), "9");

    browser.tab_to("in.settings.tape_stop_left");
    browser.retype("a hand");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('[id=\"note.settings.tape_stop_left\"][role=alert]')");
    assert_eq!(browser.text("return document.getElementById('in.settings.tape_stop_left').value"), "a hand");
    browser.is_accessible("tape with a refused stop");
    bench.done(1);
}

#[test]
fn a_screw_is_told_at_its_bolt_and_the_stand_is_one_step_away() {
    let Some(bench) = Bench::with(&sample_but(&[
        ("fasteners.stem-face-plate.thread", ""),
        ("fasteners.rail-clamp.state", "open"),
        ("parts.bar.stem_clamp_torque", ""),
    ])) else {
        return;
    };
    let browser = &bench.browser;
    bench.walk_to("finish", "fasteners");
    browser.is_accessible("bolts, one open and one not known");
    // From the glance to the bolt.
    browser.run("document.querySelector('.glance a[href=\"#bolt.rail-clamp\"]').id = 'to-the-bolt'");
    browser.tab_to("to-the-bolt");
    browser.press(&[keys::ENTER]);
    browser.wait_for("location.hash === '#bolt.rail-clamp'");
    let card = "document.getElementById('bolt.stem-face-plate')";
    assert!(browser.text(&format!("return {card}.textContent")).contains("never above 5 N·m"));
    browser.run(&format!("{card}.querySelector('summary').id = 'unfold'"));
    browser.tab_to("unfold");
    browser.press(&[keys::ENTER]);
    browser.wait_for(&format!("{card}.querySelector('details').open"));
    browser.tab_to("in.fasteners.stem-face-plate.thread");
    browser.retype("M5");
    browser.press(&[keys::ENTER]);
    browser.wait_for(&format!("!{card}.textContent.includes('stem face plate, thread')"));
    assert_eq!(browser.run(&format!("return {card}.querySelector('details').open")), true, "it stays unfolded");
    browser.is_accessible("bolts with a screw unfolded");
    browser.run(&format!("{card}.querySelector('a[href*=\"/stand#step-\"]').id = 'to-the-stand'"));
    browser.tab_to("to-the-stand");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('.step:target [data-at=\"fasteners.stem-face-plate\"]')");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_liked_pressure_is_carried_over_as_it_is_typed() {
    let Some(bench) = Bench::with(&sample_but(&[("liked.width_front", "28.4"), ("liked.rider_mass", "68 kg")])) else {
        return;
    };
    let browser = &bench.browser;
    bench.walk_to("wheels-and-brakes", "tyres");
    browser.is_accessible("tyres");
    browser.tab_to("in.liked.pressure_front");
    browser.retype("4,4 bar");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('section[aria-labelledby=tyre-front] .start b').textContent === '4.4'");
    assert!(browser.text("return document.querySelector('.two-tyres').textContent").contains("Carried over"));
    browser.is_accessible("tyres with a liked pressure");
    bench.done(0);
}

#[test]
fn a_bike_weighed_without_its_pedals_is_held_against_a_list_without_them() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    bench.walk_to("finish", "mass");
    browser.is_accessible("mass");
    let sum = "document.querySelector('.mass-rows .together b').textContent";
    let before = browser.text(&format!("return {sum}"));
    browser.tab_to("in.weighing.with_pedals");
    // The first letter of an answer chooses it.
    browser.press(&["n", keys::TAB]);
    browser.wait_for(&format!("{sum} !== '{before}'"));
    assert_eq!(bench.kept("weighing.with_pedals").as_deref(), Some("no"));
    browser.wait_for("document.querySelector('.mass-parts .not-counted')");
    browser.is_accessible("mass without pedals");
    bench.done(0);
}

#[test]
fn a_bike_of_which_nothing_is_known_says_so_on_each_of_them() {
    let Some(bench) = Bench::open() else { return };
    let bare = bench.another(&[("job.title".to_owned(), "bare".to_owned())]);
    let origin = bench.url.split("/builds").next().unwrap();
    for page in PAGES {
        bench.browser.go(&format!("{origin}/builds/{bare}/{page}"));
        bench.browser.is_accessible(&format!("{page} of a bike of which nothing is known"));
    }
    assert_eq!(bench.browser.complaints(), Vec::<String>::new());
}
