//! The store: one record, opened.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use shop::entry::{Body, PersonKey};
use shop::sheet::Shelf;
use shop::tables::{JobRow, ToolRow};
use tokio::sync::{mpsc, oneshot};
use uuid::Uuid;

use crate::append::{Decide, Refusal};
use crate::error::{AppendError, StoreError};
use crate::find::{self, Found};
use crate::lock;
use crate::log::{self, Head, Logged};
use crate::people;
use crate::rebuild::RebuildReport;
use crate::request::{Request, Scene, Written};
use crate::shared::{Held, Names, Shared};
use crate::sqlite::{self, Connection};
use crate::tables::jobs::{self, JobFilter};
use crate::tables::tools::{self, ToolFilter};
use crate::verify::{VerifyReport, verify};
use crate::writer::{self, Command};

/// One record, opened. Clones are the same record.
#[derive(Clone)]
pub struct Store {
    shared: Arc<Shared>,
    /// `None` if it was opened for reading.
    writer: Option<mpsc::Sender<Command>>,
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
        let mut connection = sqlite::open_to_write(&path).await?;
        sqlite::migrate(&mut connection).await?;
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
        let shared = Arc::new(Shared::new(origin, readers, held));
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
        let readers = sqlite::open_to_read(&real(path)).await?;
        let mut c = readers.acquire().await?;
        sqlite::check_form(&mut c).await?;
        let origin = log::origin(&mut c).await?.ok_or(StoreError::NotAStore)?;
        let held = Held::load(&mut c).await?;
        drop(c);
        Ok(Self {
            shared: Arc::new(Shared::new(origin, readers, held)),
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

    /// The entries of one subject, in order.
    pub async fn entries(&self, subject: Uuid) -> Result<Vec<Logged>, StoreError> {
        let mut c = self.reader().await?;
        let rows = log::of_subject(&mut c, subject).await?;
        rows.into_iter()
            .map(|row| {
                Ok(Logged {
                    entry: row.read()?,
                    seq: row.seq.unsigned_abs(),
                    hash: row.hash,
                })
            })
            .collect()
    }

    /// Where the logbook ends.
    pub async fn head(&self) -> Result<Head, StoreError> {
        log::head(&mut *self.reader().await?, self.shared.origin).await
    }

    /// The shelf: every sheet revision.
    pub fn shelf(&self) -> Arc<Shelf> {
        self.shared.held().shelf
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

    /// A list of jobs.
    pub async fn jobs(&self, filter: &JobFilter) -> Result<Vec<JobRow>, StoreError> {
        jobs::list(&mut *self.reader().await?, filter).await
    }

    /// One job.
    pub async fn job(&self, job: Uuid) -> Result<Option<JobRow>, StoreError> {
        jobs::by_id(&mut *self.reader().await?, job).await
    }

    /// The job with this number.
    pub async fn job_by_number(&self, number: u32) -> Result<Option<JobRow>, StoreError> {
        jobs::by_number(&mut *self.reader().await?, number).await
    }

    /// The jobs of a tool, the newest first.
    pub async fn jobs_of_tool(&self, tool: Uuid) -> Result<Vec<JobRow>, StoreError> {
        jobs::of_tool(&mut *self.reader().await?, tool).await
    }

    /// A list of tools.
    pub async fn tools(&self, filter: &ToolFilter) -> Result<Vec<ToolRow>, StoreError> {
        tools::list(&mut *self.reader().await?, filter).await
    }

    /// One tool.
    pub async fn tool(&self, tool: Uuid) -> Result<Option<ToolRow>, StoreError> {
        tools::by_id(&mut *self.reader().await?, tool).await
    }

    /// Tools with this serial, whatever the case of its letters.
    pub async fn tools_by_serial(&self, serial: &str) -> Result<Vec<ToolRow>, StoreError> {
        tools::by_serial(&mut *self.reader().await?, serial).await
    }

    /// What the find box finds: a job by its number, tools by the beginning of their serial, jobs
    /// by a part of the customer's name.
    pub async fn find(&self, text: &str) -> Result<Vec<Found>, StoreError> {
        find::find(&mut *self.reader().await?, text).await
    }

    /// Checks the chain, the versions, and the read tables against the logbook.
    pub async fn verify(&self) -> Result<VerifyReport, StoreError> {
        verify(&self.shared).await
    }

    /// Computes the read tables anew.
    pub async fn rebuild(&self) -> Result<RebuildReport, StoreError> {
        let (answer, answered) = oneshot::channel();
        self.send(Command::Rebuild(answer)).await?;
        answered.await.map_err(|_| lost())?
    }

    async fn reader(
        &self,
    ) -> Result<impl std::ops::DerefMut<Target = Connection> + use<>, StoreError> {
        Ok(self.shared.readers.acquire().await?)
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
fn real(path: &Path) -> PathBuf {
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
