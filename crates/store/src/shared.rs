//! What readers and the writer of one record have in common.

use std::collections::HashMap;
use std::sync::{Arc, PoisonError, RwLock};

use shop::entry::{PersonKey, SHELF};
use shop::learning::Lesson;
use shop::sheet::Shelf;
use uuid::Uuid;

use crate::error::StoreError;
use crate::files::Files;
use crate::sqlite::{Connection, Pool};
use crate::tables::lessons;
use crate::{log, people, shelf};

/// Names by key, as of now.
pub type Names = Arc<HashMap<PersonKey, String>>;

pub(crate) struct Shared {
    pub origin: Uuid,
    pub readers: Pool,
    pub files: Files,
    held: RwLock<Held>,
}

/// What is kept in memory. Only the writer changes it, after its commit.
#[derive(Clone)]
pub(crate) struct Held {
    pub shelf: Arc<Shelf>,
    pub names: Names,
    /// What closed jobs teach.
    pub lessons: Arc<Vec<Lesson>>,
}

impl Held {
    /// Reads all of it from the record.
    pub async fn load(c: &mut Connection) -> Result<Self, StoreError> {
        let sheets = log::read_subject(c, SHELF).await?;
        let mut shelf = shelf::build(&sheets);
        for gauge in shelf::gauges(&shelf) {
            shelf::add_gauge(&mut shelf, &log::read_subject(c, gauge).await?);
        }
        Ok(Self {
            shelf: Arc::new(shelf),
            names: Arc::new(people::names(c).await?),
            lessons: Arc::new(lessons::all(c).await?),
        })
    }
}

impl Shared {
    pub fn new(origin: Uuid, readers: Pool, files: Files, held: Held) -> Self {
        Self {
            origin,
            readers,
            files,
            held: RwLock::new(held),
        }
    }

    pub fn held(&self) -> Held {
        self.held
            .read()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }

    /// Puts what was read anew, or one part of it changed, in the place of what is held.
    pub fn hold(&self, change: impl FnOnce(&mut Held)) {
        change(&mut self.held.write().unwrap_or_else(PoisonError::into_inner));
    }
}
