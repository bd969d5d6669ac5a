//! What explains a stick-out that gives no setting, and the check that tells explanations apart.

use calc::Message;
use calc::stick_out_causes::Difference;
use maud::{Markup, html};
use shop::diagnosis::percent;
use shop::entry::StickOutRead;
use shop::grip::{contradiction, explanations, odd_pin, stack_of};
use shop::job::{SetUp, SetUpSheets};

use super::stack;
use super::view::View;
use crate::show;

/// How the stick-out lies to the stack, where they contradict each other.
pub fn against_stack(
    v: &View,
    set_up: &SetUp,
    s: &SetUpSheets,
    read: &StickOutRead,
) -> Option<Difference> {
    contradiction(s, &read.readings, stack_of(set_up, read), &v.desk)
}

/// Beside the answer: a line where the stack fits; the ranked explanations where `no_setting`.
pub fn beside(
    v: &View,
    set_up: &SetUp,
    s: &SetUpSheets,
    read: &StickOutRead,
    no_setting: bool,
) -> Markup {
    let under = stack_of(set_up, read);
    html! {
        @if let Some(under) = under { (stack::shown(v, under, s.fastener)) }
        @if no_setting { (ranked(v, set_up, s, read)) }
        @else if under.is_some() { p.hint { (v.t("stack-agrees")) } }
    }
}

fn ranked(v: &View, set_up: &SetUp, s: &SetUpSheets, read: &StickOutRead) -> Markup {
    let under = stack_of(set_up, read);
    let Some(found) = explanations(s, &read.readings, under, &v.desk) else {
        return html! {};
    };
    let values: Vec<f64> = read.readings.iter().map(|r| r.value).collect();
    html! {
        h3 { (v.t("explanations-heading")) }
        @if let Some(d) = found.difference {
            p.hint { (v.say(&Message::new(if d.contradicts() { "explanations-off" } else { "explanations-agree" })
                .number("expected", d.expected_mm, 2).number("off", d.off_mm.abs(), 2).number("allowed", d.allowed_mm, 2))) }
        }
        @if let Some((pin, off)) = odd_pin(&values).filter(|(_, off)| off.abs() > 0.3) {
            p { (v.say(&Message::new("explanations-odd-pin").with("pin", pin).number("off", off.abs(), 2))) }
        }
        ol.bars {
            @for e in &found.ranked {
                li {
                    details {
                        summary {
                            span.what { (v.say(&e.name)) }
                            meter min="0" max="1" value=(format!("{:.4}", e.probability)) aria-label=(v.say(&e.name)) {}
                            b.n { (percent(e.probability)) }
                        }
                        p { (v.say(&e.evidence)) }
                    }
                }
            }
        }
        p { b { (v.t("explanations-check")) } " " (v.say(&found.check.text())) }
        (show::working(v.p, &found.working))
    }
}
