//! A tool that came for a set-up alone goes to its set-up without a fault, a test made up or a "not safe".

use shop::entry::{Body, Cover, End, Phase, Said};
use shop::job::{Command, Stage, Standing};

use crate::bench::{Bench, TODAY, check, faults, model, strike};
use crate::walk::{
    answer, cause, estimate, fit, found_joint, not_safe, plan, prove, test, warranty,
};

const TB: &str = "tulvane-tb-32";

fn only() -> Command {
    Command::SetUpOnly {
        note: " for the M8 line ".to_owned(),
    }
}

#[test]
fn it_goes_from_the_price_to_the_set_up() {
    let mut bench = Bench::received(TB, &[]);
    // Without it the fault stage asks for a test.
    bench.refuses(
        Command::ConfirmCause {
            causes: Vec::new(),
            note: "set-up".to_owned(),
        },
        ": refuse-as-found-first",
    );
    bench.does(only());
    assert_eq!(bench.job().stage(), Some(Stage::Agreed));
    let proposed = shop::warranty::propose(&bench.job(), model(TB), faults(), &[], TODAY);
    assert_eq!(proposed.cover, Cover::NotCovered, "no part is at fault");
    for command in [warranty(), estimate(60), answer(true)] {
        bench.does(command);
    }
    assert_eq!(bench.job().standing(Stage::Rebuilt), Standing::Skipped);
    assert_eq!(bench.job().stage(), Some(Stage::SetUp));
    let mut bench = bench.set_up_m8();
    assert_eq!(bench.job().stage(), Some(Stage::Proved));
    // The proof asks for its tests as ever.
    bench.refuses(prove(), ": refuse-test-missing");
    bench = bench.tested();
    bench.does(prove());
    bench.does(crate::walk::hand_back());
    let end = bench.job().returned.expect("handed back").body.end;
    assert_ne!(end, Some(End::NoFaultFound), "none was looked for");
}

#[test]
fn what_is_complained_of_or_found_is_no_set_up_alone() {
    Bench::received(TB, &["jaws-slip"]).refuses(only(), ": refuse-set-up-only-symptom");
    let mut unsafe_tool = Bench::received(TB, &[]);
    unsafe_tool.does(not_safe());
    unsafe_tool.refuses(only(), ": refuse-set-up-only-not-safe");
    let mut weak = Bench::received(TB, &[]);
    weak.does(test(
        Phase::AsFound,
        "pull-force",
        "lc-50",
        &[20.0, 20.0, 20.0, 20.0, 20.0],
    ));
    weak.refuses(only(), ": refuse-set-up-only-found");
    let mut bad = Bench::received(TB, &[]);
    bad.does(found_joint(
        shop::entry::Seen::PullGroovesTorn,
        &[("collar-diameter", "m-1", 13.4)],
    ));
    bad.refuses(only(), ": refuse-set-up-only-found");
    let mut looked = Bench::received(TB, &[]);
    looked.does(check("lens-on-teeth", Said::Yes));
    looked.refuses(only(), ": refuse-set-up-only-found");
    let mut known = Bench::received(TB, &[]);
    known.does(not_safe());
    known.does(cause("switch-worn"));
    known.refuses(only(), ": refuse-cause-known");
}

#[test]
fn a_symptom_that_shows_after_all_leads_back_to_the_fault() {
    let mut bench = Bench::received(TB, &[]);
    bench.does(only());
    bench = bench.agreed();
    let note = |present: &[&str], absent: &[&str]| Command::NoteSymptoms {
        present: present.iter().map(|s| (*s).to_owned()).collect(),
        absent: absent.iter().map(|s| (*s).to_owned()).collect(),
    };
    bench.does(note(&[], &["jaws-slip"]));
    assert_eq!(bench.job().stage(), Some(Stage::SetUp), "it was not there");
    bench.does(note(&["jaws-slip"], &[]));
    assert_eq!(bench.job().stage(), Some(Stage::Fault));
    bench.refuses(fit("marlstead-m8", "06", "n8"), ": refuse-not-yet");
}

#[test]
fn a_strip_that_is_needed_after_all_is_worked_to_its_end() {
    let mut bench = Bench::received(TB, &[]);
    bench.does(only());
    bench = bench.agreed();
    let planned = bench.does(plan("anvil"));
    assert_eq!(bench.job().stage(), Some(Stage::Rebuilt));
    bench.does(strike(planned));
    assert_eq!(bench.job().stage(), Some(Stage::SetUp));
}

#[test]
fn it_is_stored_beside_what_older_entries_say() {
    let mut bench = Bench::received(TB, &[]);
    bench.does(only());
    let stored = bench.entries.last().expect("written").body.to_json();
    assert!(stored.contains("\"set_up_only\":true"), "{stored}");
    let old = r#"{"causes":[],"probability":null,"note":"held off axis"}"#;
    let Ok(Body::CauseConfirmed(read)) = Body::from_json("cause-confirmed", 1, old) else {
        panic!("an older entry reads");
    };
    assert!(!read.set_up_only);
}
