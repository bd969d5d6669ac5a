//! Suspect joints: what the owner must hear when a tool was found setting bad ones.

use calc::Message;
use maud::{Markup, html};
use shop::suspect::{Bad, Finding, Good, GoodCheck, Notice, Pulls, Record, SetFor, notice};

use super::view::View;
use super::{found_joint, names};
use crate::show;

/// The notice; `None` where nothing bad was found with the tool as it came.
pub fn of<'a>(v: &View<'a>) -> Option<Notice<'a>> {
    notice(&Record {
        earlier: &v.tool.earlier,
        this: v.job,
        inbox: v.tool.inbox.as_ref(),
        model: v.model,
        faults: v.faults,
        desk: v.desk,
    })
}

/// The block at the fault stage; nothing without a notice.
pub fn shown(v: &View) -> Markup {
    let Some(notice) = of(v) else {
        return html! {};
    };
    html! {
        h3 { (v.t("suspect-heading")) }
        p.warn { (v.t("suspect-lead")) small { (v.t("source-common")) } }
        dl.facts {
            dt { (v.t("suspect-found")) }
            dd {
                @for finding in &notice.findings {
                    div { (title(v, finding)) small { (v.moment(finding.at)) } }
                }
            }
            dt { (v.t("paper-suspect-last-good")) }
            dd { (since(v, notice.since)) }
            dt { (v.t("paper-suspect-pulls")) }
            dd { (pulls(v, notice.pulls)) }
            dt { (v.t("paper-suspect-set-for")) }
            dd {
                @if notice.set_for.is_empty() { (v.t("paper-suspect-set-for-unknown")) }
                @for set in &notice.set_for { div { (set_up(v, set)) } }
            }
            dt { (v.t("paper-suspect-inspect")) }
            dd {
                @for family in &notice.inspect {
                    div {
                        b { (family.name) }
                        @for c in &family.criteria {
                            small { (c.name) ": " (show::limits(v.p, &c.limits, c.unit.symbol())) }
                        }
                    }
                }
            }
        }
        p { (v.t("suspect-engineer")) }
        ul.papers { (link(v)) }
    }
}

/// The line that leads to the paper; nothing without a notice.
pub fn link(v: &View) -> Markup {
    let number = v.job.received.body.number;
    html! {
        @if of(v).is_some() {
            li { a href=(format!("/jobs/{number}/suspect-notice.pdf")) { (v.t("paper-link-suspect")) } }
        }
    }
}

/// What was found, in a line.
pub fn title(v: &View, finding: &Finding) -> String {
    let text = match finding.what {
        Bad::Joint(joint) => {
            let fastener = found_joint::fastener_name(v, joint);
            Message::new("found-joint").with("fastener", fastener)
        }
        Bad::Test(read) => {
            let test = v.model.bench_tests.iter().find(|t| t.id == read.test);
            let name = test.map_or(read.test.as_str(), |t| t.name.as_str());
            Message::new("suspect-test").with("test", name)
        }
        Bad::Pulls(pulls) => {
            let family = pulls.fastener.as_ref();
            let family = family.and_then(|pin| v.desk.shelf.fastener(&pin.into()));
            let name = family.map_or("", |family| family.name.as_str());
            Message::new("suspect-pulls-read").with("fastener", name)
        }
        Bad::Setting(answered) => {
            let check = v.faults.check(&answered.check);
            let yes = check.map_or(answered.check.as_str(), |c| c.yes.as_str());
            Message::new("suspect-setting").with("yes", yes)
        }
        Bad::Crew(sent) => {
            let family = v.desk.shelf.fastener(&(&sent.body.fastener).into());
            let name = family.map_or(sent.body.fastener.id.as_str(), |f| f.name.as_str());
            let seen = sent.body.seen.map(|seen| v.t(names::seen(seen)));
            Message::new("suspect-crew")
                .with("fastener", name)
                .with("seen", seen.unwrap_or_default())
        }
    };
    v.say(&text)
}

/// The last good check in words.
pub fn since(v: &View, since: Option<GoodCheck>) -> String {
    let Some(good) = since else {
        return v.t("suspect-never-good");
    };
    let day = show::day(good.at.to_zoned_datetime(v.zone.clone()).date());
    let what = match good.what {
        Good::Proof(job) => Message::new("suspect-good-proof").with("job", job.to_string()),
        Good::SetUp(job) => Message::new("suspect-good-set-up").with("job", job.to_string()),
        Good::Crew => Message::new("suspect-good-crew"),
    };
    let text = match good.counter {
        Some(counter) => Message::new("suspect-since").with("counter", counter),
        None => Message::new("suspect-since-uncounted"),
    };
    v.say(&text.with("what", what).with("day", day))
}

/// How many joints were set since then.
pub fn pulls(v: &View, pulls: Pulls) -> String {
    let text = match pulls {
        Pulls::Since(n) => Message::new("suspect-pulls").with("pulls", n),
        Pulls::AtMost(n) => Message::new("suspect-pulls-most").with("pulls", n),
        Pulls::All(n) => Message::new("suspect-pulls-all").with("pulls", n),
        Pulls::Anew { job, was } => match was {
            Some(was) => Message::new("suspect-pulls-anew").with("was", was),
            None => Message::new("suspect-pulls-anew-uncounted"),
        }
        .with("job", job.to_string()),
        Pulls::Unknown => Message::new("suspect-pulls-unknown"),
    };
    v.say(&text)
}

fn set_up(v: &View, set: &SetFor) -> String {
    let day = show::day(set.at.to_zoned_datetime(v.zone.clone()).date());
    let name = match set.code {
        "" => set.family.name.clone(),
        code => {
            let code = v.say(&Message::new("code-of").with("code", code));
            format!("{}, {code}", set.family.name)
        }
    };
    format!("{name}; {}, {day}", whence(v, set))
}

/// Where it was set up.
pub fn whence(v: &View, set: &SetFor) -> String {
    match set.job {
        Some(job) => v.say(&Message::new("suspect-in-job").with("job", job.to_string())),
        None => v.t("suspect-by-crew"),
    }
}
