//! Bad input: a clear answer beside the field, everything typed kept, nothing stored.

use std::process::Command;

use crate::client::{Client, receive};
use crate::program::{BINARY, Program, run, text};

const TEST: &str = "bench-test-as-found-pull-force";

fn pulls<'a>(fifth: &'a str, gauge: &'a str) -> Vec<(&'a str, &'a str)> {
    let mut fields: Vec<(&str, &str)> = ["31.2", "31.0", "31.4", "31.3", fifth]
        .into_iter()
        .map(|value| ("reading", value))
        .collect();
    fields.push(("gauge", gauge));
    fields
}

#[test]
fn every_kind_of_wrong_reading_is_refused_at_its_field_and_kept() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    for (fifth, gauge, says) in [
        ("abc", "lc-50", "abc"),
        ("31.2 mm", "lc-50", "mm"),
        ("NaN", "lc-50", "NaN"),
        ("1e99", "lc-50", "1e99"),
        ("999", "lc-50", "999"),
        ("31.1", "", "Pick the gauge"),
        ("31.1", "c-3", "cannot take"),
        ("31.1", "no-such", "no-such"),
        ("", "lc-50", "4 readings"),
    ] {
        let page = client.get(&job);
        let answer = client.send(&page, TEST, &pulls(fifth, gauge));
        assert_eq!(answer.status, 422, "{fifth} {gauge}");
        let errors = answer.errors().join(" | ");
        assert!(errors.contains(says), "{fifth} {gauge}: {errors}");
        assert!(answer.body.contains("<title>Error: "), "the title says it");
        assert!(answer.body.contains("error-summary"));
        assert_eq!(
            answer.value(TEST, "reading").as_deref(),
            Some("31.2"),
            "typed stays"
        );
    }
    let page = client.get(&job);
    assert!(
        page.body.contains("Record: one entry"),
        "nothing was stored"
    );
}

#[test]
fn a_reading_from_a_gauge_out_of_date_is_kept_and_decides_nothing() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let stroke = [
        ("reading", "24.0"),
        ("reading", "24.0"),
        ("reading", "24.1"),
        ("gauge", "c-5"),
    ];
    let answer = client.send(&page, "bench-test-as-found-stroke-dry", &stroke);
    assert_eq!(answer.status, 303, "{:?}", answer.errors());
    let page = client.get(&job);
    assert!(page.body.contains("kept, not evidence"));
    assert!(page.body.contains("class=\"v und\""), "undecided");
}

#[test]
fn an_unknown_serial_asks_before_it_makes_a_tool() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let page = client.get("/receive?model=tulvane-tb-32");
    let answer = client.send(
        &page,
        "receive",
        &[
            ("serial", "7K-O412"),
            ("customer", "x"),
            ("complaint", "slips"),
            ("kit-1", "1"),
            ("kit-4", "1"),
            ("pack", "none"),
        ],
    );
    assert_eq!(answer.status, 422);
    let errors = answer.errors().join(" | ");
    assert!(
        errors.contains("7K-O412") && errors.contains("new to this shop"),
        "{errors}"
    );
    assert_eq!(
        answer.value("receive", "serial").as_deref(),
        Some("7K-O412")
    );
    assert!(client.get("/tools").body.contains("No tool has been here"));
}

#[test]
fn a_tool_that_is_on_the_bench_cannot_be_taken_in_again() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let number = job.rsplit('/').next().expect("a number").to_owned();
    // Next without a word.
    let empty = client.get("/receive?serial=&model=");
    assert_eq!(empty.status, 422);
    for said in ["Pick the model from the plate", "aria-invalid=\"true\""] {
        assert!(empty.body.contains(said), "{said}: {}", empty.body);
    }
    let page = client.get("/receive?serial=7k-1");
    let fields = [
        ("serial", "7K-1"),
        ("customer", "x"),
        ("complaint", "slips"),
        ("made_safe", "pack-out"),
        ("made_safe", "trigger-pressed"),
        ("kit-1", "1"),
        ("kit-4", "1"),
        ("pack", "none"),
    ];
    let answer = client.send(&page, "receive", &fields);
    assert!(
        answer.errors().join(" ").contains(&number),
        "{:?}",
        answer.errors()
    );
}

#[test]
fn a_sheet_withdrawn_under_an_open_job_stays_with_the_job() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    program.kill();
    let out = run(
        &[
            "sheets",
            "withdraw",
            "tool-model",
            "tulvane-tb-32",
            "--by",
            "Ansa",
        ],
        &program.store,
    );
    assert!(out.status.success(), "{}", text(&out));

    let program = Program::serve(&program.store.clone(), "").adopt(&mut program);
    let mut client = Client::at(&program.address);
    let page = client.get(&job);
    assert_eq!(page.status, 200);
    let answer = client.send(&page, TEST, &pulls("31.1", "lc-50"));
    assert_eq!(answer.status, 303, "{:?}", answer.errors());
    let counter = client.get("/receive");
    assert!(
        !counter.body.contains("value=\"tulvane-tb-32\""),
        "new jobs cannot pick it"
    );
}

#[test]
fn nobody_writes_without_a_name() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let mut nameless = Client::nameless(&program.address);
    let page = nameless.get(&job);
    let answer = nameless.send(&page, "not-safe", &[("reason", "cracked shell")]);
    assert_eq!(answer.status, 422);
    assert!(answer.body.contains("Pick your name"));
    assert!(answer.body.contains("cracked shell"), "typed stays");
}

#[test]
fn programs_read_in_json_what_was_done_and_what_is_to_be_mended() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    receive(&mut client, "7K-1");
    program.kill();
    let json = |arguments: &[&str], code: i32| -> serde_json::Value {
        let mut command = Command::new(BINARY);
        let command = command
            .args(arguments)
            .env("SETWRIGHT_STORE", &program.store);
        let ended = command.output().expect("runs");
        assert_eq!(ended.status.code(), Some(code), "{arguments:?}");
        serde_json::from_slice(&ended.stdout).expect("JSON")
    };
    let wait = [
        "job",
        "do",
        "1001",
        "wait",
        "for=parts",
        "--who",
        "Ansa",
        "--json",
    ];
    assert_eq!(json(&wait, 0)["job"], 1001);
    let cause = [
        "job", "do", "1001", "not-safe", "reason=", "--who", "Ansa", "--json",
    ];
    let refused = json(&cause, 1);
    assert_eq!(refused["refused"][0]["field"], "reason");
    let verified = json(&["verify", "--json"], 0);
    assert_eq!(verified["differences"], serde_json::json!([]));
    assert!(verified["head"]["seq"].as_u64() > Some(2));
    assert_eq!(json(&["rebuild", "--json"], 0)["jobs"], 1);
    let forms = json(&["job", "forms", "--json"], 0);
    assert!(
        forms
            .as_array()
            .is_some_and(|f| f.contains(&"found-joint".into()))
    );

    let sheet = program.store.with_file_name("c-9.toml");
    std::fs::write(&sheet, "sheet = \"gauge\"\nid = \"c-9\"\n").expect("written");
    let path = sheet.to_str().expect("a plain path");
    let mistakes = json(&["sheets", "check", path, "--json"], 1);
    assert_eq!(mistakes["mistakes"][0]["file"], path);
    assert!(mistakes["mistakes"][0]["line"].as_u64().is_some());
}

#[test]
fn what_is_not_sent_at_the_prompt_stays_in_the_receipt() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    receive(&mut client, "7K-1");
    program.kill();
    let last = |fields: &[&str]| -> serde_json::Value {
        let amend = ["job", "do", "1001", "amend-receipt", "--who", "Ansa"];
        let ended = run(&[&amend, fields].concat(), &program.store);
        assert_eq!(ended.status.code(), Some(0), "{}", text(&ended));
        let shown = run(&["job", "show", "1001", "--json"], &program.store);
        let shown: serde_json::Value = serde_json::from_slice(&shown.stdout).expect("JSON");
        let entries = shown["entries"].as_array().expect("entries");
        entries.last().expect("one")["body"].clone()
    };
    let all = last(&[
        "counter=61480",
        "sold=2026-01-05",
        "due=2026-12-01",
        "reason=misread",
    ]);
    assert_eq!(all["counter"], 61480);
    let one = last(&["complaint=slips", "reason=told again"]);
    assert_eq!(one["complaint"], "slips");
    for kept in ["counter", "sold", "due"] {
        assert_eq!(one[kept], all[kept], "{kept}");
    }
    let emptied = last(&["due=", "reason=no promise"]);
    assert!(emptied["due"].is_null(), "an empty box takes it out");
}

#[test]
fn a_field_that_a_form_has_not_is_refused_with_those_that_it_has() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    receive(&mut client, "7K-1");
    program.kill();
    let wait = ["job", "do", "1001", "wait", "--who", "Ansa"];
    let slip = run(
        &[&wait, &["for=parts", "noet=pins"][..]].concat(),
        &program.store,
    );
    assert_eq!(slip.status.code(), Some(1));
    let said = text(&slip);
    assert!(
        said.contains("noet") && said.contains("for, note"),
        "{said}"
    );
    let listed = run(&["job", "forms", "1001", "wait"], &program.store);
    assert_eq!(text(&listed), "for\nnote\n");
    let not_now = run(&["job", "forms", "1001", "proof-done"], &program.store);
    assert_eq!(not_now.status.code(), Some(1), "{}", text(&not_now));
    let right = run(
        &[&wait, &["for=parts", "note=pins"][..]].concat(),
        &program.store,
    );
    assert_eq!(right.status.code(), Some(0), "{}", text(&right));
}
