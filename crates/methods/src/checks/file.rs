//! Check files: TOML, cases with their sources.

use std::fmt;

use serde::Deserialize;
use serde_json::{Map, Value, json};

use super::Tolerance;
use super::series::fill;

/// A case: inputs, what must come out, who says so.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Its name, used once in a file.
    pub id: String,
    /// The method that it holds.
    pub method: String,
    /// Who says what must come out: book, standard, library with version and call.
    pub source: String,
    /// What sort of source that is.
    pub kind: Kind,
    /// How the value was checked before it was written here.
    pub how_checked: String,
    /// What else a reader must know.
    pub note: String,
    /// How near each value must come.
    pub tolerance: Tolerance,
    /// One run or several.
    pub runs: Vec<Run>,
}

/// One set of inputs and what must come out.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Inputs of the method.
    pub inputs: Value,
    /// What must come out.
    pub expected: Expected,
}

/// What must come out.
#[derive(Clone, Debug, PartialEq)]
pub enum Expected {
    /// These values; others may come out as well.
    Values(Map<String, Value>),
    /// A refusal of this field.
    Refused(String),
}

/// What sort of source a value has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// A book, standard, handbook or certified data set that was seen.
    Published,
    /// A general-purpose library, named with version and call.
    Library,
    /// Recalled and not looked up.
    Memory,
    /// What everyone does; no source.
    CommonPractice,
    /// Exact arithmetic on the formula stated; nothing was published outside.
    Arithmetic,
}

impl Kind {
    /// The word for it in check files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::Library => "library",
            Self::Memory => "memory",
            Self::CommonPractice => "common-practice",
            Self::Arithmetic => "arithmetic",
        }
    }

    /// The catalogue's word for it.
    pub fn text(self) -> &'static str {
        match self {
            Self::Published => "validation-published",
            Self::Library => "validation-library",
            Self::Memory => "validation-memory",
            Self::CommonPractice => "validation-common-practice",
            Self::Arithmetic => "validation-arithmetic",
        }
    }
}

/// A check file that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileError {
    /// The file.
    pub file: String,
    /// What is wrong, with line or case.
    pub problem: String,
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.file, self.problem)
    }
}

impl std::error::Error for FileError {}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFile {
    method: Option<String>,
    #[serde(default)]
    case: Vec<RawCase>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawCase {
    id: String,
    method: Option<String>,
    source: String,
    kind: Kind,
    how_checked: String,
    #[serde(default)]
    note: String,
    #[serde(default)]
    tolerance: Tolerance,
    #[serde(default)]
    inputs: toml::Table,
    expected: Option<toml::Table>,
    refused: Option<String>,
    #[serde(default)]
    runs: Vec<RawRun>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawRun {
    #[serde(default)]
    inputs: toml::Table,
    expected: Option<toml::Table>,
    refused: Option<String>,
}

/// The cases of the check file `file` with the text `text`. `text_of` gives the text of a CSV file
/// beside it.
///
/// # Errors
/// What is not TOML, a key that is not known, a case without method or expectation, an id used twice, a
/// tolerance below 0, a series that is not there.
pub fn read(
    file: &str,
    text: &str,
    text_of: &dyn Fn(&str) -> Option<String>,
) -> Result<Vec<Case>, FileError> {
    let wrong = |problem: String| FileError {
        file: file.to_owned(),
        problem,
    };
    let raw: RawFile = toml::from_str(text).map_err(|e| wrong(e.to_string().trim().to_owned()))?;
    let mut cases: Vec<Case> = Vec::with_capacity(raw.case.len());
    for case in raw.case {
        let id = case.id.clone();
        if cases.iter().any(|c| c.id == id) {
            return Err(wrong(format!("case {id}: this id was used before")));
        }
        let case = whole(case, raw.method.as_deref(), text_of);
        cases.push(case.map_err(|problem| wrong(format!("case {id}: {problem}")))?);
    }
    if cases.is_empty() {
        return Err(wrong("no case in it".to_owned()));
    }
    Ok(cases)
}

fn whole(
    raw: RawCase,
    method: Option<&str>,
    text_of: &dyn Fn(&str) -> Option<String>,
) -> Result<Case, String> {
    let method = raw.method.as_deref().or(method).ok_or("no method named")?;
    for (key, text) in [("source", &raw.source), ("how_checked", &raw.how_checked)] {
        if text.trim().is_empty() {
            return Err(format!("{key} is empty"));
        }
    }
    if !raw.tolerance.is_sound() {
        return Err("a tolerance is below 0 or not finite".to_owned());
    }
    let mut runs = Vec::with_capacity(raw.runs.len().max(1));
    let own = raw.expected.is_some() || raw.refused.is_some();
    if own {
        runs.push(one(
            &raw.inputs,
            &toml::Table::new(),
            raw.expected,
            raw.refused,
            text_of,
        )?);
    }
    for r in raw.runs {
        runs.push(one(&raw.inputs, &r.inputs, r.expected, r.refused, text_of)?);
    }
    if runs.is_empty() {
        return Err("neither expected nor refused nor runs".to_owned());
    }
    Ok(Case {
        id: raw.id,
        method: method.to_owned(),
        source: raw.source,
        kind: raw.kind,
        how_checked: raw.how_checked,
        note: raw.note,
        tolerance: raw.tolerance,
        runs,
    })
}

/// A run whose inputs are those of the case with its own put over them.
fn one(
    shared: &toml::Table,
    own: &toml::Table,
    expected: Option<toml::Table>,
    refused: Option<String>,
    text_of: &dyn Fn(&str) -> Option<String>,
) -> Result<Run, String> {
    let mut inputs = shared.clone();
    inputs.extend(own.iter().map(|(k, v)| (k.clone(), v.clone())));
    let mut inputs = json_of(toml::Value::Table(inputs));
    fill(&mut inputs, text_of)?;
    let expected = match (expected, refused) {
        (Some(table), None) if !table.is_empty() => {
            let mut values = json_of(toml::Value::Table(table));
            fill(&mut values, text_of)?;
            match values {
                Value::Object(values) => Expected::Values(values),
                _ => return Err("expected is not a table".to_owned()),
            }
        }
        (None, Some(field)) => Expected::Refused(field),
        (Some(_), None) => return Err("expected is empty".to_owned()),
        (None, None) => return Err("a run without expected or refused".to_owned()),
        (Some(_), Some(_)) => return Err("both expected and refused".to_owned()),
    };
    Ok(Run { inputs, expected })
}

/// TOML as JSON; infinity, which TOML has and JSON has not, as the text `inf`.
fn json_of(value: toml::Value) -> Value {
    match value {
        toml::Value::String(text) => json!(text),
        toml::Value::Integer(n) => json!(n),
        toml::Value::Float(x) if x == f64::INFINITY => json!("inf"),
        toml::Value::Float(x) if x == f64::NEG_INFINITY => json!("-inf"),
        toml::Value::Float(x) => json!(x),
        toml::Value::Boolean(b) => json!(b),
        toml::Value::Datetime(at) => json!(at.to_string()),
        toml::Value::Array(items) => items.into_iter().map(json_of).collect(),
        toml::Value::Table(fields) => {
            let fields = fields.into_iter().map(|(k, v)| (k, json_of(v)));
            Value::Object(fields.collect())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "method = \"m\"\n[[case]]\nid = \"a\"\nsource = \"a book\"\nkind = \"memory\"\n\
                        how_checked = \"recalled\"\n";

    fn of(rest: &str) -> Result<Vec<Case>, FileError> {
        read("f.toml", &format!("{HEAD}{rest}"), &|_| None)
    }

    #[test]
    fn runs_share_inputs() {
        let text = "inputs = { level = 0.95, dof = inf }\nruns = [\n{ inputs = { dof = 2 }, expected = { t = 4.3 } },\n\
                    { refused = \"dof\" },\n]";
        let cases = of(text).expect("good file");
        assert_eq!(cases[0].method, "m");
        assert_eq!(cases[0].runs[0].inputs, json!({ "level": 0.95, "dof": 2 }));
        assert_eq!(
            cases[0].runs[1].inputs,
            json!({ "level": 0.95, "dof": "inf" })
        );
        assert_eq!(
            cases[0].runs[1].expected,
            Expected::Refused("dof".to_owned())
        );
    }

    #[test]
    fn every_kind_is_read_by_its_word() {
        for kind in [
            Kind::Published,
            Kind::Library,
            Kind::Memory,
            Kind::CommonPractice,
            Kind::Arithmetic,
        ] {
            let head = HEAD.replace("memory", kind.word());
            let text = format!("{head}expected = {{ a = 1 }}");
            let cases = read("f.toml", &text, &|_| None).expect("good file");
            assert_eq!(cases[0].kind, kind);
        }
    }

    #[test]
    fn each_mistake_is_told() {
        for (rest, part) in [
            ("", "neither expected"),
            ("expected = {}", "expected is empty"),
            ("expected = { a = 1 }\nrefused = \"a\"", "both"),
            ("runs = [{}]", "without expected"),
            ("expect = { a = 1 }", "unknown field"),
            (
                "expected = { a = 1 }\ntolerance = { abs = -1.0 }",
                "below 0",
            ),
            (
                "expected = { a = 1 }\ntolerance = { ab = 1.0 }",
                "unknown field",
            ),
            (
                "expected = { a = { csv = \"x.csv\", column = \"y\" } }",
                "no such file",
            ),
            (
                "expected = { a = 1 }\n[[case]]\nid = \"a\"\nsource = \"b\"\nkind = \"library\"\nhow_checked = \"run\"\nexpected = { a = 1 }",
                "used before",
            ),
            ("expected = ", "line 7"),
        ] {
            let error = of(rest).expect_err(rest);
            assert!(error.problem.contains(part), "{rest}: {error}");
        }
        let kind = HEAD.replace("memory", "hearsay");
        assert!(
            read("f.toml", &format!("{kind}expected = {{ a = 1 }}"), &|_| {
                None
            })
            .is_err()
        );
        let source = HEAD.replace("a book", " ");
        assert!(
            read(
                "f.toml",
                &format!("{source}expected = {{ a = 1 }}"),
                &|_| None
            )
            .is_err()
        );
        assert!(read("f.toml", "", &|_| None).is_err());
    }
}
