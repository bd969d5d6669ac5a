//! Any command at any time: it is decided or refused, never worse, and what is written reads back.

use jiff::civil::date;
use proptest::prelude::*;
use rust_decimal::Decimal;
use shop::counter::AnewIn;
use shop::entry::{
    AnswerWay, Body, Cover, FileAttached, LayerKind, LineJudged, OptionKind, PackGone, Phase,
    PriceLine, QuoteOption, Said, Seen, WaitFor,
};
use shop::grip::{LayerIn, StackIn};
use shop::job::{
    AnswerIn, BenchTestIn, Command, EndIn, Job, JointIn, JudgeIn, Measured, QuoteIn, ReturnIn,
    ScrapIn, SendIn, Stage, StepIn, TrialJointIn, TypedValue, decide,
};
use shop::tables::job_row;
use shop::trial::own::Past;

use crate::bench::{Bench, faults, model, person};
use crate::walk;

const TB: &str = "tulvane-tb-32";

/// Picks that a command is made of.
#[derive(Clone, Copy, Debug)]
struct Picks {
    what: usize,
    a: usize,
    b: usize,
    c: usize,
}

const VALUES: [f64; 12] = [
    26.2,
    6.5,
    1.1,
    13.0,
    40.0,
    31.0,
    0.0,
    -1.0,
    1e300,
    29.2,
    f64::NAN,
    f64::INFINITY,
];
const GAUGES: [&str; 9] = [
    "c-3", "m-1", "d-1", "tw-100", "lc-50", "p-1", "c-5", "", "x",
];
const WORDS: [&str; 5] = ["worn", "late", "", "  ", "⟦δ"];

fn of<T: Clone>(list: &[T], pick: usize) -> T {
    list[pick % list.len()].clone()
}

fn word(pick: usize) -> String {
    of(&WORDS, pick).to_owned()
}

fn typed(field: &str, pick: usize) -> TypedValue {
    TypedValue {
        field: field.to_owned(),
        raw: word(pick),
        value: of(&VALUES, pick),
    }
}

fn values(p: Picks) -> Measured {
    Measured {
        gauge: of(&GAUGES, p.b).to_owned(),
        gauge_field: "gauge".to_owned(),
        values: (0..p.c % 6).map(|_| typed("reading", p.c)).collect(),
    }
}

/// A stack of anything, or none.
fn stack(p: Picks) -> StackIn {
    let layer = |i: usize| LayerIn {
        kind: of(&[LayerKind::Plate, LayerKind::Gap], p.c + i),
        thickness: typed("layer", p.c + i),
        tolerance: (p.a + i)
            .is_multiple_of(2)
            .then(|| typed("tolerance", p.b + i)),
    };
    StackIn {
        layers: (0..p.b % 4).map(layer).collect(),
        gauge: of(&GAUGES, p.a).to_owned(),
        gauge_field: "stack_gauge".to_owned(),
    }
}

fn joint(p: Picks) -> JointIn {
    JointIn {
        readings: vec![(of(&["reach", "gap", "x"], p.c).to_owned(), values(p))],
        seen: of(&[Some(Seen::Good), Some(Seen::Under), None], p.c),
        note: word(p.a),
    }
}

fn symptom(pick: usize) -> String {
    let known = &faults().symptoms;
    known
        .get(pick % (known.len() + 1))
        .map_or("sings".to_owned(), |s| s.id.clone())
}

/// A step of the job's route, or none of it.
fn step(job: &Job, pick: usize) -> String {
    let steps = job.route_steps(model(TB)).unwrap_or_default();
    let near = job.next_step(&steps).unwrap_or(0) + pick % 5;
    steps
        .get(near)
        .map_or("polish".to_owned(), |s| s.id.clone())
}

/// What anybody might do: something sensible two times out of three.
fn command(bench: &Bench, job: &Job, p: Picks) -> Command {
    if !p.c.is_multiple_of(3) {
        bench.sensible(p.a)
    } else {
        wild(job, p)
    }
}

fn wild(job: &Job, p: Picks) -> Command {
    let part = |pick: usize| {
        let parts = &model(TB).parts;
        parts
            .get(pick % (parts.len() + 1))
            .map_or("flux".to_owned(), |p| p.id.clone())
    };
    match p.what % 28 {
        0 => Command::AmendReceipt {
            counter: Some(p.a as u64),
            anew: AnewIn::default(),
            sold: Some(of(
                &[date(2026, 1, 1), date(2027, 1, 1), date(1990, 1, 1)],
                p.b,
            )),
            first_used: [None, Some(date(2026, 3, 1)), Some(date(2027, 3, 1))][p.c % 3],
            complaint: word(p.a),
            due: Some(of(&[date(2026, 12, 1), date(2020, 1, 1)], p.c)),
            reason: word(p.b),
        },
        1 => Command::NoteSymptoms {
            present: vec![symptom(p.a)],
            absent: vec![symptom(p.b)],
        },
        2 => {
            let tests = &model(TB).bench_tests;
            Command::ReadBenchTest(BenchTestIn {
                phase: of(&[Phase::AsFound, Phase::AsLeft], p.a),
                test: tests
                    .get(p.a % (tests.len() + 1))
                    .map_or("x".to_owned(), |t| t.id.clone()),
                measured: Some(values(p)),
                passed: of(&[None, Some(true), Some(false)], p.b),
                note: word(p.c),
            })
        }
        3 => Command::NotSafe { reason: word(p.a) },
        4 => Command::AnswerCheck {
            check: of(&faults().checks, p.a).id,
            answer: of(&[Said::Yes, Said::No, Said::NotSure], p.b),
            note: word(p.c),
            made_safe: of(&[walk::safe(), Vec::new()], p.c),
            beside: (0..p.b % 3)
                .map(|i| (of(&faults().checks, p.c + i).id, Said::No))
                .collect(),
        },
        5 => Command::ConfirmCause {
            causes: (0..p.b % 3)
                .map(|i| of(&faults().causes, p.a + i).id)
                .collect(),
            note: word(p.c),
        },
        6 => Command::JudgeWarranty(JudgeIn {
            cover: of(&[Some(Cover::CannotTell), Some(Cover::InPart), None], p.c),
            term: word(p.a),
            evidence: word(p.b),
            lines: of(
                &[
                    Vec::new(),
                    vec![line(Cover::Covered, &word(p.b))],
                    vec![line(Cover::InPart, "x")],
                ],
                p.a,
            ),
            voided: of(
                &[
                    Vec::new(),
                    vec!["Drop or water damage".to_owned()],
                    vec![word(p.a)],
                ],
                p.b,
            ),
            void_evidence: word(p.c),
            entry: Some(p.a as u32 % 9).filter(|_| p.b.is_multiple_of(2)),
            at_hand: of(
                &[
                    Vec::new(),
                    vec!["Pull counter at receipt".to_owned()],
                    vec![word(p.c)],
                ],
                p.a,
            ),
            without_reason: word(p.a),
            void_entry: Some(p.b as u32 % 9).filter(|_| p.c.is_multiple_of(2)),
        }),
        7 => Command::Estimate(QuoteIn {
            lines: vec![PriceLine {
                what: word(p.a),
                number: word(p.b),
                count: of(
                    &[Decimal::ONE, Decimal::MAX, Decimal::ZERO, Decimal::MIN],
                    p.b,
                ),
                each: of(
                    &[Decimal::ONE, Decimal::MAX, Decimal::ZERO, Decimal::MIN],
                    p.c,
                ),
                tax_percent: of(&[None, Some(Decimal::ONE), Some(Decimal::MAX)], p.a),
                option: p.c % 4,
            }],
            options: of(
                &[
                    Vec::new(),
                    vec![option(OptionKind::Work), option(OptionKind::Instead)],
                    vec![option(OptionKind::AddOn)],
                ],
                p.b,
            ),
            discount_percent: of(&[None, Some(Decimal::TEN), Some(Decimal::MAX)], p.c),
            discount_reason: word(p.a),
            rows: Vec::new(),
            valid_until: of(
                &[None, Some(date(2026, 12, 1)), Some(date(2020, 1, 1))],
                p.a,
            ),
            note: word(p.c),
        }),
        8 => Command::Answer(AnswerIn {
            yes: of(&[Some(true), Some(false), None], p.a),
            name: of(&[Some(person("k")), None], p.b),
            on: of(
                &[Some(date(2026, 11, 25)), None, Some(date(2030, 1, 1))],
                p.c,
            ),
            received: date(2026, 11, 25),
            note: word(p.a),
            others: of(&[Vec::new(), vec![Some(true)], vec![None]], p.c),
            revision: of(&[None, Some(1), Some(2)], p.b),
            way: of(&[None, Some(AnswerWay::Telephone)], p.a),
            to: of(&[None, Some(person("k"))], p.b),
            at: None,
        }),
        9 | 10 => walk::plan(&part(p.a)),
        11..=14 => Command::DoStep(StepIn {
            step: step(job, p.a),
            measured: of(&[None, Some(values(p))], p.a),
            arm: of(&[None, values(p).values.pop()], p.c),
            passed: of(&[Some(true), Some(true), Some(false), None], p.b),
            reason: word(p.c),
            redone: word(p.b),
            overridden: of(&[None, None, Some(person("chief"))], p.c),
            mended: Vec::new(),
            note: word(p.a),
        }),
        15 => Command::ReplacePart {
            part: part(p.a),
            number: word(p.b),
            reason: word(p.c),
            counter: None,
            unagreed: word(p.b),
        },
        16 => Command::Fit {
            fastener: of(&["marlstead-m8", "drumhale-d6", "bolt"], p.a).to_owned(),
            code: of(&["06", "08", ""], p.b).to_owned(),
            nose_set: of(&["n8", "n30-d6", "nose"], p.a).to_owned(),
            collet: Some(values(p)),
            made_safe: of(&[walk::safe(), Vec::new()], p.c),
            stack: stack(p),
        },
        17 => Command::ReadStickOut {
            clamped: p.a.is_multiple_of(3),
            measured: values(p),
            past: Past::default(),
            stack: stack(p),
        },
        18 => Command::ChooseStroke {
            stroke: typed("stroke", p.a),
            past: Past::default(),
        },
        19 => Command::ReadJoint(TrialJointIn {
            turns: of(&[Some(typed("turns", p.a)), None], p.b),
            pressure: crate::bench::measured("", &[]),
            made_safe: of(&[walk::safe(), Vec::new()], p.a),
            joint: joint(p),
        }),
        20 => of(
            &[
                walk::sign_off(),
                Command::SignOffSetUp {
                    locked: true,
                    made_safe: of(&[walk::safe(), Vec::new()], p.c),
                    reason: word(p.b),
                },
            ],
            p.a,
        ),
        21 => Command::SignOffProof {
            reason: word(p.a),
            adjuster_stands: p.b.is_multiple_of(2),
        },
        22 => Command::Skip {
            stage: of(&Stage::ALL, p.a),
            reason: word(p.b),
        },
        23 => of(
            &[
                Command::Resume,
                Command::Wait {
                    wait_for: WaitFor::Yes,
                    note: word(p.b),
                },
                Command::Return(ReturnIn {
                    to: of(&[Some(person("k")), None], p.b),
                    authorised: Some(person("k")),
                    with: vec![word(p.c)],
                    checked: p.c.is_multiple_of(2),
                    note: word(p.b),
                    doubted: shop::job::Doubted::default(),
                    end: of(
                        &[
                            EndIn::Back,
                            EndIn::Scrapped(ScrapIn {
                                witness: of(&[Some(person("w")), Some(person("k")), None], p.c),
                                pack: of(
                                    &[Some(PackGone::Collected), Some(PackGone::ToOwner), None],
                                    p.b,
                                ),
                            }),
                            EndIn::ToMaker(SendIn {
                                parcel: word(p.b),
                                sent: of(&[Vec::new(), vec!["Tool".to_owned()]], p.c),
                                missing_seen: p.b.is_multiple_of(2),
                                pack_kept: p.c.is_multiple_of(2),
                            }),
                        ],
                        p.c,
                    ),
                }),
            ],
            p.a,
        ),
        24 => Command::ReadFoundJoint {
            fastener: of(&["marlstead-m8", "brackwell-b12", ""], p.b).to_owned(),
            joint: joint(p),
        },
        25 => Command::Attach(vec![FileAttached {
            name: word(p.a),
            media_type: "image/jpeg".to_owned(),
            bytes: p.a as u64,
            sha256: (p.b % 3).to_string(),
            stage: of(&Stage::ALL, p.c).key().to_owned(),
            note: word(p.b),
            step: of(&["", "", "off-anvil", "polish"], p.a).to_owned(),
        }]),
        26 => Command::TimeStep {
            step: step(job, p.b),
            on: p.c.is_multiple_of(2),
        },
        _ => Command::Strike {
            version: (p.a % (job.version as usize + 2)) as u32,
            reason: word(p.b),
        },
    }
}

fn line(cover: Cover, text: &str) -> LineJudged {
    LineJudged {
        part: "collet".to_owned(),
        number: "CR8".to_owned(),
        cover,
        own: text.len() > 1,
        term: text.to_owned(),
        evidence: text.to_owned(),
        entry: Some(text.len() as u32).filter(|n| n.is_multiple_of(2)),
    }
}

fn option(kind: OptionKind) -> QuoteOption {
    QuoteOption {
        name: "Option".to_owned(),
        kind,
    }
}

/// A job at some stage.
fn begun(stage: usize) -> Bench {
    let ready = || Bench::ready(TB);
    match stage % 6 {
        0 => Bench::received(TB, &["jaws-slip"]),
        1 => Bench::received(TB, &["runs-on"]),
        2 => ready(),
        3 => {
            let mut bench = ready();
            bench.does(walk::plan("collet"));
            bench.work_until("fit-collet");
            bench
        }
        4 => ready().rebuilt("collet").set_up_m8(),
        _ => Bench::proved(),
    }
}

fn look_at(job: &Job, bench: &Bench) {
    for stage in Stage::ALL {
        let _ = (job.standing(stage), job.is_open(stage));
    }
    for version in 0..=job.version + 1 {
        let _ = job.may_strike(version);
    }
    if let Some(made) = &job.estimate {
        let _ = shop::estimate::totals(&made.body);
    }
    let _ = shop::warranty::propose(job, model(TB), faults(), &[], bench.desk.today);
    assert!(job_row(&bench.entries).is_some());
}

fn picks() -> impl Strategy<Value = Vec<Picks>> {
    let one = (
        any::<usize>(),
        any::<usize>(),
        any::<usize>(),
        any::<usize>(),
    );
    let one = one.prop_map(|(what, a, b, c)| Picks { what, a, b, c });
    prop::collection::vec(one, 1..40)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn any_command_is_decided_or_refused(stage in 0..6usize, picks in picks()) {
        let mut bench = begun(stage);
        for p in picks {
            let job = bench.job();
            let said = decide(&job, command(&bench, &job, p), &bench.desk);
            let Ok(bodies) = said else {
                prop_assert!(said.is_err_and(|r| !r.is_empty()), "a refusal has a reason");
                continue;
            };
            prop_assert!(!bodies.is_empty());
            for body in &bodies {
                let back = Body::from_json(body.kind(), body.schema(), &body.to_json());
                prop_assert_eq!(back.as_ref(), Ok(body), "what is decided can be stored");
            }
            let before = job.version;
            let written = u32::try_from(bodies.len()).expect("few");
            bench.write(bodies);
            let after = bench.job();
            prop_assert_eq!(after.version, before + written);
            look_at(&after, &bench);
        }
    }

    #[test]
    fn no_returned_tool_was_opened_and_not_closed(stage in 0..6usize, picks in picks()) {
        let mut bench = begun(stage);
        for p in picks {
            let job = bench.job();
            if let Ok(bodies) = decide(&job, command(&bench, &job, p), &bench.desk) {
                bench.write(bodies);
            }
        }
        let job = bench.job();
        if job.is_open(Stage::Returned) && !job.declined() {
            prop_assert!(!job.opened() || job.powered_up());
            let left_out = job.skipped.contains_key(&Stage::SetUp);
            prop_assert!(left_out || job.set_up().is_some_and(|s| s.signed_off.is_some()));
            prop_assert!(job.proof.is_some() && job.answer.is_some() && job.cause.is_some());
        }
    }
}
