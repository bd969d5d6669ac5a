//! What was typed, as the method's input; or what is wrong, at its field.

use calc::Message;
use methods::{MethodError, Why};
use serde_json::{Map, Value, json};

use super::allowed;
use super::input::{Input, Takes};
use crate::forms::number::parse_quantity;
use crate::forms::{FieldErrors, Typed, parse_count};

/// The input of a method. What was left empty is left out.
pub fn read(inputs: &[Input], typed: &Typed, errors: &mut FieldErrors) -> Value {
    let mut values = Map::new();
    for input in inputs {
        match typed.filled(input.key) {
            None if input.is_required => errors.add_for(input.key, &*input.label, missing(input)),
            None => {}
            Some(text) => {
                if let Some(value) = errors.keep(input.key, &*input.label, value(input, text)) {
                    values.insert(input.key.to_owned(), value);
                }
            }
        }
    }
    Value::Object(values)
}

fn value(input: &Input, text: &str) -> Result<Value, Message> {
    match &input.takes {
        Takes::NumberOrInfinity if ["inf", "∞"].contains(&text) => Ok(json!("inf")),
        Takes::Number { .. } | Takes::NumberOrInfinity => {
            parse_quantity(text, input.unit).map(|x| json!(x))
        }
        Takes::Count => parse_count(text).map(|n| json!(n)),
        Takes::Truth => Ok(json!(text == "true")),
        // The method says which words there are.
        Takes::Word(_) => Ok(json!(text)),
    }
}

fn missing(input: &Input) -> Message {
    match input.takes {
        Takes::Count => Message::new("count-missing"),
        Takes::Word(_) | Takes::Truth => Message::new("calculator-choose"),
        _ if input.unit.is_empty() => Message::new("quantity-missing"),
        _ => Message::new("number-missing").with("unit", input.unit),
    }
}

/// A refusal of the method, put to the field that it names.
pub fn refused(inputs: &[Input], error: &MethodError, errors: &mut FieldErrors) {
    let Some(input) = inputs.iter().find(|input| input.key == error.field) else {
        errors.add("", error.message());
        return;
    };
    let message = match &error.why {
        Why::Missing => missing(input),
        Why::NotAllowed { allowed } => match one_of(inputs, allowed) {
            Some(labels) => Message::new("calculator-one-of").with("fields", labels),
            None => Message::new("calculator-not-allowed")
                .with("allowed", allowed::in_words(allowed, input.unit)),
        },
        _ => error.message(),
    };
    errors.add_for(input.key, &*input.label, message);
}

/// The labels of the fields of which one is to be filled in, where `allowed` names fields.
fn one_of(inputs: &[Input], allowed: &str) -> Option<String> {
    let label = |key: &str| inputs.iter().find(|i| i.key == key).map(|i| &*i.label);
    let labels: Option<Vec<&str>> = allowed.split(" | ").map(label).collect();
    labels.map(|labels| labels.join(", "))
}
