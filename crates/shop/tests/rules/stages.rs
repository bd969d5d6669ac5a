//! The order of the stages, and what a yes, a no and the end do to it.

use shop::job::{Command, Stage, Standing};

use crate::bench::{Bench, strike};
use crate::walk::{
    answer, cause, estimate, fit, hand_back, look, not_safe, plan, prove, skip, stick_out, tick,
    warranty,
};

const TB: &str = "tulvane-tb-32";
const NOT_YET: &str = ": refuse-not-yet";

#[test]
fn nothing_is_agreed_before_the_cause_is_known() {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    for early in [warranty(), estimate(100), answer(true)] {
        bench.refuses(early, NOT_YET);
    }
    bench.does(not_safe());
    bench.does(cause("collet-teeth-worn"));
    // Who pays and how much come before the answer.
    assert_eq!(
        bench.refused(answer(true)),
        [": refuse-warranty-first", ": refuse-estimate-first"]
    );
    bench.agreed();
}

#[test]
fn nothing_is_stripped_before_the_yes() {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(warranty());
    bench.does(estimate(100));
    for early in [
        plan("collet"),
        look("make-safe", true),
        fit("marlstead-m8", "06", "n8"),
        skip(Stage::Rebuilt),
        prove(),
        hand_back(),
    ] {
        bench.refuses(early, NOT_YET);
    }
    assert_eq!(bench.job().stage(), Some(Stage::Agreed));
    bench.does(answer(true));
    assert_eq!(bench.job().stage(), Some(Stage::Rebuilt));
    bench.does(plan("collet"));
}

#[test]
fn a_no_sends_the_tool_back_as_it_came() {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(warranty());
    bench.does(estimate(100));
    bench.does(answer(false));
    let job = bench.job();
    assert_eq!(job.stage(), Some(Stage::Returned));
    for stage in [Stage::Rebuilt, Stage::SetUp, Stage::Proved] {
        assert_eq!(job.standing(stage), Standing::Skipped);
        assert!(
            !job.is_open(stage),
            "{stage:?}: nothing is done that was declined"
        );
    }
    for work in [
        plan("collet"),
        look("make-safe", true),
        fit("marlstead-m8", "06", "n8"),
        stick_out(26.2),
        prove(),
        skip(Stage::Rebuilt),
    ] {
        bench.refuses(work, ": refuse-declined");
    }
    bench.does(hand_back());
    assert_eq!(bench.job().stage(), None);
}

#[test]
fn a_no_can_become_a_yes() {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(warranty());
    bench.does(estimate(100));
    bench.does(answer(false));
    bench.does(answer(true));
    assert_eq!(bench.job().stage(), Some(Stage::Rebuilt));
}

#[test]
fn a_yes_holds_for_its_price_only() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.does(look("make-safe", true));
    // More was found inside: the customer is asked again before the work goes on.
    bench.does(estimate(400));
    assert_eq!(bench.job().answer, None);
    assert_eq!(bench.job().stage(), Some(Stage::Agreed));
    bench.refuses(tick("off-anvil"), NOT_YET);
    bench.does(answer(true));
    bench.does(tick("off-anvil"));
    // The same if someone else is to pay.
    bench.does(warranty());
    assert_eq!(bench.job().stage(), Some(Stage::Agreed));
}

#[test]
fn after_the_end_only_the_return_can_be_struck() {
    let mut bench = Bench::proved();
    let proof = bench.job().version;
    let returned = bench.does(hand_back());
    let over = ": refuse-returned";
    for late in [
        cause("oil-low"),
        estimate(1),
        plan("collet"),
        fit("marlstead-m8", "06", "n8"),
        prove(),
        hand_back(),
        Command::Resume,
        Command::Wait {
            wait_for: shop::entry::WaitFor::Tool,
            note: String::new(),
        },
        strike(proof),
        strike(1),
    ] {
        bench.refuses(late, over);
    }
    bench.does(strike(returned));
    assert_eq!(bench.job().stage(), Some(Stage::Returned));
    bench.does(hand_back());
}

#[test]
fn a_pause_ends_when_the_tool_goes_back() {
    let mut bench = Bench::proved();
    bench.refuses(Command::Resume, ": refuse-not-waiting");
    bench.does(Command::Wait {
        wait_for: shop::entry::WaitFor::Tool,
        note: "gauge away".to_owned(),
    });
    assert!(bench.job().waiting.is_some());
    bench.does(hand_back());
    assert_eq!(bench.job().waiting, None);
}

#[test]
fn only_strip_and_set_up_can_be_left_out_with_a_reason() {
    let mut bench = Bench::ready(TB);
    for stage in [Stage::Received, Stage::Fault, Stage::Agreed] {
        bench.refuses(skip(stage), ": refuse-cannot-skip");
    }
    bench.refuses(skip(Stage::SetUp), NOT_YET);
    bench.refuses(
        Command::Skip {
            stage: Stage::Rebuilt,
            reason: "  ".to_owned(),
        },
        "reason: refuse-reason",
    );
    bench.does(skip(Stage::Rebuilt));
    bench.does(skip(Stage::SetUp));
    assert_eq!(bench.job().stage(), Some(Stage::Proved));
    for stage in [Stage::Proved, Stage::Fault] {
        bench.refuses(skip(stage), ": refuse-cannot-skip");
    }
}

#[test]
fn a_tool_that_was_opened_is_rebuilt_to_the_end() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.does(look("make-safe", true));
    bench.refuses(skip(Stage::Rebuilt), ": refuse-skip-opened");
}

#[test]
fn work_on_a_stage_that_was_left_out_brings_it_back() {
    let mut bench = Bench::ready(TB);
    bench.does(skip(Stage::Rebuilt));
    bench.does(plan("collet"));
    assert_eq!(bench.job().stage(), Some(Stage::Rebuilt));
    bench.does(look("make-safe", true));
    // Opened, so no trial joint before it is closed and powered up.
    bench.refuses(fit("marlstead-m8", "06", "n8"), NOT_YET);

    let mut bench = Bench::ready(TB);
    bench.does(skip(Stage::Rebuilt));
    bench.does(skip(Stage::SetUp));
    bench.does(fit("marlstead-m8", "06", "n8"));
    assert_eq!(bench.job().stage(), Some(Stage::SetUp));
    bench.refuses(prove(), NOT_YET);
}

#[test]
fn a_stage_that_is_done_cannot_be_left_out() {
    let bench = Bench::ready(TB).rebuilt("collet").set_up_m8();
    bench.refuses(skip(Stage::SetUp), ": refuse-cannot-skip");
}

#[test]
fn no_tool_goes_back_in_pieces_on_a_no() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.does(look("make-safe", true));
    bench.refuses(answer(false), "yes: refuse-no-while-open");
    // The way out: a price for closing it, a yes to that, then the no.
    bench.does(estimate(20));
    bench.refuses(answer(false), "yes: refuse-no-while-open");
    bench.does(answer(true));
    bench.work_until("power-look");
    bench.does(look("power-look", true));
    bench.does(answer(false));
    assert_eq!(bench.job().stage(), Some(Stage::Returned));
}

#[test]
fn a_yes_holds_for_its_cause_only() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    let other = bench.does(cause("switch-worn"));
    let job = bench.job();
    assert!(job.warranty.is_none() && job.answer.is_none());
    bench.refuses(look("make-safe", true), NOT_YET);
    assert_eq!(bench.refused(answer(true)), [": refuse-warranty-first"]);
    bench.does(warranty());
    bench.does(answer(true));
    assert!(bench.job().cause.is_some_and(|c| c.version == other));
    bench.does(look("make-safe", true));
}

#[test]
fn a_set_up_that_was_begun_is_finished_or_its_choice_struck() {
    let mut bench = Bench::ready(TB).rebuilt("collet");
    let fitted = bench.does(fit("marlstead-m8", "06", "n8"));
    bench.refuses(skip(Stage::SetUp), ": refuse-skip-fitted");
    bench.does(strike(fitted));
    bench.does(skip(Stage::SetUp));

    let mut bench = Bench::ready(TB).rebuilt("collet");
    let fitted = bench.does(fit("marlstead-m8", "06", "n8"));
    bench.does(stick_out(26.2));
    bench.refuses(strike(fitted), ": refuse-strike");
    bench.refuses(skip(Stage::SetUp), ": refuse-skip-fitted");
}

#[test]
fn a_report_that_was_issued_keeps_its_number() {
    let mut bench = Bench::proved();
    let report = |bench: &Bench| bench.job().returned.map(|r| r.body.report);
    for number in ["1-R1", "1-R2", "1-R3"] {
        let returned = bench.does(hand_back());
        assert_eq!(report(&bench).as_deref(), Some(number));
        bench.does(strike(returned));
    }
}

#[test]
fn an_older_setting_holds_only_after_a_visit_that_did_not_touch_it() {
    let mut looked_at = Bench::ready(TB);
    looked_at.does(skip(Stage::Rebuilt));
    looked_at.does(skip(Stage::SetUp));
    assert!(!looked_at.job().kept_setting(), "the tool is still here");
    let mut looked_at = looked_at.tested();
    looked_at.does(prove());
    looked_at.does(hand_back());
    assert!(looked_at.job().kept_setting());

    let mut opened = Bench::ready(TB).rebuilt("collet");
    opened.does(skip(Stage::SetUp));
    let mut opened = opened.tested();
    opened.does(prove());
    opened.does(hand_back());
    assert!(!opened.job().kept_setting());

    let mut set_up = Bench::ready(TB);
    set_up.does(skip(Stage::Rebuilt));
    let mut set_up = set_up.set_up_m8().tested();
    set_up.does(prove());
    set_up.does(hand_back());
    assert!(!set_up.job().kept_setting());

    // What was struck was not right, but hands were there.
    let mut struck = Bench::ready(TB);
    struck.does(skip(Stage::Rebuilt));
    let fitted = struck.does(fit("marlstead-m8", "06", "n8"));
    struck.does(strike(fitted));
    struck.does(skip(Stage::SetUp));
    let mut struck = struck.tested();
    struck.does(prove());
    struck.does(hand_back());
    assert!(!struck.job().kept_setting());
}
