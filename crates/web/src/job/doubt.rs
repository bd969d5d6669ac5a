//! What a reader of the job must know of its gauges: one was found outside its limits after it took readings
//! here, or a calibration that corrected them counts no more.

use std::collections::BTreeMap;

use calc::Message;
use maud::{Markup, html};
use shop::entry::{Entry, InDoubt, PullsRead};
use shop::gauge::{Doubt, Use};
use shop::job::Stamped;

use super::view::View;
use crate::gauges;
use crate::show;

/// The gauges in doubt, each with the way to its page; nothing if there are none.
pub fn note(v: &View, entries: &[Entry]) -> Markup {
    let struck = |version| {
        v.job
            .struck
            .iter()
            .any(|(entry, _)| entry.version == version)
    };
    let mut by_gauge: BTreeMap<(String, u32), Use> = BTreeMap::new();
    for entry in entries.iter().filter(|entry| !struck(entry.version)) {
        for one in v.desk.shelf.doubted(&entry.body, v.day_of(entry.at)) {
            let key = (one.gauge.clone(), one.doubt.number());
            match by_gauge.get_mut(&key) {
                Some(known) => known.readings += one.readings,
                None => {
                    by_gauge.insert(key, one);
                }
            }
        }
    }
    lines(v, by_gauge.values())
}

/// The same of recorded pulls alone.
pub fn of_pulls(v: &View, read: &Stamped<PullsRead>) -> Markup {
    let uses = v.desk.shelf.doubted_pulls(&read.body, v.day_of(read.at));
    lines(v, uses.iter())
}

/// `doubts` under `said`, each by what was measured; nothing where there are none.
pub fn listed(v: &View, said: &str, doubts: &[InDoubt]) -> Markup {
    html! {
        @if !doubts.is_empty() {
            div.warn {
                (said)
                ul { @for doubt in v.job.doubts_said(doubts, &v.desk) { li { (v.say(&doubt)) } } }
            }
        }
    }
}

fn lines<'a>(v: &View, uses: impl Iterator<Item = &'a Use>) -> Markup {
    html! {
        @for one in uses {
            @let name = v.desk.shelf.gauge_in_force(&one.gauge).map_or(&one.gauge, |g| &g.name);
            @let said = match one.doubt {
                Doubt::Failed(failure) => Message::new("job-gauge-in-doubt").with("found", show::day(failure.found)),
                Doubt::Struck(number) => Message::new("job-calibration-struck").with("n", number),
            };
            @let said = said.with("gauge", name.as_str()).with("count", one.readings);
            p.warn {
                (v.say(&said)) " "
                a href=(gauges::path(&one.gauge)) { (v.t("job-gauge-in-doubt-link")) }
            }
        }
    }
}
