//! Names, and how they are forgotten.

use store::{JobFilter, StoreError};

use crate::Bench;
use crate::sample::{Chance, take_in};

#[tokio::test]
async fn a_name_has_one_key() {
    let bench = Bench::new().await;
    let ansa = bench.store.person("Ansa").await.expect("a key");
    assert_eq!(bench.store.person("  Ansa ").await.expect("a key"), ansa);
    let joren = bench.store.person("Joren").await.expect("a key");
    assert_ne!(joren, ansa);
    let names = bench.store.names().await.expect("names");
    assert_eq!(
        (names[&ansa].as_str(), names[&joren].as_str()),
        ("Ansa", "Joren")
    );
    let bench = bench.reopened().await;
    assert_eq!(bench.store.person("Ansa").await.expect("a key"), ansa);
    assert_eq!(*bench.store.names().await.expect("names"), *names);
    // The same name has another key in another record.
    let other = Bench::new().await;
    assert_ne!(other.store.person("Ansa").await.expect("a key"), ansa);
}

#[tokio::test]
async fn an_empty_name_is_nobody() {
    let bench = Bench::new().await;
    assert_eq!(bench.store.person(" \t").await, Err(StoreError::NoName));
}

#[tokio::test]
async fn an_erased_name_is_gone_and_the_chain_whole() {
    let bench = Bench::new().await;
    let mut chance = Chance(1);
    let customer = "Brennow Rigging, Oskelund Quay 7";
    let by = bench.store.person(customer).await.expect("a key");
    let (job, tool) = (chance.uuid(), chance.uuid());
    let taken = take_in(&bench.store, "a", job, tool, "TB-1", &by).await;
    taken.expect("stored");
    let filter = JobFilter {
        text: "rigging".to_owned(),
        ..JobFilter::default()
    };
    assert_eq!(bench.store.jobs(&filter).await.expect("jobs").len(), 1);

    bench.store.erase_person(&by).await.expect("erased");
    assert!(!bench.store.names().await.expect("names").contains_key(&by));
    assert!(bench.store.jobs(&filter).await.expect("jobs").is_empty());
    assert_eq!(bench.store.entries(job).await.expect("entries").len(), 1);
    assert!(bench.store.verify().await.expect("report").is_clean());
    let bench = bench.reopened().await;
    assert!(!bench.store.names().await.expect("names").contains_key(&by));
    // Not a byte of it is left in the files.
    for file in std::fs::read_dir(bench.path().parent().expect("a folder")).expect("files") {
        let bytes = std::fs::read(file.expect("a file").path()).expect("its bytes");
        let name = b"Brennow Rigging";
        let found = bytes
            .windows(name.len())
            .any(|w| w.eq_ignore_ascii_case(name));
        assert!(!found);
    }
    // Whoever comes back under that name is someone new.
    assert_ne!(bench.store.person(customer).await.expect("a key"), by);
}
