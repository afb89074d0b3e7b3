//! Why no picture alone could be made of a photo.

use std::io;

/// Why a photo cannot be shared. Carries no file names and no places.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum StripError {
    /// None of the formats of [`Format`](super::Format).
    #[error("this is not a JPEG, PNG or WebP picture: share one of these")]
    NotAPhoto,
    /// HEIC weaves what it says into the picture's own boxes.
    #[error("where a HEIC photo was taken cannot be safely removed: save it as JPEG, and share that")]
    Heic,
    /// A form of a known format that phones do not write.
    #[error(
        "this picture is of a rare form ({0}) that cannot be safely copied: save it anew, and share that"
    )]
    Rare(&'static str),
    /// The file breaks off, or is not as its format says.
    #[error("this photo is damaged, and what is in it cannot be told: share another copy")]
    Damaged,
    /// Reading it failed.
    #[error("reading the photo failed ({0}): try again")]
    ReadFailed(io::ErrorKind),
    /// Writing the copy failed.
    #[error("writing the copy of the photo failed ({0}): check the disk")]
    WriteFailed(io::ErrorKind),
}

impl StripError {
    /// A stable name for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotAPhoto => "photo-not-a-photo",
            Self::Heic => "photo-heic-not-shared",
            Self::Rare(_) => "photo-rare-not-shared",
            Self::Damaged => "photo-damaged",
            Self::ReadFailed(_) => "photo-read-failed",
            Self::WriteFailed(_) => "photo-write-failed",
        }
    }

    pub(super) fn reading(error: &io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::UnexpectedEof => Self::Damaged,
            kind => Self::ReadFailed(kind),
        }
    }

    pub(super) fn writing(error: &io::Error) -> Self {
        Self::WriteFailed(error.kind())
    }
}
