//! The examples in the documentation are sheets without a mistake, and go together.

use shop::sheet::{self, Kind, check_together};

use crate::listed;

#[test]
fn the_examples_hold() {
    let page = include_str!("../../../../docs/sheets.md");
    let examples = page.split("```toml\n").skip(1);
    let mut sheets = Vec::new();
    for example in examples {
        let text = example.split("```").next().unwrap_or_default();
        let name = text.lines().take(2).collect::<String>();
        match sheet::read(&name, text) {
            Ok(sheet) => sheets.push((name, sheet)),
            Err(mistakes) => panic!("{}", listed(&mistakes)),
        }
    }
    for kind in Kind::ALL {
        assert!(sheets.iter().any(|(_, s)| s.kind() == kind), "{kind:?}");
    }
    // The one gauge of the page is a torque wrench, so nothing can take its bench test.
    let mistakes = check_together(&sheets);
    let across = mistakes
        .iter()
        .filter(|m| m.problem.id != "sheet-together-no-gauge");
    assert_eq!(across.count(), 0, "{}", listed(&mistakes));
}
