//! Repeatability and reproducibility: a table of parts × people × trials, typed or pasted.

use calc::Message;
use calc::error::CalcError;
use calc::units::Unit;
use calc::working::{figures, fixed};
use calc::{gauge_rr, gauge_rr_range};
use jiff::civil::Date;
use maud::{Markup, html};
use shop::entry::{GaugeStudied, Outcome};
use shop::gauge::{Reckoned, reckon};
use shop::sheet::Gauge;

use super::page::View;
use crate::forms::{FieldErrors, Typed, parse_date, parse_number};
use crate::shell::{Field, Page};
use crate::show;

/// The form.
pub(super) const ID: &str = "study";

/// The form, folded.
pub(super) fn form(v: &View) -> Markup {
    let form = v.form(ID);
    html! {
        @let is_grid = v.is_refused(super::grid::ID) || super::grid::is_asked(v.query);
        details id="study-gauge" open[v.is_refused(ID) || is_grid] {
            summary { (v.t("study-summary")) }
            p.hint { (v.t("study-hint")) }
            (super::grid::form(v))
            h3 { (v.t("study-table-heading")) }
            (form.wrap(&v.action(ID), None, html! {
                (form.text(&Field::new("date", v.t("field-study-date")).hint(v.t("hint-date")).short()))
                (form.text(&Field::new("what", v.t("field-study-what"))))
                (form.area(&Field::new("table", v.t("field-study-table")).hint(v.t("hint-study-table")).rows(10)))
                (form.text(&Field::new("note", v.t("field-note"))))
                div.buttons { button { (v.t("button-study")) } }
            }))
        }
    }
}

/// A study as typed, the people still by name.
pub(super) struct Parsed {
    pub date: Date,
    pub what: String,
    pub people: Vec<String>,
    /// By person, trial, part.
    pub readings: Vec<Vec<Vec<f64>>>,
    pub note: String,
}

/// What was typed.
pub(super) fn parse(p: &Page, gauge: &Gauge, typed: &Typed) -> Result<Parsed, FieldErrors> {
    let mut errors = FieldErrors::new();
    let date = parse_date(typed.get("date"));
    let date = errors.keep("date", p.t("field-study-date"), date);
    let table = if super::grid::is_asked(typed) {
        super::grid::read(p, gauge, typed, &mut errors)
    } else {
        let table = table(typed.get("table"), gauge.unit);
        table.map_err(|message| errors.add("table", message)).ok()
    };
    let (Some(date), Some((people, readings))) = (date, table) else {
        return Err(errors);
    };
    Ok(Parsed {
        date,
        what: typed.get("what").to_owned(),
        people,
        readings,
        note: typed.get("note").to_owned(),
    })
}

/// People, and their readings by person, trial, part.
pub(super) type Table = (Vec<String>, Vec<Vec<Vec<f64>>>);

/// Reads lines of a name and the readings of every part: one line a trial. Between them tabs, semicolons or spaces.
fn table(text: &str, unit: Unit) -> Result<Table, Message> {
    let (mut people, mut readings): Table = (Vec::new(), Vec::new());
    for (i, line) in text.lines().enumerate() {
        let line = line.trim();
        if line.is_empty() {
            continue;
        }
        let (name, cells) = cells(line);
        if name.is_empty() {
            return Err(Message::new("refuse-study-name").with("line", i + 1));
        }
        let mut trial = Vec::new();
        for (at, cell) in cells.iter().enumerate() {
            let value = parse_number(cell, unit).map_err(|message| {
                Message::new("refuse-study-cell")
                    .with("line", i + 1)
                    .with("part", at + 1)
                    .with("message", message)
            })?;
            trial.push(value);
        }
        let person = match people.iter().position(|known| *known == name) {
            Some(person) => person,
            None => {
                people.push(name);
                readings.push(Vec::new());
                people.len() - 1
            }
        };
        if let Some(first) = readings.first().and_then(|trials| trials.first())
            && first.len() != trial.len()
        {
            return Err(Message::new("refuse-study-line")
                .with("line", i + 1)
                .with("have", trial.len())
                .with("need", first.len()));
        }
        readings[person].push(trial);
    }
    for (name, trials) in people.iter().zip(&readings) {
        let need = readings[0].len();
        if trials.len() != need {
            return Err(Message::new("refuse-study-trials")
                .with("name", name.as_str())
                .with("have", trials.len())
                .with("need", need));
        }
    }
    Ok((people, readings))
}

/// The name at the head of a line, and the cells after it.
fn cells(line: &str) -> (String, Vec<String>) {
    let split: Vec<&str> = match line.contains(['\t', ';']) {
        true => line.split(['\t', ';']).map(str::trim).collect(),
        false => line.split_whitespace().collect(),
    };
    let is_cell =
        |cell: &&str| cell.starts_with(|c: char| c.is_ascii_digit() || "+-−.,".contains(c));
    let first = split.iter().position(is_cell).unwrap_or(split.len());
    let name = split[..first].join(" ").trim().to_owned();
    let mut cells: Vec<String> = split[first..].iter().map(|c| (*c).to_owned()).collect();
    // A spreadsheet leaves empty cells at the end of a line.
    while cells.last().is_some_and(String::is_empty) {
        cells.pop();
    }
    (name, cells)
}

/// A study, as it stands in the record: verdict in plain words, then both ways side by side.
pub(super) fn shown(v: &View, s: &GaugeStudied) -> Markup {
    let verdict = match s.outcome {
        Outcome::Accept => "study-good",
        Outcome::Undecided => "study-between",
        Outcome::Reject => "study-bad",
    };
    let people: Vec<String> = s.people.iter().map(|key| v.person(key)).collect();
    let trials = s.readings.first().map_or(0, Vec::len);
    let parts = s
        .readings
        .first()
        .and_then(|t| t.first())
        .map_or(0, Vec::len);
    let of = Message::new("study-of")
        .with("parts", parts)
        .with("people", people.join(", "))
        .with("trials", trials);
    let share = Message::new(verdict).number("share", s.anova_pct, 1);
    html! {
        p { b { (s.what) } " · " (v.say(&of)) }
        p { (show::chip(v.p, s.outcome.into())) " " (v.say(&share)) }
        @if let Some(categories) = s.categories {
            p { (v.say(&Message::new(if categories >= 5.0 { "study-kinds" } else { "study-few-kinds" }).number("kinds", categories.floor(), 0))) }
        }
        @match reckon(&s.readings) {
            Ok(reckoned) => { (both(v, s, &reckoned)) }
            Err(_) => {}
        }
        @if !s.note.is_empty() { p { (s.note) } }
    }
}

fn both(v: &View, s: &GaugeStudied, reckoned: &Reckoned) -> Markup {
    let anova = &reckoned.anova;
    let range = reckoned.range.as_ref().ok();
    let total = anova.total().sqrt();
    let decimals = figures(total, 4);
    let rows: [(&str, f64, Option<f64>); 5] = [
        (
            "study-repeatability",
            anova.repeatability.sqrt(),
            range.map(|r| r.repeatability),
        ),
        (
            "study-reproducibility",
            anova.reproducibility().sqrt(),
            range.map(|r| r.reproducibility),
        ),
        (
            "study-gauge",
            anova.gauge().sqrt(),
            range.map(gauge_rr_range::Study::gauge),
        ),
        (
            "study-parts",
            anova.part_variance.sqrt(),
            range.map(|r| r.part),
        ),
        (
            "study-total",
            total,
            range.map(gauge_rr_range::Study::total),
        ),
    ];
    let (by_anova, by_range) = (v.t("study-anova"), v.t("study-range"));
    let cell = |value: f64| format!("{} {}", fixed(value, decimals), s.unit);
    let percent = |value: f64| format!("{} %", fixed(value, 1));
    html! {
        table.stack {
            thead { tr { th { (v.t("study-spread")) } th.n { (by_anova) } th.n { (by_range) } } }
            tbody {
                @for (name, anova, range) in rows {
                    tr {
                        td data-label=(v.t("study-spread")) { (v.t(name)) }
                        td.n data-label=(by_anova) { (cell(anova)) }
                        td.n data-label=(by_range) { (range.map_or("–".to_owned(), cell)) }
                    }
                }
                tr {
                    td data-label=(v.t("study-spread")) { (v.t("study-share")) }
                    td.n data-label=(by_anova) { b { (percent(reckoned.anova_pct())) } }
                    td.n data-label=(by_range) { (reckoned.range_pct().map_or("–".to_owned(), percent)) }
                }
            }
        }
        @if let Err(CalcError::OutOfRange { .. }) = &reckoned.range { p.hint { (v.t("study-no-factor")) } }
        (show::working(v.p, &gauge_rr::working(anova)))
        @if let Some(range) = range { (show::working(v.p, &gauge_rr_range::working(range))) }
        p.hint { (v.t("study-source")) }
    }
}

#[cfg(test)]
mod tests {
    use super::table;
    use calc::units::Unit;

    #[test]
    fn lines_of_a_name_and_its_readings() {
        let typed = "Ansa\t1,01\t2.02\t\nAnsa\t1.02\t2.01\n\nB C; 1.00 ;2.00\nB C 1.1 2.1";
        let (people, readings) = table(typed, Unit::Millimetre).expect("reads");
        assert_eq!(people, ["Ansa", "B C"]);
        assert_eq!(readings[0], [[1.01, 2.02], [1.02, 2.01]]);
        assert_eq!(readings[1], [[1.0, 2.0], [1.1, 2.1]]);
    }

    #[test]
    fn every_mistake_names_its_line() {
        for (typed, id) in [
            ("1.0 2.0", "refuse-study-name"),
            ("A 1.0 x", "refuse-study-cell"),
            ("A 1.0 2.0\nA 1.0", "refuse-study-line"),
            ("A 1.0 2.0\nA 1.0 2.0\nB 1.0 2.0", "refuse-study-trials"),
            ("A 1.0 2.0 in", "refuse-study-cell"),
        ] {
            let message = table(typed, Unit::Millimetre).expect_err(typed);
            assert_eq!(message.id, id, "{typed}");
        }
    }
}
