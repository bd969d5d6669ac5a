//! Joints of one setting in numbers, each with what it means, behind one line.

use calc::working::{figures, fixed};
use calc::{Message, proportion, zero_failure};
use maud::{Markup, html};
use shop::joint_numbers::{CONFIDENCE, CriterionNumbers, FEW, GOOD_CPK, JointNumbers};

use super::working;
use crate::shell::Page;

/// The numbers, folded.
pub fn joint_numbers(p: &Page, numbers: &JointNumbers) -> Markup {
    let (good, count) = numbers.good;
    let share = &numbers.share;
    let percent = |share: f64| share * 100.0;
    let summary = if good == 0 {
        "numbers-summary-none"
    } else {
        "numbers-summary"
    };
    let summary = Message::new(summary)
        .with("good", good)
        .with("count", count)
        .number("percent", percent(share.one_sided_lower), 0);
    let said = Message::new("numbers-share")
        .with("good", good)
        .with("count", count)
        .number("least", percent(share.one_sided_lower), 1)
        .number("low", percent(share.clopper_pearson.0), 1)
        .number("high", percent(share.clopper_pearson.1), 1);
    html! {
        details {
            summary { (p.say(&summary)) }
            p { (p.say(&said)) }
            @if good == count { (good_alone(p, count, share.one_sided_lower)) }
            (working(p, &proportion::working(good, count, CONFIDENCE, share)))
            @for c in &numbers.criteria { (criterion(p, c)) }
        }
    }
}

/// What good ones alone prove, and how many it takes to prove more.
fn good_alone(p: &Page, count: u64, share: f64) -> Markup {
    let takes = |share| zero_failure::sample_size(share, CONFIDENCE).unwrap_or_default();
    let said = Message::new("numbers-share-alone")
        .with("count", count)
        .number("percent", share * 100.0, 0)
        .with("ninety", takes(0.90))
        .with("ninety-five", takes(0.95));
    html! { p.hint { (p.say(&said)) } }
}

fn criterion(p: &Page, c: &CriterionNumbers) -> Markup {
    let unit = c.criterion.unit.symbol();
    // One figure more than the readings: means and bounds lie between them.
    let decimals = c.values.iter().map(|v| decimals(*v)).max().unwrap_or(2) + 1;
    let mean = Message::new("numbers-mean")
        .number("mean", c.sample.mean, decimals)
        .number("deviation", c.sample.deviation, decimals)
        .with("unit", unit)
        .with("count", c.sample.count);
    html! {
        h4 { (c.criterion.name) }
        p { (p.say(&mean)) }
        @if c.sample.deviation > 0.0 {
            (capability(p, c))
            (tolerance(p, c, decimals))
            (shape(p, c))
        } @else {
            p.hint { (p.t("numbers-alike")) }
        }
        @for each in c.workings() { (working(p, &each)) }
    }
}

/// Decimals that a reading was written with, at most four.
fn decimals(value: f64) -> usize {
    (0..4)
        .find(|places| {
            let shift = 10_f64.powi(*places as i32);
            ((value * shift).round() / shift - value).abs() < 1e-9
        })
        .unwrap_or(4)
}

fn capability(p: &Page, c: &CriterionNumbers) -> Markup {
    let Some(found) = &c.capability else {
        return html! {};
    };
    let (low, high) = found.cpk.interval;
    let said = Message::new("numbers-cpk")
        .number("cpk", found.cpk.value, 2)
        .number("low", low, 2)
        .number("high", high, 2)
        .with("outside", outside(found.outside));
    let means = if low >= GOOD_CPK {
        "numbers-cpk-good"
    } else if high < 1.0 {
        "numbers-cpk-bad"
    } else {
        "numbers-cpk-open"
    };
    html! { p { (p.say(&said)) " " (p.t(means)) } }
}

/// A share in percent, with figures enough to be more than 0.
fn outside(share: f64) -> String {
    let percent = share * 100.0;
    if percent < 0.001 {
        return "< 0.001".to_owned();
    }
    fixed(percent, figures(percent, 2).min(3))
}

fn tolerance(p: &Page, c: &CriterionNumbers, decimals: usize) -> Markup {
    let unit = c.criterion.unit.symbol();
    let limits = c.criterion.limits;
    let said = |id: &'static str, lower: f64, upper: f64| {
        let message = Message::new(id)
            .number("lower", lower, decimals)
            .number("upper", upper, decimals);
        p.say(&message.with("unit", unit))
    };
    let between = c.between.map(|t| said("numbers-between", t.lower, t.upper));
    let above = c.beyond.filter(|_| limits.lower().is_some());
    let above = above.map(|t| said("numbers-above", t.lower, t.upper));
    let below = c.beyond.filter(|_| limits.upper().is_some());
    let below = below.map(|t| said("numbers-below", t.lower, t.upper));
    let fits = c.fits().map(|fits| {
        p.t(if fits {
            "numbers-fits"
        } else {
            "numbers-reaches"
        })
    });
    let two_sided = shop::joint_numbers::is_two_sided(limits);
    html! {
        @if two_sided {
            @if let Some(line) = between { p { (line) @if let Some(fits) = &fits { " " (fits) } } }
            @for line in above.into_iter().chain(below) { p.hint { (line) } }
        } @else {
            @for line in above.into_iter().chain(below) { p { (line) @if let Some(fits) = &fits { " " (fits) } } }
            @if let Some(line) = between { p.hint { (line) } }
        }
    }
}

fn shape(p: &Page, c: &CriterionNumbers) -> Markup {
    let few = Message::new("numbers-normal-few").with("count", c.sample.count);
    let out = c.stands_out().map(|value| {
        Message::new("numbers-outlier")
            .number("value", value, decimals(value))
            .with("unit", c.criterion.unit.symbol())
    });
    html! {
        @if let Some(out) = out { p.note { (p.say(&out)) } }
        @if c.is_odd_shaped() { p.note { (p.t("numbers-not-normal")) } }
        @else if c.values.len() < FEW { p.hint { (p.say(&few)) } }
        @else { p.hint { (p.t("numbers-normal")) } }
    }
}
