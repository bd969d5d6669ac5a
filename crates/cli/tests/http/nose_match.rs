//! Nose match: the page, and the same at the prompt.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

use crate::client::Client;
use crate::program::{BINARY, Program, run, text};

/// The text of a page, tags taken out.
fn read(body: &str) -> String {
    let main = body.split("<main").nth(1).unwrap_or_default();
    let parts = main.split('<').filter_map(|part| part.split_once('>'));
    let words: Vec<&str> = parts.map(|(_, text)| text.trim()).collect();
    words
        .join(" ")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// The large answer of a page.
fn answer(body: &str) -> String {
    let from = body.find("class=\"answer").expect("an answer");
    let to = body.find("id=\"match\"").expect("the form");
    read(&format!("<main {}", &body[from..to]))
}

#[test]
fn the_page_names_the_set_that_fits_and_what_to_buy() {
    let program = Program::start();
    let mut client = Client::nameless(&program.address);
    let sheets = client.get("/sheets");
    assert!(
        sheets.body.contains("href=\"/match\""),
        "linked from the sheets"
    );
    let page = client.get("/match?model=tulvane-tb-32&fastener=marlstead-m8");
    assert_eq!(page.status, 200);
    let large = answer(&page.body);
    assert!(large.contains("N8 for 8 mm non-break pins, CR8"), "{large}");
    assert!(
        large.contains("fits") && large.contains("11 of 11 criteria"),
        "{large}"
    );
    let all = read(&page.body);
    // Demo sheets: 64.00 + 38.00 + 54.00.
    assert!(all.contains("Total 156.00 USD"), "{all}");
    assert!(all.contains("CR8-S instead of CR8"), "{all}");
    // The form keeps what was asked.
    assert!(page.body.contains("value=\"marlstead-m8\" selected"));
    // Who holds the set of the other pin has the housing.
    let page = client.get("/match?model=tulvane-tb-32&fastener=marlstead-m8&held=n30-d6");
    let all = read(&page.body);
    assert!(all.contains("None of the sets that you hold fits"), "{all}");
    assert!(all.contains("Total 102.00 USD"), "{all}");
    assert!(!all.contains("TB32-112"), "{all}");
    let page = client.get("/match?model=tulvane-tb-32&fastener=marlstead-m8&held=n8");
    let all = read(&page.body);
    assert!(
        all.contains("Nothing: every part of N8 for 8 mm non-break pins is held."),
        "{all}"
    );
}

#[test]
fn what_rests_on_a_missing_size_is_undecided_and_says_what_to_measure() {
    let program = Program::start();
    let mut client = Client::nameless(&program.address);
    let page = client.get("/match?model=orrinbeck-ah-21&fastener=drumhale-db4");
    let large = answer(&page.body);
    for said in [
        "undecided",
        "10 of 11 criteria",
        "Measure the length of the pull section.",
    ] {
        assert!(large.contains(said), "{said}: {large}");
    }
    assert!(
        !large.contains(" fits") && !large.contains("Air off"),
        "{large}"
    );
}

#[test]
fn a_nose_set_with_a_missing_length_is_undecided_and_measured_with_the_tool_made_safe() {
    let mut program = Program::start();
    program.kill();
    let n8 = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sheets/demo/nose-sets/n8.toml");
    let sheet = std::fs::read_to_string(n8).expect("a demo sheet");
    let folder = tempfile::tempdir().expect("a folder");
    let changed = folder.path().join("n8.toml");
    std::fs::write(&changed, sheet.replace("length_mm = 42.0\n", "")).expect("writes");
    let path = changed.to_str().expect("a path");
    let out = run(&["sheets", "load", path, "--by", "Ansa"], &program.store);
    assert!(out.status.success(), "{}", text(&out));
    let program = Program::serve(&program.store.clone(), "").adopt(&mut program);
    let mut client = Client::nameless(&program.address);
    let page = client.get("/match?model=tulvane-tb-32&fastener=marlstead-m8");
    let large = answer(&page.body);
    assert!(
        large.contains("undecided") && !large.contains(" fits"),
        "{large}"
    );
    let caution = large
        .find("Pack out and trigger pressed")
        .expect("the caution");
    let step = large.find("Measure the whole length of the collet.");
    assert!(
        caution < step.expect("the step"),
        "the caution comes before the hands"
    );
    assert!(read(&page.body).contains("Undecided: measure before you buy."));
}

#[test]
fn a_tool_or_a_set_without_a_sheet_is_refused_at_its_field() {
    let program = Program::start();
    let mut client = Client::nameless(&program.address);
    for (query, says) in [
        ("model=mystery-9&fastener=marlstead-m8", "mystery-9"),
        ("model=tulvane-tb-32&fastener=bolt-9", "bolt-9"),
        ("model=tulvane-tb-32&held=n8&held=n99", "n99"),
        ("model=%3Cscript%3E", "&lt;script&gt;"),
    ] {
        let page = client.get(&format!("/match?{query}"));
        assert_eq!(page.status, 422, "{query}");
        let errors = page.errors().join(" | ");
        assert!(
            errors.contains(says) && errors.contains("load its sheet"),
            "{errors}"
        );
        assert!(page.body.contains("<title>Error: "), "{query}");
    }
    let page = client.get("/match?model=mystery-9&fastener=marlstead-m8");
    assert!(
        page.body.contains("value=\"marlstead-m8\" selected"),
        "what was picked stays"
    );
}

/// `setwright match …` on the store of `program`.
fn at_prompt(program: &Program, words: &str) -> (bool, String) {
    let out = Command::new(BINARY)
        .arg("match")
        .args(words.split_whitespace())
        .arg("--store")
        .arg(&program.store)
        .output()
        .expect("runs");
    (out.status.success(), text(&out))
}

#[test]
fn the_prompt_says_the_same() {
    let program = Program::start();
    let (done, said) = at_prompt(&program, "orrinbeck-ah-21");
    assert!(done, "{said}");
    for row in [
        ["drumhale-d6", "n26-d6", "fits"],
        ["drumhale-rn6", "n26-rn6", "fits"],
        ["drumhale-db4", "n26-db4", "undecided"],
    ] {
        let found = said.lines().any(|l| l.split_whitespace().take(3).eq(row));
        assert!(found, "{row:?}: {said}");
    }
    let (done, json) = at_prompt(
        &program,
        "skarnholt-hp-90 --fastener brackwell-b12 --held n48-b12n n48-b10 --json",
    );
    assert!(done, "{json}");
    let all: Value = serde_json::from_str(&json).expect("JSON");
    let verdicts: Vec<_> = all["sets"]
        .as_array()
        .expect("sets")
        .iter()
        .map(|s| &s["verdict"])
        .collect();
    assert_eq!(verdicts, ["does-not-fit", "does-not-fit"]);
    assert_eq!(
        all["sets"][0]["nose_set"], "n48-b12n",
        "fewest criteria not met"
    );
    let offer = &all["sale"]["offers"][0];
    assert_eq!(offer["buy"][0]["number"], "HP90-11B");
    assert_eq!(
        (&offer["total"], offer["buy"].as_array().map(Vec::len)),
        (&"158.00".into(), Some(1))
    );
    assert_eq!(all["twins"][0]["differences"][0]["by"], 6.0);
    for (words, says) in [
        ("mystery-9", "skarnholt-hp-90"),
        ("tulvane-tb-32 --fastener bolt-9", "marlstead-m8"),
        ("tulvane-tb-32 --held n99", "n30-d6"),
    ] {
        let (done, said) = at_prompt(&program, words);
        assert!(!done && said.contains(says), "{words}: {said}");
    }
}

#[test]
fn what_is_asked_for_has_a_field_and_decides() {
    let program = Program::start();
    let mut client = Client::nameless(&program.address);
    let open = "/match?model=orrinbeck-ah-21&fastener=drumhale-db4";
    let page = client.get(open);
    assert!(answer(&page.body).contains("Measure the length of the pull section."));
    assert!(page.body.contains("name=\"tail\""), "a field for it");
    assert!(
        !page.body.contains("name=\"throat\""),
        "none for what is known"
    );
    let long = client.get(&format!("{open}&tail=40"));
    assert_eq!(long.status, 200);
    assert!(
        answer(&long.body).contains("11 of 11 criteria"),
        "{}",
        answer(&long.body)
    );
    assert!(long.body.contains("name=\"tail\"") && long.body.contains("value=\"40\""));
    for wrong in ["0", "-3", "600", "long", "40 kN"] {
        let refused = client.get(&format!("{open}&tail={}", wrong.replace(' ', "+")));
        assert_eq!(refused.status, 422, "{wrong}");
        assert!(
            refused.body.contains(&format!("value=\"{wrong}\"")),
            "{wrong} stays"
        );
    }
}
