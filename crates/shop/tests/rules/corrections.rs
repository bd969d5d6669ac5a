//! Corrections: an entry is struck, hidden from the job and kept; what later work stands on stays.

use jiff::civil::date;
use shop::counter::AnewIn;
use shop::entry::{Body, Phase, Said};
use shop::job::{Command, Stage};

use crate::bench::{Bench, check, strike};
use crate::walk::{
    answer, cause, estimate, fit, good_m8, look, not_safe, plan, reading, renew, sign_off, skip,
    stick_out, test, tick, warranty,
};

const TB: &str = "tulvane-tb-32";
const STANDS: &str = ": refuse-strike";
const PULLS: [f64; 5] = [31.0, 31.1, 31.2, 31.0, 31.1];

#[test]
fn a_struck_entry_is_hidden_and_kept() {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    let read = bench.does(test(Phase::AsFound, "pull-force", "lc-50", &PULLS));
    let before = bench.entries[read as usize - 1].clone();
    bench.does(strike(read));
    let job = bench.job();
    assert!(job.tests.is_empty());
    let [(entry, by)] = job.struck.as_slice() else {
        panic!("{:?}", job.struck);
    };
    assert_eq!(*entry, before);
    assert_eq!(
        (by.body.version, by.body.reason.as_str()),
        (read, "misread")
    );
    assert_eq!(job.version, read + 1);
    bench.refuses(strike(read), ": refuse-struck-already");
}

#[test]
fn a_strike_needs_a_reason_and_something_to_strike() {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    let answered = bench.does(check("lens-on-teeth", Said::Yes));
    bench.refuses(
        Command::Strike {
            version: answered,
            reason: " ".to_owned(),
        },
        "reason: refuse-reason",
    );
    for nothing in [0, 1, answered + 1, u32::MAX] {
        bench.refuses(strike(nothing), STANDS);
    }
    let struck = bench.does(strike(answered));
    bench.refuses(strike(struck), STANDS);
}

#[test]
fn before_the_work_each_word_stands_on_the_one_before() {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    let unsafe_ = bench.does(not_safe());
    let looked = bench.does(check("contact-look", Said::Yes));
    let found = bench.does(cause("collet-teeth-worn"));
    let paid = bench.does(warranty());
    let priced = bench.does(estimate(100));
    let yes = bench.does(answer(true));
    let order: [&[u32]; 4] = [&[yes], &[priced, paid], &[found], &[looked, unsafe_]];
    for (i, now) in order.iter().enumerate() {
        for later in order[i + 1..].iter().flat_map(|l| l.iter()) {
            bench.refuses(strike(*later), STANDS);
        }
        for version in *now {
            bench.does(strike(*version));
        }
    }
    let job = bench.job();
    assert!(job.cause.is_none() && job.answer.is_none() && job.not_safe.is_none());
    assert_eq!(job.stage(), Some(Stage::Fault));
}

#[test]
fn a_struck_estimate_brings_the_one_before_and_its_yes_back() {
    let mut bench = Bench::ready(TB);
    let dearer = bench.does(estimate(400));
    assert_eq!(bench.job().answer, None);
    bench.does(strike(dearer));
    assert!(bench.job().answer.is_some());
    assert_eq!(bench.job().stage(), Some(Stage::Rebuilt));
}

#[test]
fn the_cause_keeps_a_test_as_found_to_stand_on() {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    let one = bench.does(test(Phase::AsFound, "pull-force", "lc-50", &PULLS));
    bench.does(cause("collet-teeth-worn"));
    bench.refuses(strike(one), STANDS);
    let two = bench.does(test(Phase::AsFound, "pull-force", "lc-50", &PULLS));
    bench.does(strike(one));
    bench.refuses(strike(two), STANDS);
}

#[test]
fn the_yes_stays_once_the_work_has_begun() {
    let mut bench = Bench::ready(TB);
    let yes = bench.job().version;
    let skipped = bench.does(skip(Stage::Rebuilt));
    bench.refuses(strike(yes), STANDS);
    bench.does(strike(skipped));
    let planned = bench.does(plan("collet"));
    bench.does(strike(planned));
    assert_eq!(bench.job().route, None);
    bench.does(plan("collet"));
    let planned = bench.job().version;
    bench.does(look("make-safe", true));
    bench.refuses(strike(yes), STANDS);
    bench.refuses(strike(planned), STANDS);
}

#[test]
fn what_the_strip_shows_may_change_the_cause() {
    let mut bench = Bench::ready(TB);
    let as_found = bench.job().tests[0].version;
    bench.does(plan("collet"));
    bench.does(look("make-safe", true));
    // Misread, and too late to test as found again: the strip itself is evidence now.
    bench.does(strike(as_found));
    bench.does(cause("collet-cracked"));
}

#[test]
fn a_struck_step_is_open_again() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.work_until("tighten-nose");
    let torque = bench.does(reading("tighten-nose", "tw-100", 40.0));
    bench.does(strike(torque));
    assert!(bench.job().step("tighten-nose").is_none());
    bench.refuses(look("power-shield", true), ": refuse-hold-before");
}

#[test]
fn a_renewal_stays_once_the_part_is_in() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    let new = bench.does(renew("collet"));
    bench.does(strike(new));
    assert!(bench.job().replaced.is_empty());
    let new = bench.does(renew("collet"));
    bench.work_until("fit-collet");
    let fitted = bench.does(tick("fit-collet"));
    bench.refuses(strike(new), STANDS);
    bench.does(strike(fitted));
    bench.does(strike(new));
}

#[test]
fn a_power_up_that_was_passed_by_mistake_is_struck_while_nothing_stands_on_it() {
    let mut bench = Bench::ready(TB).rebuilt("collet");
    let passed = bench.job().version;
    // The steps before it stay: the rebuild is done.
    bench.refuses(strike(passed - 1), STANDS);
    bench.does(strike(passed));
    assert_eq!(bench.job().stage(), Some(Stage::Rebuilt));
    let passed = bench.does(look("power-look", true));
    bench.does(fit("marlstead-m8", "06", "n8"));
    bench.refuses(strike(passed), STANDS);
}

#[test]
fn a_joint_goes_before_the_stick_out_that_it_was_set_on() {
    let mut bench = Bench::ready(TB).rebuilt("collet");
    let fitted = bench.does(fit("marlstead-m8", "06", "n8"));
    let measured = bench.does(stick_out(26.2));
    let joint = bench.does(good_m8(6.5));
    bench.refuses(strike(measured), STANDS);
    bench.refuses(strike(fitted), STANDS);
    bench.does(strike(joint));
    bench.does(strike(measured));
    assert!(bench.job().set_up().expect("fitted").stick_out().is_none());
}

#[test]
fn a_struck_sign_off_opens_the_set_up_again() {
    let mut bench = Bench::ready(TB).rebuilt("collet").set_up_m8();
    let signed = bench.job().version;
    bench.refuses(strike(signed - 1), STANDS);
    bench.does(strike(signed));
    assert_eq!(bench.job().stage(), Some(Stage::SetUp));
    bench.does(good_m8(6.5));
    bench.does(sign_off());
    assert_eq!(bench.job().stage(), Some(Stage::Proved));
}

#[test]
fn the_proof_goes_before_the_tests_and_the_setting_under_it() {
    let mut bench = Bench::proved();
    let proof = bench.job().version;
    let last_test = proof - 1;
    let signed = bench.job().set_up().expect("fitted").signed_off.clone();
    let signed = signed.expect("signed").version;
    for under in [last_test, signed] {
        bench.refuses(strike(under), STANDS);
    }
    bench.does(strike(proof));
    bench.does(strike(last_test));
    bench.does(strike(signed));
    assert_eq!(bench.job().stage(), Some(Stage::SetUp));
}

#[test]
fn an_amended_receipt_keeps_what_was_written_first() {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    let first = bench.entries[0].clone();
    let amend = |sold, complaint: &str, reason: &str, due| Command::AmendReceipt {
        counter: Some(41_870),
        anew: AnewIn::default(),
        sold,
        first_used: None,
        complaint: complaint.to_owned(),
        due,
        reason: reason.to_owned(),
    };
    let day = date(2026, 1, 5);
    bench.does(amend(Some(day), "Slips", "counter misread", None));
    assert_eq!(bench.entries[0], first);
    let received = bench.job().received.body;
    assert_eq!((received.counter, received.sold), (Some(41_870), Some(day)));
    let Body::ReceiptAmended(amended) = &bench.entries[1].body else {
        panic!("{:?}", bench.entries[1]);
    };
    assert_eq!(amended.version, 1);
    // The rules of the counter hold for it too.
    assert_eq!(
        bench.refused(amend(
            Some(date(2026, 11, 26)),
            "",
            "",
            Some(date(2026, 11, 24))
        )),
        [
            "complaint: receive-complaint-missing",
            "reason: refuse-reason",
            "sold: receive-sold-later",
            "due: receive-due-past"
        ]
    );
}

#[test]
fn a_promise_that_has_passed_may_stay_as_it_is() {
    let mut input = crate::bench::receipt(crate::bench::model(TB), &["jaws-slip"]);
    input.due = Some(date(2026, 11, 26));
    let mut bench = Bench::taken_in(&input);
    bench.desk.today = date(2026, 12, 3);
    bench.does(Command::AmendReceipt {
        counter: Some(41_870),
        anew: AnewIn::default(),
        sold: None,
        first_used: None,
        complaint: "Slips".to_owned(),
        due: Some(date(2026, 11, 26)),
        reason: "counter misread".to_owned(),
    });
}
