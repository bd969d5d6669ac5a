//! The shelf, put together from the sheets in the logbook.

use shop::entry::{Body, Entry, SheetRevised};
use shop::gauge::subject_of;
use shop::sheet::{Kind, Sheet, Shelf};

use crate::error::StoreError;

/// Whether an entry changes the shelf.
pub(crate) fn concerns(body: &Body) -> bool {
    matches!(body, Body::SheetRevised(_) | Body::SheetWithdrawn(_)) || gauge(body).is_some()
}

/// The id of the gauge that `body` is about.
fn gauge(body: &Body) -> Option<&str> {
    match body {
        Body::GaugeCalibrated(c) => Some(&c.gauge.id),
        Body::GaugeChecked(c) => Some(&c.gauge.id),
        Body::GaugeStudied(s) => Some(&s.gauge.id),
        Body::GaugeStruck(s) => Some(&s.gauge),
        _ => None,
    }
}

/// Puts what is about to be written on the shelf.
///
/// # Errors
/// [`StoreError::BadSheet`]: a sheet that cannot be read, or whose kind, id or revision number is
/// not what the entry says.
pub(crate) fn apply(shelf: &mut Shelf, body: &Body) -> Result<(), StoreError> {
    let bad = |id: &str, revision| StoreError::BadSheet {
        id: id.to_owned(),
        revision,
    };
    match body {
        Body::SheetRevised(revised) => {
            let sheet = read(revised).ok_or_else(|| bad(&revised.id, revised.revision))?;
            if shelf.put(sheet, revised.text.clone()) == revised.revision {
                Ok(())
            } else {
                Err(bad(&revised.id, revised.revision))
            }
        }
        Body::SheetWithdrawn(gone) => {
            let kind = Kind::parse(&gone.kind).ok_or_else(|| bad(&gone.id, 0))?;
            shelf.withdraw(kind, &gone.id);
            Ok(())
        }
        other => match gauge(other) {
            Some(id) if !shelf.note_gauge(id, other) => Err(bad(id, 0)),
            _ => Ok(()),
        },
    }
}

/// The subjects of the gauges that were ever on the shelf: what was written of them belongs to it.
pub(crate) fn gauges(shelf: &Shelf) -> Vec<uuid::Uuid> {
    shelf.ids(Kind::Gauge).map(subject_of).collect()
}

/// Adds what was written of a gauge. What does not follow on the rest is left out: the record must open all the same.
pub(crate) fn add_gauge(shelf: &mut Shelf, entries: &[Entry]) {
    for entry in entries {
        let _ = apply(shelf, &entry.body);
    }
}

/// The shelf as the entries of its subject leave it.
///
/// A sheet that an older program stored and this one does not read keeps its number and is out of
/// force: the record must open all the same.
pub(crate) fn build(entries: &[Entry]) -> Shelf {
    let mut shelf = Shelf::default();
    for entry in entries {
        if apply(&mut shelf, &entry.body).is_err()
            && let Body::SheetRevised(revised) = &entry.body
            && let Some(kind) = Kind::parse(&revised.kind)
        {
            shelf.lose(kind, &revised.id, revised.revision);
        }
    }
    shelf
}

/// The sheet, if it reads and is the one that the entry says.
fn read(revised: &SheetRevised) -> Option<Sheet> {
    let sheet = shop::sheet::read(&revised.id, &revised.text).ok()?;
    (sheet.kind().key() == revised.kind && sheet.id() == revised.id).then_some(sheet)
}
