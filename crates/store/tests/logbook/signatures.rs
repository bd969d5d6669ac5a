//! Certificates that wait for a second signature, and the papers of those that were refused.

use shop::entry::{Body, CertificatePrepared, PersonKey, Struck};
use store::{FileHash, Store};
use uuid::Uuid;

use crate::Bench;
use crate::sample::{Chance, request, returned, take_in, write};

/// As stored; which one it is decides nothing here.
fn prepared(number: &str, paper: Option<&str>) -> Body {
    let json = r#"{"certificate":{"number":"N","method":"bench-proof 4","rests_on":[1],"sheets":[],"content":"",
        "temperature_c":21.5,"conditions":"","remarks":"","author":"k"}}"#;
    let json = json.replace("\"N\"", &format!("\"{number}\""));
    let body = Body::from_json("certificate-prepared", 1, &json);
    let Ok(Body::CertificatePrepared(mut prepared)) = body else {
        panic!("{body:?}");
    };
    match paper {
        None => prepared.into(),
        Some(paper) => {
            prepared.certificate.paper = Some(paper.to_owned());
            let CertificatePrepared { certificate } = prepared;
            certificate.into()
        }
    }
}

/// Three jobs: the certificates of the first and the last wait.
async fn waiting() -> (Bench, Vec<Uuid>, PersonKey) {
    let bench = Bench::new().await;
    let mut chance = Chance(1);
    let by = bench.store.person("Ansa").await.expect("a key");
    let mut jobs = Vec::new();
    for serial in ["T-1", "T-2", "T-3"] {
        let (job, tool) = (chance.uuid(), chance.uuid());
        let taken = take_in(&bench.store, serial, job, tool, serial, &by).await;
        taken.expect("stored");
        jobs.push(job);
    }
    for (key, at) in [("a", 0), ("b", 2)] {
        let number = format!("{}-P1", 1001 + at);
        let request = request(key, jobs[at], 1, &by);
        let written = write(&bench.store, request, prepared(&number, None)).await;
        written.expect("stored");
    }
    (bench, jobs, by)
}

async fn to_sign(store: &Store) -> Vec<String> {
    let jobs = store.jobs_to_sign().await.expect("jobs");
    jobs.into_iter().map(|job| job.signature).collect()
}

#[tokio::test]
async fn what_waits_is_found_until_it_is_issued_or_struck_also_of_a_job_that_ended() {
    let (bench, jobs, by) = waiting().await;
    assert_eq!(to_sign(&bench.store).await, ["1001-P1", "1003-P1"]);
    let ended = request("c", jobs[0], 2, &by);
    let written = write(&bench.store, ended, returned(&by)).await;
    written.expect("stored");
    assert_eq!(to_sign(&bench.store).await, ["1001-P1", "1003-P1"]);
    let issued = prepared("1001-P1", Some("ba78"));
    let written = write(&bench.store, request("d", jobs[0], 3, &by), issued).await;
    written.expect("stored");
    assert_eq!(to_sign(&bench.store).await, ["1003-P1"]);
    let struck = Struck {
        version: 2,
        reason: "misread".to_owned(),
    };
    let written = write(
        &bench.store,
        request("e", jobs[2], 2, &by),
        Body::Struck(struck),
    );
    written.await.expect("stored");
    assert_eq!(to_sign(&bench.store).await, [""; 0]);
}

/// Takes the record back to the form that it had before what waits was listed.
const OLDER: &str = "DROP INDEX jobs_to_sign; ALTER TABLE jobs DROP COLUMN signature;
                     DELETE FROM _sqlx_migrations WHERE version = 4; PRAGMA user_version = 0";

#[tokio::test]
async fn an_older_record_lists_what_waits_from_its_first_opening_on() {
    let (bench, ..) = waiting().await;
    bench.store.clone().close().await;
    bench.tamper(OLDER).await;
    let store = Store::open(&bench.path()).await.expect("opened");
    assert_eq!(to_sign(&store).await, ["1001-P1", "1003-P1"]);
    let report = store.verify().await.expect("report");
    assert!(report.is_clean(), "{:?}", report.differences);
}

#[tokio::test]
async fn a_paper_that_no_entry_names_is_taken_away_and_one_that_is_named_stays() {
    let (bench, jobs, by) = waiting().await;
    let keep = |bytes: &[u8]| {
        let mut incoming = bench.store.files().receive("paper.pdf").expect("begins");
        incoming.write(bytes).expect("taken");
        incoming.keep().expect("kept").hash.to_string()
    };
    let named = keep(b"%PDF-1.7\nissued\n%%EOF\n");
    let unnamed = keep(b"%PDF-1.7\nrefused\n%%EOF\n");
    let issued = prepared("1001-P1", Some(&named));
    let written = write(&bench.store, request("d", jobs[0], 2, &by), issued).await;
    written.expect("stored");
    for hash in [&named, &unnamed] {
        bench.store.drop_unnamed(hash).await.expect("done");
    }
    let is_kept = |hash: &str| {
        let hash = FileHash::parse(hash).expect("a hash");
        bench.store.files().open(&hash).expect("the disk").is_some()
    };
    assert_eq!((is_kept(&named), is_kept(&unnamed)), (true, false));
    // Again it is fine.
    bench.store.drop_unnamed(&unnamed).await.expect("done");
}
