//! Two benches at one job, and forms that are sent twice.

use crate::client::{Client, ready, receive};
use crate::program::{Program, run, text};

const REASON: &str = "not-safe";

#[test]
fn the_second_bench_is_shown_what_changed_and_keeps_what_it_typed() {
    let program = Program::start();
    let mut first = Client::at(&program.address);
    let mut second = Client::of(&program.address, "Ansa");
    let job = receive(&mut first, "7K-1");
    let (seen_by_first, seen_by_second) = (first.get(&job), second.get(&job));
    let stored = first.send(
        &seen_by_first,
        REASON,
        &[("reason", "shell cracked at the grip")],
    );
    assert_eq!(stored.status, 303);

    let cause = [("causes", "collet-teeth-worn"), ("note", "flat crests")];
    let refused = second.send(&seen_by_second, "cause", &cause);
    assert_eq!(refused.status, 409);
    assert!(
        refused.body.contains("shell cracked at the grip"),
        "what changed is shown"
    );
    assert_eq!(
        refused.value("cause", "note").as_deref(),
        Some("flat crests"),
        "typed stays"
    );

    // The page it got back carries the new version, so a second press goes through.
    let again = second.send(&refused, "cause", &cause);
    assert_eq!(again.status, 303, "{:?}", again.errors());
}

#[test]
fn a_form_sent_twice_is_stored_once() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let fields = [("reason", "shell cracked")];
    let first = client.send(&page, REASON, &fields);
    // Back, and the same form again: same key.
    let second = client.send(&page, REASON, &fields);
    assert_eq!((first.status, second.status), (303, 303));
    assert!(second.location.contains("repeated=true"));
    let there = client.get(second.location.split('#').next().expect("a path"));
    assert!(there.body.contains("This form was stored before"));
    assert!(there.body.contains("Record: 2 entries"));
}

#[test]
fn a_receipt_sent_twice_begins_one_job() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let page = client.get("/receive?model=tulvane-tb-32");
    let (action, ours) = ready(&page, "receive");
    let ours = ours.iter().map(|(n, v)| (n.as_str(), v.as_str()));
    let typed = [
        ("serial", "7K-1"),
        ("new_tool", "yes"),
        ("customer", "x"),
        ("complaint", "slips"),
        ("made_safe", "pack-out"),
        ("made_safe", "trigger-pressed"),
        ("kit-1", "1"),
        ("kit-4", "0"),
        ("pack", "none"),
    ];
    let all: Vec<(&str, &str)> = ours.chain(typed).collect();
    let first = client.post(&action, &all);
    let second = client.post(&action, &all);
    assert_eq!((first.status, second.status), (303, 303));
    assert_eq!(first.location, second.location);
}

#[test]
fn eight_benches_at_once_lose_nothing() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let stored: usize = std::thread::scope(|scope| {
        let benches: Vec<_> = (0..8)
            .map(|bench| {
                let (address, job) = (&program.address, &job);
                scope.spawn(move || {
                    let mut client = Client::of(address, "Mirel");
                    let mut stored = 0;
                    for round in 0..40 {
                        let page = client.get(job);
                        let note = format!("bench {bench} round {round}");
                        let fields = [("for", "parts"), ("note", note.as_str())];
                        let form = if page.body.contains("<form id=\"wait\"") {
                            "wait"
                        } else {
                            "resume"
                        };
                        let answer = client.send(&page, form, &fields);
                        assert!(
                            matches!(answer.status, 303 | 409 | 422),
                            "{}",
                            answer.status
                        );
                        stored += usize::from(answer.status == 303);
                    }
                    stored
                })
            })
            .collect();
        benches
            .into_iter()
            .map(|b| b.join().expect("a bench"))
            .sum()
    });
    let page = client.get(&job);
    let entries = format!("Record: {} entries", stored + 1);
    assert!(stored > 0 && page.body.contains(&entries), "{entries}");
    program.kill();
    let verified = run(&["verify"], &program.store);
    assert!(verified.status.success(), "{}", text(&verified));
}
