//! Photos and files of a job.

use serde::{Deserialize, Serialize};

/// A photo or file was attached to a stage. Its bytes lie beside the record under their hash.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FileAttached {
    /// Name of the file as it was sent, cleaned.
    pub name: String,
    /// What it is, judged by its content: `image/jpeg`, `application/pdf`, …
    pub media_type: String,
    /// Length as stored.
    pub bytes: u64,
    /// SHA-256 of the bytes as stored, lower-case hex.
    pub sha256: String,
    /// Stage key.
    pub stage: String,
    /// Caption.
    pub note: String,
    /// Step id of the route, where it shows a step of strip or rebuild.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub step: String,
}

impl FileAttached {
    /// Whether it can be shown as a picture.
    pub fn is_picture(&self) -> bool {
        self.media_type.starts_with("image/")
    }
}
