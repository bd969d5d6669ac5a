//! Verdicts: a word, a shape and a colour.

use calc::decision::Verdict;
use maud::{Markup, html};

use crate::shell::Page;

/// A verdict as a chip.
pub fn chip(p: &Page, verdict: Verdict) -> Markup {
    let class = match verdict {
        Verdict::Accept => "v acc",
        Verdict::Undecided => "v und",
        Verdict::Reject => "v rej",
    };
    html! { span class=(class) { (p.words.term(verdict)) } }
}
