//! Agreed: warranty verdict, quote, the customer's answer.

mod answer;
mod compared;
mod evidence;
mod quote;
mod quote_form;
mod warranty;
mod warranty_form;

use jiff::civil::Date;
use maud::{Markup, html};
use shop::job::{Command, Job, Stage};

use super::post::People;
use super::view::View;
use crate::forms::{FieldErrors, Typed};

pub use answer::how;
pub use compared::texts as compared;
pub use evidence::text as evidence_text;
pub use quote::{changes_text, option_name, replaced_text};
pub use warranty::{missing, missing_texts, part_name, without};

/// The section.
pub fn section(v: &View) -> Markup {
    let may_change = v.job.is_open(Stage::Agreed);
    let open = may_change && v.job.answer.is_none();
    html! {
        (warranty::section(v, open))
        h3 { (v.t("estimate-heading")) }
        @if open && v.job.warranty.is_none() { p.hint { (v.t("estimate-after-warranty")) } }
        @if let Some(e) = &v.job.estimate {
            (quote::made(v, e))
            (super::correct::strike(v, e.version))
            (compared::section(v))
        }
        @if may_change && v.job.warranty.is_some() { (quote_form::form(v)) }
        @match &v.job.answer {
            Some(a) => { (answer::given(v, a)) }
            None => { @if open && v.job.estimate.is_some() && v.job.warranty.is_some() { (answer::form(v)) } }
        }
        (super::ends::forms(v))
    }
}

fn received_on(v: &View) -> Date {
    v.job.received.at.to_zoned_datetime(v.zone.clone()).date()
}

/// Whether the page of `job` proposes labour: until there is an answer to a quote. A later revision is
/// about parts; its hours stand.
pub fn proposes_labour(job: &Job) -> bool {
    job.is_open(Stage::Agreed) && job.warranty.is_some() && job.answer.is_none()
}

/// Whether the form rests on earlier jobs of the tool.
pub fn asks_for_the_past(kind: &str) -> bool {
    matches!(kind, "warranty" | "estimate")
}

/// The commands of this section's forms. `people` are the names typed into an answer.
pub fn parse(
    kind: &str,
    typed: &Typed,
    v: &View,
    people: &People,
    errors: &mut FieldErrors,
) -> Option<Command> {
    match kind {
        "warranty" => warranty_form::parse(typed, v, errors),
        "estimate" => Some(quote_form::parse(typed, v, errors)),
        "answer" => Some(answer::parse(typed, v, people, errors)),
        _ => None,
    }
}
