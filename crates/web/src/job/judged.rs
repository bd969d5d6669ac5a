//! A reading with its limits and verdict, as recorded: where it is drawn, reckoned and printed from.

use calc::decision::{self, Rule};
use calc::gauge_correction::{self, Corrected};
use calc::uncertainty_budget::Budget;
use calc::working::{Working, fixed};
use calc::{conformity, repeated, spread, torque_adapter};
use maud::{Markup, PreEscaped, html};
use paper::GaugeBar;
use shop::entry::{AdapterUsed, BenchTestRead, JointReading, Outcome, Reading, StepDone};
use shop::job::GRIP_EXPANDED_MM;
use shop::route::{Hold, Step};
use shop::sheet::{BenchTest, BenchTestKind, Criterion};

use super::view::View;
use crate::show;

/// A judged reading.
#[derive(Clone, Debug)]
pub struct Judged<'a> {
    /// Value, doubt, limits and verdict as recorded; without a label yet.
    pub bar: GaugeBar,
    /// The reading, or the first of those that the value is the mean of.
    pub reading: &'a Reading,
    /// Every reading that the mean is of.
    readings: &'a [Reading],
    /// Whether there is a limit to how far they lie apart.
    is_spread_limited: bool,
    /// The adapter on the wrench that took the reading.
    adapter: Option<AdapterUsed>,
}

impl<'a> Judged<'a> {
    /// A criterion of a trial joint.
    pub fn of_joint(v: &View, c: &Criterion, read: &'a JointReading) -> Self {
        let reading = &read.reading;
        Self {
            bar: GaugeBar {
                value: reading.value,
                expanded: doubt(v, reading),
                limits: c.limits,
                rule: c.rule,
                verdict: read.outcome.into(),
                unit: c.unit,
                decimals: decimals(v, reading),
                label: String::new(),
            },
            reading,
            readings: std::slice::from_ref(reading),
            is_spread_limited: false,
            adapter: None,
        }
    }

    /// A hold step; `None` if it was passed without a reading.
    pub fn of_step(v: &View, step: &Step, done: &'a StepDone) -> Option<Self> {
        let reading = done.reading.as_ref()?;
        let Hold::Reading { unit, limits, .. } = step.hold()? else {
            return None;
        };
        Some(Self {
            bar: GaugeBar {
                value: reading.value,
                expanded: doubt(v, reading),
                limits,
                rule: Rule::Guarded,
                verdict: done.outcome.unwrap_or(Outcome::Undecided).into(),
                unit,
                decimals: decimals(v, reading),
                label: String::new(),
            },
            reading,
            readings: std::slice::from_ref(reading),
            is_spread_limited: false,
            adapter: done.adapter,
        })
    }

    /// A bench test; `None` for one that is only looked at.
    pub fn of_test(v: &View, test: &BenchTest, read: &'a BenchTestRead) -> Option<Self> {
        let BenchTestKind::Measured {
            unit, limits, rule, ..
        } = &test.kind
        else {
            return None;
        };
        let reading = read.readings.first()?;
        Some(Self {
            bar: GaugeBar {
                value: read.value?,
                expanded: read.expanded?,
                limits: *limits,
                rule: *rule,
                verdict: read.outcome.into(),
                unit: *unit,
                decimals: decimals(v, reading),
                label: String::new(),
            },
            reading,
            readings: &read.readings,
            is_spread_limited: read.spread_percent.is_some(),
            adapter: None,
        })
    }

    /// The probability that the value lies inside its limits, with its working; `None` where nothing is
    /// known of the doubt.
    pub fn conformity(&self) -> Option<(f64, Working)> {
        let bar = &self.bar;
        let standard = bar.expanded / 2.0;
        let chances = conformity::chances(bar.value, standard, bar.limits).ok()?;
        let unit = bar.unit.symbol();
        let working =
            conformity::working(bar.value, standard, bar.limits, bar.decimals, unit).ok()?;
        Some((chances.inside, working))
    }

    /// `13.010 mm`.
    pub fn value_text(&self) -> String {
        let number = fixed(self.bar.value, self.bar.decimals);
        format!("{number} {}", self.bar.unit.symbol())
    }

    /// `± 0.012`.
    pub fn doubt_text(&self) -> String {
        self.bar.expanded_text()
    }

    /// The gauge bar, labelled with what was measured.
    pub fn labelled(&self, v: &View, what: &str) -> GaugeBar {
        self.bar.clone().labelled(v.p.words, what)
    }

    /// Value, bar, verdict and gauge.
    pub fn show(&self, v: &View, what: &str) -> Markup {
        html! {
            p.mid { (self.value_text()) " " span.pm { (self.doubt_text()) } }
            (self.draw(v, what))
            p { (show::chip(v.p, self.bar.verdict)) " " small { (v.gauge_note_of(self.reading, self.mean(v).as_ref())) } }
        }
    }

    /// The bar alone.
    pub fn draw(&self, v: &View, what: &str) -> Markup {
        PreEscaped(paper::gauge_bar(&self.labelled(v, what)))
    }

    /// From the readings to the verdict.
    pub fn working(&self, v: &View) -> Working {
        let bar = &self.bar;
        let working = decision::working(
            bar.value,
            bar.expanded,
            bar.limits,
            bar.rule,
            bar.unit,
            bar.decimals,
        );
        let limited = self.is_spread_limited;
        let apart = limited.then(|| spread::working(&self.values(), bar.unit, bar.decimals));
        let working = apart.flatten().into_iter().fold(working, Working::after);
        match self.doubt_working(v) {
            Some(doubt) => working.after(doubt),
            None => working,
        }
    }

    fn values(&self) -> Vec<f64> {
        self.readings.iter().map(|r| r.value).collect()
    }

    /// The readings as a calibration on the record corrects them; `None` where none did.
    pub fn corrected(&self, v: &View) -> Option<Corrected> {
        v.desk.corrected(self.readings)
    }

    /// The same of several readings whose mean is the value; behind an adapter the wrench's reading speaks for itself.
    fn mean(&self, v: &View) -> Option<Corrected> {
        (self.readings.len() > 1).then(|| self.corrected(v))?
    }

    /// What the uncertainty of the mean is made of; behind an adapter, that of what the wrench showed.
    fn budget(&self, v: &View) -> Option<Budget> {
        let (Some(used), None) = (self.adapter, self.corrected(v)) else {
            return v.desk.budget_of(self.readings);
        };
        let shown = torque_adapter::setting(self.bar.value, used.lever()).ok()?;
        repeated::budget(&[shown], v.desk.doubt_of(self.reading)?, self.bar.unit).ok()
    }

    /// How verdict and value came about, one tap away, with the budget of the uncertainty.
    pub fn explained(&self, v: &View) -> Markup {
        html! {
            (show::working(v.p, &self.working(v)))
            @if let Some(budget) = self.budget(v) { (show::budget(v.p, &v.t("budget-show"), &budget, v.is_drift_observed(self.readings))) }
        }
    }

    /// From the readings to the doubt of their mean.
    pub fn doubt_working(&self, v: &View) -> Option<Working> {
        let doubt = v.desk.doubt_of(self.reading)?;
        let (unit, decimals) = (self.bar.unit, self.bar.decimals);
        let corrected = self.corrected(v);
        let Some(used) = self.adapter else {
            return Some(match &corrected {
                Some(corrected) => gauge_correction::working(corrected),
                None => repeated::working(&self.values(), doubt, unit, decimals),
            });
        };
        if let Some(corrected) = &corrected {
            let (lever, of_wrench) = (used.lever(), corrected.budget.expanded);
            let value = corrected.value;
            let reached =
                torque_adapter::reached_working(value, of_wrench, lever, GRIP_EXPANDED_MM);
            return Some(reached.ok()?.after(gauge_correction::working(corrected)));
        }
        // Behind an adapter the wrench's own doubt comes first, then the joint's torque.
        let lever = used.lever();
        let shown = torque_adapter::setting(self.bar.value, lever).ok()?;
        let of_wrench = repeated::mean(&[shown], doubt).ok()?.expanded;
        let reached =
            torque_adapter::reached_working(shown, of_wrench, lever, GRIP_EXPANDED_MM).ok()?;
        Some(reached.after(repeated::working(&[shown], doubt, unit, decimals)))
    }
}

/// The doubt that the verdict was given with; reckoned anew where the record is older than that.
fn doubt(v: &View, reading: &Reading) -> f64 {
    let anew = || v.desk.mean_of(std::slice::from_ref(reading));
    let recorded = reading.expanded;
    recorded.unwrap_or_else(|| anew().map_or(0.0, |mean| mean.expanded))
}

fn decimals(v: &View, reading: &Reading) -> usize {
    v.desk.gauge_of(reading).map_or(2, |gauge| gauge.decimals())
}
