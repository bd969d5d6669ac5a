//! An uncertainty budget, one tap away: of a reading, corrected or not, and of a number of a recorded pull.

use calc::Message;
use calc::gauge_correction::DRIFT;
use calc::repeated::LEVEL;
use calc::uncertainty_budget::Budget;
use calc::working::{figures, fixed};
use maud::{Markup, html};

use crate::shell::Page;

/// A factor that differs by more than this from the one its degrees of freedom take is told.
const NEAR: f64 = 0.05;

/// The budget as a table, folded under `title`: component, standard uncertainty, sensitivity, degrees of freedom, what it brings.
/// `drift_observed`: the drift is what the gauge moved since the calibration before.
pub fn budget(p: &Page, title: &str, of: &Budget, drift_observed: bool) -> Markup {
    let all = &of.combined;
    let decimals = figures(all.standard, 3);
    let factor = of.factor_at(LEVEL);
    html! {
        details.working {
            summary { (title) }
            table.stack {
                thead { tr {
                    th { (p.t("budget-part")) } th.n { "u" } th.n { "c" } th.n { "ν" } th.n { "|c · u|" }
                } }
                tbody {
                    @for (part, contribution) in of.parts.iter().zip(&all.contributions) {
                        @let component = part.component;
                        tr {
                            td data-label=(p.t("budget-part")) {
                                (p.t(part.name))
                                @if drift_observed && part.name == DRIFT { small { (p.t("drift-observed")) } }
                            }
                            td.n data-label="u" {
                                @let as_result = part.unit == of.unit;
                                (fixed(component.standard, if as_result { decimals } else { figures(component.standard, 3) })) " " (part.unit)
                            }
                            td.n data-label="c" { (sensitivity(component.sensitivity)) }
                            td.n data-label="ν" { (freedom(component.dof)) }
                            td.n data-label="|c · u|" { (fixed(*contribution, decimals)) " " (of.unit) }
                        }
                    }
                }
            }
            dl.facts {
                dt { "u" } dd { (fixed(all.standard, decimals)) " " (of.unit) small { (p.t("budget-standard")) } }
                dt { "ν" } dd { (freedom(all.dof)) small { (p.t("budget-freedom")) } }
                dt { "k" } dd {
                    (fixed(all.factor, 2))
                    small { (p.t(if factor.is_some() { "budget-factor-chosen" } else { "budget-factor" })) }
                    @if let Some(factor) = factor.filter(|k| (k - all.factor).abs() > NEAR) {
                        small { (p.say(&Message::new("budget-factor-few").number("k", factor, 2))) }
                    }
                }
                dt { "U" } dd { (fixed(all.expanded, decimals)) " " (of.unit) small { (p.t("budget-expanded")) } }
            }
            p.hint { (p.t("budget-source")) }
        }
    }
}

/// A sensitivity: 1 where the component is in the result's own measure.
fn sensitivity(c: f64) -> String {
    if (c - c.round()).abs() < 1e-9 {
        fixed(c, 0)
    } else {
        fixed(c, figures(c, 3))
    }
}

/// Degrees of freedom: a whole number, one decimal, or without end.
fn freedom(dof: f64) -> String {
    if !dof.is_finite() || dof > 1e6 {
        "∞".to_owned()
    } else if (dof - dof.round()).abs() < 1e-9 {
        fixed(dof, 0)
    } else {
        fixed(dof, 1)
    }
}
