//! What explains a stick-out that gives no setting, ranked, and the check that tells explanations apart. The
//! job page and the crew's page show the same.

use calc::Message;
use maud::{Markup, html};
use shop::diagnosis::percent;
use shop::grip::{Explained, odd_pin};

use super::working;
use crate::shell::Page;

/// How far one pin lies off the others before it is named, mm.
const ODD_PIN_MM: f64 = 0.3;

/// The explanations of the stick-outs `values_mm`.
pub fn explanations(p: &Page, found: &Explained, values_mm: &[f64]) -> Markup {
    html! {
        h3 { (p.t("explanations-heading")) }
        @if let Some(d) = found.difference {
            p.hint { (p.say(&Message::new(if d.contradicts() { "explanations-off" } else { "explanations-agree" })
                .number("expected", d.expected_mm, 2).number("off", d.off_mm.abs(), 2).number("allowed", d.allowed_mm, 2))) }
        }
        @if let Some((pin, off)) = odd_pin(values_mm).filter(|(_, off)| off.abs() > ODD_PIN_MM) {
            p { (p.say(&Message::new("explanations-odd-pin").with("pin", pin).number("off", off.abs(), 2))) }
        }
        ol.bars {
            @for e in &found.ranked {
                li {
                    details {
                        summary {
                            span.what { (p.say(&e.name)) }
                            meter min="0" max="1" value=(format!("{:.4}", e.probability)) aria-label=(p.say(&e.name)) {}
                            b.n { (percent(e.probability)) }
                        }
                        p { (p.say(&e.evidence)) }
                    }
                }
            }
        }
        p { b { (p.t("explanations-check")) } " " (p.say(&found.check.text())) }
        (working(p, &found.working))
    }
}
