//! How results are printed: texts and columns for people, JSON for programs.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

use calc::Message;
use serde_json::Value;
use words::Words;

use crate::failure::Failure;

/// A text with its values.
pub fn say(message: &Message) -> String {
    Words::english().say(message)
}

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

/// Prints a text as it is. A reader that closes the pipe ends the printing.
pub fn print_text(text: &str) {
    io::stdout().write_all(text.as_bytes()).ok();
}

/// Prints a text with its values.
pub fn tell(message: &Message) {
    print_line(&say(message));
}

/// Prints what was done: a text for people, JSON for programs.
pub fn answer(json: bool, text: &Message, value: &Value) -> Result<(), Failure> {
    if json {
        return print_json(value);
    }
    tell(text);
    Ok(())
}

/// What came of a command that prints JSON: what it refuses is JSON, too.
pub fn in_json(json: bool, done: Result<(), Failure>) -> Result<(), Failure> {
    if let (true, Err(failure)) = (json, &done) {
        failure.print_details()?;
    }
    done
}

/// Writes `bytes` to the file `out`, or to standard output for `-`.
pub fn write_out(out: &Path, bytes: &[u8]) -> Result<(), Failure> {
    if out == Path::new("-") {
        return io::stdout().write_all(bytes).map_err(Failure::storage);
    }
    fs::write(out, bytes).map_err(Failure::at(out))?;
    print_line(&out.display().to_string());
    Ok(())
}

/// Prints rows in columns under their names, which are ids of texts or empty. A reader that closes
/// the pipe ends the printing.
pub fn table(names: &[&str], rows: impl Iterator<Item = Vec<String>>) {
    let head = |id: &&str| match *id {
        "" => String::new(),
        id => Words::english().text(id),
    };
    let head: Vec<String> = names.iter().map(head).collect();
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
