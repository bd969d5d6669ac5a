//! A certificate of the bench proof: checked, refused, issued, corrected, and the same bytes each time.

use crate::client::Client;
use crate::crew_link::Shop;
use crate::program::{run, text};
use crate::suspect::words_of;

/// Job 14 of the demo shop: proved, ready to go back.
const JOB: &str = "/jobs/1014";

const FIELDS: [(&str, &str); 4] = [
    ("temperature", "21,5"),
    ("conditions", "Pack charged full."),
    ("approver", "Oswin"),
    ("checked", "yes"),
];

fn with<'a>(name: &'a str, value: &'a str) -> Vec<(&'a str, &'a str)> {
    let others = FIELDS.into_iter().filter(|(n, _)| *n != name);
    others.chain([(name, value)]).collect()
}

#[test]
fn a_certificate_is_issued_by_two_and_never_changed() {
    let shop = Shop::open();
    let mut joren = Client::of(shop.address(), "Joren");
    let page = joren.get(JOB);
    for shown in ["1014-P1", "Set up for", "Pull force", "LC-50, due"] {
        assert!(page.body.contains(shown), "{shown}");
    }
    assert_eq!(joren.get(&format!("{JOB}/certificate.pdf")).status, 404);

    // Each mistake at its field, and what was typed stays.
    for (name, value, at) in [
        ("temperature", "", "temperature"),
        ("temperature", "215", "temperature"),
        ("temperature", "warm", "temperature"),
        ("approver", "", "approver"),
        ("approver", "Joren", "approver"),
        ("approver", "Nobody", "approver"),
        ("checked", "", "checked"),
    ] {
        let fields = with(name, value);
        let fields: Vec<_> = fields.into_iter().filter(|(_, v)| !v.is_empty()).collect();
        let told = joren.send(&page, "certificate", &fields);
        assert_eq!(told.status, 422, "{name} {value}");
        let id = format!("id=\"certificate-{at}-error\"");
        assert!(
            told.body.contains(&id),
            "{name} {value}: {:?}",
            told.errors()
        );
        assert!(told.body.contains("Pack charged full."), "{name} {value}");
    }

    let done = joren.send(&page, "certificate", &FIELDS);
    assert_eq!(done.status, 303, "{:?}", done.errors());
    let first = joren.get(&format!("{JOB}/certificates/1014-P1.pdf"));
    assert_eq!(first.status, 200);
    let state = joren.get(&format!("{JOB}/certificates/1014-P1"));
    assert!(state.body.contains("In force"), "{}", state.body);

    // The job goes on and ends; a correction is a new certificate that says what changed.
    let back = [("to", "Fennholt, driver"), ("checked", "yes")];
    let page = joren.get(JOB);
    assert_eq!(joren.send(&page, "return", &back).status, 303);
    let page = joren.get(JOB);
    let told = joren.send(&page, "certificate", &FIELDS);
    assert_eq!(told.status, 422);
    assert!(
        told.body.contains("id=\"certificate-changed-error\""),
        "{:?}",
        told.errors()
    );
    let corrected = [&FIELDS[..], &[("changed", "Pack: 80 %, not full.")]].concat();
    assert_eq!(joren.send(&page, "certificate", &corrected).status, 303);
    let state = joren.get(&format!("{JOB}/certificates/1014-P1"));
    assert!(state.body.contains("Replaced by 1014-P2"), "{}", state.body);
    let again = joren.get(&format!("{JOB}/certificates/1014-P1.pdf"));
    assert!(
        again.bytes == first.bytes,
        "the same bytes as when it was issued"
    );
    let in_force = joren.get(&format!("{JOB}/certificate.pdf"));
    let second = joren.get(&format!("{JOB}/certificates/1014-P2.pdf"));
    assert!(in_force.bytes == second.bytes && second.bytes != first.bytes);

    // The prompt prints the same, and the record is whole.
    let file = shop.store.with_file_name("certificate.pdf");
    let path = file.to_str().expect("a path");
    let told = run(&["job", "paper", "1014", "certificate", path], &shop.store);
    assert!(told.status.success(), "{}", text(&told));
    let printed = std::fs::read(&file).expect("printed");
    assert!(printed == second.bytes);
    for none in ["1014-P3", "1014-P3.pdf", "1001-P1.pdf", "..%2F1001"] {
        let path = format!("{JOB}/certificates/{none}");
        assert_eq!(joren.get(&path).status, 404, "{none}");
    }
    crate::crew_link::verified(&shop.store);
}

#[test]
fn recorded_pulls_stay_on_it_as_they_were_drawn() {
    let shop = Shop::open();
    let mut joren = Client::of(shop.address(), "Joren");
    // The second job of the demo shop: twelve D6 recorded as left, and ended.
    let job = "/jobs/1002";
    let page = joren.get(job);
    for shown in ["1002-P1", "Recorded pulls", "12 of 12 pulls of Drumhale D6"] {
        assert!(page.body.contains(shown), "{shown}");
    }
    let done = joren.send(&page, "certificate", &FIELDS);
    assert_eq!(done.status, 303, "{:?}", done.errors());
    let address = format!("{job}/certificates/1002-P1");
    let first = joren.get(&format!("{address}.pdf"));
    assert_eq!(first.status, 200);
    let words = words_of(&first.bytes);
    for said in [
        "Recorded pulls",
        "take-up",
        "Stroke, mm",
        "ah-1187-d6-as-left.csv",
        "bench-proof 2",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    assert!(joren.get(&address).body.contains("In force"));

    // The recording is lost: the report says so, the certificate prints the same bytes.
    let (_, hash) = words.split_once("as-left.csv · ").expect("its hash");
    let (hash, _) = hash.split_once('…').expect("the begin of it");
    let mut lost = 0;
    for path in crate::files::kept(&shop.store) {
        if path.display().to_string().replace('/', "").contains(hash) {
            std::fs::remove_file(&path).expect("it goes");
            lost += 1;
        }
    }
    assert_eq!(lost, 1);
    let report = joren.get(&format!("{job}/report.pdf"));
    assert!(words_of(&report.bytes).contains("The recording is lost"));
    let again = joren.get(&format!("{address}.pdf"));
    assert!(
        again.bytes == first.bytes,
        "the same bytes as when it was issued"
    );
}
