//! What a calculator found: one large answer, the rest beside it, the reckoning behind a tap.

use calc::Message;
use calc::working::{figures, fixed};
use maud::{Markup, html};
use methods::{Answer, MethodCard};
use serde_json::Value;

use super::unit;
use crate::forms::Typed;
use crate::shell::Page;
use crate::show;

/// So many results beside the answer are shown without a tap.
const MOST_IN_SIGHT: usize = 3;

/// The answer with its reckoning, or with formula and source where the method shows none.
pub fn answer(p: &Page, card: &MethodCard, typed: &Typed, found: &Answer) -> Markup {
    let schema = (card.output)();
    let label = |key: &str| {
        let text = schema["properties"][key]["description"].as_str();
        text.unwrap_or(key).trim_end_matches('.').replace('`', "")
    };
    // What was typed is known; what follows from it is asked for.
    let is_new = |key: &&&str| found.values.contains_key(**key) && typed.filled(key).is_none();
    let main = card.answers.iter().find(is_new);
    let main = main.or_else(|| {
        card.outputs
            .iter()
            .find(|key| found.values.contains_key(**key))
    });
    // An output called unit is the unit of the others.
    let unit = found.values.get("unit").and_then(Value::as_str);
    let shown = |key: &str| {
        let value = &found.values[key];
        let symbol = match value {
            Value::Number(_) | Value::Array(_) => unit.unwrap_or(unit::of_name(key)),
            _ => "",
        };
        (written(p, value), symbol.to_owned())
    };
    let others: Vec<&str> = card
        .outputs
        .iter()
        .filter(|key| Some(*key) != main && **key != "unit" && found.values.contains_key(**key))
        .copied()
        .collect();
    let facts = html! {
        dl.facts {
            @for key in &others {
                @let (value, symbol) = shown(key);
                dt { (label(key)) } dd { (value) " " (symbol) }
            }
        }
    };
    html! {
        @if let Some(main) = main {
            @let (value, symbol) = shown(main);
            div.answer {
                p.lab { (label(main)) }
                p.big { (value) " " small { (symbol) } }
                // Many more results would push the form out of sight.
                @if others.len() > MOST_IN_SIGHT {
                    details { summary { (p.t("calculator-others")) } (facts) }
                } @else if !others.is_empty() { (facts) }
                @match &found.working {
                    Some(working) => { (show::working(p, working)) }
                    None => { (formula(p, card)) }
                }
            }
        }
    }
}

/// Formula and source, folded.
pub fn formula(p: &Page, card: &MethodCard) -> Markup {
    html! {
        details.working {
            summary { (p.t("calculator-formula")) }
            ol.reckoning { li { code { (card.formula) } } }
            p.hint { (p.t("working-method")) " " (card.name) " " (card.version) ": " (card.source) }
        }
    }
}

fn written(p: &Page, value: &Value) -> String {
    match value {
        Value::Bool(yes) => p.t(if *yes {
            "calculator-yes"
        } else {
            "calculator-no"
        }),
        Value::String(word) => word.replace('-', " "),
        Value::Number(number) => {
            let x = number.as_f64().unwrap_or_default();
            p.say(&Message::new("calculator-value").number("value", x, decimals(x)))
        }
        Value::Array(items) => {
            let items: Vec<String> = items.iter().map(|item| written(p, item)).collect();
            items.join(", ")
        }
        _ => value.to_string(),
    }
}

/// Decimals for five figures, without noughts at the end.
fn decimals(x: f64) -> usize {
    let most = figures(x, 5);
    let text = fixed(x, most);
    let noughts = text.len() - text.trim_end_matches('0').len();
    most - noughts.min(most)
}

#[cfg(test)]
mod tests {
    use super::decimals;

    #[test]
    fn five_figures_without_noughts_at_the_end() {
        for (x, wanted) in [
            (24.0, 0),
            (26.086_956, 3),
            (0.5, 1),
            (100.0, 0),
            (123_456.7, 0),
            (0.0, 0),
            (0.000_018_1, 7),
            (-2.5, 1),
        ] {
            assert_eq!(decimals(x), wanted, "{x}");
        }
    }
}
