//! The uncertainty budget of a corrected reading, one tap away.

use calc::gauge_correction::Corrected;
use calc::units::Unit;
use calc::working::{figures, fixed};
use maud::{Markup, html};

use crate::shell::Page;

/// What the budget is made of, in the order in which it is reckoned.
const PARTS: [&str; 5] = [
    "given-doubt-readings",
    "given-doubt-curve",
    "given-doubt-certificate",
    "given-doubt-resolution",
    DRIFT,
];

const DRIFT: &str = "given-doubt-drift";

/// The budget as a table, folded: component, standard uncertainty, sensitivity, degrees of freedom, what it brings.
/// `drift_observed`: the drift is what the gauge moved since the calibration before.
pub fn budget(p: &Page, corrected: &Corrected, unit: Unit, drift_observed: bool) -> Markup {
    let all = &corrected.budget;
    let decimals = figures(all.standard, 3);
    let symbol = unit.symbol();
    let rows = PARTS.iter().zip(&corrected.parts).zip(&all.contributions);
    html! {
        details.working {
            summary { (p.t("budget-show")) }
            table.stack {
                thead { tr {
                    th { (p.t("budget-part")) } th.n { "u" } th.n { "c" } th.n { "ν" } th.n { "|c · u|" }
                } }
                tbody {
                    @for ((name, part), contribution) in rows {
                        tr {
                            td data-label=(p.t("budget-part")) {
                                (p.t(name))
                                @if drift_observed && *name == DRIFT { small { (p.t("drift-observed")) } }
                            }
                            td.n data-label="u" { (fixed(part.standard, decimals)) " " (symbol) }
                            td.n data-label="c" { (fixed(part.sensitivity, 0)) }
                            td.n data-label="ν" { (freedom(part.dof)) }
                            td.n data-label="|c · u|" { (fixed(*contribution, decimals)) " " (symbol) }
                        }
                    }
                }
            }
            dl.facts {
                dt { "u" } dd { (fixed(all.standard, decimals)) " " (symbol) small { (p.t("budget-standard")) } }
                dt { "ν" } dd { (freedom(all.dof)) small { (p.t("budget-freedom")) } }
                dt { "k" } dd { (fixed(all.factor, 2)) small { (p.t("budget-factor")) } }
                dt { "U" } dd { (fixed(all.expanded, decimals)) " " (symbol) small { (p.t("budget-expanded")) } }
            }
            p.hint { (p.t("budget-source")) }
        }
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
