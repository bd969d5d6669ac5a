//! Numbers with limits, texts, lists, and what may be left out.

use std::collections::BTreeMap;

use calc::units::Unit;
use serde_json::{Map, Value, json};

use super::Shape;
use crate::error::{Kind, Why, interval};
use crate::{MethodError, nearest};

fn kind(value: &Value, needed: Kind) -> MethodError {
    MethodError::new(value, Why::Kind { needed })
}

fn number(value: &Value) -> Result<f64, MethodError> {
    value
        .as_f64()
        .filter(|x| x.is_finite())
        .ok_or_else(|| kind(value, Kind::Number))
}

/// A number as JSON; infinity as a text.
fn written(x: f64) -> Value {
    match serde_json::Number::from_f64(x) {
        Some(number) => Value::Number(number),
        None if x == f64::INFINITY => json!("inf"),
        None if x == f64::NEG_INFINITY => json!("-inf"),
        None => Value::Null,
    }
}

/// Any finite number.
impl Shape for f64 {
    fn schema() -> Value {
        json!({ "type": "number" })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        number(value)
    }

    fn write(&self) -> Value {
        written(*self)
    }
}

/// Number types with limits: name, what it is, smallest, largest, schema.
macro_rules! limited {
    ($($name:ident $doc:literal $min:expr, $max:expr, $schema:tt;)*) => { $(
        #[doc = $doc]
        #[derive(Clone, Copy, Debug, PartialEq)]
        pub struct $name(pub f64);

        impl Shape for $name {
            fn schema() -> Value {
                json!($schema)
            }

            fn read(value: &Value) -> Result<Self, MethodError> {
                let x = number(value)?;
                if !($min..=$max).contains(&x) {
                    let allowed = interval($min, $max);
                    return Err(MethodError::new(value, Why::NotAllowed { allowed }));
                }
                Ok(Self(x))
            }

            fn write(&self) -> Value {
                written(self.0)
            }
        }
    )* };
}

limited! {
    Positive "A number above 0." f64::MIN_POSITIVE, f64::MAX,
        { "type": "number", "exclusiveMinimum": 0 };
    NotNegative "A number from 0." 0.0, f64::MAX,
        { "type": "number", "minimum": 0 };
    Share "A share or probability." 0.0, 1.0,
        { "type": "number", "minimum": 0, "maximum": 1 };
}

/// An amount of money from 0, in whole cents; a third decimal is refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Money {
    /// Cents.
    pub cents: u64,
}

impl Shape for Money {
    fn schema() -> Value {
        json!({ "type": "number", "minimum": 0, "multipleOf": 0.01 })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        // Below this a number still tells one cent from the next.
        let most = 1e12;
        let amount = number(value)?;
        let cents = (amount * 100.0).round();
        if !(0.0..=most).contains(&amount) || (amount * 100.0 - cents).abs() > 1e-3 {
            let allowed = format!("{}; 0.01, 0.02, …", interval(0.0, most));
            return Err(MethodError::new(value, Why::NotAllowed { allowed }));
        }
        Ok(Self {
            cents: cents as u64,
        })
    }

    fn write(&self) -> Value {
        written(self.cents as f64 / 100.0)
    }
}

/// A number from 0, or infinity, which is written `inf`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extended(pub f64);

impl Shape for Extended {
    fn schema() -> Value {
        json!({ "anyOf": [{ "type": "number", "minimum": 0 }, { "const": "inf" }] })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        if value == "inf" {
            return Ok(Self(f64::INFINITY));
        }
        NotNegative::read(value).map(|x| Self(x.0))
    }

    fn write(&self) -> Value {
        written(self.0)
    }
}

/// A unit by its symbol.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnitSymbol(pub Unit);

impl Shape for UnitSymbol {
    fn schema() -> Value {
        let symbols: Vec<&str> = Unit::ALL.iter().map(|u| u.symbol()).collect();
        json!({ "type": "string", "examples": symbols })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        let symbol = value.as_str().ok_or_else(|| kind(value, Kind::Text))?;
        Unit::parse(symbol).map(Self).ok_or_else(|| {
            let symbols: Vec<&str> = Unit::ALL.iter().map(|u| u.symbol()).collect();
            let allowed = match nearest(symbol, symbols.iter().copied()) {
                Some(near) => near.to_owned(),
                None => symbols.join(" | "),
            };
            MethodError::new(value, Why::NotAllowed { allowed })
        })
    }

    fn write(&self) -> Value {
        json!(self.0.symbol())
    }
}

impl Shape for bool {
    fn schema() -> Value {
        json!({ "type": "boolean" })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        value.as_bool().ok_or_else(|| kind(value, Kind::Truth))
    }

    fn write(&self) -> Value {
        json!(self)
    }
}

impl Shape for String {
    fn schema() -> Value {
        json!({ "type": "string" })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        let text = value.as_str().ok_or_else(|| kind(value, Kind::Text))?;
        Ok(text.to_owned())
    }

    fn write(&self) -> Value {
        json!(self)
    }
}

/// A whole number from 0. `5.0` is one, too: some programs write counts so.
impl Shape for u64 {
    fn schema() -> Value {
        json!({ "type": "integer", "minimum": 0 })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        const MOST: f64 = 9_007_199_254_740_992.0;
        let whole = |x: &f64| x.fract() == 0.0 && (0.0..=MOST).contains(x);
        let float = || value.as_f64().filter(whole).map(|x| x as u64);
        value
            .as_u64()
            .or_else(float)
            .ok_or_else(|| kind(value, Kind::Count))
    }

    fn write(&self) -> Value {
        json!(self)
    }
}

impl<T: Shape> Shape for Vec<T> {
    fn schema() -> Value {
        json!({ "type": "array", "items": T::schema() })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        let items = value.as_array().ok_or_else(|| kind(value, Kind::List))?;
        let read = |(i, item)| T::read(item).map_err(|e| e.item(i));
        items.iter().enumerate().map(read).collect()
    }

    fn write(&self) -> Value {
        self.iter().map(T::write).collect()
    }
}

/// A list of exactly two.
impl<T: Shape> Shape for (T, T) {
    fn schema() -> Value {
        json!({ "type": "array", "items": T::schema(), "minItems": 2, "maxItems": 2 })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        let items = value.as_array().ok_or_else(|| kind(value, Kind::List))?;
        let [first, second] = items.as_slice() else {
            let have = items.len();
            return Err(MethodError::new(value, Why::Count { have, need: 2 }));
        };
        let first = T::read(first).map_err(|e| e.item(0))?;
        let second = T::read(second).map_err(|e| e.item(1))?;
        Ok((first, second))
    }

    fn write(&self) -> Value {
        json!([self.0.write(), self.1.write()])
    }
}

/// Names of the user's own with values.
impl<T: Shape> Shape for BTreeMap<String, T> {
    fn schema() -> Value {
        json!({ "type": "object", "additionalProperties": T::schema() })
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        let fields = value.as_object().ok_or_else(|| kind(value, Kind::Table))?;
        fields
            .iter()
            .map(|(key, value)| {
                let value = T::read(value).map_err(|e| e.under(key))?;
                Ok((key.clone(), value))
            })
            .collect()
    }

    fn write(&self) -> Value {
        let fields = self.iter().map(|(key, value)| (key.clone(), value.write()));
        Value::Object(fields.collect::<Map<_, _>>())
    }
}

/// What may be left out.
impl<T: Shape> Shape for Option<T> {
    fn schema() -> Value {
        T::schema()
    }

    fn read(value: &Value) -> Result<Self, MethodError> {
        T::read(value).map(Some)
    }

    fn write(&self) -> Value {
        self.as_ref().map_or(Value::Null, T::write)
    }

    fn when_absent() -> Option<Self> {
        Some(None)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_limits() {
        assert_eq!(Positive::read(&json!(0.5)), Ok(Positive(0.5)));
        assert_eq!(
            Positive::read(&json!(0)).expect_err("zero").allowed(),
            "> 0"
        );
        assert_eq!(
            Share::read(&json!(1.5)).expect_err("over 1").allowed(),
            "[0, 1]"
        );
        for value in [json!("5"), json!(null), json!([1]), json!({})] {
            assert!(f64::read(&value).is_err(), "{value}");
        }
    }

    #[test]
    fn infinity_goes_there_and_back() {
        let inf = Extended::read(&json!("inf")).expect("infinity");
        assert_eq!(inf.write(), json!("inf"));
        assert!(Extended::read(&json!("-inf")).is_err());
        assert!(Extended::read(&json!(-1)).is_err());
    }

    #[test]
    fn counts_are_whole() {
        assert_eq!(u64::read(&json!(5)), Ok(5));
        assert_eq!(u64::read(&json!(5.0)), Ok(5));
        for value in [json!(-1), json!(5.5), json!(1e300), json!("5")] {
            assert!(u64::read(&value).is_err(), "{value}");
        }
    }

    #[test]
    fn a_mistake_in_a_list_names_its_item() {
        let error = Vec::<Positive>::read(&json!([1, 2, -3])).expect_err("negative");
        assert_eq!((error.field.as_str(), error.value.as_str()), ("[2]", "-3"));
        let error = <(f64, f64)>::read(&json!([1, 2, 3])).expect_err("three");
        assert_eq!(error.why, Why::Count { have: 3, need: 2 });
    }

    #[test]
    fn units_by_symbol() {
        let unit = UnitSymbol::read(&json!("Nm")).expect("known");
        assert_eq!(unit.write(), json!("N·m"));
        let error = UnitSymbol::read(&json!("furlong")).expect_err("unknown");
        assert!(error.allowed().contains("mm"), "{error:?}");
    }
}
