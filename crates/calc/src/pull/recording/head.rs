//! The head of a file: delimiter, headings, units, and where the rows begin.

use super::columns::{LoggedUnit, Place, Rig, Role};
use super::fault::{Fault, What};
use super::number::{trimmed, whole_cell};

/// Rows of numbers in a row from which on they are rows.
const ROWS: usize = 3;

/// How the rows are to be read.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// What stands between cells.
    pub delimiter: u8,
    /// For force, stroke and time: the column, from 0, or none where time follows from the rate.
    pub columns: [Option<usize>; 3],
    /// Their units.
    pub units: [Option<LoggedUnit>; 3],
    /// Numbers that a row may have: as many as there are headings.
    pub(super) width: usize,
    /// What is taken from each before it is multiplied.
    pub(super) offsets: [f64; 3],
    /// What each is multiplied by, to kN, mm and s.
    pub(super) factors: [f64; 3],
}

impl Layout {
    /// Whether a comma is a decimal mark.
    pub(super) fn comma(&self) -> bool {
        self.delimiter != b','
    }
}

/// A head that was understood.
pub(super) struct Head {
    pub(super) layout: Layout,
    /// Of its lines, the first that may be a row.
    pub(super) first_row: usize,
}

/// Cells of a line.
pub(super) fn cells(line: &[u8], delimiter: u8) -> Vec<&[u8]> {
    let mut quoted = false;
    let split = line.split(move |b| {
        quoted ^= *b == b'"';
        *b == delimiter && !quoted
    });
    split.map(trimmed).collect()
}

/// Which cells are numbers, for the delimiter with which most are; `None` where fewer than two are.
fn numbers(line: &[u8]) -> Option<(u8, Vec<usize>)> {
    let mut found: Option<(u8, Vec<usize>)> = None;
    for delimiter in *b"\t;," {
        let numeric = |(i, cell): (usize, &&[u8])| whole_cell(cell, delimiter != b',').map(|_| i);
        let cells = cells(line, delimiter);
        let places: Vec<usize> = cells.iter().enumerate().filter_map(numeric).collect();
        let most = found.as_ref().map_or(1, |(_, places)| places.len());
        if places.len() > most {
            found = Some((delimiter, places));
        }
    }
    found
}

/// Whether the last lines are rows: the same delimiter, numbers in the same places.
pub(super) fn is_whole(lines: &[Vec<u8>]) -> bool {
    let Some(last) = lines.last_chunk::<ROWS>() else {
        return false;
    };
    let found = numbers(&last[0]);
    found.is_some() && last.iter().all(|line| numbers(line) == found)
}

/// Headings of a line: for each cell its name without unit, and its unit.
fn headings(line: &[u8], delimiter: u8) -> Vec<(String, Option<LoggedUnit>)> {
    let heading = |cell: &[u8]| {
        let text = String::from_utf8_lossy(cell).into_owned();
        let cut = text
            .find(['[', '(', '/'])
            .or_else(|| text.rfind(['_', ' ', ',']));
        let cut = cut.filter(|at| *at > 0);
        let unit =
            cut.and_then(|at| LoggedUnit::parse(text[at..].trim_start_matches(['/', '_', ','])));
        match (cut, unit) {
            (Some(at), Some(_)) => (text[..at].trim().to_owned(), unit),
            _ => (text, None),
        }
    };
    cells(line, delimiter).into_iter().map(heading).collect()
}

/// Whether a line names columns: by words that loggers use, or by those that the rig is told.
pub(super) fn names_columns(line: &[u8], delimiter: u8, rig: &Rig) -> bool {
    let named = |role: Role| {
        let mut all = headings(line, delimiter).into_iter();
        let wanted = match &rig.column(role).place {
            Some(Place::Heading(wanted)) => Some(wanted.to_lowercase()),
            _ => None,
        };
        all.any(|(name, _)| match &wanted {
            Some(wanted) => name.to_lowercase().starts_with(wanted),
            None => role.is_named(&name),
        })
    };
    Role::ALL.into_iter().filter(|role| named(*role)).count() >= 2
}

/// Understands the lines before and with the first rows.
///
/// # Errors
/// What is not said of the columns; lines count from `first_line`.
pub(super) fn understand(
    lines: &[Vec<u8>],
    first_line: u64,
    rig: &Rig,
) -> Result<Head, Vec<Fault>> {
    let at = |i: usize, what: What| vec![Fault::at(first_line + i as u64, what)];
    let begin = lines.len().saturating_sub(ROWS);
    let row = lines.get(begin).and_then(|line| numbers(line));
    let Some((delimiter, numeric)) = row else {
        return Err(at(0, What::NoNumbers));
    };
    let name_row = (0..begin)
        .rev()
        .find(|i| names_columns(&lines[*i], delimiter, rig));
    let mut headings = name_row.map_or(Vec::new(), |i| headings(&lines[i], delimiter));
    let mut first_row = name_row.map_or(begin, |i| i + 1);
    if let Some(line) = lines.get(first_row).filter(|_| first_row < begin) {
        let units: Vec<_> = cells(line, delimiter)
            .into_iter()
            .map(|cell| LoggedUnit::parse(&String::from_utf8_lossy(cell)))
            .collect();
        if units.iter().flatten().count() >= 2 {
            for (heading, unit) in headings.iter_mut().zip(units) {
                heading.1 = heading.1.or(unit);
            }
            first_row += 1;
        }
    }
    // A heading that stands over another number than its own would name the wrong column.
    let by_number = |role: Role| matches!(rig.column(role).place, Some(Place::Number(_)));
    let cells_of_row = cells(&lines[begin], delimiter).into_iter();
    let filled = cells_of_row.filter(|cell| !cell.is_empty()).count();
    let named = !Role::ALL.into_iter().all(by_number) && !headings.is_empty();
    if named && numeric.len() > headings.len() {
        let what = What::MoreNumbers {
            numbers: numeric.len(),
            headings: headings.len(),
        };
        return Err(at(begin, what));
    }
    let width = match named {
        true => headings.len(),
        false => filled.max(headings.len()),
    };
    let mut layout = Layout {
        width,
        delimiter,
        columns: [None; 3],
        units: [None; 3],
        offsets: [0.0; 3],
        factors: [1.0; 3],
    };
    let mut faults = Vec::new();
    for (k, role) in Role::ALL.into_iter().enumerate() {
        match column(role, rig, &headings, &numeric) {
            Ok(column) => layout.columns[k] = Some(column),
            Err(What::NoColumn(Role::Time)) if rig.rate_hz.is_some() => continue,
            Err(what) => {
                faults.append(&mut at(name_row.unwrap_or(begin), what));
                continue;
            }
        }
        let known = rig.column(role);
        let heading = layout.columns[k].and_then(|c| headings.get(c));
        let unit = known.unit.or(heading.and_then(|(_, unit)| *unit));
        let own = match unit {
            Some(LoggedUnit::Volt) => known.scale,
            Some(unit) => unit.factor(role).map(|f| f * known.scale.unwrap_or(1.0)),
            None => None,
        };
        match own.filter(|f| f.is_finite() && *f != 0.0) {
            Some(factor) => layout.factors[k] = factor,
            None => faults.append(&mut at(name_row.unwrap_or(begin), What::NoUnit(role))),
        }
        layout.units[k] = unit;
        layout.offsets[k] = known.offset;
    }
    if faults.is_empty() {
        Ok(Head { layout, first_row })
    } else {
        Err(faults)
    }
}

/// The column of `role`: as the rig says, by its heading, or by its unit.
fn column(
    role: Role,
    rig: &Rig,
    headings: &[(String, Option<LoggedUnit>)],
    numeric: &[usize],
) -> Result<usize, What> {
    match &rig.column(role).place {
        Some(Place::Number(number)) => {
            let found = number.checked_sub(1).filter(|i| numeric.contains(i));
            return found.ok_or(What::NoColumn(role));
        }
        Some(Place::Heading(wanted)) => {
            let wanted = wanted.to_lowercase();
            let mut all = headings.iter().enumerate();
            let found = all.find(|(_, (name, _))| name.to_lowercase().starts_with(&wanted));
            return found.map(|(i, _)| i).ok_or(What::NoColumn(role));
        }
        None => {}
    }
    let holds = |i: usize, (name, unit): &(String, Option<LoggedUnit>), by_name: bool| {
        let of_unit = unit.and_then(LoggedUnit::role);
        numeric.contains(&i)
            && match by_name {
                true => role.is_named(name) && of_unit.is_none_or(|r| r == role),
                false => of_unit == Some(role),
            }
    };
    let fitting = |by_name: bool| -> Vec<usize> {
        let all = headings.iter().enumerate();
        all.filter(|(i, heading)| holds(*i, heading, by_name))
            .map(|(i, _)| i)
            .collect()
    };
    let mut found = fitting(true);
    if found.len() > 1 && found.iter().any(|i| headings[*i].1.is_some()) {
        found.retain(|i| headings[*i].1.is_some());
    }
    if found.is_empty() {
        found = fitting(false);
    }
    match found.as_slice() {
        [] => Err(What::NoColumn(role)),
        [one] => Ok(*one),
        several => Err(What::SeveralColumns(
            role,
            several.iter().map(|i| i + 1).collect(),
        )),
    }
}
