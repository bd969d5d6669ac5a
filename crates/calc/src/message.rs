//! A text by its name in the message catalogue, with the values that go into it.
//!
//! The pure crates never write a sentence: they name one. `words` turns it into a language.

/// A catalogue text and its values.
#[derive(Clone, Debug, PartialEq)]
pub struct Message {
    /// Name in the catalogue (`crates/words/lang/*.ftl`).
    pub id: &'static str,
    /// Values by the name of their place in the text.
    pub args: Vec<(&'static str, Arg)>,
}

/// A value that goes into a text.
#[derive(Clone, Debug, PartialEq)]
pub enum Arg {
    /// Data that is the same in every language: a serial, a name from a sheet.
    Text(String),
    /// A count, for plural forms.
    Count(i64),
    /// A number with this many decimals, written the language's way.
    Number(f64, usize),
    /// Another text of the catalogue.
    Message(Message),
}

impl Message {
    /// The text `id` without values.
    pub fn new(id: &'static str) -> Self {
        Self {
            id,
            args: Vec::new(),
        }
    }

    /// Puts a value in.
    #[must_use]
    pub fn with(mut self, name: &'static str, value: impl Into<Arg>) -> Self {
        self.args.push((name, value.into()));
        self
    }

    /// Puts a number in, written with `decimals` decimals.
    #[must_use]
    pub fn number(self, name: &'static str, value: f64, decimals: usize) -> Self {
        self.with(name, Arg::Number(value, decimals))
    }
}

impl From<&str> for Arg {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Arg {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<Message> for Arg {
    fn from(message: Message) -> Self {
        Self::Message(message)
    }
}

impl From<usize> for Arg {
    fn from(count: usize) -> Self {
        Self::Count(i64::try_from(count).unwrap_or(i64::MAX))
    }
}

impl From<u32> for Arg {
    fn from(count: u32) -> Self {
        Self::Count(i64::from(count))
    }
}

impl From<u64> for Arg {
    fn from(count: u64) -> Self {
        Self::Count(i64::try_from(count).unwrap_or(i64::MAX))
    }
}
