//! A full disk and a kill: what was acknowledged is there, what was typed is not lost.

use crate::client::{Client, receive};
use crate::program::{Program, run, text};

#[test]
fn a_disk_that_takes_no_more_says_so_keeps_what_was_typed_and_goes_on() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    program.kill();

    // No file may grow beyond what the store has now: a stand-in for a full disk.
    let size = std::fs::metadata(&program.store).expect("a store").len();
    let blocks = size.div_ceil(1024) + 40;
    let limited = Program::serve(
        &program.store,
        &format!("trap '' XFSZ; ulimit -f {blocks};"),
    );
    let mut client = Client::at(&limited.address);
    let long = "a long reason ".repeat(4000 / 14);
    let mut refused = None;
    for _ in 0..60 {
        let page = client.get(&job);
        let answer = client.send(&page, "wait", &[("for", "parts"), ("note", &long)]);
        if answer.status == 503 {
            refused = Some(answer);
            break;
        }
        assert_eq!(answer.status, 303, "{:?}", answer.errors());
        let page = client.get(&job);
        let resumed = client.send(&page, "resume", &[]);
        if resumed.status == 503 {
            refused = Some(resumed);
            break;
        }
    }
    let refused = refused.expect("the disk gets full");
    assert!(refused.body.contains("could not be written"), "it says so");
    assert!(
        refused.body.contains("name=\"submission\""),
        "it can be sent again"
    );
    assert_eq!(client.get(&job).status, 200, "reading goes on");
    drop(limited);

    let verified = run(&["verify"], &program.store);
    assert!(verified.status.success(), "{}", text(&verified));
    let roomy = Program::serve(&program.store, "");
    let mut client = Client::at(&roomy.address);
    let page = client.get(&job);
    let form = if page.body.contains("<form id=\"wait\"") {
        "wait"
    } else {
        "resume"
    };
    let answer = client.send(&page, form, &[("for", "parts"), ("note", "short")]);
    assert_eq!(answer.status, 303, "with room it goes on");
}

#[test]
fn what_the_browser_was_told_is_stored_survives_a_kill() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let mut acknowledged = 1;
    for round in 0..6 {
        let address = program.address.clone();
        let path = job.clone();
        let writer = std::thread::spawn(move || {
            let mut client = Client::at(&address);
            let mut stored = 0;
            loop {
                let page = client.get(&path);
                let form = if page.body.contains("<form id=\"wait\"") {
                    "wait"
                } else {
                    "resume"
                };
                let (action, mut ours) = crate::client::ready(&page, form);
                ours.push(("for".to_owned(), "parts".to_owned()));
                let fields: Vec<(&str, &str)> =
                    ours.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
                match client.try_post(&action, &fields) {
                    Some(answer) if answer.status == 303 => stored += 1,
                    _ => return stored,
                }
            }
        });
        // Each round another moment, some of them in the middle of a commit.
        std::thread::sleep(std::time::Duration::from_millis(120 + 37 * round));
        program.kill();
        acknowledged += writer.join().unwrap_or_default();
        let verified = run(&["verify"], &program.store);
        assert!(verified.status.success(), "{}", text(&verified));
        let store = program.store.clone();
        let again = Program::serve(&store, "");
        let mut client = Client::at(&again.address);
        let entries = client.get(&job);
        let count = entries.body.split("Record: ").nth(1).expect("a count");
        let count: usize = count
            .split(' ')
            .next()
            .and_then(|n| n.parse().ok())
            .unwrap_or(1);
        assert!(
            count >= acknowledged,
            "round {round}: {count} of {acknowledged}"
        );
        // One that was stored and not told may be there too; from here it counts.
        acknowledged = count;
        program = again.adopt(&mut program);
    }
}
