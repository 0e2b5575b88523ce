//! The mechanics stay pure: without the standard library there is no clock, no disk and no network to reach for.

use super::Complaint;
use super::tree::File;

const ROOM: &str = "crates/mechanics/src/";
const FRONT: &str = "crates/mechanics/src/lib.rs";

/// Lines that would open the door again.
const DOORS: &[&str] = &["extern crate std", "extern crate alloc"];

/// The front file says `#![no_std]`, and no file brings the library back, save for its tests.
pub(super) fn check(files: &[File]) -> Vec<Complaint> {
    let mut complaints = Vec::new();
    for file in files.iter().filter(|file| file.path.starts_with(ROOM) && file.is_rust()) {
        let mut complain = |line, says: &str| {
            complaints.push(Complaint { path: file.path.clone(), line, says: says.to_owned() });
        };
        let code = file.code();
        if file.path == FRONT && !code.lines().any(|line| line.trim() == "#![no_std]") {
            complain(0, "must say #![no_std], without conditions: the mechanics stay pure");
        }
        let mut for_tests = false;
        for (at, line) in code.lines().enumerate() {
            if !for_tests && DOORS.iter().any(|door| line.trim_start().starts_with(door)) {
                complain(at + 1, "brings the library back: the mechanics use core and libm alone");
            }
            for_tests = line.trim() == "#[cfg(test)]";
        }
    }
    complaints
}

#[cfg(test)]
mod tests {
    use super::*;

    fn complaints(path: &str, text: &str) -> Vec<String> {
        check(&[File::new(path, text)]).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_front_without_no_std_is_found() {
        assert!(complaints(FRONT, "//! Pure.\n#![no_std]\npub mod frame;\n").is_empty());
        assert_eq!(complaints(FRONT, "//! #![no_std]\npub mod frame;\n").len(), 1, "a comment does not count");
        assert_eq!(complaints(FRONT, "#![cfg_attr(not(test), no_std)]\n").len(), 1, "a condition does not count");
    }

    #[test]
    fn the_library_may_come_back_for_tests_only() {
        let file = "crates/mechanics/src/frame.rs";
        assert_eq!(
            complaints(file, "fn a() {}\nextern crate std;\n"),
            ["crates/mechanics/src/frame.rs:2: brings the library back: the mechanics use core and libm alone"]
        );
        assert_eq!(complaints(file, "extern crate alloc;\n").len(), 1);
        assert!(complaints(file, "#[cfg(test)]\nextern crate std;\n").is_empty());
        assert!(complaints(file, "#[cfg(test)]\nmod tests {\n    extern crate std;\n}\n").is_empty());
        assert!(complaints("crates/core/src/plan.rs", "extern crate std;\n").is_empty(), "another room");
    }
}
