//! Checks of one visit are answered in one go.

use shop::diagnosis::diagnose;
use shop::entry::Said;
use shop::job::Command;
use shop::sheet::Drive;

use crate::bench::{Bench, check, faults};
use crate::diagnosis::rank;

#[test]
fn what_the_hands_hold_is_looked_at_in_one_go() {
    let mut bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    let lens = faults().check("lens-on-teeth").expect("in the demo");
    let offered = |bench: &Bench| -> Vec<String> {
        let seen = bench.seen();
        let found = diagnose(faults(), Drive::Battery, &seen).expect("possible");
        found.beside(lens).map(|c| c.id.clone()).collect()
    };
    let beside = offered(&bench);
    // Those of the same visit alone, that tell something, and not the check itself.
    assert!(beside.contains(&"teeth-on-paper".to_owned()), "{beside:?}");
    let of_visit = |id: &String| faults().check(id).is_some_and(|c| c.visit == lens.visit);
    assert!(beside.iter().all(of_visit) && !beside.contains(&lens.id));
    let with = |others: &[(&str, Said)]| {
        let Command::AnswerCheck {
            check,
            answer,
            note,
            made_safe,
            ..
        } = check("lens-on-teeth", Said::No)
        else {
            unreachable!("a check");
        };
        let beside = others.iter().map(|(id, said)| ((*id).to_owned(), *said));
        Command::AnswerCheck {
            check,
            answer,
            note,
            made_safe,
            beside: beside.collect(),
        }
    };
    // One of another visit, one that is not there, and the check itself once more: nothing is written.
    for strange in ["anvil-plug-gauge", "no-such-check", "lens-on-teeth"] {
        let others = [("teeth-on-paper", Said::Yes), (strange, Said::No)];
        bench.refuses(with(&others), ": refuse-check-beside");
    }
    let twice = [("teeth-on-paper", Said::Yes), ("teeth-on-paper", Said::No)];
    bench.refuses(with(&twice), ": refuse-check-beside");
    assert!(bench.seen().checks.is_empty());
    bench.does(with(&[
        ("teeth-on-paper", Said::Yes),
        ("jaw-backs-look", Said::NotSure),
    ]));
    let seen = bench.seen();
    assert_eq!(seen.checks.get("lens-on-teeth"), Some(&Said::No));
    assert_eq!(seen.checks.get("teeth-on-paper"), Some(&Said::Yes));
    assert_eq!(seen.checks.get("jaw-backs-look"), Some(&Said::NotSure));
    assert!(
        offered(&bench)
            .iter()
            .all(|id| !seen.checks.contains_key(id))
    );
    // What was seen belongs to what was found.
    let mut noted = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    let mut with_note = with(&[("teeth-on-paper", Said::Yes)]);
    if let Command::AnswerCheck { note, .. } = &mut with_note {
        "zinc in the roots".clone_into(note);
    }
    noted.does(with_note);
    let notes: Vec<String> = noted
        .job()
        .checks
        .iter()
        .map(|c| c.body.note.clone())
        .collect();
    assert_eq!(notes, ["", "zinc in the roots"]);
    // The same evidence as if each were answered by itself.
    let mut one_by_one = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    for (id, said) in [
        ("lens-on-teeth", Said::No),
        ("teeth-on-paper", Said::Yes),
        ("jaw-backs-look", Said::NotSure),
    ] {
        one_by_one.does(check(id, said));
    }
    assert_eq!(
        rank(Drive::Battery, &seen),
        rank(Drive::Battery, &one_by_one.seen())
    );
}
