//! `calc`: every method of the registry at the prompt.

use std::io;

use calc::Message;
use methods::{MethodCard, MethodError, all, find, nearest_name};
use serde_json::{Value, json};
use words::Words;

use crate::args::CalcArgs;
use crate::failure::Failure;
use crate::print::{print_json, print_line, say, table, tell};

/// Lists the methods, shows one, or runs one.
pub fn run(args: CalcArgs) -> Result<(), Failure> {
    if args.method == "list" {
        return list(args.json.is_some());
    }
    let card = find(&args.method).ok_or_else(|| unknown(&args.method))?;
    if args.schema {
        return print_json(&card.schema());
    }
    match args.json.as_deref() {
        None | Some("") => {
            show(card);
            Ok(())
        }
        Some("-") => {
            let input = io::read_to_string(io::stdin());
            compute(card, &input.map_err(Failure::usage)?)
        }
        Some(input) => compute(card, input),
    }
}

fn unknown(name: &str) -> Failure {
    let message = match nearest_name(name) {
        Some(near) => Message::new("calc-no-method-nearest")
            .with("name", name)
            .with("nearest", near),
        None => Message::new("calc-no-method").with("name", name),
    };
    Failure::usage(say(&message))
}

fn list(as_json: bool) -> Result<(), Failure> {
    if as_json {
        let rows = all().iter().map(|card| {
            json!({
                "name": card.name, "version": card.version, "summary": say(&card.about()),
                "formula": card.formula, "source": card.source,
            })
        });
        return print_json(&rows.collect());
    }
    table(
        &["calc-method", "calc-what"],
        all()
            .iter()
            .map(|card| vec![card.name.to_owned(), say(&card.about())]),
    );
    Ok(())
}

/// What a person must know before running it: what it does, what goes in, what comes out.
fn show(card: &MethodCard) {
    let words = Words::english();
    tell(&card.about());
    print_line(card.formula);
    print_line(&format!("{}: {}", words.text("calc-source"), card.source));
    let (input, output) = ((card.input)(), (card.output)());
    let must = words.text("calc-required");
    print_line("");
    let rows = properties(&input).map(|(key, field)| {
        let required = input["required"].as_array();
        let required = required.is_some_and(|keys| keys.iter().any(|k| k == key));
        let default = match field.get("default") {
            Some(default) => format!("= {}", plain(default)),
            None if required => must.clone(),
            None => String::new(),
        };
        vec![format!("  {key}"), default, plain(&field["description"])]
    });
    table(&["calc-goes-in", "", ""], rows);
    print_line("");
    let rows = properties(&output)
        .map(|(key, field)| vec![format!("  {key}"), plain(&field["description"])]);
    table(&["calc-comes-out", ""], rows);
}

fn properties(schema: &Value) -> impl Iterator<Item = (&String, &Value)> {
    schema["properties"].as_object().into_iter().flatten()
}

fn plain(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

fn compute(card: &MethodCard, input: &str) -> Result<(), Failure> {
    let input: Value = serde_json::from_str(input).map_err(|e| {
        let message = Message::new("calc-not-json").with("problem", e.to_string());
        Failure::usage(say(&message))
    })?;
    match (card.run)(&input) {
        Ok(answer) => print_json(&answer.json(&say)),
        Err(error) => {
            print_json(&refusal_json(&error))?;
            Err(Failure::refused(say(&error.message())))
        }
    }
}

/// A refusal for programs: the field, its value, what is allowed, and the sentence.
fn refusal_json(error: &MethodError) -> Value {
    json!({
        "refused": {
            "field": error.field, "value": error.value, "allowed": error.allowed(),
            "message": say(&error.message()),
        }
    })
}
