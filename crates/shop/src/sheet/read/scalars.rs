//! Getters of single values that must be there.

use calc::Message;
use jiff::civil::Date;
use rust_decimal::Decimal;

use super::table::Table;
use super::value::{self, Span, Word};

impl Table<'_> {
    pub(super) fn string(&self, key: &'static str) -> String {
        self.needed(key, value::string).unwrap_or_default()
    }

    pub(super) fn id(&self, key: &'static str) -> String {
        self.needed(key, value::id).unwrap_or_default()
    }

    pub(super) fn number(&self, key: &'static str, span: Span) -> f64 {
        self.needed(key, |v| value::number(v, span))
            .unwrap_or_default()
    }

    pub(super) fn whole(&self, key: &'static str, min: u32, max: u32) -> u32 {
        self.needed(key, |v| value::whole(v, min, max))
            .unwrap_or_default()
    }

    pub(super) fn money(&self, key: &'static str) -> Decimal {
        self.needed(key, value::money).unwrap_or_default()
    }

    pub(super) fn date(&self, key: &'static str) -> Date {
        self.needed(key, value::date).unwrap_or_default()
    }

    /// `true` or `false`; left out, it is `false`.
    pub(super) fn flag(&self, key: &'static str) -> bool {
        self.given(key, value::yes_no).unwrap_or_default()
    }

    pub(super) fn word<W: Word>(&self, key: &'static str) -> W {
        self.needed(key, value::word).unwrap_or(W::WORDS[0].1)
    }

    /// A pair of a least and a greatest value, which may be equal.
    pub(super) fn interval(&self, key: &'static str, span: Span) -> (f64, f64) {
        let pair = self
            .needed(key, |v| value::pair(v, span, span))
            .unwrap_or_default();
        if self.good(&[key]) && pair.0 > pair.1 {
            self.mistake(key, Message::new("sheet-interval-reversed"));
        }
        pair
    }
}
