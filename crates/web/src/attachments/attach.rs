//! From kept files to entries of the job.

use std::io::{self, Read};

use calc::Message;
use shop::entry::FileAttached;
use shop::job::Command;
use store::{FileError, FileHash, Kept};

use crate::app::App;
use crate::by_hand::{NotSent, Sent, not_sent, page_of};
use crate::forms::{FieldErrors, Typed};
use crate::job::{self, Trouble};
use crate::shell::Page;

/// The field of files that were kept while their form was refused.
const KEPT: &str = "kept";

/// Most files of one form.
const MOST_FILES: usize = 20;

/// A file to attach at the prompt.
#[derive(Clone, Debug)]
pub struct NewFile {
    /// Name.
    pub name: String,
    /// Stage key; that of the stage which the job is in if `None`.
    pub stage: Option<String>,
    /// Caption.
    pub note: String,
}

/// Attaches what `bytes` gives to job `number`, for `who`.
///
/// # Errors
/// As the page would answer.
pub async fn add(
    app: &App,
    who: &str,
    number: u32,
    file: NewFile,
    mut bytes: impl Read + Send + 'static,
) -> Result<Sent, NotSent> {
    let p = page_of(who);
    let files = app.store.files().clone();
    let name = file.name.clone();
    let take = move || {
        let mut incoming = files.receive(&name)?;
        let mut piece = vec![0; 64 * 1024];
        loop {
            match bytes.read(&mut piece) {
                Ok(0) => return incoming.keep(),
                Ok(read) => incoming.write(&piece[..read])?,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(FileError::from(error)),
            }
        }
    };
    let taken = tokio::task::spawn_blocking(take).await;
    let taken = taken.map_err(|error| NotSent::Failed(error.to_string()))?;
    let done = async {
        let kept = taken.map_err(|error| match error {
            FileError::Refused(message) => Trouble::Fields(FieldErrors::one("file", message)),
            FileError::Store(error) => Trouble::Store(error),
        })?;
        let stage = match file.stage {
            Some(stage) => stage,
            None => job::stage_now(app, &p, number).await?.to_owned(),
        };
        let version = job::version_now(app, &p, number).await?;
        let typed = Typed::new()
            .with("version", version.to_string())
            .with("stage", stage)
            .with("note", &file.note);
        attach(app, &p, number, &typed, vec![kept]).await
    };
    done.await
        .map(|repeated| Sent { number, repeated })
        .map_err(|trouble| not_sent(&p, trouble))
}

/// Attaches `kept` to job `number` as the form says; whether an earlier sending of the form had done
/// so.
pub(super) async fn attach(
    app: &App,
    p: &Page,
    number: u32,
    typed: &Typed,
    kept: Vec<Kept>,
) -> Result<bool, Trouble> {
    if kept.len() > MOST_FILES {
        let message = Message::new("file-too-many").with("most", MOST_FILES);
        return Err(Trouble::Fields(FieldErrors::one("file", message)));
    }
    let attached = kept.into_iter().map(|kept| FileAttached {
        name: kept.name,
        media_type: kept.kind.media_type().to_owned(),
        bytes: kept.bytes,
        sha256: kept.hash.to_string(),
        stage: typed.get("stage").to_owned(),
        note: typed.get("note").to_owned(),
        step: typed.get("step").to_owned(),
    });
    let command = Command::Attach(attached.collect());
    job::write(app, p, number, typed, command).await
}

/// The form's fields with the files that were kept, so that they need not be sent again.
pub(crate) fn with_kept(typed: Typed, kept: &[Kept]) -> Typed {
    let fields: Typed = typed.pairs().filter(|(name, _)| *name != KEPT).collect();
    kept.iter().fold(fields, |typed, kept| {
        typed.with(KEPT, format!("{} {}", kept.hash, kept.name))
    })
}

/// Hash and name of each file that the form says was kept.
pub(crate) fn named_kept(typed: &Typed) -> impl Iterator<Item = (FileHash, &str)> {
    typed.all(KEPT).filter_map(|value| {
        let (hash, name) = value.split_once(' ')?;
        Some((FileHash::parse(hash)?, name))
    })
}
