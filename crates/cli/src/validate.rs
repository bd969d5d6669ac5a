//! `validate`: the cases of `checks/`, or of one's own files, through the registry.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use calc::Message;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use methods::checks::{Case, Compared, Outcome, Verdict, read, run as run_case};
use methods::nearest_name;
use paper::model::{Day, ValidationLine, ValidationReport, ValidationSource};
use serde_json::{Value, json};
use words::Words;

use crate::args::ValidateArgs;
use crate::failure::Failure;
use crate::print::{print_json, print_line, say, table};

/// The check files of the project, taken into the program when it is built.
const CHECKS: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/check_files.rs"));

/// Runs every case, prints what came of it, and refuses if one failed.
pub fn run(args: &ValidateArgs) -> Result<(), Failure> {
    let cases = if args.files.is_empty() {
        own_cases()?
    } else {
        cases_of(&args.files)?
    };
    let outcomes: Vec<Outcome> = cases.iter().map(run_case).collect();
    let counts = Counts::of(&outcomes);
    if let Some(file) = &args.pdf {
        let pdf = paper::validation_report(&report(&outcomes, &counts), Words::english());
        let pdf = pdf.map_err(|e| Failure::storage(say(&e.message())))?;
        fs::write(file, pdf).map_err(Failure::at(file))?;
    }
    if args.json {
        print_json(&json_of(&outcomes, &counts))?;
    } else {
        print(&outcomes);
        print_line(&format!("\n{}", say(&counts.message())));
    }
    if counts.failed > 0 {
        let message = Message::new("validation-failed").with("n", counts.failed);
        return Err(Failure::refused(say(&message)));
    }
    Ok(())
}

fn own_cases() -> Result<Vec<Case>, Failure> {
    let text_of = |name: &str| {
        let found = CHECKS.iter().find(|(file, _)| *file == name);
        found.map(|(_, text)| (*text).to_owned())
    };
    let mut cases = Vec::new();
    for (file, text) in CHECKS.iter().filter(|(file, _)| file.ends_with(".toml")) {
        cases.extend(read(file, text, &text_of).map_err(Failure::refused)?);
    }
    Ok(cases)
}

fn cases_of(files: &[PathBuf]) -> Result<Vec<Case>, Failure> {
    let mut cases = Vec::new();
    for path in files {
        let name = path.display().to_string();
        let text = if name == "-" {
            io::read_to_string(io::stdin())
        } else {
            fs::read_to_string(path)
        };
        let text = text.map_err(Failure::unreadable(path))?;
        let folder = path.parent().unwrap_or(Path::new(""));
        let text_of = |series: &str| fs::read_to_string(folder.join(series)).ok();
        cases.extend(read(&name, &text, &text_of).map_err(Failure::refused)?);
    }
    Ok(cases)
}

/// How the cases ended.
struct Counts {
    all: usize,
    passed: usize,
    failed: usize,
    missing: usize,
    missing_methods: usize,
}

impl Counts {
    fn of(outcomes: &[Outcome]) -> Self {
        let count = |verdict| outcomes.iter().filter(|o| o.verdict == verdict).count();
        let missing = outcomes
            .iter()
            .filter(|o| o.verdict == Verdict::NotAvailable);
        let methods: BTreeSet<&str> = missing.map(|o| o.case.method.as_str()).collect();
        Self {
            all: outcomes.len(),
            passed: count(Verdict::Pass),
            failed: count(Verdict::Fail),
            missing: count(Verdict::NotAvailable),
            missing_methods: methods.len(),
        }
    }

    fn message(&self) -> Message {
        Message::new("validation-summary")
            .with("all", self.all)
            .with("passed", self.passed)
            .with("failed", self.failed)
            .with("missing", self.missing)
            .with("methods", self.missing_methods)
    }
}

/// The name of a verdict's word.
fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "validation-pass",
        Verdict::Fail => "validation-fail",
        Verdict::NotAvailable => "validation-not-available",
    }
}

/// The verdict on one value of a case.
fn verdict_of(line: &Compared) -> Verdict {
    if line.holds {
        Verdict::Pass
    } else {
        Verdict::Fail
    }
}

/// What came out: the value, or why none did.
fn computed(line: &Compared) -> String {
    match &line.refusal {
        Some(error) => say(&error.message()),
        None => line.computed.clone(),
    }
}

/// Every value as a line; a case whose method is not there as one line.
fn lines(outcomes: &[Outcome]) -> Vec<ValidationLine> {
    let mut lines = Vec::new();
    for outcome in outcomes {
        let case = outcome.case;
        let line = ValidationLine {
            method: case.method.clone(),
            case: case.id.clone(),
            kind: case.kind.text().to_owned(),
            name: String::new(),
            expected: String::new(),
            computed: String::new(),
            tolerance: String::new(),
            verdict: word(outcome.verdict).to_owned(),
        };
        if outcome.compared.is_empty() {
            // A slip in the name of a method must not look like a method to come.
            let meant = nearest_name(&case.method).map(|near| {
                say(&Message::new("calc-no-method-nearest")
                    .with("name", case.method.as_str())
                    .with("nearest", near))
            });
            lines.push(ValidationLine {
                computed: meant.unwrap_or_default(),
                ..line.clone()
            });
        }
        for value in &outcome.compared {
            lines.push(ValidationLine {
                name: value.name.clone(),
                expected: value.expected.clone(),
                computed: computed(value),
                tolerance: value.tolerance.clone(),
                verdict: word(verdict_of(value)).to_owned(),
                ..line.clone()
            });
        }
    }
    lines
}

fn print(outcomes: &[Outcome]) {
    let words = Words::english();
    let heads = [
        "validation-method",
        "validation-case",
        "validation-kind",
        "validation-value",
        "validation-expected",
        "validation-computed",
        "validation-tolerance",
        "validation-verdict",
    ];
    let rows = lines(outcomes).into_iter().map(|line| {
        vec![
            line.method,
            line.case,
            words.text(&line.kind),
            line.name,
            short(&line.expected),
            short(&line.computed),
            line.tolerance,
            words.text(&line.verdict),
        ]
    });
    table(&heads, rows);
}

/// As much as a column bears; `--json` has it whole.
fn short(text: &str) -> String {
    const MOST: usize = 60;
    match text.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

fn json_of(outcomes: &[Outcome], counts: &Counts) -> Value {
    let value = |line: &Compared| {
        json!({
            "name": line.name, "expected": line.expected, "computed": computed(line),
            "tolerance": line.tolerance, "holds": line.holds,
        })
    };
    let verdict = |verdict| match verdict {
        Verdict::Pass => "pass",
        Verdict::Fail => "fail",
        Verdict::NotAvailable => "not-available",
    };
    let case = |o: &Outcome| {
        json!({
            "method": o.case.method, "case": o.case.id, "kind": o.case.kind.word(),
            "source": o.case.source, "how_checked": o.case.how_checked, "note": o.case.note,
            "verdict": verdict(o.verdict),
            "values": o.compared.iter().map(value).collect::<Vec<_>>(),
        })
    };
    json!({
        "version": env!("CARGO_PKG_VERSION"),
        "cases": outcomes.iter().map(case).collect::<Vec<_>>(),
        "counts": {
            "all": counts.all, "passed": counts.passed, "failed": counts.failed,
            "not_available": counts.missing, "methods_not_available": counts.missing_methods,
        },
    })
}

fn report(outcomes: &[Outcome], counts: &Counts) -> ValidationReport {
    let today = Timestamp::now()
        .to_zoned_datetime(TimeZone::system())
        .date();
    let source = |o: &Outcome| ValidationSource {
        method: o.case.method.clone(),
        case: o.case.id.clone(),
        source: o.case.source.clone(),
        how_checked: o.case.how_checked.clone(),
        note: o.case.note.clone(),
    };
    ValidationReport {
        program: concat!("setwright ", env!("CARGO_PKG_VERSION")).to_owned(),
        issued_on: today.to_string(),
        issued: Day {
            year: i32::from(today.year()),
            month: u8::try_from(today.month()).unwrap_or(1),
            day: u8::try_from(today.day()).unwrap_or(1),
        },
        summary: say(&counts.message()),
        failed: counts.failed > 0,
        lines: lines(outcomes),
        sources: outcomes.iter().map(source).collect(),
    }
}
