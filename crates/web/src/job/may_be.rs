//! What a joint that no turn of the adjuster mends may come from: the fault-finder, told of this joint alone.

use calc::Message;
use maud::{Markup, html};
use shop::diagnosis::{Seen, diagnose, percent};
use shop::entry::TrialJointRead;
use shop::sheet::FastenerFamily;

use super::view::View;

/// Causes that are shown.
const SHOWN: usize = 3;

/// The likeliest causes and the check that tells them apart; nothing where the joint shows no symptom that
/// the fault model knows. The rest of the job is left out: what was mended says nothing of this joint.
pub fn shown(v: &View, fastener: &FastenerFamily, joint: &TrialJointRead) -> Markup {
    let read = (joint.readings.as_slice(), joint.seen);
    let seen = Seen::of_joint(v.job, v.faults, v.model, fastener, read, &v.desk);
    let found = diagnose(v.faults, v.model.drive, &seen);
    let Some(found) = found.filter(|_| !seen.symptoms.is_empty() || !seen.checks.is_empty()) else {
        return html! {};
    };
    let name = |cause: Option<&shop::sheet::Cause>| {
        cause.map_or_else(|| v.t("cause-unlisted"), |cause| cause.text.clone())
    };
    html! {
        h3 { (v.t("joint-may-be")) }
        ol.bars {
            @for ranked in found.ranked.iter().take(SHOWN) {
                li {
                    details {
                        summary {
                            span.what { (name(ranked.cause)) }
                            meter min="0" max="1" value=(format!("{:.4}", ranked.probability)) aria-label=(name(ranked.cause)) {}
                            b.n { (percent(ranked.probability)) }
                        }
                        @if let Some(cause) = ranked.cause { p { b { (v.t("cause-action")) } " " (cause.action) } }
                    }
                }
            }
        }
        @if let Some(next) = found.open.first() {
            p { (v.say(&Message::new("joint-look-next").with("check", next.check.text.as_str())
                .number("minutes", next.check.minutes, 0))) }
            @if next.check.state.energised() { (v.running_caution()) }
        }
    }
}
