//! Taking a tool in: the same tool is known again, and only ticks that mean something are kept.

use shop::entry::{Body, Fitted, PackState, PinRecord};
use shop::job::{ReceiveIn, Refusals, ToolSeen, receive};
use shop::kit::needed_to_run;
use shop::sheet::Guard;
use uuid::Uuid;

use crate::bench::{Bench, desk, model, receipt};
use crate::walk::safe;

const TB: &str = "tulvane-tb-32";

fn known(open_job: Option<u32>) -> Vec<ToolSeen> {
    vec![ToolSeen {
        tool: Uuid::from_u128(5),
        serial: "7K-0412".to_owned(),
        model: TB.to_owned(),
        open_job,
        counter: None,
    }]
}

fn taken_in(input: &ReceiveIn, known: &[ToolSeen]) -> Result<Vec<(Uuid, Body)>, Refusals> {
    let (job, new_tool) = (Uuid::from_u128(7), Uuid::from_u128(8));
    receive(input, known, job, 2, new_tool, &desk())
}

fn typed(serial: &str, new_tool: bool) -> ReceiveIn {
    ReceiveIn {
        serial: serial.to_owned(),
        new_tool,
        ..receipt(model(TB), &["jaws-slip"])
    }
}

#[test]
fn a_serial_typed_small_is_the_same_tool() {
    for serial in ["7K-0412", "7k-0412", " 7k-0412 "] {
        for new_tool in [false, true] {
            let bodies = taken_in(&typed(serial, new_tool), &known(None)).expect("known");
            let [(_, Body::Received(received))] = bodies.as_slice() else {
                panic!("{serial} is registered again: {bodies:?}");
            };
            assert_eq!(received.tool, Uuid::from_u128(5));
            assert_eq!(received.serial, "7K-0412");
        }
        let refused = taken_in(&typed(serial, true), &known(Some(3))).expect_err("on the bench");
        assert_eq!(refused[0].message.id, "receive-already-here");
    }
    let other = taken_in(&typed("7k-0413", false), &known(None)).expect_err("another");
    assert_eq!(other[0].message.id, "receive-serial-unknown");
}

#[test]
fn ticks_that_the_drive_does_not_ask_for_are_not_kept() {
    let mut input = typed("T-1", true);
    input.made_safe = safe();
    input.made_safe.push("prayed".to_owned());
    let bodies = taken_in(&input, &[]).expect("taken in");
    let Some((_, Body::Received(received))) = bodies.last() else {
        panic!("{bodies:?}");
    };
    assert_eq!(received.made_safe, ["pack-out", "trigger-pressed"]);
}

#[test]
fn a_pack_that_was_counted_has_a_state_and_one_with_a_state_was_counted() {
    let why = |packs: u32, pack: PackState| {
        let mut input = typed("T-1", true);
        // The second line of the sheet's kit.
        input.came[1] = packs;
        input.pack = pack;
        match taken_in(&input, &[]) {
            Ok(_) => Vec::new(),
            Err(refusals) => refusals
                .iter()
                .map(|r| format!("{}: {}", r.field, r.message.id))
                .collect(),
        }
    };
    for count in [1, 2] {
        assert_eq!(
            why(count, PackState::None),
            ["pack: receive-pack-came", "kit-2: receive-pack-counted"]
        );
        assert!(why(count, PackState::Sound).is_empty());
        assert!(why(count, PackState::Damaged).is_empty());
    }
    assert!(why(0, PackState::None).is_empty());
    assert_eq!(
        why(0, PackState::Damaged),
        [
            "pack: receive-pack-none-came",
            "kit-2: receive-pack-not-counted"
        ]
    );
}

/// What the page asks for before the tool runs, of a tool that came with nothing but itself.
fn asked_before_it_runs(model_id: &str, fit: Option<(&str, &str)>) -> Vec<String> {
    let mut input = receipt(model(model_id), &[]);
    input.came = vec![1];
    input.pack = PackState::None;
    let mut bench = Bench::taken_in(&input);
    if let Some((fastener, nose)) = fit {
        bench.write([Fitted {
            fastener: pin(fastener),
            code: String::new(),
            nose_set: pin(nose),
            collet_mm: None,
            made_safe: Vec::new(),
            stack: None,
        }
        .into()]);
    }
    let job = bench.job();
    let needed = needed_to_run(&job, model(model_id), &bench.desk);
    needed.iter().map(|came| came.item.clone()).collect()
}

fn pin(id: &str) -> PinRecord {
    PinRecord {
        id: id.to_owned(),
        revision: 1,
    }
}

#[test]
fn what_catches_tails_is_asked_for_where_a_tail_parts() {
    const AH: &str = "orrinbeck-ah-21";
    assert_eq!(asked_before_it_runs(AH, None), ["Tail collector"]);
    let break_tail = Some(("drumhale-d6", "n26-d6"));
    assert_eq!(asked_before_it_runs(AH, break_tail), ["Tail collector"]);
    // A rivet nut parts nothing.
    assert!(asked_before_it_runs(AH, Some(("drumhale-rn6", "n26-rn6"))).is_empty());
}

#[test]
fn a_sheet_that_marks_no_guard_leaves_all_to_be_asked_for() {
    let mut unmarked = model(TB).clone();
    for item in &mut unmarked.kit {
        item.guards = None;
    }
    let mut input = receipt(model(TB), &[]);
    input.came[6] = 0;
    let bench = Bench::taken_in(&input);
    let job = bench.job();
    let needed = needed_to_run(&job, &unmarked, &bench.desk);
    assert_eq!(needed.len(), 1, "the case");
    assert!(needed_to_run(&job, model(TB), &bench.desk).is_empty());
    // What keeps hands away is asked for whatever the fastener is.
    for item in &mut unmarked.kit {
        item.guards = Some(Guard::Hands);
    }
    assert_eq!(needed_to_run(&job, &unmarked, &bench.desk).len(), 1);
}
