//! What is wrong with a form, field by field.

use calc::Message;

/// Mistakes by field, in the order in which they were found: one a field.
///
/// A field is named as in the form. A later reading of a row is named by [`reading_key`], so that
/// the summary leads to the very box that is wrong.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FieldErrors {
    list: Vec<(String, Message)>,
}

impl FieldErrors {
    /// No mistakes.
    pub const fn new() -> Self {
        Self { list: Vec::new() }
    }

    /// One mistake.
    pub fn one(field: impl Into<String>, message: Message) -> Self {
        let mut errors = Self::new();
        errors.add(field, message);
        errors
    }

    /// Notes a mistake. The first of a field stays: later ones often follow from it.
    pub fn add(&mut self, field: impl Into<String>, message: Message) {
        let field = field.into();
        if self.get(&field).is_none() {
            self.list.push((field, message));
        }
    }

    /// Notes a mistake whose text does not name its field: the label goes before it.
    pub fn add_for(
        &mut self,
        field: impl Into<String>,
        label: impl Into<String>,
        message: Message,
    ) {
        let text = Message::new("field-error")
            .with("label", label.into())
            .with("message", message);
        self.add(field, text);
    }

    /// Keeps the value, or notes the mistake under `field`.
    pub fn keep<T>(
        &mut self,
        field: &str,
        label: impl Into<String>,
        read: Result<T, Message>,
    ) -> Option<T> {
        match read {
            Ok(value) => Some(value),
            Err(message) => {
                self.add_for(field, label, message);
                None
            }
        }
    }

    /// The mistake of `field`.
    pub fn get(&self, field: &str) -> Option<&Message> {
        self.list
            .iter()
            .find(|(name, _)| name == field)
            .map(|(_, message)| message)
    }

    /// Whether all is well.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Every mistake, in order.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Message)> {
        self.list.iter().map(|(name, text)| (name.as_str(), text))
    }
}

/// The name of the `index`-th box (from 0) of several under one name: `stick_out`, `stick_out-2`, …
pub fn reading_key(name: &str, index: usize) -> String {
    if index == 0 {
        name.to_owned()
    } else {
        format!("{name}-{}", index + 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_mistake_of_a_field_stays() {
        let mut errors = FieldErrors::one("serial", Message::new("a"));
        errors.add("serial", Message::new("b"));
        errors.add("pulls", Message::new("c"));
        assert_eq!(errors.get("serial"), Some(&Message::new("a")));
        assert_eq!(errors.iter().count(), 2);
    }

    #[test]
    fn boxes_of_a_row_have_names_of_their_own() {
        assert_eq!(reading_key("stick_out", 0), "stick_out");
        assert_eq!(reading_key("stick_out", 2), "stick_out-3");
    }

    #[test]
    fn keep_gives_the_value_or_notes_the_mistake() {
        let mut errors = FieldErrors::new();
        assert_eq!(errors.keep("n", "N", Ok(3)), Some(3));
        assert!(errors.is_empty());
        assert_eq!(errors.keep::<u8>("n", "N", Err(Message::new("bad"))), None);
        let noted = errors.get("n").expect("noted");
        assert_eq!(noted.id, "field-error");
    }
}
