//! The adjuster of a tool as its own past tells it: points of the line, what is left out, what crews add.

use jiff::ToSpan;
use shop::crew::{Inbox, inbox_of};
use shop::entry::{
    Body, CrewJoint, CrewJointsAccepted, CrewJointsSent, CrewReading, Entry, Outcome, PartReplaced,
    PastSetUp, PinRecord, Seen,
};
use shop::job::{Command, Job, SetUp};
use shop::sheet::ToolModel;
use shop::trial::own::{self, Past};
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
            left_out: 0,
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
    assert_eq!((point.joints, past.left_out), (2, 0));
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
    let desk = crate::bench::desk();
    let nothing = Inbox::fold(Uuid::from_u128(9), &[]);
    let sheets = sheets(model, nose, fastener);
    own::past(std::slice::from_ref(job), this, &nothing, &sheets, &desk)
}

/// A job with one set-up, signed off.
fn signed_off() -> Job {
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Good, 1.20));
    bench.does(Command::SignOffSetUp {
        locked: true,
        made_safe: crate::walk::safe(),
        reason: "as far as the plates went".to_owned(),
    });
    bench.job()
}

#[test]
fn a_new_adjuster_begins_without_a_past() {
    let job = signed_off();
    let renewed = |part: &str, later: bool| {
        let mut bench = Bench::ready(MODEL);
        bench.write([PartReplaced {
            part: part.to_owned(),
            number: "TB32-1".to_owned(),
            reason: "bent".to_owned(),
            counter: None,
        }
        .into()]);
        let mut this = bench.job();
        let signed = job.set_ups[0].signed_off.as_ref().expect("signed").at;
        let off = if later { 1.hours() } else { (-1).hours() };
        for part in &mut this.replaced {
            part.at = signed.checked_add(off).expect("a time");
        }
        past_of(&job, Some(&this), MODEL, "n8", "marlstead-m8")
    };
    let counts = |past: Past| (past.points.len(), past.left_out);
    assert_eq!(counts(renewed("adjuster", true)), (0, 1));
    assert_eq!(
        counts(renewed("adjuster", false)),
        (1, 0),
        "before it was set up"
    );
    assert_eq!(counts(renewed("collet", true)), (1, 0), "moves nothing");
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
    assert_eq!((past.points.len(), past.left_out), (0, 1));
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
        own::past(&[], None, inbox, &sheets, &desk).points
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
