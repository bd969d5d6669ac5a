//! The crew at the work place: the same setting as at the bench, the same refusals, and joints that are bad.

use calc::repeated::Estimate;
use jiff::ToSpan;
use shop::asked::{pins_refused, stroke_refused};
use shop::crew::{
    CrewSetting, Inbox, InboxCommand, JointsIn, LinkFor, basis, beside, decide, inbox_of, setting,
    stops,
};
use shop::entry::{
    Body, CrewJointsAccepted, CrewJointsDeclined, CrewJointsSent, Entry, GivenTurns, PastSetUp,
    Seen,
};
use shop::grip::StackIn;
use shop::job::{Command, Refusal, SetUpSheets, TypedValue};
use shop::setting::NoSetting;
use shop::sheet::{FastenerFamily, Kind, SettingBasis};
use shop::trial::own::{self, LeftOut, Past};
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
            left_out: LeftOut::default(),
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
        given: None,
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
    let points = |inbox: &Inbox| own::past(&[], &[], inbox, &of_m8, &desk()).points;
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

#[test]
fn a_past_far_from_the_table_is_refused_at_the_work_place() {
    let (bench, mean) = at_the_bench(&[]);
    let (job, desk) = (bench.job(), desk());
    let sheets = job.set_up_sheets(job.set_up().expect("fitted"), &desk);
    let sheets = sheets.expect("sheets");
    let far = |value_off_mm: f64| {
        let past = [PastSetUp {
            turns_off: 0.0,
            value_off_mm,
            joints: 3,
        }; 5];
        setting(&sheets, Some(&mean), &past) == Some(Err(NoSetting::PastIsFar))
    };
    // More than two standard deviations, of 0.7 mm, between tools; more than two turns of 1.5 mm.
    assert!(far(1.5) && far(-1.5) && far(4.0));
    assert!(!far(1.3) && !far(0.6));
    // The fastener's table begins at no turn: what a tool wants below it, hands cannot set.
    let mut model = sheets.model.clone();
    model.adjuster.tools_differ_mm = Some(9.0);
    let mut rule = sheets.rule.expect("a rule").clone();
    for row in &mut rule.rows {
        row.1 -= 6.0;
    }
    rule.by_relation = false;
    let low = SetUpSheets {
        model: &model,
        rule: Some(&rule),
        ..sheets
    };
    let past = [PastSetUp {
        turns_off: 0.0,
        value_off_mm: 2.0,
        joints: 3,
    }; 5];
    assert_eq!(
        setting(&low, Some(&mean), &past),
        Some(Err(NoSetting::PastIsFar))
    );
}

#[test]
fn turns_far_from_those_that_were_given_are_refused() {
    let given = |turns: f64, expanded: f64| GivenTurns { turns, expanded };
    let with = |good: bool, given: GivenTurns| {
        let mut joints = sending(Some(good), (!good).then_some(Seen::Cut), &[1.1]);
        joints.given = Some(given);
        decided(joints)
    };
    // 6 1/2 turns were typed.
    for (turns, expanded) in [(7.6, 0.4), (5.4, 0.4), (8.0, 1.4)] {
        let why = with(true, given(turns, expanded)).expect_err("refused");
        assert_eq!(why, ["turns: crew-turns-far"], "{turns}");
        assert!(with(false, given(turns, expanded)).is_ok(), "a bad joint");
    }
    for (turns, expanded) in [(7.5, 0.4), (5.5, 0.4), (7.8, 1.4)] {
        let sent = with(true, given(turns, expanded)).expect("sent");
        assert_eq!(sent.given, Some(given(turns, expanded)));
    }
    let belongs = |turns: f64, expanded: f64| {
        let sent = with(true, given(turns, expanded)).expect("sent");
        beside(&sent, &[], shelf()).belongs
    };
    assert!(belongs(6.75, 0.3) && belongs(7.5, 1.1));
    assert!(!belongs(7.0, 0.3) && !belongs(5.75, 0.3));
}

#[test]
fn a_bad_joint_needs_no_turns_and_a_good_one_does() {
    let bare = |good: bool| {
        let mut joints = sending(Some(good), (!good).then_some(Seen::Cut), &[1.1]);
        joints.turns = None;
        decided(joints)
    };
    assert_eq!(bare(true).expect_err("refused"), ["turns: refuse-turns"]);
    assert!(bare(false).is_ok_and(|sent| sent.turns.is_none() && sent.bad));
}

#[test]
fn what_was_sent_is_held_against_table_and_sign_off() {
    let sent = |turns: f64, measured_mm: Option<f64>| {
        let mut joints = sending(Some(true), None, &[1.1]);
        joints.turns = Some(typed("turns", turns));
        joints.measured_mm = measured_mm;
        decided(joints).expect("sent")
    };
    // (36.0 - 26.2) / 1.5 = 6.53 turns, set in quarters.
    let found = beside(&sent(2.0, Some(26.2)), &[], shelf());
    assert_eq!((found.table, found.signed_off), (Some(6.5), None));
    assert!(!found.belongs);
    assert!(beside(&sent(6.25, Some(26.2)), &[], shelf()).belongs);
    // Without a stick-out the newest sign-off is all that there is.
    let job = crate::own::signed_off();
    let jobs = std::slice::from_ref(&job);
    let found = beside(&sent(2.0, None), jobs, shelf());
    assert_eq!((found.table, found.signed_off), (None, Some(6.5)));
    assert!(!found.belongs && beside(&sent(6.75, None), jobs, shelf()).belongs);
    let nothing = beside(&sent(2.0, None), &[], shelf());
    assert!(nothing.belongs, "nothing stands beside it");
}

#[test]
fn the_basis_says_what_ended_the_pull() {
    let mut sent = decided(sending(Some(true), None, &[1.1])).expect("sent");
    assert_eq!(basis(&sent, shelf()), Some(SettingBasis::StickOut));
    sent.nose_set.id = "n30-d6".to_owned();
    assert_eq!(basis(&sent, shelf()), None);
}

#[test]
fn a_bad_joint_stops_every_phone_until_it_is_declined_or_the_tool_set_up_anew() {
    let good = decided(sending(Some(true), None, &[1.22])).expect("sent");
    let bad = decided(sending(Some(false), Some(Seen::Cut), &[0.4])).expect("sent");
    let stopped = |inbox: &Inbox, nose: &str, fastener: &str, signed_off| {
        stops(inbox, nose, fastener, signed_off).is_some()
    };
    let m8 = |inbox: &Inbox, signed_off| stopped(inbox, "n8", "marlstead-m8", signed_off);
    let sent_at = desk().now;
    let (before, after) = (sent_at - 1.second(), sent_at + 1.second());
    for noted in [false, true] {
        let inbox = inbox(&[(good.clone(), true), (bad.clone(), noted)]);
        assert!(m8(&inbox, None) && m8(&inbox, Some(before)) && m8(&inbox, Some(sent_at)));
        assert!(!m8(&inbox, Some(after)), "set up anew since");
        assert!(!stopped(&inbox, "n30-d6", "marlstead-m8", None));
        assert!(!stopped(&inbox, "n8", "drumhale-d6", None));
    }
    assert!(!m8(&inbox(&[(good, true)]), None));
    // Noted, and taken back with a reason.
    let mut noted = inbox(&[(bad, true)]);
    let entry = declined(&mut noted, "another tool");
    let taken_back = Inbox::fold(TOOL, &entry);
    assert!(!m8(&taken_back, None));
}

/// The entries of an inbox with one accepted sending, which is declined now.
fn declined(inbox: &mut Inbox, reason: &str) -> Vec<Entry> {
    let sent = inbox.sent.remove(0);
    let accepted = CrewJointsAccepted {
        version: sent.version,
        note: String::new(),
    };
    let of = |version, body| Entry {
        subject: inbox_of(TOOL),
        version,
        at: desk().now,
        by: person("Ansa"),
        body,
    };
    let mut entries = vec![of(1, sent.body.into()), of(2, accepted.into())];
    let so_far = Inbox::fold(TOOL, &entries);
    let command = InboxCommand::Decline(1, reason.to_owned());
    let bodies = decide(&so_far, &command, shelf()).expect("taken back");
    entries.extend(bodies.into_iter().map(|body| of(3, body)));
    entries
}

#[test]
fn an_acceptance_can_be_taken_back_with_a_reason_and_not_given_again() {
    let good = decided(sending(Some(true), None, &[1.22])).expect("sent");
    let mut accepted = inbox(&[(good, true)]);
    assert_eq!(accepted.accepted().count(), 1);
    let bare = InboxCommand::Decline(1, " ".to_owned());
    let why = decide(&accepted, &bare, shelf()).expect_err("no reason");
    assert_eq!(said(&why), ["reason: crew-reason"]);
    let mut entries = declined(&mut accepted, "mistyped");
    let taken_back = Inbox::fold(TOOL, &entries);
    assert_eq!(taken_back.accepted().count(), 0);
    let declined = CrewJointsDeclined {
        version: 1,
        reason: "mistyped".to_owned(),
    };
    assert_eq!(entries[2].body, declined.into());
    for command in [
        InboxCommand::Accept(1, String::new()),
        InboxCommand::Decline(1, "again".to_owned()),
    ] {
        let why = decide(&taken_back, &command, shelf()).expect_err("settled");
        assert_eq!(said(&why), [": crew-not-waiting"]);
    }
    // Nor does an entry that should not be there bring it back.
    let mut again = entries[1].clone();
    again.version = 4;
    entries.push(again);
    assert_eq!(Inbox::fold(TOOL, &entries).accepted().count(), 0);
}
