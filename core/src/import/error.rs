//! Why a file is not read. Nothing of it is kept then.

use std::io;

use super::{LONGEST, MOST_MARKS};
use crate::area::AreaError;

/// Why a file cannot be read. Says where in it, and names no place.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ImportError {
    /// More bytes than [`LONGEST`].
    #[error("the file is longer than {} MB: save the waypoints without tracks", LONGEST >> 20)]
    TooLong,
    /// More than [`MOST_MARKS`].
    #[error("the file marks more than {MOST_MARKS} places: take out those that are no patches")]
    TooMany,
    /// Not XML, or it breaks off.
    #[error("line {line}: not XML: save it as GPX again")]
    NotXml {
        /// The line, from 1.
        line: u64,
    },
    /// Bytes that are no UTF-8.
    #[error("line {line}: not UTF-8: save it in that encoding")]
    NotUtf8 {
        /// The line, from 1.
        line: u64,
    },
    /// A document type or an entity of its own, which can make a short file endless.
    #[error("line {line}: a document type or entity, which GPX does not have: save it as plain GPX")]
    Entity {
        /// The line, from 1.
        line: u64,
    },
    /// XML, and no GPX.
    #[error("not GPX: its first element is not `gpx`")]
    NotGpx,
    /// GPX of another version.
    #[error("GPX of a version that is not read: save it as GPX 1.1")]
    OtherVersion,
    /// A waypoint that cannot be.
    #[error("waypoint {number}, line {line}: {field}: {why}")]
    Waypoint {
        /// Which, from 1.
        number: usize,
        /// The line it begins on, from 1.
        line: u64,
        /// What of it.
        field: &'static str,
        /// What is wrong, and what to do.
        why: &'static str,
    },
    /// A `GeoJSON` file, or an outline in it.
    #[error(transparent)]
    GeoJson(#[from] AreaError),
    /// Reading failed.
    #[error("reading the file failed ({0}): check it and try again")]
    ReadFailed(io::ErrorKind),
}

impl ImportError {
    /// A stable word for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::TooLong => "import-too-long",
            Self::TooMany => "import-too-many",
            Self::NotXml { .. } => "gpx-not-xml",
            Self::NotUtf8 { .. } => "gpx-not-utf8",
            Self::Entity { .. } => "gpx-entity",
            Self::NotGpx => "gpx-not-gpx",
            Self::OtherVersion => "gpx-other-version",
            Self::Waypoint { .. } => "gpx-waypoint",
            Self::GeoJson(error) => error.code(),
            Self::ReadFailed(_) => "import-read-failed",
        }
    }
}
