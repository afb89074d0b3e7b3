//! What can go wrong with the view.

use std::io;

use rusqlite::{ErrorCode, ffi};

use crate::disk::DiskError;
use crate::progress::Stopped;

/// Why the view could not be read or written. Carries nothing of what it holds.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// There is none yet.
    #[error("the view is missing: it is built afresh from the log")]
    Missing,
    /// Another version of the app made it.
    #[error("the view is of version {found}: it is built afresh from the log")]
    OtherVersion {
        /// That version.
        found: i64,
    },
    /// SQLite cannot make sense of it.
    #[error("the view is damaged: it is built afresh from the log")]
    Damaged,
    /// No room on the disk.
    #[error("no room on the disk: free some and try again")]
    Full,
    /// A value that should never have been stored.
    #[error("a stored record cannot be read: {0}")]
    Unreadable(#[from] serde_json::Error),
    /// A long job was stopped.
    #[error(transparent)]
    Stopped(#[from] Stopped),
    /// The disk refused.
    #[error(transparent)]
    Disk(DiskError),
    /// Anything else.
    #[error("the view cannot be used: {0}")]
    Other(rusqlite::Error),
}

impl StoreError {
    /// Building the view afresh would put it right.
    #[must_use]
    pub fn calls_for_rebuild(&self) -> bool {
        matches!(self, Self::Missing | Self::OtherVersion { .. } | Self::Damaged | Self::Unreadable(_))
    }
}

impl From<DiskError> for StoreError {
    fn from(error: DiskError) -> Self {
        if error.is_full() { Self::Full } else { Self::Disk(error) }
    }
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        use rusqlite::Error::{
            FromSqlConversionFailure, IntegralValueOutOfRange, InvalidColumnType, SqlInputError, Utf8Error,
        };
        let unfit = matches!(
            error,
            InvalidColumnType(..)
                | FromSqlConversionFailure(..)
                | IntegralValueOutOfRange(..)
                | Utf8Error(..)
                // Our statements are fixed: one that does not parse meets a schema whose words were damaged.
                | SqlInputError { .. }
        );
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Self::Full,
            Some(ErrorCode::SystemIoFailure) if ran_out_of_room(&error) => Self::Full,
            // A damaged schema shows as a missing table or a statement that no longer parses.
            Some(
                ErrorCode::DatabaseCorrupt
                | ErrorCode::NotADatabase
                | ErrorCode::TypeMismatch
                | ErrorCode::Unknown,
            ) => Self::Damaged,
            _ if unfit => Self::Damaged,
            _ => Self::Other(error),
        }
    }
}

/// SQLite calls a disk full only where the system says so in one way; a file that may not grow, or a quota that is used
/// up, it reports as any failed write. What the system said last on this thread tells them apart: after these failures
/// that is the write itself, for SQLite makes no other call that can fail before it returns.
fn ran_out_of_room(error: &rusqlite::Error) -> bool {
    let rusqlite::Error::SqliteFailure(failure, _) = error else { return false };
    let wanted_room = [
        ffi::SQLITE_IOERR_WRITE,
        ffi::SQLITE_IOERR_TRUNCATE,
        ffi::SQLITE_IOERR_FSYNC,
        ffi::SQLITE_IOERR_DIR_FSYNC,
        ffi::SQLITE_IOERR_SHMSIZE,
    ];
    wanted_room.contains(&failure.extended_code)
        && DiskError { doing: "write the view", source: io::Error::last_os_error() }.is_full()
}
