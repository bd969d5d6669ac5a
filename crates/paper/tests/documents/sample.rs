//! One job on paper, from the demo shop's own names.

use calc::decision::{Limits, Rule, Verdict, judge, working};
use calc::screw_stop::{Effect, Hand, Rotation, View, Zero};
use calc::units::Unit;
use paper::joint::{JointFeature, JointSketch};
use paper::model::*;
use paper::pull_plot::{CurveLook, PullCurve};
use paper::{GaugeBar, PullPlot};
use words::Words;

fn text(s: &str) -> String {
    s.to_owned()
}

pub fn bar(
    what: &str,
    unit: Unit,
    value: f64,
    w: f64,
    limits: (Option<f64>, Option<f64>),
) -> GaugeBar {
    let limits = Limits::new(limits.0, limits.1).expect("good limits");
    GaugeBar {
        value,
        expanded: w,
        limits,
        rule: Rule::Guarded,
        verdict: judge(value, w, limits, Rule::Guarded).expect("finite"),
        unit,
        decimals: 2,
        label: String::new(),
    }
    .labelled(Words::english(), what)
}

pub fn reading(bar: GaugeBar, gauge: &str) -> Reading {
    Reading {
        bar,
        gauge: text(gauge),
        in_date: true,
        beyond: false,
        doubted: false,
    }
}

pub fn shop() -> Shop {
    Shop {
        name: text("Tarnwick Tool Bench"),
        place: vec![text("Unit 4, Mill Row, Tarnwick"), text("bench 2")],
    }
}

pub fn tool() -> Tool {
    Tool {
        model: text("Tulvane TB-32"),
        serial: text("7K-0412"),
        kind: text("battery puller, 32 kN"),
        energy: Energy::Battery,
        counter: text("61 480"),
    }
}

pub fn record() -> RecordHead {
    RecordHead {
        sequence: 412,
        hash: text("9f2c41d7a0be63f58812c4d09e7735aa61fb0c2e94d8137759ce20ab4471f3d6"),
    }
}

pub fn adjustment() -> Setting {
    Setting::Turns(Adjustment {
        turns: 6.5,
        interval: text("6.3 to 6.7"),
        inside: "99.85 %".to_owned(),
        rotation: Rotation::Clockwise,
        effect: Effect::Shortens,
        reference: Zero::Open,
        view: View::AdjusterEnd,
        approach: Some(Effect::Shortens),
        key: text("2 mm hex key"),
    })
}

pub fn fastener() -> FastenerChoice {
    FastenerChoice {
        family: text("Marlstead M8"),
        code: text("08"),
    }
}

pub fn nose() -> NoseChoice {
    NoseChoice {
        set: text("N8"),
        collet: text("CR8"),
        look_alike: text(
            "CR8-S is 3.2 mm shorter and strips the pin. Measure: CR8 is 42.0 mm long.",
        ),
    }
}

pub fn stick_out() -> StickOut {
    StickOut {
        band: text("25.2 – 26.8 mm"),
        measured: text("26.20 ± 0.04 mm"),
        how: text("3 readings, caliper C-3, calibrated until Mar 2027"),
    }
}

/// The limits of the demo shop's non-break collar.
pub fn joint_sketch() -> JointSketch {
    let limits = |lower, upper| Limits::new(Some(lower), Some(upper)).expect("good limits");
    JointSketch {
        feature: JointFeature::Reach,
        diameter_mm: 7.9,
        limits_mm: limits(0.7, 1.5),
        collar_mm: Some(limits(12.90, 13.12)),
        if_low: Some(Effect::Shortens),
        if_high: Some(Effect::Lengthens),
    }
}

pub fn card() -> SetupCard {
    SetupCard {
        shop: shop(),
        job: text("1047"),
        tool: tool(),
        fastener: fastener(),
        nose: nose(),
        stick_out: Some(stick_out()),
        setting: adjustment(),
        pressure: None,
        holds_for: "For a stick-out of 26.17 mm. Each millimetre more: ⅔ turn less.".to_owned(),
        waived: String::new(),
        limits: vec![
            JointLimit {
                what: text("Collar diameter"),
                limits: text("12.90 – 13.12 mm"),
                gauge: text("caliper"),
            },
            JointLimit {
                what: text("Reach from flange"),
                limits: text("0.7 – 1.5 mm"),
                gauge: text("depth gauge"),
            },
        ],
        joint: None,
        link: None,
        recheck_joints: 20,
        signed_by: text("R. Hale"),
        signed_on: text("24 Nov 2026"),
        record: record(),
        issued: Day {
            year: 2026,
            month: 11,
            day: 24,
        },
    }
}

fn force(value: f64) -> TestResult {
    let limits = (Some(30.4), Some(35.2));
    TestResult::Read(reading(
        bar("Pull force", Unit::Kilonewton, value, 0.35, limits),
        "L-1",
    ))
}

fn looked(verdict: Verdict, note: &str) -> TestResult {
    TestResult::Looked(Looked {
        verdict,
        pass: text("stops at once, stays safe"),
        note: text(note),
    })
}

fn torque(joint: &str, thread: &str, hand: Hand, value: f64, limits: (f64, f64)) -> Torque {
    let limits = (Some(limits.0), Some(limits.1));
    Torque {
        joint: text(joint),
        thread: text(thread),
        hand,
        reading: Some(reading(
            bar(joint, Unit::NewtonMetre, value, 0.8, limits),
            "T-2",
        )),
        note: text("removable thread lock"),
    }
}

pub fn joint(number: u32, diameter: f64, seen: &str) -> TrialJoint {
    let limits = (Some(12.9), Some(13.12));
    let bar = bar("Collar diameter", Unit::Millimetre, diameter, 0.02, limits);
    TrialJoint {
        number,
        turns: Some(if number == 1 { 6.5 } else { 6.625 }),
        joint: Joint {
            verdict: bar.verdict,
            readings: vec![JointReading {
                what: text("Collar diameter"),
                reading: reading(bar, "C-3"),
            }],
            seen: text(seen),
            note: String::new(),
        },
    }
}

pub fn report() -> ServiceReport {
    let limits = Limits::new(Some(30.4), Some(35.2)).expect("good limits");
    let judged = working(31.62, 0.35, limits, Rule::Guarded, Unit::Kilonewton, 2);
    ServiceReport {
        shop: shop(),
        number: text("SR-1047"),
        job: text("1047"),
        customer: text("Fennholt Glasshouse Frames"),
        tool: tool(),
        condition: vec![
            text("Dusty, housing scratched, seal whole"),
            text("Came with: case, 1 of 2 packs, nose set N8. Missing: charger"),
        ],
        dates: Dates {
            received: text("23 Nov 2026"),
            tested: text("24 Nov 2026"),
            issued: text("24 Nov 2026"),
        },
        complaint: text("Collars come out fat since Monday, and two pins stripped."),
        found: Some(Found {
            causes: vec![text("Collet worn")],
            note: text("Teeth rounded on all four fingers."),
            checks: vec![
                Check {
                    question: text("Are the pull grooves of the pin torn?"),
                    answer: text("yes"),
                    note: text("polished over half the length"),
                },
                Check {
                    question: text("Does stick-out lie in the band?"),
                    answer: text("yes"),
                    note: String::new(),
                },
            ],
        }),
        unrepaired: None,
        doubts: Vec::new(),
        doubts_since: Vec::new(),
        doubted_by: "R. Hale".to_owned(),
        doubt_reason: String::new(),
        warranty: Some(Warranty {
            cover: Cover::NotCovered,
            term: text("Collets are wear parts and not covered (terms, 4.2)."),
            evidence: text("61 480 pulls against a collet life of 20 000; sale 3 Feb 2026."),
        }),
        price: Some(Price {
            lines: vec![
                PriceLine {
                    what: text("Collet"),
                    number: text("TB-CR8"),
                    count: text("1"),
                    each: text("64.00"),
                    sum: text("64.00"),
                },
                PriceLine {
                    what: text("Labour, hours"),
                    number: String::new(),
                    count: text("1.25"),
                    each: text("58.00"),
                    sum: text("72.50"),
                },
            ],
            net: text("136.50"),
            tax_rate: text("20 %"),
            tax: text("27.30"),
            total: text("GBP 163.80"),
            note: String::new(),
            answer: Some(Answer {
                yes: true,
                name: text("M. Orr"),
                on: text("23 Nov 2026"),
                note: text("by telephone"),
            }),
        }),
        parts: vec![PartRenewed {
            name: text("Collet CR8"),
            number: text("TB-CR8"),
            reason: text("teeth rounded, slips"),
            counter: text("61 480"),
        }],
        axis: None,
        torques: vec![
            torque("Nose housing", "M30×1.5", Hand::Right, 41.2, (36.0, 44.0)),
            torque("Adapter", "M16×1", Hand::Left, 30.4, (25.2, 30.8)),
        ],
        fastener: Some(fastener()),
        nose: Some(nose()),
        stick_out: Some(stick_out()),
        setting: Some(adjustment()),
        joints: vec![
            joint(1, 13.11, "nothing wrong"),
            joint(2, 13.01, "nothing wrong"),
            joint(3, 13.0, "nothing wrong"),
        ],
        tests: vec![
            Test {
                name: text("Pull force"),
                method: text("load cell in line, mean of five pulls to stall"),
                as_found: Some(force(28.9)),
                as_left: Some(force(31.62)),
            },
            Test {
                name: text("Trigger release"),
                method: text("trigger off mid-stroke"),
                as_found: Some(looked(Verdict::Reject, "ran on for about 2 s")),
                as_left: Some(looked(Verdict::Accept, "")),
            },
        ],
        wear: vec![Wear {
            part: text("Anvil, 8 mm"),
            what: text("Throat bore"),
            reading: Some(reading(
                bar(
                    "Throat bore",
                    Unit::Millimetre,
                    12.97,
                    0.01,
                    (None, Some(13.05)),
                ),
                "P-1",
            )),
            note: text("New 12.90 mm"),
            life: text("About 20 500 pulls left. Advice: replace now."),
        }],
        pulls: vec![PullsPrinted {
            entry: 12,
            title: text("As left: 2 of 3 pulls of Marlstead M8"),
            outcome: Some(Verdict::Accept),
            lines: vec![
                text("Peak 24.31 ± 0.27 kN"),
                text("Like the 12 good pulls: 2"),
            ],
            rows: vec![
                [
                    text("1"),
                    text("24.31 ± 0.27 kN"),
                    text("12.02 ± 0.07 mm"),
                    text("accept"),
                ],
                [
                    text("2"),
                    text("24.18 ± 0.27 kN"),
                    text("12.11 ± 0.07 mm"),
                    text("accept"),
                ],
            ],
            file: text("m8-as-left.csv"),
            hash: "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad".to_owned(),
            plot: Some(PullPlot {
                curves: vec![PullCurve {
                    name: text("Pull 1"),
                    points: vec![(0.0, 0.0), (2.0, 1.0), (6.0, 18.0), (12.0, 24.3)],
                    look: CurveLook::Counts,
                }],
                label: text("Force over stroke, two pulls"),
                ..PullPlot::default()
            }),
        }],
        found_joints: vec![FoundJoint {
            fastener: text("Marlstead M8 lockbolt"),
            joint: joint(1, 13.41, "pull grooves torn").joint,
        }],
        not_run_as_found: String::new(),
        instruments: vec![
            Instrument {
                tag: text("C-3"),
                name: text("Caliper, 150 mm"),
                expanded: text("0.02 mm"),
                due: text("31 Mar 2027"),
                was_stale: false,
            },
            Instrument {
                tag: text("L-1"),
                name: text("Load cell, 50 kN"),
                expanded: text("0.35 kN"),
                due: text("12 Jan 2027"),
                was_stale: true,
            },
            Instrument {
                tag: text("T-2"),
                name: text("Torque wrench, 10 to 60 N·m"),
                expanded: text("0.8 N·m"),
                due: text("30 Jun 2027"),
                was_stale: false,
            },
        ],
        deviations: vec![Change {
            what: text("Step 9, weigh the grease"),
            reason: text("Scale away for calibration; amount judged by eye."),
            by: text("R. Hale, 24 Nov 11:20"),
        }],
        corrections: vec![Change {
            what: text("Entry 398: collar diameter 31.01 mm"),
            reason: text("Digits swapped; read again."),
            by: text("R. Hale, 24 Nov 13:02"),
        }],
        workings: vec![WorkingView::of(
            Words::english(),
            "Pull force as left",
            &judged,
        )],
        photos: Vec::new(),
        files: Vec::new(),
        handed_over: vec![text("Tool, case, 1 pack, nose set N8"), text("Set-up card")],
        authorised_by: text("I. Marsh"),
        record: record(),
        issued: Day {
            year: 2026,
            month: 11,
            day: 24,
        },
    }
}
