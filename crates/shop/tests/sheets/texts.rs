//! The problem of a mistake gives its text in the catalogue just the values that it asks for.

use std::collections::BTreeSet;

use shop::sheet::Mistake;

/// Where its texts stand: those of sheets, and of the pressure that a setting by force needs.
const CATALOGUE: [&str; 2] = [
    include_str!("../../../words/lang/en/sheets.ftl"),
    include_str!("../../../words/lang/en/calculators.ftl"),
];

/// Holds a mistake against the catalogue.
#[track_caller]
pub fn has_text(mistake: &Mistake) {
    let begin = format!("{} =", mistake.problem.id);
    let mut lines = CATALOGUE.iter().flat_map(|file| file.lines());
    let text = lines.find(|line| line.starts_with(&begin));
    let text = text.unwrap_or_else(|| panic!("{begin} is in the catalogue"));
    let asked: BTreeSet<&str> = text
        .split("{ $")
        .skip(1)
        .filter_map(|rest| rest.split(" }").next())
        .collect();
    let given: BTreeSet<&str> = mistake.problem.args.iter().map(|(name, _)| *name).collect();
    assert_eq!(asked, given, "{text}");
}
