//! Names of tools.

use maud::{Markup, html};

/// `text` whose words stay whole at a line's end: the number of a tool is not broken at its hyphen.
pub fn unbroken(text: &str) -> Markup {
    html! {
        @for (i, word) in text.split(' ').enumerate() {
            @if i > 0 { " " }
            @if word.contains('-') { span.whole { (word) } } @else { (word) }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_words_with_a_hyphen_are_held_together() {
        assert_eq!(
            unbroken("Orrinbeck AH-21, serial <7>").0,
            "Orrinbeck <span class=\"whole\">AH-21,</span> serial &lt;7&gt;"
        );
    }
}
