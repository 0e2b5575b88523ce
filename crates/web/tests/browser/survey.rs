//! A survey taken by the keyboard alone: the page proposes a reading, it is typed, the ellipse shrinks; a slip is named; and
//! what it gives is taken as measured.

use crate::Bench;
use crate::driver::{Browser, keys};
use crate::taken::TAKEN;
use witnessmark_core::build::sample::sample;

/// Points of an invented bike, mm from the bottom bracket: x forward, y up, z to the drive side.
const POINTS: [(&str, [f64; 3]); 9] = [
    ("bottom bracket", [0.0, 0.0, 0.0]),
    ("rear axle", [-405.0, 70.0, 0.0]),
    ("front axle", [580.0, 70.0, 0.0]),
    ("saddle nose", [-60.0, 708.0, 0.0]),
    ("saddle top", [-195.0, 712.0, 0.0]),
    ("bar clamp", [475.0, 612.0, 0.0]),
    ("left hood", [565.0, 615.0, -190.0]),
    ("right hood", [565.0, 615.0, 190.0]),
    ("saddle tail", [-315.0, 718.0, 0.0]),
];

/// What a tape gives, to the millimetre.
fn read(what: &str, from: &str, to: &str) -> String {
    let point = |name: &str| POINTS.iter().find(|(one, _)| *one == name).unwrap_or_else(|| panic!("{name}?")).1;
    let (a, b) = (point(from), point(to));
    let value = match what {
        "straight" => a.iter().zip(&b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt(),
        "height over the floor" => b[1] + 270.0,
        "level distance" => b[0] - a[0],
        "across" => (b[2] - a[2]).abs(),
        "floor slope" => 0.0,
        other => panic!("the page proposes {other}"),
    };
    format!("{value:.0}")
}

/// The sample with readings, but without any measured value.
fn bike() -> Vec<(String, String)> {
    let mut leaves: Vec<(String, String)> =
        sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
    leaves.retain(|(path, _)| !path.starts_with("measured."));
    for (name, what, from, to) in TAKEN {
        for (key, text) in [("what", what), ("from", from), ("to", to), ("value", &read(what, from, to))] {
            leaves.push((format!("survey.{name}.{key}"), text.to_owned()));
        }
    }
    leaves
}

/// The reading that the page proposes, as its form would send it.
fn proposed(browser: &Browser, key: &str) -> String {
    browser.text(&format!("return document.querySelector('.read-next [name={key}]').value"))
}

/// How many ellipses are drawn smaller than the dashed ones below them, which show how it was before the last reading.
fn shrunk(browser: &Browser) -> u64 {
    let count = "const drawn = group => [...document.querySelectorAll(`#survey-drawing .ellipses${group} ellipse`)]\
         .map(one => ['cx', 'cy', 'rx'].map(name => one[name].baseVal.value)); \
         const now = drawn(':not(.before)'); \
         return drawn('.before').filter(([x, y, r]) => \
             now.some(([cx, cy, rx]) => Math.hypot(cx - x, cy - y) < 20 && rx < 0.98 * r)).length";
    browser.run(count).as_u64().unwrap()
}

#[test]
fn a_survey_is_taken_by_the_keyboard_alone() {
    let Some(bench) = Bench::with(&bike()) else { return };
    let browser = &bench.browser;
    browser.go(&format!("{}/survey", bench.url));
    browser.is_accessible("the survey before a reading");

    // Readings as the page proposes them: first those that place the hoods and the saddle's top, then those that make what
    // is placed better known.
    let mut smaller = 0;
    for round in 0.. {
        assert!(round < 12, "no reading made an ellipse smaller");
        let typed = read(&proposed(browser, "what"), &proposed(browser, "from"), &proposed(browser, "to"));
        browser.tab_to("next-value");
        browser.retype(&typed);
        browser.run("window.before = true");
        browser.press(&[keys::ENTER]);
        browser.wait_for("!window.before && document.querySelector('.what-it-did')");
        let said = browser.text("return document.querySelector('.what-it-did').textContent");
        assert!(said.starts_with("Added."), "{said}");
        smaller += shrunk(browser);
        if smaller > 0 && said.contains("Better known now") {
            break;
        }
    }
    browser.is_accessible("the survey after a reading");

    // A slip of two centimetres: named where it lies, and gone when it is put right.
    let field = "in.survey.nose-bar.value";
    let right = read("straight", "saddle nose", "bar clamp");
    let wrong = (right.parse::<i32>().unwrap() + 20).to_string();
    browser.tab_to(field);
    browser.retype(&wrong);
    browser.press(&[keys::ENTER]);
    let named = "document.getElementById('survey-findings').textContent";
    browser.wait_for(&format!("{named}.includes('{wrong} mm, does not fit the other readings')"));
    assert!(browser.text(&format!("return {named}")).contains(&format!("{wrong} read for {right}")));
    browser.is_accessible("the survey with a reading in doubt");
    assert_eq!(browser.text("return document.activeElement.id"), field, "the focus stays");
    browser.retype(&right);
    browser.press(&[keys::ENTER]);
    browser.wait_for(&format!("!{named}.includes('does not fit')"));

    // What it gives becomes what was measured.
    browser.run("document.querySelector('#survey-take button').id = 'take-them'");
    browser.tab_to("take-them");
    browser.run("window.before = true");
    browser.press(&[keys::ENTER]);
    browser.wait_for(
        "!window.before && document.getElementById('survey-take').textContent.includes('holds what this survey gives')",
    );
    assert_eq!(bench.kept("measured.saddle-setback.with").as_deref(), Some("survey"));
    let setback: f64 = bench.kept("measured.saddle-setback.value").unwrap().parse().unwrap();
    assert!((setback - 60.0).abs() < 2.0, "{setback}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
