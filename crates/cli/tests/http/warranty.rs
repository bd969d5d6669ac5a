//! The warranty over HTTP: the day from which it runs, the entry that a verdict rests on, what it asks for.

use crate::client::{Answer, Client, done, form, receive};
use crate::program::Program;
use crate::suspect::words_of;

/// A hydraulic tool, whose months run from first use, with these days.
fn hydraulic(client: &mut Client, days: &[(&str, &str)]) -> Answer {
    let page = client.get("/receive?model=skarnholt-hp-90");
    let mut fields = vec![
        ("serial", "HP-1"),
        ("new_tool", "yes"),
        ("customer", "Hollin Flats Bin Erectors"),
        ("counter", "9870"),
        ("complaint", "slow"),
        ("symptoms", "slow-cycle"),
        ("made_safe", "pump-off"),
        ("made_safe", "lines-zero"),
        ("made_safe", "couplers-parted"),
    ];
    let kit = ["kit-1", "kit-2", "kit-3", "kit-4", "kit-5", "kit-6"];
    fields.extend(kit.map(|name| (name, "1")));
    fields.extend(days);
    client.send(&page, "receive", &fields)
}

fn job_of(answer: &Answer) -> String {
    assert_eq!(answer.status, 303, "{:?}", answer.errors());
    let path = answer.location.split('#').next();
    path.expect("a path").to_owned()
}

#[test]
fn the_day_of_first_use_is_asked_for_where_the_terms_run_from_it() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let others = client.get("/receive?model=tulvane-tb-32");
    assert_eq!(others.value("receive", "first_used"), None);
    let job = receive(&mut client, "7K-1");
    assert_eq!(client.get(&job).value("amend-receipt", "first_used"), None);

    let early = hydraulic(
        &mut client,
        &[("sold", "2026-02-01"), ("first_used", "2026-01-31")],
    );
    assert_eq!(early.status, 422);
    assert!(early.body.contains("id=\"receive-first_used-error\""));
    let kept = early.value("receive", "first_used");
    assert_eq!(kept.as_deref(), Some("2026-01-31"), "what was typed stays");

    let job = job_of(&hydraulic(&mut client, &[("sold", "2026-02-01")]));
    let not_safe = [("reason", "shell cracked")];
    done(&mut client, &job, "not-safe", &not_safe);
    let page = done(&mut client, &job, "cause", &[("causes", "relief-leaking")]);
    let proposed = form(&page.body, "warranty").expect("the form");
    assert!(
        proposed.contains("36 months from first use")
            && proposed.contains("no paper shows the day of first use"),
        "{proposed}"
    );
    let amended = [("first_used", "2026-03-05"), ("reason", "the site's list")];
    let page = done(&mut client, &job, "amend-receipt", &amended);
    let proposed = form(&page.body, "warranty").expect("the form");
    assert!(!proposed.contains("no paper shows"), "{proposed}");
    assert!(page.body.contains("5 Mar 2026"));
}

/// A tool with worn teeth and a photo of them; its job, and the version of the photo's entry.
fn photographed(client: &mut Client) -> (String, String) {
    let job = receive(client, "7K-1");
    done(client, &job, "not-safe", &[("reason", "shell cracked")]);
    done(client, &job, "cause", &[("causes", "collet-teeth-worn")]);
    let photo = include_bytes!("../../../store/tests/attachments/samples/progressive.jpg");
    let page = client.get(&job);
    let note = [("note", "teeth worn flat")];
    let stored = client.upload(&page, "file-agreed", &note, &[("file", "teeth.jpg", photo)]);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(&job);
    let at = page.body.split("<li id=\"file-").nth(1).expect("the photo");
    let version = at.split('"').next().expect("its version").to_owned();
    (job, version)
}

#[test]
fn a_verdict_leads_to_the_photo_that_decides_and_says_when_it_was_struck() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let (job, photo) = photographed(&mut client);
    let page = client.get(&job);
    let choices = form(&page.body, "warranty").expect("the form");
    for words in ["teeth worn flat", "Received, ", "Cause confirmed: "] {
        assert!(choices.contains(words), "{words} in {choices}");
    }
    let verdict = |entry| {
        [
            ("line_cover", "not-covered"),
            ("line_term", "parts that wear"),
            ("line_evidence", ""),
            ("line_entry", entry),
            ("line_cover-2", "not-covered"),
            ("line_term-2", "labour goes with the parts"),
            ("line_evidence-2", "no part is covered"),
            ("line_entry-2", ""),
        ]
    };
    let refused = client.send(&page, "warranty", &verdict("99"));
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("id=\"warranty-line_entry-error\""));
    let page = done(&mut client, &job, "warranty", &verdict(&photo));
    assert!(page.body.contains(&format!("href=\"#file-{photo}\"")));
    let claim = |client: &mut Client| {
        let pdf = client.get(&format!("{job}/warranty-claim.pdf"));
        assert_eq!(pdf.status, 200);
        words_of(&pdf.bytes)
    };
    let paper = claim(&mut client);
    assert!(
        paper.contains("Photo of") && paper.contains("teeth worn flat"),
        "{paper}"
    );
    assert!(!paper.contains("struck since"), "{paper}");

    let strike = format!("strike-{photo}");
    let page = done(&mut client, &job, &strike, &[("reason", "another tool")]);
    assert!(page.body.contains("struck since"));
    assert!(page.body.contains(&format!("href=\"#entry-{photo}\"")));
    assert!(page.body.contains(&format!("id=\"entry-{photo}\"")));
    let paper = claim(&mut client);
    assert!(paper.contains("struck since"), "{paper}");
}

#[test]
fn covered_without_the_evidence_that_the_terms_require_stands_by_its_reason() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let (job, _) = photographed(&mut client);
    let page = client.get(&job);
    let asks = form(&page.body, "warranty").expect("the form");
    // What the terms decide by themselves stands there before anything is sent.
    assert!(
        asks.contains("Proof of sale with its date")
            && page
                .body
                .contains("By the maker's terms alone: not covered ("),
        "{asks}"
    );
    let covered = [
        ("line_cover", "covered"),
        ("line_cover-2", "cannot-tell"),
        ("line_term", "a defect"),
        ("line_term-2", "labour"),
        ("line_evidence", "seen"),
        ("line_evidence-2", "seen"),
        ("at_hand", "Pull counter at receipt"),
    ];
    let refused = client.send(&page, "warranty", &covered);
    assert_eq!(refused.status, 422);
    let told = refused.errors().join(" ");
    assert!(
        told.contains("Proof of sale with its date") && !told.contains("Pull counter at receipt"),
        "{told}"
    );
    let reason = "The maker holds the bill.";
    let with_reason = [&covered[..], &[("without_reason", reason)]].concat();
    let page = done(&mut client, &job, "warranty", &with_reason);
    assert!(page.body.contains(reason) && page.body.contains("✓ Pull counter at receipt"));
    let pdf = client.get(&format!("{job}/warranty-claim.pdf"));
    let paper = words_of(&pdf.bytes);
    assert!(paper.contains(reason), "{paper}");
}

#[test]
fn evidence_says_what_the_check_answered_and_nothing_is_claimed_of_what_is_not_covered() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    done(
        &mut client,
        &job,
        "not-safe",
        &[("reason", "shell cracked")],
    );
    let page = client.get(&job);
    let (_, rest) = page.body.split_once("<form id=\"check-").expect("a check");
    let id = format!("check-{}", rest.split('"').next().expect("its id"));
    let answer = [
        ("answer", "yes"),
        ("note", "crests flat half the pitch"),
        ("made_safe", "pack-out"),
        ("made_safe", "trigger-pressed"),
    ];
    done(&mut client, &job, &id, &answer);
    let page = done(
        &mut client,
        &job,
        "cause",
        &[("causes", "collet-teeth-worn")],
    );
    let choices = form(&page.body, "warranty").expect("the form");
    let (before, _) = choices
        .split_once("crests flat half the pitch")
        .expect("its evidence");
    let (_, option) = before.rsplit_once("<option value=\"").expect("an option");
    assert!(option.trim_end().ends_with("? Yes"), "{option}");
    let check = option.split('"').next().expect("a version").to_owned();
    let lines = [
        ("line_cover", "not-covered"),
        ("line_term", "parts that wear"),
        ("line_entry", check.as_str()),
        ("line_cover-2", "not-covered"),
        ("line_term-2", "labour goes with the parts"),
        ("line_evidence-2", "no part is covered"),
    ];
    let page = done(&mut client, &job, "warranty", &lines);
    assert!(page.body.contains("? Yes crests flat half the pitch"));
    let pdf = client.get(&format!("{job}/warranty-claim.pdf"));
    let paper = words_of(&pdf.bytes);
    assert!(paper.contains("Yes crests flat half the pitch"), "{paper}");
    // It is not offered: there is nothing to claim.
    assert!(!page.body.contains("To send with a claim"));
    assert!(!page.body.contains(&format!("{job}/warranty-claim.pdf")));
}

#[test]
fn the_answer_is_asked_to_what_is_due() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let (job, _) = photographed(&mut client);
    let covered = [
        ("line_cover", "covered"),
        ("line_cover-2", "covered"),
        ("line_term", "a defect"),
        ("line_term-2", "labour goes with the parts"),
        ("line_evidence", "seen"),
        ("line_evidence-2", "seen"),
        ("without_reason", "The maker holds the bill."),
    ];
    let page = done(&mut client, &job, "warranty", &covered);
    assert!(page.body.contains("To send with a claim"));
    let lines = [
        ("what", "Collet CR8"),
        ("number", "CR8"),
        ("count", "1"),
        ("each", "64.00"),
        ("what-2", "Labour"),
        ("count-2", "1"),
        ("each-2", "36.00"),
    ];
    let page = done(&mut client, &job, "estimate", &lines);
    let asked = form(&page.body, "answer").expect("the form");
    let due = "0.00 USD due; the warranty pays 100.00 USD";
    assert!(asked.contains(due), "{asked}");
    // Beside the repair the warranty pays nothing.
    let is_along = |row: &usize| {
        let option = page.value("estimate", &format!("option-{row}"));
        option.as_deref() == Some("2")
    };
    let row = (2..40).find(is_along).expect("a place for it");
    let named = ["what", "count", "each"].map(|name| format!("{name}-{row}"));
    let mut offer = lines.to_vec();
    offer.extend([("offer-2", "yes"), ("option_name-2", "Wear")]);
    let anvil = ["Anvil", "1", "38.00"];
    offer.extend(named.iter().map(String::as_str).zip(anvil));
    let page = done(&mut client, &job, "estimate", &offer);
    let asked = form(&page.body, "answer").expect("the form");
    assert!(asked.contains(due) && asked.contains("Wear: "), "{asked}");
    assert_eq!(asked.matches("the warranty pays").count(), 1, "{asked}");
}
