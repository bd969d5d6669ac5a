//! Which fields the forms of a page have: what the prompt may send is what a browser could.

use std::collections::BTreeSet;

/// Fields that stand in a form only where they are needed.
const WHERE_NEEDED: [&str; 3] = ["made_safe", "reason", "rows"];

/// Fields that every form carries for itself.
const OWN: [&str; 4] = ["csrf", "submission", "form", "version"];

/// The names of the fields of the forms in `page` that are sent to `action`, without those that every
/// form carries for itself.
pub(crate) fn of(page: &str, action: &str) -> BTreeSet<String> {
    let action = format!(" action=\"{action}\"");
    let forms = page.split("<form ").skip(1).filter(|form| {
        let head = form.split('>').next().unwrap_or_default();
        head.contains(&action)
    });
    let names = forms
        .filter_map(|form| form.split("</form>").next())
        .flat_map(|form| form.split(" name=\"").skip(1))
        .filter_map(|rest| rest.split('"').next());
    names
        .filter(|name| !OWN.contains(name))
        .map(str::to_owned)
        .collect()
}

/// Whether a form with `fields` takes one called `name`: one of them, a further row of one, or one that
/// stands only where it is needed.
pub(crate) fn takes(fields: &BTreeSet<String>, name: &str) -> bool {
    let row_of = name
        .rsplit_once('-')
        .filter(|(_, row)| row.parse::<u8>().is_ok())
        .map_or(name, |(base, _)| base);
    [name, row_of]
        .iter()
        .any(|n| fields.contains(*n) || WHERE_NEEDED.contains(n) || OWN.contains(n))
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = r#"<form id="a" method="post" action="/jobs/1/wait"><input name="csrf">
        <select id="x" name="for"></select><input type="text" name="note"></form>
        <form id="b" action="/jobs/1/waits"><input name="other"></form>
        <form id="c" action="/jobs/1/wait"><input name="what-2"><input name="what"></form>"#;

    #[test]
    fn the_fields_of_every_form_to_one_place() {
        let fields = of(PAGE, "/jobs/1/wait");
        let names: Vec<&str> = fields.iter().map(String::as_str).collect();
        assert_eq!(names, ["for", "note", "what", "what-2"]);
        for (name, taken) in [
            ("for", true),
            ("what-14", true),
            ("made_safe", true),
            ("version", true),
            ("other", false),
            ("note-x", false),
            ("fo", false),
        ] {
            assert_eq!(takes(&fields, name), taken, "{name}");
        }
        assert!(of(PAGE, "/jobs/2/wait").is_empty());
    }
}
