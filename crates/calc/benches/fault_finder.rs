//! How long fault-finding takes on large models: `cargo bench -p calc`.
//!
//! Prints milliseconds and fails beyond the budgets.

use std::process::ExitCode;
use std::time::Instant;

use calc::fault_finder::{
    Bench, Effort, Faults, Link, Look, Model, Observation, Question, Repairs, Task, advise,
    posterior,
};

/// Numbers between 0 and 1 from a 64-bit counter (SplitMix64).
struct Uniform(u64);

impl Uniform {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// Causes that each show a few signs, and checks that tell a few causes.
fn model(causes: usize, questions: usize, u: &mut Uniform) -> Model {
    let priors = (0..causes).map(|_| 0.002 + 0.05 * u.next()).collect();
    let questions = (0..questions).map(|_| {
        let first = (u.next() * causes as f64) as usize;
        let link = |k: usize| Link {
            cause: (first + k * 7) % causes,
            chance: 0.2 + 0.75 * u.next(),
        };
        let links = (0..5).map(link).collect();
        Question {
            leak: 0.01 + 0.05 * u.next(),
            links,
        }
    });
    let questions = questions.collect();
    Model::new(priors, questions).expect("in range")
}

/// The looks of a model, in five states of the tool, after what was seen.
fn task(model: &Model, seen: &[Observation], u: &mut Uniform) -> Task {
    let found = posterior(model, seen, Faults::One).expect("possible");
    let mut looks = Vec::new();
    for question in model.questions().iter().skip(seen.len()) {
        let state = (u.next() * 5.0) as usize;
        looks.push(Look::of(question, 2.0 + 20.0 * u.next(), state));
    }
    let repairs = Repairs {
        costs: found
            .causes
            .iter()
            .map(|_| 10.0 + 90.0 * u.next())
            .collect(),
        proof: 5.0,
        come_back: 120.0,
    };
    let bench = Bench {
        state: 0,
        change: vec![vec![0.0, 1.0, 8.0, 3.0, 5.0]; 5],
        forbidden: vec![false; 5],
    };
    Task::new(&found.causes, repairs, looks, bench).expect("in range")
}

/// Milliseconds of the fastest of five runs, printed; whether they keep the budget.
fn timed(what: &str, budget_ms: f64, mut run: impl FnMut()) -> bool {
    let fastest = (0..5).map(|_| {
        let begin = Instant::now();
        run();
        begin.elapsed().as_secs_f64() * 1e3
    });
    let fastest = fastest.fold(f64::INFINITY, f64::min);
    println!("{what}: {fastest:.2} ms of {budget_ms} ms");
    fastest <= budget_ms
}

fn main() -> ExitCode {
    let mut u = Uniform(20_240_101);
    let workshop = model(70, 90, &mut u);
    let large = model(200, 300, &mut u);
    let seen: Vec<Observation> = (0..10)
        .map(|question| Observation::Answer {
            question,
            yes: question % 3 == 0,
        })
        .collect();
    let sets = |model: &Model, faults: Faults| {
        let found = posterior(model, &seen, faults).expect("possible");
        assert!(found.ln_evidence < 0.0);
    };
    let mut u = Uniform(7);
    let bench = task(&workshop, &seen, &mut u);
    let kept = [
        timed("70 causes, 10 answers, up to three at once", 10.0, || {
            sets(&workshop, Faults::Three);
        }),
        timed("200 causes, 10 answers, up to three at once", 300.0, || {
            sets(&large, Faults::Three);
        }),
        timed("200 causes, 10 answers, one fault", 1.0, || {
            sets(&large, Faults::One)
        }),
        timed(
            "200 causes, 300 checks, all posteriors and values",
            5.0,
            || {
                let advice = advise(&task(&large, &seen, &mut u), Effort::ONE_STEP);
                assert!(advice.expected > 0.0);
            },
        ),
        timed("70 causes, 80 checks, look-ahead", 200.0, || {
            let advice = advise(&bench, Effort::default());
            assert!(advice.expected > 0.0);
        }),
    ];
    let advice = advise(&bench, Effort::default());
    println!(
        "look-ahead: {} steps, {} nodes; cost {:.2}, one step {:.2}, repairs alone {:.2}",
        advice.depth,
        advice.evaluations,
        advice.expected,
        advise(&bench, Effort::ONE_STEP).expected,
        advice.repair_now,
    );
    if kept.contains(&false) {
        println!("over a budget");
        return ExitCode::FAILURE;
    }
    ExitCode::SUCCESS
}
