//! The adjuster of a tool as its own past tells it: points of the line, what is left out, what crews add.

use jiff::{Span, Timestamp, ToSpan};
use shop::crew::{Inbox, Sent, beside, inbox_of};
use shop::entry::{
    Body, CrewJoint, CrewJointsAccepted, CrewJointsSent, CrewReading, Entry, Outcome, PartReplaced,
    PastSetUp, PinRecord, Seen,
};
use shop::job::{Command, Job, SetUp};
use shop::sheet::ToolModel;
use shop::trial::own::{self, LeftOut, Past};
use uuid::Uuid;

use crate::bench::{Bench, measured, sheets};
use crate::trial::{reach, tb_32};
use crate::walk::fit;

/// The stick-out read again, with what the tool's past says.
fn with_past(past: &[PastSetUp]) -> SetUp {
    bench_with_past(past)
        .job()
        .set_up()
        .expect("fitted")
        .clone()
}

pub fn bench_with_past(past: &[PastSetUp]) -> Bench {
    let mut bench = Bench::ready("tulvane-tb-32").rebuilt("collet");
    bench.does(fit("marlstead-m8", "06", "n8"));
    bench.does(Command::ReadStickOut {
        clamped: true,
        stack: shop::grip::StackIn::default(),
        measured: measured("c-3", &[26.2, 26.2, 26.2]),
        past: Past {
            points: past.to_vec(),
            left_out: LeftOut::default(),
        },
    });
    bench
}

#[test]
fn the_tools_own_past_moves_the_setting_and_each_job_narrows_it() {
    // Joints of this tool read 0.6 mm too far from the flange at the table's turns: 0.4 turns of 1.5 mm.
    let job = PastSetUp {
        turns_off: 0.0,
        value_off_mm: 0.6,
        joints: 3,
    };
    let mut before = f64::INFINITY;
    for jobs in 1..6 {
        let set_up = with_past(&vec![job; jobs]);
        let own = set_up
            .stick_out()
            .expect("read")
            .own
            .clone()
            .expect("a past");
        assert!(own.expanded_turns < before, "{jobs}");
        before = own.expanded_turns;
        assert_eq!(own.past.len(), jobs);
        if jobs == 5 {
            // Pulled towards the table a little: the prior counts.
            assert!((own.offset_mm - 0.58).abs() < 0.02, "{}", own.offset_mm);
            // More stroke brings the land nearer; away from zero shortens, so it is fewer turns.
            assert!((own.turns - (6.533 - 0.58 / 1.5)).abs() < 0.02);
            assert_eq!(own.set_turns, 6.25);
            // The doubt of this stick-out and of the table comes on top; a turn is 1.5 mm, near enough.
            let table = set_up.stick_out().and_then(|r| r.expanded_turns);
            let both = (2.0 * own.offset_sd_mm / 1.5).hypot(table.expect("a table"));
            assert!((own.expanded_turns / both - 1.0).abs() < 0.02);
        }
    }
    assert_eq!(with_past(&[]).stick_out().expect("read").own, None);
}

#[test]
fn a_signed_off_set_up_becomes_a_point_of_the_tools_line() {
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Good, 1.20));
    bench.does(reach(6.5, Seen::Good, 1.22));
    assert_eq!(
        past_of(&bench.job(), None, MODEL, "n8", "marlstead-m8"),
        Past::default()
    );
    bench.does(Command::SignOffSetUp {
        locked: true,
        made_safe: crate::walk::safe(),
        reason: "as far as the plates went".to_owned(),
    });
    let job = bench.job();
    let past = past_of(&job, None, MODEL, "n8", "marlstead-m8");
    let [point] = past.points[..] else {
        panic!("{past:?}")
    };
    // 6.5 − 6.533 turns; (1.20 + 1.22) / 2 − 1.10 mm.
    assert!((point.turns_off + 0.0333).abs() < 5e-4 && (point.value_off_mm - 0.11).abs() < 1e-9);
    assert_eq!((point.joints, past.left_out.total()), (2, 0));
    let none = Past::default();
    assert_eq!(past_of(&job, None, MODEL, "n30-d6", "marlstead-m8"), none);
    assert_eq!(past_of(&job, None, MODEL, "n8", "drumhale-d6"), none);
}

const MODEL: &str = "tulvane-tb-32";

/// What `job` says, once it has ended, for a set-up of `this` tool.
fn past_of(job: &Job, this: Option<&Job>, model: &str, nose: &str, fastener: &str) -> Past {
    of_sheets(job, this, crate::bench::model(model), nose, fastener)
}

fn of_sheets(job: &Job, this: Option<&Job>, model: &ToolModel, nose: &str, fastener: &str) -> Past {
    let nothing = Inbox::fold(Uuid::from_u128(9), &[]);
    let this: Vec<&Job> = this.into_iter().collect();
    let sheets = sheets(model, nose, fastener);
    own::past(
        std::slice::from_ref(job),
        &this,
        &nothing,
        &sheets,
        &crate::bench::desk(),
    )
}

/// A job with one set-up, signed off.
pub fn signed_off() -> Job {
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Good, 1.20));
    bench.does(Command::SignOffSetUp {
        locked: true,
        made_safe: crate::walk::safe(),
        reason: "as far as the plates went".to_owned(),
    });
    bench.job()
}

/// A job in which `parts` were renewed, each so long after `job` was signed off.
fn renewed_after(job: &Job, parts: &[(&str, Span)]) -> Job {
    let mut bench = Bench::ready(MODEL);
    for (part, _) in parts {
        bench.write([PartReplaced {
            part: (*part).to_owned(),
            number: "TB32-1".to_owned(),
            reason: "bent".to_owned(),
            counter: None,
            unagreed: String::new(),
        }
        .into()]);
    }
    let mut this = bench.job();
    for (part, (_, after)) in this.replaced.iter_mut().zip(parts) {
        part.at = signed_at(job).checked_add(*after).expect("a time");
    }
    this
}

fn signed_at(job: &Job) -> Timestamp {
    job.set_ups[0].signed_off.as_ref().expect("signed").at
}

/// Points that count, and set-ups that do not because something was renewed.
fn counts(past: &Past) -> (usize, usize) {
    assert_eq!(past.left_out.total(), past.left_out.renewed);
    (past.points.len(), past.left_out.renewed)
}

#[test]
fn a_new_adjuster_begins_without_a_past() {
    let job = signed_off();
    let after = |parts: &[(&str, Span)]| {
        let this = renewed_after(&job, parts);
        counts(&past_of(&job, Some(&this), MODEL, "n8", "marlstead-m8"))
    };
    let (before, later) = ((-1).hours(), 1.hours());
    assert_eq!(after(&[("adjuster", later)]), (0, 1));
    assert_eq!(
        after(&[("adjuster", before)]),
        (1, 0),
        "before it was set up"
    );
    assert_eq!(after(&[("adjuster", 0.hours())]), (0, 1), "nobody knows");
    assert_eq!(after(&[("collet", later)]), (1, 0), "moves nothing");
    assert_eq!(after(&[("of-no-sheet", later)]), (0, 1), "may move it");
    // The last one counts, in whichever order they were written down.
    let twice = [("adjuster", before), ("adjuster", later)];
    assert_eq!(after(&twice), (0, 1));
    assert_eq!(after(&[twice[1], twice[0]]), (0, 1));
}

#[test]
fn the_sheet_of_today_says_what_moves_the_setting() {
    let job = signed_off();
    let this = renewed_after(&job, &[("collet", 1.hours())]);
    let mut model = crate::bench::model(MODEL).clone();
    let part = model.parts.iter_mut().find(|part| part.id == "collet");
    part.expect("a collet").moves_setting = true;
    let past = of_sheets(&job, Some(&this), &model, "n8", "marlstead-m8");
    assert_eq!(counts(&past), (0, 1));
    // A sheet that does not know the part any more leaves it to that of then.
    model.parts.retain(|part| part.id != "collet");
    let past = of_sheets(&job, Some(&this), &model, "n8", "marlstead-m8");
    assert_eq!(counts(&past), (1, 0));
}

#[test]
fn another_fastener_of_the_same_nose_says_nothing() {
    let job = signed_off();
    let mut fastener = sheets(crate::bench::model(MODEL), "n8", "marlstead-m8")
        .fastener
        .clone();
    fastener.id = "marlstead-m8-long".to_owned();
    let mut of_other = sheets(crate::bench::model(MODEL), "n8", "marlstead-m8");
    of_other.fastener = &fastener;
    let nothing = Inbox::fold(Uuid::from_u128(9), &[]);
    let desk = crate::bench::desk();
    let past = own::past(std::slice::from_ref(&job), &[], &nothing, &of_other, &desk);
    assert_eq!(past, Past::default());
    let sent = inbox(Some(26.2), &[1.2], true);
    let past = own::past(&[], &[], &sent, &of_other, &desk);
    assert_eq!(past, Past::default());
}

#[test]
fn an_earlier_set_up_is_held_against_the_table_of_today() {
    let job = signed_off();
    let mut model = crate::bench::model(MODEL).clone();
    let rows = model.settings.iter_mut();
    for setting in rows.filter(|s| s.nose_set == "n8") {
        for row in &mut setting.rows {
            row.1 += 0.5;
        }
    }
    let past = of_sheets(&job, None, &model, "n8", "marlstead-m8");
    // 6.5 − (6.533 + 0.5) turns.
    assert!((past.points[0].turns_off + 0.5333).abs() < 5e-4);
    // Turns of another thread are no turns of this one.
    model.adjuster.stop.pitch_mm = 1.25;
    let past = of_sheets(&job, None, &model, "n8", "marlstead-m8");
    assert_eq!(counts(&past), (0, 1));
}

/// The inbox of a tool that a crew sent `values` of the reach to, set at 6 1/2 turns.
fn inbox(measured_mm: Option<f64>, values: &[f64], accepted: bool) -> Inbox {
    let tool = Uuid::from_u128(9);
    let pin = |id: &str| PinRecord {
        id: id.to_owned(),
        revision: 1,
    };
    let joint = |value: &f64| CrewJoint {
        readings: vec![CrewReading {
            criterion: "reach".to_owned(),
            value: *value,
            unit: "mm".to_owned(),
            raw: value.to_string(),
            expanded: Some(0.05),
            outcome: Outcome::Accept,
        }],
    };
    let sent = CrewJointsSent {
        tool,
        model: pin("tulvane-tb-32"),
        fastener: pin("marlstead-m8"),
        code: "06".to_owned(),
        nose_set: pin("n8"),
        turns: Some(6.5),
        given: None,
        measured_mm,
        joints: values.iter().map(joint).collect(),
        bad: false,
        seen: None,
        method: String::new(),
        note: String::new(),
    };
    let settled = CrewJointsAccepted {
        version: 1,
        note: String::new(),
    };
    let mut bodies: Vec<Body> = vec![sent.into()];
    bodies.extend(accepted.then(|| settled.into()));
    let entry = |(i, body)| Entry {
        subject: inbox_of(tool),
        version: i as u32 + 1,
        at: crate::bench::desk().now,
        by: crate::bench::person("crew 4"),
        body,
    };
    let entries: Vec<Entry> = bodies.into_iter().enumerate().map(entry).collect();
    Inbox::fold(tool, &entries)
}

#[test]
fn what_a_crew_sent_counts_once_the_bench_accepted_it() {
    let desk = crate::bench::desk();
    let points = |inbox: &Inbox, nose: &str| {
        let sheets = sheets(crate::bench::model(MODEL), nose, "marlstead-m8");
        own::past(&[], &[], inbox, &sheets, &desk).points
    };
    let accepted = inbox(Some(26.2), &[1.20, 1.22, 1.24], true);
    let point = points(&accepted, "n8")[0];
    // 6.5 − (36.0 − 26.2) / 1.5 turns; 1.22 − 1.10 mm.
    assert!((point.turns_off + 0.0333).abs() < 5e-4 && (point.value_off_mm - 0.12).abs() < 1e-9);
    assert_eq!(point.joints, 3);
    assert_eq!(points(&accepted, "n30-d6"), []);
    // Waiting, or without the stick-out of its pins, it says nothing of the adjuster.
    assert_eq!(points(&inbox(Some(26.2), &[1.20], false), "n8"), []);
    assert_eq!(points(&inbox(None, &[1.20], true), "n8"), []);
}

/// What `job`, where one is given, and accepted sendings say: each so many hours after its sign-off.
fn with_crews(job: &Job, sent: Vec<(i64, CrewJointsSent)>) -> Past {
    let mut all = inbox(None, &[], true);
    let first = all.sent.remove(0);
    all.sent = sent
        .into_iter()
        .map(|(hours, body)| Sent {
            at: signed_at(job).checked_add(hours.hours()).expect("a time"),
            body,
            ..first.clone()
        })
        .collect();
    let of_m8 = sheets(crate::bench::model(MODEL), "n8", "marlstead-m8");
    let desk = crate::bench::desk();
    own::past(std::slice::from_ref(job), &[], &all, &of_m8, &desk)
}

fn sent(values: &[f64]) -> CrewJointsSent {
    inbox(Some(26.2), values, true).sent.remove(0).body
}

#[test]
fn crews_between_two_sign_offs_are_one_set_up_with_that_before() {
    let job = signed_off();
    let days = [(1, sent(&[1.3])), (30, sent(&[1.1, 1.0, 1.2]))];
    let past = with_crews(&job, days.to_vec());
    let [point] = past.points[..] else {
        panic!("{past:?}")
    };
    // Reaches 1.20; 1.30; 1.1, 1.0, 1.2: on the mean 5.80 / 5 - 1.10 = 0.06 mm.
    assert_eq!(point.joints, 5);
    assert!((point.value_off_mm - 0.06).abs() < 1e-9, "{point:?}");
    // What was sent before that sign-off belongs to the fitting before.
    let before = with_crews(&job, vec![(-1, sent(&[1.3])), (1, sent(&[1.1]))]);
    let joints: Vec<usize> = before.points.iter().map(|p| p.joints).collect();
    assert_eq!(joints, [1, 2]);
    // A sign-off for another nose set is one, too: ours came off for it.
    let mut twice = job.clone();
    let mut other = twice.set_ups[0].clone();
    other.fitted.body.nose_set.id = "n30-d6".to_owned();
    let signed = other.signed_off.as_mut().expect("signed");
    signed.at = signed.at.checked_add(2.hours()).expect("a time");
    twice.set_ups.insert(0, other);
    let mut first = twice.set_ups[1].clone();
    first.signed_off = job.set_ups[0].signed_off.clone();
    twice.set_ups[1] = first;
    let of_m8 = sheets(crate::bench::model(MODEL), "n8", "marlstead-m8");
    let mut crews = inbox(Some(26.2), &[1.1], true);
    crews.sent[0].at = signed_at(&job).checked_add(3.hours()).expect("a time");
    let past = own::past(&[twice], &[], &crews, &of_m8, &crate::bench::desk());
    assert_eq!(past.points.len(), 2, "{past:?}");
}

#[test]
fn what_a_tool_cannot_be_is_left_out_and_counted() {
    let job = signed_off();
    let after = |change: &dyn Fn(&mut CrewJointsSent)| {
        let mut body = sent(&[1.2]);
        change(&mut body);
        let past = with_crews(&job, vec![(1, body)]);
        let joints: usize = past.points.iter().map(|p| p.joints).sum();
        (joints, past.left_out)
    };
    let none = LeftOut::default();
    assert_eq!(after(&|_| {}), (2, none));
    let odd = LeftOut { odd: 1, ..none };
    // 2 turns typed where 6 1/2 belong; 6.533 by the table for 26.2 mm.
    assert_eq!(after(&|sent| sent.turns = Some(2.0)), (1, odd));
    assert_eq!(after(&|sent| sent.turns = Some(4.5)), (1, odd), "2.03 off");
    assert_eq!(after(&|sent| sent.turns = Some(8.6)), (1, odd), "2.07 off");
    let reads = |mm: f64| move |sent: &mut CrewJointsSent| sent.joints[0].readings[0].value = mm;
    // One joint: √(0.7² + 0.1² + 0.2²) = 0.735 mm, four of them 2.94 mm, about 1.10 - 0.05 mm.
    assert_eq!(after(&reads(3.9)), (2, none));
    assert_eq!(after(&reads(4.1)), (1, odd));
    // As many turns of 1.5 mm further as the joint reads further is the same tool.
    let both = |sent: &mut CrewJointsSent| {
        sent.turns = Some(8.5);
        sent.joints[0].readings[0].value = 4.1;
    };
    assert_eq!(after(&both), (2, none));
    let not_in_table = LeftOut {
        not_in_table: 1,
        ..none
    };
    assert_eq!(
        after(&|sent| sent.measured_mm = Some(40.0)),
        (1, not_in_table)
    );
}

#[test]
fn a_value_that_its_turns_cannot_give_is_flagged_with_what_they_give() {
    let odd = |change: &dyn Fn(&mut CrewJointsSent)| {
        let mut body = sent(&[1.2]);
        change(&mut body);
        beside(&body, &[], crate::bench::shelf()).odd
    };
    let reads = |mm: f64| move |sent: &mut CrewJointsSent| sent.joints[0].readings[0].value = mm;
    assert_eq!(odd(&|_| {}), None);
    assert_eq!(odd(&reads(3.9)), None);
    // 6 1/2 turns, 6.533 by the table: 0.033 of 1.5 mm below the middle of 1.10 mm; four times 0.735 mm.
    let found = odd(&reads(4.1)).expect("no tool reads so");
    assert!((found.read_mm - 4.1).abs() < 1e-9, "{found:?}");
    assert!((found.foretold_mm - 1.05).abs() < 1e-3, "{found:?}");
    assert!((found.most_off_mm - 2.94).abs() < 0.01, "{found:?}");
    // Turns that do not belong are said by themselves; a bad joint reads what it reads.
    assert_eq!(odd(&|sent| sent.turns = Some(2.0)), None);
    let bad = |sent: &mut CrewJointsSent| {
        sent.joints[0].readings[0].value = 4.1;
        sent.bad = true;
    };
    assert_eq!(odd(&bad), None);
}

#[test]
fn only_the_criterion_that_the_stroke_moves_counts() {
    let mut body = sent(&[1.2, 1.2]);
    for joint in &mut body.joints {
        let mut collar = joint.readings[0].clone();
        collar.criterion = "collar-diameter".to_owned();
        collar.value = 1.9;
        joint.readings.insert(0, collar);
    }
    let job = signed_off();
    let past = with_crews(&job, vec![(-1, body)]);
    let point = past.points[0];
    assert_eq!(point.joints, 2);
    assert!((point.value_off_mm - 0.10).abs() < 1e-9, "{point:?}");
}

#[test]
fn the_tick_that_the_sheets_were_clamped_is_kept_with_the_pins() {
    let set_up = with_past(&[]);
    assert!(set_up.stick_out().expect("read").clamped);
}
