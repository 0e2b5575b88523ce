//! No file speaks of one person's machine: what is written here must be true on every other.

use super::Complaint;
use super::tree::File;

/// Words no file may hold. They are written in two halves, so that this file holds none of them.
const FORBIDDEN: &[&str] =
    &[concat!("/wo", "rk/"), concat!("/ro", "ot/"), concat!("/tm", "p/h/"), concat!("/ho", "me/")];

/// Looks through every text of the tree.
pub(super) fn check(files: &[File]) -> Vec<Complaint> {
    let mut complaints = Vec::new();
    for file in files {
        for (at, line) in file.text().lines().enumerate() {
            for word in FORBIDDEN.iter().filter(|word| line.contains(**word)) {
                complaints.push(Complaint {
                    path: file.path.clone(),
                    line: at + 1,
                    says: format!("holds “{word}”, a path of one machine; write it from the root of the repository"),
                });
            }
        }
    }
    complaints
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_of_one_machine_is_found_with_its_line() {
        for word in FORBIDDEN {
            let found = check(&[File::new("notes.md", &format!("fine\nsee {word}notes\n"))]);
            assert_eq!(found.iter().map(|complaint| complaint.line).collect::<Vec<_>>(), [2], "{word}");
        }
    }

    #[test]
    fn words_that_only_sound_alike_are_left_alone() {
        assert!(check(&[File::new("notes.md", "/workshop /roots work/ root/ /tmp/house /homes\n")]).is_empty());
        assert!(check(&[File { path: "picture.png".into(), text: None }]).is_empty());
    }
}
