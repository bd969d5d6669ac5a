//! The quote on paper.

use calc::Message;
use paper::model::{Quote, QuoteLine, QuoteOption};
use rust_decimal::Decimal;
use shop::entry::{EstimateMade, OptionKind};
use shop::estimate::line_total;
use shop::quote::{Replaced, bill, is_covered, options, sum_of_option, tax_percent};

use crate::job::Loaded;
use crate::job::agreed;
use crate::job::view::View;
use crate::show;

/// The quote that is in force in `v`; `None` before there is one. `by` is what has replaced it since.
pub fn quote(v: &View, loaded: &Loaded, by: Option<Replaced>) -> Option<Quote> {
    let made = v.job.estimate.as_ref()?;
    let quote = &made.body;
    let r = &v.job.received.body;
    let warranty = v.job.warranty.as_ref().map(|w| &w.body);
    let bill = bill(quote, warranty, &[0]);
    let amount = |d: Decimal| format!("{d:.2} {}", quote.currency);
    let covered = (!bill.covered.is_zero()).then(|| {
        let said = Message::new("quote-covered").with("sum", amount(bill.covered));
        (v.say(&said), amount(bill.to_pay))
    });
    let (warranty, to_pay) = covered.unwrap_or_default();
    let found = v.job.cause.as_ref().map(|c| v.causes_text(&c.body));
    Some(Quote {
        shop: super::shop(v),
        number: format!("{}-Q{}", r.number, quote.revision),
        revision: quote.revision.to_string(),
        replaced: by.map_or(String::new(), |by| agreed::replaced_text(v, &by)),
        job: r.number.to_string(),
        customer: v.person(&r.customer),
        tool: super::tool(v),
        complaint: r.complaint.clone(),
        found: found.into_iter().collect(),
        issued_on: super::printed(v, made.at),
        valid_until: quote.valid_until.map(show::day).unwrap_or_default(),
        changed: agreed::changes_text(v, quote),
        options: (0..options(quote).len())
            .map(|at| option(v, quote, at))
            .collect(),
        warranty,
        to_pay,
        compared: agreed::compared(v).0,
        note: quote.note.clone(),
        answer: v
            .job
            .answer
            .as_ref()
            .map(|a| agreed::how(v, &a.body))
            .unwrap_or_default(),
        record: super::head(loaded),
        issued: super::issued(v, made.at),
    })
}

fn option(v: &View, quote: &EstimateMade, at: usize) -> QuoteOption {
    let option = &options(quote)[at];
    let warranty = v.job.warranty.as_ref().map(|w| &w.body);
    let sums = sum_of_option(quote, at);
    let lines = quote.lines.iter().filter(|line| line.option == at);
    let discount = quote.discount.as_ref().map(|discount| {
        let said = Message::new("quote-discount")
            .with("percent", discount.percent.normalize().to_string())
            .with("reason", discount.reason.as_str());
        (v.say(&said), format!("{:.2}", -sums.discount))
    });
    let answer = v.job.answer.as_ref().map(|a| &a.body);
    QuoteOption {
        letter: char::from_u32(u32::from('A') + u32::try_from(at).unwrap_or(0))
            .unwrap_or('A')
            .to_string(),
        name: agreed::option_name(v, option),
        means: match option.kind {
            OptionKind::Work => String::new(),
            OptionKind::AddOn => v.t("quote-kind-add-on"),
            OptionKind::Instead => v.t("quote-kind-instead"),
        },
        lines: lines
            .map(|line| QuoteLine {
                what: line.what.clone(),
                number: line.number.clone(),
                count: line.count.normalize().to_string(),
                each: format!("{:.2}", line.each),
                tax: format!("{} %", tax_percent(quote, line).normalize()),
                sum: format!("{:.2}", line_total(line)),
                covered: warranty.is_some_and(|w| is_covered(quote, line, w)),
            })
            .collect(),
        discount: discount.unwrap_or_default(),
        net: format!("{:.2}", sums.net),
        tax: format!("{:.2}", sums.tax),
        total: format!("{:.2} {}", sums.gross, quote.currency),
        answer: match answer {
            Some(a) if a.options.is_empty() => Some(a.yes),
            Some(a) => a.options.get(at).copied(),
            None => None,
        },
    }
}
