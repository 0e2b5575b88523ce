//! No source file is too long to be read in one sitting.

use super::Complaint;
use super::tree::File;

/// The most lines a source file may have.
const MOST_LINES: usize = 900;

/// What counts as source.
const SOURCES: &[&str] = &[".rs", ".py", ".js", ".css"];

/// Files that may be longer: path, most lines, and the reason. A row that is no longer needed is a complaint.
const LONGER: &[(&str, usize, &str)] = &[];

/// Counts the lines of every source file.
pub(super) fn check(files: &[File]) -> Vec<Complaint> {
    check_against(files, LONGER)
}

fn check_against(files: &[File], longer: &[(&str, usize, &str)]) -> Vec<Complaint> {
    let mut complaints = Vec::new();
    for file in files.iter().filter(|file| SOURCES.iter().any(|ending| file.path.ends_with(ending))) {
        let lines = file.text().lines().count();
        let exception = longer.iter().find(|(path, ..)| *path == file.path);
        let most = exception.map_or(MOST_LINES, |(_, most, _)| *most);
        if lines > most {
            complaints.push(Complaint {
                path: file.path.clone(),
                line: 0,
                says: format!(
                    "has {lines} lines, {most} are the most: give it a second room, or a row with its reason in xtask/src/tidy/lengths.rs"
                ),
            });
        }
    }
    for (path, ..) in longer {
        let lines = files.iter().find(|file| file.path == *path).map_or(0, |file| file.text().lines().count());
        if lines <= MOST_LINES {
            complaints.push(Complaint {
                path: (*path).to_owned(),
                line: 0,
                says: format!("has {lines} lines and needs no row in xtask/src/tidy/lengths.rs any more"),
            });
        }
    }
    complaints
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(path: &str, lines: usize) -> File {
        File::new(path, &"x\n".repeat(lines))
    }

    #[test]
    fn a_file_that_is_too_long_is_found() {
        assert!(check(&[file("a.rs", MOST_LINES)]).is_empty());
        let found = check(&[file("a.rs", MOST_LINES + 1)]);
        assert!(found[0].to_string().starts_with("a.rs: has 901 lines, 900 are the most"));
        assert!(check(&[file("table.json", MOST_LINES + 1)]).is_empty(), "data is no source");
    }

    #[test]
    fn an_exception_has_its_own_limit_and_ends_when_it_is_not_needed() {
        let longer = [("a.rs", 1_000, "a table that is read as one")];
        assert!(check_against(&[file("a.rs", 1_000)], &longer).is_empty());
        assert_eq!(check_against(&[file("a.rs", 1_001)], &longer).len(), 1);
        assert!(check_against(&[file("a.rs", 900)], &longer)[0].says.contains("needs no row"));
        assert!(check_against(&[], &longer)[0].says.contains("needs no row"), "a file that is gone");
    }
}
