//! Reading a build document from a file or from standard input.

use crate::print;
use std::fs::File;
use std::io::{Read, stdin};
use std::path::Path;
use witnessmark_core::Build;
use witnessmark_intake::LARGEST_FILE;

/// The build in a file; `None` when it cannot be used, which has then been said.
pub(crate) fn build(path: &Path) -> Option<Build> {
    let name = if path.as_os_str() == "-" { "standard input".to_owned() } else { path.display().to_string() };
    let bytes = match bytes(path) {
        Ok(bytes) => bytes,
        Err(error) => {
            print::complain(&format!("{name}: {error}"));
            return None;
        }
    };
    match witnessmark_intake::file(&name, &bytes) {
        Ok(build) => Some(build),
        Err(problems) => {
            for problem in &problems {
                print::complain(&problem.to_string());
            }
            None
        }
    }
}

/// At most one byte more than a document may have, so that the reader can say that it is too large without anyone holding
/// a hundred megabytes.
fn bytes(path: &Path) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    if path.as_os_str() == "-" {
        stdin().lock().take(LARGEST_FILE + 1).read_to_end(&mut bytes)?;
    } else {
        File::open(path)?.take(LARGEST_FILE + 1).read_to_end(&mut bytes)?;
    }
    Ok(bytes)
}
