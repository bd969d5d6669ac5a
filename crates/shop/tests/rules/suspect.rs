//! Suspect joints: what was found bad, since when, how many joints, of which fasteners.

use jiff::{Timestamp, ToSpan};
use shop::crew::{Inbox, inbox_of};
use shop::entry::{
    Body, CrewJointsAccepted, CrewJointsDeclined, CrewJointsSent, Entry, Fitted, Phase, PinRecord,
    ProofSignedOff, Returned, Said, Seen, SetUpSignedOff,
};
use shop::job::Job;
use shop::suspect::{Bad, Good, Notice, Pulls, Record, notice};
use uuid::Uuid;

use crate::bench::{Bench, check, desk, faults, model, person, strike};
use crate::walk::{GOOD_M8, found_joint, not_safe, test};

const TB: &str = "tulvane-tb-32";

fn pin(id: &str) -> PinRecord {
    PinRecord {
        id: id.to_owned(),
        revision: 1,
    }
}

/// A job that began so many days from the first one's day, at this counter.
fn begun(number: u32, day: i64, counter: Option<u64>) -> Bench {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    let entry = &mut bench.entries[0];
    entry.at = desk().now + (24 * day).hours();
    let Body::Received(received) = &mut entry.body else {
        panic!("a job begins with its receipt");
    };
    received.number = number;
    received.counter = counter;
    bench
}

/// An ended job, with the set-up and the proof that `signed` names, each with its word of excuse.
fn ended(
    number: u32,
    day: i64,
    counter: Option<u64>,
    set_up: Option<&str>,
    proof: Option<&str>,
) -> Job {
    let mut bench = begun(number, day, counter);
    let mut bodies: Vec<Body> = Vec::new();
    if let Some(reason) = set_up {
        bodies.push(
            Fitted {
                fastener: pin("marlstead-m8"),
                code: "06".to_owned(),
                nose_set: pin("n8"),
                collet_mm: None,
                made_safe: Vec::new(),
                stack: None,
            }
            .into(),
        );
        bodies.push(
            SetUpSignedOff {
                turns: Some(6.5),
                pressure_bar: None,
                locked: true,
                made_safe: Vec::new(),
                reason: reason.to_owned(),
                inside: None,
                method: String::new(),
            }
            .into(),
        );
    }
    if let Some(reason) = proof {
        let proof = ProofSignedOff {
            adjuster_stands: true,
            reason: reason.to_owned(),
        };
        bodies.push(proof.into());
    }
    let back = Returned {
        end: None,
        to: person("driver"),
        with: Vec::new(),
        report: format!("{number}-R1"),
        authorised: person("bench"),
        note: String::new(),
        in_doubt: Vec::new(),
        doubt_reason: String::new(),
    };
    bodies.push(back.into());
    for body in bodies {
        bench.write([body]);
    }
    bench.job()
}

fn record<'a>(earlier: &'a [Job], this: &'a Job, inbox: Option<&'a Inbox>) -> Record<'a> {
    Record {
        earlier,
        this,
        inbox,
        model: model(TB),
        faults: faults(),
        desk: desk(),
    }
}

fn told<'a>(record: &Record<'a>) -> Notice<'a> {
    notice(record).expect("something bad was found")
}

/// A job in which a joint as found was rejected.
fn bad(number: u32, day: i64, counter: Option<u64>) -> Job {
    let mut bench = begun(number, day, counter);
    bench.does(found_joint(
        Seen::PullGroovesTorn,
        &[("collar-diameter", "m-1", 13.4)],
    ));
    bench.job()
}

#[test]
fn nothing_bad_found_no_notice() {
    let earlier = [ended(1, 0, Some(10_000), Some(""), Some(""))];
    let quiet = begun(2, 10, Some(12_000)).job();
    assert_eq!(notice(&record(&earlier, &quiet, None)), None);
    let mut good = begun(2, 10, Some(12_000));
    good.does(found_joint(Seen::Good, &GOOD_M8));
    good.does(test(
        Phase::AsFound,
        "pull-force",
        "lc-50",
        &[32.0, 32.1, 32.0, 31.9, 32.0],
    ));
    good.does(check("turns-versus-table", Said::No));
    good.does(check("lens-on-teeth", Said::Yes));
    let good = good.job();
    assert_eq!(
        notice(&record(&earlier, &good, None)),
        None,
        "worn teeth are no bad joint"
    );
}

#[test]
fn each_kind_of_bad_finding_gives_one() {
    let kinds = |bench: &Bench| -> Vec<&'static str> {
        let job = bench.job();
        let told = notice(&record(&[], &job, None));
        let findings = told.iter().flat_map(|n| &n.findings);
        findings
            .map(|finding| match finding.what {
                Bad::Joint(_) => "joint",
                Bad::Test(_) => "test",
                Bad::Pulls(_) => "pulls",
                Bad::Setting(_) => "setting",
                Bad::Crew(_) => "crew",
            })
            .collect()
    };
    let mut bench = begun(1, 0, Some(12_000));
    let version = bench.does(found_joint(Seen::Under, &[]));
    assert_eq!(kinds(&bench), ["joint"]);
    bench.does(test(
        Phase::AsFound,
        "pull-force",
        "lc-50",
        &[20.0, 20.1, 20.0, 19.9, 20.0],
    ));
    bench.does(check("turns-versus-table", Said::Yes));
    assert_eq!(kinds(&bench), ["joint", "test", "setting"]);
    bench.does(strike(version));
    assert_eq!(
        kinds(&bench),
        ["test", "setting"],
        "what was struck counts for nothing"
    );
}

#[test]
fn joints_are_counted_from_the_last_good_check() {
    let earlier = [
        ended(1, 0, Some(5_000), Some(""), Some("")),
        ended(2, 10, Some(10_000), Some(""), Some("")),
    ];
    let this = bad(3, 20, Some(12_500));
    let told = told(&record(&earlier, &this, None));
    let since = told.since.expect("proved before");
    assert_eq!((since.what, since.counter), (Good::Proof(2), Some(10_000)));
    assert_eq!(told.pulls, Pulls::Since(2_500));
    assert!(since.at < told.findings[0].at);
    let [set] = told.set_for[..] else {
        panic!("the set-up that stood: {:?}", told.set_for)
    };
    assert_eq!(
        (set.family.id.as_str(), set.code, set.job),
        ("marlstead-m8", "06", Some(2))
    );
    assert_eq!(told.inspect.len(), 1);
}

#[test]
fn a_check_signed_off_with_an_excuse_is_not_a_good_one() {
    let earlier = [
        ended(1, 0, Some(5_000), Some(""), None),
        ended(
            2,
            10,
            Some(10_000),
            Some("as far as the plates went"),
            Some("two undecided"),
        ),
    ];
    let this = bad(3, 20, Some(12_500));
    let told = told(&record(&earlier, &this, None));
    assert_eq!(told.since.expect("set up before").what, Good::SetUp(1));
    assert_eq!(told.pulls, Pulls::Since(7_500));
    // What it was set up for in between was set with it, too.
    assert_eq!(told.set_for.len(), 2);
}

#[test]
fn what_is_not_known_is_said() {
    let good = [ended(1, 0, Some(10_000), Some(""), Some(""))];
    let pulls = |earlier: &[Job], counter| told(&record(earlier, &bad(2, 10, counter), None)).pulls;
    assert_eq!(pulls(&good, None), Pulls::Unknown);
    assert_eq!(
        pulls(&good, Some(900)),
        Pulls::Unknown,
        "the counter was changed"
    );
    assert_eq!(pulls(&[], Some(900)), Pulls::All(900));
    let uncounted = [ended(1, 0, None, Some(""), Some(""))];
    assert_eq!(pulls(&uncounted, Some(900)), Pulls::Unknown);
    let this = bad(2, 10, Some(900));
    let told = told(&record(&[], &this, None));
    assert_eq!((told.since, told.set_for.len()), (None, 0));
    assert_eq!(told.inspect.len(), 1, "the joint that was found");
    // A test tells no fastener: then all that the sheet of the tool names.
    let mut this = begun(2, 10, Some(900));
    this.does(check("turns-versus-table", Said::Yes));
    let this = this.job();
    let named = notice(&record(&[], &this, None))
        .expect("bad")
        .inspect
        .len();
    assert_eq!(named, 2);
}

/// What a crew sent on `day`, and what the bench made of it.
fn inbox(sendings: &[(i64, bool, Option<bool>)]) -> Inbox {
    let tool = Uuid::from_u128(9);
    let mut entries: Vec<Entry> = Vec::new();
    let mut write = |at: Timestamp, body: Body| {
        let version = u32::try_from(entries.len()).expect("few") + 1;
        entries.push(Entry {
            subject: inbox_of(tool),
            version,
            at,
            by: person("crew 4"),
            body,
        });
        version
    };
    for (day, is_bad, accepted) in sendings {
        let at = desk().now + (24 * day).hours();
        let sent = CrewJointsSent {
            tool,
            model: pin(TB),
            fastener: pin("drumhale-d6"),
            code: String::new(),
            nose_set: pin("n30-d6"),
            given: None,
            turns: None,
            measured_mm: None,
            joints: Vec::new(),
            bad: *is_bad,
            seen: is_bad.then_some(Seen::Under),
            method: String::new(),
            note: String::new(),
        };
        let version = write(at, sent.into());
        let (note, reason) = (String::new(), "not ours".to_owned());
        match accepted {
            Some(true) => write(at, CrewJointsAccepted { version, note }.into()),
            Some(false) => write(at, CrewJointsDeclined { version, reason }.into()),
            None => 0,
        };
    }
    Inbox::fold(tool, &entries)
}

#[test]
fn a_crew_s_bad_report_gives_a_notice_unless_it_was_declined() {
    let earlier = [ended(1, 0, Some(10_000), Some(""), Some(""))];
    let this = begun(2, 10, Some(12_000)).job();
    let told = |sendings: &[(i64, bool, Option<bool>)]| {
        let inbox = inbox(sendings);
        notice(&record(&earlier, &this, Some(&inbox))).map(|n| (n.findings.len(), n.pulls))
    };
    assert_eq!(told(&[(5, true, None)]), Some((1, Pulls::Since(2_000))));
    assert_eq!(
        told(&[(5, true, Some(true))]),
        Some((1, Pulls::Since(2_000)))
    );
    assert_eq!(told(&[(5, true, Some(false))]), None, "declined");
    assert_eq!(told(&[(-5, true, None)]), None, "it was in the shop since");
    // Good joints that were accepted are a good check; how many pulls had been made then nobody read.
    let good_then_bad = told(&[(3, false, Some(true)), (5, true, None)]);
    assert_eq!(good_then_bad, Some((1, Pulls::AtMost(2_000))));
    assert_eq!(
        told(&[(3, false, None), (5, true, None)]),
        Some((1, Pulls::Since(2_000)))
    );
    assert_eq!(
        told(&[(5, true, None), (7, false, Some(true))]),
        Some((1, Pulls::Since(2_000))),
        "good joints after the first bad ones do not clear those before"
    );
}

#[test]
fn what_a_crew_set_since_is_named() {
    let earlier = [ended(1, 0, Some(10_000), Some(""), Some(""))];
    let this = bad(2, 10, Some(12_000));
    let inbox = inbox(&[(-3, false, Some(true)), (3, false, None), (4, false, None)]);
    let told = told(&record(&earlier, &this, Some(&inbox)));
    let named: Vec<(&str, Option<u32>)> = told
        .set_for
        .iter()
        .map(|s| (s.family.id.as_str(), s.job))
        .collect();
    assert_eq!(named, [("marlstead-m8", Some(1)), ("drumhale-d6", None)]);
    let inspect: Vec<&str> = told.inspect.iter().map(|f| f.id.as_str()).collect();
    assert_eq!(inspect, ["marlstead-m8", "drumhale-d6"]);
}

#[test]
fn a_tool_that_was_not_safe_to_run_shows_nothing_by_itself() {
    let mut bench = begun(1, 0, Some(12_000));
    bench.does(not_safe());
    let job = bench.job();
    assert_eq!(notice(&record(&[], &job, None)), None);
}
