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
