//! One name written in two ways is one name.

/// `text` as it is compared and searched: without space around it, in small letters.
pub fn folded(text: &str) -> String {
    text.trim().to_lowercase()
}
