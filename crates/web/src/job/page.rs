//! The job page: head, stage spine, the seven sections in the order of the work.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{Body, Entry, Phase};
use shop::job::{Stage, Standing};

use super::News;
use super::view::View;
use super::{
    agreed, correct, doubt, fault, log, names, pause, proved, rebuilt, received, returned, set_up,
};
use crate::attachments;
use crate::pulls;
use crate::shell;
use crate::show;

/// The page's title.
pub fn title(v: &View) -> String {
    v.say(&Message::new("job-title").with("n", v.job.received.body.number.to_string()))
}

/// The page, with what the reader must know first.
pub fn body(v: &View, entries: &[Entry], news: News) -> Markup {
    html! {
        div.sheet data-work=(worked_to(entries)) {
            aside { (spine(v)) }
            article {
                (head(v))
                @if news.repeated { p.note role="status" { (v.t("form-repeated")) } }
                (conflict(v, news))
                @if news.form_gone { (gone(v, news.since.is_empty())) }
                (pause::waiting(v))
                (doubt::note(v, entries))
                @for stage in Stage::ALL { (section(v, stage)) }
                section.stage #history {
                    (correct::struck(v))
                    (log::history(v, entries))
                }
            }
        }
    }
}

/// The entry that the work stands at: what is written beside it moves no reading that somebody is typing.
fn worked_to(entries: &[Entry]) -> u32 {
    let beside = |entry: &&Entry| {
        matches!(
            entry.body,
            Body::FileAttached(_) | Body::Waiting(_) | Body::Resumed(_) | Body::StepTimed(_)
        )
    };
    let work = entries.iter().rev().find(|entry| !beside(entry));
    work.map_or(0, |entry| entry.version)
}

fn spine(v: &View) -> Markup {
    html! {
        nav aria-label=(v.t("spine-label")) {
            ol.rule {
                @for stage in Stage::ALL {
                    @let standing = v.job.standing(stage);
                    li class=(standing_class(standing)) {
                        a href={ "#" (stage.key()) } aria-current=[(standing == Standing::Now).then_some("step")] {
                            b { (v.t(names::stage(stage))) }
                            small { (v.t(names::standing(standing))) }
                        }
                    }
                }
            }
        }
    }
}

fn standing_class(standing: Standing) -> &'static str {
    match standing {
        Standing::Done => "done",
        Standing::Skipped => "skipped",
        Standing::Now => "now",
        Standing::Ahead => "next",
    }
}

fn head(v: &View) -> Markup {
    let r = &v.job.received.body;
    let tool = Message::new("job-tool")
        .with("model", v.model.name.as_str())
        .with("serial", r.serial.as_str());
    html! {
        div.head {
            div {
                p.kick { (title(v)) " · " (v.person(&r.customer)) }
                h1 { (show::unbroken(&v.say(&tool))) }
                p.sub {
                    (v.drive()) ", " (calc::working::fixed(v.model.rated_pull_kn, 0)) " kN"
                    @if let Some(n) = r.counter { " · " (v.say(&Message::new("pulls").with("pulls", n))) }
                    " · " a href=(format!("/tools/{}", r.tool)) { (v.t("job-tool-history")) }
                }
            }
            @if let (Some(due), None) = (r.due, &v.job.returned) {
                div.due {
                    b { (v.t("due")) " " (show::day(due)) }
                    small { (show::days_left(v.p, due, v.desk.today)) }
                }
            }
        }
    }
}

/// What was written meanwhile.
fn conflict(v: &View, news: News) -> Markup {
    let since = news.since;
    let where_typed = if news.form_gone {
        "conflict-gone"
    } else {
        "conflict-text"
    };
    html! {
        @if !since.is_empty() {
            div.error-summary role="alert" tabindex="-1" autofocus {
                h2 { (v.t("conflict-heading")) }
                p { (v.t(where_typed)) }
                ul {
                    @for entry in since {
                        li { (log::line(v, entry)) " " small { (v.stamp(entry.at, &entry.by)) } }
                    }
                }
            }
        }
    }
}

/// What was typed into a form that the job has no place for any more.
fn gone(v: &View, says_so: bool) -> Markup {
    let Some(refused) = v.refused else {
        return html! {};
    };
    let kind = refused.typed.get("kind");
    let action = format!("/jobs/{}/{kind}", v.job.received.body.number);
    let typed = refused
        .typed
        .clone()
        .set("version", v.job.version.to_string());
    html! {
        div.warn {
            @if says_so { p { (v.t("form-gone")) } }
            (shell::typed_again(v.p, &action, &typed))
        }
    }
}

/// Whether the form `id` is in `body`.
pub fn holds(body: &Markup, id: &str) -> bool {
    !id.is_empty() && body.0.contains(&format!("<form id=\"{id}\""))
}

fn section(v: &View, stage: Stage) -> Markup {
    let standing = v.job.standing(stage);
    let content = match stage {
        Stage::Received => received::section(v),
        Stage::Fault => fault::section(v),
        Stage::Agreed => agreed::section(v),
        Stage::Rebuilt => html! { (rebuilt::skipped(v, stage)) (rebuilt::section(v)) },
        Stage::SetUp => html! { (rebuilt::skipped(v, stage)) (set_up::section(v)) },
        Stage::Proved => html! { (rebuilt::skipped(v, stage)) (proved::section(v)) },
        Stage::Returned => returned::section(v),
    };
    let recorded = match stage {
        Stage::Fault => pulls::section(v, Phase::AsFound),
        _ => html! {},
    };
    let content = html! { (content) (recorded) (attachments::section(v, stage)) };
    let folded = match standing {
        Standing::Done | Standing::Skipped => !holds_refused(v, &content),
        Standing::Now | Standing::Ahead => false,
    };
    html! {
        section id=(stage.key()) class=(format!("stage {}", standing_class(standing))) {
            @if standing == Standing::Ahead {
                h2 { (v.t(names::stage(stage))) }
                p.stage-note { (v.t("stage-ahead")) }
            } @else if standing == Standing::Now {
                h2 { (v.t(names::stage(stage))) }
                (content)
            } @else {
                // The end of a job stays in sight: its papers are what the page is opened for.
                details.stage-done open[!folded || stage == Stage::Returned] {
                    summary { h2 { (v.t(names::stage(stage))) } small { (v.t(names::standing(standing))) } }
                    (content)
                }
            }
        }
    }
}

/// Whether the form that was refused stands in `content`.
fn holds_refused(v: &View, content: &Markup) -> bool {
    v.refused
        .is_some_and(|r| holds(content, r.typed.get("form")))
}
