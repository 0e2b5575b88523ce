//! JSON Schema of the files that come in, so that an editor completes keys, knows words and ranges, and marks slips while
//! they are typed.
//!
//! Both schemas are made from the fields themselves, and from how paths lead to them: a field is never listed here. They say
//! a little less than the reader does: a text such as `3.5 cm` is a text to them, since no schema knows units.

use crate::field::LONGEST_TEXT;
use serde_json::{Map, Value, json};
use witnessmark_core::Build;
use witnessmark_core::build::{FORM, SECTIONS};
use witnessmark_core::catalogue::{Column, column, columns};
use witnessmark_core::field::{Choice, Field, Kind, Origin};
use witnessmark_core::number::Side;
use witnessmark_core::part::{KINDS, LONGEST_NAME};

/// The dialect that editors of TOML know.
const DIALECT: &str = "http://json-schema.org/draft-07/schema#";

/// The schema of a build document.
pub fn build_schema() -> Value {
    let mut shared = common();
    let mut properties = Map::new();
    properties.insert("form".into(), form());
    for section in SECTIONS {
        let mut table = table_at(section.key, &mut shared);
        describe(&mut table, section.says);
        properties.insert(section.key.into(), table);
    }
    json!({
        "$schema": DIALECT,
        "title": "A build document",
        "type": "object",
        "properties": properties,
        "additionalProperties": false,
        "definitions": shared,
    })
}

/// The schema of a catalogue in TOML.
pub fn catalogue_schema() -> Value {
    let mut properties = Map::new();
    properties.insert("form".into(), form());
    for kind in KINDS {
        let mut facts = Map::new();
        for there in columns(kind) {
            let key = there.key(kind);
            let has_origin = matches!(there, Column::Fact(_)) && column(kind, &format!("{key}.from")).is_some();
            let mut fact = value(&there.field(kind), has_origin);
            if let Some(ways) = fact.get_mut("anyOf").and_then(Value::as_array_mut) {
                ways.push(json!({ "const": crate::catalogue::NOT_KNOWN }));
            }
            facts.insert(key, fact);
        }
        let part = json!({ "type": "object", "properties": facts, "additionalProperties": false });
        properties.insert(kind.key.into(), of_own_names(&part));
    }
    json!({
        "$schema": DIALECT,
        "title": "Parts of a catalogue",
        "type": "object",
        "properties": properties,
        "additionalProperties": false,
        "definitions": common(),
    })
}

/// What stands in nearly every field, said once.
fn common() -> Map<String, Value> {
    let mut shared = Map::new();
    shared.insert(TEXT.into(), json!({ "type": "string", "minLength": 1, "maxLength": LONGEST_TEXT }));
    shared.insert(ORIGIN.into(), json!({ "enum": Origin::NAMES }));
    shared
}

/// The names of what is said once; no kind of part and no number is called so.
const TEXT: &str = "any-text";
const ORIGIN: &str = "any-origin";

fn refer(name: &str) -> Value {
    json!({ "$ref": format!("#/definitions/{name}") })
}

fn form() -> Value {
    json!({ "description": "The version of the file's form.", "type": "integer", "minimum": 1, "maximum": FORM })
}

/// What may stand at a path of a build document. Tables that stand in several places are shared.
fn at(path: &str, shared: &mut Map<String, Value>) -> Value {
    match Build::field(path) {
        Ok(field) => value(&field, Build::field(&format!("{path}.from")).is_ok()),
        Err(_) => table_at(path, shared),
    }
}

fn table_at(path: &str, shared: &mut Map<String, Value>) -> Value {
    let keys: Vec<&str> = path.split('.').collect();
    let name = match keys[..] {
        // Parts of a kind are alike wherever they stand, and so are the sides of a number.
        ["parts", kind] if is_record(path) => Some(kind.to_owned()),
        ["parts" | "shelf", kind, _] => Some(kind.to_owned()),
        ["asked" | "measured", id] if is_record(path) => Some(format!("{}-{id}", keys[0])),
        ["measured", id, _] => Some(format!("measured-{id}")),
        _ => None,
    };
    let Some(name) = name else { return plain_table(path, shared) };
    if !shared.contains_key(&name) {
        let table = plain_table(path, shared);
        shared.insert(name.clone(), table);
    }
    refer(&name)
}

/// Whether fields stand right below a path.
fn is_record(path: &str) -> bool {
    below(path).iter().any(|key| Build::field(&format!("{path}.{key}")).is_ok())
}

/// What may stand below a path: asked of the paths themselves, by a key that is none.
fn below(path: &str) -> Vec<String> {
    Build::field(&format!("{path}.")).err().map(|unknown| unknown.candidates).unwrap_or_default()
}

fn plain_table(path: &str, shared: &mut Map<String, Value>) -> Value {
    let keys = below(path);
    // A key with a space in it is no key but a description: the person's own name goes there.
    if keys.iter().any(|key| key.contains(' ')) {
        return of_own_names(&at(&format!("{path}.x"), shared));
    }
    let mut properties = Map::new();
    for key in &keys {
        properties.insert(key.clone(), at(&format!("{path}.{key}"), shared));
    }
    // What is asked of both sides at once may be asked of each.
    for side in [Side::Left, Side::Right, Side::Front, Side::Rear] {
        let inside = format!("{path}.{}", side.word());
        if !properties.contains_key(side.word()) && Build::field(&format!("{inside}.value")).is_ok() {
            properties.insert(side.word().into(), plain_table(&inside, shared));
        }
    }
    json!({ "type": "object", "properties": properties, "additionalProperties": false })
}

fn of_own_names(table: &Value) -> Value {
    let mut names = Map::new();
    names.insert(format!("^[a-z0-9-]{{1,{LONGEST_NAME}}}$"), table.clone());
    json!({ "type": "object", "patternProperties": names, "additionalProperties": false })
}

/// What may stand in a field.
fn value(field: &Field, has_origin: bool) -> Value {
    let mut ways = ways(field);
    if has_origin {
        let value = json!({ "anyOf": ways });
        let properties = json!({ "value": value, "from": refer(ORIGIN) });
        ways.push(json!({
            "type": "object",
            "properties": properties,
            "required": ["value"],
            "additionalProperties": false,
        }));
    }
    let mut schema = json!({ "anyOf": ways });
    let unit = field.kind.unit();
    let unit = if unit.is_empty() { String::new() } else { format!(" In {unit} where no unit is typed.") };
    describe(&mut schema, &format!("{}{unit}", field.says));
    schema
}

fn ways(field: &Field) -> Vec<Value> {
    let text = refer(TEXT);
    let number = |kind: &str| {
        let mut number = json!({ "type": kind });
        if field.low.is_finite() {
            number["minimum"] = field.low.into();
        }
        if field.high.is_finite() {
            number["maximum"] = field.high.into();
        }
        number
    };
    match field.kind {
        Kind::Count => vec![number("integer"), text],
        Kind::Counts => vec![json!({ "type": "array", "items": number("integer") }), number("integer"), text],
        Kind::Lengths | Kind::Angles => {
            // A list of texts is one too: ["0", "1 cm"].
            let item = json!({ "anyOf": [number("number"), text] });
            vec![json!({ "type": "array", "items": item }), number("number"), text]
        }
        Kind::Day => vec![json!({ "type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$" })],
        Kind::YesNo => vec![json!({ "type": "boolean" }), json!({ "enum": ["yes", "no"] })],
        // A size or a serial may be typed bare: 56.
        Kind::Text => vec![text, json!({ "type": "number" })],
        Kind::Choice(words) => vec![json!({ "enum": words })],
        _ => vec![number("number"), text],
    }
}

fn describe(schema: &mut Value, says: &str) {
    if let Some(table) = schema.as_object_mut() {
        table.insert("description".into(), says.into());
    }
}
