//! How the calculations' own types go into a document's data.

use serde::Serializer;
use words::Term;

use crate::gauge_bar::{GaugeBar, gauge_bar};
use crate::turns::fraction;

/// A notion as its name in the catalogue; the template finds the word.
pub(super) fn term<T: Term + Copy, S: Serializer>(term: &T, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(term.id())
}

/// As [`term`], where there may be none.
pub(super) fn maybe_term<T: Term + Copy, S: Serializer>(
    term: &Option<T>,
    to: S,
) -> Result<S::Ok, S::Error> {
    match term {
        Some(term) => to.serialize_str(term.id()),
        None => to.serialize_none(),
    }
}

/// A gauge bar as its drawing and all that is printed beside it.
pub(super) fn bar<S: Serializer>(bar: &GaugeBar, to: S) -> Result<S::Ok, S::Error> {
    use serde::ser::SerializeStruct;
    let mut fields = to.serialize_struct("bar", 7)?;
    fields.serialize_field("drawing", &gauge_bar(bar))?;
    fields.serialize_field("label", &bar.label)?;
    fields.serialize_field("value", &bar.value_text())?;
    fields.serialize_field("expanded", &bar.expanded_text())?;
    fields.serialize_field("limits", &bar.limits_text())?;
    fields.serialize_field("verdict", bar.verdict.id())?;
    fields.serialize_field("rule", bar.rule.id())?;
    fields.end()
}

/// Turns as a whole number with a fraction sign.
pub(super) fn turns<S: Serializer>(turns: &f64, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(&fraction(*turns))
}

/// As [`turns`], where there may be none.
pub(super) fn maybe_turns<S: Serializer>(turns: &Option<f64>, to: S) -> Result<S::Ok, S::Error> {
    match turns {
        Some(turns) => to.serialize_str(&fraction(*turns)),
        None => to.serialize_none(),
    }
}
