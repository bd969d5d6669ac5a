//! Photos and files that belong to a document.

use serde::Serialize;

/// A photo.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AttachedPhoto {
    /// The picture, upright, as JPEG; `None` if it cannot be shown any more.
    #[serde(skip)]
    pub jpeg: Option<Vec<u8>>,
    /// Caption; empty if it has none.
    pub caption: String,
    /// Part of the job that it was attached to.
    pub stage: String,
    /// Name of the file.
    pub name: String,
    /// When and by whom.
    pub by: String,
    /// Hash of the file, hexadecimal, whole.
    pub hash: String,
}

/// A file that is not printed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AttachedFile {
    /// Name of the file.
    pub name: String,
    /// Caption; empty if it has none.
    pub caption: String,
    /// Part of the job that it was attached to.
    pub stage: String,
    /// Hash of the file, hexadecimal, whole.
    pub hash: String,
}
