//! Why a command is refused: which field, and what to do.

use calc::Message;

/// One thing that stands in the way.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// Name of the form field; empty for the form as a whole.
    pub field: String,
    /// What is wrong and what to do.
    pub message: Message,
}

/// Everything that stands in the way of a command.
pub type Refusals = Vec<Refusal>;

/// A refusal of one field.
pub fn refuse(field: impl Into<String>, message: Message) -> Refusal {
    Refusal {
        field: field.into(),
        message,
    }
}

/// A refusal of the whole form, alone.
pub fn refuse_all<T>(message: Message) -> Result<T, Refusals> {
    Err(vec![refuse("", message)])
}

/// `text` trimmed, or a refusal that asks for it.
pub fn needed(field: &str, text: &str, ask: &'static str) -> Result<String, Refusal> {
    let text = text.trim();
    if text.is_empty() {
        Err(refuse(field, Message::new(ask)))
    } else {
        Ok(text.to_owned())
    }
}

/// Words that a reason has at least: fewer tell nothing to whoever reads it later. Common practice, no source.
const REASON_WORDS: usize = 3;

/// `text` trimmed, if it is a reason in words; else a refusal with `ask`.
pub fn reasoned(field: &str, text: &str, ask: Message) -> Result<String, Refusal> {
    let words = text.split_whitespace();
    let words = words.filter(|word| word.chars().any(char::is_alphanumeric));
    if words.count() < REASON_WORDS {
        Err(refuse(field, ask))
    } else {
        Ok(text.trim().to_owned())
    }
}

/// The field of the `index`-th box (from 0) of several under one name: `what`, `what-2`, …
pub fn nth(name: &str, index: usize) -> String {
    if index == 0 {
        name.to_owned()
    } else {
        format!("{name}-{}", index + 1)
    }
}
