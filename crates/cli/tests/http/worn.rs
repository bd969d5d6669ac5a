//! Wear on the job page: what was gauged, how long it lasts, what to renew now.

use crate::client::{Answer, Client, receive};
use crate::program::Program;

/// Sends the form `id` of the job's page as it is now.
fn send(client: &mut Client, job: &str, id: &str, fields: &[(&str, &str)]) {
    let page = client.get(job);
    let stored = client.send(&page, id, fields);
    assert_eq!(stored.status, 303, "{id}: {:?}", stored.errors());
}

/// The rebuild section of a job's page.
fn rebuilt(page: &Answer) -> &str {
    let (_, rest) = page
        .body
        .split_once("<section id=\"rebuilt\"")
        .expect("a stage");
    rest.split_once("</section>").expect("its end").0
}

/// A job that is agreed and open down to the collet.
fn stripped(client: &mut Client, serial: &str) -> String {
    let job = receive(client, serial);
    let cause = [("causes", "collet-teeth-worn")];
    let warranty = [
        ("cover", "not-covered"),
        ("term", "wear"),
        ("evidence", "the collet"),
    ];
    let estimate = [
        ("what", "Collet"),
        ("number", "CR8"),
        ("count", "1"),
        ("each", "64.00"),
    ];
    send(client, &job, "not-safe", &[("reason", "cracked shell")]);
    send(client, &job, "cause", &cause);
    send(client, &job, "warranty", &warranty);
    send(client, &job, "estimate", &estimate);
    let page = client.get(&job);
    let day = page.value("answer", "on").expect("the page proposes today");
    let answer = [("yes", "yes"), ("name", "Fennholt"), ("on", day.as_str())];
    send(client, &job, "answer", &answer);
    send(client, &job, "route", &[("down_to", "collet")]);
    send(client, &job, "step-make-safe-form", &[("passed", "yes")]);
    job
}

#[test]
fn what_was_gauged_says_how_long_it_lasts_and_what_to_renew_now() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = stripped(&mut client, "7K-1");
    let page = client.get(&job);
    assert!(
        !rebuilt(&page).contains("how long it lasts"),
        "nothing was gauged"
    );

    let throat = [("reading", "12.91"), ("gauge", "p-1")];
    let crests = [("reading", "0.62"), ("gauge", "c-3")];
    let bore = [("reading", "22.03"), ("gauge", "c-3")];
    send(&mut client, &job, "step-gauge-anvil-throat-form", &throat);
    send(
        &mut client,
        &job,
        "step-gauge-nose-housing-bore-form",
        &bore,
    );
    send(
        &mut client,
        &job,
        "step-gauge-collet-crest-flat-form",
        &crests,
    );
    let page = client.get(&job);
    let shown = rebuilt(&page);
    for said in [
        "Wear, and how long it lasts",
        "Anvil, 8 mm: Throat bore",
        "12.91 ± ",
        "new 12.90 mm, at most 13.05 mm",
        // 0.14 of 0.15 mm are left of 60 000 pulls.
        "About 56\u{202f}000 pulls left",
        "lasts until its next service",
        "Nobody knows when it was new",
        "The sheet states no life",
        "cannot tell",
        "Collet CR8, four fingers: Flat on the tooth crests",
        "No life left.",
        "replace now",
        "wear-life",
    ] {
        assert!(shown.contains(said), "{said}\n{shown}");
    }

    // A new collet has no wear to tell of; the anvil still has.
    let part = [("part", "collet"), ("number", "CR8"), ("reason", "worn")];
    send(&mut client, &job, "part", &part);
    let page = client.get(&job);
    assert!(
        !rebuilt(&page).contains("replace now"),
        "{}",
        rebuilt(&page)
    );
    assert!(rebuilt(&page).contains("Anvil, 8 mm: Throat bore"));
}
