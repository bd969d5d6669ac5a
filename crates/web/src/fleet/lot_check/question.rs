//! What is asked: lot, level, limit.

use calc::Message;
use calc::sampling_tables::{LIMITS_PCT, Level};
use calc::working::{fixed, places};
use maud::{Markup, html};

use super::PATH;
use crate::forms::{FieldErrors, Typed, parse_count};
use crate::shell::{Choice, Field, Form, Page};

/// Name of the form.
pub const FORM: &str = "lot";

const LEVELS: [(&str, Level); 7] = [
    ("S-1", Level::S1),
    ("S-2", Level::S2),
    ("S-3", Level::S3),
    ("S-4", Level::S4),
    ("I", Level::I),
    ("II", Level::II),
    ("III", Level::III),
];
/// Level and limit before anything was picked; the limit is common practice, no source.
const USUAL: (&str, f64) = ("II", 1.0);
/// No job has more joints.
const MOST: u64 = 1_000_000;

/// A lot to be looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// Joints.
    pub lot: u64,
    /// Level.
    pub level: Level,
    /// Acceptance quality limit, percent.
    pub aql_pct: f64,
}

impl Asked {
    /// Whether the level is one for checks that destroy the joint: S-1 to S-4.
    pub fn destroys(&self) -> bool {
        matches!(self.level, Level::S1 | Level::S2 | Level::S3 | Level::S4)
    }
}

/// A limit as written.
pub fn limit_text(aql_pct: f64) -> String {
    fixed(aql_pct, places(aql_pct, 0))
}

/// What was asked; `None` if nothing was, or something is wrong with it.
pub fn read(p: &Page, typed: &Typed) -> (Option<Asked>, FieldErrors) {
    let mut errors = FieldErrors::new();
    if typed.is_empty() {
        return (None, errors);
    }
    let lot = parse_count(typed.get("lot")).and_then(|lot| {
        let wide = Message::new("refuse-lot-size")
            .with("value", lot)
            .with("min", 2_u64)
            .with("max", MOST);
        (2..=MOST).contains(&lot).then_some(lot).ok_or(wide)
    });
    let lot = errors.keep("lot", p.t("lot-size"), lot);
    let level = typed.filled("level").unwrap_or(USUAL.0);
    let found = LEVELS.iter().find(|(name, _)| *name == level);
    if found.is_none() {
        let none = Message::new("refuse-lot-level").with("level", level);
        errors.add("level", none);
    }
    let aql = typed
        .filled("aql")
        .map_or_else(|| limit_text(USUAL.1), str::to_owned);
    let limit = LIMITS_PCT.iter().find(|limit| limit_text(**limit) == aql);
    if limit.is_none() {
        errors.add("aql", Message::new("refuse-lot-aql").with("aql", aql));
    }
    let asked = lot.zip(found).zip(limit);
    let asked = asked.map(|((lot, (_, level)), aql_pct)| Asked {
        lot,
        level: *level,
        aql_pct: *aql_pct,
    });
    (asked, errors)
}

/// The form. It is sent in the address, so it has neither token nor submission key.
pub fn form(p: &Page, typed: &Typed, errors: &FieldErrors) -> Markup {
    let form = Form::new(p, FORM, typed, errors);
    let levels = LEVELS.map(|(name, _)| Choice::new(name, name).chosen(name == USUAL.0));
    let limits = LIMITS_PCT.map(|limit| {
        let text = limit_text(limit);
        Choice::new(text.clone(), text).chosen(limit == USUAL.1)
    });
    html! {
        p.hint { (p.t("lot-intro")) }
        form #(FORM) method="get" action=(PATH) novalidate autocomplete="off" {
            (form.count(&Field::new("lot", p.t("lot-size")).short()))
            (form.select(&Field::new("level", p.t("lot-level")).hint(p.t("lot-level-hint")), &levels))
            (form.select(&Field::new("aql", p.t("lot-aql")).hint(p.t("lot-aql-hint")), &limits))
            div.buttons { button { (p.t("lot-go")) } }
        }
    }
}
