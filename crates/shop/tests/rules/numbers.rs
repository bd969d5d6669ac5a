//! Numbers that are none never reach a verdict, a setting or the record.

use shop::entry::{Phase, Seen};
use shop::job::{Command, TypedValue};
use shop::trial::own::Past;

use crate::bench::{Bench, measured};
use crate::walk::{fit, joint, plan, reading, stick_out, test};

const NONE: [f64; 3] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];

#[test]
fn as_readings() {
    for value in NONE {
        let bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
        let pulls = [31.0, 31.1, value, 31.0, 31.1];
        bench.refuses(
            test(Phase::AsFound, "pull-force", "lc-50", &pulls),
            "reading-3: gauge-out-of-range",
        );
        let mut bench = Bench::ready("tulvane-tb-32");
        bench.does(plan("collet"));
        bench.work_until("tighten-nose");
        bench.refuses(
            reading("tighten-nose", "tw-100", value),
            "reading-1: gauge-out-of-range",
        );
    }
}

#[test]
fn in_the_set_up() {
    let mut bench = Bench::ready("tulvane-tb-32").rebuilt("collet");
    for value in NONE {
        let command = Command::Fit {
            fastener: "marlstead-m8".to_owned(),
            code: "06".to_owned(),
            nose_set: "n8".to_owned(),
            collet: Some(measured("c-3", &[value])),
            made_safe: crate::walk::safe(),
            stack: shop::grip::StackIn::default(),
        };
        bench.refuses(command, "reading-1: gauge-out-of-range");
    }
    bench.does(fit("marlstead-m8", "06", "n8"));
    for value in NONE {
        let command = Command::ReadStickOut {
            clamped: true,
            measured: measured("c-3", &[26.2, value, 26.2]),
            past: Past::default(),
            stack: shop::grip::StackIn::default(),
        };
        bench.refuses(command, "reading-2: gauge-out-of-range");
    }
    bench.does(stick_out(26.2));
    for value in NONE {
        bench.refuses(
            joint(Some(value), Seen::Good, &[("reach", "d-1", 1.1)]),
            "turns: refuse-turns-range",
        );
        let why = bench.refused(joint(Some(6.5), Seen::Good, &[("reach", "d-1", value)]));
        let known = [
            "reading-1: gauge-out-of-range",
            "reading-1: refuse-no-joint",
        ];
        assert!(
            why.iter().all(|w| known.contains(&w.as_str())),
            "{value}: {why:?}"
        );
    }
}

#[test]
fn as_a_wanted_stroke() {
    let mut bench = Bench::ready("orrinbeck-ah-21").rebuilt("jaws");
    bench.does(fit("drumhale-rn6", "10-30", "n26-rn6"));
    for value in NONE {
        let command = Command::ChooseStroke {
            stroke: TypedValue {
                field: "stroke".to_owned(),
                raw: String::new(),
                value,
            },
            past: Past::default(),
        };
        bench.refuses(command, "stroke: refuse-stroke-range");
    }
}
