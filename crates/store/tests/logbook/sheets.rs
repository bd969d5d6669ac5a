//! The shelf follows from the logbook.

use std::fs;
use std::path::Path;

use shop::entry::{Body, SHELF, SheetRevised, SheetWithdrawn};
use shop::sheet::{Kind, Pin};
use store::{AppendError, StoreError, Written};

use crate::Bench;
use crate::sample::request;

fn demo_shop() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sheets/demo/shop.toml");
    fs::read_to_string(path).expect("the demo shop's card")
}

fn revised(revision: u32, text: String) -> Body {
    SheetRevised {
        kind: "shop".to_owned(),
        id: "tarnwick".to_owned(),
        revision,
        text,
    }
    .into()
}

async fn put(bench: &Bench, body: Body) -> Result<Written, AppendError<()>> {
    let by = bench.store.person("Ansa").await.expect("a key");
    let version = bench.store.entries(SHELF).await.expect("entries").len();
    let version = u32::try_from(version).expect("few");
    let key = format!("sheet {version}");
    let request = request(&key, SHELF, version, &by);
    bench
        .store
        .append(request, |_| Ok(vec![(SHELF, body)]))
        .await
}

#[tokio::test]
async fn sheets_are_on_the_shelf_at_once_and_after_reopening() {
    let bench = Bench::new().await;
    let later = demo_shop().replace("78.00", "81.00");
    put(&bench, revised(1, demo_shop())).await.expect("stored");
    put(&bench, revised(2, later.clone()))
        .await
        .expect("stored");
    for bench in [&bench.reopened().await] {
        let shelf = bench.store.shelf();
        let newest = shelf.newest(Kind::Shop, "tarnwick").expect("in force");
        assert_eq!(newest.revision, 2);
        assert_eq!(shelf.pinned(Kind::Shop, &newest).expect("it").text, later);
        let gone = SheetWithdrawn {
            kind: "shop".to_owned(),
            id: "tarnwick".to_owned(),
        };
        put(bench, gone.into()).await.expect("stored");
        let shelf = bench.store.shelf();
        assert_eq!(shelf.newest(Kind::Shop, "tarnwick"), None);
        assert!(shelf.pinned(Kind::Shop, &newest).is_some());
        assert!(bench.store.verify().await.expect("report").is_clean());
    }
}

#[tokio::test]
async fn a_sheet_that_does_not_read_or_does_not_follow_is_not_stored() {
    let bench = Bench::new().await;
    for (revision, text) in [
        (1, "sheet = \"shop\"".to_owned()),
        (2, demo_shop()),
        (1, demo_shop().replace("\"tarnwick\"", "\"other\"")),
    ] {
        let refused = put(&bench, revised(revision, text)).await;
        let bad = StoreError::BadSheet {
            id: "tarnwick".to_owned(),
            revision,
        };
        assert_eq!(refused, Err(AppendError::Store(bad)));
    }
    assert_eq!(bench.store.head().await.expect("head").seq, 0);
    assert_eq!(bench.store.shelf().shops().count(), 0);
}

#[tokio::test]
async fn a_stored_sheet_that_no_longer_reads_keeps_its_number() {
    let bench = Bench::new().await;
    put(&bench, revised(1, demo_shop())).await.expect("stored");
    put(&bench, revised(2, demo_shop())).await.expect("stored");
    // As a later program would find it that reads sheets more strictly.
    bench
        .tamper(
            "DROP TRIGGER entries_are_not_changed;
             UPDATE entries SET body = replace(body, 'labour_per_hour', 'labour') WHERE version = 2",
        )
        .await;
    let bench = bench.reopened().await;
    let shelf = bench.store.shelf();
    let pin = |revision| Pin {
        id: "tarnwick".to_owned(),
        revision,
    };
    assert!(shelf.pinned(Kind::Shop, &pin(1)).is_some());
    assert!(shelf.pinned(Kind::Shop, &pin(2)).is_none());
    assert_eq!(shelf.newest(Kind::Shop, "tarnwick"), None);
    assert_eq!(shelf.lost().collect::<Vec<_>>(), [(Kind::Shop, pin(2))]);
    put(&bench, revised(3, demo_shop())).await.expect("stored");
    assert_eq!(
        bench.store.shelf().newest(Kind::Shop, "tarnwick"),
        Some(pin(3))
    );
}

fn gauge_sheet() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sheets/demo/gauges/lc-50.toml");
    fs::read_to_string(path).expect("a demo gauge")
}

fn calibrated(number: u32) -> Body {
    let json = format!(
        r#"{{"gauge":{{"id":"lc-50","revision":1}},"number":{number},"date":"2026-10-01","unit":"kN",
        "points":[{{"nominal":10.0,"found":0.2,"left":0.1,"expanded":0.1,"k":2.0}},{{"nominal":50.0,"left":0.1,"expanded":0.1,"k":2.0}}],
        "shape":"points","drift":0.05,"limit":0.6,"found":"accept","left":"accept","method":"conformity-guard-band 1",
        "by":"k4","certificate":"T-1","months":12,"due":"2027-10-01","note":""}}"#
    );
    Body::from_json("gauge-calibrated", 1, &json).expect("reads")
}

#[tokio::test]
async fn what_is_written_of_a_gauge_is_on_the_shelf_at_once_and_after_reopening() {
    let bench = Bench::new().await;
    let sheet = SheetRevised {
        kind: "gauge".to_owned(),
        id: "lc-50".to_owned(),
        revision: 1,
        text: gauge_sheet(),
    };
    put(&bench, sheet.into()).await.expect("stored");
    let by = bench.store.person("Ansa").await.expect("a key");
    let subject = shop::gauge::subject_of("lc-50");
    let write = |key: &'static str, version, body: Body| {
        let request = request(key, subject, version, &by);
        bench.store.append(request, move |_| -> Result<_, ()> {
            Ok(vec![(subject, body)])
        })
    };
    write("one", 0, calibrated(1)).await.expect("stored");
    // A number that is not the next is not stored: a reading could not tell which of two it meant.
    let again = write("two", 1, calibrated(1)).await;
    assert!(matches!(
        again,
        Err(AppendError::Store(StoreError::BadSheet { .. }))
    ));
    let count = |shelf: &shop::sheet::Shelf| shelf.gauge_history("lc-50").map(|h| h.lines().len());
    assert_eq!(count(&bench.store.shelf()), Some(1));
    // Entries that name the gauge are found from a moment on.
    let found = bench
        .store
        .entries_with_gauge("lc-50", None)
        .await
        .expect("read");
    assert_eq!(found.len(), 1);
    // Recorded pulls name it among the gauges of their rig.
    let pulls = r#"{"phase":"as-left","sha256":"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad","name":"stall.csv",
        "rig":null,"fastener":null,"gauges":[{"id":"ds-1","revision":1},{"id":"lc-50","revision":1}],"in_date":true,"found":1,"faults":0,
        "pulls":[],"band":null,"outcome":null,"methods":[],"note":""}"#;
    let pulls = Body::from_json("pulls-read", 1, pulls).expect("reads");
    write("three", 1, pulls).await.expect("stored");
    let found = bench
        .store
        .entries_with_gauge("lc-50", None)
        .await
        .expect("read");
    assert_eq!(found.len(), 2);
    let later = found[1].at + jiff::Span::new().seconds(1);
    let found = bench
        .store
        .entries_with_gauge("lc-50", Some(later))
        .await
        .expect("read");
    assert!(found.is_empty());
    assert!(
        bench
            .store
            .entries_with_gauge("lc-5", None)
            .await
            .expect("read")
            .is_empty()
    );
    let bench = bench.reopened().await;
    assert_eq!(count(&bench.store.shelf()), Some(1));
    assert!(
        bench
            .store
            .verify()
            .await
            .expect("read")
            .differences
            .is_empty()
    );
}
