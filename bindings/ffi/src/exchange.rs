//! Exchanging over one folder that some program keeps alike on the owner's devices: by its path, or by way of the phone's system,
//! which keeps folders as documents and hands them in and out.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use trug::exchange::{Found, Keeper};
use trug::notebook::{self, Exchanged};

use crate::job::State;
use crate::shared::Said;
use crate::{Book, Job, TrugError};

/// What came of an exchange. A piece is a sealed file that holds some changes, or one photo.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct ExchangeReport {
    /// Pieces of other devices that were read for the first time.
    pub read: u64,
    /// Changes in them that were new here.
    pub new: u64,
    /// Finds in them that were new here.
    pub new_finds: u64,
    /// Photos in them that were new here.
    pub new_photos: u64,
    /// Pieces that were put there for the others.
    pub written: u64,
    /// What could not be put there, because it is damaged here: the notebook's check tells more.
    pub left_out: u64,
    /// Files that were not read; they are looked at again every time.
    pub unread: Vec<UnreadFile>,
}

/// A file in an exchange folder that was not read.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct UnreadFile {
    /// Its path from the folder on.
    pub name: String,
    /// Why: not-paired, for-someone, or the code of an error.
    pub why: Said,
}

impl From<Exchanged> for ExchangeReport {
    fn from(done: Exchanged) -> Self {
        let unread = |one: notebook::LeftUnread| UnreadFile {
            name: one.file,
            why: Said { code: one.code.to_owned(), words: one.message },
        };
        Self {
            read: done.read,
            new: done.new,
            new_finds: done.new_finds,
            new_photos: done.new_photos,
            written: done.written,
            left_out: done.left_out,
            unread: done.unread.into_iter().map(unread).collect(),
        }
    }
}

/// A file in a folder that the phone's system keeps.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct FolderFile {
    /// Its path from the folder on, with `/` between the names.
    pub name: String,
    /// How long it is, in bytes.
    pub bytes: u64,
    /// When it was last written to, in milliseconds since 1970-01-01T00:00:00Z; 0 if the system does not say.
    pub written_millis: u64,
}

/// Why the system did not do something with its folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error, uniffi::Error)]
pub enum FolderError {
    /// Trug may not use the folder any more, or it is gone.
    #[error("the folder is gone, or may not be used any more")]
    Gone,
    /// There is no room where it is kept, or on the phone.
    #[error("there is no room")]
    NoRoom,
    /// Anything else: it may do another time.
    #[error("the folder did not do that")]
    Failed,
}

impl From<uniffi::UnexpectedUniFFICallbackError> for FolderError {
    fn from(_: uniffi::UnexpectedUniFFICallbackError) -> Self {
        Self::Failed
    }
}

impl From<FolderError> for io::Error {
    fn from(error: FolderError) -> Self {
        let kind = match error {
            FolderError::Gone => io::ErrorKind::NotFound,
            FolderError::NoRoom => io::ErrorKind::StorageFull,
            FolderError::Failed => io::ErrorKind::Other,
        };
        Self::new(kind, error)
    }
}

/// A folder that the phone's system keeps without telling paths. Called by a job's own thread, one call at a time.
#[uniffi::export(with_foreign)]
pub trait SharedFolder: Send + Sync {
    /// Every file, three folders deep; hidden ones are left out.
    ///
    /// # Errors
    /// Whatever kept it, in the core's words for it.
    fn files(&self) -> Result<Vec<FolderFile>, FolderError>;

    /// Copies a file to this path, over what is there.
    ///
    /// # Errors
    /// Whatever kept it, in the core's words for it.
    fn fetch(&self, name: String, to: String) -> Result<(), FolderError>;

    /// Puts a copy of the file at this path there, making the folder that it goes into, over one of that name: whole or not at all
    /// where that can be.
    ///
    /// # Errors
    /// Whatever kept it, in the core's words for it.
    fn put(&self, name: String, from: String) -> Result<(), FolderError>;

    /// Takes a file of this device's away.
    ///
    /// # Errors
    /// Whatever kept it, in the core's words for it.
    fn remove(&self, name: String) -> Result<(), FolderError>;
}

/// Such a folder, as the core sees it.
struct Kept {
    folder: Arc<dyn SharedFolder>,
    known_by: String,
}

impl Keeper for Kept {
    fn known_by(&self) -> String {
        self.known_by.clone()
    }

    fn files(&self) -> io::Result<Vec<Found>> {
        const NANOS: u64 = 1_000_000;
        let found = |file: FolderFile| Found {
            name: file.name,
            looks: (file.bytes, file.written_millis.saturating_mul(NANOS)),
        };
        Ok(self.folder.files()?.into_iter().map(found).collect())
    }

    fn fetch(&self, found: &Found, room: &Path) -> io::Result<PathBuf> {
        self.folder.fetch(found.name.clone(), text(room))?;
        Ok(room.to_owned())
    }

    fn draft(&self, _name: &str, room: &Path) -> io::Result<PathBuf> {
        Ok(room.to_owned())
    }

    fn put(&self, name: &str, draft: &Path) -> io::Result<()> {
        Ok(self.folder.put(name.to_owned(), text(draft))?)
    }

    fn remove(&self, found: &Found) -> io::Result<()> {
        Ok(self.folder.remove(found.name.clone())?)
    }
}

fn text(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

#[uniffi::export]
impl Book {
    /// Starts to read what the owner's other devices have put into a folder, and to put there what they lack. What is done when it is
    /// stopped stays done; again changes nothing.
    ///
    /// # Errors
    /// None here; the job ends with `field` if no device is paired, `disk` if the folder cannot be used, `no-room`, `stopped`.
    pub fn start_exchange(&self, folder: String) -> Result<Arc<Job>, TrugError> {
        let notebook = Arc::clone(&self.notebook);
        let job = notebook::Job::start(move |progress| notebook.exchange(Path::new(&folder), true, progress));
        Ok(Job::start(State::Exchanging(job)))
    }

    /// The same over a folder that the phone's system keeps; `known_by` is the same whenever it is that folder.
    ///
    /// # Errors
    /// As [`Book::start_exchange`].
    pub fn start_exchange_by(
        &self,
        folder: Arc<dyn SharedFolder>,
        known_by: String,
    ) -> Result<Arc<Job>, TrugError> {
        let notebook = Arc::clone(&self.notebook);
        let kept = Kept { folder, known_by };
        let job = notebook::Job::start(move |progress| notebook.exchange_by(&kept, true, progress));
        Ok(Job::start(State::Exchanging(job)))
    }
}
