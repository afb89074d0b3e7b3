//! A photo that goes along with a copy, stripped of everything but the picture.

use serde::Serialize;
use uuid::Uuid;

use crate::photo::{Format, Role};

/// A photo as told to somebody else. What is not a field here does not leave, nor does anything in the file but the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Picture {
    /// The new id of the find that it shows.
    pub of: Uuid,
    /// A new id of its own.
    pub id: Uuid,
    /// What kind of file.
    pub format: Format,
    /// What it shows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub role: Option<Role>,
}

impl Picture {
    /// The file's name in an archive. It says nothing of the original's.
    #[must_use]
    pub fn file(&self) -> String {
        format!("media/{}.{}", self.id, self.format.extension())
    }

    /// Its media type, as registered with IANA.
    #[must_use]
    pub fn media_type(&self) -> &'static str {
        match self.format {
            Format::Jpeg => "image/jpeg",
            Format::Heic => "image/heic",
            Format::Png => "image/png",
            Format::WebP => "image/webp",
        }
    }
}
