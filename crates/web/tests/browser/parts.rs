//! A part of the shop's catalogue by the keyboard alone: searched, chosen, confirmed, and the finding is gone.

use crate::Bench;
use crate::driver::keys;
use witnessmark_core::build::sample::sample;
use witnessmark_store::CatalogueBy;
use witnessmark_web::bring_parts;

const STEMS: &str = "id,name,price,mass (g),stock,material,length (mm),angle,reversible,clamp height (mm),steerer diameter (mm),steerer shape,bar diameter (mm),bar clamp torque (N·m),steerer insertion min (mm),spacer over required,spacer shape\n\
    plain-110,Plain stem 110,72,128,2,aluminium,110,-6,yes,40,28.6,round,31.8,5,36,no,round\n\
    thick-110,Thick stem 110,90,140,0,aluminium,110,-6,yes,40,28.6,round,35,5,36,no,round\n\
    bare-110,Bare stem 110,20,150,1,aluminium,110,-6,yes,40,28.6,round,?,5,36,no,round\n";

/// The sample with a stem for a thicker bar, beside a shop with three stems.
fn bench() -> Option<Bench> {
    let mut leaves: Vec<(String, String)> =
        sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
    for (path, text) in &mut leaves {
        if path == "parts.stem.bar_diameter" {
            "35".clone_into(text);
        }
    }
    let bench = Bench::with(&leaves)?;
    bring(&bench, STEMS);
    bench.browser.go(&bench.url);
    Some(bench)
}

fn bring(bench: &Bench, stems: &str) {
    let by = CatalogueBy { who: "Ada".into(), at_ms: 0, source: "a test".into() };
    bench.runtime.block_on(bring_parts(&bench.store, &[("stem.csv", stems)], by)).unwrap();
}

const FINDING: &str = "document.querySelector('#findings a[href=\"/checks#fits/bar_in_stem\"]')";

#[test]
fn a_part_is_searched_chosen_and_confirmed_by_the_keyboard_and_its_finding_goes() {
    let Some(bench) = bench() else { return };
    let browser = &bench.browser;
    browser.wait_for(FINDING);
    browser.tab_to("q");
    browser.press(&["plain 1"]);
    browser.wait_for("document.querySelector('#found a')?.textContent === 'replace the stem'");
    browser.press(&["10"]);
    browser.wait_for("document.querySelectorAll('#found li').length === 1");
    assert!(browser.text("return document.querySelector('#found [role=status]').textContent").contains("1 part."));
    browser.press(&[keys::DOWN, keys::ENTER]);
    browser.wait_for("document.querySelector('h1')?.textContent === 'Replace the stem'");
    let goes = browser.text("return document.querySelector('ol.findings.goes').textContent");
    assert!(goes.contains("fits/bar_in_stem"), "{goes}");
    assert_eq!(bench.kept("parts.stem.bar_diameter").as_deref(), Some("35"), "nothing is written yet");
    browser.tab_to("do");
    browser.press(&[keys::ENTER]);
    browser.wait_for("location.hash === '#part.parts.stem' && document.getElementById('findings')");
    assert_eq!(browser.run(&format!("return {FINDING} === null")), true, "the finding is gone");
    assert_eq!(bench.kept("parts.stem.catalogue_id").as_deref(), Some("plain-110"));
    assert_eq!(browser.run("return document.getElementById('part.parts.stem').open"), true, "the part is unfolded");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn the_pages_of_parts_are_accessible_and_stand_at_every_width() {
    let Some(bench) = bench() else { return };
    let browser = &bench.browser;
    let root = bench.url.split("/builds").next().unwrap().to_owned();
    for (name, address) in [
        ("the catalogue", format!("{root}/catalogue?q=stem&kind=stem")),
        ("a part of the catalogue", format!("{root}/catalogue/part/stem/plain-110")),
        ("bringing in", format!("{root}/catalogue/import")),
        ("adding", format!("{}/add?q=stem", bench.url)),
        ("fitting", format!("{}/fitting/parts.stem", bench.url)),
        ("taking", format!("{}/take?pick=parts.stem:plain-110", bench.url)),
        ("completing", format!("{}/complete?go=yes&replace=parts.stem&budget=100", bench.url)),
        ("completing in vain", format!("{}/complete?go=yes&replace=parts.stem&budget=x", bench.url)),
        ("the build", bench.url.clone()),
    ] {
        browser.go(&address);
        browser.is_accessible(name);
    }
    // What is shown of files that were sent: slips first, then what would change.
    for text in ["id,length (mm)\nplain-110,long\n", "id,length (mm)\nplain-110,111\nnew-90,90\n"] {
        browser.go(&format!("{root}/catalogue/import"));
        browser.run(&format!("document.getElementById('text').value = {text:?}"));
        browser.run("document.getElementById('holds').value = 'stem'; document.querySelector('form.import').submit()");
        browser.wait_for("location.pathname.length > '/catalogue/import/'.length && document.querySelector('h1')");
        browser.is_accessible("what was sent");
    }
}

#[test]
fn a_build_is_told_of_newer_facts_and_keeps_the_old_ones_until_somebody_says() {
    let Some(bench) = bench() else { return };
    let browser = &bench.browser;
    browser.go(&format!("{}/take?pick=parts.stem:plain-110", bench.url));
    browser.click("#do");
    browser.wait_for("location.hash === '#part.parts.stem'");
    bring(&bench, "id,length (mm)\nplain-110,112\n");
    browser.go(&bench.url);
    let newer = "document.querySelector('[id=\"beside.parts.stem\"] .newer')";
    assert!(browser.text(&format!("return {newer}.textContent")).contains("length 110 mm → 112 mm"));
    browser.is_accessible("the build with newer facts");
    assert_eq!(bench.kept("parts.stem.length").as_deref(), Some("110"));
    browser.go(&format!("{}/take?pick=parts.stem:plain-110", bench.url));
    browser.is_accessible("taking newer facts");
    browser.click("#do");
    browser.wait_for("location.hash === '#part.parts.stem'");
    assert_eq!(browser.run(&format!("return {newer} === null")), true);
    assert_eq!(bench.kept("parts.stem.length").as_deref(), Some("112"));
}
