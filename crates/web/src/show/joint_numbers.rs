//! Joints of one setting in numbers, each with what it means, behind one line.

use calc::working::{figures, fixed, rounded_down, rounded_up};
use calc::{Message, proportion, zero_failure};
use maud::{Markup, html};
use shop::joint_numbers::{CONFIDENCE, CriterionNumbers, FEW, GOOD_CPK, JointNumbers};

use super::working;
use crate::shell::Page;

/// The numbers, folded.
pub fn joint_numbers(p: &Page, numbers: &JointNumbers) -> Markup {
    let (good, count) = numbers.good;
    let share = &numbers.share;
    // Bounds never promise more than they prove.
    let (least, most) = (
        |share: f64| rounded_down(share * 100.0, 1),
        |share: f64| rounded_up(share * 100.0, 1),
    );
    let summary = if good == 0 {
        "numbers-summary-none"
    } else {
        "numbers-summary"
    };
    let summary = Message::new(summary)
        .with("good", good)
        .with("count", count)
        .number("percent", least(share.one_sided_lower), 1);
    let said = Message::new("numbers-share")
        .with("good", good)
        .with("count", count)
        .number("least", least(share.one_sided_lower), 1)
        .number("low", least(share.clopper_pearson.0), 1)
        .number("high", most(share.clopper_pearson.1), 1);
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
        .number("percent", rounded_down(share * 100.0, 1), 1)
        .with("ninety", takes(0.90))
        .with("ninety-five", takes(0.95));
    html! { p.hint { (p.say(&said)) } }
}

fn criterion(p: &Page, c: &CriterionNumbers) -> Markup {
    let unit = c.criterion.unit.symbol();
    // One figure more than the gauge shows: a mean lies between its steps.
    let decimals = c.decimals + 1;
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
            (tolerance(p, c))
            p.hint { (p.t("numbers-gauge")) }
            (shape(p, c))
        } @else {
            p.hint { (p.t("numbers-alike")) }
        }
        @for each in c.workings() { (working(p, &each)) }
    }
}

fn capability(p: &Page, c: &CriterionNumbers) -> Markup {
    let Some(found) = &c.capability else {
        return html! {};
    };
    let (low, high) = found.cpk.interval;
    let said = Message::new("numbers-cpk")
        .number("cpk", found.cpk.value, 2)
        .number("low", rounded_down(low, 2), 2)
        .number("high", rounded_up(high, 2), 2)
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

fn tolerance(p: &Page, c: &CriterionNumbers) -> Markup {
    let unit = c.criterion.unit.symbol();
    let limits = c.criterion.limits;
    let said = |id: &'static str, lower: f64, upper: f64| {
        let message = Message::new(id)
            .number("lower", rounded_down(lower, c.decimals), c.decimals)
            .number("upper", rounded_up(upper, c.decimals), c.decimals);
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
            .number("value", value, c.decimals)
            .with("unit", c.criterion.unit.symbol())
    });
    html! {
        @if let Some(out) = out { p.note { (p.say(&out)) } }
        @if c.is_odd_shaped() { p.note { (p.t("numbers-not-normal")) } }
        @else if c.values.len() < FEW { p.hint { (p.say(&few)) } }
        @else { p.hint { (p.t("numbers-normal")) } }
    }
}
