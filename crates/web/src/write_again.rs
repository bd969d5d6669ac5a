//! Writing to a subject that no page was opened for at a version: when another write came between, what it rests on is
//! looked at anew.

use calc::Message;
use shop::entry::{Body, PersonKey};
use shop::job::Refusals;
use store::{AppendError, Request, Scene, StoreError};
use uuid::Uuid;

use crate::app::App;
use crate::forms::FieldErrors;
use crate::job::{Trouble, field_errors};

/// How often a write is tried again.
const TRIES: usize = 3;

/// Why nothing was written.
pub(crate) enum NotWritten {
    /// Fields to mend.
    Fields(FieldErrors),
    /// The record could not be read or written.
    Store(StoreError),
}

impl From<NotWritten> for Trouble {
    fn from(why: NotWritten) -> Self {
        match why {
            NotWritten::Fields(errors) => Self::Fields(errors),
            NotWritten::Store(error) => Self::Store(error),
        }
    }
}

/// What is written to, under which key, by whom.
pub(crate) struct To {
    /// The subject.
    pub subject: Uuid,
    /// Key of the form.
    pub submission: String,
    /// By whom.
    pub by: PersonKey,
    /// What is said where others write all the time.
    pub busy: &'static str,
}

/// Writes what `decide` drafts; whether the same form was stored before.
pub(crate) async fn write_again(
    app: &App,
    to: To,
    decide: impl Fn(&Scene<'_>) -> Result<Vec<Body>, Refusals> + Clone + Send + 'static,
) -> Result<bool, NotWritten> {
    let subject = to.subject;
    for _ in 0..TRIES {
        let logged = app.store.entries(subject).await;
        let logged = logged.map_err(NotWritten::Store)?;
        let request = Request {
            submission: to.submission.clone(),
            subject,
            expected_version: logged.last().map_or(0, |last| last.entry.version),
            by: to.by.clone(),
            at: app.now().0,
            serial: None,
        };
        let decide = decide.clone();
        let draft = move |scene: &Scene<'_>| -> Result<Vec<(Uuid, Body)>, Refusals> {
            let bodies = decide(scene)?;
            Ok(bodies.into_iter().map(|body| (subject, body)).collect())
        };
        match app.store.append(request, draft).await {
            Ok(written) => return Ok(written.repeated),
            Err(AppendError::Conflict { .. }) => {}
            Err(AppendError::Refused(refusals)) => {
                return Err(NotWritten::Fields(field_errors(refusals)));
            }
            Err(AppendError::Store(error)) => return Err(NotWritten::Store(error)),
        }
    }
    let busy = FieldErrors::one("", Message::new(to.busy));
    Err(NotWritten::Fields(busy))
}
