//! A full disk, for which a limit on the number of SQLite's pages stands in.

use shop::entry::{Resumed, SymptomsNoted};
use uuid::Uuid;

use crate::{AppendError, Request, Store, StoreError, Written};

/// So many pages as if there were no limit.
const ROOMY: u32 = 1_000_000;

async fn write(store: &Store, n: u32, version: u32) -> Result<Written, AppendError<()>> {
    let by = store.person("Ansa").await?;
    let subject = Uuid::from_u128(1);
    let request = Request {
        submission: n.to_string(),
        subject,
        expected_version: version,
        by,
        at: jiff::Timestamp::UNIX_EPOCH,
        serial: None,
    };
    let long = SymptomsNoted {
        present: vec!["x".repeat(3000)],
        absent: Vec::new(),
    };
    store
        .append(request, move |_| {
            Ok(vec![(subject, Resumed {}.into()), (subject, long.into())])
        })
        .await
}

#[tokio::test]
async fn a_full_disk_stores_all_or_nothing_and_needs_no_restart() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shop.setwright");
    let store = Store::open(&path).await.expect("a new record");
    let mut version = write(&store, 0, 0).await.expect("stored").version;
    store.limit_pages(1).await.expect("as few as there are");
    let mut n = 1;
    // Free room in pages that are there already is used up first.
    let refused = loop {
        match write(&store, n, version).await {
            Ok(written) => version = written.version,
            Err(refused) => break refused,
        }
        n += 1;
        assert!(n < 50, "it is never full");
    };
    assert_eq!(refused, AppendError::Store(StoreError::Full));
    let entries = store
        .entries(Uuid::from_u128(1))
        .await
        .expect("reads go on");
    assert_eq!(entries.len(), usize::try_from(version).expect("few"));
    assert!(store.verify().await.expect("report").is_clean());

    store.limit_pages(ROOMY).await.expect("room");
    let written = write(&store, n, version).await.expect("stored");
    assert!(!written.repeated);
    assert_eq!(written.version, version + 2);
    assert!(store.verify().await.expect("report").is_clean());
    store.close().await;
}
