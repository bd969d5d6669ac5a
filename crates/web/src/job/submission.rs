//! The key under which a form is stored once.

use sha2::{Digest, Sha256};
use shop::job::Command;
use uuid::Uuid;

use crate::forms::Typed;

/// What changes from one sending of a form to the next although the form says the same.
const NOT_CONTENT: &[&str] = &["csrf", "submission", "version", "who", "kept"];

/// The key of a form about `subject`: that of the page, with a digest of what the form says. The same
/// form sent again is stored once; one that was changed after it was stored counts as a form of its
/// own. A form without a key (made by hand) gets one.
pub(crate) fn key(subject: &str, typed: &Typed, command: &Command) -> String {
    let mut content = content(subject, typed);
    if let Command::Attach(files) = command {
        for file in files {
            part(&mut content, &file.name);
            part(&mut content, &file.sha256);
        }
    }
    with_digest(typed, content)
}

/// The key of a form that begins a job.
pub(crate) fn key_of_receipt(typed: &Typed) -> String {
    with_digest(typed, content("receive", typed))
}

/// The key of a form about an inbox.
pub(crate) fn key_of_inbox(subject: &str, typed: &Typed) -> String {
    with_digest(typed, content(subject, typed))
}

fn with_digest(typed: &Typed, content: Sha256) -> String {
    let given = Uuid::parse_str(typed.get("submission")).unwrap_or_else(|_| Uuid::new_v4());
    let digest = content.finalize();
    let hex: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
    format!("{given}-{hex}")
}

fn content(subject: &str, typed: &Typed) -> Sha256 {
    let mut content = Sha256::new();
    part(&mut content, subject);
    for (name, value) in typed.pairs() {
        if !NOT_CONTENT.contains(&name) {
            part(&mut content, name);
            part(&mut content, value);
        }
    }
    content
}

/// Length first: two texts cannot run into each other.
fn part(content: &mut Sha256, text: &str) {
    content.update((text.len() as u64).to_le_bytes());
    content.update(text.as_bytes());
}

#[cfg(test)]
mod tests {
    use super::key_of_receipt;
    use crate::forms::Typed;

    fn form(serial: &str) -> Typed {
        Typed::new()
            .with("submission", "6f9619ff-8b86-4d01-b42d-00cf4fc964ff")
            .with("serial", serial)
    }

    #[test]
    fn a_form_is_the_same_while_it_says_the_same() {
        let first = key_of_receipt(&form("7K-1"));
        let again = form("7K-1").with("version", "4").with("csrf", "other");
        assert_eq!(first, key_of_receipt(&again.with("who", "Ansa")));
        assert_ne!(first, key_of_receipt(&form("7K-2")));
        assert_ne!(first, key_of_receipt(&form("7K-1").with("note", "")));
    }

    #[test]
    fn texts_do_not_run_into_each_other() {
        let (one, other) = (form("ab").with("n", "c"), form("a").with("bn", "c"));
        assert_ne!(key_of_receipt(&one), key_of_receipt(&other));
    }
}
