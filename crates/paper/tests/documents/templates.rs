//! No text stands in a template: a reader's words come from the catalogue.

use typst::syntax::{SyntaxKind, SyntaxNode, parse};

const TEMPLATES: &[(&str, &str)] = &[
    ("house.typ", include_str!("../../templates/house.typ")),
    ("parts.typ", include_str!("../../templates/parts.typ")),
    ("card.typ", include_str!("../../templates/card.typ")),
    ("care.typ", include_str!("../../templates/care.typ")),
    ("label.typ", include_str!("../../templates/label.typ")),
    ("photos.typ", include_str!("../../templates/photos.typ")),
    ("claim.typ", include_str!("../../templates/claim.typ")),
    (
        "certificate.typ",
        include_str!("../../templates/certificate.typ"),
    ),
    (
        "gauge-failure.typ",
        include_str!("../../templates/gauge-failure.typ"),
    ),
    ("note.typ", include_str!("../../templates/note.typ")),
    ("quote.typ", include_str!("../../templates/quote.typ")),
    ("report.typ", include_str!("../../templates/report.typ")),
    ("suspect.typ", include_str!("../../templates/suspect.typ")),
    (
        "validation.typ",
        include_str!("../../templates/validation.typ"),
    ),
];

/// Three letters in a row that would be set as they stand; units and signs are shorter.
fn texts(template: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut open = vec![parse(template)];
    while let Some(node) = open.pop() {
        let is_word = |run: &str| run.chars().count() >= 3;
        let leaf = node.leaf_text();
        if node.kind() == SyntaxKind::Text && leaf.split(|c: char| !c.is_alphabetic()).any(is_word)
        {
            found.push(leaf.to_string());
        }
        open.extend(node.children().map(SyntaxNode::clone));
    }
    found
}

#[test]
fn template_text_comes_from_the_catalogue() {
    for (name, template) in TEMPLATES {
        assert_eq!(texts(template), [] as [&str; 0], "{name}");
    }
}

#[test]
fn a_text_in_a_template_is_found() {
    assert_eq!(
        texts("#set page(fill: red)\n[= #t(\"paper-found\") 5 kN]").len(),
        0
    );
    assert_eq!(texts("#block[#t(\"a\") Torque: 5]").len(), 1);
    assert_eq!(texts("= Found").len(), 1);
}

#[test]
fn every_template_is_looked_at() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/templates");
    let files = std::fs::read_dir(folder).expect("the templates are there");
    assert_eq!(files.count(), TEMPLATES.len());
}
