//! What a store can be asked without writing.

use shop::entry::Entry;
use shop::tables::{InboxRow, JobRow, ToolRow};
use uuid::Uuid;

use crate::error::StoreError;
use crate::find::{self, Found};
use crate::log::{self, Head, Logged};
use crate::sqlite::Connection;
use crate::store::Store;
use crate::tables::inboxes;
use crate::tables::jobs::{self, JobFilter};
use crate::tables::tools::{self, ToolFilter};

impl Store {
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

    /// The entries since `since` (all, if `None`) that name a gauge, in order: a scan over the logbook from that moment
    /// on, for the rare day on which a gauge fails.
    pub async fn entries_with_gauge(
        &self,
        gauge: &str,
        since: Option<jiff::Timestamp>,
    ) -> Result<Vec<Entry>, StoreError> {
        let mut c = self.reader().await?;
        let rows = log::naming_gauge(&mut c, gauge, since).await?;
        // An entry that does not read is told by the check.
        Ok(rows.iter().filter_map(|row| row.read().ok()).collect())
    }

    /// Where the logbook ends.
    pub async fn head(&self) -> Result<Head, StoreError> {
        log::head(&mut *self.reader().await?, self.shared.origin).await
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

    /// The ended jobs of a model in which a step was timed, the newest first: at most `most` of the
    /// last [`TIMED_AMONG`](jobs::TIMED_AMONG) that ended.
    pub async fn timed_jobs(&self, model: &str, most: u32) -> Result<Vec<Uuid>, StoreError> {
        jobs::timed(&mut *self.reader().await?, model, most).await
    }

    /// The ended jobs of a model in which recorded pulls count, the newest first: at most `most`.
    pub async fn pulled_jobs(&self, model: &str, most: u32) -> Result<Vec<Uuid>, StoreError> {
        jobs::ended_with(&mut *self.reader().await?, model, "pulls-read", most).await
    }

    /// The ended jobs of a model in which a set-up was signed off, the newest first: at most `most`.
    pub async fn set_up_jobs(&self, model: &str, most: u32) -> Result<Vec<Uuid>, StoreError> {
        jobs::ended_with(&mut *self.reader().await?, model, "set-up-signed-off", most).await
    }

    /// A list of tools.
    pub async fn tools(&self, filter: &ToolFilter) -> Result<Vec<ToolRow>, StoreError> {
        tools::list(&mut *self.reader().await?, filter).await
    }

    /// Jobs, open or ended, whose certificate waits for a second signature, the oldest first.
    pub async fn jobs_to_sign(&self) -> Result<Vec<JobRow>, StoreError> {
        jobs::waiting_for_signature(&mut *self.reader().await?).await
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

    /// Inboxes in which something waits, the newest first.
    pub async fn inboxes_waiting(&self) -> Result<Vec<InboxRow>, StoreError> {
        inboxes::waiting(&mut *self.reader().await?).await
    }

    pub(crate) async fn reader(
        &self,
    ) -> Result<impl std::ops::DerefMut<Target = Connection> + use<>, StoreError> {
        Ok(self.shared.readers.acquire().await?)
    }
}
