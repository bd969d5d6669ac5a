//! Files at their stage, and the form that adds to them.

use calc::Message;
use maud::{Markup, html};
use shop::entry::FileAttached;
use shop::job::{Stage, Stamped};
use store::MOST_BYTES;

use super::KIND;
use super::attach::named_kept;
use crate::assets;
use crate::job::correct;
use crate::job::rebuilt::{step, step_name};
use crate::job::view::{Refused, View};
use crate::shell::{Choice, Field};

/// What is picked from the disk: endings for desks, kinds for phones.
const TAKEN: &str = ".jpg,.jpeg,.png,.webp,.pdf,.txt,.csv,\
    image/jpeg,image/png,image/webp,application/pdf,text/plain,text/csv";

/// The files of `stage`, and the form where the stage is open.
pub(crate) fn section(v: &View, stage: Stage) -> Markup {
    html! {
        @if v.job.files_at(stage).next().is_some() {
            ul.files { @for file in v.job.files_at(stage) { li id=(place(file.version)) { (one(v, file)) } } }
        }
        @if v.job.is_open(stage) { (form(v, stage)) }
    }
}

/// Whether the form of `kind` that was refused adds files to `stage`.
fn is_refused_at(refused: &Refused, kind: &str, stage: Stage) -> bool {
    refused.typed.get("kind") == kind && refused.typed.get("stage") == stage.key()
}

/// The files that were kept while the form of `kind` at `stage` was refused: they need not be sent again.
pub(crate) fn kept_again(v: &View, kind: &str, stage: Stage) -> Markup {
    let again = v.refused.filter(|r| is_refused_at(r, kind, stage));
    let kept: Vec<_> = again
        .iter()
        .flat_map(|refused| named_kept(&refused.typed))
        .collect();
    html! {
        @if !kept.is_empty() {
            p.hint { (v.t("file-kept")) }
            ul {
                @for (hash, name) in &kept {
                    li {
                        (name)
                        input type="hidden" name="kept" value={ (hash) " " (name) };
                    }
                }
            }
        }
    }
}

/// The id of the place of the file of entry `version` on the job's page.
pub(crate) fn place(version: u32) -> String {
    format!("file-{version}")
}

fn one(v: &View, file: &Stamped<FileAttached>) -> Markup {
    let (number, body) = (v.job.received.body.number, &file.body);
    let address = format!("/jobs/{number}/files/{}", file.version);
    let shown = if body.note.is_empty() {
        &body.name
    } else {
        &body.note
    };
    html! {
        figure {
            a href=(address) {
                @if body.is_picture() {
                    img src={ (address) "/thumbnail" } alt=(shown) loading="lazy";
                } @else {
                    span.file { (body.name) }
                }
            }
            figcaption {
                @if !body.note.is_empty() { b { (body.note) } }
                @if !body.step.is_empty() { small { (step_name(v, &body.step)) } }
                small { (body.name) ", " (size(v, body.bytes)) }
                small { (v.stamp(file.at, &file.by)) }
            }
        }
        (correct::strike(v, file.version))
    }
}

fn form(v: &View, stage: Stage) -> Markup {
    let id = format!("file-{}", stage.key());
    let form = v.form(&id);
    let hint = Message::new("file-hint").number("most", MOST_BYTES as f64 / 1e6, 0);
    let action = format!("/jobs/{}/{KIND}", v.job.received.body.number);
    let version = Some(u64::from(v.job.version));
    html! {
        details.add-file open[v.is_refused(&id)] {
            summary { (v.t("file-summary")) }
            (form.wrap_files(&action, version, html! {
                input type="hidden" name="stage" value=(stage.key());
                (kept_again(v, KIND, stage))
                @if stage == Stage::Rebuilt && let Some(steps) = v.job.route_steps(v.model) {
                    @let choices: Vec<Choice> = steps.iter().map(|s| Choice::new(&s.id, step::title(v, s))).collect();
                    (form.select(&Field::new("step", v.t("field-file-step")), &choices))
                }
                (form.text(&Field::new("note", v.t("field-file-note"))))
                (form.files(&Field::new("file", v.t("field-file")).hint(v.say(&hint)), TAKEN))
                div.camera { (form.camera(&Field::new("camera", v.t("field-camera")))) }
                div.buttons { button { (v.t("button-file")) } }
            }))
            script type="module" src=(assets::url("files.js")) {}
        }
    }
}

/// `340 KB`, `2.4 MB`.
pub(crate) fn size(v: &View, bytes: u64) -> String {
    v.say(&match bytes {
        0..1_000_000 => Message::new("file-size-kb").number("size", (bytes as f64 / 1e3).ceil(), 0),
        _ => Message::new("file-size-mb").number("size", bytes as f64 / 1e6, 1),
    })
}
