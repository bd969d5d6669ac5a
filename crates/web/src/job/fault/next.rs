//! What to do next, and why: the first step of the plan, and the checks that may be made in its place.

use std::time::{Duration, Instant};

use calc::Message;
use maud::{Markup, html};
use shop::diagnosis::plan::EFFORT;
use shop::diagnosis::{Costs, Diagnosis, OpenCheck, Plan, Seen, Step, plan_in_time};

use super::answer::{answer_form, check_form};
use super::causes::name;
use crate::job::names;
use crate::job::view::View;
use crate::show;

/// Other checks, and other causes, that are listed behind the fold: those beyond tell next to nothing.
pub const MOST_OTHERS: usize = 15;

/// Time for looking ahead: a page must not be waited for, however large the sheet.
const LOOKING_AHEAD: Duration = Duration::from_millis(150);

/// What to do next: the check or the mending that costs least until the tool works, and the checks that
/// may be made beside it.
pub fn next(v: &View, d: &Diagnosis, seen: &Seen) -> Markup {
    let shop = v.desk.shelf.shop(&v.job.shop_pin());
    let costs = shop.map(|shop| Costs::of(shop, v.model));
    let begun = Instant::now();
    let in_time = || begun.elapsed() < LOOKING_AHEAD;
    let plan = costs.as_ref().and_then(|costs| {
        plan_in_time(v.faults, v.model.drive, seen, d, costs, (EFFORT, &in_time))
    });
    let first = match plan.as_ref().map(|plan| plan.step) {
        Some(Step::Look(check)) => Some(check),
        _ => None,
    };
    let others: Vec<&OpenCheck> = d
        .open
        .iter()
        .filter(|open| first.is_none_or(|first| first.id != open.check.id))
        .take(MOST_OTHERS)
        .collect();
    html! {
        @if d.no_energy { (v.warn("fault-no-energy", "source-common")) }
        @if d.no_load { (v.warn("fault-no-load", "source-common")) }
        @if let Some((plan, costs)) = plan.as_ref().zip(costs.as_ref()) { (step(v, d, plan, costs)) }
        @if d.open.is_empty() { p.note { (v.t("check-none")) } }
        @if !others.is_empty() {
            details {
                summary { (v.t("check-others")) }
                ul.checks {
                    @for other in others {
                        li {
                            details open[v.is_refused(&check_form(&other.check.id))] {
                                summary {
                                    (other.check.text)
                                    small { (worth(v, other)) }
                                }
                                (answer_form(v, other.check, &[]))
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The first step of the plan, with the sentence that says why.
fn step(v: &View, d: &Diagnosis, plan: &Plan, costs: &Costs) -> Markup {
    html! {
        div.answer {
            @match plan.step {
                Step::Look(check) => {
                    p.lab { (v.t("check-next")) }
                    p { b { (check.text) } }
                    @if let Some(paying) = plan.paying.first() {
                        p.pm {
                            (v.say(&Message::new("check-saves")
                                .number("minutes", check.minutes, 0)
                                .number("saves", paying.saves, 0)
                                .with("currency", costs.currency)
                                .with("cause", name(v, plan.mend_first))
                                .with("state", v.t(names::tool_state(check.state)))))
                        }
                    }
                    (reckoned(v, plan))
                    (answer_form(v, check, &d.beside(check).collect::<Vec<_>>()))
                }
                Step::Mend(cause) => {
                    p.lab { (v.t("mend-next")) }
                    p { b { (name(v, cause)) } }
                    p.pm {
                        (v.say(&Message::new("mend-why").number("cost", plan.expected, 0).with("currency", costs.currency)))
                    }
                    @if let Some(cause) = cause { p { b { (v.t("cause-action")) } " " (cause.action) } }
                    (reckoned(v, plan))
                }
            }
        }
    }
}

/// How the step was reckoned, and whether the time for it was up.
fn reckoned(v: &View, plan: &Plan) -> Markup {
    html! {
        @if plan.out_of_time { p.hint { (v.t("check-out-of-time")) } }
        (show::working(v.p, &plan.working))
    }
}

/// Minutes, bits and the state of the tool.
fn worth(v: &View, open: &OpenCheck) -> String {
    let text = Message::new("check-worth")
        .number("minutes", open.check.minutes, 0)
        .number("bits", open.bits, 2)
        .with("state", v.t(names::tool_state(open.check.state)));
    v.say(&text)
}
