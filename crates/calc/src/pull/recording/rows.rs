//! One row of numbers: the quick way for good rows, the careful way to say what is wrong with others.

use super::columns::{LoggedUnit, Role};
use super::fault::What;
use super::head::{Layout, cells};
use super::number::{read, whole_cell};

/// Beyond this, kN, mm or s, it is no measurement.
const LARGEST: f64 = 1e9;

/// The columns to read, in the order in which they stand in the row.
#[derive(Clone, Debug)]
pub(super) struct Wanted {
    /// Column and role's place in [`Role::ALL`].
    columns: Vec<(usize, usize)>,
}

impl Wanted {
    pub(super) fn of(layout: &Layout) -> Self {
        let mut columns: Vec<(usize, usize)> = (0..3)
            .filter_map(|k| layout.columns[k].map(|column| (column, k)))
            .collect();
        columns.sort_unstable();
        Self { columns }
    }

    /// Reads the row at `from`: force, stroke and time in their own units of program, and where the next line begins.
    /// `None` if anything is not plain.
    #[inline]
    pub(super) fn quick(
        &self,
        bytes: &[u8],
        from: usize,
        layout: &Layout,
    ) -> Option<([f64; 3], usize)> {
        let comma = layout.comma();
        let mut values = [f64::NAN; 3];
        let mut i = from;
        let mut column = 0;
        for &(wanted, k) in &self.columns {
            while column < wanted {
                let b = *bytes.get(i)?;
                if b == b'\n' || b == b'"' {
                    return None;
                }
                column += usize::from(b == layout.delimiter);
                i += 1;
            }
            while bytes.get(i) == Some(&b' ') {
                i += 1;
            }
            let (value, end) = read(bytes, i, comma)?;
            values[k] = (value - layout.offsets[k]) * layout.factors[k];
            if values[k].abs() > LARGEST {
                return None;
            }
            i = end;
            while let Some(b' ' | b'\r') = bytes.get(i) {
                i += 1;
            }
            match bytes.get(i) {
                Some(b) if *b == layout.delimiter || *b == b'\n' => {}
                _ => return None,
            }
        }
        let mut parted = false;
        loop {
            match *bytes.get(i)? {
                b'\n' => break,
                b if b == layout.delimiter => parted = true,
                b' ' | b'\r' => {}
                _ => {
                    column += usize::from(parted);
                    parted = false;
                }
            }
            i += 1;
        }
        (column < layout.width).then_some((values, i + 1))
    }

    /// Reads `line` with care.
    ///
    /// # Errors
    /// What is wrong with it.
    pub(super) fn careful(&self, line: &[u8], layout: &Layout) -> Result<[f64; 3], What> {
        let cells = cells(line, layout.delimiter);
        let is_number = |cell: &&&[u8]| whole_cell(cell, layout.comma()).is_some();
        let numbers = cells.iter().filter(is_number).count();
        if numbers > layout.width {
            let headings = layout.width;
            return Err(What::MoreNumbers { numbers, headings });
        }
        let mut values = [f64::NAN; 3];
        for &(column, k) in &self.columns {
            let role = Role::ALL[k];
            let Some(cell) = cells.get(column) else {
                return Err(What::ShortRow);
            };
            // Some programs write a real minus sign.
            let text = String::from_utf8_lossy(cell).replace('\u{2212}', "-");
            let value = match whole_cell(text.as_bytes(), layout.comma()) {
                Some(value) => value,
                None => with_unit(&text, k, layout)?,
            };
            let value = (value - layout.offsets[k]) * layout.factors[k];
            if !value.is_finite() || value.abs() > LARGEST {
                return Err(What::NotANumber(role, text.chars().take(24).collect()));
            }
            values[k] = value;
        }
        Ok(values)
    }
}

/// A cell that carries its unit: fine if that is the column's.
fn with_unit(text: &str, k: usize, layout: &Layout) -> Result<f64, What> {
    let role = Role::ALL[k];
    let split = read(text.as_bytes(), 0, layout.comma());
    let unit = split.and_then(|(_, end)| LoggedUnit::parse(text.get(end..)?));
    match (split, unit, layout.units[k]) {
        (Some((value, _)), Some(unit), Some(before)) if unit == before => Ok(value),
        (_, Some(after), Some(before)) => Err(What::MixedUnits {
            role,
            before,
            after,
        }),
        _ => Err(What::NotANumber(role, text.chars().take(24).collect())),
    }
}
