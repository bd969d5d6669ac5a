//! From the warranty to the quote, its revision, an answer by telephone, and the ends of a job.

use crate::client::{Answer, Client, done, receive};
use crate::program::{Program, text};

fn today() -> String {
    let now = jiff::Timestamp::now();
    now.to_zoned_datetime(jiff::tz::TimeZone::system())
        .date()
        .to_string()
}

#[track_caller]
fn refused(client: &mut Client, job: &str, form: &str, fields: &[(&str, &str)]) -> Answer {
    let page = client.get(job);
    let done = client.send(&page, form, fields);
    assert_eq!(done.status, 422, "{form}: {}", done.body);
    done
}

fn words_of(client: &mut Client, path: &str) -> String {
    let pdf = client.get(path);
    assert_eq!(pdf.status, 200, "{path}");
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("paper.pdf");
    std::fs::write(&file, &pdf.bytes).expect("written");
    let told = std::process::Command::new("pdftotext")
        .args(["-raw".as_ref(), file.as_os_str(), "-".as_ref()])
        .output();
    let told = text(&told.expect("pdftotext of poppler-utils is installed"));
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A tool with worn teeth whose warranty was judged as proposed.
fn judged(client: &mut Client, serial: &str) -> String {
    let job = receive(client, serial);
    done(client, &job, "not-safe", &[("reason", "shell cracked")]);
    done(client, &job, "cause", &[("causes", "collet-teeth-worn")]);
    let lines = [
        ("line_cover", "not-covered"),
        ("line_term", "parts that wear are not covered"),
        ("line_evidence", "the cause is in the collet"),
        ("line_cover-2", "not-covered"),
        ("line_term-2", "labour goes with the parts"),
        ("line_evidence-2", "no part is covered"),
    ];
    done(client, &job, "warranty", &lines);
    job
}

const QUOTE: [(&str, &str); 16] = [
    ("what", "Collet CR8"),
    ("number", "CR8"),
    ("count", "1"),
    ("each", "64.00"),
    ("tax", "7"),
    ("what-2", "Labour"),
    ("count-2", "0.89"),
    ("each-2", "78.00"),
    ("discount", "10"),
    ("discount_reason", "returning customer"),
    ("offer-3", "yes"),
    ("option_name", "Repair"),
    ("option_name-3", "New tool"),
    ("note", ""),
    ("valid_until", ""),
    ("tax-2", ""),
];

/// The first row of the place for something in place of the repair: its number is the page's.
fn new_tool_row(page: &Answer) -> String {
    let row =
        (2..40).find(|i| page.value("estimate", &format!("option-{i}")).as_deref() == Some("3"));
    row.expect("a place for a new tool").to_string()
}

fn with_new_tool(page: &Answer, each: &str) -> Vec<(String, String)> {
    let row = new_tool_row(page);
    let mut fields: Vec<(String, String)> = QUOTE
        .iter()
        .map(|(n, v)| ((*n).to_owned(), (*v).to_owned()))
        .collect();
    for (name, value) in [("what", "TB-32"), ("count", "1"), ("each", each)] {
        fields.push((format!("{name}-{row}"), value.to_owned()));
    }
    fields
}

fn borrowed(fields: &[(String, String)]) -> Vec<(&str, &str)> {
    fields
        .iter()
        .map(|(n, v)| (n.as_str(), v.as_str()))
        .collect()
}

#[test]
fn a_quote_is_made_changed_and_answered_by_telephone() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = judged(&mut client, "7K-1");
    let page = client.get(&job);
    let row = new_tool_row(&page);
    // A price that is missing is asked for at its line, and a part that no sheet has.
    let no_price = with_new_tool(&page, "");
    let told = refused(&mut client, &job, "estimate", &borrowed(&no_price));
    assert!(
        told.body
            .contains(&format!("id=\"estimate-each-{row}-error\"")),
        "{:?}",
        told.errors()
    );
    let mut no_part = with_new_tool(&page, "1480");
    no_part.push((format!("number-{row}"), "TB32-999".to_owned()));
    let told = refused(&mut client, &job, "estimate", &borrowed(&no_part));
    assert!(
        told.body
            .contains(&format!("id=\"estimate-number-{row}-error\"")),
        "{:?}",
        told.errors()
    );

    let page = done(
        &mut client,
        &job,
        "estimate",
        &borrowed(&with_new_tool(&page, "1480")),
    );
    // By hand: 64.00 − 6.40 = 57.60, 7 % of it 4.032 so 4.03; 0.89 × 78.00 = 69.42, less 6.94 = 62.48.
    assert!(page.body.contains("124.11 USD"), "57.60 + 4.03 + 62.48");
    assert!(page.body.contains("1332.00 USD"), "1480.00 less 10 %");
    let paper = words_of(&mut client, &format!("{job}/quote.pdf"));
    for words in [
        "Revision 1",
        "A. Repair",
        "B. New tool",
        "124.11 USD",
        "Discount 10 %: returning customer",
    ] {
        assert!(paper.contains(words), "{words}: {paper}");
    }

    // A revision: cheaper collet. What was open in another tab answers the first one no more.
    let old = client.get(&job);
    let mut cheaper = with_new_tool(&old, "1480");
    cheaper[3].1 = "60.00".to_owned();
    let page = done(&mut client, &job, "estimate", &borrowed(&cheaper));
    assert!(
        page.body
            .contains("Collet CR8: 60.00 each instead of 64.00"),
        "{}",
        page.body
    );
    let day = today();
    let yes = [
        ("yes", "yes"),
        ("yes-2", "no"),
        ("name", "Fennholt, buyer"),
        ("on", day.as_str()),
    ];
    let late = client.send(&old, "answer", &yes);
    assert_eq!(late.status, 409, "answered on an older page");

    let both = [
        ("yes", "yes"),
        ("yes-2", "yes"),
        ("name", "Fennholt, buyer"),
        ("on", day.as_str()),
    ];
    let told = refused(&mut client, &job, "answer", &both);
    assert!(
        told.body.contains("id=\"answer-yes-2"),
        "{:?}",
        told.errors()
    );
    // The mistake is at the second question: the first is not marked as wrong beside it.
    assert_eq!(
        told.body.matches("<fieldset class=\"field wrong\"").count(),
        1
    );
    let phone = [&yes[..], &[("way", "telephone")]].concat();
    let told = refused(&mut client, &job, "answer", &phone);
    assert!(
        told.body.contains("id=\"answer-at-error\""),
        "{:?}",
        told.errors()
    );
    // Nobody called at a time that is still to come; what was typed stays. In the last minute of the day none is.
    let now = jiff::Timestamp::now().to_zoned_datetime(jiff::tz::TimeZone::system());
    if (now.hour(), now.minute()) < (23, 58) {
        let later = [&phone[..], &[("at", "23:59"), ("heard", "Mirel")]].concat();
        let told = refused(&mut client, &job, "answer", &later);
        assert!(
            told.body.contains("id=\"answer-at-error\"") && told.body.contains("from 00:00 to"),
            "{:?}",
            told.errors()
        );
        assert_eq!(told.value("answer", "at").as_deref(), Some("23:59"));
    }
    // The one time of a day that is over whenever this runs.
    let phone = [&phone[..], &[("at", "00:00"), ("heard", "Mirel")]].concat();
    let page = done(&mut client, &job, "answer", &phone);
    for words in ["00:00", "By telephone", "to Mirel"] {
        assert!(page.body.contains(words), "{words}");
    }
    let paper = words_of(&mut client, &format!("{job}/quote.pdf"));
    assert!(
        paper.contains("Revision 2") && paper.contains("00:00"),
        "{paper}"
    );
    // What was sent out first can still be printed, and says that it holds no more.
    let first = format!("{job}/quotes/1.pdf");
    assert!(page.body.contains(&format!("href=\"{first}\"")));
    assert!(page.body.contains("Replaced by revision 2 on"));
    let paper = words_of(&mut client, &first);
    for words in [
        "Replaced by revision 2 on",
        "do not sign it",
        "64.00",
        "124.11 USD",
    ] {
        assert!(paper.contains(words), "{words}: {paper}");
    }
    assert!(
        !paper.contains("00:00"),
        "that was said to revision 2: {paper}"
    );
    let newest = words_of(&mut client, &format!("{job}/quotes/2.pdf"));
    assert!(
        newest.contains("60.00") && !newest.contains("Replaced by"),
        "{newest}"
    );
    for none in ["0.pdf", "3.pdf", "1", "one.pdf", "99999999999.pdf"] {
        assert_eq!(
            client.get(&format!("{job}/quotes/{none}")).status,
            404,
            "{none}"
        );
    }
}

#[test]
fn repair_and_new_tool_are_compared_as_the_quote_offers_them() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = judged(&mut client, "7K-1");
    with_history(&mut client, &job);
    let page = client.get(&job);
    let fields = with_new_tool(&page, "1480");
    let page = done(&mut client, &job, "estimate", &borrowed(&fields));
    let told = compared(&page);
    // 57.60 and 62.48 before tax; 1480.00 less 10 %.
    for said in [
        "What both tools cost alike left aside, over 6 years",
        "The repair counts with 120.08 USD",
        "the new tool with 1332.00 USD, as this quote offers it",
        "Left aside, because both tools need it:",
        "Both cost the same if the repaired tool lasts",
    ] {
        assert!(told.contains(said), "{said}: {told}");
    }
    assert!(
        !told.contains("Collet CR8, four fingers: "),
        "as often in either: {told}"
    );
    let paper = words_of(&mut client, &format!("{job}/quote.pdf"));
    assert!(paper.contains("1332.00 USD, as this quote"), "{paper}");
}

/// Puts the receipt right, so that the counter tells pulls a year.
fn with_history(client: &mut Client, job: &str) {
    let sold = jiff::Timestamp::now() - jiff::SignedDuration::from_hours(24 * 200);
    let sold = sold.to_string()[..10].to_owned();
    let receipt = [
        ("counter", "61480"),
        ("sold", sold.as_str()),
        ("complaint", "slips"),
        ("reason", "read again"),
    ];
    done(client, job, "amend-receipt", &receipt);
}

/// What the page of `job` says of repair or replace, without its marks.
fn compared(page: &Answer) -> String {
    let (_, rest) = page
        .body
        .split_once("<h4>Repair or replace</h4>")
        .expect("it is compared");
    let (told, _) = rest.split_once("</ul>").expect("its end");
    told.replace("<ul>", "")
        .replace("<li>", "")
        .replace("</li>", "\n")
}

#[test]
fn an_issued_quote_compares_as_it_did_after_a_part_was_renewed() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = judged(&mut client, "7K-1");
    with_history(&mut client, &job);
    let page = done(&mut client, &job, "estimate", &QUOTE[..8]);
    let before = compared(&page);
    assert!(before.contains("Anvil, 8 mm: 0 pulls left"), "{before}");
    let day = today();
    let yes = [("yes", "yes"), ("name", "Fennholt"), ("on", day.as_str())];
    done(&mut client, &job, "answer", &yes);
    done(&mut client, &job, "route", &[("down_to", "collet")]);
    let look = [("passed", "yes")];
    done(&mut client, &job, "step-make-safe-form", &look);
    // No option that was accepted names the anvil: who agreed to it is asked, and what was typed stays.
    let part = [("part", "anvil"), ("reason", "worn through")];
    let told = refused(&mut client, &job, "part", &part);
    told.refused_at("part-unagreed");
    assert_eq!(
        told.value("part", "reason").as_deref(),
        Some("worn through")
    );
    let part = [&part[..], &[("unagreed", "Maro Fenn by telephone")]].concat();
    let page = done(&mut client, &job, "part", &part);
    let who = "worn through. Not in the accepted quote: Maro Fenn by telephone";
    assert_eq!(page.body.matches(who).count(), 2, "in the list and the log");
    assert_eq!(compared(&page), before);
    let first = words_of(&mut client, &format!("{job}/quote.pdf"));
    assert!(first.contains("Anvil, 8 mm: 0 pulls left"), "{first}");

    // Now it is another tool: the next revision says so, the first one still what it said.
    let page = done(&mut client, &job, "estimate", &QUOTE[..8]);
    assert_ne!(compared(&page), before);
    let again = words_of(&mut client, &format!("{job}/quotes/1.pdf"));
    assert!(again.contains("Anvil, 8 mm: 0 pulls left"), "{again}");
}

#[test]
fn a_tool_goes_to_the_maker_or_to_scrap_with_its_own_paper() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = judged(&mut client, "7K-1");
    let claim = words_of(&mut client, &format!("{job}/warranty-claim.pdf"));
    assert!(
        claim.contains("Not covered") && claim.contains("Proof of sale"),
        "{claim}"
    );
    let told = refused(
        &mut client,
        &job,
        "send",
        &[("to", "Courier"), ("checked", "yes"), ("sent", "Tool")],
    );
    assert!(
        told.body.contains("id=\"send-parcel-error\""),
        "{:?}",
        told.errors()
    );
    let page = client.get(&job);
    let short = page.body.contains("Missing inside:");
    let mut fields = vec![
        ("to", "Courier"),
        ("checked", "yes"),
        ("sent", "Tool"),
        ("parcel", "P-118"),
    ];
    if short {
        // In red, before the parcel is closed.
        assert!(page.body.contains("<p class=\"rej\">"));
        let told = refused(&mut client, &job, "send", &fields);
        assert!(
            told.body.contains("id=\"send-missing_seen-error\""),
            "{:?}",
            told.errors()
        );
        fields.push(("missing_seen", "yes"));
    }
    let page = done(&mut client, &job, "send", &fields);
    assert!(page.body.contains("Sent to the maker") && page.body.contains("P-118"));
    assert!(
        !page.body.contains("care-sheet.pdf"),
        "nothing to care for here"
    );
    let note = words_of(&mut client, &format!("{job}/return-note.pdf"));
    assert!(
        note.contains("Parcel P-118") && note.contains("Asked for, and not sent"),
        "{note}"
    );
    assert!(words_of(&mut client, &format!("{job}/report.pdf")).contains("Sent to the maker"));

    let other = judged(&mut client, "7K-2");
    let scrap = [
        ("to", "Fennholt, owner"),
        ("checked", "yes"),
        ("pack_gone", "collected"),
    ];
    let told = refused(&mut client, &other, "scrap", &scrap);
    assert!(
        told.body.contains("id=\"scrap-witness-error\""),
        "{:?}",
        told.errors()
    );
    let same = [&scrap[..], &[("witness", "Joren")]].concat();
    let told = refused(&mut client, &other, "scrap", &same);
    assert!(
        told.body.contains("id=\"scrap-witness-error\""),
        "{:?}",
        told.errors()
    );
    let seen = [&scrap[..], &[("witness", "Mirel")]].concat();
    done(&mut client, &other, "scrap", &seen);
    let note = words_of(&mut client, &format!("{other}/return-note.pdf"));
    assert!(
        note.contains("Scrapped") && note.contains("Witness Mirel"),
        "{note}"
    );
    let list = client.get("/?all=true");
    assert!(list.body.contains("Sent to the maker") && list.body.contains("Scrapped"));
    assert_eq!(client.get(&format!("{other}/care-sheet.pdf")).status, 404);
}
