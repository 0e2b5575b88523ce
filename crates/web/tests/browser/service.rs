//! The service plan by the keyboard alone, what is due across all bikes, and photos put on a sheet.

use crate::driver::keys;
use crate::{Bench, by};
use witnessmark_core::build::sample::sample;
use witnessmark_store::{Content, NewUpload, Quota};

/// The sample, handed over long ago.
fn handed_over() -> Vec<(String, String)> {
    let mut leaves: Vec<(String, String)> =
        sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
    leaves.retain(|(path, _)| path != "job.handed_over_on");
    leaves.push(("job.handed_over_on".into(), "2025-03-14".into()));
    leaves
}

#[test]
fn that_a_service_was_done_is_written_down_by_the_keyboard_alone_and_the_plan_counts_from_it() {
    let Some(bench) = Bench::with(&handed_over()) else { return };
    let browser = &bench.browser;
    browser.go(&format!("{}/service?day=2025-06-01", bench.url));
    browser.is_accessible("service");
    assert!(browser.run("return document.querySelectorAll('.service.stop').length").as_u64() > Some(0));
    browser.run("document.getElementById('service.chain-wear').querySelector('summary').id = 'chain-was-done'");
    browser.tab_to("chain-was-done");
    browser.press(&[keys::ENTER]);
    browser.tab_to("on-chain-wear");
    browser.retype("some day");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('#note-chain-wear[role=alert]')");
    browser.is_accessible("service with a refused day");
    assert!(browser.complaints().iter().all(|complaint| complaint.contains("422")));
    assert_eq!(browser.text("return document.getElementById('on-chain-wear').value"), "some day");
    browser.tab_to("on-chain-wear");
    browser.retype("2025-06-01");
    browser.tab_to("read-chain-wear");
    browser.retype("0.3 %, gauge");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.getElementById('service.chain-wear')?.textContent.includes('0.3 %, gauge')");
    assert_eq!(bench.kept("serviced.chain-wear.on").as_deref(), Some("2025-06-01"));
    assert!(browser.text("return document.getElementById('service.chain-wear').textContent").contains("2025-07-01"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn what_is_due_across_all_bikes_stands_one_link_from_the_front_page() {
    let Some(bench) = Bench::with(&handed_over()) else { return };
    let browser = &bench.browser;
    bench.another(&[("job.title".into(), "Forgotten".into()), ("job.stage".into(), "finished".into())]);
    browser.go(bench.url.split("/builds/").next().unwrap());
    browser.run("document.querySelector('main a[href=\"/due\"]').id = 'to-due'");
    browser.tab_to("to-due");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.getElementById('not-counted')");
    browser.is_accessible("due");
    assert!(browser.run("return document.querySelectorAll('.bikes-due > li').length").as_u64() > Some(0));
    assert!(browser.text("return document.querySelector('main').textContent").contains("Forgotten"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_photo_is_ticked_onto_a_sheet_by_the_keyboard_alone() {
    let Some(bench) = Bench::with(&handed_over()) else { return };
    let browser = &bench.browser;
    let mut picture = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_pixel(300, 200, image::Rgb([90, 120, 60]))
        .write_to(&mut picture, image::ImageFormat::Jpeg)
        .unwrap();
    let content = Content { kind: "image/jpeg", bytes: picture.get_ref() };
    let new = NewUpload {
        build: &bench.build,
        place: "steerer-cut",
        note: "before the saw",
        content,
        small: Some(content),
        quota: Quota::default(),
    };
    let photo = bench.runtime.block_on(bench.store.add_upload(new, &by("photo"))).unwrap();
    browser.go(&format!("{}/photos", bench.url));
    browser.is_accessible("photos with one to be put on sheets");
    browser.run("document.querySelector('[name$=\".hand_over\"]').id = 'onto-hand-over'");
    browser.tab_to("onto-hand-over");
    browser.press(&[" "]);
    browser.run("document.querySelector('form.on-sheets button').id = 'keep'");
    browser.tab_to("keep");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('form.on-sheets [name=was]').value.endsWith('.hand_over')");
    assert_eq!(bench.kept(&format!("photos.{photo}.hand_over")).as_deref(), Some("yes"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
