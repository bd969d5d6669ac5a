//! Single values: what a TOML value must be to be a number, a date, a word.
//!
//! Each function gives the value or the text that says what is allowed.

use std::collections::BTreeSet;

use calc::Message;
use jiff::civil::Date;
use rust_decimal::Decimal;
use toml::de::{DeInteger, DeValue};

use super::mistake::plain;
use super::nearest::nearest;

/// Longest text of a key, in characters.
const TEXT_MAX: usize = 1000;

/// Smallest and largest number allowed.
#[derive(Clone, Copy)]
pub(super) struct Span(pub(super) f64, pub(super) f64);

impl Span {
    /// A chance.
    pub(super) const CHANCE: Span = Span(0.0, 1.0);
    /// A length of something that is there, mm.
    pub(super) const LENGTH: Span = Span(0.01, 5000.0);

    pub(super) fn hold(self, value: f64) -> Result<f64, Message> {
        if !value.is_finite() {
            return Err(Message::new("sheet-not-finite"));
        }
        if value < self.0 || value > self.1 {
            return Err(Message::new("sheet-range")
                .with("min", plain(self.0))
                .with("max", plain(self.1)));
        }
        Ok(value)
    }
}

/// A word that stands for one of a few things.
pub(super) trait Word: Copy + 'static {
    /// Every word and what it stands for; never empty.
    const WORDS: &'static [(&'static str, Self)];
}

pub(super) fn string(value: &DeValue) -> Result<String, Message> {
    let text = value
        .as_str()
        .ok_or_else(|| Message::new("sheet-need-text"))?
        .trim();
    if text.is_empty() {
        return Err(Message::new("sheet-text-empty"));
    }
    if text.chars().count() > TEXT_MAX {
        return Err(Message::new("sheet-text-long").with("max", TEXT_MAX));
    }
    Ok(text.to_owned())
}

pub(super) fn id(value: &DeValue) -> Result<String, Message> {
    as_id(string(value)?)
}

/// A text as an id.
pub(super) fn as_id(text: String) -> Result<String, Message> {
    let allowed = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if text.len() > 40 || !text.chars().all(allowed) {
        return Err(Message::new("sheet-id"));
    }
    Ok(text)
}

pub(super) fn number(value: &DeValue, span: Span) -> Result<f64, Message> {
    let parsed = match value {
        DeValue::Integer(whole) => integer(whole).map(|whole| whole as f64),
        DeValue::Float(float) => float.as_str().parse().ok(),
        _ => None,
    };
    span.hold(parsed.ok_or_else(|| Message::new("sheet-need-number"))?)
}

pub(super) fn whole(value: &DeValue, min: u32, max: u32) -> Result<u32, Message> {
    let DeValue::Integer(written) = value else {
        return Err(Message::new("sheet-need-whole"));
    };
    integer(written)
        .and_then(|whole| u32::try_from(whole).ok())
        .filter(|whole| (min..=max).contains(whole))
        .ok_or_else(|| {
            Message::new("sheet-range")
                .with("min", min)
                .with("max", max)
        })
}

fn integer(written: &DeInteger) -> Option<i64> {
    i64::from_str_radix(written.as_str(), written.radix()).ok()
}

pub(super) fn yes_no(value: &DeValue) -> Result<bool, Message> {
    value
        .as_bool()
        .ok_or_else(|| Message::new("sheet-need-yes-no"))
}

pub(super) fn date(value: &DeValue) -> Result<Date, Message> {
    let written = match value {
        DeValue::Datetime(written) if written.time.is_none() => written.date,
        _ => None,
    };
    written
        .and_then(|d| {
            let year = i16::try_from(d.year).ok()?;
            let (month, day) = (i8::try_from(d.month).ok()?, i8::try_from(d.day).ok()?);
            Date::new(year, month, day).ok()
        })
        .ok_or_else(|| Message::new("sheet-need-date"))
}

pub(super) fn money(value: &DeValue) -> Result<Decimal, Message> {
    value
        .as_str()
        .and_then(|text| Decimal::from_str_exact(text).ok())
        .filter(|money| !money.is_sign_negative() && money.scale() <= 4)
        .filter(|money| *money < Decimal::from(10_000_000))
        .ok_or_else(|| Message::new("sheet-need-money"))
}

pub(super) fn word<W: Word>(value: &DeValue) -> Result<W, Message> {
    let written = value.as_str().unwrap_or_default();
    W::WORDS
        .iter()
        .find(|(word, _)| *word == written)
        .map(|(_, meaning)| *meaning)
        .ok_or_else(|| one_of("sheet-word", written, W::WORDS.iter().map(|(w, _)| *w)))
}

/// The text `id` with the words allowed, the likely one first.
pub(super) fn one_of<'w>(
    id: &'static str,
    written: &str,
    words: impl Iterator<Item = &'w str> + Clone,
) -> Message {
    let likely = nearest(written, words.clone());
    let mut allowed: Vec<&str> = words.filter(|word| Some(*word) != likely).collect();
    allowed.splice(0..0, likely);
    Message {
        id,
        args: vec![("allowed", allowed.join(", ").into())],
    }
}

/// Two numbers `[a, b]`.
pub(super) fn pair(value: &DeValue, first: Span, second: Span) -> Result<(f64, f64), Message> {
    let elements = value
        .as_array()
        .map(|array| array.iter().collect::<Vec<_>>());
    match elements.as_deref() {
        Some([a, b]) => Ok((number(a.get_ref(), first)?, number(b.get_ref(), second)?)),
        _ => Err(Message::new("sheet-need-pair")),
    }
}

/// An id that must be one of `known`.
pub(super) fn refer(id: String, known: &BTreeSet<String>) -> Result<String, Message> {
    if known.contains(&id) {
        return Ok(id);
    }
    Err(one_of(
        "sheet-reference",
        &id,
        known.iter().map(String::as_str),
    ))
}
