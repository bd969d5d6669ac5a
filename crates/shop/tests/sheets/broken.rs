//! Each kind of mistake is found, at its line, with the key and the value.

use calc::message::Arg;
use shop::sheet::{self, Mistake};

use crate::texts::has_text;
use crate::{demo, listed};

const TB: &str = "models/tulvane-tb-32.toml";

/// The demo sheet by its short name in `mistakes.txt`.
fn file(short: &str) -> &'static str {
    match short {
        "tb" => TB,
        "ah" => "models/orrinbeck-ah-21.toml",
        "hp" => "models/skarnholt-hp-90.toml",
        "m8" => "fasteners/marlstead-m8.toml",
        "rn6" => "fasteners/drumhale-rn6.toml",
        "n8" => "nose-sets/n8.toml",
        "c3" => "gauges/c-3.toml",
        "tw" => "gauges/tw-6.toml",
        "rig" => "rigs/bench-1.toml",
        "shop" => "shop.toml",
        "faults" => "faults.toml",
        other => panic!("no short name {other}"),
    }
}

/// The mistakes of a demo sheet in which the first `old` reads `new`, and the changed text.
fn broken(file: &str, old: &str, new: &str) -> (String, Vec<Mistake>) {
    let text = demo(file);
    assert!(text.contains(old), "{file} has no {old}");
    let text = text.replacen(old, new, 1);
    let mistakes = sheet::read(file, &text).err().unwrap_or_default();
    assert!(!mistakes.is_empty(), "{file} holds with {new}");
    (text, mistakes)
}

/// A field of `mistakes.txt` as it stands for itself.
fn field(written: &str) -> String {
    let text = written.trim().replace("\\n", "\n").replace('␣', " ");
    if text == "·" { String::new() } else { text }
}

#[test]
fn each_broken_sheet_has_its_one_mistake() {
    let cases = include_str!("mistakes.txt").lines();
    let cases = cases.filter(|line| !line.is_empty() && !line.starts_with('#'));
    let mut wrong = String::new();
    let mut count = 0;
    for case in cases {
        let fields: Vec<String> = case.split('|').map(field).collect();
        let [short, old, new, at, key, problem] = fields.as_slice() else {
            panic!("six fields: {case}");
        };
        let (text, mistakes) = broken(file(short), old, new);
        let at = if at.is_empty() {
            new.lines().next().unwrap_or_default()
        } else {
            at
        };
        let line = text.lines().position(|l| l.starts_with(at)).map(|i| i + 1);
        mistakes.iter().for_each(has_text);
        let fits = matches!(mistakes.as_slice(), [m]
            if m.file == file(short) && Some(m.line) == line && m.key == *key && m.problem.id == problem);
        if !fits {
            wrong += &format!("{case}\n   wanted line {line:?}, got {}", listed(&mistakes));
        }
        count += 1;
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(count > 80, "the cases were found");
}

fn text_of(mistake: &Mistake, arg: &str) -> String {
    let found = mistake.problem.args.iter().find(|(name, _)| *name == arg);
    match &found.expect("the value is given").1 {
        Arg::Text(text) => text.clone(),
        other => format!("{other:?}"),
    }
}

#[test]
fn toml_that_does_not_hold() {
    let text = "sheet = \"shop\"\nid = \"x\nname = \"y\"\n";
    let mistakes = sheet::read("a.toml", text).expect_err("no closing quote");
    assert_eq!(mistakes[0].line, 2, "{}", listed(&mistakes));
    assert!(mistakes.iter().all(|m| m.problem.id == "sheet-syntax"));

    let twice = sheet::read("a.toml", "sheet = \"shop\"\nid = \"x\"\nid = \"y\"\n");
    let twice = twice.expect_err("a key written twice");
    assert_eq!((twice[0].line, twice[0].problem.id), (3, "sheet-syntax"));
}

#[test]
fn every_place_where_the_syntax_fails_is_named() {
    let text = "sheet = \"shop\"\nid = \nname = \"y\"\nplace = ?\n";
    let mistakes = sheet::read("a.toml", text).expect_err("two values missing");
    let lines: Vec<usize> = mistakes.iter().map(|m| m.line).collect();
    assert!(lines.contains(&2) && lines.contains(&4), "{lines:?}");
}

#[test]
fn a_file_must_say_what_it_is() {
    let missing = sheet::read("a.toml", "id = \"x\"\n").expect_err("no kind");
    assert_eq!(missing.len(), 1);
    assert_eq!(
        (missing[0].line, missing[0].problem.id),
        (1, "sheet-kind-missing")
    );
    assert!(sheet::read("a.toml", "").is_err());
}

#[test]
fn help_stands_in_the_message() {
    let first = |file: &str, old: &str, new: &str| broken(file, old, new).1.remove(0);
    let m = first(TB, "key = ", "kye = \"\"\nkey = ");
    assert_eq!(text_of(&m, "near"), "key");
    let m = first(TB, "drive = \"battery\"", "drive = \"hydralic\"");
    assert_eq!(m.value, "\"hydralic\"");
    assert_eq!(text_of(&m, "allowed"), "hydraulic, battery, air-hydraulic");
    let m = first(TB, "holds = \"adapter\"", "holds = \"adaptor\"");
    assert!(text_of(&m, "allowed").starts_with("adapter, "));
    let m = first(TB, "tolerance_Nm = 4.0", "tolerance_Nm = 41.0");
    assert_eq!(m.value, "41.0");
}

#[test]
fn a_slip_in_a_key_shows_as_missing_and_as_unknown() {
    let (_, both) = broken(TB, "tolerance_Nm = 4.0", "tolerance_nm = 4.0");
    let ids: Vec<_> = both.iter().map(|m| m.problem.id).collect();
    assert_eq!(ids, ["sheet-key-missing", "sheet-key-unknown-near"]);
}

#[test]
fn a_table_may_round_by_five_percent() {
    let text = demo("models/skarnholt-hp-90.toml");
    // The table alone: a relation beside it is held to less.
    let (from, to) = (
        text.find("relation = {"),
        text.find("[[setting]]\nnose_set = \"n48-b12\""),
    );
    let (from, to) = from.zip(to).expect("both");
    let text = format!("{}{}", &text[..from], &text[to..]);
    for (pitch, holds) in [
        ("1.91", true),
        ("1.89", false),
        ("2.09", true),
        ("2.11", false),
    ] {
        let text = text.replacen("pitch_mm = 2.0", &format!("pitch_mm = {pitch}"), 1);
        // 0.500 turns a millimetre in the table, 1 / pitch wanted.
        assert_eq!(sheet::read("a.toml", &text).is_ok(), holds, "{pitch}");
    }
}

#[test]
fn one_setting_for_a_nose_set_and_fastener() {
    let other = "nose_set = \"n30-d6\"\nfastener = \"drumhale-d6\"";
    let again = "nose_set = \"n8\"\nfastener = \"marlstead-m8\"";
    let (_, mistakes) = broken(TB, other, again);
    assert_eq!(mistakes.len(), 1, "{}", listed(&mistakes));
    assert_eq!(mistakes[0].problem.id, "sheet-setting-twice");
    assert_eq!(mistakes[0].key, "setting[2].fastener");
}

#[test]
fn a_file_full_of_mistakes_names_them_all_in_order() {
    let text = demo(TB)
        .replacen("rated_pull_kN = 32.0", "rated_pull_kN = \"32\"", 1)
        .replacen("step_turns = 0.25", "step_turns = 4", 1)
        .replacen("price = \"38.00\"", "price = \"38,00\"", 1)
        .replacen("tolerance_Nm = 2.8", "tolerance_Nm = 28", 1)
        .replacen("months = 24", "month = 24", 1);
    let mistakes = sheet::read(TB, &text).expect_err("six mistakes");
    let keys: Vec<&str> = mistakes.iter().map(|m| m.key.as_str()).collect();
    assert_eq!(
        keys,
        [
            "rated_pull_kN",
            "adjuster.step_turns",
            "part[anvil].price",
            "joint[adapter].tolerance_Nm",
            "warranty.months",
            "warranty.month",
        ]
    );
    assert!(mistakes.is_sorted_by_key(|m| m.line));
}
