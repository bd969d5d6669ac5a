//! What waits in the recordings folder, to be ticked where a recording is brought.

use calc::Message;
use jiff::Timestamp;
use maud::{Markup, html};

use crate::attachments::{self, PICKED};
use crate::job::view::View;
use crate::recordings::WaitingFile;
use crate::shell::{Choice, Field, Form};

/// Whether the job has the file already.
fn is_here(v: &View, file: &WaitingFile) -> bool {
    let hash = file.hash.as_ref();
    hash.is_some_and(|hash| v.job.files.iter().any(|f| f.body.sha256 == hash.as_str()))
}

/// How many files wait that the record does not keep yet.
pub(super) fn new(v: &View) -> usize {
    let files = v.waiting.iter().flat_map(|waiting| &waiting.files);
    files.filter(|file| !file.is_kept).count()
}

/// The files that wait, each to be ticked; what the job has already is left out.
pub(super) fn ticks(v: &View, form: &Form) -> Markup {
    let Some(waiting) = &v.waiting else {
        return html! {};
    };
    let here = waiting.files.iter().filter(|file| !is_here(v, file));
    let choices: Vec<Choice> = here.map(|file| choice(v, file)).collect();
    html! {
        @if let Some(why) = &waiting.trouble {
            p.note { (v.say(&Message::new("waiting-trouble").with("why", why.as_str()))) }
        }
        @if !choices.is_empty() {
            (form.ticks(&Field::new(PICKED, v.t("waiting-label")).hint(v.t("waiting-hint")), &choices))
        }
        @if waiting.more > 0 {
            p.hint { (v.say(&Message::new("waiting-more").with("count", waiting.more))) }
        }
    }
}

fn choice(v: &View, file: &WaitingFile) -> Choice {
    let written = file.written.and_then(|at| Timestamp::try_from(at).ok());
    let label = Message::new("waiting-file")
        .with("name", file.name.as_str())
        .with("size", attachments::size(v, file.bytes))
        .with("time", written.map_or(String::new(), |at| v.moment(at)));
    let choice = Choice::new(&file.name, v.say(&label));
    match file.is_kept {
        true => choice.hint(v.t("waiting-kept")),
        false => choice,
    }
}
