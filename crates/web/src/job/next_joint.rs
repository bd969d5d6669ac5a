//! What a set-up asks for after its last joint: sign off, another joint, a turn, or a stop.

use calc::Message;
use calc::trial_loop::Ruling;
use calc::zero_failure;
use maud::{Markup, html};
use shop::entry::TrialJointRead;
use shop::job::{SetUp, SetUpSheets};
use shop::joint::Advice;
use shop::setting::turn_for;
use shop::trial::{self, TARGET, Told, Trial};

use super::may_be;
use super::view::View;
use crate::show;

/// Stops that name their cause themselves: the pressure, and no adjuster.
const PRESSURE: [&str; 2] = ["joint-more-pressure", "joint-less-pressure"];

/// How much likelier a good joint must be at half a step before that is worth a line.
const FINER_HELPS: f64 = 0.005;

/// The same where the loop ends.
const FINER_SHOWS: f64 = 0.0005;

/// The answer, its reason, and its working.
pub fn section(
    v: &View,
    set_up: &SetUp,
    s: &SetUpSheets,
    last: &TrialJointRead,
    told: &Told,
) -> Markup {
    let Some(advice) = &told.advice else {
        return html! {};
    };
    let trial = told.trial.as_ref();
    html! {
        div.answer {
            p.lab { (v.t("joint-next")) }
            @match (advice, trial) {
                (Advice::Keep, Some(trial)) => { (sign(v, trial, last.turns)) }
                (Advice::Keep, None) => { (keep(v, set_up)) }
                (Advice::Again, Some(_)) => { p.mid { (v.t("joint-one-more")) } }
                (Advice::Again, None) => { p.mid { (v.t("joint-again")) } }
                (Advice::Change { effect, by_turns, to_turns }, _) => {
                    p.big { (v.say(&Message::new("joint-set").with("turns", paper::fraction(*to_turns)))) }
                    p { (show::change(v.p, *by_turns, turn_for(s.model, *effect))) }
                    @if trial.is_some() && last.readings.is_empty() { p.pm { (v.t("joint-edge")) } }
                    (v.setting_caution())
                }
                (Advice::Stop(why), _) => { p.mid { (v.t("joint-stop")) } p { (v.say(why)) } }
            }
            @match (advice, trial) {
                (Advice::Stop(_), Some(trial)) => { (show::working(v.p, &trial.working)) }
                (_, Some(trial)) => { (reason(v, trial, set_up.good_in_a_row())) }
                (_, None) => {}
            }
            @if let Advice::Stop(why) = advice {
                @if !PRESSURE.contains(&why.id) { (may_be::shown(v, s.fastener, last)) }
            }
        }
    }
}

/// A share in percent, never rounded up to a certainty.
fn percent(share: f64) -> f64 {
    (share * 1e4).floor() / 100.0
}

/// The probability of a good joint, as written.
pub fn percent_text(v: &View, share: f64) -> String {
    v.say(&Message::new("joint-percent").number("percent", percent(share), 2))
}

fn sign(v: &View, trial: &Trial, turns: Option<f64>) -> Markup {
    let next = &trial.next;
    let of_joints = Message::new("joint-inside")
        .with("turns", turns.map(paper::fraction).unwrap_or_default())
        .with("criterion", trial.criterion.as_str());
    html! {
        p.big { (percent_text(v, next.inside)) }
        p.pm { (v.say(&of_joints)) }
        p.mid { (v.t("joint-sign")) }
        @if next.ruling == Ruling::NotWorthIt {
            @if next.inside_finer > next.inside + FINER_SHOWS {
                p { (v.say(&Message::new("joint-steps-limit").with("percent", percent_text(v, next.inside_finer)))) }
            } @else { p { (v.t("joint-not-worth-it")) } }
        }
    }
}

fn keep(v: &View, set_up: &SetUp) -> Markup {
    let good = set_up.good_in_a_row();
    html! {
        p.mid { (v.t("joint-keep")) }
        @if let Ok(share) = zero_failure::proven_share(good, 0.95) {
            p.pm { (v.say(&Message::new("joint-proven").with("n", good).number("percent", share * 100.0, 0))) }
            (show::working(v.p, &zero_failure::working(good)))
        }
    }
}

fn reason(v: &View, trial: &Trial, good: usize) -> Markup {
    let next = &trial.next;
    let so_far = Message::new("joint-so-far")
        .number("percent", percent(next.inside), 2)
        .number("target", 100.0 * TARGET, 1)
        .with("further", next.further.ceil() as usize);
    let after_bad = Message::new("joint-after-bad")
        .with("have", good)
        .with("need", trial::GOOD_AFTER_BAD);
    let odd: Vec<String> = trial.odd.iter().map(ToString::to_string).collect();
    html! {
        @let turns = matches!(next.ruling, Ruling::Another { steps } if steps != 0);
        @if trial.is_doubted && !turns { p.pm { (v.say(&after_bad)) } }
        @else if !trial.is_enough() { p.pm { (v.say(&so_far)) } }
        @if !trial.is_enough() && next.inside_finer > next.inside + FINER_HELPS {
            p { (v.say(&Message::new("joint-coarse").number("percent", percent(next.inside_finer), 2))) }
        }
        @if !odd.is_empty() { p.warn { (v.say(&Message::new("joint-odd").with("joints", odd.join(", ")))) } }
        (show::working(v.p, &trial.working))
    }
}
