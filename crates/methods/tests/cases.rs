//! Every method against the values from outside in `checks/`, and every input that a method may get.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use methods::checks::{Case, Kind, Verdict, read, run};
use methods::{Why, all, find};
use proptest::prelude::*;
use serde_json::{Map, Value, json};

fn folder() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../checks")
}

/// All cases, by file name without its end.
fn cases() -> Vec<(String, Vec<Case>)> {
    let text_of = |name: &str| fs::read_to_string(folder().join(name)).ok();
    let mut files: Vec<_> = fs::read_dir(folder())
        .expect("checks folder")
        .map(|entry| entry.expect("entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    files
        .iter()
        .map(|path| {
            let stem = path.file_stem().expect("name").to_string_lossy();
            let text = fs::read_to_string(path).expect("text");
            let cases = read(&stem, &text, &text_of).unwrap_or_else(|e| panic!("{e}"));
            (stem.into_owned(), cases)
        })
        .collect()
}

#[test]
fn every_available_case_passes() {
    let mut passed = 0;
    let mut faults = Vec::new();
    for (_, cases) in cases() {
        for case in &cases {
            let outcome = run(case);
            passed += usize::from(outcome.verdict == Verdict::Pass);
            for line in outcome.compared.iter().filter(|line| !line.holds) {
                faults.push(format!("{} {}: {line:?}", case.method, case.id));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(passed >= 60, "{passed} cases passed");
}

#[test]
fn a_file_holds_the_cases_of_the_method_that_it_is_named_after() {
    for (file, cases) in cases() {
        for case in cases {
            assert_eq!(file, case.method, "{}", case.id);
        }
    }
}

#[test]
fn every_method_has_a_case() {
    let held: BTreeSet<String> = cases().into_iter().map(|(file, _)| file).collect();
    for card in all() {
        assert!(held.contains(card.name), "{}: no case", card.name);
    }
}

/// A wrong value in any case that passes is found: no comparison is left out.
#[test]
fn every_expected_number_matters() {
    for (_, cases) in cases() {
        for case in cases.iter().filter(|case| find(&case.method).is_some()) {
            for (i, run_) in case.runs.iter().enumerate() {
                let methods::checks::Expected::Values(values) = &run_.expected else {
                    continue;
                };
                for key in values.keys() {
                    let mut spoilt = case.clone();
                    let mut wrong = values.clone();
                    spoil(&mut wrong[key]);
                    spoilt.runs[i].expected = methods::checks::Expected::Values(wrong);
                    let verdict = run(&spoilt).verdict;
                    assert_eq!(verdict, Verdict::Fail, "{} {} {key}", case.method, case.id);
                }
            }
        }
    }
}

/// Makes a value wrong beyond any tolerance.
fn spoil(value: &mut Value) {
    match value {
        Value::Number(n) => {
            let x = n.as_f64().unwrap_or(0.0);
            *value = json!(x * 1.3 + 1e3);
        }
        Value::Bool(b) => *value = json!(!*b),
        Value::String(text) => *value = json!(format!("{text}?")),
        Value::Array(items) => items.iter_mut().for_each(spoil),
        Value::Object(fields) => fields.values_mut().for_each(spoil),
        Value::Null => *value = json!(1),
    }
}

#[test]
fn memory_says_so_in_how_it_was_checked() {
    for (_, cases) in cases() {
        for case in cases.iter().filter(|case| case.kind == Kind::Memory) {
            let told = ["recalled", "transcription"];
            let told = told.iter().any(|word| case.how_checked.contains(word));
            assert!(told, "{} {}", case.method, case.id);
        }
    }
}

#[test]
fn a_source_from_memory_is_called_memory() {
    for (_, cases) in cases() {
        for case in cases.iter().filter(|c| c.source.contains("from memory")) {
            assert_eq!(case.kind, Kind::Memory, "{} {}", case.method, case.id);
        }
    }
}

#[test]
fn the_schema_says_what_goes_in() {
    for card in all() {
        let schema = (card.input)();
        let properties = schema["properties"].as_object().expect("properties");
        for (key, property) in properties {
            let told = property["description"]
                .as_str()
                .is_some_and(|d| d.len() > 3);
            assert!(told, "{} {key}: no description", card.name);
        }
        // Without anything, a field that the schema calls required is missing.
        let required = schema["required"].as_array().expect("required");
        assert!(!required.is_empty(), "{}", card.name);
        let error = (card.run)(&json!({})).expect_err("nothing given");
        assert_eq!(error.why, Why::Missing, "{}: {error:?}", card.name);
        // A key that is not in the schema is refused by its name, with the nearest that is.
        let (first, _) = properties.iter().next().expect("a field");
        let wrong = format!("{first}x");
        let error = (card.run)(&json!({ wrong.clone(): 1 })).expect_err("unknown key");
        assert_eq!(error.field, wrong);
        let nearest = Some(first.clone());
        assert_eq!(error.why, Why::Unknown { nearest }, "{}", card.name);
    }
}

/// What a case puts in and what comes out is in the schemas, at every depth.
#[test]
fn the_schema_covers_every_key_of_every_case() {
    for (_, cases) in cases() {
        for case in &cases {
            let Some(card) = find(&case.method) else {
                continue;
            };
            for one in &case.runs {
                covered(&one.inputs, &(card.input)(), card.name);
                if let Ok(answer) = (card.run)(&one.inputs) {
                    covered(&Value::Object(answer.values), &(card.output)(), card.name);
                }
            }
        }
    }
}

fn covered(value: &Value, schema: &Value, path: &str) {
    match value {
        Value::Object(fields) => {
            for (key, value) in fields {
                let inner = schema["properties"].get(key);
                let inner = inner.or_else(|| schema.get("additionalProperties"));
                let inner = inner.filter(|s| s.is_object());
                let inner = inner.unwrap_or_else(|| panic!("{path}.{key}: not in the schema"));
                covered(value, inner, &format!("{path}.{key}"));
            }
        }
        Value::Array(items) => {
            for item in items {
                covered(item, &schema["items"], path);
            }
        }
        Value::Number(_) => {
            let kind = &schema["type"];
            let fits = kind == "number" || kind == "integer" || schema.get("anyOf").is_some();
            assert!(fits, "{path}: a number, but {schema}");
        }
        Value::String(word) => {
            let listed = schema["enum"].as_array();
            let fits = listed.is_some_and(|words| words.contains(value))
                || schema["type"] == "string"
                || word == "inf";
            assert!(fits, "{path}: {word}, but {schema}");
        }
        Value::Bool(_) => assert_eq!(schema["type"], "boolean", "{path}"),
        Value::Null => panic!("{path}: null"),
    }
}

#[test]
fn an_answer_carries_its_method_and_its_working() {
    let card = find("torque-adapter").expect("there");
    let input = json!({ "torque_Nm": 30, "wrench_mm": 10, "adapter_mm": 1.5 });
    let answer = (card.run)(&input).expect("good input");
    let json = answer.json(&|message| message.id.to_owned());
    assert_eq!(json["method"], "torque-adapter");
    assert_eq!(json["version"], 1);
    assert_eq!(json["working"]["steps"][0]["value"], "26.09");
    assert_eq!(json["working"]["given"][0]["what"], "given-torque");
}

/// Any JSON, with numbers that calculations stumble over.
fn any_value() -> impl Strategy<Value = Value> {
    let number = prop_oneof![
        Just(0.0),
        Just(-1.0),
        Just(1.0),
        Just(1e308),
        Just(-1e308),
        Just(5e-324),
        Just(1.0 - f64::EPSILON),
        -1e3..1e3f64,
        0.0..1.0f64,
    ];
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        number.prop_map(|x| json!(x)),
        (0u64..30).prop_map(Value::from),
        prop_oneof![Just("inf"), Just("mm"), Just("a"), Just("right"), Just("")]
            .prop_map(Value::from),
    ];
    leaf.prop_recursive(3, 24, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::btree_map("[a-c]", inner, 0..4)
                .prop_map(|fields| Value::Object(fields.into_iter().collect())),
        ]
    })
}

/// A value that the schema lets in, mostly.
fn fitting(schema: &Value, seed: &mut dyn FnMut() -> f64) -> Value {
    const NUMBERS: [f64; 8] = [0.0, 1.0, 0.5, 3.0, 1e-300, 1e300, 45.0, 1.0 - f64::EPSILON];
    let mut pick = |n: usize| (seed() * n as f64) as usize;
    if let Some(words) = schema["enum"].as_array() {
        return words[pick(words.len())].clone();
    }
    if let Some(ways) = schema["anyOf"].as_array() {
        return match pick(4) {
            0 => ways[1]["const"].clone(),
            _ => json!(NUMBERS[pick(NUMBERS.len())]),
        };
    }
    match schema["type"].as_str() {
        Some("number") => json!(NUMBERS[pick(NUMBERS.len())]),
        Some("integer") => json!([0, 1, 2, 7, 100, u64::MAX][pick(6)]),
        Some("boolean") => json!(pick(2) == 0),
        Some("string") => json!(["mm", "N·m", "a", "b", "kN"][pick(5)]),
        Some("array") => {
            let least = schema["minItems"].as_u64().unwrap_or(0);
            let n = if least == 0 { pick(5) as u64 } else { least };
            (0..n).map(|_| fitting(&schema["items"], seed)).collect()
        }
        _ => {
            let mut fields = Map::new();
            if let Some(properties) = schema["properties"].as_object() {
                for (key, property) in properties {
                    if seed() < 0.8 {
                        fields.insert(key.clone(), fitting(property, seed));
                    }
                }
            } else {
                for key in ["a", "b"] {
                    fields.insert(
                        key.to_owned(),
                        fitting(&schema["additionalProperties"], seed),
                    );
                }
            }
            Value::Object(fields)
        }
    }
}

fn no_nan(value: &Value) -> bool {
    match value {
        Value::Null => false,
        Value::Array(items) => items.iter().all(no_nan),
        Value::Object(fields) => fields.values().all(no_nan),
        _ => true,
    }
}

proptest! {
    #[test]
    fn no_json_makes_a_method_panic(value in any_value(), place in 0usize..40) {
        for card in all() {
            (card.run)(&value).ok();
            // The same under one of its own keys.
            let schema = (card.input)();
            let keys: Vec<&String> = schema["properties"].as_object().expect("properties").keys().collect();
            let key = keys[place % keys.len()].clone();
            (card.run)(&json!({ key: value.clone() })).ok();
        }
    }

    #[test]
    fn what_the_schema_lets_in_gives_numbers_or_a_refusal(draws in prop::collection::vec(0.0..1.0f64, 60)) {
        for card in all() {
            let mut i = 0;
            let mut seed = || { i += 1; draws[i % draws.len()] };
            let input = fitting(&(card.input)(), &mut seed);
            if let Ok(answer) = (card.run)(&input) {
                let values = Value::Object(answer.values);
                prop_assert!(no_nan(&values), "{}: {input} gives {values}", card.name);
            }
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in ".{0,200}") {
        read("any.toml", &text, &|_| None).ok();
        let framed = format!("method = \"torque-adapter\"\n[[case]]\n{text}");
        read("any.toml", &framed, &|_| None).ok();
    }
}
