//! Files on the service report.

use axum::response::Response;
use paper::model::{AttachedFile, AttachedPhoto};
use shop::entry::FileAttached;
use shop::job::{Stage, Stamped};
use store::{FileError, FileHash, PictureSize};

use crate::app::App;
use crate::job::names;
use crate::job::view::View;
use crate::shell::internal;

/// The photos of the job in the order of the work, without their pictures yet.
pub(crate) fn photos(v: &View) -> Vec<AttachedPhoto> {
    in_order(v, true)
        .map(|(stage, file)| AttachedPhoto {
            jpeg: None,
            caption: file.body.note.clone(),
            stage,
            name: file.body.name.clone(),
            by: v.stamp(file.at, &file.by),
            hash: file.body.sha256.clone(),
        })
        .collect()
}

/// The other files of the job in the order of the work.
pub(crate) fn files(v: &View) -> Vec<AttachedFile> {
    in_order(v, false)
        .map(|(stage, file)| AttachedFile {
            name: file.body.name.clone(),
            caption: file.body.note.clone(),
            stage,
            hash: file.body.sha256.clone(),
        })
        .collect()
}

fn in_order<'a>(
    v: &'a View,
    pictures: bool,
) -> impl Iterator<Item = (String, &'a Stamped<FileAttached>)> {
    Stage::ALL
        .into_iter()
        .flat_map(move |stage| v.job.files_at(stage).map(move |file| (stage, file)))
        .filter(move |(_, file)| file.body.is_picture() == pictures)
        .map(|(stage, file)| (v.t(names::stage(stage)), file))
}

/// The photos with their pictures, upright and small enough for a paper. One that is lost keeps its
/// place: the report says so.
pub(crate) async fn with_pictures(
    app: &App,
    photos: Vec<AttachedPhoto>,
) -> Result<Vec<AttachedPhoto>, Response> {
    let files = app.store.files().clone();
    let look = move || {
        photos
            .into_iter()
            .map(|photo| {
                let picture = FileHash::parse(&photo.hash)
                    .map(|hash| files.picture(&hash, PictureSize::Print));
                let jpeg = match picture {
                    Some(Ok(jpeg)) => Some(jpeg),
                    None | Some(Err(FileError::Refused(_))) => None,
                    Some(Err(FileError::Store(error))) => return Err(error),
                };
                Ok(AttachedPhoto { jpeg, ..photo })
            })
            .collect()
    };
    let looked: Result<Result<_, _>, _> = tokio::task::spawn_blocking(look).await;
    looked.map_err(internal)?.map_err(internal)
}
