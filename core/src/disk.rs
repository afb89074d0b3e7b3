//! The few things that touch the disk in the same way everywhere: sync a folder, write a file whole or not at all.

use std::fs::{self, File};
use std::io::{self, BufWriter, Seek, SeekFrom, Write};
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

/// A writer that fails once, remembers why, and then takes everything to nowhere.
///
/// Libraries between it and the disk hide what really failed in errors of their own, and archives that are dropped after a failure
/// write on and complain aloud.
#[derive(Debug)]
pub struct FailsOnce<W> {
    to: W,
    failed: Option<io::ErrorKind>,
    at: u64,
    /// How far it ever was. After a failure it says that it is there, for libraries rely on not being before what they wrote.
    end: u64,
}

impl<W> FailsOnce<W> {
    /// Writes to this until it fails.
    pub fn new(to: W) -> Self {
        Self { to, failed: None, at: 0, end: 0 }
    }

    /// What became of the work: its result, or what the disk said when it failed.
    ///
    /// # Errors
    /// The disk's, before whatever a library made of it.
    pub fn settle<T>(&self, done: io::Result<T>) -> io::Result<T> {
        match self.failed {
            Some(kind) if done.is_err() => Err(kind.into()),
            _ => done,
        }
    }

    fn unless_failed<T>(&mut self, then: T, write: impl FnOnce(&mut W) -> io::Result<T>) -> io::Result<T> {
        if self.failed.is_some() {
            return Ok(then);
        }
        let done = write(&mut self.to);
        // An interruption is tried again.
        self.failed =
            done.as_ref().err().map(io::Error::kind).filter(|kind| *kind != io::ErrorKind::Interrupted);
        done
    }
}

impl<W: Write> Write for FailsOnce<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.unless_failed(bytes.len(), |to| to.write(bytes))?;
        self.at += written as u64;
        self.end = self.end.max(self.at);
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.unless_failed((), Write::flush)
    }
}

impl<W: Seek> Seek for FailsOnce<W> {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.at = self.unless_failed(self.end, |within| within.seek(to))?;
        Ok(self.at)
    }
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
    fn what_really_failed_is_told_and_told_once() {
        struct Full;
        impl Write for Full {
            fn write(&mut self, _: &[u8]) -> io::Result<usize> {
                Err(io::ErrorKind::StorageFull.into())
            }
            fn flush(&mut self) -> io::Result<()> {
                Err(io::ErrorKind::StorageFull.into())
            }
        }
        let mut out = FailsOnce::new(Full);
        assert!(out.write_all(b"a").is_err());
        out.write_all(b"b").unwrap();
        out.flush().unwrap();
        let told = out.settle::<()>(Err(io::Error::other("a library's own"))).unwrap_err();
        assert_eq!(told.kind(), io::ErrorKind::StorageFull);
        out.settle(Ok(())).unwrap();
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
