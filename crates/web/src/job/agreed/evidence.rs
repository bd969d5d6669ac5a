//! Entries of the job as evidence of a warranty verdict: picked in its form, named beside it, found again.

use calc::Message;
use maud::{Markup, html};
use shop::entry::Body;
use shop::warranty::{Evidence, Gone, cited, offered};

use crate::attachments;
use crate::forms::Typed;
use crate::job::log;
use crate::job::view::View;
use crate::shell::{Choice, Field, Form};

/// The list to pick an entry from, under `name`; `proposed` is the one that the record itself rests on.
pub fn pick(v: &View, form: &Form, name: &str, proposed: Option<u32>) -> Markup {
    let choice = |e: &Evidence| {
        let chosen = proposed == Some(e.version);
        Choice::new(e.version.to_string(), says(v, e)).chosen(chosen)
    };
    let choices: Vec<Choice> = offered(v.job).iter().map(choice).collect();
    form.select(&Field::new(name, v.t("field-evidence-entry")), &choices)
}

/// The entry that was picked under `name`; one that cannot be read is none that the job has.
pub fn picked(typed: &Typed, name: &str) -> Option<u32> {
    typed.filled(name).map(|raw| raw.parse().unwrap_or(0))
}

/// What `entry` says in short: `Photo of 21 Nov 10:52: worn teeth`.
fn says(v: &View, evidence: &Evidence) -> String {
    let moment = v.moment(evidence.at);
    let message = match &evidence.body {
        Body::FileAttached(file) if file.is_picture() => {
            let said = [&file.note, &file.name];
            let said = said.into_iter().find(|text| !text.is_empty());
            Message::new("evidence-photo").with("what", said.map_or("", String::as_str))
        }
        body => Message::new("evidence-entry").with("what", log::said(v, body)),
    };
    v.say(&message.with("moment", moment))
}

/// What became of the entry since, if it no longer counts.
fn gone(v: &View, evidence: &Evidence) -> Option<String> {
    evidence.gone.map(|gone| {
        v.t(match gone {
            Gone::Struck => "evidence-struck",
            Gone::PutRight => "evidence-put-right",
        })
    })
}

/// The evidence as papers print it: the words, the entry, and what became of that since.
pub fn text(v: &View, words: &str, entry: Option<u32>) -> String {
    let cited = entry.and_then(|version| cited(v.job, version));
    let entry = cited.as_ref().map(|e| says(v, e));
    let gone = cited.as_ref().and_then(|e| gone(v, e));
    let parts = std::iter::once(words.to_owned()).chain(entry).chain(gone);
    let parts: Vec<String> = parts.filter(|part| !part.is_empty()).collect();
    parts.join("; ")
}

/// The same on the page, where the entry leads to its place.
pub fn shown(v: &View, words: &str, entry: Option<u32>) -> Markup {
    let cited = entry.and_then(|version| cited(v.job, version));
    html! {
        // One piece: a row of the stacked table sets its pieces apart.
        span {
            (words)
            @if let Some(evidence) = cited {
                @if !words.is_empty() { "; " }
                a href=(place(&evidence)) { (says(v, &evidence)) }
                @if let Some(gone) = gone(v, &evidence) { " " b.rej { (gone) } }
            }
        }
    }
}

/// Where the page shows the entry: a photo or file at its stage, the rest in the job's record, which keeps
/// what was struck as well.
fn place(evidence: &Evidence) -> String {
    match (&evidence.body, evidence.gone) {
        (Body::FileAttached(_), None) => format!("#{}", attachments::place(evidence.version)),
        _ => format!("#{}", log::place(evidence.version)),
    }
}
