//! A certificate of the bench proof: checked, refused, issued, corrected, and the same bytes each time.

use std::path::PathBuf;

use shop::entry::{Body, CertificateIssued};
use shop::job::Job;
use store::{Request, Store};

use crate::client::{Answer, Client};
use crate::crew_link::Shop;
use crate::program::{Program, run, text};
use crate::suspect::words_of;

/// Job 14 of the demo shop: proved, ready to go back.
pub const JOB: &str = "/jobs/1014";

pub const FIELDS: [(&str, &str); 3] = [
    ("temperature", "21,5"),
    ("conditions", "Pack charged full."),
    ("checked", "yes"),
];

pub const CHECKED: [(&str, &str); 1] = [("checked", "yes")];

fn with<'a>(name: &'a str, value: &'a str) -> Vec<(&'a str, &'a str)> {
    let others = FIELDS.into_iter().filter(|(n, _)| *n != name);
    others.chain([(name, value)]).collect()
}

/// The second person's act, at another bench.
pub fn authorise(shop: &Shop, who: &str, job: &str) -> Answer {
    let mut second = Client::of(shop.address(), who);
    let page = second.get(job);
    second.send(&page, "certificate-authorise", &CHECKED)
}

/// The file in which these very bytes are kept, and the hash that it lies under.
fn kept(shop: &Shop, bytes: &[u8]) -> Option<(PathBuf, String)> {
    let mut kept = crate::files::kept(&shop.store).into_iter();
    let path = kept.find(|path| std::fs::read(path).is_ok_and(|read| read == bytes))?;
    let joined = path.display().to_string().replace('/', "");
    let hash = joined[joined.len() - 64..].to_owned();
    Some((path, hash))
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

    // Prepared by one, it is not issued: it waits for another person, on the job's page and with its answers.
    let done = joren.send(&page, "certificate", &FIELDS);
    assert_eq!(done.status, 303, "{:?}", done.errors());
    let page = joren.get(JOB);
    for shown in [
        "Certificate 1014-P1 waits for a second person",
        "Prepared by",
        "Pack charged full.",
        "LC-50, due",
    ] {
        assert!(page.body.contains(shown), "{shown}");
    }
    for none in [
        "certificate.pdf",
        "certificates/1014-P1",
        "certificates/1014-P1.pdf",
    ] {
        assert_eq!(joren.get(&format!("{JOB}/{none}")).status, 404, "{none}");
    }
    // Whoever prepared it does not authorise it, whatever the form says of another.
    let own = [("checked", "yes"), ("approver", "Oswin")];
    let told = joren.send(&page, "certificate-authorise", &own);
    assert_eq!(told.status, 422);
    assert!(
        told.body
            .contains("Nobody authorises their own certificate"),
        "{:?}",
        told.errors()
    );
    let mut oswin = Client::of(shop.address(), "Oswin");
    let seen = oswin.get(JOB);
    let told = oswin.send(&seen, "certificate-authorise", &[]);
    told.refused_at("certificate-authorise-checked");
    let done = oswin.send(&seen, "certificate-authorise", &CHECKED);
    assert_eq!(done.status, 303, "{:?}", done.errors());
    // The same form again is the same act.
    let again = oswin.send(&seen, "certificate-authorise", &CHECKED);
    assert!(again.location.contains("repeated"), "{}", again.location);
    let first = joren.get(&format!("{JOB}/certificates/1014-P1.pdf"));
    assert_eq!(first.status, 200);
    let state = joren.get(&format!("{JOB}/certificates/1014-P1"));
    // The very file is kept.
    let (_, hash) = kept(&shop, &first.bytes).expect("kept");
    for shown in ["In force", "Prepared by", "Authorised by", &hash] {
        assert!(state.body.contains(shown), "{shown}: {}", state.body);
    }
    let words = words_of(&first.bytes);
    for said in [
        "Made by",
        "Joren",
        "Authorised by",
        "Oswin",
        "bench-proof 5",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    assert!(!words.contains("in doubt"), "{words}");

    // The job goes on and ends; a correction is a new certificate that says what changed.
    let back = [
        ("to", "Fennholt, driver"),
        ("checked", "yes"),
        ("note", "The case stays here."),
    ];
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
    assert!(state.body.contains("In force"), "not replaced yet");
    assert_eq!(authorise(&shop, "Oswin", JOB).status, 303);
    let state = joren.get(&format!("{JOB}/certificates/1014-P1"));
    for shown in [
        "Replaced by 1014-P2",
        "1014-P2 replaced it: do not hand it out",
    ] {
        assert!(state.body.contains(shown), "{shown}: {}", state.body);
    }
    assert!(joren.get(JOB).body.contains("Replaced by 1014-P2"));
    let again = joren.get(&format!("{JOB}/certificates/1014-P1.pdf"));
    assert!(
        again.bytes == first.bytes,
        "the same bytes as when it was issued"
    );
    // The paper stays as it was issued: the name that it is saved under says what became of it.
    let name = "certificate-1014-P1-replaced-by-1014-P2.pdf";
    assert!(again.head.contains(name), "{}", again.head);
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
    // The inlet's gauge was found outside its limits after it had read here.
    let told = joren.send(&page, "certificate", &FIELDS);
    told.refused_at("certificate-doubt");
    let why = [&FIELDS[..], &[("doubt", "The peaks are the cell's alone.")]].concat();
    let done = joren.send(&page, "certificate", &why);
    assert_eq!(done.status, 303, "{:?}", done.errors());
    let done = authorise(&shop, "Mirel", job);
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
        "bench-proof 5",
        "DS-1",
        "Readings in doubt PG-16 was found outside its limits on",
        "Made all the same by Joren: The peaks are the cell's alone.",
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
    // Without its own file, too: set anew it is the same, or it is not given out.
    let (paper, _) = kept(&shop, &first.bytes).expect("kept");
    std::fs::remove_file(paper).expect("it goes");
    let report = joren.get(&format!("{job}/report.pdf"));
    assert!(words_of(&report.bytes).contains("The recording is lost"));
    let again = joren.get(&format!("{address}.pdf"));
    assert!(
        again.bytes == first.bytes,
        "the same bytes as when it was issued"
    );
}

/// `setwright job do` by `who`, with what it says.
pub fn does(shop: &Shop, who: &str, form: &str, fields: &[&str]) -> (bool, String) {
    does_in(shop, "1014", who, form, fields)
}

/// The same in `job`.
pub fn does_in(shop: &Shop, job: &str, who: &str, form: &str, fields: &[&str]) -> (bool, String) {
    let about = ["job", "do", job, form];
    let by = ["--who", who];
    let told = run(&[&about[..], fields, &by].concat(), &shop.store);
    (told.status.success(), text(&told))
}

#[test]
fn at_the_prompt_two_people_of_the_list_sign_and_an_erased_name_takes_the_paper_along() {
    let mut shop = Shop::open();
    shop.program.kill();
    let typed = ["temperature=21.5", "checked=yes"];
    let (done, told) = does(&shop, "joren", "certificate", &typed);
    assert!(
        !done && told.contains("joren is not a name of the shop card"),
        "{told}"
    );
    let (done, told) = does(&shop, "Joren", "certificate", &typed);
    assert!(done, "{told}");
    for (who, why) in [
        ("Joren", "Nobody authorises their own certificate"),
        ("joren", "Nobody authorises their own certificate"),
        ("Nobody", "Nobody is not a name of the shop card"),
    ] {
        let (done, told) = does(&shop, who, "certificate-authorise", &["checked=yes"]);
        assert!(!done && told.contains(why), "{who}: {told}");
    }
    let (done, told) = does(&shop, "Oswin", "certificate-authorise", &["checked=yes"]);
    assert!(done, "{told}");
    crate::crew_link::verified(&shop.store);

    let file = shop.store.with_file_name("certificate.pdf");
    let path = file.to_str().expect("a path");
    let print = || {
        let told = run(&["job", "paper", "1014", "certificate", path], &shop.store);
        assert!(told.status.success(), "{}", text(&told));
        std::fs::read(&file).expect("printed")
    };
    let paper = print();
    assert!(words_of(&paper).contains("Oswin"));
    // A paper that is lost is told.
    let (place, _) = kept(&shop, &paper).expect("kept");
    std::fs::remove_file(&place).expect("it goes");
    let told = run(&["verify"], &shop.store);
    assert!(!told.status.success() && text(&told).contains("1014-P1"));
    std::fs::write(&place, &paper).expect("it comes back");
    crate::crew_link::verified(&shop.store);
    let told = run(&["erase", "Oswin"], &shop.store);
    assert!(told.status.success(), "{}", text(&told));
    // With the name its paper is gone, and the certificate is set without it.
    assert!(kept(&shop, &paper).is_none());
    let without = words_of(&print());
    assert!(
        without.contains("1014-P1") && !without.contains("Oswin"),
        "{without}"
    );
    crate::crew_link::verified(&shop.store);
}

#[test]
fn a_prepared_certificate_is_withdrawn_or_prepared_anew() {
    let shop = Shop::open();
    let mut joren = Client::of(shop.address(), "Joren");
    let prepare = |joren: &mut Client| {
        let page = joren.get(JOB);
        let done = joren.send(&page, "certificate", &FIELDS);
        assert_eq!(done.status, 303, "{:?}", done.errors());
        joren.get(JOB)
    };
    let strike = |joren: &mut Client, page: &Answer, begin: &str| {
        let after = page.body.split(begin).nth(1).expect("there");
        let form = after.split("<form id=\"strike-").nth(1).expect("its form");
        let version = form.split('"').next().expect("closed").to_owned();
        let why = [("reason", "The pack was at 80 %.")];
        let done = joren.send(page, &format!("strike-{version}"), &why);
        assert_eq!(done.status, 303, "{:?}", done.errors());
        version
    };
    let page = prepare(&mut joren);
    let mut oswin = Client::of(shop.address(), "Oswin");
    let seen = oswin.get(JOB);
    strike(&mut joren, &page, "id=\"certificate-waits\"");
    // What another looked at meanwhile is not issued any more.
    let told = oswin.send(&seen, "certificate-authorise", &CHECKED);
    assert_eq!(told.status, 409, "{:?}", told.errors());
    assert!(!joren.get(JOB).body.contains("waits for a second person"));

    // The proof is signed off anew, with a word on it although nothing stayed undecided.
    let page = prepare(&mut joren);
    let proof = strike(&mut joren, &page, "The proof stands.");
    let page = joren.get(JOB);
    let word = [("adjuster", "yes"), ("reason", "Seen by the customer.")];
    let done = joren.send(&page, "proof-done", &word);
    assert_eq!(done.status, 303, "{:?}", done.errors());
    let page = joren.get(JOB);
    let gone = format!("Entry {proof} of the job no longer counts.");
    for shown in ["prepare it anew", &gone, "came in."] {
        assert!(page.body.contains(shown), "{shown}");
    }
    assert!(crate::client::form(&page.body, "certificate-authorise").is_none());
    prepare(&mut joren);
    assert_eq!(authorise(&shop, "Ansa", JOB).status, 303);
    let words = words_of(&joren.get(&format!("{JOB}/certificate.pdf")).bytes);
    assert!(
        words.contains("Proof signed off: Seen by the customer."),
        "{words}"
    );
    assert!(
        !words.contains("although a test stayed undecided"),
        "{words}"
    );
    // Where one did it stands beside the reason.
    let other = joren.get("/jobs/1007/certificates/1007-P2.pdf");
    let words = words_of(&other.bytes);
    for said in ["although a test stayed undecided: Air use", "undecided"] {
        assert!(words.contains(said), "{said}: {words}");
    }
}

/// A later program sets and words a page otherwise: what it gives out are the bytes that were issued.
#[tokio::test]
async fn the_paper_that_a_former_program_set_is_given_out_as_it_was_issued() {
    const FORMER: &[u8] = b"%PDF-1.7\nas a former program set it\n%%EOF\n";
    let mut shop = Shop::open();
    shop.program.kill();
    let typed = ["temperature=21.5", "checked=yes"];
    for (who, form, fields) in [
        ("Joren", "certificate", &typed[..]),
        ("Oswin", "certificate-authorise", &typed[1..]),
    ] {
        let (done, told) = does(&shop, who, form, fields);
        assert!(done, "{told}");
    }
    let store = Store::open(&shop.store).await.expect("opens");
    let job = store.job_by_number(1014).await.expect("reads");
    let job = job.expect("there").job;
    let entries = store.entries(job).await.expect("reads");
    let last = entries.last().expect("issued").entry.clone();
    let Body::CertificateIssued(issued) = last.body else {
        panic!("{:?}", last.body);
    };
    let mut incoming = store.files().receive("former.pdf").expect("begins");
    incoming.write(FORMER).expect("taken");
    let kept = incoming.keep().expect("kept");
    // One from before papers were kept: it is still set from its entries.
    let then: Vec<_> = entries.iter().map(|logged| logged.entry.clone()).collect();
    let mut older = CertificateIssued {
        number: "1014-P3".to_owned(),
        method: "bench-proof 2".to_owned(),
        paper: None,
        prepared: None,
        ..issued.clone()
    };
    let then = Job::fold(&then).expect("a job");
    older.content = then.certificate_content(&older);
    let former = CertificateIssued {
        number: "1014-P2".to_owned(),
        replaces: Some(issued.number.clone()),
        changed: "The temperature".to_owned(),
        paper: Some(kept.hash.to_string()),
        ..issued
    };
    let request = Request {
        submission: "former".to_owned(),
        subject: job,
        expected_version: last.version,
        by: last.by,
        at: last.at,
        serial: None,
    };
    let written = store
        .append(request, move |_| {
            Ok::<_, ()>(vec![(job, former.into()), (job, older.into())])
        })
        .await;
    written.expect("written");
    store.close().await;
    let file = shop.store.with_file_name("certificate.pdf");
    let path = file.to_str().expect("a path");
    let told = run(&["job", "paper", "1014", "certificate", path], &shop.store);
    assert!(told.status.success(), "{}", text(&told));
    let words = words_of(&std::fs::read(&file).expect("printed"));
    for said in ["1014-P3", "bench-proof 2", "Joren", "Oswin"] {
        assert!(words.contains(said), "{said}: {words}");
    }
    let program = Program::serve(&shop.store, "");
    let mut bench = Client::at(&program.address);
    let printed = bench.get(&format!("{JOB}/certificates/1014-P2.pdf"));
    assert!(printed.bytes == FORMER, "{}", printed.head);
}
