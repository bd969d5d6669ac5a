//! What the sections of a job page see.

use std::collections::HashMap;

use calc::Message;
use calc::decision::Limits;
use calc::gauge_correction::Corrected;
use calc::units::Unit;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use maud::{Markup, html};
use shop::entry::{CauseConfirmed, Entry, PersonKey, Reading};
use shop::gauge::State;
use shop::job::{Desk, Job, Measured, TypedValue, make_safe_ticks};
use shop::kit::needed_to_run;
use shop::sheet::{
    BenchTest, BenchTestKind, Caution, Check, FaultModel, Gauge, GaugeKind, ToolModel, UNLISTED,
};
use shop::trial::own::Past;

use super::names;
use super::past::ToolPast;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_number};
use crate::pulls::Recording;
use crate::recordings::Waiting;
use crate::shell::{Choice, Field, Form, Page};
use crate::show;

/// A form that was refused, to be shown again.
#[derive(Default)]
pub struct Refused {
    /// What was typed.
    pub typed: Typed,
    /// What is wrong with it.
    pub errors: FieldErrors,
}

/// A job, its sheets, and who looks.
pub struct View<'a> {
    /// The page.
    pub p: &'a Page,
    /// The job.
    pub job: &'a Job,
    /// Its entries, struck ones too.
    pub entries: &'a [Entry],
    /// Sheets and day.
    pub desk: Desk<'a>,
    /// Model sheet.
    pub model: &'a ToolModel,
    /// Fault model.
    pub faults: &'a FaultModel,
    /// Names by key.
    pub names: &'a HashMap<PersonKey, String>,
    /// Earlier set-ups of the tool, where a form asks for them.
    pub past: &'a Past,
    /// What was before the job, where it is shown.
    pub tool: &'a ToolPast,
    /// The recording that the page or form is about.
    pub recording: Option<&'a Recording>,
    /// What the logger left in the recordings folder; none without such a folder.
    pub waiting: Option<Waiting>,
    /// Time zone of the shop.
    pub zone: &'a TimeZone,
    /// The form that was refused, if one was.
    pub refused: Option<&'a Refused>,
}

impl<'a> View<'a> {
    /// The text `id`.
    pub fn t(&self, id: &str) -> String {
        self.p.t(id)
    }

    /// A text with values.
    pub fn say(&self, message: &Message) -> String {
        self.p.say(message)
    }

    /// The name behind a key; a word of its own if it was erased.
    pub fn person(&self, key: &PersonKey) -> String {
        self.names
            .get(key)
            .cloned()
            .unwrap_or_else(|| self.t("name-erased"))
    }

    /// A moment in the shop's time.
    pub fn moment(&self, at: Timestamp) -> String {
        show::moment(at, self.zone)
    }

    /// The name of a cause, or that the model does not list it.
    pub fn cause_name(&self, id: &str) -> String {
        match self.faults.cause(id) {
            Some(cause) => cause.text.clone(),
            None if id == UNLISTED => self.t("cause-unlisted"),
            None => id.to_owned(),
        }
    }

    /// Every confirmed cause, and the remark where the names do not say it all.
    pub fn causes_text(&self, cause: &CauseConfirmed) -> String {
        if cause.set_up_only {
            let note = (!cause.note.is_empty()).then(|| cause.note.clone());
            let said = std::iter::once(self.t("cause-set-up-only"));
            return said.chain(note).collect::<Vec<_>>().join("; ");
        }
        let names = cause.causes.iter().map(|id| self.cause_name(id));
        let says_itself = names.len() > 0 && !cause.causes.iter().any(|id| id == UNLISTED);
        let note = (!says_itself).then(|| cause.note.clone());
        names.chain(note).collect::<Vec<_>>().join("; ")
    }

    /// A check as a question: what to do, and what a yes says.
    pub fn question(&self, check: &Check) -> String {
        let question = Message::new("check-question")
            .with("check", check.text.as_str())
            .with("yes", check.yes.as_str());
        self.say(&question)
    }

    /// The day of a moment where the shop is.
    pub fn day_of(&self, at: Timestamp) -> jiff::civil::Date {
        at.to_zoned_datetime(self.zone.clone()).date()
    }

    /// `24 Nov 08:12, Ansa`.
    pub fn stamp(&self, at: Timestamp, by: &PersonKey) -> String {
        format!("{}, {}", self.moment(at), self.person(by))
    }

    /// The form `id`, with what was typed into it if it was refused.
    pub fn form<'f>(&'f self, id: &'f str) -> Form<'f> {
        match self.refused {
            Some(refused) if refused.typed.get("form") == id => {
                Form::new(self.p, id, &refused.typed, &refused.errors)
            }
            _ => Form::blank(self.p, id),
        }
    }

    /// Whether the form `id` is shown again after a refusal.
    pub fn is_refused(&self, id: &str) -> bool {
        self.refused.is_some_and(|r| r.typed.get("form") == id)
    }

    /// `body` in the form, posted as a command of kind `kind`, with a button.
    pub fn wrap(&self, form: &Form, kind: &str, body: Markup, button: &str) -> Markup {
        let action = format!("/jobs/{}/{kind}", self.job.received.body.number);
        let version = Some(u64::from(self.job.version));
        form.wrap(
            &action,
            version,
            html! {
                (body)
                div.buttons { button { (self.t(button)) } }
            },
        )
    }

    /// The ticks that stand before hands enter the nose.
    pub fn make_safe_ticks(&self, form: &Form) -> Markup {
        let ticks: Vec<Choice> = make_safe_ticks(self.model.drive)
            .iter()
            .map(|tick| Choice::new(*tick, self.t(names::make_safe(tick))))
            .collect();
        let field = Field::new("made_safe", self.t("field-before-nose"));
        form.ticks(&field.hint(self.t("source-energy")), &ticks)
    }

    /// A caution, with its source.
    pub fn caution(&self, caution: &Caution) -> Markup {
        html! {
            p.warn { (caution.text) small { (caution.source) } }
        }
    }

    /// A caution of the program's own.
    pub fn warn(&self, text: &str, source: &str) -> Markup {
        html! { p.warn { (self.t(text)) small { (self.t(source)) } } }
    }

    /// The caution before the adjuster is turned, by what drives the tool.
    pub fn setting_caution(&self) -> Markup {
        self.warn(names::setting_caution(self.model.drive), "source-energy")
    }

    /// The caution before the tool runs, by what drives it.
    pub fn running_caution(&self) -> Markup {
        self.warn(names::running_caution(self.model.drive), "source-maker")
    }

    /// The caution before a joint is set.
    pub fn joint_caution(&self) -> Markup {
        html! {
            (self.warn("joint-caution", "source-maker"))
            (self.came_without())
        }
    }

    /// What must be there before the tool runs and did not come with it; nothing if all of it came.
    pub fn came_without(&self) -> Markup {
        let missing = needed_to_run(self.job, self.model, &self.desk);
        let items: Vec<String> = missing
            .iter()
            .map(|c| format!("{} ({}/{})", c.item, c.count, c.of))
            .collect();
        let text = Message::new("came-without").with("items", items.join(", "));
        html! { @if !items.is_empty() { p.note { (self.say(&text)) } } }
    }

    /// The gauges in force of one of `kinds` (any, if empty) that read `unit` and reach the limits,
    /// as choices: one that a reading could destroy is not offered.
    pub fn gauges(&self, unit: Unit, kinds: &[GaugeKind], limits: Option<&Limits>) -> Vec<Choice> {
        self.gauges_up_to(unit, kinds, limits, None)
    }

    /// The same of those whose range goes up to `most` in `unit`, where something stands behind the reading.
    fn gauges_up_to(
        &self,
        unit: Unit,
        kinds: &[GaugeKind],
        limits: Option<&Limits>,
        most: Option<f64>,
    ) -> Vec<Choice> {
        let mut fitting: Vec<_> = self
            .desk
            .shelf
            .gauges()
            .filter(|(_, g)| kinds.is_empty() || kinds.contains(&g.kind))
            .filter(|(_, g)| g.unit.dimension() == unit.dimension())
            .filter(|(_, g)| limits.is_none_or(|limits| reaches(g, unit, limits)))
            .filter(|(_, g)| most.is_none_or(|most| g.reaches(most, unit)))
            .map(|(_, g)| g)
            .collect();
        // A coarse one is better than none.
        let is_fine = |g: &&Gauge| limits.is_none_or(|limits| tells(g, unit, limits));
        if fitting.iter().any(is_fine) {
            fitting.retain(is_fine);
        }
        let standing = |g: &Gauge| self.desk.shelf.standing(g, self.desk.today, None);
        fitting.sort_by_key(|g| !standing(g).is_in_date());
        let only = fitting.len() == 1;
        fitting
            .into_iter()
            .map(|g| {
                let standing = standing(g);
                let id = match standing.state {
                    State::InDate => "gauge-choice",
                    State::OutOfDate => "gauge-choice-stale",
                    State::Failed => "gauge-choice-failed",
                };
                let label = Message::new(id)
                    .with("name", g.name.as_str())
                    .with("due", show::day(standing.due));
                Choice::new(&g.id, self.say(&label)).chosen(only)
            })
            .collect()
    }

    /// Fields for `boxes` readings and the gauge that took them.
    pub fn reading_fields(
        &self,
        form: &Form,
        label: String,
        unit: Unit,
        kinds: &[GaugeKind],
        limits: &Limits,
        boxes: usize,
    ) -> Markup {
        html! {
            (form.readings(&Field::new("reading", label).unit(unit.symbol()).signed(), boxes))
            (form.select(&Field::new("gauge", self.t("field-gauge")), &self.gauges(unit, kinds, Some(limits))))
        }
    }

    /// The same of `test`: where its gauge stands under the full pull, only one that reaches it, and the form says so.
    pub fn test_fields(&self, form: &Form, test: &BenchTest) -> Markup {
        let BenchTestKind::Measured {
            unit,
            limits,
            count,
            gauges,
            ..
        } = &test.kind
        else {
            return html! {};
        };
        let label = self.t("field-readings");
        let Some(needed) = self.model.force_behind(test) else {
            return self.reading_fields(form, label, *unit, gauges, limits, *count);
        };
        let choices = self.gauges_up_to(*unit, gauges, Some(limits), Some(needed));
        let hint = Message::new(if choices.is_empty() {
            "gauge-under-pull-none"
        } else {
            "gauge-under-pull"
        });
        let hint = hint.number("needed", needed, 2).with("unit", unit.symbol());
        html! {
            (form.readings(&Field::new("reading", label).unit(unit.symbol()).signed(), *count))
            (form.select(&Field::new("gauge", self.t("field-gauge")).hint(self.say(&hint)), &choices))
        }
    }

    /// The gauge of a reading as written beside it.
    pub fn gauge_note(&self, reading: &Reading) -> String {
        self.gauge_note_of(reading, None)
    }

    /// The same beside a mean, with what its readings were on the mean before they were corrected.
    pub fn gauge_note_of(&self, reading: &Reading, mean: Option<&Corrected>) -> String {
        let Some(gauge) = self.desk.gauge_of(reading) else {
            return String::new();
        };
        let due = self.due_of(reading, gauge);
        let id = match reading.calibration {
            _ if !reading.in_date && due > self.desk.today => "gauge-note-failed",
            _ if !reading.in_date => "gauge-note-stale",
            _ if reading.is_beyond() && !self.has_curve(reading, gauge) => "gauge-note-no-curve",
            _ if reading.is_beyond() && reading.difference => "gauge-note-difference-beyond",
            _ if reading.is_beyond() => "gauge-note-beyond",
            Some(_) if !reading.difference => "gauge-note-corrected",
            _ => "gauge-note",
        };
        let mut note = Message::new(id)
            .with("name", gauge.name.as_str())
            .with("due", show::day(due));
        if let Some(used) = reading.calibration {
            let decimals = gauge.decimals();
            let read = mean.map_or(used.indicated, |mean| mean.indicated);
            let deviation = mean.map_or(used.deviation.unwrap_or(0.0), |mean| mean.deviation);
            note = note
                .number("read", read, decimals)
                .number("correction", -deviation, decimals + 1)
                .with("unit", reading.unit.as_str());
        }
        self.say(&note)
    }

    /// Until when the gauge of a reading was calibrated: by the calibration that it was taken with, else by its sheet.
    pub fn due_of(&self, reading: &Reading, gauge: &Gauge) -> jiff::civil::Date {
        let history = self.desk.shelf.gauge_history(&reading.gauge.id);
        let calibration = reading
            .calibration
            .and_then(|used| history?.calibration(used.number));
        calibration.map_or(gauge.due, |c| c.due)
    }

    /// Whether a curve goes through the points of the calibration that a reading was taken with.
    fn has_curve(&self, reading: &Reading, gauge: &Gauge) -> bool {
        let history = self.desk.shelf.gauge_history(&reading.gauge.id);
        let calibration = reading
            .calibration
            .and_then(|used| history?.calibration(used.number));
        calibration.is_none_or(|c| c.has_curve(gauge))
    }

    /// Whether the drift in the budget of `readings` is what their gauge moved between two calibrations.
    pub fn is_drift_observed(&self, readings: &[shop::entry::Reading]) -> bool {
        let calibration = readings.first().and_then(|r| self.desk.calibration_of(r));
        calibration.is_some_and(|c| c.drift_observed)
    }

    /// The drive as a word.
    pub fn drive(&self) -> String {
        self.t(names::drive(self.model.drive))
    }
}

/// Whether a gauge can read what lies at the limits.
fn reaches(gauge: &Gauge, unit: Unit, limits: &Limits) -> bool {
    let to = |value| gauge.unit.convert(value, unit);
    let (Some(least), Some(most)) = (to(gauge.range.0), to(gauge.range.1)) else {
        return false;
    };
    limits.lower().is_none_or(|l| least <= l && l <= most)
        && limits.upper().is_none_or(|u| u <= most)
}

/// Whether a reading of the gauge can be accepted at all: its doubt leaves room between the limits.
fn tells(gauge: &Gauge, unit: Unit, limits: &Limits) -> bool {
    let Some(doubt) = gauge.unit.convert(gauge.expanded, unit) else {
        return false;
    };
    match (limits.lower(), limits.upper()) {
        (Some(lower), Some(upper)) => 2.0 * doubt < upper - lower,
        (Some(one), None) | (None, Some(one)) => doubt < one.abs(),
        (None, None) => true,
    }
}

/// Readings typed under `name`, with the gauge under `gauge`. Empty boxes are left out.
pub fn measured(
    typed: &Typed,
    name: &str,
    gauge: &str,
    label: &str,
    unit: Unit,
    errors: &mut FieldErrors,
) -> Measured {
    let mut values = Vec::new();
    for (i, raw) in typed
        .all(name)
        .enumerate()
        .filter(|(_, raw)| !raw.trim().is_empty())
    {
        let field = reading_key(name, i);
        if let Some(value) = errors.keep(&field, label, parse_number(raw, unit)) {
            values.push(TypedValue {
                field,
                raw: raw.to_owned(),
                value,
            });
        }
    }
    Measured {
        gauge: typed.get(gauge).to_owned(),
        gauge_field: gauge.to_owned(),
        values,
    }
}
