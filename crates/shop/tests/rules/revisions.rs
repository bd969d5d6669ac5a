//! An earlier revision of a quote, as it last stood.

use shop::job::Command;
use shop::quote::{Stood, as_it_stood};

use crate::bench::{Bench, strike};
use crate::quote::{cents, quoted, said, three};

#[test]
fn an_earlier_revision_stands_as_it_last_stood() {
    let mut bench = quoted(three());
    bench.does(Command::Answer(said(true, &[false, false])));
    let mut dearer = three();
    dearer.lines[0].each = cents(12_000);
    bench.does(Command::Estimate(dearer.clone()));
    let second = bench.job().version;
    dearer.lines[0].each = cents(13_000);
    bench.does(Command::Estimate(dearer));
    bench.does(Command::Answer(said(false, &[false, false])));

    let stood = |bench: &Bench, revision| as_it_stood(&bench.entries, revision);
    let first = stood(&bench, 1).expect("revision 1");
    let quote = &first.job.estimate.as_ref().expect("quoted").body;
    assert_eq!((quote.revision, quote.lines[0].each), (1, cents(10_000)));
    // The yes was to revision 1; it comes back with it, not with any other.
    let yes = |stood: &Stood| stood.job.answer.as_ref().map(|a| a.body.yes);
    assert_eq!(yes(&first), Some(true));
    let by = first.replaced.expect("replaced");
    assert_eq!((by.by, by.newest), (2, 3));
    assert_eq!(Some(by.at), bench.job().estimates.get(1).map(|q| q.at));
    let two = stood(&bench, 2).expect("revision 2");
    assert_eq!(two.job.quote_before().map(|q| q.revision), Some(1));
    assert_eq!((yes(&two), two.replaced.map(|r| r.by)), (None, Some(3)));
    let newest = stood(&bench, 3).expect("revision 3");
    assert_eq!((yes(&newest), newest.replaced), (Some(false), None));
    assert_eq!(newest.job, bench.job());
    for none in [0, 4] {
        assert_eq!(stood(&bench, none), None);
    }

    // A revision that was struck is none; the one before it was replaced by the next that stands.
    let mut bench = quoted(three());
    let mut dearer = three();
    dearer.lines[0].each = cents(12_000);
    bench.does(Command::Estimate(dearer));
    let struck = bench.job().version;
    assert_eq!(struck, second - 1);
    bench.does(strike(struck));
    assert_eq!(stood(&bench, 1).map(|s| s.replaced), Some(None));
    bench.does(Command::Estimate(three()));
    assert_eq!(stood(&bench, 2), None);
    let first = stood(&bench, 1).expect("revision 1");
    assert_eq!(first.replaced.map(|r| (r.by, r.newest)), Some((3, 3)));
}
