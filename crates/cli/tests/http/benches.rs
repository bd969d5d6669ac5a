//! Two benches at one job, and forms that are sent twice.

use crate::client::{Answer, Client, ready, receive};
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

/// A TB-32 agreed, its route laid out to these parts, made safe; the path of its job.
fn laid_out(client: &mut Client, parts: &[(&str, &str)]) -> String {
    let job = receive(client, "7K-1");
    for (form, fields) in [
        (REASON, &[("reason", "shell cracked")][..]),
        ("cause", &[("causes", "collet-teeth-worn")]),
        (
            "warranty",
            &[
                ("cover", "not-covered"),
                ("term", "wear"),
                ("evidence", "flat crests"),
            ],
        ),
        (
            "estimate",
            &[("what", "Collet"), ("count", "1"), ("each", "64.00")],
        ),
        ("answer", &[("yes", "yes"), ("name", "tool store")]),
        ("route", parts),
        ("step-make-safe-form", &[("passed", "yes")]),
    ] {
        let page = client.get(&job);
        let on = client.get(&job).value(form, "on");
        let on = on
            .as_deref()
            .map(|on| ("on", on))
            .filter(|_| form == "answer");
        let fields: Vec<(&str, &str)> = fields.iter().copied().chain(on).collect();
        let answer = client.send(&page, form, &fields);
        assert_eq!(answer.status, 303, "{form}: {:?}", answer.errors());
    }
    job
}

#[test]
fn a_rebuild_goes_on_at_another_bench_without_loss() {
    let program = Program::start();
    let mut first = Client::at(&program.address);
    let job = laid_out(&mut first, &[("down_to", "collet"), ("also", "adjuster")]);
    let page = first.get(&job);
    // The clock runs, a step is done with a remark and a photo, then the job is put aside.
    let started = first.send(&page, "clock-off-anvil-form", &[]);
    assert_eq!(started.status, 303, "{:?}", started.errors());
    let page = first.get(&job);
    let done = first.send(
        &page,
        "step-off-anvil-form",
        &[("note", "seized, warmed up")],
    );
    assert_eq!(done.status, 303, "{:?}", done.errors());
    let page = first.get(&job);
    let files: [(&str, &str, &[u8]); 1] = [("file", "anvil.txt", b"burr at the throat")];
    let fields = [("step", "off-anvil"), ("note", "burr")];
    let kept = first.upload(&page, "file-rebuilt", &fields, &files);
    assert_eq!(kept.status, 303, "{:?}", kept.errors());
    let waits = first.send(
        &first.clone().get(&job),
        "wait",
        &[("for", "parts"), ("note", "tray 9")],
    );
    assert_eq!(waits.status, 303, "{:?}", waits.errors());

    // Another bench, another name: the same step is next, and all that was done is there.
    let mut second = Client::of(&program.address, "Mirel");
    let there = second.get(&job);
    let resumed = second.send(&there, "resume", &[]);
    assert_eq!(resumed.status, 303, "{:?}", resumed.errors());
    let there = second.get(&job);
    for kept in ["seized, warmed up", "burr", "anvil.txt", "min by the clock"] {
        assert!(there.body.contains(kept), "{kept}");
    }
    // A step further on, sent by hand: refused, and the one that comes first is named.
    let (action, ours) = ready(&there, "step-gauge-anvil-throat-form");
    let ours = ours.iter().map(|(n, v)| (n.as_str(), v.as_str()));
    let further = [
        ("step", "tighten-nose"),
        ("reading", "40.0"),
        ("gauge", "tw-100"),
    ];
    let fields: Vec<(&str, &str)> = ours.filter(|(n, _)| *n != "step").chain(further).collect();
    let skipped = second.post(&action, &fields);
    assert_eq!(skipped.status, 422);
    let first_step = "Another step comes first: Measure Anvil, 8 mm: Throat bore";
    assert!(skipped.body.contains(first_step), "{:?}", skipped.errors());
    let read = [("reading", "12.92"), ("gauge", "p-1")];
    let measured = second.send(&there, "step-gauge-anvil-throat-form", &read);
    assert_eq!(measured.status, 303, "{:?}", measured.errors());

    // The first bench still has the page from before: it is told, and loses nothing either.
    let late = first.send(&page, "step-gauge-anvil-throat-form", &read);
    assert_eq!(late.status, 409);
    assert!(late.body.contains("Mirel"), "who went on is said");
    let page = second.get(&job);
    assert!(
        page.body.contains("id=\"step-undo-nose-form\""),
        "the next step is open"
    );
}

/// The states of the parts along the axis, nose first, as the wide drawing of the page has them.
fn along_the_axis(page: &Answer) -> Vec<&str> {
    let figure = page.body.split("<figure class=\"axis\">").nth(1);
    let wide = figure.and_then(|f| f.split("<div class=\"narrow\">").next());
    let parts = wide.expect("the drawing").split("\"ax-part is-").skip(1);
    parts.filter_map(|part| part.split('"').next()).collect()
}

#[test]
fn the_axis_drawing_follows_a_route_from_the_tail() {
    // Demo sheet of the TB-32: 16 parts on the axis, the adjuster and the tail tube the last of them;
    // the lock screw of the adjuster sits beside it and is not drawn.
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = laid_out(&mut client, &[("down_to", "adjuster")]);
    for (step, adjuster, tube) in [
        ("off-tail-tube", "plain", "current"),
        ("undo-adjuster-lock", "plain", "removed"),
        ("off-adjuster-lock", "plain", "removed"),
        ("off-adjuster", "current", "removed"),
        ("clean", "removed", "removed"),
        ("fit-adjuster", "current", "removed"),
    ] {
        let page = client.get(&job);
        let states = along_the_axis(&page);
        assert_eq!(states.len(), 16, "{step}");
        assert_eq!(states[14..], [adjuster, tube], "{step}");
        let lit = states[..14].iter().all(|state| *state == "plain");
        assert!(lit, "{step}: the front stays on, {states:?}");
        let form = format!("step-{step}-form");
        let done = client.send(&page, &form, &[]);
        assert_eq!(done.status, 303, "{step}: {:?}", done.errors());
    }
}
