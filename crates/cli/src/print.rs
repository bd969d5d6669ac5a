//! How results are printed: columns for people, JSON for programs.

use std::io::{self, Write};

use serde_json::Value;

use crate::failure::Failure;

/// Prints JSON. A reader that closes the pipe ends the printing.
pub fn print_json(value: &Value) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(value).map_err(Failure::storage)?;
    match writeln!(io::stdout(), "{text}") {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(Failure::storage(error)),
        _ => Ok(()),
    }
}

/// Prints a line. A reader that closes the pipe ends the printing.
pub fn print_line(line: &str) {
    writeln!(io::stdout(), "{line}").ok();
}

/// Prints rows in columns under their names. A reader that closes the pipe ends the printing.
pub fn table(names: &[&str], rows: impl Iterator<Item = Vec<String>>) {
    let head: Vec<String> = names.iter().map(|&n| n.to_owned()).collect();
    let rows: Vec<Vec<String>> = std::iter::once(head).chain(rows).collect();
    let width = |i: usize| rows.iter().map(|r| r[i].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..names.len()).map(width).collect();
    let mut out = io::stdout().lock();
    for row in &rows {
        let cells = row.iter().zip(&widths).map(|(cell, w)| {
            let pad = w.saturating_sub(cell.chars().count());
            format!("{cell}{}", " ".repeat(pad))
        });
        let line: Vec<String> = cells.collect();
        if writeln!(out, "{}", line.join("  ").trim_end()).is_err() {
            return;
        }
    }
}
