//! What was written of a gauge, newest first.

use calc::Message;
use calc::decision::Verdict;
use calc::working::fixed;
use maud::{Markup, html};
use shop::entry::{Body, Entry, GaugeCalibrated, Outcome, WrenchWay};
use shop::gauge::{Noted, Written};

use super::page::View;
use super::{check, study};
use crate::shell::Field;
use crate::show;

/// A direction in words.
pub(super) fn way_name(way: WrenchWay) -> &'static str {
    match way {
        WrenchWay::Clockwise => "way-clockwise",
        WrenchWay::CounterClockwise => "way-counter-clockwise",
    }
}

/// Every line, newest day first.
pub(super) fn lines(v: &View) -> Markup {
    let mut lines: Vec<&Noted> = v.history.lines().iter().collect();
    lines.sort_by_key(|line| std::cmp::Reverse((line.date(), line.number())));
    let newest = lines.iter().find(|line| line.struck.is_none());
    let newest = newest.map(|line| line.number());
    html! {
        @if lines.is_empty() { p.empty { (v.t("gauge-history-none")) } }
        @for line in &lines { (one(v, line, newest == Some(line.number()))) }
    }
}

fn one(v: &View, line: &Noted, is_open: bool) -> Markup {
    let number = line.number();
    let (id, outcome) = match &line.what {
        Written::Calibrated(c) => {
            let found = c.found.unwrap_or(c.left);
            let worse = Verdict::from(found).max(c.left.into());
            ("gauge-line-calibration", worse)
        }
        Written::Checked(c) => ("gauge-line-check", c.outcome.into()),
        Written::Studied(s) => ("gauge-line-study", s.outcome.into()),
    };
    let said = Message::new(id)
        .with("n", number)
        .with("day", show::day(line.date()));
    html! {
        details id=(format!("line-{number}")) open[is_open || v.is_refused(&strike_id(number))] {
            summary {
                (v.say(&said)) " "
                @if line.struck.is_some() { span.v { (v.t("gauge-line-struck")) } }
                @else { (show::chip(v.p, outcome)) }
            }
            @if let Some(reason) = &line.struck {
                p.note { (v.say(&Message::new("gauge-struck-why").with("reason", reason.as_str()))) }
            }
            @match &line.what {
                Written::Calibrated(c) => { (calibrated(v, c)) }
                Written::Checked(c) => { (check::shown(v, c)) }
                Written::Studied(s) => { (study::shown(v, s)) }
            }
            @if let Some(entry) = entry_of(v, number) { p.pm { (v.stamp(entry.at, &entry.by)) } }
            @if line.struck.is_none() { (strike(v, number)) }
        }
    }
}

fn entry_of<'a>(v: &'a View, number: u32) -> Option<&'a Entry> {
    v.entries.iter().find(|entry| match &entry.body {
        Body::GaugeCalibrated(c) => c.number == number,
        Body::GaugeChecked(c) => c.number == number,
        Body::GaugeStudied(s) => s.number == number,
        _ => false,
    })
}

fn strike_id(number: u32) -> String {
    format!("strike-{number}")
}

fn strike(v: &View, number: u32) -> Markup {
    let id = strike_id(number);
    let form = v.form(&id);
    html! {
        details open[v.is_refused(&id)] {
            summary { (v.t("gauge-strike-summary")) }
            (form.wrap(&v.action("strike"), None, html! {
                input type="hidden" name="number" value=(number);
                (form.text(&Field::new("reason", v.t("field-gauge-strike"))))
                div.buttons { button { (v.t("button-gauge-strike")) } }
            }))
        }
    }
}

/// Two verdicts side by side: as found, as left.
fn verdicts(v: &View, found: Option<Outcome>, left: Outcome) -> Markup {
    html! {
        p {
            (v.t("gauge-found")) " "
            @match found { Some(found) => { (show::chip(v.p, found.into())) } None => { (v.t("gauge-not-read")) } }
            " · " (v.t("gauge-left")) " " (show::chip(v.p, left.into()))
        }
    }
}

fn calibrated(v: &View, c: &GaugeCalibrated) -> Markup {
    let decimals = v.gauge.decimals() + 1;
    let unit = c.unit.as_str();
    let signed = |value: f64| match value > 0.0 {
        true => format!("+{}", fixed(value, decimals)),
        false => fixed(value, decimals),
    };
    let (at, found, left) = (v.t("gauge-nominal"), v.t("gauge-found"), v.t("gauge-left"));
    let shape = v.t(super::calibration::shape_name(c.shape));
    html! {
        (verdicts(v, c.found, c.left))
        p.hint { (v.say(&Message::new("gauge-limit").number("limit", c.limit, decimals).with("unit", unit))) }
        table.stack {
            thead { tr { th.n { (at) } th.n { (found) } th.n { (left) } th.n { "U" } th.n { "k" } } }
            tbody {
                @for point in &c.points {
                    tr {
                        td.n data-label=(at) { (fixed(point.nominal, v.gauge.decimals())) " " (unit) }
                        td.n data-label=(found) { (point.found.map_or("–".to_owned(), signed)) }
                        td.n data-label=(left) { (signed(point.left)) }
                        td.n data-label="U" { (fixed(point.expanded, decimals)) }
                        td.n data-label="k" { (fixed(point.k, 2)) }
                    }
                }
            }
        }
        dl.facts {
            dt { (v.t("field-calibration-by")) } dd { (v.person(&c.by)) }
            dt { (v.t("field-certificate")) }
            dd {
                (c.certificate)
                @if !c.file.is_empty() {
                    " · " a href=(format!("{}/files/{}", super::path(&v.gauge.id), c.file)) { (v.t("gauge-certificate-file")) }
                }
            }
            dt { (v.t("field-shape")) } dd { (shape) }
            @if !c.ways.is_empty() {
                dt { (v.t("gauge-ways")) } dd { @for way in &c.ways { (v.t(way_name(*way))) " " } }
            }
            @if c.drift > 0.0 || c.drift_observed {
                dt { (v.t("field-drift")) }
                dd { "± " (fixed(c.drift, decimals)) " " (unit) @if c.drift_observed { small { (v.t("drift-observed")) } } }
            }
            dt { (v.t("gauges-due")) } dd { (show::day(c.due)) }
        }
        @if !c.note.is_empty() { p { (c.note) } }
    }
}
