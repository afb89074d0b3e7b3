//! Why a photograph was not taken in. Nothing of it is kept then.

use std::io;

use super::intake::MOST_BYTES;

/// Why a photograph could not be taken in, or the shelf not used. Carries no file names and no places.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum PhotoError {
    /// There is no file of that name.
    #[error("there is no such file: check the name of the photo")]
    Missing,
    /// A folder, a pipe or a device.
    #[error("this is a folder or a device: give the file of a photo")]
    NotAFile,
    /// The system forbids reading it.
    #[error("this file may not be read: check its permissions")]
    NotAllowed,
    /// No bytes at all.
    #[error("this file is empty: take the photo again, or give another copy")]
    Empty,
    /// More bytes than [`MOST_BYTES`].
    #[error("this file is larger than {} MB: give a smaller one", MOST_BYTES / 1_000_000)]
    TooLarge,
    /// None of the formats of [`Format`](super::Format).
    #[error("this is not a JPEG, HEIC, PNG or WebP picture: give one of these")]
    NotAPhoto,
    /// Its length changed while it was read.
    #[error("this file is still being written: try again when it is whole")]
    StillBeingWritten,
    /// Reading it failed half-way.
    #[error("reading the photo failed ({0}): try again, or give another copy")]
    ReadFailed(io::ErrorKind),
    /// No room where the notebook is.
    #[error("there is no room left for the photo: make room and add it again")]
    NoRoom,
    /// The notebook's own folder failed.
    #[error("the notebook's folder of photos cannot be used ({0}): check its disk and permissions")]
    ShelfFailed(io::ErrorKind),
}

impl PhotoError {
    /// A stable name for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Missing => "photo-missing",
            Self::NotAFile => "photo-not-a-file",
            Self::NotAllowed => "photo-not-allowed",
            Self::Empty => "photo-empty",
            Self::TooLarge => "photo-too-large",
            Self::NotAPhoto => "photo-not-a-photo",
            Self::StillBeingWritten => "photo-still-being-written",
            Self::ReadFailed(_) => "photo-read-failed",
            Self::NoRoom => "photo-no-room",
            Self::ShelfFailed(_) => "photo-shelf-failed",
        }
    }

    /// A failure on the side of the file given.
    pub(super) fn reading(error: &io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::NotFound => Self::Missing,
            io::ErrorKind::PermissionDenied => Self::NotAllowed,
            io::ErrorKind::IsADirectory => Self::NotAFile,
            kind => Self::ReadFailed(kind),
        }
    }

    /// A failure on the side of the notebook's folder.
    pub(super) fn keeping(error: &io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded | io::ErrorKind::FileTooLarge => {
                Self::NoRoom
            }
            kind => Self::ShelfFailed(kind),
        }
    }
}
