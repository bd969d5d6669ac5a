//! Comparing what came out with what must come out, value by value.

use serde_json::{Map, Value};

use super::Tolerance;
use crate::MethodError;

/// One value: what it must be, what it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// Name of the value, inner ones with a point, a list's worst item in brackets.
    pub name: String,
    /// What it must be.
    pub expected: String,
    /// What it is; empty if it did not come out.
    pub computed: String,
    /// How near it must come, in signs.
    pub tolerance: String,
    /// Whether it comes near enough.
    pub holds: bool,
    /// Why nothing came out, if the method refused.
    pub refusal: Option<MethodError>,
}

/// Compares `computed` with each of the values in `expected`.
pub(super) fn compare(
    expected: &Map<String, Value>,
    computed: &Map<String, Value>,
    tolerance: &Tolerance,
) -> Vec<Compared> {
    let mut lines = Vec::new();
    for (name, value) in expected {
        walk(name, value, computed.get(name), tolerance, &mut lines);
    }
    lines
}

fn walk(
    path: &str,
    expected: &Value,
    computed: Option<&Value>,
    tolerance: &Tolerance,
    lines: &mut Vec<Compared>,
) {
    match (expected, computed) {
        (Value::Object(fields), Some(Value::Object(found))) => {
            for (name, value) in fields {
                let path = format!("{path}.{name}");
                walk(&path, value, found.get(name), tolerance, lines);
            }
        }
        (Value::Array(items), Some(Value::Array(found))) if items.len() == found.len() => {
            if items.iter().all(|item| number(item).is_some()) {
                lines.push(worst(path, items, found, tolerance));
            } else {
                for (i, (item, found)) in items.iter().zip(found).enumerate() {
                    walk(&format!("{path}[{i}]"), item, Some(found), tolerance, lines);
                }
            }
        }
        _ => lines.push(single(path, expected, computed, tolerance)),
    }
}

/// A list of numbers as one line: its item that is furthest off.
fn worst(path: &str, items: &[Value], found: &[Value], tolerance: &Tolerance) -> Compared {
    let near = tolerance.at(path);
    let strain = |(expected, computed): (&Value, &Value)| {
        match (number(expected), number(computed)) {
            (Some(e), Some(c)) => near.strain(e, c),
            // No number where one must be is further off than any.
            _ => f64::INFINITY,
        }
    };
    let strains = items.iter().zip(found).map(strain).enumerate();
    let furthest = strains.max_by(|a, b| a.1.total_cmp(&b.1));
    match furthest {
        Some((i, _)) => {
            let path = format!("{path}[{i}]");
            single(&path, &items[i], Some(&found[i]), tolerance)
        }
        None => single(
            path,
            &Value::Array(vec![]),
            Some(&Value::Array(vec![])),
            tolerance,
        ),
    }
}

fn single(
    path: &str,
    expected: &Value,
    computed: Option<&Value>,
    tolerance: &Tolerance,
) -> Compared {
    let near = tolerance.at(path);
    let numbers = number(expected).zip(computed.and_then(number));
    let holds = match numbers {
        Some((expected, computed)) => near.holds(expected, computed),
        None => computed == Some(expected),
    };
    Compared {
        name: path.to_owned(),
        expected: shown(expected),
        computed: computed.map(shown).unwrap_or_default(),
        tolerance: match number(expected) {
            Some(_) => near.signs(),
            None => "=".to_owned(),
        },
        holds,
        refusal: None,
    }
}

/// A number, also one written as infinity.
fn number(value: &Value) -> Option<f64> {
    match value {
        Value::Number(n) => n.as_f64(),
        Value::String(text) if text == "inf" => Some(f64::INFINITY),
        Value::String(text) if text == "-inf" => Some(f64::NEG_INFINITY),
        _ => None,
    }
}

fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn lines(expected: Value, computed: Value, abs: f64) -> Vec<Compared> {
        let map = |v: Value| v.as_object().expect("a table").clone();
        let tolerance = Tolerance {
            abs: Some(abs),
            ..Tolerance::default()
        };
        compare(&map(expected), &map(computed), &tolerance)
    }

    #[test]
    fn a_list_shows_its_worst() {
        let found = lines(
            json!({ "x": [1, 2, 3] }),
            json!({ "x": [1, 2.4, 3.1] }),
            0.2,
        );
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].name.as_str(), found[0].holds), ("x[1]", false));
        let found = lines(json!({ "x": [1, 2] }), json!({ "x": [1, "two"] }), 9.0);
        assert!(!found[0].holds);
    }

    #[test]
    fn lengths_names_and_kinds_must_fit() {
        assert!(!lines(json!({ "x": [1] }), json!({ "x": [1, 2] }), 9.0)[0].holds);
        assert!(!lines(json!({ "x": 1 }), json!({}), 9.0)[0].holds);
        assert!(!lines(json!({ "x": 1 }), json!({ "x": "1" }), 9.0)[0].holds);
        assert!(!lines(json!({ "x": true }), json!({ "x": 1 }), 9.0)[0].holds);
        assert!(!lines(json!({ "x": { "y": 1 } }), json!({ "x": { "z": 1 } }), 9.0)[0].holds);
        assert!(lines(json!({ "x": "inf" }), json!({ "x": "inf" }), 0.0)[0].holds);
    }

    #[test]
    fn values_that_nobody_asked_about_do_no_harm() {
        let found = lines(json!({ "x": 1 }), json!({ "x": 1.05, "y": 7 }), 0.1);
        assert_eq!(found.len(), 1);
        assert!(found[0].holds);
    }
}
