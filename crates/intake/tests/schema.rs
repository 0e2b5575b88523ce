//! The schemas, held against documents by a validator that nobody here wrote, and against the files that editors read.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use jsonschema::Validator;
use serde_json::Value;
use std::path::{Path, PathBuf};
use witnessmark_core::build::sample::sample;
use witnessmark_core::catalogue::sample::invented;
use witnessmark_core::part::KINDS;
use witnessmark_intake::catalogue::write_toml;
use witnessmark_intake::schema::{build_schema, catalogue_schema};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn validator(schema: &Value) -> Validator {
    jsonschema::draft7::meta::validate(schema).unwrap();
    jsonschema::draft7::new(schema).unwrap()
}

/// A document as an editor shows it to the schema: days are texts.
fn as_json(text: &str) -> Value {
    fn of(value: toml::Value) -> Value {
        match value {
            toml::Value::String(text) => text.into(),
            toml::Value::Integer(number) => number.into(),
            toml::Value::Float(number) => number.into(),
            toml::Value::Boolean(yes) => yes.into(),
            toml::Value::Datetime(day) => day.to_string().into(),
            toml::Value::Array(items) => items.into_iter().map(of).collect(),
            toml::Value::Table(table) => {
                Value::Object(table.into_iter().map(|(key, value)| (key, of(value))).collect())
            }
        }
    }
    of(toml::Value::Table(text.parse().unwrap()))
}

fn slips(validator: &Validator, text: &str) -> Vec<String> {
    validator.iter_errors(&as_json(text)).map(|error| format!("{}: {error}", error.instance_path())).collect()
}

#[test]
fn the_schemas_that_editors_read_are_those_of_the_fields() {
    for (name, schema) in [("build", build_schema()), ("catalogue", catalogue_schema())] {
        let path = root().join(format!("docs/schema/{name}.json"));
        let text = format!("{schema}\n");
        if std::env::var_os("WITNESSMARK_WRITE").is_some() {
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(&path, &text).unwrap();
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(
            text == kept,
            "{} is stale: WITNESSMARK_WRITE=1 cargo test -p witnessmark-intake --test schema writes it again",
            path.display()
        );
    }
}

#[test]
fn every_document_of_the_demo_passes() {
    let validator = validator(&build_schema());
    let mut count = 0;
    for file in std::fs::read_dir(root().join("demo/builds")).unwrap() {
        let path = file.unwrap().path();
        let slips = slips(&validator, &std::fs::read_to_string(&path).unwrap());
        assert_eq!(slips, Vec::<String>::new(), "{}", path.display());
        count += 1;
    }
    assert!(count >= 4);
    assert_eq!(slips(&validator, &witnessmark_intake::write(&sample())), Vec::<String>::new());
}

#[test]
fn every_invented_part_passes() {
    let validator = validator(&catalogue_schema());
    let text = write_toml(&invented(KINDS.len() * 10));
    assert_eq!(slips(&validator, &text), Vec::<String>::new());
    let by_hand =
        "form = 1\n[stem.plain]\nlength = { value = \"11 cm\", from = \"assumed\" }\nangle = \"?\"\nstock = 3\n";
    assert_eq!(slips(&validator, by_hand), Vec::<String>::new());
}

#[test]
fn slips_of_keys_words_and_ranges_are_marked_where_the_reader_refuses_them_too() {
    let build = validator(&build_schema());
    for text in [
        "form = 99\n",
        "[setings]\nspacers_under = 3\n",
        "[settings]\nspacers_undr = 3\n",
        "[settings]\nspacers_under = 5000\n",
        "[settings]\nspacers_under = true\n",
        "[rider]\nfront_brake = \"middle\"\n",
        "[parts.frame]\nhead_angle = 900\n",
        "[parts.stem.left]\nlength = 110\n",
        "[parts.stem]\nlength = { value = 110, from = \"a friend\" }\n",
        "[parts.stem]\nlength = { from = \"assumed\" }\n",
        "[parts.spacer.\"Ten mm\"]\nheight = 10\n",
        "[asked.sadle-height]\nvalue = 700\n",
        "[asked.saddle-height.left]\nvalue = 700\n",
        "[measured.hood-x]\nvalue = 1\n",
        "[job]\nday = \"next friday\"\n",
        "[job]\ntitle = \"\"\n",
    ] {
        assert!(!slips(&build, text).is_empty(), "the schema takes {text}");
        let with_form = if text.starts_with("form") { text.to_owned() } else { format!("form = 1\n{text}") };
        let read = witnessmark_intake::document("b.toml", &with_form);
        // A table that has no value is the one thing the reader lets pass: it says nothing.
        assert!(read.is_err() || text.contains("{ from"), "the reader takes {text}");
    }
    let catalogue = validator(&catalogue_schema());
    for text in [
        "[stm.plain]\nlength = 110\n",
        "[stem.Plain]\nlength = 110\n",
        "[stem.plain]\nlength = 9000\n",
        "[stem.plain]\nserial = \"7\"\n",
        "[stem.plain]\nname = { value = \"Plain\", from = \"assumed\" }\n",
    ] {
        assert!(!slips(&catalogue, text).is_empty(), "the schema takes {text}");
        assert!(witnessmark_intake::catalogue::read_toml("c.toml", text).is_err(), "the reader takes {text}");
    }
}
