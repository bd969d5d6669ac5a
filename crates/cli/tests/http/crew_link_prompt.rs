//! Reports of crews at the prompt: what is refused, what is taken, and what the inbox says of it.

use crate::client::Client;
use crate::crew_link::{ADDRESS, Shop, inbox, plain, verified};
use crate::program::{Program, run, text};

#[test]
fn a_report_at_the_prompt_says_what_is_wrong_with_its_stick_out() {
    let mut shop = Shop::open();
    shop.program.kill();
    let report = [
        "inbox",
        "send",
        "7K-0412",
        "fastener=marlstead-m8",
        "code=06",
        "turns=6.75",
        "value-reach=1.1",
        "name=Crew 7",
        "good=yes",
    ];
    // 1.02 in = 25.91 mm, inside 25.2 to 26.8 mm as inches only.
    for (stick_out, says) in [
        (&["reading=26.0"][..], "at least two pins"),
        (&["reading=26.0", "reading=26.1"], "Clamp the sheets"),
        (&["reading=26.0", "reading=1.02", "clamped=yes"], "25.91 mm"),
    ] {
        let refused = run(&[&report[..], stick_out].concat(), &shop.store);
        let said = text(&refused);
        assert!(!refused.status.success() && said.contains(says), "{said}");
    }
    let collar = ["value-collar-diameter=0.512"];
    let refused = text(&run(&[&report[..], &collar].concat(), &shop.store));
    assert!(refused.contains("looks like inches"), "{refused}");
    assert_eq!(inbox(&shop), serde_json::json!([]));
}

/// A report at the prompt with these fields beside fastener, grip code and name.
fn report(shop: &Shop, fields: &[&str]) -> std::process::Output {
    let report = [
        "inbox",
        "send",
        "7K-0412",
        "fastener=marlstead-m8",
        "code=06",
    ];
    run(&[&report, fields, &["name=Crew 7"]].concat(), &shop.store)
}

#[test]
fn a_bad_report_is_taken_without_turns_and_with_a_stick_out_that_is_refused() {
    let mut shop = Shop::open();
    shop.program.kill();
    let unknown = report(&shop, &["good=no", "seen=lock-groves"]);
    let said = text(&unknown);
    assert!(!unknown.status.success(), "{said}");
    assert!(said.contains("lock-groves") && said.contains("lock-grooves, pull-grooves"));
    let one_pin = ["good=no", "seen=lock-grooves-torn", "reading=26.0"];
    let sent = report(&shop, &one_pin);
    assert!(sent.status.success(), "{}", text(&sent));
    assert!(text(&sent).contains("Sent without the stick-out"));
    let whole = [
        "good=no",
        "seen=cut",
        "reading=26.0",
        "reading=26.1",
        "clamped=yes",
    ];
    let sent = report(&shop, &whole);
    assert!(
        sent.status.success() && !text(&sent).contains("without"),
        "{}",
        text(&sent)
    );
    let listed = inbox(&shop);
    // The word that is listed is a word that is taken.
    assert_eq!(listed[0]["seen"], "lock-grooves-torn");
    assert_eq!(listed[0]["turns"], serde_json::Value::Null);
    assert_eq!(listed[0]["measured_mm"], serde_json::Value::Null);
    assert_eq!(listed[1]["measured_mm"], 26.05);
    verified(&shop.store);
}

#[test]
fn a_mistyped_report_is_refused_with_its_pins_and_shown_apart_without_them() {
    let mut shop = Shop::open();
    let good = ["good=yes", "value-reach=1.1"];
    let pins = ["reading=26.0", "reading=26.1", "clamped=yes"];
    shop.program.kill();
    let refused = report(&shop, &[&good[..], &["turns=2"], &pins].concat());
    assert!(
        text(&refused).contains("2.00 turns is too far from the 6.75"),
        "{}",
        text(&refused)
    );
    assert!(
        report(&shop, &[&good[..], &["turns=2"]].concat())
            .status
            .success()
    );
    assert!(
        report(&shop, &[&good[..], &["turns=6.5"], &pins].concat())
            .status
            .success()
    );
    // Half a turn further than the table's 0.25 turns and this tool's doubt, and less than one turn.
    assert!(
        report(&shop, &[&good[..], &["turns=5.75"], &pins].concat())
            .status
            .success()
    );
    let listed = inbox(&shop);
    let of = |entry: usize, what: &str| listed[entry][what].clone();
    assert_eq!(
        [of(0, "belongs"), of(1, "belongs"), of(2, "belongs")],
        [false, true, false]
    );
    assert_eq!(of(0, "table_turns"), serde_json::Value::Null);
    assert_eq!(of(1, "table_turns"), 6.75);
    assert_eq!(of(0, "signed_off_turns"), of(2, "signed_off_turns"));
    assert!(of(0, "signed_off_turns").is_f64());
    let table = text(&run(&["inbox", "list"], &shop.store));
    assert!(table.contains("do not belong together"), "{table}");
    let program = Program::serve_with(&shop.store, "", &["--address-on-cards", ADDRESS]);
    let page = Client::at(&program.address).get("/inbox");
    let chips = page.body.matches("do not belong together").count();
    assert_eq!(chips, 2);
    let plain = plain(&page);
    assert!(
        plain.contains("the table says 6¾") && plain.contains("signed off at"),
        "{plain}"
    );
}

/// A rivet nut that the pressure sets, and a tool that sets it.
const FORCE: &str = "model=orrinbeck-ah-21&fastener=drumhale-rn5&nose=n26-rn5";
const FORCE_TOOL: &str = "AH-1044";

#[test]
fn by_force_no_turns_are_asked_for() {
    let mut shop = Shop::open();
    let crew = Client::nameless(shop.address()).get(&format!("/setup?{FORCE}"));
    assert!(crew.body.contains("By force"), "{}", crew.body);
    shop.program.kill();
    let fields: Vec<&str> = FORCE.split('&').skip(1).collect();
    let mut command = vec!["inbox", "send", FORCE_TOOL];
    command.extend(fields);
    command.extend(["good=yes", "value-set-length=10.3", "name=Crew 7"]);
    let sent = run(&command, &shop.store);
    assert!(sent.status.success(), "{}", text(&sent));
    let program = Program::serve_with(&shop.store, "", &["--address-on-cards", ADDRESS]);
    let page = Client::at(&program.address).get("/inbox");
    assert!(page.body.contains("<b>By force</b>") && !page.body.contains("no stick-out sent"));
}
