//! Learned numbers in addresses: `rate.cause.on`, `shows.cause.symptom`, `yes.check.cause`, `alarm.check`. No id holds
//! a dot.

use shop::entry::LearntNumber;

/// The number in an address.
pub fn text(number: &LearntNumber) -> String {
    match number {
        LearntNumber::Rate { cause, on } => format!("rate.{cause}.{on}"),
        LearntNumber::Shows { cause, symptom } => format!("shows.{cause}.{symptom}"),
        LearntNumber::Yes { check, cause } => format!("yes.{check}.{cause}"),
        LearntNumber::FalseAlarm { check } => format!("alarm.{check}"),
    }
}

/// The number that an address names.
pub fn parse(text: &str) -> Option<LearntNumber> {
    let parts: Vec<String> = text.split('.').map(str::to_owned).collect();
    let [what, first, rest @ ..] = parts.as_slice() else {
        return None;
    };
    let first = first.clone();
    match (what.as_str(), rest) {
        ("rate", [on]) => Some(LearntNumber::Rate {
            cause: first,
            on: on.clone(),
        }),
        ("shows", [symptom]) => Some(LearntNumber::Shows {
            cause: first,
            symptom: symptom.clone(),
        }),
        ("yes", [cause]) => Some(LearntNumber::Yes {
            check: first,
            cause: cause.clone(),
        }),
        ("alarm", []) => Some(LearntNumber::FalseAlarm { check: first }),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_names_its_number() {
        for key in ["rate.a.battery", "shows.a.s", "yes.c.a", "alarm.c"] {
            let number = parse(key).unwrap_or_else(|| panic!("{key}"));
            assert_eq!(text(&number), key);
        }
        for none in ["", "rate", "rate.a", "rate.a.b.c", "alarm.c.d", "mood.a.b"] {
            assert_eq!(parse(none), None, "{none}");
        }
    }
}
