//! What an accessibility checker says of the page as it stands in the browser.

use crate::driver::Browser;

const CHECKER: &str = include_str!("vendor/axe-core/axe.min.js");

/// Every width at which a page must stand: a bench's screen, a tablet upright, a telephone; the last is also what a screen
/// of 720 shows at 200 %.
const WIDTHS: [(u32, u32); 3] = [(1280, 800), (800, 1280), (360, 740)];

impl Browser {
    /// The page has no violation at any width, and nothing on it is wider than the window.
    pub(crate) fn is_accessible(&self, page: &str) {
        for (width, height) in WIDTHS {
            self.resize(width, height);
            assert_eq!(self.run("return window.innerWidth").as_u64(), Some(width.into()));
            assert_eq!(self.violations(), Vec::<String>::new(), "{page}, {width} wide");
            let over = self.run("return document.documentElement.scrollWidth - window.innerWidth");
            assert!(over.as_i64().is_some_and(|over| over <= 0), "{page}, {width} wide, runs over by {over}");
        }
        self.resize(1280, 800);
    }

    /// What the checker finds wrong, each with the places where.
    fn violations(&self) -> Vec<String> {
        if self.run("return typeof window.axe") != "object" {
            self.run(CHECKER);
        }
        let found = self.run(
            "return axe.run(document).then(said => said.violations.map(one => \
             one.id + ': ' + one.nodes.map(node => node.html.slice(0, 160)).join(' | ')))",
        );
        found.as_array().unwrap().iter().filter_map(|one| one.as_str().map(str::to_owned)).collect()
    }
}

#[test]
fn the_checker_finds_what_is_wrong() {
    let Some(bench) = crate::Bench::open() else { return };
    let browser = &bench.browser;
    browser.go(&format!("{}/survey", bench.url));
    assert_eq!(browser.violations(), Vec::<String>::new());
    browser.run("document.querySelector('label[for=next-value]').remove()");
    let found = browser.violations();
    assert!(found.iter().any(|one| one.starts_with("label: ") && one.contains("next-value")), "{found:?}");
}
