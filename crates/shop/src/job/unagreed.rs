//! A part that goes in without the customer's yes: who agreed to it after all, or why the shop pays.

use super::Job;
use crate::entry::Cover;
use crate::quote::accepted;
use crate::sheet::Part;

impl Job {
    /// Whether nobody agreed to `part`, which goes in as `number`: there is a quote, and no accepted option of it
    /// names the part. Not asked are parts that are renewed once disturbed, for no rebuild does without them, and
    /// those that a warranty pays.
    pub fn is_unagreed(&self, part: &Part, number: &str) -> bool {
        let Some(quote) = self.estimate.as_ref().map(|e| &e.body) else {
            return false;
        };
        let is_it = |named: &str| {
            let named = named.trim();
            named.eq_ignore_ascii_case(&part.number)
                || (!named.is_empty() && named.eq_ignore_ascii_case(number.trim()))
        };
        let accepted = accepted(quote, self.answer.as_ref().map(|a| &a.body));
        let mut lines = quote.lines.iter();
        let is_agreed = lines.any(|line| accepted.contains(&line.option) && is_it(&line.number));
        let is_covered = self.warranty.as_ref().map(|w| &w.body).is_some_and(|w| {
            let mut lines = w.lines.iter().filter(|l| l.cover == Cover::Covered);
            lines.any(|line| line.part == part.id)
                || (w.lines.is_empty() && w.cover == Cover::Covered)
        });
        !part.renew && !is_agreed && !is_covered
    }
}
