//! The sheets, the choice of what is shown, and the page that comes of it.

use crate::Bench;
use crate::driver::keys;
use witnessmark_core::build::sample::sample;
use witnessmark_core::{number, plan};

#[test]
fn a_line_of_work_is_added_and_priced_by_the_keyboard_alone() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    browser.go(&format!("{}/sheets", bench.url));
    browser.is_accessible("sheets");
    browser.tab_to("work-what");
    browser.press(&[keys::TAB, keys::ENTER]);
    browser.wait_for("document.querySelector('[role=alert]')");
    browser.is_accessible("sheets with a refused line of work");
    // The refusal itself is what the browser complains of, and nothing else.
    assert!(browser.complaints().iter().all(|complaint| complaint.contains("422")));
    browser.tab_to("work-what");
    browser.retype("Build from the frame up");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.getElementById('in.work.work-1.hours')");
    browser.tab_to("in.work.work-1.hours");
    browser.retype("11.5");
    browser.press(&[keys::TAB]);
    browser.wait_for("document.getElementById('told').textContent.includes('11.5')");
    assert_eq!(bench.kept("work.work-1.hours").as_deref(), Some("11.5"));
    browser.is_accessible("sheets with a line of work");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn what_is_shown_is_ticked_by_the_keyboard_alone() {
    let Some(bench) = Bench::open() else { return };
    let browser = &bench.browser;
    browser.go(&format!("{}/show", bench.url));
    browser.is_accessible("what is shown");
    browser.run("document.querySelector('[name=\"show.wheelbase\"]').id = 'the-wheelbase'");
    browser.tab_to("the-wheelbase");
    browser.press(&[" "]);
    browser.run("document.querySelector('form.shown button').id = 'keep'");
    browser.tab_to("keep");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('[name=was]').value === 'wheelbase'");
    assert_eq!(bench.kept("shown.wheelbase").as_deref(), Some("yes"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn the_page_of_the_finished_bike_asks_nobody_for_anything_and_has_no_violation() {
    let Some(bench) = Bench::open() else { return };
    let mut build = sample();
    build.show.agreed_on = Some(jiff::civil::date(2027, 3, 7).into());
    build.show.words = Some("Built for long days over short climbs.".into());
    for shown in [&mut build.show.rider, &mut build.show.event, &mut build.show.parts, &mut build.show.drawing] {
        *shown = Some(true.into());
    }
    for number in number::all() {
        build.shown.insert(number.id, true.into());
    }
    let page = witnessmark_sheets::show::page(&build, &plan(&build)).unwrap();
    let file = std::env::temp_dir().join(format!("witnessmark-show-{}.html", std::process::id()));
    std::fs::write(&file, page).unwrap();
    bench.browser.go(&format!("file://{}", file.display()));
    bench.browser.is_accessible("the page of the finished bike");
    let asked = bench
        .browser
        .run("return performance.getEntriesByType('resource').filter(one => !one.name.startsWith('data:')).length");
    assert_eq!(asked.as_u64(), Some(0));
    std::fs::remove_file(&file).unwrap();
}
