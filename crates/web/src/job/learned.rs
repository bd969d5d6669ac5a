//! The fault model of a job with what the shop's closed jobs taught.

use calc::learned_share::Cases;
use shop::entry::{Entry, LEARNING};
use shop::job::Job;
use shop::sheet::{FaultModel, Shelf};
use store::StoreError;

use crate::app::App;

/// The fault model that `job` is reckoned with; `None` where it is the sheet's own.
///
/// # Errors
/// The record cannot be read.
pub async fn faults_of(
    app: &App,
    job: &Job,
    shelf: &Shelf,
) -> Result<Option<FaultModel>, StoreError> {
    let said = rulings(app).await?;
    let (now, _) = app.now();
    Ok(job.learned_faults(&app.store.lessons(), &said, now, shelf))
}

/// After how many of the shop's closed jobs the tool came back, as known when the quote of `job` was made.
///
/// # Errors
/// The record cannot be read.
pub async fn come_backs(app: &App, job: &Job, shelf: &Shelf) -> Result<Cases, StoreError> {
    let said = rulings(app).await?;
    let (now, _) = app.now();
    Ok(job.come_backs(&app.store.lessons(), &said, now, shelf))
}

/// What a manager said of learned numbers.
///
/// # Errors
/// The record cannot be read.
pub async fn rulings(app: &App) -> Result<Vec<Entry>, StoreError> {
    let logged = app.store.entries(LEARNING).await?;
    Ok(logged.into_iter().map(|l| l.entry).collect())
}
