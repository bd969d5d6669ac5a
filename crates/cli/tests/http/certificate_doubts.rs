//! A certificate and a gauge that fails: while it waits for its second signature, and after it was issued.

use crate::certificate::{CHECKED, FIELDS, JOB, authorise};
use crate::client::Client;
use crate::crew_link::Shop;
use crate::gauges::calibrate;
use crate::suspect::words_of;

/// The load cell is found 2 kN off, and put right.
fn cell_fails(client: &mut Client) {
    let left = [("left", "0.00"), ("left-2", "0.01"), ("left-3", "0.01")];
    let stored = calibrate(client, ["0.00", "2.00", "2.00"], &left);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
}

#[test]
fn what_waits_is_named_on_the_bench_and_falls_with_its_gauge() {
    const WAITS: &str = "Certificate 1014-P1 waits for a second signature";
    let shop = Shop::open();
    let mut joren = Client::of(shop.address(), "Joren");
    assert!(!joren.get("/").body.contains("second signature"));
    let page = joren.get(JOB);
    assert_eq!(joren.send(&page, "certificate", &FIELDS).status, 303);
    assert!(joren.get("/").body.contains(WAITS));
    crate::crew_link::verified(&shop.store);

    let mut oswin = Client::of(shop.address(), "Oswin");
    let seen = oswin.get(JOB);
    cell_fails(&mut joren);
    let bench = joren.get("/").body;
    let stale = "Certificate 1014-P1 can no longer be signed: prepare it anew";
    assert!(bench.contains(stale) && !bench.contains(WAITS), "{bench}");
    // Another subject was written to, so the page that Oswin looks at is not old by its version.
    let told = oswin.send(&seen, "certificate-authorise", &CHECKED);
    assert_eq!(told.status, 422);
    for said in ["not any more what was prepared", "LC-50 was found outside"] {
        assert!(told.body.contains(said), "{said}: {}", told.body);
    }
    let page = oswin.get(JOB);
    assert!(page.body.contains("prepare it anew"), "{}", page.body);
    assert!(crate::client::form(&page.body, "certificate-authorise").is_none());

    let page = joren.get(JOB);
    let told = joren.send(&page, "certificate", &FIELDS);
    told.refused_at("certificate-doubt");
    let short = [&FIELDS[..], &[("doubt", "Fennholt knows.")]].concat();
    let told = joren.send(&page, "certificate", &short);
    told.refused_at("certificate-doubt");
    let why = [&FIELDS[..], &[("doubt", "Fennholt knows it.")]].concat();
    assert_eq!(joren.send(&page, "certificate", &why).status, 303);
    // Handed back it still waits, and the bench still says so, though the job is no more on its list.
    let page = joren.get(JOB);
    let back = [
        ("to", "Fennholt, driver"),
        ("checked", "yes"),
        ("note", "The case stays here."),
    ];
    let told = joren.send(&page, "return", &back);
    told.refused_at("return-doubt");
    let back = [&back[..], &[("doubt", "Fennholt cannot wait.")]].concat();
    assert_eq!(joren.send(&page, "return", &back).status, 303);
    let bench = joren.get("/");
    assert!(bench.body.contains("/jobs/1014#certificate-waits"));
    assert!(!bench.body.contains(WAITS), "not on the list");
    assert_eq!(authorise(&shop, "Oswin", JOB).status, 303);
    assert!(!joren.get("/").body.contains("second signature"));

    let paper = joren.get(&format!("{JOB}/certificate.pdf"));
    let words = words_of(&paper.bytes);
    for said in [
        "Readings in doubt LC-50 was found outside its limits on",
        "In doubt: Pull force at stall, as left.",
        "Made all the same by Joren: Fennholt knows it.",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    let (results, _) = words
        .split_once("Readings in doubt LC-50")
        .expect("they are named");
    assert!(results.contains("IN DOUBT"), "beside the verdict: {words}");
    // It says so itself: nothing came since.
    let page = joren.get(&format!("{JOB}/certificates/1014-P1"));
    assert!(
        page.body.contains("In force, with readings in doubt"),
        "{}",
        page.body
    );
    assert!(!page.body.contains("came into doubt"), "{}", page.body);
    crate::crew_link::verified(&shop.store);
}

#[test]
fn a_doubt_that_comes_after_it_was_issued_is_told_beside_it() {
    let shop = Shop::open();
    let mut joren = Client::of(shop.address(), "Joren");
    let page = joren.get(JOB);
    assert_eq!(joren.send(&page, "certificate", &FIELDS).status, 303);
    assert_eq!(authorise(&shop, "Oswin", JOB).status, 303);
    let places = [JOB.to_owned(), format!("{JOB}/certificates/1014-P1")];
    for place in &places {
        assert!(!joren.get(place).body.contains("came into doubt"));
    }
    cell_fails(&mut joren);
    for place in &places {
        let page = joren.get(place);
        for said in ["came into doubt", "LC-50 was found outside its limits on"] {
            assert!(page.body.contains(said), "{said}: {}", page.body);
        }
    }
}

#[test]
fn a_tool_with_readings_in_doubt_says_so_at_the_proof_at_the_hand_back_and_on_its_report() {
    const DOUBT: &str = "In doubt: Pull force at stall, as left.";
    let shop = Shop::open();
    let mut joren = Client::of(shop.address(), "Joren");
    let page = joren.get(JOB);
    assert!(!page.body.contains("In doubt: "), "{}", page.body);
    cell_fails(&mut joren);
    let page = joren.get(JOB);
    // On the proof, above the hand-back, among what a certificate would say; beside the count of the tests, at the result.
    assert_eq!(page.body.matches(DOUBT).count(), 3, "{}", page.body);
    for said in ["0 undecided, 1 in doubt", "what throws it stands below"] {
        assert!(page.body.contains(said), "{said}: {}", page.body);
    }
    let back = [
        ("to", "Fennholt, driver"),
        ("checked", "yes"),
        ("note", "The case stays here."),
        ("doubt", "Fennholt cannot wait."),
    ];
    assert_eq!(joren.send(&page, "return", &back).status, 303);
    let page = joren.get(JOB).body;
    for said in [
        "Readings were in doubt when it went back",
        "Fennholt cannot wait.",
    ] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let report = joren.get(&format!("{JOB}/report.pdf"));
    let words = words_of(&report.bytes);
    for said in [
        DOUBT,
        "Handed back all the same by Joren: Fennholt cannot wait.",
        "IN DOUBT",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    assert!(
        !words.contains("Not told when the tool went back"),
        "{words}"
    );
    crate::crew_link::verified(&shop.store);
}

#[test]
fn what_failed_after_a_tool_went_back_is_told_apart() {
    const TOLD: &str = "Not told when the tool went back: LC-50 was found outside its limits on";
    let shop = Shop::open();
    let mut joren = Client::of(shop.address(), "Joren");
    let page = joren.get(JOB);
    let back = [
        ("to", "Fennholt, driver"),
        ("checked", "yes"),
        ("note", "The case stays here."),
    ];
    assert_eq!(joren.send(&page, "return", &back).status, 303);
    let report = format!("{JOB}/report.pdf");
    let words = words_of(&joren.get(&report).bytes);
    assert!(!words.contains("Readings in doubt"), "{words}");
    cell_fails(&mut joren);
    let words = words_of(&joren.get(&report).bytes);
    assert!(
        words.contains(TOLD) && !words.contains("all the same"),
        "{words}"
    );
    let page = joren.get(JOB).body;
    let said = "Readings in doubt that were not told when it went back";
    assert!(page.contains(said), "{page}");
}
