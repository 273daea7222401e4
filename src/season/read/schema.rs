//! The JSON Schema of the season file, made of the same list of fields that the reader uses.

use serde_json::{Map, Value as Json, json};

use super::table::{Section, Shape};
use super::value::{Headed, Listed, Names, One, Text, Value};

/// A kind of value that has a schema, whether or not it is read by itself.
pub trait Shaped {
    /// Its JSON Schema.
    fn shape() -> Json;
}

impl<T: Value> Shaped for T {
    fn shape() -> Json {
        T::schema()
    }
}

impl Shaped for Text {
    fn shape() -> Json {
        json!({ "type": "string", "minLength": 1 })
    }
}

impl Shaped for Names {
    fn shape() -> Json {
        json!({ "anyOf": [
            { "type": "string", "minLength": 1 },
            { "type": "array", "items": { "type": "string", "minLength": 1 } },
        ] })
    }
}

impl<S: Section> Shaped for One<S> {
    fn shape() -> Json {
        of_table(S::SHAPE)
    }
}

impl<S: Section> Shaped for Headed<S> {
    fn shape() -> Json {
        json!({ "type": "array", "items": of_table(S::SHAPE) })
    }
}

impl<S: Section> Shaped for Listed<S> {
    fn shape() -> Json {
        let table = of_table(S::SHAPE);
        json!({ "anyOf": [table, { "type": "array", "items": table }] })
    }
}

fn of_table(shape: &Shape) -> Json {
    let mut properties = Map::new();
    for field in shape.all() {
        let mut schema = (field.schema)();
        schema["description"] = json!(field.about);
        let quoted = field.example.strip_prefix('"').and_then(|rest| rest.strip_suffix('"'));
        if let Some(example) = quoted.filter(|_| schema["type"] == "string") {
            schema["examples"] = json!([example]);
        }
        properties.insert(field.name.to_owned(), schema);
    }
    let always: Vec<&str> =
        shape.all().filter(|field| field.always).map(|field| field.name).collect();
    json!({
        "type": "object",
        "additionalProperties": false,
        "required": always,
        "properties": properties,
    })
}

/// Writes the JSON Schema (draft 2020-12) of the season file.
pub fn schema() -> String {
    let mut schema = of_table(super::fields::file::Here::SHAPE);
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["title"] = json!("season file of topdress");
    format!("{schema:#}\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_schema_has_every_field_and_what_must_be_there() {
        let schema: Json = serde_json::from_str(&schema()).expect("JSON");
        let bed = &schema["properties"]["bed"]["items"];
        assert_eq!(bed["required"], json!(["name"]));
        let planting = &bed["properties"]["planting"]["items"];
        assert_eq!(planting["properties"]["planted"]["format"], "date");
        assert_eq!(planting["additionalProperties"], json!(false));
        assert_eq!(
            schema["properties"]["garden"]["properties"]["units"]["enum"],
            json!(["us", "metric"])
        );
        let amend = &bed["properties"]["amend"]["items"]["properties"];
        assert!(amend["analysis"].is_object() && amend["worked_in"].is_object());
    }
}
