//! The shop's own card: name, place, money.

use rust_decimal::Decimal;

/// A shop card sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct ShopCard {
    /// Id.
    pub id: String,
    /// Name of the shop.
    pub name: String,
    /// Where it is.
    pub place: String,
    /// Currency, ISO 4217.
    pub currency: String,
    /// Labour per hour.
    pub labour_per_hour: Decimal,
    /// Tax, percent.
    pub tax_percent: Decimal,
    /// Names that can be picked at the bench.
    pub people: Vec<String>,
    /// Trial joints in a row that a set-up needs before it is signed off.
    pub joints_to_sign_off: usize,
    /// A certificate is authorised by a second person.
    pub second_signature: bool,
    /// A part is renewed now when its limit comes before its next service with a probability over this.
    pub wear_risk: f64,
    /// Days for which a quote holds.
    pub quote_days: u32,
    /// Months for which the shop answers for a part that it renewed; `None` if it does not say.
    pub repair_months: Option<u32>,
    /// Pulls after which it no longer answers for it.
    pub repair_pulls: Option<u64>,
}

/// The risk of wear that is taken where a shop card names none. Common practice, no source.
pub const WEAR_RISK: f64 = 0.10;
