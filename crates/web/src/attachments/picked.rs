//! Files that were picked from the recordings folder instead of being sent.

use calc::Message;
use store::{FileError, Kept, StoreError};

use super::receive::Received;
use crate::app::App;
use crate::forms::Typed;

/// The field that names them.
pub(crate) const PICKED: &str = "waiting";

/// Takes in what was picked, as if it had been sent with the form. What was taken is no longer picked: it stands among
/// the files that are kept, should the form be refused.
pub(super) async fn with_picked(app: &App, mut received: Received) -> Received {
    let mut names: Vec<String> = received.typed.all(PICKED).map(str::to_owned).collect();
    names.sort();
    names.dedup();
    let mut taken = Vec::new();
    for name in names {
        match bring(app, &name).await {
            Ok(kept) => {
                received.kept.push(kept);
                taken.push(name);
            }
            Err(FileError::Refused(message)) => received.refuse(message),
            Err(FileError::Store(error)) => received.failed = Some(error),
        }
    }
    let typed = std::mem::take(&mut received.typed);
    let left = |pair: &(&str, &str)| pair.0 != PICKED || !taken.iter().any(|name| name == pair.1);
    received.typed = typed.pairs().filter(left).collect::<Typed>();
    received
}

async fn bring(app: &App, name: &str) -> Result<Kept, FileError> {
    let Some(folder) = app.recordings.clone() else {
        let message = Message::new("waiting-not-whole").with("name", name);
        return Err(FileError::Refused(message));
    };
    let (files, name) = (app.store.files().clone(), name.to_owned());
    let bring = move || folder.bring(&name, &files);
    let brought = tokio::task::spawn_blocking(bring).await;
    brought.unwrap_or(Err(FileError::Store(StoreError::Panicked)))
}
