//! Proved: the bench tests as left, beside the as-found, and the sign-off.

use calc::Message;
use maud::{Markup, html};
use shop::entry::Phase;
use shop::job::{Command, Stage};

use super::view::View;
use super::{bench, names};
use crate::forms::Typed;
use crate::pulls;
use crate::shell::{Choice, Field};
use crate::show;

/// The section.
pub fn section(v: &View) -> Markup {
    let open = v.job.is_open(Stage::Proved) && v.job.proof.is_none();
    let left = |id: &str| v.job.test(Phase::AsLeft, id).map(|t| t.body.outcome);
    let all = v.model.bench_tests.iter().all(|t| left(&t.id).is_some());
    let undecided = v.job.undecided_as_left(v.model);
    let doubts = v.job.in_doubt(&v.desk);
    html! {
        @if open { (v.warn("proof-caution", "source-maker")) (v.came_without()) }
        @for test in &v.model.bench_tests {
            div.beside {
                @if v.job.test(Phase::AsFound, &test.id).is_some() {
                    div { p.lab { (v.t(names::phase(Phase::AsFound))) } (bench::shown(v, Phase::AsFound, test)) }
                }
                @if left(&test.id).is_some() {
                    div { p.lab { (v.t(names::phase(Phase::AsLeft))) } (bench::result(v, Phase::AsLeft, test)) }
                }
            }
            @match bench::waits(v, test) {
                None => { @if open { (bench::entry(v, Phase::AsLeft, test)) } }
                Some(why) => {
                    @if open && left(&test.id).is_none() {
                        p.note id=(bench::place(Phase::AsLeft, test)) { (v.say(&why)) }
                    }
                }
            }
        }
        (pulls::section(v, Phase::AsLeft))
        (super::doubt::listed(v, &v.t("readings-in-doubt"), &doubts))
        @match &v.job.proof {
            Some(proof) => {
                p.note {
                    b { (v.t("proof-stands")) } " " (proof.body.reason)
                    small { (v.stamp(proof.at, &proof.by)) }
                }
                (super::correct::strike(v, proof.version))
            }
            None => {
                @if open && all {
                    @let form = v.form("proof-done");
                    (v.wrap(&form, "proof-done", html! {
                        @if let Some(turns) = set_at(v) {
                            (form.ticks(&Field::new("adjuster", v.t("field-adjuster-stands")),
                                &[Choice::new("yes", v.say(&Message::new("adjuster-stands").with("turns", paper::fraction(turns))))]))
                        }
                        @if let Some(bar) = set_to(v) {
                            (form.ticks(&Field::new("adjuster", v.t("field-pressure-stands")),
                                &[Choice::new("yes", v.say(&Message::new("pressure-stands").with("bar", show::bar_text(v.p, bar, 2))))]))
                        }
                        @if !undecided.is_empty() {
                            @let label = Message::new("field-undecided").with("tests", undecided.join(", "));
                            (form.text(&Field::new("reason", v.say(&label))))
                        }
                    }, "button-proof"))
                }
            }
        }
        (super::certificate::issued(v))
    }
}

/// Turns that the set-up left the adjuster at.
fn set_at(v: &View) -> Option<f64> {
    v.job.set_up()?.signed_off.as_ref()?.body.turns
}

/// Pressure that the set-up ended with, bar.
fn set_to(v: &View) -> Option<f64> {
    v.job.set_up()?.signed_off.as_ref()?.body.pressure_bar
}

/// The command of the sign-off form.
pub fn parse(kind: &str, typed: &Typed) -> Option<Command> {
    (kind == "proof-done").then(|| Command::SignOffProof {
        reason: typed.get("reason").to_owned(),
        adjuster_stands: typed.has("adjuster"),
    })
}
