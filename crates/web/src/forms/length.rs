//! How long a text may be.

use calc::Message;

use super::{FieldErrors, Typed};

/// Most characters of a text in the technician's or the customer's words.
const MOST: usize = 4000;
/// Most characters of a name or a number.
const MOST_NAME: usize = 200;
/// Fields that hold a name or a number.
const NAMES: &[&str] = &["serial", "customer", "name", "to", "number", "code"];

/// Texts that are too long, field by field.
pub fn too_long(typed: &Typed) -> FieldErrors {
    let mut errors = FieldErrors::new();
    for (name, value) in typed.pairs() {
        let most = if NAMES.contains(&name) {
            MOST_NAME
        } else {
            MOST
        };
        let count = value.trim().chars().count();
        if count > most {
            let text = Message::new("text-too-long");
            errors.add(name, text.with("most", most).with("count", count));
        }
    }
    errors
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_character_that_fits_is_taken_and_the_next_is_not() {
        for (name, most) in [("complaint", 4000), ("reason", 4000), ("serial", 200)] {
            let long = |count| Typed::new().with(name, "é".repeat(count));
            assert!(too_long(&long(most)).is_empty(), "{name}");
            assert!(too_long(&long(most + 1)).get(name).is_some(), "{name}");
        }
    }
}
