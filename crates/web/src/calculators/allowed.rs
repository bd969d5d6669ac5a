//! Limits in signs, as a method gives them, in words.

use calc::Message;
use calc::working::{figures, fixed};

/// `[0, 40]` of mm is `0 to 40 mm`.
pub fn in_words(signs: &str, unit: &str) -> Message {
    let one = |id: &'static str, end: &str| Message::new(id).with("end", with_unit(end, unit));
    if let Some(end) = signs.strip_prefix("> ") {
        return one("allowed-above", end);
    }
    if let Some(end) = signs.strip_prefix("≥ ") {
        return one("allowed-from", end);
    }
    if let Some(end) = signs.strip_prefix("≤ ") {
        return one("allowed-up-to", end);
    }
    let inner = signs
        .strip_prefix(['[', '('])
        .and_then(|rest| rest.strip_suffix([']', ')']))
        .and_then(|inner| inner.split_once(", "));
    let Some((low, high)) = inner else {
        return Message::new("allowed-words").with("words", signs.replace(" | ", ", "));
    };
    let id = match (signs.starts_with('('), signs.ends_with(')')) {
        (false, false) => "allowed-between",
        (true, false) => "allowed-above-up-to",
        (false, true) => "allowed-from-below",
        (true, true) => "allowed-above-below",
    };
    Message::new(id)
        .with("low", short(low))
        .with("high", with_unit(high, unit))
}

fn with_unit(end: &str, unit: &str) -> String {
    format!("{} {unit}", short(end)).trim().to_owned()
}

/// A limit with as many figures as a reader bears.
fn short(end: &str) -> String {
    let Ok(value) = end.parse::<f64>() else {
        return end.to_owned();
    };
    let text = fixed(value, figures(value, 6));
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use words::Words;

    #[test]
    fn limits_read_as_a_person_says_them() {
        let said = |signs, unit| Words::english().say(&in_words(signs, unit));
        for (signs, unit, words) in [
            ("> 0", "mm", "above 0 mm"),
            ("≥ 0", "", "0 or more"),
            ("≤ 3.5", "bar", "3.5 bar or less"),
            ("[0, 1]", "", "0 to 1"),
            ("[0.001, 39.99999996]", "mm", "0.001 to 40 mm"),
            ("(0, 1)", "", "above 0 and below 1"),
            ("(0, 5]", "kN", "above 0, up to 5 kN"),
            ("mm | in", "", "mm, in"),
        ] {
            assert_eq!(said(signs, unit), words, "{signs}");
        }
    }
}
