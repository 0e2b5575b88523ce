//! The description of the mirror for programs, as `OpenAPI` 3.1: made from the table of addresses and from the types of the
//! answers, so that there is no second list to forget.

use super::ask::RefusedJson;
use super::{ANSWERS, FORM};
use schemars::generate::{SchemaGenerator, SchemaSettings};
use schemars::{JsonSchema, Schema};
use serde_json::{Map, Value, json};

/// An address that is answered in JSON.
pub(super) struct Answering {
    /// The address: `/builds/{id}/plan.json`.
    pub(super) path: &'static str,
    /// What is answered, in a sentence.
    pub(super) says: &'static str,
    /// The schema of the answer.
    pub(super) answer: fn(&mut SchemaGenerator) -> Schema,
    /// The schema of what stands behind the question mark.
    pub(super) asks: fn(&mut SchemaGenerator) -> Schema,
}

/// Nothing stands behind the question mark.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "it is a shape and never a value")]
pub(super) struct Nothing {}

/// The schema of a type, as a reference to the components.
pub(super) fn of<T: JsonSchema>(schemas: &mut SchemaGenerator) -> Schema {
    schemas.subschema_for::<T>()
}

/// A type spelled out in its place.
pub(super) fn spelled_out<T: JsonSchema>(schemas: &mut SchemaGenerator) -> Schema {
    T::json_schema(schemas)
}

/// The description of the mirror.
///
/// ```
/// let described = witnessmark_web::api::description();
/// assert_eq!(described["openapi"], "3.1.0");
/// assert!(described["paths"]["/builds/{id}/plan.json"]["get"]["responses"]["200"].is_object());
/// ```
pub fn description() -> Value {
    let settings = SchemaSettings::draft2020_12().for_serialize().with(|settings| {
        settings.definitions_path = "/components/schemas".into();
        settings.meta_schema = None;
    });
    let mut schemas = settings.into_generator();
    let refused = of::<RefusedJson>(&mut schemas);
    let mut paths = Map::new();
    for one in ANSWERS {
        paths.insert(one.path.into(), described(one, &refused, &mut schemas));
    }
    json!({
        "openapi": "3.1.0",
        "info": {
            "title": "Witness Mark: the JSON mirror",
            "version": FORM.to_string(),
            "description": "What the pages show, as plain data, to be read only. A field keeps its name and its meaning; new ones \
                may be added. Lengths are in mm, angles in degrees, masses in g, torques in N·m, pressures in kPa; null is not \
                known. Where the program wants to know who asks, whoever has not signed in is refused with a page.",
        },
        "paths": paths,
        "components": { "schemas": schemas.take_definitions(true) },
    })
}

fn described(one: &Answering, refused: &Schema, schemas: &mut SchemaGenerator) -> Value {
    let as_json = |says: &str, schema: &Schema| json!({ "description": says, "content": { "application/json": { "schema": schema } } });
    let in_the_path = one.path.split('/').filter_map(|piece| piece.strip_prefix('{')?.strip_suffix('}'));
    let mut parameters: Vec<Value> = in_the_path
        .map(|name| {
            let schema = json!({ "type": "string" });
            json!({ "name": name, "in": "path", "required": true, "schema": schema, "description": "The name of a build." })
        })
        .collect();
    // What is asked is read, not written: what may be left out there is not required.
    let mut asking = SchemaSettings::draft2020_12().into_generator();
    parameters.extend(in_the_query(&(one.asks)(&mut asking)));
    let mut responses = Map::new();
    responses.insert("200".into(), as_json(one.says, &(one.answer)(schemas)));
    if !parameters.is_empty() {
        responses.insert("404".into(), as_json("There is no such build.", refused));
        responses.insert("422".into(), as_json("What was asked is not enough to act on.", refused));
    }
    responses.insert("default".into(), as_json("The workshop's data cannot be reached.", refused));
    json!({ "get": { "summary": one.says, "parameters": parameters, "responses": responses } })
}

/// The fields of a type, as parameters behind the question mark.
fn in_the_query(asks: &Schema) -> Vec<Value> {
    let Some(properties) = asks.get("properties").and_then(Value::as_object) else { return Vec::new() };
    let required = asks.get("required").and_then(Value::as_array);
    let parameter = |(name, schema): (&String, &Value)| {
        let mut schema = schema.clone();
        let says = schema.as_object_mut().and_then(|schema| schema.remove("description"));
        let needed = required.is_some_and(|names| names.iter().any(|needed| needed == name));
        json!({ "name": name, "in": "query", "required": needed, "schema": schema, "description": says })
    };
    properties.iter().map(parameter).collect()
}

#[cfg(test)]
mod tests;
