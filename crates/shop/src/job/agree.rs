//! Warranty verdict, estimate, the customer's answer.

use calc::Message;
use jiff::civil::Date;
use rust_decimal::Decimal;

use super::refusal::{Refusals, needed, nth, refuse, refuse_all};
use super::{Desk, Job, Stage};
use crate::entry::{
    Body, Cover, CustomerAnswered, EstimateMade, PersonKey, PriceLine, WarrantyJudged,
};

/// The customer's answer, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct AnswerIn {
    /// Yes or no; `None` if neither was picked.
    pub yes: Option<bool>,
    /// Who said it; `None` if not typed.
    pub name: Option<PersonKey>,
    /// When.
    pub on: Option<Date>,
    /// Day on which the tool was taken in, where the shop is.
    pub received: Date,
    /// Remark.
    pub note: String,
}

impl Job {
    pub(super) fn judge_warranty(
        &self,
        cover: Cover,
        term: &str,
        evidence: &str,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Agreed)?;
        let term = needed("term", term, "refuse-term").map_err(|r| vec![r])?;
        let evidence = needed("evidence", evidence, "refuse-evidence").map_err(|r| vec![r])?;
        let judged = WarrantyJudged {
            cover,
            term,
            evidence,
        };
        Ok(vec![judged.into()])
    }

    pub(super) fn make_estimate(
        &self,
        lines: Vec<PriceLine>,
        note: String,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Agreed)?;
        let Some(shop) = desk.shelf.shop(&self.shop_pin()) else {
            return refuse_all(Message::new("receive-no-shop"));
        };
        let mut refusals = Refusals::new();
        if lines.is_empty() {
            refusals.push(refuse("what", Message::new("refuse-no-lines")));
        }
        for (i, line) in lines.iter().enumerate() {
            if line.what.trim().is_empty() {
                refusals.push(refuse(nth("what", i), Message::new("refuse-line-what")));
            }
            if line.count <= Decimal::ZERO {
                refusals.push(refuse(nth("count", i), Message::new("refuse-line-count")));
            }
            if line.each < Decimal::ZERO {
                refusals.push(refuse(nth("each", i), Message::new("refuse-line-each")));
            }
        }
        if !refusals.is_empty() {
            return Err(refusals);
        }
        let made = EstimateMade {
            lines,
            tax_percent: shop.tax_percent,
            currency: shop.currency.clone(),
            note,
        };
        Ok(vec![made.into()])
    }

    pub(super) fn write_answer(
        &self,
        answer: AnswerIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Agreed)?;
        let mut refusals = Refusals::new();
        if self.warranty.is_none() {
            refusals.push(refuse("", Message::new("refuse-warranty-first")));
        }
        if self.estimate.is_none() {
            refusals.push(refuse("", Message::new("refuse-estimate-first")));
        }
        match answer.yes {
            None => refusals.push(refuse("yes", Message::new("refuse-yes-or-no"))),
            Some(false) if self.opened() && !self.powered_up() => {
                refusals.push(refuse("yes", Message::new("refuse-no-while-open")));
            }
            Some(_) => {}
        }
        if answer.name.is_none() {
            refusals.push(refuse("name", Message::new("refuse-answer-name")));
        }
        match answer.on {
            None => refusals.push(refuse("on", Message::new("refuse-answer-date"))),
            Some(on) if on > desk.today => {
                refusals.push(refuse("on", Message::new("refuse-date-later")));
            }
            Some(on) if on < answer.received => {
                refusals.push(refuse("on", Message::new("refuse-date-early")));
            }
            Some(_) => {}
        }
        let (Some(yes), Some(name), Some(on), true) =
            (answer.yes, answer.name, answer.on, refusals.is_empty())
        else {
            return Err(refusals);
        };
        let answered = CustomerAnswered {
            yes,
            name,
            on,
            note: answer.note,
        };
        Ok(vec![answered.into()])
    }

    /// Refuses work on a stage whose turn has not come.
    pub(super) fn open_or_refuse(&self, stage: Stage) -> Result<(), Refusals> {
        if self.is_open(stage) {
            Ok(())
        } else if self.declined() {
            refuse_all(Message::new("refuse-declined"))
        } else {
            refuse_all(Message::new("refuse-not-yet"))
        }
    }
}
