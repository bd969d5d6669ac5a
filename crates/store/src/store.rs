//! The store: one record, opened.

use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use shop::entry::{Body, PersonKey};
use shop::learning::Lesson;
use shop::sheet::Shelf;
use tokio::sync::{mpsc, oneshot};
use uuid::Uuid;

use crate::append::{Decide, Refusal};
use crate::backup::swap;
use crate::error::{AppendError, StoreError};
use crate::files::Files;
use crate::lock;
use crate::log;
use crate::people;
use crate::rebuild::{RebuildReport, rebuild};
use crate::request::{Request, Scene, Written};
use crate::shared::{Held, Names, Shared};
use crate::sqlite;
use crate::verify::{VerifyReport, verify};
use crate::writer::{self, Command};

/// One record, opened. Clones are the same record.
#[derive(Clone)]
pub struct Store {
    pub(crate) shared: Arc<Shared>,
    /// `None` if it was opened for reading.
    writer: Option<mpsc::Sender<Command>>,
}

impl fmt::Debug for Store {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Store")
            .field("origin", &self.shared.origin)
            .field("writes", &self.writer.is_some())
            .finish_non_exhaustive()
    }
}

impl Store {
    /// Opens the record at `path` for reading and writing; makes it if there is none.
    ///
    /// Must be called on a Tokio runtime: the writer is a task on it.
    ///
    /// # Errors
    /// [`StoreError::InUse`], [`StoreError::NotAStore`], [`StoreError::OtherVersion`],
    /// [`StoreError::CannotOpen`], [`StoreError::Full`].
    pub async fn open(path: &Path) -> Result<Self, StoreError> {
        let path = real(path);
        let lock = lock::take(&path)?;
        if swap::is_half(&path) {
            return Err(StoreError::HalfRestored);
        }
        let mut connection = sqlite::open_to_write(&path).await?;
        if sqlite::migrate(&mut connection).await? {
            // A table that is new to an older record is empty until it is computed.
            let mut transaction = sqlx::Connection::begin(&mut connection).await?;
            rebuild(&mut transaction).await?;
            sqlite::mark_computed(&mut transaction).await?;
            sqlite::commit(transaction).await?;
        }
        let origin = match log::origin(&mut connection).await? {
            Some(origin) => origin,
            None => {
                let origin = Uuid::new_v4();
                log::set_origin(&mut connection, origin).await?;
                origin
            }
        };
        let held = Held::load(&mut connection).await?;
        let readers = sqlite::open_to_read(&path).await?;
        let files = Files::of(&path);
        files.clear_incoming();
        let shared = Arc::new(Shared::new(origin, readers, files, held));
        let writer = writer::start(path, connection, Arc::clone(&shared), lock);
        Ok(Self {
            shared,
            writer: Some(writer),
        })
    }

    /// Opens the record at `path` for reading only, also while another program writes to it. What
    /// is kept in memory (shelf, names) is as of now.
    ///
    /// # Errors
    /// As [`Store::open`], but never [`StoreError::InUse`].
    pub async fn open_to_read(path: &Path) -> Result<Self, StoreError> {
        let path = real(path);
        if swap::is_half(&path) {
            return Err(StoreError::HalfRestored);
        }
        let readers = sqlite::open_to_read(&path).await?;
        let mut c = readers.acquire().await?;
        sqlite::check_form(&mut c).await?;
        let origin = log::origin(&mut c).await?.ok_or(StoreError::NotAStore)?;
        let held = Held::load(&mut c).await?;
        drop(c);
        Ok(Self {
            shared: Arc::new(Shared::new(origin, readers, Files::of(&path), held)),
            writer: None,
        })
    }

    /// Finishes what is queued, closes the file and lets go of it. Every clone is closed with it.
    pub async fn close(self) {
        match &self.writer {
            Some(writer) => {
                let (answer, closed) = oneshot::channel();
                if writer.send(Command::Close(answer)).await.is_ok() {
                    let _ = closed.await;
                }
            }
            None => self.shared.readers.close().await,
        }
    }

    /// Looks at the subject, lets `decide` draft entries, and stores them: all of them or none,
    /// together with the submission's key and the rows of the read tables.
    ///
    /// A draft may belong to another subject than the request's. A submission that was stored
    /// before stores nothing and is answered as it was. A decision without drafts stores nothing.
    ///
    /// # Errors
    /// [`AppendError::Refused`] with what `decide` refused with; [`AppendError::Conflict`] if the
    /// subject is not at the expected version; [`AppendError::Store`] if the record failed.
    pub async fn append<R: Send + 'static>(
        &self,
        request: Request,
        decide: impl FnOnce(&Scene<'_>) -> Result<Vec<(Uuid, Body)>, R> + Send + 'static,
    ) -> Result<Written, AppendError<R>> {
        let decide: Decide =
            Box::new(move |scene| decide(scene).map_err(|refusal| Box::new(refusal) as Refusal));
        let (answer, answered) = oneshot::channel();
        self.send(Command::Append(request, decide, answer)).await?;
        match answered.await.map_err(|_| lost())? {
            Ok(written) => Ok(written),
            Err(AppendError::Conflict { since }) => Err(AppendError::Conflict { since }),
            Err(AppendError::Store(error)) => Err(AppendError::Store(error)),
            Err(AppendError::Refused(refusal)) => match refusal.downcast::<R>() {
                Ok(refusal) => Err(AppendError::Refused(*refusal)),
                Err(_) => unreachable!("a refusal comes back as it was sent"),
            },
        }
    }

    /// The shelf: every sheet revision.
    pub fn shelf(&self) -> Arc<Shelf> {
        self.shared.held().shelf
    }

    /// What closed jobs teach.
    pub fn lessons(&self) -> Arc<Vec<Lesson>> {
        self.shared.held().lessons
    }

    /// The key of the person `name`, made if there is none. Space around the name does not count.
    ///
    /// # Errors
    /// [`StoreError::NoName`] for an empty name; whatever keeps the record from writing.
    pub async fn person(&self, name: &str) -> Result<PersonKey, StoreError> {
        let known = people::find(&mut *self.reader().await?, name).await?;
        if let Some(key) = known {
            return Ok(key);
        }
        let (answer, answered) = oneshot::channel();
        self.send(Command::Person(name.to_owned(), answer)).await?;
        answered.await.map_err(|_| lost())?
    }

    /// The name of every person; one whose name was erased is not among them.
    pub async fn names(&self) -> Result<Names, StoreError> {
        Ok(self.shared.held().names)
    }

    /// Forgets a name for good. The entries stay; nobody can tell from them who it was.
    pub async fn erase_person(&self, key: &PersonKey) -> Result<(), StoreError> {
        let (answer, answered) = oneshot::channel();
        self.send(Command::Erase(key.clone(), answer)).await?;
        answered.await.map_err(|_| lost())?
    }

    /// Takes the file with this hash away if no entry names it, as after an entry that was refused.
    ///
    /// # Errors
    /// The disk or the record fails.
    pub async fn drop_unnamed(&self, sha256: &str) -> Result<(), StoreError> {
        let (answer, answered) = oneshot::channel();
        self.send(Command::DropUnnamed(sha256.to_owned(), answer))
            .await?;
        answered.await.map_err(|_| lost())?
    }

    /// Checks the chain, the versions, and the read tables against the logbook.
    pub async fn verify(&self) -> Result<VerifyReport, StoreError> {
        verify(&self.shared).await
    }

    /// Photos and files.
    pub fn files(&self) -> &Files {
        &self.shared.files
    }

    /// Computes the read tables anew.
    pub async fn rebuild(&self) -> Result<RebuildReport, StoreError> {
        let (answer, answered) = oneshot::channel();
        self.send(Command::Rebuild(answer)).await?;
        answered.await.map_err(|_| lost())?
    }

    async fn send(&self, command: Command) -> Result<(), StoreError> {
        let writer = self.writer.as_ref().ok_or(StoreError::ReadOnly)?;
        writer.send(command).await.map_err(|_| StoreError::Closed)
    }

    #[cfg(test)]
    pub(crate) async fn limit_pages(&self, most: u32) -> Result<(), StoreError> {
        let (answer, answered) = oneshot::channel();
        self.send(Command::Pages(most, answer)).await?;
        answered.await.map_err(|_| lost())?
    }
}

/// The writer went away with the request in hand.
fn lost() -> StoreError {
    StoreError::Unknown {
        why: StoreError::Closed.to_string(),
    }
}

/// The same path for the same file, so that two names of it meet at one lock.
pub(crate) fn real(path: &Path) -> PathBuf {
    if let Ok(path) = path.canonicalize() {
        return path;
    }
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    match (folder.canonicalize(), path.file_name()) {
        (Ok(folder), Some(name)) => folder.join(name),
        _ => path.to_owned(),
    }
}
