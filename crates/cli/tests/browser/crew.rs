//! A report from a crew, as the bench sees it; and the phone from which it comes.

use crate::harness::{DESKTOP, PHONE, Program};
use crate::technician::Technician;

#[tokio::test]
async fn from_the_card_to_the_bench() {
    // The link names this host; its path is opened at the address that the program got.
    let on_cards = "http://bench-2:4517";
    let program = Program::demo_with(&["--address-on-cards", on_cards]);
    let mut bench = Technician::at(&program, DESKTOP).await;
    bench.open("/find?q=7K-0412").await;
    let link = bench
        .browser
        .js("[...document.links].map(a => a.getAttribute('href')).find(h => h.startsWith('http://bench-2'))")
        .await;
    let link = link.as_str().expect("a link").replace(on_cards, "");

    let mut crew = Technician::at(&program, PHONE).await;
    crew.open(&link).await;
    crew.send(
        "measure",
        &[
            ("reading#0", "26.0"),
            ("reading#1", "26.1"),
            ("reading#2", "25.9"),
            ("clamped=yes", "✓"),
        ],
    )
    .await;
    // (36.0 - 26.0) / 1.5 = 6.67 turns, and this tool's three joints read what the table says.
    assert_eq!(crew.text(".answer .big").await, "6¾ turns");
    assert!(
        crew.text(".answer summary")
            .await
            .contains("This tool’s own turns")
    );
    crew.browser.shot("crew-0-own-turns").await;
    crew.send("joints", &[]).await;
    assert!(
        crew.errors().await.contains("crew number"),
        "{}",
        crew.errors().await
    );
    crew.browser.shot("crew-1-mistakes").await;
    let joints = [
        ("value-collar-diameter#0", "13.00"),
        ("value-collar-diameter#1", "13.01"),
        ("value-collar-diameter#2", "13.02"),
        ("value-reach#0", "1.1"),
        ("value-reach#1", "1.0"),
        ("value-reach#2", "1.2"),
        ("name", "Crew 7"),
        ("good=yes", "✓"),
    ];
    crew.send("joints", &joints).await;
    assert!(
        crew.text(".note.ok")
            .await
            .contains("waits for a technician")
    );
    crew.browser.shot("crew-2-sent").await;

    // Another joint, and a bad one: nothing needs to be measured to report it.
    let seen = "document.querySelectorAll('#joints details').forEach(d => d.open = true)";
    crew.browser.js(seen).await;
    let torn = [
        ("good=no", "✓"),
        ("seen=lock-grooves", "✓"),
        ("turns", "6 3/4"),
        ("name", "Crew 7"),
    ];
    crew.send("joints", &torn).await;
    assert_eq!(crew.text(".answer.no .big").await, "Stop");
    crew.browser.shot("crew-2-stop").await;
    // A link that somebody changed is said before the answer, which is the table's.
    let altered = link.replace("sig=", "sig=0");
    let readings = "&reading=26.0&reading=26.1&clamped=yes";
    crew.open(&format!("{altered}{readings}")).await;
    assert!(crew.text(".warn").await.contains("was not made here"));
    assert_eq!(crew.text(".answer .big").await, "6¾ turns");
    crew.browser.assert_fits().await;
    crew.browser.shot("crew-2-wrong-link").await;

    bench.open("/").await;
    bench.pick_name().await;
    bench.open("/inbox").await;
    bench.browser.shot("crew-3-inbox").await;
    crew.open("/inbox").await;
    crew.browser.assert_fits().await;
    crew.browser.assert_accessible().await;
    crew.browser.shot("crew-4-inbox-phone").await;
    // The bad one stands first and is noted; then the good one is accepted.
    assert!(
        crew.text("main .result")
            .await
            .contains("Reported as not good")
    );
    for _ in 0..2 {
        let id = bench
            .browser
            .js("document.querySelector('form[id^=accept]').id")
            .await;
        bench.send(id.as_str().expect("a form"), &[]).await;
    }
    bench.open("/find?q=7K-0412").await;
    let said = bench.text("main").await;
    assert!(said.contains("Accepted as evidence") && said.contains("It counts for no setting"));
    bench.browser.shot("crew-5-tool").await;
}
