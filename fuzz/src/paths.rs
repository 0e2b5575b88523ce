//! Every path of the document, found by asking: a path that leads nowhere is told what could stand there.

use std::sync::LazyLock;
use witnessmark_core::Build;
use witnessmark_core::build::SECTIONS;
use witnessmark_core::number::Side;

/// Names where a person names a record: enough for readings to meet, few enough for the bytes to hit the same again.
const NAMES: &[&str] = &["a", "b", "c", "d-4"];

static ALL: LazyLock<Vec<String>> = LazyLock::new(|| SECTIONS.iter().flat_map(|section| below(section.key)).collect());

static SURVEY: LazyLock<Vec<String>> = LazyLock::new(|| {
    let of_a_survey = |path: &&String| path.starts_with("survey.") || path.starts_with("settings.");
    ALL.iter().filter(of_a_survey).cloned().collect()
});

/// Every path.
pub(crate) fn all_paths() -> &'static [String] {
    &ALL
}

/// The paths that a survey looks at.
pub(crate) fn survey_paths() -> &'static [String] {
    &SURVEY
}

fn below(path: &str) -> Vec<String> {
    let depth = path.split('.').count();
    let mut found = Vec::new();
    match Build::field(path) {
        Ok(_) => {
            found.push(path.to_owned());
            let origin = format!("{path}.from");
            if Build::field(&origin).is_ok() {
                found.push(origin);
            }
        }
        Err(unknown) if unknown.at == depth => {
            // What may be asked of both sides at once may be asked of each, which is not said there.
            if path.starts_with("asked.") && depth == 2 {
                let of_a_side = |side: &Side| Build::field(&format!("{path}.{}.value", side.word())).is_ok();
                let sides = [Side::Left, Side::Right, Side::Front, Side::Rear];
                found.extend(
                    sides
                        .iter()
                        .filter(|side| of_a_side(side))
                        .flat_map(|side| below(&format!("{path}.{}", side.word()))),
                );
            }
            for key in unknown.candidates {
                if key.contains(' ') {
                    found.extend(NAMES.iter().flat_map(|name| below(&format!("{path}.{name}"))));
                } else {
                    found.extend(below(&format!("{path}.{key}")));
                }
            }
        }
        Err(_) => {}
    }
    found
}
