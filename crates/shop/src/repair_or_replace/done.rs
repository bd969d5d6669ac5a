//! What of a quote is done to the tool: what that renews, and what the customer pays for it.

use rust_decimal::Decimal;

use crate::entry::{EstimateMade, OptionKind, PriceLine};
use crate::job::Job;
use crate::quote::{is_covered, kind_of, options, sum_of, sum_of_option};
use crate::sheet::{Part, ToolModel};

/// The options of a quote that are done to the tool.
pub(super) struct Done<'a> {
    quote: &'a EstimateMade,
    options: Vec<usize>,
}

impl<'a> Done<'a> {
    /// The repair alone.
    pub fn repair(quote: &'a EstimateMade) -> Self {
        Self {
            quote,
            options: vec![0],
        }
    }

    /// The repair, and what goes along with it where a part of that was renewed in `job` already: it is in the tool,
    /// so it is paid for.
    pub fn by_now(job: &Job, quote: &'a EstimateMade, model: &ToolModel) -> Self {
        let is_in = |line: &PriceLine| {
            let renewed = job.replaced.iter();
            let mut parts = renewed.filter_map(|r| model.part(&r.body.part));
            parts.any(|part| is_of(line, part))
        };
        let begun = |option: &usize| {
            let mut lines = quote.lines.iter().filter(|line| line.option == *option);
            lines.any(|line| kind_of(quote, line) == OptionKind::AddOn && is_in(line))
        };
        let more = (1..options(quote).len()).filter(begun);
        Self {
            quote,
            options: std::iter::once(0).chain(more).collect(),
        }
    }

    /// Whether they renew `part`.
    pub fn renews(&self, part: &Part) -> bool {
        let lines = self.quote.lines.iter();
        let mut lines = lines.filter(|line| self.options.contains(&line.option));
        lines.any(|line| is_of(line, part))
    }

    /// What the customer pays for them, before tax.
    pub fn paid(&self, job: &Job) -> Decimal {
        let warranty = job.warranty.as_ref().map(|w| &w.body);
        let covered = |line: &PriceLine| warranty.is_some_and(|w| is_covered(self.quote, line, w));
        let is_paid = |line: &PriceLine| self.options.contains(&line.option) && !covered(line);
        sum_of(self.quote, is_paid).net
    }

    /// The currency.
    pub fn currency(&self) -> &str {
        &self.quote.currency
    }
}

/// At what price `quote` offers something in place of the repair, before tax; `None` where it does not.
pub(super) fn offered(quote: &EstimateMade) -> Option<Decimal> {
    let mut all = quote.options.iter();
    let instead = all.position(|option| option.kind == OptionKind::Instead)?;
    Some(sum_of_option(quote, instead).net)
}

fn is_of(line: &PriceLine, part: &Part) -> bool {
    line.number.trim().eq_ignore_ascii_case(&part.number)
}
