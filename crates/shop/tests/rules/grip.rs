//! The stack chooses the code, and is held against the stick-out.

use calc::stick_out_causes::Cause;
use shop::entry::{LayerKind, StackRead, StickOutRead};
use shop::grip::{
    Check, Explained, LayerIn, PinsRead, StackIn, contradiction, explanations, odd_pin, stack_of,
};
use shop::job::{Command, TypedValue};
use shop::trial::own::Past;

use crate::bench::{Bench, desk, measured};
use crate::walk::fit;

/// A TB-32 rebuilt.
fn in_set_up() -> Bench {
    Bench::ready("tulvane-tb-32").rebuilt("collet")
}

fn typed(field: &str, value: f64) -> TypedValue {
    TypedValue {
        field: field.to_owned(),
        raw: value.to_string(),
        value,
    }
}

/// Layers: thickness, and tolerance where it is nominal.
fn stack(layers: &[(f64, Option<f64>)]) -> StackIn {
    let layer = |(i, (mm, tolerance)): (usize, &(f64, Option<f64>))| LayerIn {
        kind: LayerKind::Plate,
        thickness: typed(&format!("layer-{}", i + 1), *mm),
        tolerance: tolerance.map(|t| typed(&format!("tolerance-{}", i + 1), t)),
    };
    StackIn {
        layers: layers.iter().enumerate().map(layer).collect(),
        gauge: "c-3".to_owned(),
        gauge_field: "stack_gauge".to_owned(),
    }
}

fn fit_over(code: &str, over: StackIn) -> Command {
    match fit("marlstead-m8", code, "n8") {
        Command::Fit {
            fastener,
            code,
            nose_set,
            collet,
            made_safe,
            ..
        } => Command::Fit {
            fastener,
            code,
            nose_set,
            collet,
            made_safe,
            stack: over,
        },
        other => other,
    }
}

fn read(pins: &[f64], under: StackIn) -> Command {
    Command::ReadStickOut {
        clamped: true,
        measured: measured("c-3", pins),
        past: Past::default(),
        stack: under,
    }
}

fn newest(bench: &Bench) -> StickOutRead {
    let job = bench.job();
    let set_up = job.set_up().expect("fitted");
    set_up.stick_out().expect("read").clone()
}

fn explained(bench: &Bench) -> Explained {
    let job = bench.job();
    let set_up = job.set_up().expect("fitted");
    let read = set_up.stick_out().expect("read");
    let desk = desk();
    let sheets = job.set_up_sheets(set_up, &desk).expect("sheets");
    let under = stack_of(set_up, read);
    let pins = PinsRead::of(read, under, &desk).expect("read");
    explanations(&sheets, &pins, under).expect("weighed")
}

#[test]
fn the_stack_chooses_the_code() {
    // Arithmetic: 4.75 + 4.75 = 9.5 mm, code 06 is 8.7 to 10.3 mm.
    let mut bench = in_set_up();
    bench.does(fit_over("", stack(&[(4.75, Some(0.2)), (4.75, Some(0.2))])));
    let job = bench.job();
    let fitted = &job.set_up().expect("fitted").fitted.body;
    assert_eq!(fitted.code, "06");
    assert_eq!(fitted.stack.as_ref().map(|s| s.layers.len()), Some(2));
}

#[test]
fn a_code_for_another_stack_is_refused() {
    let bench = in_set_up();
    let layers = [(4.75, Some(0.2)), (4.75, Some(0.2))];
    bench.refuses(fit_over("08", stack(&layers)), "code: stack-asks-for");
    // 8.7 mm is where codes 05 and 06 meet; 14.0 and 3.0 are no code's.
    bench.refuses(
        fit_over("", stack(&[(8.7, Some(0.3))])),
        "code: stack-undecided",
    );
    bench.refuses(
        fit_over("", stack(&[(5.5, Some(0.3))])),
        "code: stack-at-end",
    );
    bench.refuses(
        fit_over("06", stack(&[(3.0, Some(0.1))])),
        "layer-1: stack-thinner",
    );
    bench.refuses(
        fit_over("", stack(&[(14.0, Some(0.1))])),
        "layer-1: stack-thicker",
    );
    // 3/8 in typed as it stands: 9.525 mm.
    bench.refuses(
        fit_over("", stack(&[(0.375, Some(0.01))])),
        "layer-1: refuse-inches",
    );
}

#[test]
fn a_layer_has_a_thickness_and_a_source() {
    let bench = in_set_up();
    for mm in [0.0, -1.0, 201.0, f64::NAN, f64::INFINITY] {
        bench.refuses(
            fit_over("06", stack(&[(mm, Some(0.1))])),
            "layer-1: refuse-layer-range",
        );
    }
    for tolerance in [-0.1, 9.5, f64::NAN] {
        let over = stack(&[(9.5, Some(tolerance))]);
        bench.refuses(fit_over("06", over), "tolerance-1: refuse-layer-tolerance");
    }
    let no_gauge = StackIn {
        gauge: String::new(),
        ..stack(&[(9.5, None)])
    };
    bench.refuses(fit_over("06", no_gauge), "stack_gauge: refuse-layer-source");
    let stale = StackIn {
        gauge: "c-5".to_owned(),
        ..stack(&[(9.5, None)])
    };
    bench.refuses(
        fit_over("06", stale),
        "stack_gauge: refuse-stack-gauge-stale",
    );
    let force = StackIn {
        gauge: "lc-50".to_owned(),
        ..stack(&[(9.5, None)])
    };
    bench.refuses(fit_over("06", force), "stack_gauge: gauge-wrong-kind");
}

#[test]
fn the_story_of_the_long_stick_out() {
    // Demo story, arithmetic: code 08 over 9.5 mm stands out 12.7 + 26.0 − 9.5 = 29.2 mm. The stack
    // and the reading agree with each other; the code is wrong.
    let mut bench = in_set_up();
    bench.does(fit("marlstead-m8", "08", "n8"));
    let under = stack(&[(4.75, Some(0.2)), (4.75, Some(0.2))]);
    bench.does(read(&[29.20, 29.20, 29.21], under));
    let newest = newest(&bench);
    assert!(!newest.in_band && newest.set_turns.is_none());
    let explained = explained(&bench);
    assert_eq!(explained.ranked[0].cause, Cause::WrongCode(2));
    assert!(explained.ranked[0].probability > 0.95);
    assert_eq!(explained.check, Check::ReadCode);
    let found = explained.difference.expect("a stack");
    assert!((found.expected_mm - 29.2).abs() < 1e-9 && !found.contradicts());
    let shown: f64 = explained.ranked.iter().map(|e| e.probability).sum();
    assert!((shown + explained.others - 1.0).abs() < 1e-9);
}

#[test]
fn in_band_over_another_stack_gives_no_setting() {
    // 26.2 mm lies in the band of code 06, but over 10.2 mm it should be 25.3 mm: as if a
    // millimetre of gap had been counted as plate, or left out.
    let mut bench = in_set_up();
    bench.does(fit("marlstead-m8", "06", "n8"));
    bench.does(read(&[26.20, 26.22, 26.18], stack(&[(10.2, Some(0.05))])));
    assert!(!newest(&bench).in_band);
    let job = bench.job();
    let set_up = job.set_up().expect("fitted");
    let desk = desk();
    let sheets = job.set_up_sheets(set_up, &desk).expect("sheets");
    let read_now = set_up.stick_out().expect("read");
    let under = stack_of(set_up, read_now);
    let found = contradiction(&sheets, &read_now.readings, under, &desk).expect("contradicts");
    assert!((found.off_mm - 0.9).abs() < 1e-9, "{found:?}");
    // The same pins over the stack that they speak for.
    bench.does(read(&[26.20, 26.22, 26.18], stack(&[(9.3, Some(0.05))])));
    assert!(newest(&bench).in_band);
    // And without one.
    bench.does(read(&[26.20, 26.22, 26.18], StackIn::default()));
    assert!(newest(&bench).in_band);
}

#[test]
fn the_stack_of_the_fit_counts_until_another_is_entered() {
    let mut bench = in_set_up();
    bench.does(fit_over("06", stack(&[(10.2, Some(0.05))])));
    bench.does(read(&[26.20, 26.22, 26.18], StackIn::default()));
    assert!(!newest(&bench).in_band);
    bench.does(read(&[26.20, 26.22, 26.18], stack(&[(9.3, None)])));
    assert!(newest(&bench).in_band);
}

#[test]
fn a_stick_out_in_inches_is_named() {
    let mut bench = in_set_up();
    bench.does(fit("marlstead-m8", "06", "n8"));
    // 1.03 in is 26.16 mm; 1.15 in is 29.21 mm, a wrong code in inches.
    for inches in [1.03, 1.15] {
        let command = read(&[26.2, inches, 26.2], StackIn::default());
        bench.refuses(command, "reading-2: refuse-inches");
    }
    // A millimetre is no inch of anything near the band.
    bench.does(read(&[2.0, 2.0, 2.0], StackIn::default()));
}

#[test]
fn no_setting_rests_on_sheets_that_were_not_clamped() {
    let bench = {
        let mut bench = in_set_up();
        bench.does(fit("marlstead-m8", "06", "n8"));
        bench
    };
    for stick_outs in [[26.2, 26.2, 26.2], [29.2, 29.2, 29.2]] {
        let loose = Command::ReadStickOut {
            measured: measured("c-3", &stick_outs),
            past: Past::default(),
            stack: StackIn::default(),
            clamped: false,
        };
        bench.refuses(loose, "clamped: refuse-not-clamped");
    }
}

#[test]
fn open_sheets_are_told_from_the_wrong_pin_by_clamping() {
    let mut bench = in_set_up();
    bench.does(fit("marlstead-m8", "06", "n8"));
    let under = stack(&[(9.5, Some(0.08))]);
    bench.does(read(&[24.41, 24.45, 24.40], under));
    assert_eq!(explained(&bench).ranked[0].cause, Cause::WrongPin(-1));
    // A stick-out from before it was asked: nobody said that the sheets were clamped.
    let older = StickOutRead {
        clamped: false,
        ..newest(&bench)
    };
    let (job, desk) = (bench.job(), desk());
    let set_up = job.set_up().expect("fitted");
    let sheets = job.set_up_sheets(set_up, &desk).expect("sheets");
    let under = older.stack.clone().map(|stack| StackRead {
        clamped: false,
        ..stack
    });
    let pins = PinsRead::of(&older, under.as_ref(), &desk).expect("read");
    let found = explanations(&sheets, &pins, under.as_ref()).expect("weighed");
    assert_eq!(found.ranked[0].cause, Cause::NotClamped);
}

#[test]
fn the_odd_pin_is_named() {
    // The second lies (26.0 + 26.1) / 2 − 25.4 = 0.65 mm below the mean of the others.
    let (pin, off) = odd_pin(&[26.0, 25.4, 26.1]).expect("three");
    assert_eq!(pin, 2);
    assert!((off + 0.65).abs() < 1e-9, "{off}");
    assert_eq!(odd_pin(&[26.0, 25.4]), None);
}
