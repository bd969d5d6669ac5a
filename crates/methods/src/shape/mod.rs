//! What goes into a method and what comes out, declared once.
//!
//! [`Shape`] is how a value is read from JSON, written to it, and described as JSON Schema. The macro
//! `contract!` declares a table of named values, `choices!` a word from a list; plain numbers with
//! their limits are types ([`Positive`], [`Share`], …). A name carries its unit: `torque_Nm`.

mod plain;
mod table;

pub use plain::{Extended, Money, NotNegative, Positive, Share, UnitSymbol};
pub(crate) use table::{Fields, Properties, choices, contract};

use serde_json::Value;

use crate::MethodError;

/// A value that goes into or comes out of a method.
pub trait Shape: Sized {
    /// The names of a table's fields as declared; JSON keeps no order.
    const FIELDS: &'static [&'static str] = &[];

    /// Its JSON Schema.
    fn schema() -> Value;

    /// Reads it.
    ///
    /// # Errors
    /// What stands there is no such value.
    fn read(value: &Value) -> Result<Self, MethodError>;

    /// Writes it. Infinity, which JSON has not, is the text `inf`.
    fn write(&self) -> Value;

    /// What it is if nothing stands there; `None` if something must.
    fn when_absent() -> Option<Self> {
        None
    }
}
