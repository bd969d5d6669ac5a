//! Tables of named values, and words from a list, each from one declaration.

use serde_json::{Map, Value, json};

use super::Shape;
use crate::error::{Kind, Why};
use crate::{MethodError, nearest};

/// Declares a table: a struct whose fields are the names in the JSON, units as they are written. A
/// field with `= value` may be left out. The comments are the descriptions in the schema.
macro_rules! contract {
    ($(#[doc = $about:literal])+ struct $name:ident {
        $($(#[doc = $doc:literal])+ $field:ident: $type:ty $(= $default:expr)?,)*
    }) => {
        $(#[doc = $about])+
        #[allow(non_snake_case, reason = "a name in the JSON carries its unit as it is written")]
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $($(#[doc = $doc])+ pub $field: $type,)*
        }

        impl $crate::shape::Shape for $name {
            const FIELDS: &'static [&'static str] = &[$(stringify!($field)),*];

            fn schema() -> serde_json::Value {
                let mut properties = $crate::shape::Properties::default();
                $(properties.add::<$type>(
                    stringify!($field),
                    concat!($($doc),+),
                    $crate::shape::contract!(@default $($default)?),
                );)*
                properties.schema(concat!($($about),+))
            }

            fn read(value: &serde_json::Value) -> Result<Self, $crate::MethodError> {
                let fields = $crate::shape::Fields::of(value, Self::FIELDS)?;
                Ok(Self {
                    $($field: fields.read(
                        stringify!($field),
                        $crate::shape::contract!(@default $($default)?),
                    )?,)*
                })
            }

            fn write(&self) -> serde_json::Value {
                let mut fields = serde_json::Map::new();
                $(fields.insert(
                    stringify!($field).to_owned(),
                    $crate::shape::Shape::write(&self.$field),
                );)*
                // What is not there is left out.
                fields.retain(|_, value| !value.is_null());
                serde_json::Value::Object(fields)
            }
        }
    };
    (@default) => { None };
    (@default $default:expr) => { Some($default) };
}
pub(crate) use contract;

/// Declares the words that stand for the values of an enum.
macro_rules! choices {
    ($(#[doc = $about:literal])+ enum $name:ident of $of:ty { $($word:literal => $value:expr,)* }) => {
        $(#[doc = $about])+
        #[derive(Clone, Copy, Debug, PartialEq)]
        pub struct $name(pub $of);

        impl $crate::shape::Shape for $name {
            fn schema() -> serde_json::Value {
                serde_json::json!({ "enum": [$($word),*] })
            }

            fn read(value: &serde_json::Value) -> Result<Self, $crate::MethodError> {
                match value.as_str() {
                    $(Some($word) => Ok(Self($value)),)*
                    _ => Err($crate::MethodError::new(
                        value,
                        $crate::Why::NotAllowed { allowed: [$($word),*].join(" | ") },
                    )),
                }
            }

            fn write(&self) -> serde_json::Value {
                let words = [$(($word, $value)),*];
                let word = words.iter().find(|(_, value)| *value == self.0);
                word.map_or(serde_json::Value::Null, |(word, _)| serde_json::json!(word))
            }
        }
    };
}
pub(crate) use choices;

/// The schema of a table in the making.
#[derive(Default)]
pub(crate) struct Properties {
    properties: Map<String, Value>,
    required: Vec<&'static str>,
}

impl Properties {
    pub(crate) fn add<T: Shape>(&mut self, name: &'static str, doc: &str, default: Option<T>) {
        let mut schema = T::schema();
        if let Some(fields) = schema.as_object_mut() {
            fields.insert("description".to_owned(), json!(doc.trim()));
            if let Some(default) = &default {
                fields.insert("default".to_owned(), default.write());
            }
        }
        if default.is_none() && T::when_absent().is_none() {
            self.required.push(name);
        }
        self.properties.insert(name.to_owned(), schema);
    }

    pub(crate) fn schema(self, about: &str) -> Value {
        json!({
            "type": "object",
            "description": about.trim(),
            "properties": self.properties,
            "required": self.required,
            "additionalProperties": false,
        })
    }
}

/// A table that is being read.
pub(crate) struct Fields<'a>(&'a Map<String, Value>);

impl<'a> Fields<'a> {
    /// The fields of `value`, none of them outside `known`.
    pub(crate) fn of(value: &'a Value, known: &[&'static str]) -> Result<Self, MethodError> {
        let Some(fields) = value.as_object() else {
            let needed = Kind::Table;
            return Err(MethodError::new(value, Why::Kind { needed }));
        };
        match fields
            .iter()
            .find(|(key, _)| !known.contains(&key.as_str()))
        {
            Some((key, value)) => {
                let nearest = nearest(key, known.iter().copied()).map(str::to_owned);
                Err(MethodError::at(key, value, Why::Unknown { nearest }))
            }
            None => Ok(Self(fields)),
        }
    }

    pub(crate) fn read<T: Shape>(&self, key: &str, default: Option<T>) -> Result<T, MethodError> {
        match self.0.get(key) {
            Some(value) => T::read(value).map_err(|e| e.under(key)),
            None => default
                .or_else(T::when_absent)
                .ok_or_else(|| MethodError::at(key, "", Why::Missing)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::{Positive, Share};

    contract! {
        /// A thing
        /// to try.
        struct Thing {
            /// How far.
            travel_mm: Positive,
            /// How sure.
            confidence: Share = Share(0.95),
            /// What it is called.
            name: Option<String>,
        }
    }

    choices! {
        /// A side.
        enum Side of bool { "left" => false, "right" => true, }
    }

    #[test]
    fn reads_and_writes_what_was_declared() {
        let thing = Thing::read(&json!({ "travel_mm": 5 })).expect("enough");
        assert_eq!(thing.confidence, Share(0.95));
        assert_eq!(
            thing.write(),
            json!({ "travel_mm": 5.0, "confidence": 0.95 })
        );
        assert_eq!(Side::read(&json!("right")), Ok(Side(true)));
        assert_eq!(Side(false).write(), json!("left"));
    }

    #[test]
    fn refuses_what_was_not() {
        let refused = |value: Value| Thing::read(&value).expect_err("refused");
        assert_eq!(refused(json!({})).why, Why::Missing);
        let unknown = refused(json!({ "travel_m": 5 }));
        let nearest = Some("travel_mm".to_owned());
        assert_eq!(unknown.why, Why::Unknown { nearest });
        assert_eq!(refused(json!({ "travel_mm": -5 })).field, "travel_mm");
        assert!(matches!(refused(json!([])).why, Why::Kind { .. }));
        let side = Side::read(&json!("up")).expect_err("no side");
        assert_eq!(side.allowed(), "left | right");
    }

    #[test]
    fn the_schema_says_the_same() {
        let schema = Thing::schema();
        assert_eq!(schema["description"], "A thing to try.");
        assert_eq!(schema["required"], json!(["travel_mm"]));
        assert_eq!(schema["properties"]["confidence"]["default"], 0.95);
        assert_eq!(schema["additionalProperties"], false);
        assert_eq!(Thing::FIELDS, ["travel_mm", "confidence", "name"]);
        assert_eq!(Side::schema(), json!({ "enum": ["left", "right"] }));
    }
}
