//! The folder of photographs: where each stands, what stands there, and whether it is still whole.
//!
//! `photos/ab/<hash>.jpg` holds a photo whose hash begins with `ab`, `thumbnails/ab/<hash>.jpg` its small picture,
//! and `aside/` what had gone bad.

use std::fs::{self, File};
use std::io::{self, BufReader, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::hash::CHUNK;
use super::thumbnail::{Look, Small};
use super::{Format, NoThumbnail, Orientation, PhotoError, PhotoFacts, PhotoHash};

/// How the names of unfinished files begin: nothing else in the folder looks like this.
const UNFINISHED: &str = ".unfinished-";

/// A photograph on the shelf.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stored {
    /// The hash that it is named by.
    pub hash: PhotoHash,
    /// What kind of picture it is.
    pub format: Format,
    /// How many bytes it has now.
    pub bytes: u64,
}

/// Whether a stored photograph still is what its name says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Condition {
    /// Its bytes have its hash.
    Whole,
    /// Its bytes have another hash, or cannot be read.
    Damaged,
    /// There is no such file.
    Missing,
}

/// The folder of photographs. May be used from several threads at once.
#[derive(Debug, Clone)]
pub struct Shelf {
    folder: PathBuf,
}

impl Shelf {
    /// Opens the shelf in a folder, making it where it is not there, and clears away what an interrupted intake
    /// left unfinished. Only one process may have a shelf open: whoever opens it holds the notebook's lock. That
    /// the folder itself outlasts a crash is for whoever made it to see to.
    ///
    /// # Errors
    /// [`PhotoError::NoRoom`] and [`PhotoError::ShelfFailed`].
    pub fn open(folder: &Path) -> Result<Self, PhotoError> {
        let shelf = Self { folder: folder.to_owned() };
        for part in [shelf.photos(), shelf.thumbnails()] {
            fs::create_dir_all(&part).map_err(|error| PhotoError::keeping(&error))?;
            for entry in fs::read_dir(&part).map_err(|error| PhotoError::keeping(&error))?.flatten() {
                if entry.file_name().to_string_lossy().starts_with(UNFINISHED) {
                    // Left where it cannot be removed: it takes up room and does no other harm.
                    let _ = fs::remove_file(entry.path());
                }
            }
            // Shards that an earlier process made but never synced are synced with it.
            sync_folder(&part)?;
        }
        sync_folder(folder)?;
        Ok(shelf)
    }

    /// Where this photo stands, if it does.
    #[must_use]
    pub fn path(&self, hash: &PhotoHash) -> Option<PathBuf> {
        self.find(hash).map(|(path, _)| path)
    }

    /// All photos that stand here, by hash. Files of other names are not ours and are passed over.
    ///
    /// # Errors
    /// [`PhotoError::ShelfFailed`] when a folder cannot be read.
    pub fn list(&self) -> Result<Vec<Stored>, PhotoError> {
        let failed = |error: io::Error| PhotoError::keeping(&error);
        let mut all = Vec::new();
        for shard in fs::read_dir(self.photos()).map_err(failed)? {
            let shard = shard.map_err(failed)?;
            if !shard.file_type().map_err(failed)?.is_dir() {
                continue;
            }
            for photo in fs::read_dir(shard.path()).map_err(failed)? {
                let photo = photo.map_err(failed)?;
                if let Some((hash, format)) = parse_name(&photo.path())
                    && self.photo(&hash, format) == photo.path()
                {
                    let bytes = photo.metadata().map_err(failed)?.len();
                    all.push(Stored { hash, format, bytes });
                }
            }
        }
        all.sort_unstable();
        Ok(all)
    }

    /// Reads a stored photo through and compares it with its name.
    ///
    /// # Errors
    /// [`PhotoError::ShelfFailed`] when it may not be read; a file that the disk cannot read is damaged.
    pub fn verify(&self, hash: &PhotoHash) -> Result<Condition, PhotoError> {
        self.find(hash).map_or(Ok(Condition::Missing), |(path, _)| condition(&path, hash))
    }

    /// The small upright picture of a stored photo: made again where it is missing. `None` where there can be
    /// none, as for HEIC, for a damaged picture, or for a photo that is not here.
    ///
    /// # Errors
    /// [`PhotoError::NoRoom`] and [`PhotoError::ShelfFailed`].
    pub fn thumbnail(&self, hash: &PhotoHash) -> Result<Option<PathBuf>, PhotoError> {
        let place = self.thumbnail_place(hash);
        if is_whole_jpeg(&place) {
            return Ok(Some(place));
        }
        let Some((path, format)) = self.find(hash) else { return Ok(None) };
        let failed = |error: io::Error| PhotoError::keeping(&error);
        let Ok(small) = Look::at(File::open(&path).map_err(failed)?, format).small else { return Ok(None) };
        let mut file = BufReader::new(File::open(&path).map_err(failed)?);
        let orientation = PhotoFacts::read(&mut file, &jiff::tz::TimeZone::UTC, &mut Vec::new()).orientation;
        self.place_thumbnail(hash, small, orientation).map(Some)
    }

    /// Writes a thumbnail and puts it in its place in one step. Not synced: it can always be made again, and a
    /// torn one is recognised.
    pub(super) fn place_thumbnail(
        &self,
        hash: &PhotoHash,
        small: Small,
        orientation: Orientation,
    ) -> Result<PathBuf, PhotoError> {
        let failed = |error: io::Error| PhotoError::keeping(&error);
        let place = self.thumbnail_place(hash);
        let mut jpeg = Vec::with_capacity(64 * 1024);
        small
            .write(orientation, &mut jpeg)
            .map_err(|_: NoThumbnail| PhotoError::ShelfFailed(io::ErrorKind::InvalidData))?;
        let mut file = unfinished(&self.thumbnails())?;
        io::Write::write_all(&mut file, &jpeg).map_err(failed)?;
        if let Some(shard) = place.parent() {
            fs::create_dir_all(shard).map_err(failed)?;
        }
        file.persist(&place).map_err(|error| failed(error.error))?;
        Ok(place)
    }

    /// A new unfinished file that will stand among the photos.
    pub(super) fn unfinished_photo(&self) -> Result<NamedTempFile, PhotoError> {
        unfinished(&self.photos())
    }

    /// Puts a synced file in a photo's place in one step, and syncs the folders, so that it stands there after any
    /// crash.
    pub(super) fn place_photo(
        &self,
        file: NamedTempFile,
        hash: &PhotoHash,
        format: Format,
    ) -> Result<(), PhotoError> {
        let failed = |error: io::Error| PhotoError::keeping(&error);
        let place = self.photo(hash, format);
        let shard = self.shard("photos", hash);
        fs::create_dir_all(&shard).map_err(failed)?;
        file.persist(&place).map_err(|error| failed(error.error))?;
        self.settle_photo(hash)
    }

    /// Makes sure that a photo which stands there will still stand there after a crash. Its shard is synced into its
    /// folder every time: another thread may have made it, and not have come to that yet.
    pub(super) fn settle_photo(&self, hash: &PhotoHash) -> Result<(), PhotoError> {
        sync_folder(&self.shard("photos", hash))?;
        sync_folder(&self.photos())
    }

    /// Moves a damaged photo out of the way, never over another. Nothing to do where there is none.
    pub(super) fn put_aside(&self, hash: &PhotoHash, format: Format) -> Result<(), PhotoError> {
        let failed = |error: io::Error| PhotoError::keeping(&error);
        let aside = self.folder.join("aside");
        fs::create_dir_all(&aside).map_err(failed)?;
        let free = (1..=u32::MAX)
            .map(|n| aside.join(format!("{hash}.{n}.{}", format.extension())))
            .find(|path| !path.exists());
        if let Some(free) = free {
            fs::rename(self.photo(hash, format), free).map_err(failed)?;
        }
        sync_folder(&aside)?;
        sync_folder(&self.folder)
    }

    /// The place of a photo of this hash and format.
    pub(super) fn photo(&self, hash: &PhotoHash, format: Format) -> PathBuf {
        self.shard("photos", hash).join(format!("{hash}.{}", format.extension()))
    }

    fn thumbnail_place(&self, hash: &PhotoHash) -> PathBuf {
        self.shard("thumbnails", hash).join(format!("{hash}.jpg"))
    }

    fn find(&self, hash: &PhotoHash) -> Option<(PathBuf, Format)> {
        Format::ALL
            .into_iter()
            .map(|format| (self.photo(hash, format), format))
            .find(|(path, _)| path.is_file())
    }

    fn photos(&self) -> PathBuf {
        self.folder.join("photos")
    }

    fn thumbnails(&self) -> PathBuf {
        self.folder.join("thumbnails")
    }

    fn shard(&self, part: &str, hash: &PhotoHash) -> PathBuf {
        let [first, ..] = hash.bytes();
        self.folder.join(part).join(format!("{first:02x}"))
    }
}

/// Whether the file at this path has this hash.
pub(super) fn condition(path: &Path, hash: &PhotoHash) -> Result<Condition, PhotoError> {
    let read = File::open(path).and_then(|file| PhotoHash::of_reader(BufReader::with_capacity(CHUNK, file)));
    match read {
        Ok(read) if read == *hash => Ok(Condition::Whole),
        Ok(_) => Ok(Condition::Damaged),
        Err(error) => match error.kind() {
            io::ErrorKind::NotFound => Ok(Condition::Missing),
            io::ErrorKind::PermissionDenied => Err(PhotoError::keeping(&error)),
            _ => Ok(Condition::Damaged),
        },
    }
}

/// Makes what was renamed into, or made in, a folder outlast a crash.
fn sync_folder(folder: &Path) -> Result<(), PhotoError> {
    File::open(folder).and_then(|folder| folder.sync_all()).map_err(|error| PhotoError::keeping(&error))
}

fn unfinished(folder: &Path) -> Result<NamedTempFile, PhotoError> {
    tempfile::Builder::new()
        .prefix(UNFINISHED)
        .tempfile_in(folder)
        .map_err(|error| PhotoError::keeping(&error))
}

fn parse_name(path: &Path) -> Option<(PhotoHash, Format)> {
    let hash = path.file_stem()?.to_str()?.parse().ok()?;
    let extension = path.extension()?.to_str()?;
    Format::ALL.into_iter().find(|format| format.extension() == extension).map(|format| (hash, format))
}

/// Whether a file begins and ends as a JPEG does: a thumbnail that a power cut tore does not.
fn is_whole_jpeg(path: &Path) -> bool {
    let ends = || -> io::Result<[u8; 4]> {
        let mut file = File::open(path)?;
        let mut ends = [0; 4];
        let (start, end) = ends.split_at_mut(2);
        file.read_exact(start)?;
        file.seek(SeekFrom::End(-2))?;
        file.read_exact(end)?;
        Ok(ends)
    };
    ends().is_ok_and(|ends| ends == [0xff, 0xd8, 0xff, 0xd9])
}
