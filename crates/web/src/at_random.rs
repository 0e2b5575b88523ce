//! Every page, asked over a socket for anything: whatever comes, it is answered, and a refusal is a page with a sentence.

use crate::pages::ALL;
use crate::testing::{Workshop, escaped, sample_leaves};
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{Config, TestRunner};

/// A request: how, what, and the fields of its form.
type Request = (bool, String, Vec<(String, String)>);

/// Texts that some field or address takes, and some that none does.
const TEXTS: &[&str] = &[
    "",
    " ",
    "parts.stem",
    "parts.stem.length",
    "parts.stem.length.from",
    "settings.spacers_under",
    "asked.hood-x.left.value",
    "survey.a.from",
    "hood-x",
    "hood-x.left",
    "stem",
    "plain",
    "110",
    "3,5 cm",
    "-1",
    "0",
    "1",
    "99999999999999999999",
    "nan",
    "yes",
    "Ada",
    "owner",
    "mechanic",
    "2026-03-14",
    "9999-99-99",
    "key-at-random",
    "bench-sheet.pdf",
    "plan.csv",
    "stem.csv",
    "parts.stem:plain",
    "a\u{0}b",
    "ø 31,8 <b>“x”</b> & ' \"",
    "../../etc",
    "\u{202e}abc",
    "numbers",
    "chain-wear",
    "done",
    "open",
];

/// Names that fields of the pages' forms have.
const FIELDS: &[&str] = &[
    "path", "text", "value", "key", "who", "by", "revision", "id", "pick", "kind", "part", "name", "password", "pin",
    "code", "role", "from", "to", "onto", "a", "b", "a_at", "b_at", "at", "step", "state", "note", "q", "page", "seen",
    "title", "what", "number", "side", "paper", "length", "reading", "with", "file", "stranger", "service", "on",
    "read", "was_on", "was_read", "day",
];

fn text() -> impl Strategy<Value = String> {
    prop_oneof![6 => select(TEXTS).prop_map(str::to_owned), 1 => "\\PC{0,24}", 1 => "[\\x00-\\x7f]{0,12}"]
}

fn request(ids: Vec<String>) -> impl Strategy<Value = Request> {
    let segment = prop_oneof![1 => text(), 2 => select(ids.clone())];
    let value = prop_oneof![4 => text(), 1 => select(ids.clone())];
    let field = (select(FIELDS).prop_map(str::to_owned), value);
    (any::<bool>(), select(ALL), prop::collection::vec(segment, 3), prop::collection::vec(field, 0..8), 0..5_u8)
        .prop_map(move |(posts, path, segments, fields, strange)| {
            let mut left = segments.iter();
            let pieces = path.split('/').map(|piece| match piece {
                // Mostly a build that is there: else every request ends at the door.
                "{id}" if strange > 0 => ids[0].clone(),
                piece if piece.starts_with('{') => left.next().map_or_else(String::new, |text| escaped(text)),
                piece => piece.to_owned(),
            });
            (posts, pieces.collect::<Vec<_>>().join("/"), fields)
        })
}

#[test]
fn whatever_is_asked_of_any_page_is_answered_and_a_refusal_is_a_page_with_a_sentence() {
    let runtime = tokio::runtime::Runtime::new().unwrap();
    let (workshop, ids) = runtime.block_on(async {
        let workshop = Workshop::open().await;
        let leaves = sample_leaves();
        let ids = vec![workshop.make(&leaves).await.to_string(), workshop.make(&leaves).await.to_string()];
        (workshop, ids)
    });
    let mut runner = TestRunner::new(Config { cases: 400, failure_persistence: None, ..Config::default() });
    let done = runner.run(&request(ids), |(posts, path, fields)| {
        let pairs: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        let answer = if posts {
            runtime.block_on(workshop.post(&path, &pairs))
        } else {
            let query: Vec<String> = pairs.iter().map(|(name, value)| format!("{name}={}", escaped(value))).collect();
            runtime.block_on(workshop.get(&format!("{path}?{}", query.join("&"))))
        };
        prop_assert!(answer.status < 500, "{path} {fields:?}: {} {}", answer.status, answer.body);
        // A method that an address does not have is refused without a word, as browsers never ask for it.
        if answer.status >= 400 && answer.status != 405 {
            let kind = answer.headers.get("content-type").map_or("", String::as_str);
            prop_assert!(kind.starts_with("text/html"), "{path} {fields:?}: {} {kind} {}", answer.status, answer.body);
            prop_assert!(answer.body.contains('.'), "{path} {fields:?}: {} {}", answer.status, answer.body);
        }
        Ok(())
    });
    if let Err(error) = done {
        panic!("{error}");
    }
}
