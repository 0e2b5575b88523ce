//! Copies of the workshop at the button, and a build found by typing among many: by the keyboard, in a real browser.

use crate::driver::{Browser, installed, keys};
use std::path::PathBuf;
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use witnessmark_store::{By, NewBuild, Store, read_copy};
use witnessmark_web::{App, CopyFolder, serve};

const RIDERS: [&str; 7] = ["Ida", "Ben", "Zoë", "Kim", "Lou", "Max", "Nia"];

/// A workshop with a few builds that keeps copies, and a browser.
struct Keep {
    runtime: Runtime,
    origin: String,
    copies: PathBuf,
    browser: Browser,
}

impl Keep {
    fn open(name: &str, builds: usize) -> Option<Self> {
        let programs = installed()?;
        let copies = std::env::temp_dir().join(format!("browser-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&copies);
        std::fs::create_dir_all(&copies).unwrap();
        let runtime = Runtime::new().unwrap();
        let folder = CopyFolder { path: copies.clone(), keep: 14 };
        let address = runtime.block_on(async {
            let store = Store::open_in_memory().await.unwrap();
            for number in 0..builds {
                let leaves = [("job.title", format!("Bike {number}")), ("rider.name", RIDERS[number % 7].to_owned())];
                let leaves = leaves.map(|(path, text)| (path.to_owned(), text));
                let by = By { who: "Ada".into(), at_ms: 0, request_key: format!("made {number}") };
                store.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by).await.unwrap();
            }
            let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
            let address = listener.local_addr().unwrap();
            tokio::spawn(serve(listener, App::new(store).keeping_copies(folder), std::future::pending()));
            address
        });
        let browser = Browser::open(&programs);
        Some(Keep { runtime, origin: format!("http://{address}"), copies, browser })
    }
}

impl Drop for Keep {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.copies);
    }
}

#[test]
fn a_copy_is_made_by_the_keyboard_and_read_back_and_a_folder_that_is_gone_is_told_of() {
    let Some(keep) = Keep::open("copies", 1) else { return };
    let browser = &keep.browser;
    browser.go(&format!("{}/copies", keep.origin));
    browser.is_accessible("copies, before the first");
    browser.tab_to("make");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('[role=status]')?.textContent.includes('was made and read back')");
    browser.is_accessible("a copy that was made");
    let name = browser.text("return document.querySelector('ol.copies li .name').textContent");
    let copy = keep.runtime.block_on(read_copy(&keep.copies.join(&name))).unwrap();
    let rows: i64 = copy.contents.tables.iter().map(|table| table.rows).sum();
    let said = browser.text("return document.querySelector('[role=status]').textContent");
    assert!(said.contains(&format!("{rows} rows")), "{said}");

    // The other disk is pulled out.
    std::fs::remove_dir_all(&keep.copies).unwrap();
    browser.tab_to("make");
    browser.press(&[keys::ENTER]);
    browser.wait_for("document.querySelector('[role=alert]')");
    let told = browser.text("return document.querySelector('[role=alert]').textContent");
    assert!(told.contains(keep.copies.to_str().unwrap()) && told.contains("is not there"), "{told}");
    assert!(!told.contains("os error"), "{told}");
    assert_eq!(browser.run("return document.querySelectorAll('[role=alert]').length"), 1, "it is said once");
    browser.is_accessible("a copy that could not be made");
}

#[test]
fn a_build_is_found_among_many_by_typing_and_opened_by_the_keyboard_alone() {
    let Some(keep) = Keep::open("find", 45) else { return };
    let browser = &keep.browser;
    browser.go(&format!("{}/builds", keep.origin));
    browser.is_accessible("a page of builds");
    assert_eq!(browser.run("return document.querySelectorAll('ol.builds > li').length"), 20);
    browser.tab_to("q");
    browser.press(&["kim 1"]);
    // Of Kim's bikes 3, 10, 17, 24, 31 and 38.
    browser.wait_for("document.querySelectorAll('ol.builds > li').length === 3");
    assert!(browser.text("return document.querySelector('#found [role=status]').textContent").contains("3 builds"));
    assert_eq!(browser.text("return document.activeElement.id"), "q", "the next letter goes on");
    browser.is_accessible("builds that were found");
    browser.press(&[keys::DOWN, keys::ENTER]);
    browser.wait_for("document.getElementById('head')");
    assert!(browser.text("return document.title").starts_with("Bike 31"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
