//! The papers of certificates: none is kept that nothing names, and the gauges on them stand by the calibration that was
//! used.

use shop::entry::{Body, CalibrationUsed, Entry, PinRecord, PullsCorrected};
use store::{Request, Store};

use crate::certificate::{CHECKED, FIELDS, JOB, does_in};
use crate::client::Client;
use crate::crew_link::Shop;
use crate::program::{run, text};
use crate::suspect::words_of;

#[test]
fn a_form_that_another_bench_was_before_keeps_no_paper() {
    let shop = Shop::open();
    let mut joren = Client::of(shop.address(), "Joren");
    let page = joren.get(JOB);
    assert_eq!(joren.send(&page, "certificate", &FIELDS).status, 303);
    let mut oswin = Client::of(shop.address(), "Oswin");
    let seen = oswin.get(JOB);
    let page = joren.get(JOB);
    let back = [
        ("to", "Fennholt, driver"),
        ("checked", "yes"),
        ("note", "The case stays here."),
    ];
    assert_eq!(joren.send(&page, "return", &back).status, 303);
    let before = crate::files::kept(&shop.store).len();
    let told = oswin.send(&seen, "certificate-authorise", &CHECKED);
    assert_eq!(told.status, 409, "{:?}", told.errors());
    assert_eq!(crate::files::kept(&shop.store).len(), before, "no orphan");
    let seen = oswin.get(JOB);
    let done = oswin.send(&seen, "certificate-authorise", &CHECKED);
    assert_eq!(done.status, 303, "{:?}", done.errors());
    assert_eq!(crate::files::kept(&shop.store).len(), before + 1);
    // Sent twice it keeps its one paper.
    let again = oswin.send(&seen, "certificate-authorise", &CHECKED);
    assert!(again.location.contains("repeated"), "{}", again.location);
    assert_eq!(crate::files::kept(&shop.store).len(), before + 1);
    crate::crew_link::verified(&shop.store);
}

/// A gauge that took recorded pulls alone, and one whose readings are differences, stand by the calibration that was used,
/// not by the certificate of their sheet.
#[tokio::test]
async fn gauges_stand_by_the_calibration_that_was_used() {
    let mut shop = Shop::open();
    shop.program.kill();
    let store = Store::open(&shop.store).await.expect("opens");
    let job = store.job_by_number(1002).await.expect("reads");
    let job = job.expect("there").job;
    let logged = store.entries(job).await.expect("reads");
    let entries: Vec<Entry> = logged.into_iter().map(|logged| logged.entry).collect();
    let last = entries.last().expect("ended").clone();
    // The demo's first calibrations: VW-F-118 of the large cell, VW-P-061 of the pressure gauge.
    let pulls = entries.iter().find_map(|entry| match &entry.body {
        Body::PullsRead(read) => Some(read.clone()),
        _ => None,
    });
    let mut pulls = pulls.expect("recorded");
    let cell = PinRecord {
        id: "lc-120".to_owned(),
        revision: 1,
    };
    pulls.calibrations = vec![PullsCorrected {
        gauge: cell.id.clone(),
        number: 1,
    }];
    pulls.gauges[0] = cell;
    let hold = entries.iter().rev().find_map(|entry| match &entry.body {
        Body::BenchTestRead(read) if read.test == "hold" => Some(read.clone()),
        _ => None,
    });
    let mut hold = hold.expect("held");
    for reading in &mut hold.readings {
        assert!(reading.difference, "a hold is the difference of two");
        reading.gauge.id = "pg-16".to_owned();
        reading.calibration = Some(CalibrationUsed {
            number: 1,
            indicated: reading.value,
            deviation: None,
        });
    }
    let request = Request {
        submission: "calibrated".to_owned(),
        subject: job,
        expected_version: last.version,
        by: last.by,
        at: jiff::Timestamp::now(),
        serial: None,
    };
    let written = store
        .append(request, move |_| {
            Ok::<_, ()>(vec![(job, pulls.into()), (job, hold.into())])
        })
        .await;
    written.expect("written");
    store.close().await;

    // The pressure gauge failed since. At the prompt, too, a reason is for the doubt that was in sight.
    let typed = ["temperature=21.5", "checked=yes", "doubt=It was put right."];
    // Each doubt is named, and none is certified unseen.
    let mut sent: Vec<String> = typed.map(str::to_owned).to_vec();
    loop {
        let fields: Vec<&str> = sent.iter().map(String::as_str).collect();
        let (done, told) = does_in(&shop, "1002", "Joren", "certificate", &fields);
        if done {
            break;
        }
        assert!(told.contains("PG-16 was found outside"), "{told}");
        let (_, field) = told.split_once("With the field ").expect("named");
        let field = field.split(' ').next().expect("a field").to_owned();
        assert!(!sent.contains(&field), "{told}");
        sent.push(field);
    }
    assert!(sent.len() > typed.len(), "nothing was asked for");
    let (done, told) = does_in(
        &shop,
        "1002",
        "Oswin",
        "certificate-authorise",
        &typed[1..2],
    );
    assert!(done, "{told}");
    for paper in ["certificate", "report"] {
        let file = shop.store.with_file_name(format!("{paper}.pdf"));
        let path = file.to_str().expect("a path");
        let told = run(&["job", "paper", "1002", paper, path], &shop.store);
        assert!(told.status.success(), "{}", text(&told));
        let words = words_of(&std::fs::read(&file).expect("printed"));
        for (used, sheet) in [("VW-F-118", "K-26-0409"), ("VW-P-061", "K-26-0701")] {
            assert!(words.contains(used), "{paper} {used}: {words}");
            assert!(!words.contains(sheet), "{paper} {sheet}: {words}");
        }
    }
}
