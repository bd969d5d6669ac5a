//! The working behind a number, one tap away.

use calc::working::Working;
use maud::{Markup, html};

use crate::shell::Page;

/// The working of a result, folded.
pub fn working(p: &Page, working: &Working) -> Markup {
    html! {
        details.working {
            summary { (p.t("working-show")) }
            dl.facts {
                @for given in &working.given {
                    dt { i { (given.symbol) } }
                    dd {
                        (given.value) " " (given.unit)
                        small {
                            (p.say(&given.what))
                            @if let Some(from) = &given.from { ", " (p.say(from)) }
                        }
                    }
                }
            }
            ol.reckoning {
                @for step in &working.steps {
                    li {
                        code { (step.symbol) " = " (step.formula) }
                        code { "= " (step.filled) }
                        b { "= " (step.value) " " (step.unit) }
                    }
                }
            }
            @for note in &working.notes { p.hint { (p.say(note)) } }
            p.hint {
                (p.t("working-method")) " " (working.method.name) " " (working.method.version)
                ": " (working.method.source)
            }
        }
    }
}
