//! The table `lessons`.

use shop::entry::{Entry, PinRecord};
use shop::learning::{self, Lesson};
use uuid::Uuid;

use super::{Cell, bind_all};
use crate::error::StoreError;
use crate::log::{damaged, uuid};
use crate::sqlite::Connection;
use crate::stored::{subject_text, time_text};

/// A row of `lessons`. Lists of ids stand in one column, a space between two: no id holds one.
#[derive(Clone, Debug, PartialEq, Eq, sqlx::FromRow)]
pub(crate) struct StoredLesson {
    pub job: String,
    tool: String,
    model: String,
    revision: i64,
    faults: String,
    opened: String,
    closed: String,
    counter: Option<i64>,
    anew: i64,
    mended: i64,
    causes: String,
    there: String,
    absent: String,
    yes: String,
    no: String,
}

impl StoredLesson {
    /// The row that follows from a job's entries; `None` if they teach nothing.
    pub fn of(entries: &[Entry]) -> Option<Self> {
        learning::lesson(entries).map(|lesson| Self::from(&lesson))
    }

    pub fn cells(&self) -> Vec<(&'static str, Cell)> {
        vec![
            ("job", self.job.as_str().into()),
            ("tool", self.tool.as_str().into()),
            ("model", self.model.as_str().into()),
            ("revision", self.revision.into()),
            ("faults", self.faults.as_str().into()),
            ("opened", self.opened.as_str().into()),
            ("closed", self.closed.as_str().into()),
            ("counter", self.counter.into()),
            ("anew", self.anew.into()),
            ("mended", self.mended.into()),
            ("causes", self.causes.as_str().into()),
            ("there", self.there.as_str().into()),
            ("absent", self.absent.as_str().into()),
            ("yes", self.yes.as_str().into()),
            ("no", self.no.as_str().into()),
        ]
    }

    pub fn read(&self) -> Result<Lesson, StoreError> {
        let wrong = |what: &dyn std::fmt::Display| damaged(format!("lessons {}: {what}", self.job));
        let time = |text: &str| text.parse().map_err(|e: jiff::Error| wrong(&e));
        let said = |yes: &str, no: &str| -> Vec<(String, bool)> {
            let yes = ids(yes).map(|id| (id.to_owned(), true));
            let mut all: Vec<_> = yes
                .chain(ids(no).map(|id| (id.to_owned(), false)))
                .collect();
            all.sort();
            all
        };
        Ok(Lesson {
            job: uuid(&self.job)?,
            tool: uuid(&self.tool)?,
            model: PinRecord {
                id: self.model.clone(),
                revision: u32::try_from(self.revision).map_err(|e| wrong(&e))?,
            },
            faults: self.faults.clone(),
            opened: time(&self.opened)?,
            closed: time(&self.closed)?,
            counter: match self.counter {
                Some(counter) => Some(u64::try_from(counter).map_err(|e| wrong(&e))?),
                None => None,
            },
            counter_anew: self.anew != 0,
            mended: self.mended != 0,
            causes: ids(&self.causes).map(str::to_owned).collect(),
            symptoms: said(&self.there, &self.absent),
            checks: said(&self.yes, &self.no),
        })
    }
}

impl From<&Lesson> for StoredLesson {
    fn from(lesson: &Lesson) -> Self {
        let that_are = |said: &[(String, bool)], wanted: bool| -> String {
            let ids = said.iter().filter(|(_, is)| *is == wanted);
            let ids: Vec<&str> = ids.map(|(id, _)| id.as_str()).collect();
            ids.join(" ")
        };
        Self {
            job: subject_text(lesson.job),
            tool: subject_text(lesson.tool),
            model: lesson.model.id.clone(),
            revision: lesson.model.revision.into(),
            faults: lesson.faults.clone(),
            opened: time_text(lesson.opened),
            closed: time_text(lesson.closed),
            counter: lesson.counter.map(|c| i64::try_from(c).unwrap_or(i64::MAX)),
            anew: lesson.counter_anew.into(),
            mended: lesson.mended.into(),
            causes: lesson.causes.join(" "),
            there: that_are(&lesson.symptoms, true),
            absent: that_are(&lesson.symptoms, false),
            yes: that_are(&lesson.checks, true),
            no: that_are(&lesson.checks, false),
        }
    }
}

fn ids(list: &str) -> impl Iterator<Item = &str> {
    list.split(' ').filter(|id| !id.is_empty())
}

pub(crate) async fn put(c: &mut Connection, row: &StoredLesson) -> Result<(), StoreError> {
    remove(c, &row.job).await?;
    let insert = sqlx::query(
        "INSERT INTO lessons (job, tool, model, revision, faults, opened, closed, counter, anew,
                              mended, causes, there, absent, yes, no)
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)",
    );
    bind_all!(insert, row.cells()).execute(c).await?;
    Ok(())
}

pub(crate) async fn remove(c: &mut Connection, job: &str) -> Result<(), StoreError> {
    sqlx::query("DELETE FROM lessons WHERE job = $1")
        .bind(job)
        .execute(c)
        .await?;
    Ok(())
}

pub(crate) async fn remove_all(c: &mut Connection) -> Result<(), StoreError> {
    sqlx::query("DELETE FROM lessons").execute(c).await?;
    Ok(())
}

/// The row of `job` as stored.
pub(crate) async fn stored(
    c: &mut Connection,
    job: &str,
) -> Result<Option<StoredLesson>, StoreError> {
    Ok(sqlx::query_as("SELECT * FROM lessons WHERE job = $1")
        .bind(job)
        .fetch_optional(c)
        .await?)
}

/// The job of every row.
pub(crate) async fn keys(c: &mut Connection) -> Result<Vec<String>, StoreError> {
    Ok(sqlx::query_scalar("SELECT job FROM lessons ORDER BY job")
        .fetch_all(c)
        .await?)
}

/// Every lesson.
pub(crate) async fn all(c: &mut Connection) -> Result<Vec<Lesson>, StoreError> {
    let rows: Vec<StoredLesson> = sqlx::query_as("SELECT * FROM lessons ORDER BY closed, job")
        .fetch_all(c)
        .await?;
    rows.iter().map(StoredLesson::read).collect()
}

/// `lessons` with what a job teaches now in the place of what it taught.
pub(crate) fn renew(lessons: &mut Vec<Lesson>, job: Uuid, now: Option<Lesson>) {
    lessons.retain(|lesson| lesson.job != job);
    lessons.extend(now);
}
