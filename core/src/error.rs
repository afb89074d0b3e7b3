//! The one public error: a code that a shell can put words to, and plain words for a terminal. No places, no notes.

use crate::area::AreaError;
use crate::code::CodeError;
use crate::condition::SignError;
use crate::disk::DiskError;
use crate::exchange::Refused;
use crate::find::FieldError;
use crate::help::HelpError;
use crate::id::NotAnId;
use crate::key::NotAnObserverError;
use crate::key::stream::NotEvidence;
use crate::pack::PackError;
use crate::photo::PhotoError;
use crate::progress::Stopped;
use crate::seal::SealError;
use crate::store::StoreError;

/// Why a notebook did not do as asked. Whatever it was, nothing that had been acknowledged is lost and nothing is half-written.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// Another process has the folder.
    #[error("another program has this notebook open: close it there, or wait and try again")]
    Busy,
    /// Between `pause` and `resume`.
    #[error("the notebook is paused: resume it first")]
    Paused,
    /// No room on the disk.
    #[error("no room on the disk: nothing was kept of this; free some room and try again")]
    NoRoom,
    /// The disk refused.
    #[error(transparent)]
    Disk(DiskError),
    /// The view refused, and building it afresh did not help.
    #[error(transparent)]
    View(StoreError),
    /// The folder was written by a later version.
    #[error("this notebook is of format {found}, and this version reads up to {known}: use a newer Trug")]
    NewerFormat {
        /// The folder's format.
        found: u64,
        /// The newest that this version reads.
        known: u64,
    },
    /// There is no such record.
    #[error("there is no {what} with that id: a list shows the ids there are")]
    NotFound {
        /// What was looked for.
        what: &'static str,
    },
    /// The beginning of an id fits several.
    #[error("that beginning fits more than one {what}: give more of the id")]
    Ambiguous {
        /// What was looked for.
        what: &'static str,
    },
    /// Nothing is left to take back.
    #[error("there is nothing left to undo on this {what}")]
    NothingToUndo {
        /// On what.
        what: &'static str,
    },
    /// A field cannot be as given.
    #[error(transparent)]
    Field(#[from] FieldError),
    /// A sign that the taxon does not show.
    #[error(transparent)]
    Sign(#[from] SignError),
    /// A place that cannot be told.
    #[error(transparent)]
    Place(#[from] crate::place::Error),
    /// A code that is not there.
    #[error(transparent)]
    Code(#[from] CodeError),
    /// A file that gives no outlines.
    #[error(transparent)]
    Area(#[from] AreaError),
    /// An observer error that the key does not accept.
    #[error(transparent)]
    Observer(#[from] NotAnObserverError),
    /// An answer to the key that does not speak the pack's language.
    #[error(transparent)]
    Evidence(#[from] NotEvidence),
    /// The knowledge cannot be had.
    #[error(transparent)]
    Pack(#[from] PackError),
    /// The help that comes with Trug cannot be had.
    #[error(transparent)]
    Help(#[from] HelpError),
    /// A text that should be an id.
    #[error(transparent)]
    Id(#[from] NotAnId),
    /// A photo could not be taken in.
    #[error("photo {number}: {source}")]
    Photo {
        /// Which of the photos given, from 1.
        number: usize,
        /// Why.
        source: PhotoError,
    },
    /// The photo shelf could not be used.
    #[error(transparent)]
    Shelf(PhotoError),
    /// A long job was stopped.
    #[error(transparent)]
    Stopped(#[from] Stopped),
    /// A backup cannot be used.
    #[error("backup: {why}")]
    Backup {
        /// What is wrong with it, and what to do.
        why: String,
    },
    /// A bundle was refused.
    #[error(transparent)]
    Bundle(#[from] Refused),
    /// A file could not be sealed or opened.
    #[error(transparent)]
    Seal(SealError),
    /// An act too large to be passed on.
    #[error("that is more than can be kept at once: give it in parts")]
    TooMuch,
    /// What would leave is not what was shown beforehand.
    #[error("what would leave is no longer what was shown: look at it again, nothing was written")]
    Changed,
    /// There is something in the way where a notebook or backup was to go.
    #[error("{what} is already there: choose another name, or move it away first")]
    InTheWay {
        /// What is there.
        what: &'static str,
    },
}

impl Error {
    /// A stable word for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Busy => "busy",
            Self::Paused => "paused",
            Self::NoRoom => "no-room",
            Self::Disk(_) => "disk",
            Self::View(_) => "view",
            Self::NewerFormat { .. } => "newer-format",
            Self::NotFound { .. } => "not-found",
            Self::Ambiguous { .. } => "ambiguous",
            Self::NothingToUndo { .. } => "nothing-to-undo",
            Self::Field(_) => "field",
            Self::Sign(error) => error.code(),
            Self::Place(error) => error.code(),
            Self::Code(error) => error.code(),
            Self::Area(error) => error.code(),
            Self::Observer(error) => error.code(),
            Self::Evidence(error) => error.code(),
            Self::Pack(error) => error.code(),
            Self::Help(error) => error.code(),
            Self::Id(_) => "not-an-id",
            Self::Photo { source, .. } | Self::Shelf(source) => source.code(),
            Self::Stopped(_) => "stopped",
            Self::Backup { .. } => "backup",
            Self::Bundle(refused) => refused.code(),
            Self::Seal(error) => error.code(),
            Self::TooMuch => "too-much",
            Self::Changed => "changed",
            Self::InTheWay { .. } => "in-the-way",
        }
    }

    /// What went into its words, by name, for a shell that puts words of its own to the code.
    #[must_use]
    pub fn arguments(&self) -> Vec<(&'static str, String)> {
        match self {
            Self::NewerFormat { found, known } => {
                vec![("found", found.to_string()), ("known", known.to_string())]
            }
            Self::NotFound { what }
            | Self::Ambiguous { what }
            | Self::NothingToUndo { what }
            | Self::InTheWay { what } => vec![("what", (*what).to_owned())],
            Self::Field(FieldError { field, why }) => {
                vec![("field", (*field).to_owned()), ("why", why.clone())]
            }
            Self::Sign(error) => error.arguments(),
            Self::Code(CodeError::Unknown { id, hint }) => vec![("id", id.clone()), ("hint", hint.clone())],
            Self::Evidence(error) => error.arguments(),
            Self::Bundle(refused) => refused.arguments(),
            Self::Photo { number, .. } => vec![("number", number.to_string())],
            Self::Backup { why } => vec![("why", why.clone())],
            Self::Disk(DiskError { doing, source }) => {
                vec![("doing", (*doing).to_owned()), ("kind", source.kind().to_string())]
            }
            _ => Vec::new(),
        }
    }
}

impl From<DiskError> for Error {
    fn from(error: DiskError) -> Self {
        if error.is_full() { Self::NoRoom } else { Self::Disk(error) }
    }
}

impl From<SealError> for Error {
    fn from(error: SealError) -> Self {
        match error {
            SealError::Disk(source) => DiskError { doing: "seal or open a file", source }.into(),
            other => Self::Seal(other),
        }
    }
}

impl From<StoreError> for Error {
    fn from(error: StoreError) -> Self {
        match error {
            StoreError::Full => Self::NoRoom,
            StoreError::Stopped(stopped) => Self::Stopped(stopped),
            other => Self::View(other),
        }
    }
}
