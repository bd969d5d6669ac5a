//! Long series of numbers in a CSV file beside the check file.

use serde_json::{Value, json};

/// Replaces each `{ csv = "name.csv", column = "name" }` in `value` by the numbers of that column.
/// `text_of` gives the text of a file by its name.
///
/// # Errors
/// A file or column that is not there, or a cell that is not a number.
pub(super) fn fill(
    value: &mut Value,
    text_of: &dyn Fn(&str) -> Option<String>,
) -> Result<(), String> {
    match value {
        Value::Object(fields) => {
            if let Some(name) = fields.get("csv").and_then(Value::as_str) {
                let column = fields.get("column").and_then(Value::as_str);
                let column = column.ok_or_else(|| format!("{name}: no column named"))?;
                // A name only: a check file must not reach into other folders.
                let plain = !name.contains(['/', '\\']) && name != "..";
                let text = plain.then(|| text_of(name)).flatten();
                let text = text.ok_or_else(|| format!("{name}: no such file beside it"))?;
                *value = json!(numbers(name, &text, column)?);
                return Ok(());
            }
            fields.values_mut().try_for_each(|v| fill(v, text_of))
        }
        Value::Array(items) => items.iter_mut().try_for_each(|v| fill(v, text_of)),
        _ => Ok(()),
    }
}

fn numbers(name: &str, text: &str, column: &str) -> Result<Vec<f64>, String> {
    let mut lines = text.lines();
    let heads = lines.next().unwrap_or_default().split(',');
    let place = heads
        .map(str::trim)
        .position(|head| head == column)
        .ok_or_else(|| format!("{name}: no column {column}"))?;
    let cell = |(i, line): (usize, &str)| {
        let cell = line.split(',').nth(place).unwrap_or_default().trim();
        let number = cell.parse::<f64>().ok().filter(|x| x.is_finite());
        number.ok_or_else(|| format!("{name}:{}: {cell} is not a number", i + 2))
    };
    lines
        .enumerate()
        .filter(|(_, line)| !line.trim().is_empty())
        .map(cell)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn filled(mut value: Value) -> Result<Value, String> {
        let text_of = |name: &str| (name == "a.csv").then(|| "x,y\n1,2.5\n3,4\n\n".to_owned());
        fill(&mut value, &text_of)?;
        Ok(value)
    }

    #[test]
    fn a_column_takes_the_place_of_its_name() {
        let value = json!({ "inner": [{ "csv": "a.csv", "column": "y" }], "n": 1 });
        let wanted = json!({ "inner": [[2.5, 4.0]], "n": 1 });
        assert_eq!(filled(value), Ok(wanted));
    }

    #[test]
    fn what_is_not_there_is_told() {
        for (value, part) in [
            (json!({ "csv": "b.csv", "column": "y" }), "no such file"),
            (json!({ "csv": "../a.csv", "column": "y" }), "no such file"),
            (json!({ "csv": "a.csv", "column": "z" }), "no column z"),
            (json!({ "csv": "a.csv" }), "no column named"),
        ] {
            let error = filled(value).expect_err("refused");
            assert!(error.contains(part), "{error}");
        }
        assert!(numbers("a.csv", "x\nsix\n", "x").is_err());
        assert!(numbers("a.csv", "x\nNaN\n", "x").is_err());
    }
}
