//! The message catalogue: every text that a user sees, by its name.
//!
//! The texts stand in `lang/<tag>/*.ftl` (Fluent). A new file there is in the program by being
//! there; a new text is one line in it.

mod digits;
mod term;

use std::collections::BTreeSet;
use std::sync::OnceLock;

pub use term::Term;

use calc::Message;
use calc::message::Arg;
use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};

/// Every catalogue file: language tag, file name, content.
const CATALOGUE: &[(&str, &str, &str)] = include!(concat!(env!("OUT_DIR"), "/catalogue.rs"));

/// The texts of one language.
pub struct Words {
    tag: String,
    bundle: FluentBundle<FluentResource>,
    ids: BTreeSet<String>,
    problems: Vec<String>,
}

impl Words {
    /// The English texts.
    pub fn english() -> &'static Words {
        static ENGLISH: OnceLock<Words> = OnceLock::new();
        ENGLISH.get_or_init(|| {
            let files = CATALOGUE.iter().filter(|(tag, ..)| *tag == "en");
            Words::load("en", files.map(|(_, file, text)| (*file, *text)))
        })
    }

    /// The language as a BCP 47 tag, such as `en`.
    pub fn tag(&self) -> &str {
        &self.tag
    }

    /// The text of `message` with its values put in. A text that is not there, or a value that the
    /// text asks for and was not given, shows as the name between `⟦⟧`.
    pub fn say(&self, message: &Message) -> String {
        let mut args = FluentArgs::new();
        for (name, value) in &message.args {
            args.set(*name, self.value(value));
        }
        self.render(message.id, Some(&args))
    }

    /// The text `id` that takes no values.
    pub fn text(&self, id: &str) -> String {
        self.render(id, None)
    }

    /// Whether there is a text `id`.
    pub fn has(&self, id: &str) -> bool {
        self.ids.contains(id)
    }

    /// The names of all texts, in order.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.ids.iter().map(String::as_str)
    }

    /// What is wrong with the catalogue itself: lines that cannot be read, names used twice.
    pub fn problems(&self) -> &[String] {
        &self.problems
    }

    /// A whole number as the language writes it: digits in groups from 10 000 on.
    pub fn count(&self, count: u64) -> String {
        digits::grouped(&count.to_string())
    }

    fn load(tag: &str, files: impl Iterator<Item = (&'static str, &'static str)>) -> Self {
        let mut bundle = FluentBundle::new_concurrent(vec![tag.parse().unwrap_or_default()]);
        // The marks that isolate right-to-left text would end up in PDFs and in copied text.
        bundle.set_use_isolating(false);
        bundle.set_formatter(Some(|value, _| match value {
            FluentValue::Number(number) => Some(digits::grouped(&number.as_string())),
            _ => None,
        }));
        let mut ids = BTreeSet::new();
        let mut problems = Vec::new();
        for (file, text) in files {
            let resource = match FluentResource::try_new(text.to_owned()) {
                Ok(resource) => resource,
                Err((resource, errors)) => {
                    problems.extend(errors.iter().map(|e| format!("{file}: {e}")));
                    resource
                }
            };
            ids.extend(names(text));
            if let Err(errors) = bundle.add_resource(resource) {
                problems.extend(errors.iter().map(|e| format!("{file}: {e}")));
            }
        }
        Self {
            tag: tag.to_owned(),
            bundle,
            ids,
            problems,
        }
    }

    fn value(&self, arg: &Arg) -> FluentValue<'static> {
        match arg {
            Arg::Text(text) => text.clone().into(),
            Arg::Count(count) => (*count).into(),
            // Written here, because Fluent pads decimals but does not round to them.
            Arg::Number(number, decimals) => {
                digits::grouped(&calc::working::fixed(*number, *decimals)).into()
            }
            Arg::Message(message) => self.say(message).into(),
        }
    }

    fn render(&self, id: &str, args: Option<&FluentArgs>) -> String {
        let pattern = self.bundle.get_message(id).and_then(|m| m.value());
        let Some(pattern) = pattern else {
            return format!("⟦{id}⟧");
        };
        let mut errors = Vec::new();
        let text = self.bundle.format_pattern(pattern, args, &mut errors);
        if errors.is_empty() {
            text.into_owned()
        } else {
            format!("{text}⟦{id}⟧")
        }
    }
}

/// The names defined in a catalogue file: what stands before `=` at the start of a line.
fn names(text: &str) -> impl Iterator<Item = String> {
    text.lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_alphabetic()))
        .filter_map(|line| line.split_once('='))
        .map(|(name, _)| name.trim().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_catalogue_reads_without_a_problem() {
        assert_eq!(Words::english().problems(), &[] as &[String]);
    }

    #[test]
    fn numbers_are_rounded_and_nested_texts_said() {
        let refused = Message::new("calc-out-of-range")
            .with("input", "x")
            .number("value", 61_480.125_6, 3)
            .number("min", -0.000_1, 3)
            .with("max", Message::new("given-lower"));
        let said = Words::english().say(&refused);
        assert!(said.contains("61\u{202f}480.126"), "{said}");
        assert!(said.contains("0.000") && !said.contains("-0"), "{said}");
        assert!(said.contains(&Words::english().text("given-lower")));
    }

    #[test]
    fn counts_choose_the_plural() {
        let text = "pulls = { $n ->\n    [one] one pull\n   *[other] { $n } pulls\n}";
        let words = Words::load("en", [("a.ftl", text)].into_iter());
        let said = |n: u64| words.say(&Message::new("pulls").with("n", n));
        assert_eq!(said(1), "one pull");
        assert_eq!(said(61_480), "61\u{202f}480 pulls");
    }

    #[test]
    fn a_broken_catalogue_is_told() {
        let files = [("a.ftl", "x = one\n= two"), ("b.ftl", "x = three")];
        let words = Words::load("en", files.into_iter());
        assert_eq!(words.problems().len(), 2, "{:?}", words.problems());
        assert_eq!(words.text("x"), "one");
    }

    #[test]
    fn what_is_missing_can_be_seen() {
        let words = Words::english();
        assert_eq!(words.text("no-such-text"), "⟦no-such-text⟧");
        assert!(
            words.text("calc-not-finite").contains('⟦'),
            "no value given"
        );
        assert!(!words.has("no-such-text"));
    }
}
