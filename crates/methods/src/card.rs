//! A method as the registry knows it.

use calc::Message;
use calc::working::{Method, Working};
use serde_json::{Map, Value, json};

use crate::MethodError;
use crate::shape::Shape;

/// A method: what it is, what goes in and comes out, how it is run.
pub struct MethodCard {
    /// Stable name, kebab-case.
    pub name: &'static str,
    /// Rises when results can change.
    pub version: u32,
    /// Name of the text that says what it does.
    pub summary: &'static str,
    /// The formula in signs.
    pub formula: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// Names of what goes in, as declared.
    pub inputs: &'static [&'static str],
    /// Names of what comes out, as declared.
    pub outputs: &'static [&'static str],
    /// Of what comes out, what answers the question: the first that was not given.
    pub answers: &'static [&'static str],
    /// JSON Schema of what goes in.
    pub input: fn() -> Value,
    /// JSON Schema of what comes out, without the frame that [`Answer::json`] adds.
    pub output: fn() -> Value,
    /// Runs it on an input.
    pub run: fn(&Value) -> Result<Answer, MethodError>,
}

/// What a method found.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// The method that found it.
    pub method: Method,
    /// The values, by the names of the output schema.
    pub values: Map<String, Value>,
    /// How it was reckoned, where the method shows that.
    pub working: Option<Working>,
}

/// How a calculation meets its JSON: one type for each method.
pub(crate) trait Contract {
    /// Name, version, source.
    const METHOD: Method;
    /// Name of the text that says what it does.
    const SUMMARY: &'static str;
    /// The formula in signs.
    const FORMULA: &'static str;
    /// Symbols of the formula with the fields that they stand for, so that a refusal names the field.
    const NAMES: &'static [(&'static str, &'static str)] = &[];
    /// Of what comes out, what answers the question: the first that was not given. All, if empty.
    const ANSWERS: &'static [&'static str] = &[];
    /// What goes in.
    type In: Shape;
    /// What comes out.
    type Out: Shape;

    /// Reckons.
    fn compute(input: &Self::In) -> Result<(Self::Out, Option<Working>), MethodError>;
}

impl MethodCard {
    /// The card of a contract.
    pub(crate) const fn of<C: Contract>() -> Self {
        Self {
            name: C::METHOD.name,
            version: C::METHOD.version,
            summary: C::SUMMARY,
            formula: C::FORMULA,
            source: C::METHOD.source,
            inputs: C::In::FIELDS,
            outputs: C::Out::FIELDS,
            answers: if C::ANSWERS.is_empty() {
                C::Out::FIELDS
            } else {
                C::ANSWERS
            },
            input: C::In::schema,
            output: C::Out::schema,
            run: run::<C>,
        }
    }

    /// What the method does, in a sentence.
    pub fn about(&self) -> Message {
        Message::new(self.summary)
    }

    /// Input and output as one JSON Schema document (draft 2020-12).
    pub fn schema(&self) -> Value {
        json!({
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "title": self.name,
            "version": self.version,
            "formula": self.formula,
            "source": self.source,
            "$defs": { "input": (self.input)(), "output": (self.output)() },
            "$ref": "#/$defs/input",
        })
    }
}

fn run<C: Contract>(input: &Value) -> Result<Answer, MethodError> {
    let input = C::In::read(input)?;
    let (out, working) = C::compute(&input).map_err(|e| e.renamed(C::NAMES))?;
    let values = match out.write() {
        Value::Object(values) => values,
        other => Map::from_iter([("value".to_owned(), other)]),
    };
    Ok(Answer {
        method: C::METHOD,
        values,
        working,
    })
}

impl Answer {
    /// The answer as JSON: the values, then `method`, `version` and, where there is one, `working`.
    /// `say` puts the texts of the working into a language.
    pub fn json(&self, say: &dyn Fn(&Message) -> String) -> Value {
        let mut json = self.values.clone();
        json.insert("method".to_owned(), json!(self.method.name));
        json.insert("version".to_owned(), json!(self.method.version));
        if let Some(working) = &self.working {
            json.insert("working".to_owned(), working_json(working, say));
        }
        Value::Object(json)
    }
}

fn working_json(working: &Working, say: &dyn Fn(&Message) -> String) -> Value {
    let given = |g: &calc::working::Given| {
        let mut given = json!({
            "symbol": g.symbol, "what": say(&g.what), "value": g.value, "unit": g.unit,
        });
        if let Some(from) = &g.from {
            given["from"] = json!(say(from));
        }
        given
    };
    let step = |s: &calc::working::Step| {
        json!({
            "symbol": s.symbol, "formula": s.formula, "filled": s.filled, "value": s.value,
            "unit": s.unit,
        })
    };
    json!({
        "source": working.method.source,
        "given": working.given.iter().map(given).collect::<Vec<_>>(),
        "steps": working.steps.iter().map(step).collect::<Vec<_>>(),
        "notes": working.notes.iter().map(say).collect::<Vec<_>>(),
    })
}
