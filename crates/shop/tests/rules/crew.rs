//! The crew at the work place: the same setting as at the bench, the same refusals, and joints that are bad.

use calc::repeated::Estimate;
use shop::asked::{pins_refused, stroke_refused};
use shop::crew::{CrewSetting, Inbox, InboxCommand, JointsIn, LinkFor, decide, inbox_of, setting};
use shop::entry::{Body, CrewJointsAccepted, CrewJointsSent, Entry, PastSetUp, Seen};
use shop::grip::StackIn;
use shop::job::{Command, Refusal, TypedValue};
use shop::sheet::{FastenerFamily, Kind};
use shop::trial::own::{self, Past};
use uuid::Uuid;

use crate::bench::{Bench, desk, measured, model, person, sheets, shelf};
use crate::walk::fit;

const TOOL: Uuid = Uuid::from_u128(9);

fn fastener(id: &str) -> &'static FastenerFamily {
    let pin = shelf().newest(Kind::Fastener, id).expect("a demo fastener");
    shelf().fastener(&pin).expect("a demo fastener")
}

fn typed(field: &str, value: f64) -> TypedValue {
    TypedValue {
        field: field.to_owned(),
        raw: value.to_string(),
        value,
    }
}

fn said(refusals: &[Refusal]) -> Vec<String> {
    let each = refusals.iter();
    each.map(|r| format!("{}: {}", r.field, r.message.id))
        .collect()
}

#[test]
fn pins_that_no_setting_rests_on() {
    let refused = |pins: &[f64], clamped: bool| {
        let each = pins.iter().enumerate();
        let pins: Vec<_> = each.map(|(i, mm)| typed(&format!("p{i}"), *mm)).collect();
        said(&pins_refused(fastener("marlstead-m8"), &pins, clamped))
    };
    assert_eq!(refused(&[26.0, 26.1], true), [""; 0]);
    assert_eq!(refused(&[26.0], true), ["reading: refuse-one-pin"]);
    assert_eq!(refused(&[], true), ["reading: refuse-no-stick-out"]);
    assert_eq!(
        refused(&[26.0, 26.1], false),
        ["clamped: refuse-not-clamped"]
    );
    // 1.02 in = 25.91 mm (1 in = 25.4 mm exactly), inside 25.2 to 26.8 mm.
    assert_eq!(refused(&[26.0, 1.02], true), ["p1: refuse-inches"]);
    assert_eq!(
        refused(&[1.02], false),
        [
            "p0: refuse-inches",
            "reading: refuse-one-pin",
            "clamped: refuse-not-clamped"
        ]
    );
}

#[test]
fn a_wanted_stroke_in_inches_is_named() {
    // 0.12 in = 3.048 mm (1 in = 25.4 mm exactly), inside 2.8 to 3.6 mm.
    let refused = |mm: f64| {
        let model = model("orrinbeck-ah-21");
        stroke_refused(model, fastener("drumhale-rn6"), &typed("stroke", mm)).map(|r| r.message.id)
    };
    assert_eq!(refused(0.12), Some("refuse-inches"));
    // 0.2 in = 5.08 mm is no stroke of it either.
    for beyond in [0.2, 2.7, 3.7, f64::NAN] {
        assert_eq!(refused(beyond), Some("refuse-stroke-range"), "{beyond}");
    }
    assert_eq!(refused(3.0), None);
}

/// The sheets and the mean stick-out of a bench job with `past`, and what the bench made of them.
fn at_the_bench(past: &[PastSetUp]) -> (Bench, Estimate) {
    let mut bench = Bench::ready("tulvane-tb-32").rebuilt("collet");
    bench.does(fit("marlstead-m8", "06", "n8"));
    bench.does(Command::ReadStickOut {
        measured: measured("c-3", &[26.2, 26.2, 26.2]),
        past: Past {
            points: past.to_vec(),
            left_out: 0,
        },
        stack: StackIn::default(),
        clamped: true,
    });
    let job = bench.job();
    let read = job.set_up().and_then(|s| s.stick_out()).expect("read");
    let mean = bench.desk.mean_of(&read.readings).expect("a mean");
    (bench, mean)
}

#[test]
fn the_crew_is_told_the_bench_s_own_turns() {
    // 0.6 mm too far from the flange at the table's turns: fewer turns of 1.5 mm.
    let past = [PastSetUp {
        turns_off: 0.0,
        value_off_mm: 0.6,
        joints: 3,
    }; 3];
    let (bench, mean) = at_the_bench(&past);
    let (job, desk) = (bench.job(), desk());
    let set_up = job.set_up().expect("fitted");
    let sheets = job.set_up_sheets(set_up, &desk).expect("sheets");
    let told = |past: &[PastSetUp]| match setting(&sheets, Some(&mean), past) {
        Some(Ok(CrewSetting::Turns { table, own })) => (table, own),
        other => panic!("{other:?}"),
    };
    let (table, own) = told(&past);
    let read = set_up.stick_out().expect("read");
    assert!(own.is_some() && own == read.own, "{own:?}");
    assert_eq!(Some(table.set_turns), read.set_turns);
    let both = CrewSetting::Turns { table, own };
    assert_eq!(both.set_turns(), read.own.as_ref().map(|own| own.set_turns));
    assert_ne!(both.set_turns(), read.set_turns);
    // A tool of which nothing is known is set by the table.
    let (table, own) = told(&[]);
    assert_eq!((own, Some(table.set_turns)), (None, read.set_turns));
}

/// What the crew sends of joints that `good` says are good or not.
fn sending(good: Option<bool>, seen: Option<Seen>, reach: &[f64]) -> JointsIn {
    let joint = |mm: &f64| vec![("reach".to_owned(), typed("value-reach", *mm))];
    JointsIn {
        good,
        seen,
        turns: Some(typed("turns", 6.5)),
        measured_mm: Some(26.2),
        joints: reach.iter().map(joint).collect(),
        named: true,
        note: String::new(),
    }
}

fn empty() -> Inbox {
    Inbox::fold(TOOL, &[])
}

fn decided(joints: JointsIn) -> Result<CrewJointsSent, Vec<String>> {
    let link = LinkFor {
        model: "tulvane-tb-32".to_owned(),
        fastener: "marlstead-m8".to_owned(),
        code: "06".to_owned(),
        nose: "n8".to_owned(),
        renewed: 0,
    };
    let command = InboxCommand::Send(link, Box::new(joints));
    match decide(&empty(), &command, shelf()) {
        Ok(bodies) => match bodies.into_iter().next() {
            Some(Body::CrewJointsSent(sent)) => Ok(sent),
            other => panic!("{other:?}"),
        },
        Err(refusals) => Err(said(&refusals)),
    }
}

#[test]
fn a_bad_joint_says_by_what_it_is_bad() {
    let bad = Some(false);
    // The reach is good from 0.7 to 1.5 mm.
    let cut = decided(sending(bad, Some(Seen::Cut), &[0.4])).expect("sent");
    assert!(cut.bad && cut.seen == Some(Seen::Cut));
    // Nothing is left to measure of a torn one; and one may look good and read beyond its limit.
    assert!(decided(sending(bad, Some(Seen::LockGroovesTorn), &[])).is_ok_and(|s| s.bad));
    assert!(decided(sending(bad, Some(Seen::Good), &[1.9])).is_ok_and(|s| s.bad));
    let why = |joints| decided(joints).expect_err("refused");
    assert_eq!(why(sending(bad, None, &[0.4])), ["seen: refuse-seen"]);
    let by_nothing = sending(bad, Some(Seen::Good), &[1.1]);
    assert_eq!(why(by_nothing.clone()), ["seen: crew-bad-by-what"]);
    let remarked = JointsIn {
        note: "rattles".to_owned(),
        ..by_nothing
    };
    assert!(decided(remarked).is_ok());
}

#[test]
fn a_good_joint_is_good_to_the_eye_and_within_its_limits() {
    let good = Some(true);
    let sent = decided(sending(good, None, &[1.1])).expect("sent");
    assert!(!sent.bad && sent.seen.is_none());
    let why = |joints| decided(joints).expect_err("refused");
    assert_eq!(why(sending(None, None, &[1.1])), ["good: crew-pick-good"]);
    assert_eq!(
        why(sending(good, Some(Seen::Cut), &[1.1])),
        ["seen: crew-good-by-eye"]
    );
    assert_eq!(
        why(sending(good, None, &[1.9])),
        ["value-reach: crew-joint-bad"]
    );
    assert_eq!(why(sending(good, None, &[])), [": crew-joints-count"]);
}

#[test]
fn a_crew_s_joint_in_inches_is_named() {
    let mut joints = sending(Some(true), None, &[1.1]);
    // 0.512 in are 13.005 mm (1 in = 25.4 mm exactly), which lies in 12.90 to 13.12.
    let collar = typed("value-collar-diameter", 0.512);
    joints.joints[0].push(("collar-diameter".to_owned(), collar));
    for good in [true, false] {
        joints.good = Some(good);
        joints.seen = (!good).then_some(Seen::Cut);
        let why = decided(joints.clone()).expect_err("refused");
        assert_eq!(why, ["value-collar-diameter: refuse-inches"]);
    }
}

/// An inbox with these sendings, each accepted where it says so.
fn inbox(sent: &[(CrewJointsSent, bool)]) -> Inbox {
    let mut bodies: Vec<Body> = Vec::new();
    for (sent, accepted) in sent {
        bodies.push(sent.clone().into());
        let version = u32::try_from(bodies.len()).expect("few");
        let note = String::new();
        bodies.extend(accepted.then(|| CrewJointsAccepted { version, note }.into()));
    }
    let entry = |(i, body)| Entry {
        subject: inbox_of(TOOL),
        version: i as u32 + 1,
        at: desk().now,
        by: person("crew 4"),
        body,
    };
    let entries: Vec<Entry> = bodies.into_iter().enumerate().map(entry).collect();
    Inbox::fold(TOOL, &entries)
}

#[test]
fn a_bad_joint_never_moves_the_tool_s_own_turns() {
    let good = decided(sending(Some(true), None, &[1.22])).expect("sent");
    let bad = decided(sending(Some(false), Some(Seen::Under), &[1.9])).expect("sent");
    let of_m8 = sheets(model("tulvane-tb-32"), "n8", "marlstead-m8");
    let points = |inbox: &Inbox| own::past(&[], None, inbox, &of_m8, &desk()).points;
    let noted = inbox(&[(good.clone(), true), (bad.clone(), true)]);
    assert_eq!(noted.waiting().count(), 0, "noted");
    assert_eq!(points(&noted), points(&inbox(&[(good, true)])));
    assert_eq!(points(&inbox(&[(bad, true)])), []);
}

#[test]
fn a_bad_joint_is_looked_at_first() {
    let good = decided(sending(Some(true), None, &[1.22])).expect("sent");
    let bad = decided(sending(Some(false), Some(Seen::Under), &[1.9])).expect("sent");
    let inbox = inbox(&[
        (good.clone(), true),
        (good.clone(), false),
        (good, false),
        (bad, false),
    ]);
    let order = |sent: Vec<&shop::crew::Sent>| sent.iter().map(|s| s.version).collect::<Vec<_>>();
    // Version 1 was accepted by version 2.
    assert_eq!(order(inbox.to_look_at()), [5, 3, 4]);
    let all: Vec<_> = inbox.to_look_at_and_settled().collect();
    assert_eq!(order(all), [5, 3, 4, 1]);
}

#[test]
fn nothing_is_told_before_anything_was_measured() {
    let (bench, _) = at_the_bench(&[]);
    let (job, desk) = (bench.job(), desk());
    let set_up = job.set_up().expect("fitted");
    let sheets = job.set_up_sheets(set_up, &desk).expect("sheets");
    assert_eq!(setting(&sheets, None, &[]), None);
}
