//! No text stands in a page's code: a reader's words come from the catalogue.

use crate::File;

/// Attributes that are read out or shown.
const READ: &[&str] = &[
    "aria-label",
    "placeholder",
    "title",
    "alt",
    "aria-description",
];

/// Texts written into `html!`.
pub fn faults(files: &[File]) -> Vec<String> {
    let mut faults = Vec::new();
    for file in files.iter().filter(|f| f.is(&["rs"])) {
        let Some(("web", path)) = file.in_crate() else {
            continue;
        };
        if !path.starts_with("src/") {
            continue;
        }
        let code: Vec<(usize, &str)> = file.code().collect();
        let text: String = code.iter().map(|(_, line)| format!("{line}\n")).collect();
        for (at, _) in text.match_indices("html! {") {
            for (found, literal) in texts(&text[at + "html! ".len()..]) {
                let before = text[..at + "html! ".len() + found].matches('\n').count();
                let line = code.get(before).map_or(0, |(line, _)| *line);
                faults.push(format!("{}:{line}: \"{literal}\"", file.path));
            }
        }
    }
    faults
}

/// Literals with a word in them that stand as content, or as an attribute that is read, in the
/// block that `markup` begins with. What stands in parentheses or brackets is code.
fn texts(markup: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut inside: Vec<char> = Vec::new();
    let mut rest = markup.char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        match c {
            '"' => {
                let mut end = at + 1;
                let mut is_escaped = false;
                for (i, c) in rest.by_ref() {
                    end = i;
                    if c == '"' && !is_escaped {
                        break;
                    }
                    is_escaped = c == '\\' && !is_escaped;
                }
                let literal = &markup[at + 1..end];
                let content = inside.iter().all(|i| *i == '{') && is_content(markup, at, end);
                if (content || is_read(&markup[..at])) && has_a_word(literal) {
                    found.push((at, literal));
                }
            }
            '{' => {
                // The braces of an attribute's value: `href={ "/jobs/" (n) }`.
                let before = markup[..at].trim_end().chars().next_back();
                inside.push(match before {
                    Some('=' | '#' | '.') => 'a',
                    _ => '{',
                });
            }
            '(' | '[' => inside.push(c),
            '}' | ')' | ']' => {
                inside.pop();
                if inside.is_empty() {
                    break;
                }
            }
            _ => {}
        }
    }
    found
}

/// Whether the literal from `at` to `end` is what a reader sees: not a value, a pattern or a name.
fn is_content(markup: &str, at: usize, end: usize) -> bool {
    let before = markup[..at].trim_end().chars().next_back();
    let after = markup[end + 1..].trim_start();
    let is_pattern = after.starts_with("=>") || after.starts_with('|');
    matches!(before, Some('{' | '}' | ')' | ']' | '"' | ';')) && !is_pattern
}

fn is_read(before: &str) -> bool {
    READ.iter()
        .any(|name| before.ends_with(&format!("{name}=")))
}

/// Three letters in a row; units and signs are shorter. The name of a text is not a text.
fn has_a_word(literal: &str) -> bool {
    let is_of_name = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if literal.contains('-') && literal.chars().all(is_of_name) {
        return false;
    }
    literal
        .split(|c: char| !c.is_alphabetic())
        .any(|run| run.chars().count() >= 3)
}

#[test]
fn a_text_in_markup_is_found() {
    let count = |code: &str| {
        let file = File::new("crates/web/src/a.rs", &format!("fn a() {{\n{code}\n}}"));
        faults(&[file]).len()
    };
    assert_eq!(count(r#"html! { h1 { "Jobs on hand" } }"#), 1);
    assert_eq!(count(r#"html! { p { (n) " pulls" } }"#), 1);
    assert_eq!(count(r#"html! { @if x { "late" } @else { (y) } }"#), 1);
    assert_eq!(count(r#"html! { nav aria-label="Stages" { } }"#), 1);
    assert_eq!(
        count(r#"html! { (v.wrap("x", html! { b { "Save" } })) }"#),
        1
    );
    assert_eq!(count(r#"html! { h1 { (p.t("bench-title")) } }"#), 0);
    assert_eq!(
        count(r#"html! { @let t = if x { "due-late" } else { "due-left" }; (p.t(t)) }"#),
        0
    );
    assert_eq!(
        count(r#"html! { a href={ "/jobs/" (n) } id="jobs" { (n) " kN" } }"#),
        0
    );
    assert_eq!(
        count(r#"html! { @match x { "jobs" => { (y) } _ => {} } }"#),
        0
    );
    assert_eq!(
        count(r#"html! { p class=(if x { "late" } else { "soon" }) { } }"#),
        0
    );
}

#[test]
fn a_text_is_found_at_its_line() {
    let file = File::new(
        "crates/web/src/a.rs",
        "// one\nhtml! {\n  p { \"Nothing\" }\n}",
    );
    assert_eq!(faults(&[file]), ["crates/web/src/a.rs:3: \"Nothing\""]);
}
