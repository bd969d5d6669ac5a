//! A tool that was stripped for a look lies open: nothing runs it until somebody says that it is closed again.

use shop::entry::{Phase, Said};
use shop::job::Command;

use crate::bench::{Bench, check};
use crate::walk::{good_m8, test};

const TB: &str = "tulvane-tb-32";

fn close() -> Command {
    Command::CloseAgain {
        note: String::new(),
    }
}

#[test]
fn a_tool_that_was_stripped_for_a_look_runs_when_it_is_closed_again() {
    let mut bench = Bench::received(TB, &["knock-or-grind"]);
    bench.refuses(close(), ": refuse-not-lying-open");
    bench.does(check("known-good-pack", Said::No));
    bench.does(check("turn-screw-by-hand", Said::Yes));
    // The look is one thing; that it lies open since is another: nothing runs it.
    let open = ": refuse-lies-open";
    bench.refuses(check("no-load-current", Said::Yes), open);
    bench.refuses(
        test(Phase::AsFound, "pull-force", "lc-50", &[33.0; 5]),
        open,
    );
    bench.refuses(good_m8(6.75), open);
    // Looks without energy go on.
    bench.does(check("head-twist", Said::No));
    assert_eq!(bench.seen().lies_open, ["turn-screw-by-hand"]);
    bench.does(close());
    assert!(bench.seen().lies_open.is_empty());
    bench.does(check("no-load-current", Said::Yes));
    // Open once more, and the word for it from before does not count.
    bench.does(check("open-gear-case", Said::No));
    bench.refuses(check("shop-coupon-joints", Said::No), open);
}
