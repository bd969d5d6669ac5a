//! Recorded pulls at their stage: what counts, what is still to be looked at, and the form that brings a recording.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{FileAttached, Phase, PullsRead};
use shop::job::Stamped;
use store::MOST_RECORDING_BYTES;

use super::{BRING, answer, stage_of, waiting};
use crate::assets;
use crate::attachments;
use crate::job::correct;
use crate::job::view::View;
use crate::shell::{Choice, Field, Form};

/// Endings of files that loggers write, and kinds for phones.
const TAKEN: &str = ".csv,.tsv,.txt,.dat,.asc,.log,text/csv,text/plain,text/tab-separated-values";

/// The recorded pulls of `phase`; nothing where there are none and none can be taken.
pub(crate) fn section(v: &View, phase: Phase) -> Markup {
    let stage = stage_of(phase);
    let takes = v.job.takes_pulls(phase, &v.desk) && v.job.is_open(stage);
    let counted: Vec<_> = v.job.pulls_in(phase).collect();
    let used = |file: &FileAttached| counted.iter().any(|p| p.body.sha256 == file.sha256);
    let open: Vec<_> = v
        .job
        .files_at(stage)
        .filter(|file| is_recording(&file.body) && !used(&file.body) && takes)
        .collect();
    html! {
        @if takes || !counted.is_empty() {
            div id=(place(phase)) {
                h3 { (v.t("pulls-heading")) }
                @for read in &counted { (one(v, read)) }
                @for file in open {
                    p.note {
                        a href=(address(v, file.version)) {
                            (v.say(&Message::new("pulls-look").with("name", file.body.name.as_str())))
                        }
                    }
                }
                @if takes { (form(v, phase)) }
            }
        }
    }
}

/// Where the recorded pulls of `phase` stand on the job page.
pub(super) fn place(phase: Phase) -> &'static str {
    match phase {
        Phase::AsFound => "pulls-as-found",
        Phase::AsLeft => "pulls-as-left",
    }
}

/// Whether a file can hold a recording.
fn is_recording(file: &FileAttached) -> bool {
    matches!(file.media_type.as_str(), "text/csv" | "text/plain")
}

fn address(v: &View, version: u32) -> String {
    format!("/jobs/{}/pulls/{version}", v.job.received.body.number)
}

fn one(v: &View, read: &Stamped<PullsRead>) -> Markup {
    let body = &read.body;
    let there = address(v, read.version);
    let label = Message::new("pull-plot-label")
        .with("count", body.pulls.len())
        .with("name", body.name.as_str());
    html! {
        div.result {
            p.what { (body.name) " " small { (v.stamp(read.at, &read.by)) } }
            (answer::answer(v, body))
            a href=(there) { img.pull-plot src={ (there) "/plot.svg" } alt=(v.say(&label)) loading="lazy" width="420" height="300"; }
            p { a href=(there) { (v.t("pulls-whole")) } }
            @if !body.note.is_empty() { p { (body.note) } }
            (correct::strike(v, read.version))
        }
    }
}

/// The form that brings recordings: a plain box for files, onto which they can be dragged.
fn form(v: &View, phase: Phase) -> Markup {
    let stage = stage_of(phase);
    let id = format!("{BRING}-{}", stage.key());
    let form = v.form(&id);
    let action = format!("/jobs/{}/{BRING}", v.job.received.body.number);
    let version = Some(u64::from(v.job.version));
    let kept = attachments::kept_again(v, BRING, stage);
    let new = waiting::new(v);
    let summary = match new {
        0 => v.t("pulls-bring"),
        new => v.say(&Message::new("pulls-bring-waiting").with("count", new)),
    };
    let most = MOST_RECORDING_BYTES as f64 / 1e6;
    let hint = Message::new("pulls-bring-hint").number("most", most, 0);
    html! {
        details.add-pulls open[new > 0 || v.is_refused(&id)] {
            summary { (summary) }
            p.hint { (v.say(&hint)) }
            (form.wrap_files(&action, version, html! {
                input type="hidden" name="stage" value=(stage.key());
                (kept)
                (waiting::ticks(v, &form))
                (choices(v, &form, "", ""))
                (form.files(&Field::new("file", v.t("pulls-file")), TAKEN))
                div.buttons { button { (v.t("pulls-read")) } }
            }))
            script type="module" src=(assets::url("files.js")) {}
        }
    }
}

/// Rig and fastener to pick, as known.
pub(super) fn choices(v: &View, form: &Form, rig: &str, fastener: &str) -> Markup {
    let only = v.desk.shelf.rigs().count() == 1 && rig.is_empty();
    let rigs: Vec<Choice> = v
        .desk
        .shelf
        .rigs()
        .map(|(_, sheet)| Choice::new(&sheet.id, &sheet.name).chosen(only || sheet.id == rig))
        .collect();
    let fasteners: Vec<Choice> = v
        .desk
        .shelf
        .settable(v.model)
        .map(|(_, sheet)| Choice::new(&sheet.id, &sheet.name).chosen(sheet.id == fastener))
        .collect();
    html! {
        (form.select(&Field::new("rig", v.t("pulls-rig")).hint(v.t("pulls-rig-hint")), &rigs))
        (form.select(&Field::new("fastener", v.t("pulls-fastener")).hint(v.t("pulls-fastener-hint")), &fasteners))
    }
}
