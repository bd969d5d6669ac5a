//! `setwright calc` and `setwright validate` as they are typed.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

fn setwright(args: &[&str]) -> Output {
    with_input(args, "")
}

fn with_input(args: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_setwright"))
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut pipe = child.stdin.take().expect("standard input");
    // A program that refuses its arguments does not read.
    pipe.write_all(input.as_bytes()).ok();
    drop(pipe);
    child.wait_with_output().expect("the program ends")
}

fn code(output: &Output) -> i32 {
    output.status.code().expect("an exit code")
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("UTF-8")
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("UTF-8")
}

fn json(output: &Output) -> Value {
    serde_json::from_str(&out(output)).expect("JSON")
}

fn scratch(name: &str, text: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::write(&path, text).expect("temporary folder takes a file");
    path
}

const CASE: &str = "method = \"torque-adapter\"\n[[case]]\nid = \"a\"\nsource = \"FAA AC 43.13-1B\"\n\
                    kind = \"memory\"\nhow_checked = \"recalled\"\ntolerance = { abs = 0.005 }\n\
                    inputs = { torque_Nm = 30, wrench_mm = 10, adapter_mm = 1.5 }\n";

#[test]
fn the_cases_in_the_program_pass() {
    let ran = setwright(&["validate", "--json"]);
    assert_eq!(code(&ran), 0, "{}", err(&ran));
    let json = json(&ran);
    let counts = &json["counts"];
    let count = |name: &str| counts[name].as_u64().expect("a count");
    assert_eq!(count("failed"), 0);
    assert_eq!(count("all"), count("passed") + count("not_available"));
    assert!(count("passed") >= 60, "{counts}");
    // Each case is told, also one whose method is not there.
    let cases = json["cases"].as_array().expect("cases");
    assert_eq!(cases.len() as u64, count("all"));
    let missing = cases.iter().filter(|c| c["verdict"] == "not-available");
    assert_eq!(missing.count() as u64, count("not_available"));
}

#[test]
fn the_table_names_method_case_values_and_verdict() {
    let ran = setwright(&["validate"]);
    let text = out(&ran);
    let line = text.lines().find(|l| l.contains("26.09")).expect("a line");
    for part in [
        "torque-adapter",
        "in-line",
        "memory",
        "setting_Nm",
        "26.08",
        "± 0.005",
        "pass",
    ] {
        assert!(line.contains(part), "{part}: {line}");
    }
    assert!(text.contains("cases:"), "no summary");
    assert!(!text.contains('⟦'), "a text is missing");
}

#[test]
fn a_reader_that_goes_away_does_no_harm() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_setwright"))
        .arg("validate")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let ran = child.wait_with_output().expect("the program ends");
    assert_eq!((code(&ran), err(&ran)), (0, String::new()));
}

#[test]
fn a_wrong_value_fails_the_run() {
    let wrong = scratch(
        "wrong.toml",
        &format!("{CASE}expected = {{ setting_Nm = 26.35 }}\n"),
    );
    let ran = setwright(&["validate", wrong.to_str().expect("path")]);
    assert_eq!(code(&ran), 1);
    assert!(out(&ran).contains("FAIL"), "{}", out(&ran));
    assert_eq!(err(&ran), "One case failed.\n");
    let right = scratch(
        "right.toml",
        &format!("{CASE}expected = {{ setting_Nm = 26.09 }}\n"),
    );
    assert_eq!(
        code(&setwright(&["validate", right.to_str().expect("path")])),
        0
    );
}

#[test]
fn own_files_also_from_standard_input_and_with_series_beside_them() {
    let text = format!("{CASE}expected = {{ setting_Nm = 26.09 }}\n");
    assert_eq!(code(&with_input(&["validate", "-"], &text)), 0);
    scratch("own-series.csv", "reading\n12.43\n12.47\n");
    let series = scratch(
        "series.toml",
        "method = \"repeated-readings-mean\"\n[[case]]\nid = \"a\"\nsource = \"arithmetic\"\nkind = \"common-practice\"\n\
         how_checked = \"by hand\"\ntolerance = { abs = 1e-12 }\n\
         inputs = { readings = { csv = \"own-series.csv\", column = \"reading\" } }\nexpected = { mean = 12.45 }\n",
    );
    let ran = setwright(&["validate", series.to_str().expect("path")]);
    assert_eq!(code(&ran), 0, "{}", out(&ran));
}

#[test]
fn a_method_that_is_not_there_is_counted_and_a_slip_is_told() {
    let text = format!("{CASE}method = \"torque-adaptor\"\nexpected = {{ setting_Nm = 26.09 }}\n");
    let ran = with_input(&["validate", "-"], &text);
    assert_eq!(code(&ran), 0);
    assert!(out(&ran).contains("not available"), "{}", out(&ran));
    assert!(
        out(&ran).contains("Is torque-adapter meant?"),
        "{}",
        out(&ran)
    );
}

#[test]
fn a_file_with_a_mistake_is_refused_by_name_and_line() {
    let bad = scratch(
        "bad.toml",
        &format!("{CASE}expectd = {{ setting_Nm = 26.09 }}\n"),
    );
    let ran = setwright(&["validate", bad.to_str().expect("path")]);
    assert_eq!(code(&ran), 1);
    for part in ["bad.toml", "line", "expectd"] {
        assert!(err(&ran).contains(part), "{}", err(&ran));
    }
    assert_eq!(code(&setwright(&["validate", "no-such-file.toml"])), 1);
}

#[test]
fn the_report_is_a_pdf_also_when_a_case_fails() {
    for (name, value, exit) in [("ok", "26.09", 0), ("fail", "26.35", 1)] {
        let text = format!("{CASE}expected = {{ setting_Nm = {value} }}\n");
        let cases = scratch(&format!("pdf-{name}.toml"), &text);
        let pdf = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("validation-{name}.pdf"));
        let paths = [cases.to_str().expect("path"), pdf.to_str().expect("path")];
        let ran = setwright(&["validate", paths[0], "--pdf", paths[1]]);
        assert_eq!(code(&ran), exit, "{}", err(&ran));
        assert!(fs::read(&pdf).expect("written").starts_with(b"%PDF"));
    }
}

#[test]
fn a_method_runs_from_an_argument_and_from_standard_input() {
    let input = r#"{"torque_Nm": 40, "wrench_mm": 320, "adapter_mm": 55}"#;
    let ran = setwright(&["calc", "torque-adapter", "--json", input]);
    assert_eq!(code(&ran), 0, "{}", err(&ran));
    assert_eq!(json(&ran)["method"], "torque-adapter");
    assert!(json(&ran)["working"]["given"][0]["what"].as_str() == Some("torque at the fastener"));
    let piped = with_input(&["calc", "torque-adapter", "--json", "-"], input);
    assert_eq!(out(&piped), out(&ran));
}

#[test]
fn refusals_name_field_value_and_what_is_allowed() {
    let input = r#"{"torque_Nm": -1, "wrench_mm": 320, "adapter_mm": 55}"#;
    let ran = setwright(&["calc", "torque-adapter", "--json", input]);
    assert_eq!(code(&ran), 1);
    let refused = &json(&ran)["refused"];
    assert_eq!(refused["field"], "torque_Nm");
    assert_eq!(refused["value"], "-1");
    assert_eq!(refused["allowed"], "> 0");
    assert!(err(&ran).contains("torque_Nm = -1"), "{}", err(&ran));

    let unknown = setwright(&["calc", "torque-adapter", "--json", r#"{"torque_nm": 1}"#]);
    assert_eq!(code(&unknown), 1);
    assert!(
        err(&unknown).contains("Is torque_Nm meant?"),
        "{}",
        err(&unknown)
    );
}

#[test]
fn what_was_not_understood_has_exit_code_2() {
    let unknown = setwright(&["calc", "torque-adaptor"]);
    assert_eq!(code(&unknown), 2);
    assert!(
        err(&unknown).contains("Is torque-adapter meant?"),
        "{}",
        err(&unknown)
    );
    assert_eq!(
        code(&setwright(&["calc", "torque-adapter", "--json", "{"])),
        2
    );
    assert_eq!(code(&setwright(&["calc"])), 2);
}

#[test]
fn the_schema_is_json_and_says_what_is_required() {
    let ran = setwright(&["calc", "torque-adapter", "--schema"]);
    let input = &json(&ran)["$defs"]["input"];
    let required = input["required"].as_array().expect("a list");
    assert!(required.iter().any(|key| key == "torque_Nm"), "{input}");
    assert_eq!(input["additionalProperties"], false);
}

#[test]
fn a_method_shows_what_goes_in_and_comes_out() {
    let text = out(&setwright(&["calc", "torque-adapter"]));
    for part in [
        "T_set =",
        "torque_Nm",
        "required",
        "angle_deg",
        "= 0.0",
        "setting_Nm",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
}

/// The page lists exactly the methods of the program, as the program describes them.
#[test]
fn the_page_of_methods_is_up_to_date() {
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/methods.md");
    let page = fs::read_to_string(page).expect("docs/methods.md");
    let escaped = |value: &Value| value.as_str().expect("text").replace('|', "\\|");
    let listed = json(&setwright(&["calc", "list", "--json"]));
    let rows: Vec<String> = listed
        .as_array()
        .expect("a list")
        .iter()
        .map(|m| {
            let [what, formula, source] = ["summary", "formula", "source"].map(|k| escaped(&m[k]));
            format!(
                "| `{}` | {what} | {formula} | {source} |",
                escaped(&m["name"])
            )
        })
        .collect();
    let on_page: Vec<&str> = page.lines().filter(|l| l.starts_with("| `")).collect();
    assert_eq!(on_page, rows);
}

/// The examples on the page about check files hold.
#[test]
fn the_examples_of_the_page_about_check_files_pass() {
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/checks.md");
    let page = fs::read_to_string(page).expect("docs/checks.md");
    let blocks = page.split("```toml\n").skip(1);
    let blocks: Vec<&str> = blocks.filter_map(|b| b.split("```").next()).collect();
    let whole = blocks.iter().filter(|b| b.contains("[[case]]"));
    let mut ran = 0;
    for block in whole {
        let method = "method = \"student-coverage-factor\"\n";
        let text = if block.starts_with("method") {
            (*block).to_owned()
        } else {
            format!("{method}{block}")
        };
        let output = with_input(&["validate", "-"], &text);
        assert_eq!(
            code(&output),
            0,
            "{block}\n{}{}",
            out(&output),
            err(&output)
        );
        assert!(
            out(&output).contains(" 0 not available"),
            "{}",
            out(&output)
        );
        ran += 1;
    }
    assert_eq!(ran, 2);
}
