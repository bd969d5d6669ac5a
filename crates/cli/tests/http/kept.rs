//! What was typed is never lost: forms whose job has gone on, forms changed after they were stored,
//! forms that fit no more.

use crate::client::{Answer, Client, form, ready, receive};
use crate::program::{Program, run, text};

const CAUSE: [(&str, &str); 2] = [("causes", "collet-teeth-worn"), ("note", "flat crests")];

/// A cause may be named once the tool was tested, or cannot be.
fn untested(client: &mut Client, job: &str) {
    let page = client.get(job);
    let stored = client.send(&page, "not-safe", &[("reason", "cracked shell")]);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
}

/// The top of the page, as far as the stages.
fn top(answer: &Answer) -> &str {
    let end = answer.body.find("<section id=\"received\"");
    &answer.body[..end.expect("a job page")]
}

#[test]
fn a_form_that_the_job_has_left_behind_keeps_what_was_typed_at_the_top() {
    let program = Program::start();
    let mut first = Client::at(&program.address);
    let mut second = Client::of(&program.address, "Ansa");
    let job = receive(&mut first, "7K-1");
    untested(&mut first, &job);
    let (seen_by_first, seen_by_second) = (first.get(&job), second.get(&job));
    let other = [("causes", "collet-teeth-worn"), ("note", "dull")];
    let stored = first.send(&seen_by_first, "cause", &other);
    assert_eq!(stored.status, 303, "{}", top(&stored));

    let refused = second.send(&seen_by_second, "cause", &CAUSE);
    assert_eq!(refused.status, 409);
    assert!(form(&refused.body, "cause").is_none(), "the form is gone");
    assert!(!refused.body.contains("is still in its form below"));
    assert!(top(&refused).contains("is not on this page any more"));
    assert!(top(&refused).contains("<dd>flat crests</dd>"), "to copy");
    assert_eq!(
        refused.value("typed-again", "note").as_deref(),
        Some("flat crests")
    );

    // Sent again it stands on the newest version: no conflict.
    let again = second.send(&refused, "typed-again", &[]);
    assert_eq!(again.status, 303, "{}", again.body);
    assert!(second.get(&job).body.contains("flat crests"));
}

#[test]
fn a_form_changed_after_it_was_stored_is_not_dropped() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let first = client.send(&page, "wait", &[("for", "parts"), ("note", "collet")]);
    assert_eq!(first.status, 303);
    // Back, another note, send: the key is that of the form which was stored.
    let changed = client.send(&page, "wait", &[("for", "parts"), ("note", "anvil")]);
    assert_eq!(changed.status, 409);
    assert!(
        top(&changed).contains("<dd>anvil</dd>"),
        "{}",
        top(&changed)
    );
    // Back, the same again: stored before.
    let same = client.send(&page, "wait", &[("for", "parts"), ("note", "collet")]);
    assert!(same.location.contains("repeated=true"), "{}", same.location);
}

#[test]
fn a_form_shown_again_after_a_conflict_is_stored_with_what_was_changed_in_it() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let amended = |complaint| [("complaint", complaint), ("reason", "heard wrongly")];
    let first = client.send(&page, "amend-receipt", &amended("slips"));
    assert_eq!(first.status, 303, "{:?}", first.errors());
    let changed = client.send(&page, "amend-receipt", &amended("slips and stalls"));
    assert_eq!(changed.status, 409);
    assert!(changed.body.contains("slips and stalls</textarea>"));
    let stored = client.send(&changed, "amend-receipt", &amended("slips and stalls"));
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(&job);
    assert!(page.body.contains("“slips and stalls”"));
}

#[test]
fn no_form_is_refused_without_a_word() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let (_, ours) = ready(&page, "cause");
    let csrf = &ours.iter().find(|(n, _)| n == "csrf").expect("a token").1;
    for (kind, version, extra) in [
        ("joint", "1", ("turns", "6")),
        ("skip", "1", ("stage", "no-such")),
        ("wait", "99", ("for", "parts")),
        ("wait", "", ("for", "parts")),
        ("wait", "x", ("for", "parts")),
        ("strike", "1", ("entry", "77")),
    ] {
        let fields = [
            ("csrf", csrf.as_str()),
            ("version", version),
            extra,
            ("note", "kept all the same"),
        ];
        let answer = client.post(&format!("{job}/{kind}"), &fields);
        assert_eq!(answer.status, 422, "{kind} {version}");
        let at = answer.body.find("class=\"error-summary\"");
        let summary = &answer.body[at.expect("a summary")..];
        let first = summary.split("<li>").nth(1).unwrap_or_default();
        let said = first.split("</li>").next().unwrap_or_default();
        assert!(said.len() > 10, "{kind} {version}: {said}");
        assert!(top(&answer).contains("kept all the same"), "{kind}");
    }
    assert!(client.get(&job).body.contains("Record: one entry"));
}

#[test]
fn a_refused_form_in_a_folded_stage_is_in_sight() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    untested(&mut client, &job);
    let page = client.get(&job);
    // The cause ends the stage Fault, which folds.
    let stored = client.send(&page, "cause", &CAUSE);
    assert_eq!(stored.status, 303, "{}", top(&stored));
    let page = client.get(&job);
    let fault = page.body.find("<section id=\"fault\"").expect("a stage");
    let strike = page.body[fault..].split("<form id=\"strike-").nth(1);
    let version = strike.and_then(|s| s.split('"').next()).expect("a form");
    let refused = client.send(&page, &format!("strike-{version}"), &[("reason", "")]);
    assert_eq!(refused.status, 422);
    let fault = refused.body.split("<section id=\"fault\"").nth(1);
    let stage = fault.and_then(|f| f.split('>').nth(1)).expect("a stage");
    assert!(
        stage.contains("details") && stage.contains(" open"),
        "{stage}"
    );
}

#[test]
fn a_text_that_is_too_long_is_refused_at_its_field_and_kept() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let long = "x".repeat(4001);
    let refused = client.send(&page, "not-safe", &[("reason", &long)]);
    assert_eq!(refused.status, 422);
    assert!(
        refused.errors().join(" ").contains("4001"),
        "{:?}",
        refused.errors()
    );
    assert_eq!(refused.value("not-safe", "reason"), Some(long.clone()));
    let fits = client.send(&refused, "not-safe", &[("reason", &long[1..])]);
    assert_eq!(fits.status, 303, "{:?}", fits.errors());
}

#[test]
fn counts_of_the_kit_and_the_pack_are_asked_for() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let page = client.get("/receive?model=tulvane-tb-32");
    let fields = [
        ("serial", "7K-1"),
        ("new_tool", "yes"),
        ("customer", "x"),
        ("complaint", "slips"),
        ("made_safe", "pack-out"),
        ("made_safe", "trigger-pressed"),
    ];
    let refused = client.send(&page, "receive", &fields);
    let errors = refused.errors().join(" | ");
    assert_eq!(refused.status, 422);
    assert_eq!(
        errors.matches("Enter 0 if it did not come").count(),
        2,
        "{errors}"
    );
    assert!(errors.contains("Pick the state of the pack"), "{errors}");
    let counted = |n| {
        [
            ("kit-1", "1"),
            ("kit-4", "0"),
            ("kit-2", n),
            ("pack", "sound"),
        ]
    };
    let many = [fields.as_slice(), &counted("1001")].concat();
    let refused = client.send(&page, "receive", &many);
    assert!(
        refused.errors().join(" ").contains("0 to 1000"),
        "{:?}",
        refused.errors()
    );
    let all = [fields.as_slice(), &counted("2")].concat();
    let taken = client.send(&page, "receive", &all);
    assert_eq!(taken.status, 303, "{:?}", taken.errors());
}

#[test]
fn a_model_withdrawn_while_the_form_was_open_takes_nothing_along() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let page = client.get("/receive?model=tulvane-tb-32");
    let (_, ours) = ready(&page, "receive");
    program.kill();
    let withdraw = [
        "sheets",
        "withdraw",
        "tool-model",
        "tulvane-tb-32",
        "--by",
        "Ansa",
    ];
    let out = run(&withdraw, &program.store);
    assert!(out.status.success(), "{}", text(&out));
    let program = Program::serve(&program.store.clone(), "").adopt(&mut program);
    let mut client = Client::at(&program.address);
    let csrf = ready(&client.get("/receive?model=orrinbeck-ah-21"), "receive").1;
    let key = &ours
        .iter()
        .find(|(n, _)| n == "submission")
        .expect("a key")
        .1;
    let csrf = &csrf.iter().find(|(n, _)| n == "csrf").expect("a token").1;
    let fields = [
        ("csrf", csrf.as_str()),
        ("submission", key.as_str()),
        ("form", "receive"),
        ("model", "tulvane-tb-32"),
        ("serial", "7K-9"),
        ("complaint", "slips since Monday"),
    ];
    let refused = client.post("/receive", &fields);
    assert_eq!(refused.status, 422);
    assert!(refused.errors().join(" ").contains("withdrawn"));
    assert!(
        refused.body.contains("<dd>slips since Monday</dd>"),
        "to copy"
    );
    assert_eq!(
        refused.value("receive-first", "serial").as_deref(),
        Some("7K-9")
    );
    assert_eq!(
        refused.value("receive-first", "complaint").as_deref(),
        Some("slips since Monday"),
        "it goes on to the form of the model that is picked"
    );
    let other = "/receive?serial=7K-9&complaint=slips+since+Monday&model=orrinbeck-ah-21";
    let form = client.get(other);
    assert!(form.body.contains("slips since Monday</textarea>"));
}

#[test]
fn a_list_goes_on_after_the_rows_that_were_shown() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    receive(&mut client, "7K-1");
    for list in ["/", "/tools"] {
        let first = client.get(list);
        assert!(first.body.contains("7K-1") && !first.body.contains("rel=\"next\""));
        let second = client.get(&format!("{list}?after=200"));
        assert_eq!(second.status, 200);
        assert!(!second.body.contains("7K-1"), "{list}");
        assert!(second.body.contains("?after=0\""), "{list}: the way back");
    }
}
