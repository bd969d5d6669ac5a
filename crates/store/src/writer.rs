//! The one writer: a task that owns the write connection and works through a queue.
//!
//! Writers that wait in a queue wait a few milliseconds; writers that race for SQLite's lock wait
//! seconds or fail.

use std::fs::File;
use std::path::PathBuf;
use std::sync::Arc;

use shop::entry::PersonKey;
use sqlx::Connection as _;
use tokio::sync::{mpsc, oneshot};

use crate::append::{Decide, Refusal, append};
use crate::error::{AppendError, StoreError};
use crate::papers;
use crate::people;
use crate::rebuild::{RebuildReport, rebuild};
use crate::request::{Request, Written};
use crate::shared::{Held, Shared};
use crate::sqlite::{self, Connection, Transaction};
use crate::tables::lessons;

/// Requests that may wait; more wait at the door.
const QUEUE: usize = 64;

type Answer<T, E = StoreError> = oneshot::Sender<Result<T, E>>;

/// What the writer can be asked.
pub(crate) enum Command {
    Append(Request, Decide, Answer<Written, AppendError<Refusal>>),
    Person(String, Answer<PersonKey>),
    Erase(PersonKey, Answer<()>),
    DropUnnamed(String, Answer<()>),
    Rebuild(Answer<RebuildReport>),
    Close(oneshot::Sender<()>),
    /// Tests limit the file's size, as a full disk would.
    #[cfg(test)]
    Pages(u32, Answer<()>),
}

struct Writer {
    path: PathBuf,
    /// `None` after a failure, until the next request opens it anew.
    connection: Option<Connection>,
    shared: Arc<Shared>,
    /// Held for as long as this record is written to.
    _lock: File,
}

/// Does `$work` in a transaction: committed if it is `Ok`, rolled back otherwise.
macro_rules! in_transaction {
    ($writer:expr, |$transaction:ident| $work:expr) => {{
        let done = match $writer.begin().await {
            Ok(mut $transaction) => {
                let done = $work.await;
                end($transaction, done).await
            }
            Err(error) => Err(error.into()),
        };
        $writer.settle(done).await
    }};
}

/// Starts the writer.
pub(crate) fn start(
    path: PathBuf,
    connection: Connection,
    shared: Arc<Shared>,
    lock: File,
) -> mpsc::Sender<Command> {
    let (queue, commands) = mpsc::channel(QUEUE);
    let writer = Writer {
        path,
        connection: Some(connection),
        shared,
        _lock: lock,
    };
    tokio::spawn(writer.run(commands));
    queue
}

impl Writer {
    async fn run(mut self, mut commands: mpsc::Receiver<Command>) {
        let mut closing = None;
        while let Some(command) = commands.recv().await {
            // Whoever asked may have gone; what was stored stays stored.
            match command {
                Command::Append(request, decide, answer) => {
                    let _ = answer.send(self.append(&request, decide).await);
                }
                Command::Person(name, answer) => {
                    let _ = answer.send(self.person(&name).await);
                }
                Command::Erase(key, answer) => {
                    let _ = answer.send(self.erase(&key).await);
                }
                Command::DropUnnamed(hash, answer) => {
                    let _ = answer.send(self.drop_unnamed(&hash).await);
                }
                Command::Rebuild(answer) => {
                    let _ = answer.send(self.rebuild().await);
                }
                Command::Close(answer) => {
                    closing = Some(answer);
                    break;
                }
                #[cfg(test)]
                Command::Pages(most, answer) => {
                    let _ = answer.send(self.limit_pages(most).await);
                }
            }
        }
        self.shared.readers.close().await;
        if let Some(connection) = self.connection.take() {
            let _ = connection.close().await;
        }
        drop(self);
        if let Some(answer) = closing {
            let _ = answer.send(());
        }
    }

    async fn append(
        &mut self,
        request: &Request,
        decide: Decide,
    ) -> Result<Written, AppendError<Refusal>> {
        let origin = self.shared.origin;
        let shelf = self.shared.held().shelf;
        let appended = in_transaction!(self, |c| append(&mut c, origin, &shelf, request, decide))?;
        if let Some(shelf) = appended.shelf {
            self.shared.hold(|held| held.shelf = Arc::new(shelf));
        }
        if !appended.taught.is_empty() {
            self.shared.hold(|held| {
                let held = Arc::make_mut(&mut held.lessons);
                for (job, lesson) in appended.taught {
                    lessons::renew(held, job, lesson);
                }
            });
        }
        Ok(appended.written)
    }

    async fn person(&mut self, name: &str) -> Result<PersonKey, StoreError> {
        let key = in_transaction!(self, |c| people::find_or_make(&mut c, name))?;
        self.shared.hold(|held| {
            let names = Arc::make_mut(&mut held.names);
            names.insert(key.clone(), name.trim().to_owned());
        });
        Ok(key)
    }

    async fn erase(&mut self, key: &PersonKey) -> Result<(), StoreError> {
        // The papers go first: with the name gone nobody could find them.
        let papers = papers::naming(&mut *self.shared.readers.acquire().await?, key).await?;
        let files = self.shared.files.clone();
        let remove = move || papers.iter().try_for_each(|hash| files.remove(hash));
        let removed = tokio::task::spawn_blocking(remove).await;
        removed.map_err(|_| StoreError::Panicked)??;
        in_transaction!(self, |c| people::erase(&mut c, key))?;
        self.shared.hold(|held| {
            Arc::make_mut(&mut held.names).remove(key);
        });
        // The name is erased whether or not the log can be emptied at this moment.
        if let Some(connection) = &mut self.connection {
            let _ = sqlite::empty_log(connection).await;
        }
        Ok(())
    }

    /// Takes the file with this hash away if no entry names it: here nothing is written between looking and removing.
    async fn drop_unnamed(&mut self, hash: &str) -> Result<(), StoreError> {
        let is_named = papers::is_named(&mut *self.shared.readers.acquire().await?, hash).await?;
        if is_named {
            return Ok(());
        }
        let (files, hash) = (self.shared.files.clone(), hash.to_owned());
        let removed = tokio::task::spawn_blocking(move || files.remove(&hash)).await;
        Ok(removed.map_err(|_| StoreError::Panicked)??)
    }

    async fn rebuild(&mut self) -> Result<RebuildReport, StoreError> {
        let report = in_transaction!(self, |c| rebuild(&mut c))?;
        let reader = &mut *self.shared.readers.acquire().await?;
        let taught = Arc::new(lessons::all(reader).await?);
        self.shared.hold(|held| held.lessons = taught);
        Ok(report)
    }

    /// Begins a transaction, on a connection opened anew if the last one failed.
    async fn begin(&mut self) -> Result<Transaction<'_>, StoreError> {
        let connection = match self.connection.take() {
            Some(connection) => connection,
            None => {
                let mut connection = sqlite::open_to_write(&self.path).await?;
                // The commit that failed may have happened after all.
                let held = Held::load(&mut connection).await?;
                self.shared.hold(|old| *old = held);
                connection
            }
        };
        sqlite::begin(self.connection.insert(connection)).await
    }

    /// Gives the connection up if what was done leaves doubt about it.
    async fn settle<T, E: Doubt>(&mut self, done: Result<T, E>) -> Result<T, E> {
        let doubt = done.as_ref().is_err_and(Doubt::taints);
        if let Some(connection) = &self.connection
            && (doubt || connection.is_in_transaction())
            && let Some(connection) = self.connection.take()
        {
            let _ = connection.close().await;
        }
        done
    }

    #[cfg(test)]
    async fn limit_pages(&mut self, most: u32) -> Result<(), StoreError> {
        if let Some(connection) = &mut self.connection {
            let pragma = sqlx::AssertSqlSafe(format!("PRAGMA max_page_count = {most}"));
            sqlx::query(pragma).execute(connection).await?;
        }
        Ok(())
    }
}

/// Commits or rolls back.
async fn end<T, E: From<StoreError>>(
    transaction: Transaction<'_>,
    done: Result<T, E>,
) -> Result<T, E> {
    match done {
        Ok(value) => {
            sqlite::commit(transaction).await?;
            Ok(value)
        }
        Err(error) => {
            // If this fails, the connection is still in a transaction, and `settle` sees it.
            let _ = transaction.rollback().await;
            Err(error)
        }
    }
}

/// Whether an error leaves doubt about the connection.
trait Doubt {
    fn taints(&self) -> bool;
}

impl Doubt for StoreError {
    fn taints(&self) -> bool {
        self.leaves_doubt()
    }
}

impl<R> Doubt for AppendError<R> {
    fn taints(&self) -> bool {
        matches!(self, Self::Store(error) if error.leaves_doubt())
    }
}
