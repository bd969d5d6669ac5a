//! Taking a tool in: the same tool is known again, and only ticks that mean something are kept.

use shop::entry::Body;
use shop::job::{ReceiveIn, Refusals, ToolSeen, receive};
use uuid::Uuid;

use crate::bench::{desk, model, receipt};
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
