//! The mirror, asked over a socket with what its own description allows and with what it does not.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use super::description;
use crate::testing::{Answer, Workshop};
use jsonschema::Validator;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{Config, TestRunner};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;
use witnessmark_core::build::sample::sample;

/// The schema that the description gives for an answer of this status.
fn promised(described: &Value, path: &str, status: u16) -> Value {
    let responses = &described["paths"][path]["get"]["responses"];
    let response = responses.get(status.to_string()).unwrap_or(&responses["default"]);
    response["content"]["application/json"]["schema"].clone()
}

/// A validator for every schema that an answer is promised to keep to, by the schema's text.
fn validators(described: &Value) -> BTreeMap<String, Validator> {
    let mut validators = BTreeMap::new();
    for operation in described["paths"].as_object().unwrap().values() {
        for response in operation["get"]["responses"].as_object().unwrap().values() {
            let schema = &response["content"]["application/json"]["schema"];
            validators.entry(schema.to_string()).or_insert_with(|| {
                let mut whole = schema.clone();
                whole["components"] = described["components"].clone();
                jsonschema::draft202012::meta::validate(&whole).unwrap();
                jsonschema::draft202012::new(&whole).unwrap()
            });
        }
    }
    validators
}

/// Says in what an answer differs from what was promised.
fn broken(described: &Value, validators: &BTreeMap<String, Validator>, path: &str, answer: &Answer) -> Vec<String> {
    let mut broken = Vec::new();
    if answer.status >= 500 {
        broken.push(format!("it answers {}", answer.status));
    }
    let kind = answer.headers.get("content-type").map(String::as_str);
    if kind != Some("application/json") {
        broken.push(format!("its content type is {kind:?}"));
    }
    let Ok(body) = serde_json::from_str::<Value>(&answer.body) else {
        broken.push("its body is not JSON".into());
        return broken;
    };
    let validator = &validators[&promised(described, path, answer.status).to_string()];
    broken.extend(validator.iter_errors(&body).map(|error| format!("{}: {error}", error.instance_path())));
    if answer.status >= 400 {
        let says = body["says"].as_str().unwrap_or_default();
        if !(says.ends_with('.') && says.len() > 10 && !says.contains(char::is_control)) {
            broken.push(format!("it refuses without a sentence: {says:?}"));
        }
    }
    broken
}

/// A workshop with builds of every sort, and their names: sound, nearly empty, of the demonstration, and spoilt in the store.
async fn workshop() -> (Workshop, Vec<String>) {
    let workshop = Workshop::open().await;
    let leaves = |build: &witnessmark_core::Build| -> Vec<(String, String)> {
        build.leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect()
    };
    let mut builds = vec![leaves(&sample()), vec![("job.title".to_owned(), "Nothing yet".to_owned())]];
    for folder in ["builds", "surveys"] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo").join(folder);
        for entry in std::fs::read_dir(folder).unwrap() {
            let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
            builds.push(leaves(&witnessmark_intake::document("demo", &text).unwrap()));
        }
    }
    let spoilt = [("parts.stem.length", "ten furlongs"), ("nowhere.at.all", "x"), ("parts.frame.stack", "1e999")];
    let mut with_spoilt = leaves(&sample());
    with_spoilt.retain(|(path, _)| spoilt.iter().all(|(other, _)| path != other));
    with_spoilt.extend(spoilt.map(|(path, typed)| (path.to_owned(), typed.to_owned())));
    builds.push(with_spoilt);
    let mut ids = Vec::new();
    for leaves in &builds {
        ids.push(workshop.make(leaves).await.to_string());
    }
    (workshop, ids)
}

#[test]
fn the_description_that_programs_read_is_that_of_the_types() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/schema/api.json");
    let text = format!("{}\n", description());
    if std::env::var_os("WITNESSMARK_WRITE").is_some() {
        std::fs::write(&path, &text).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        text == kept,
        "it is stale: WITNESSMARK_WRITE=1 cargo test -p witnessmark-web --lib openapi writes it again"
    );
}

/// Every field of every answer, and every address, stands in the page that people read.
#[test]
fn the_page_for_people_tells_every_address_and_every_field() {
    let told = include_str!("../../../../../docs/json.md");
    let described = description();
    let addresses = described["paths"].as_object().unwrap().keys().map(|path| format!("`{path}"));
    let schemas = described["components"]["schemas"].as_object().unwrap().values();
    let fields = schemas.filter_map(|schema| schema["properties"].as_object()).flat_map(|all| all.keys());
    let fields = fields.map(|name| format!("`{name}`"));
    let untold: Vec<String> = addresses.chain(fields).filter(|word| !told.contains(word.as_str())).collect();
    assert_eq!(untold, Vec::<String>::new());
}

#[test]
fn what_may_be_left_out_of_a_question_is_not_called_for() {
    let described = description();
    let called_for = |path: &str, name: &str| -> bool {
        let parameters = described["paths"][path]["get"]["parameters"].as_array().unwrap();
        let one = parameters.iter().find(|parameter| parameter["name"] == name);
        one.unwrap_or_else(|| panic!("{path} asks for no {name}"))["required"] == true
    };
    assert!(called_for("/builds/{id}/carry.json", "onto"));
    assert!(!called_for("/compare.json", "a_at") && !called_for("/builds/{id}/service.json", "day"));
    assert!(!called_for("/due.json", "day"));
}

#[tokio::test]
async fn the_description_is_served_at_its_own_address() {
    let workshop = Workshop::open().await;
    let answer = workshop.get("/api.json").await;
    assert_eq!((answer.status, answer.headers["content-type"].as_str()), (200, "application/json"));
    assert_eq!(serde_json::from_str::<Value>(&answer.body).unwrap(), description());
}

#[tokio::test]
async fn what_the_description_calls_required_is_asked_for_and_what_it_does_not_may_be_left_out() {
    let (workshop, ids) = workshop().await;
    let described = description();
    let mut left_out = 0;
    for (path, address) in described["paths"].as_object().unwrap() {
        let parameters = address["get"]["parameters"].as_array().unwrap();
        let query: Vec<&Value> = parameters.iter().filter(|one| one["in"] == "query").collect();
        for without in &query {
            let others = query.iter().filter(|one| one["name"] != without["name"] && one["required"] == true);
            let pairs: Vec<String> =
                others.map(|one| format!("{}={}", one["name"].as_str().unwrap(), ids[0])).collect();
            let answer = workshop.get(&format!("{}?{}", path.replace("{id}", &ids[0]), pairs.join("&"))).await;
            let expected = if without["required"] == true { 422 } else { 200 };
            assert_eq!(answer.status, expected, "{path} without {}: {}", without["name"], answer.body);
            left_out += 1;
        }
    }
    assert!(left_out >= 5, "onto, a, b, a_at, b_at at least: {left_out}");
}

#[tokio::test]
async fn every_address_of_the_description_answers_for_every_sort_of_build_as_it_promises() {
    let described = description();
    let validators = validators(&described);
    let (workshop, ids) = workshop().await;
    for path in described["paths"].as_object().unwrap().keys() {
        for (id, other) in ids.iter().zip(ids.iter().cycle().skip(1)) {
            let asked = path.replace("{id}", id);
            let answer = workshop.get(&format!("{asked}?onto={other}&a={id}&b={other}&a_at=1")).await;
            assert_eq!(answer.status, 200, "{asked}: {}", answer.body);
            assert_eq!(broken(&described, &validators, path, &answer), Vec::<String>::new(), "{asked}");
        }
    }
}

/// Any bytes, as they stand in an address: more than any browser would send.
fn anything() -> impl Strategy<Value = String> {
    let sign = prop_oneof![
        4 => "[a-z0-9._~-]",
        1 => any::<u8>().prop_map(|byte| format!("%{byte:02X}")),
        1 => select(vec!["%", "%2", "+", "%00", "%2F", "..", "%F0%9F%9A%B2", "é"]).prop_map(str::to_owned),
    ];
    prop::collection::vec(sign, 1..24).prop_map(|signs| signs.concat())
}

/// What could stand for a parameter of the description.
fn argument(ids: &[String]) -> impl Strategy<Value = String> + use<> {
    let changes = ["", "0", "1", "2", "-1", "99999999999999999999", "2026-03-14", "0000-00-00", "9999-12-31", "%20"];
    prop_oneof![
        5 => select(ids.to_vec()),
        2 => select(changes.to_vec()).prop_map(str::to_owned),
        2 => anything(),
    ]
}

/// An address with its parameters: mostly all of them, at times one missing, twice, or unknown.
fn request(path: String, parameters: &[Value], ids: &[String]) -> impl Strategy<Value = (String, String)> + use<> {
    let names = |place: &str| -> Vec<String> {
        let here = parameters.iter().filter(|parameter| parameter["in"] == place);
        here.map(|parameter| parameter["name"].as_str().unwrap().to_owned()).collect()
    };
    let mut in_the_query = names("query");
    in_the_query.push("stranger".to_owned());
    let in_the_path: Vec<_> = names("path").into_iter().map(|name| (Just(name), argument(ids))).collect();
    let in_the_query: Vec<_> =
        in_the_query.into_iter().map(|name| (Just(name), prop::collection::vec(argument(ids), 0..3))).collect();
    (in_the_path, in_the_query).prop_map(move |(in_the_path, in_the_query)| {
        let asked =
            in_the_path.iter().fold(path.clone(), |asked, (name, with)| asked.replace(&format!("{{{name}}}"), with));
        let pairs = in_the_query.iter().flat_map(|(name, all)| all.iter().map(move |one| format!("{name}={one}")));
        (path.clone(), format!("{asked}?{}", pairs.collect::<Vec<_>>().join("&")))
    })
}

#[test]
fn whatever_is_asked_the_mirror_answers_as_its_description_promises() {
    let described = description();
    let validators = validators(&described);
    let runtime = tokio::runtime::Runtime::new().unwrap();
    let (workshop, ids) = runtime.block_on(workshop());
    let paths = described["paths"].as_object().unwrap().iter();
    let requests: Vec<_> = paths
        .map(|(path, operation)| {
            request(path.clone(), operation["get"]["parameters"].as_array().unwrap_or(&Vec::new()), &ids).boxed()
        })
        .collect();
    let any_request = select(requests).prop_flat_map(|request| request);
    let mut runner = TestRunner::new(Config { cases: 300, failure_persistence: None, ..Config::default() });
    let asked = runner.run(&any_request, |(path, asked)| {
        let answer = runtime.block_on(workshop.get(&asked));
        // An address of another shape is another page's, which refuses in HTML.
        let slashes = |text: &str| text.split('?').next().unwrap_or_default().matches('/').count();
        if slashes(&asked) != slashes(&path)
            || asked.split('?').next().is_some_and(|path| path.rsplit('.').next() != Some("json"))
        {
            prop_assert!(answer.status < 500, "{} {}", asked, answer.status);
            return Ok(());
        }
        let broken = broken(&described, &validators, &path, &answer);
        prop_assert!(broken.is_empty(), "{} {}: {:?}\n{}", asked, answer.status, broken, answer.body);
        Ok(())
    });
    if let Err(error) = asked {
        panic!("{error}");
    }
}

#[tokio::test]
async fn a_request_that_is_not_understood_is_refused_in_a_sentence_and_in_json() {
    let (workshop, build) = Workshop::with_sample().await;
    for (asked, status, says) in [
        ("/compare.json".to_owned(), 422, "missing field `a`"),
        ("/compare.json?a=&b=".to_owned(), 404, "no build"),
        (format!("{build}/carry.json"), 422, "missing field `onto`"),
        (format!("{build}/carry.json?onto=a&onto=b"), 422, "duplicate field `onto`"),
        (format!("{build}/carry.json?onto=nobody"), 404, "nobody"),
        ("/builds/%FF/plan.json".to_owned(), 404, "no such page"),
        (format!("/compare.json?a={}&b=&a_at=%7F", build.replace("/builds/", "")), 422, "“” is no day"),
        (format!("{build}/service.json?day=soon"), 422, "2027-06-01 was expected"),
    ] {
        let answer = workshop.get(&asked).await;
        let body: Value = serde_json::from_str(&answer.body).unwrap_or_else(|_| panic!("{asked}: {}", answer.body));
        assert_eq!((answer.status, body["form"].clone()), (status, json!(super::FORM)), "{asked}: {body}");
        assert!(body["says"].as_str().unwrap().contains(says), "{asked}: {body}");
    }
}
