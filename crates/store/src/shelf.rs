//! The shelf, put together from the sheets in the logbook.

use shop::entry::{Body, Entry, SheetRevised};
use shop::sheet::{Kind, Sheet, Shelf};

use crate::error::StoreError;

/// Whether an entry changes the shelf.
pub(crate) fn concerns(body: &Body) -> bool {
    matches!(body, Body::SheetRevised(_) | Body::SheetWithdrawn(_))
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
        _ => Ok(()),
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
