//! What a calculator asks for, from the method's contract.

use methods::MethodCard;
use serde_json::Value;

use super::unit;

/// One field of the form.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// Its name in the contract, and in the form.
    pub key: &'static str,
    /// What it is.
    pub label: String,
    /// What else there is to know.
    pub hint: Option<String>,
    /// Symbol of its unit; empty without one.
    pub unit: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What stands there before anything is typed; empty for nothing.
    pub default: String,
    /// Whether it must be filled in.
    pub is_required: bool,
}

/// What a field takes.
#[derive(Clone, Debug, PartialEq)]
pub enum Takes {
    /// A number, which can be below zero if `signed`.
    Number {
        /// Whether it can be below zero.
        is_signed: bool,
    },
    /// A number or infinity, which is written `inf`.
    NumberOrInfinity,
    /// A whole number.
    Count,
    /// Yes or no.
    Truth,
    /// One of these words.
    Word(Vec<String>),
}

/// The fields of `card`, in the order of its contract; `None` if it asks for a list or a table, which a
/// plain form cannot take.
pub fn of_card(card: &MethodCard) -> Option<Vec<Input>> {
    let schema = (card.input)();
    let required = schema["required"].as_array();
    let is_required = |key: &str| required.is_some_and(|keys| keys.iter().any(|k| k == key));
    let mut inputs = Vec::new();
    for key in card.inputs {
        let property = &schema["properties"][*key];
        let Some(takes) = takes(property) else {
            if is_required(key) {
                return None;
            }
            continue;
        };
        let (label, hint) = label_and_hint(property["description"].as_str().unwrap_or(key));
        inputs.push(Input {
            key,
            label,
            hint,
            unit: unit::of_name(key),
            takes,
            default: default(&property["default"]),
            is_required: is_required(key),
        });
    }
    Some(inputs)
}

fn takes(property: &Value) -> Option<Takes> {
    let words = |list: &Value| -> Option<Vec<String>> {
        let items = list.as_array()?.iter();
        Some(
            items
                .filter_map(|w| w.as_str().map(str::to_owned))
                .collect(),
        )
    };
    if let Some(words) = words(&property["enum"]).or_else(|| words(&property["examples"])) {
        return Some(Takes::Word(words));
    }
    if property.get("anyOf").is_some() {
        return Some(Takes::NumberOrInfinity);
    }
    match property["type"].as_str()? {
        "number" => {
            let from_zero = ["minimum", "exclusiveMinimum"];
            let is_signed = from_zero.iter().all(|key| property.get(*key).is_none());
            Some(Takes::Number { is_signed })
        }
        "integer" => Some(Takes::Count),
        "boolean" => Some(Takes::Truth),
        _ => None,
    }
}

fn default(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(word) => word.clone(),
        // Written out: a form does not take 1e-5.
        Value::Number(n) if n.is_f64() => n.as_f64().map_or(String::new(), |x| x.to_string()),
        other => other.to_string(),
    }
}

/// A description cut at its first stop: what it is, and what else there is to know.
fn label_and_hint(description: &str) -> (String, Option<String>) {
    let text = description.trim_end_matches('.').replace('`', "");
    let stop = [". ", ", ", ": ", "; "]
        .iter()
        .filter_map(|stop| text.find(stop))
        .min();
    match stop {
        Some(at) => (text[..at].to_owned(), Some(capital(&text[at + 2..]))),
        None => (text, None),
    }
}

/// `text` with a capital letter in front.
fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_follow_the_contract() {
        let card = methods::find("torque-adapter").expect("there");
        let inputs = of_card(card).expect("flat");
        let keys: Vec<&str> = inputs.iter().map(|i| i.key).collect();
        assert_eq!(keys, ["torque_Nm", "wrench_mm", "adapter_mm", "angle_deg"]);
        let angle = &inputs[3];
        assert_eq!(angle.label, "Angle between adapter and wrench");
        assert_eq!(angle.hint.as_deref(), Some("0 in line, 180 folded back"));
        assert_eq!((angle.unit, angle.default.as_str()), ("°", "0"));
        assert_eq!(angle.takes, Takes::Number { is_signed: true });
        assert!(inputs[0].is_required && !angle.is_required);
        assert_eq!(inputs[1].takes, Takes::Number { is_signed: false });
    }

    #[test]
    fn a_small_default_is_written_out() {
        let card = methods::find("air-line-darcy").expect("there");
        let inputs = of_card(card).expect("flat");
        let viscosity = inputs.iter().find(|i| i.key == "viscosity_Pa_s");
        assert_eq!(viscosity.map(|v| v.default.as_str()), Some("0.0000181"));
    }

    #[test]
    fn what_needs_a_list_is_not_offered_and_what_may_go_without_is() {
        let of = |name| of_card(methods::find(name).expect("there"));
        assert_eq!(of("straight-line-calibration"), None);
        let preload = of("bolt-preload").expect("flat but for a range");
        assert!(preload.iter().all(|i| i.key != "nut_factor_range"));
    }

    #[test]
    fn every_label_says_something_and_differs_in_its_form() {
        for card in methods::all() {
            let Some(inputs) = of_card(card) else {
                continue;
            };
            let mut labels: Vec<&str> = inputs.iter().map(|i| i.label.as_str()).collect();
            assert!(
                labels.iter().all(|l| l.len() > 1),
                "{}: {labels:?}",
                card.name
            );
            let all = labels.len();
            labels.sort_unstable();
            labels.dedup();
            assert_eq!(labels.len(), all, "{}: {labels:?}", card.name);
        }
    }
}
