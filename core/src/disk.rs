//! The few things that touch the disk in the same way everywhere: sync a folder, write a file whole or not at all.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::Path;

/// The disk would not do something. Carries no path: a folder's name may be a place.
#[derive(Debug, thiserror::Error)]
#[error("could not {doing}: {source}")]
pub struct DiskError {
    /// What was being done.
    pub doing: &'static str,
    /// Why not.
    pub source: io::Error,
}

impl DiskError {
    /// The disk, the quota or the largest file allowed is full.
    #[must_use]
    pub fn is_full(&self) -> bool {
        use io::ErrorKind::{FileTooLarge, QuotaExceeded, StorageFull};
        matches!(self.source.kind(), StorageFull | QuotaExceeded | FileTooLarge)
    }
}

/// Names what was being done when an [`io::Error`] came.
pub trait Doing<T> {
    /// Wraps the error.
    ///
    /// # Errors
    /// [`DiskError`] with these words.
    fn doing(self, doing: &'static str) -> Result<T, DiskError>;
}

impl<T> Doing<T> for io::Result<T> {
    fn doing(self, doing: &'static str) -> Result<T, DiskError> {
        self.map_err(|source| DiskError { doing, source })
    }
}

/// Makes names in a folder durable: a file's own sync does not cover its entry.
///
/// # Errors
/// Whatever the disk says.
pub fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

/// Makes a folder with its parents, each entry durable.
///
/// # Errors
/// Whatever the disk says.
pub fn make_folder(folder: &Path) -> io::Result<()> {
    if folder.is_dir() {
        return Ok(());
    }
    match folder.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => {
            make_folder(parent)?;
            create(folder)?;
            sync_folder(parent)
        }
        _ => create(folder),
    }
}

fn create(folder: &Path) -> io::Result<()> {
    match fs::create_dir(folder) {
        Err(e) if e.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => Ok(()),
        other => other,
    }
}

/// Writes a file whole or not at all: temporary name, sync, rename, sync of the folder.
///
/// # Errors
/// Whatever the disk or `fill` says; then the old file, if any, stands untouched.
pub fn write_whole(path: &Path, fill: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> io::Result<()> {
    write_anew(path, |file| fill(file))
}

/// Writes a file that must not be there yet, whole or not at all, with a writer that can go back.
///
/// # Errors
/// Whatever the disk or `fill` says; then nothing is at `path`.
pub fn write_new(
    path: &Path,
    fill: impl FnOnce(&mut BufWriter<&mut File>) -> io::Result<()>,
) -> io::Result<()> {
    let written = fill_temporary(path, fill)?;
    written.persist_noclobber(path).map_err(|e| e.error)?;
    sync_folder(folder_of(path))
}

/// Writes a file whole or not at all, over one that is there, with a writer that can go back.
///
/// # Errors
/// Whatever the disk or `fill` says; then the old file, if any, stands untouched.
pub fn write_anew(
    path: &Path,
    fill: impl FnOnce(&mut BufWriter<&mut File>) -> io::Result<()>,
) -> io::Result<()> {
    let written = fill_temporary(path, fill)?;
    written.persist(path).map_err(|e| e.error)?;
    sync_folder(folder_of(path))
}

fn fill_temporary(
    path: &Path,
    fill: impl FnOnce(&mut BufWriter<&mut File>) -> io::Result<()>,
) -> io::Result<tempfile::NamedTempFile> {
    let mut temporary = tempfile::Builder::new().prefix(".part-").tempfile_in(folder_of(path))?;
    let mut buffered = BufWriter::new(temporary.as_file_mut());
    fill(&mut buffered)?;
    buffered.flush()?;
    drop(buffered);
    temporary.as_file().sync_all()?;
    Ok(temporary)
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failed_write_leaves_the_old_file_and_no_scraps() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("a");
        write_whole(&path, |out| out.write_all(b"old")).unwrap();
        let error = write_whole(&path, |out| {
            out.write_all(b"new")?;
            Err(io::Error::from(io::ErrorKind::StorageFull))
        });
        assert!(DiskError { doing: "write", source: error.unwrap_err() }.is_full());
        assert_eq!(fs::read(&path).unwrap(), b"old");
        assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 1);
    }

    #[test]
    fn folders_are_made_with_their_parents_and_twice_is_fine() {
        let dir = tempfile::tempdir().unwrap();
        let deep = dir.path().join("a/b/c");
        make_folder(&deep).unwrap();
        make_folder(&deep).unwrap();
        assert!(deep.is_dir());
    }
}
