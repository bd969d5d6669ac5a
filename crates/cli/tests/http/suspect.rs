//! Joints in doubt: the block at the fault stage and the notice to the owner.

use std::io::Write;
use std::process::{Command, Stdio};

use crate::client::{Client, receive};
use crate::program::Program;

/// The words of a PDF.
pub fn words_of(pdf: &[u8]) -> String {
    let mut reader = Command::new("pdftotext")
        .args(["-raw", "-", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("pdftotext, of poppler-utils");
    let mut input = reader.stdin.take().expect("its input");
    input.write_all(pdf).expect("it reads");
    drop(input);
    let told = reader.wait_with_output().expect("it ends");
    let text = String::from_utf8_lossy(&told.stdout).into_owned();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_bad_joint_as_found_gives_the_owner_a_notice() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let notice = format!("{job}/suspect-notice.pdf");
    let page = client.get(&job);
    assert!(
        !page.body.contains("Joints in doubt"),
        "nothing bad was found"
    );
    assert_eq!(client.get(&notice).status, 404);

    let bad = [
        ("seen", "pull-grooves"),
        ("value-collar-diameter", "13.362"),
        ("gauge-collar-diameter", "m-1"),
        ("note", "Let go half-way."),
    ];
    let stored = client.send(&page, "found-joint-marlstead-m8", &bad);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(&job);
    // The log names what was measured, as the sheet does.
    let (_, history) = page
        .body
        .split_once("class=\"history\"")
        .expect("the history");
    assert!(
        history.contains("Collar diameter over the swaged land 13.362"),
        "{history}"
    );
    assert!(!history.contains("collar-diameter"), "{history}");
    for said in [
        "Joints in doubt",
        "Joint as found: Marlstead M8",
        "None on this record",
        "All that the counter shows: 26\u{202f}400 pulls",
        "The record does not say.",
        "for the engineer of record",
        notice.as_str(),
    ] {
        assert!(page.body.contains(said), "{said}\n{}", page.body);
    }
    let paper = client.get(&notice);
    assert_eq!(paper.status, 200);
    let words = words_of(&paper.bytes);
    for said in [
        "Notice: joints in doubt",
        "Fennholt Glasshouse Frames",
        "13.362 mm",
        "Let go half-way.",
        "None on this record",
        "does not say that any structure is safe",
    ] {
        assert!(words.contains(said), "{said}\n{words}");
    }

    // What was struck was not found.
    let version = page.body.split("name=\"entry\" value=\"").nth(1);
    let version = version
        .and_then(|rest| rest.split('"').next())
        .expect("a strike");
    let strike = format!("strike-{version}");
    let struck = client.send(&page, &strike, &[("reason", "another tool's joint")]);
    assert_eq!(struck.status, 303, "{:?}", struck.errors());
    assert!(!client.get(&job).body.contains("Joints in doubt"));
    assert_eq!(client.get(&notice).status, 404);
}
