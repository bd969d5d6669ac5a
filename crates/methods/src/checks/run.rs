//! Running a case through the registry.

use super::compare::{Compared, compare};
use super::{Case, Expected, Run};
use crate::{MethodCard, find};

/// How a case ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Every value came near enough.
    Pass,
    /// Its method is not there.
    NotAvailable,
    /// A value did not.
    Fail,
}

/// A case and what came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome<'a> {
    /// The case.
    pub case: &'a Case,
    /// How it ended.
    pub verdict: Verdict,
    /// Every value; with several runs their names are led by the run's number, from 1.
    pub compared: Vec<Compared>,
}

/// Runs `case`.
pub fn run(case: &Case) -> Outcome<'_> {
    let Some(card) = find(&case.method) else {
        return Outcome {
            case,
            verdict: Verdict::NotAvailable,
            compared: Vec::new(),
        };
    };
    let mut compared = Vec::new();
    for (i, run) in case.runs.iter().enumerate() {
        let mut lines = once(card, case, run);
        if case.runs.len() > 1 {
            for line in &mut lines {
                line.name = format!("{} {}", i + 1, line.name).trim_end().to_owned();
            }
        }
        compared.append(&mut lines);
    }
    let verdict = if compared.iter().all(|line| line.holds) {
        Verdict::Pass
    } else {
        Verdict::Fail
    };
    Outcome {
        case,
        verdict,
        compared,
    }
}

fn once(card: &MethodCard, case: &Case, run: &Run) -> Vec<Compared> {
    match ((card.run)(&run.inputs), &run.expected) {
        (Ok(answer), Expected::Values(values)) => compare(values, &answer.values, &case.tolerance),
        (Ok(answer), Expected::Refused(field)) => {
            let values = serde_json::Value::Object(answer.values).to_string();
            vec![Compared {
                computed: values,
                ..refusal_of(field, false)
            }]
        }
        (Err(error), Expected::Refused(field)) => vec![Compared {
            computed: error.field.clone(),
            ..refusal_of(field, error.field == *field)
        }],
        (Err(error), Expected::Values(values)) => {
            let expected = serde_json::Value::Object(values.clone()).to_string();
            vec![Compared {
                name: error.field.clone(),
                expected,
                computed: String::new(),
                tolerance: String::new(),
                holds: false,
                refusal: Some(error),
            }]
        }
    }
}

/// The line of a run that must be refused at `field`.
fn refusal_of(field: &str, holds: bool) -> Compared {
    Compared {
        name: "refused".to_owned(),
        expected: field.to_owned(),
        computed: String::new(),
        tolerance: "=".to_owned(),
        holds,
        refusal: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::read;

    fn outcome_of(rest: &str) -> (Verdict, Vec<Compared>) {
        let text = format!(
            "method = \"torque-adapter\"\n[[case]]\nid = \"a\"\nsource = \"FAA AC 43.13-1B\"\nkind = \"memory\"\n\
             how_checked = \"recalled\"\ntolerance = {{ abs = 0.005 }}\n\
             inputs = {{ torque_Nm = 30, wrench_mm = 10, adapter_mm = 1.5 }}\n{rest}"
        );
        let cases = read("a.toml", &text, &|_| None).expect("good file");
        let outcome = run(&cases[0]);
        (outcome.verdict, outcome.compared)
    }

    #[test]
    fn right_values_pass_and_wrong_ones_fail() {
        assert_eq!(
            outcome_of("expected = { setting_Nm = 26.09 }").0,
            Verdict::Pass
        );
        let (verdict, lines) = outcome_of("expected = { setting_Nm = 26.35 }");
        assert_eq!(verdict, Verdict::Fail);
        assert_eq!(lines[0].expected, "26.35");
        assert!(lines[0].computed.starts_with("26.08"), "{lines:?}");
    }

    #[test]
    fn one_wrong_run_of_several_fails_the_case() {
        let (verdict, lines) = outcome_of(
            "runs = [{ expected = { setting_Nm = 26.09 } }, { expected = { setting_Nm = 26.35 } }]",
        );
        assert_eq!(verdict, Verdict::Fail);
        assert_eq!(lines[1].name, "2 setting_Nm");
        assert!(lines[0].holds && !lines[1].holds);
    }

    #[test]
    fn refusals_are_expected_or_told() {
        let refuse = |field: &str| {
            outcome_of(&format!(
                "runs = [{{ inputs = {{ adapter_mm = 10, angle_deg = 180 }}, refused = \"{field}\" }}]"
            ))
            .0
        };
        assert_eq!(refuse("adapter_mm"), Verdict::Pass);
        assert_eq!(refuse("angle_deg"), Verdict::Fail);
        assert_eq!(outcome_of("refused = \"adapter_mm\"").0, Verdict::Fail);
        let (verdict, lines) =
            outcome_of("runs = [{ inputs = { angle = 1 }, expected = { x = 1 } }]");
        assert_eq!(verdict, Verdict::Fail);
        assert!(lines[0].refusal.is_some());
    }

    #[test]
    fn a_method_that_is_not_there_is_told() {
        let (verdict, lines) = outcome_of("method = \"no-such-method\"\nexpected = { beta = 2 }");
        assert_eq!((verdict, lines.len()), (Verdict::NotAvailable, 0));
    }
}
