//! Taking a photograph in: copied and hashed in one pass, synced, and put in its place in one step.

use std::fs::{self, File, Metadata};
use std::io::{self, BufReader, Read, Write};
use std::path::Path;
use std::thread;

use jiff::tz::TimeZone;
use tempfile::NamedTempFile;

use super::format::HEAD;
use super::hash::{CHUNK, Hasher};
use super::shelf::condition;
use super::thumbnail::Look;
use super::{Condition, Format, NoThumbnail, PhotoError, PhotoFacts, PhotoHash, PhotoWarning, Shelf};

/// The most bytes that a photo may have: larger ones are refused before anything is copied.
pub const MOST_BYTES: u64 = 200_000_000;

/// A photograph that now stands on the shelf, synced.
#[derive(Debug, Clone, PartialEq)]
pub struct TakenIn {
    /// The hash that it is named by.
    pub hash: PhotoHash,
    /// How many bytes it has.
    pub bytes: u64,
    /// What kind of picture it is.
    pub format: Format,
    /// What it says about itself.
    pub facts: PhotoFacts,
    /// Whether it stood there before.
    pub already_there: bool,
    /// What a person should know about it.
    pub warnings: Vec<PhotoWarning>,
}

impl Shelf {
    /// Takes in the photo at this path. When this returns, it stands on the shelf and is synced; when it fails,
    /// nothing of it is kept. The file given is only read. A time without an offset is read as the zone's.
    ///
    /// A photo that stands there already is not stored twice; where the stored copy had gone bad, this one takes
    /// its place. What can be wrong with a picture itself is a warning, because an odd photo beats none.
    ///
    /// # Errors
    /// [`PhotoError`], for what is not a photo at all, cannot be read, or finds no room.
    pub fn take_in(&self, path: &Path, zone: &TimeZone) -> Result<TakenIn, PhotoError> {
        let (source, told) = open(path)?;
        let mut head = Vec::with_capacity(HEAD);
        let reading = |error: io::Error| PhotoError::reading(&error);
        (&source).take(HEAD as u64).read_to_end(&mut head).map_err(reading)?;
        let format = Format::sniff(&head).ok_or(PhotoError::NotAPhoto)?;

        let mut copy = self.unfinished_photo()?;
        let (hash, bytes) = copy_and_hash(head.as_slice().chain(&source), copy.as_file_mut())?;
        let now = source.metadata().map_err(reading)?;
        if bytes != told.len() || now.len() != told.len() || now.modified().ok() != told.modified().ok() {
            return Err(PhotoError::StillBeingWritten);
        }

        let mut warnings = Vec::new();
        warnings.extend(mislabelled(path, format));
        let keeping = |error: io::Error| PhotoError::keeping(&error);
        let (for_facts, for_look) = (copy.reopen().map_err(keeping)?, copy.reopen().map_err(keeping)?);
        // The disk syncs while the picture is drawn.
        let (placed, look) = thread::scope(|scope| {
            let look = scope.spawn(move || Look::at(for_look, format));
            let placed = self.place(copy, &hash, format, &mut warnings);
            (placed, look.join().ok())
        });
        let already_there = placed?;

        let mut for_facts = BufReader::with_capacity(16 * 1024, for_facts);
        let mut facts = PhotoFacts::read_safely(&mut for_facts, zone, &mut warnings);
        if let Some(Look { size, small }) = look {
            if let Some((width, height)) = size {
                (facts.width, facts.height) = (Some(width), Some(height));
            }
            let written = small.and_then(|small| {
                let written = self.place_thumbnail(&hash, small, facts.orientation);
                written.map_err(|_| NoThumbnail::NotWritten)
            });
            warnings.extend(written.err().map(PhotoWarning::NoThumbnail));
        }
        Ok(TakenIn { hash, bytes, format, facts, already_there, warnings })
    }

    /// Puts a photo here whose hash and format are known, as `fill` gives it out; tells whether it stood here before. When this
    /// returns, it stands here and is synced.
    ///
    /// # Errors
    /// [`PhotoError::NotAPhoto`] if what came has another hash; whatever `fill` says.
    pub fn receive<E: From<PhotoError>>(
        &self,
        hash: &PhotoHash,
        format: Format,
        fill: impl FnOnce(&mut dyn FnMut(&[u8]) -> Result<(), E>) -> Result<(), E>,
    ) -> Result<bool, E> {
        if condition(&self.photo(hash, format), hash)? == Condition::Whole {
            self.settle_photo(hash)?;
            return Ok(true);
        }
        let mut copy = self.unfinished_photo()?;
        let mut hasher = Hasher::default();
        fill(&mut |piece| {
            let written = hasher.write_all(piece).and_then(|()| copy.as_file_mut().write_all(piece));
            written.map_err(|error| E::from(PhotoError::keeping(&error)))
        })?;
        if hasher.finish() != *hash {
            return Err(PhotoError::NotAPhoto.into());
        }
        Ok(self.place(copy, hash, format, &mut Vec::new())?)
    }

    /// Puts a copy in its place, unless a whole one stands there; tells whether it did.
    fn place(
        &self,
        copy: NamedTempFile,
        hash: &PhotoHash,
        format: Format,
        warnings: &mut Vec<PhotoWarning>,
    ) -> Result<bool, PhotoError> {
        let sync =
            |copy: &NamedTempFile| copy.as_file().sync_all().map_err(|error| PhotoError::keeping(&error));
        match condition(&self.photo(hash, format), hash)? {
            Condition::Whole => {
                self.settle_photo(hash)?;
                return Ok(true);
            }
            Condition::Damaged => {
                sync(&copy)?;
                self.put_aside(hash, format)?;
                warnings.push(PhotoWarning::Mended);
            }
            Condition::Missing => sync(&copy)?,
        }
        self.place_photo(copy, hash, format)?;
        Ok(false)
    }
}

/// Opens an ordinary file of a size that can be a photo's.
///
/// Its kind is asked before it is opened, because opening a pipe waits for a writer.
fn open(path: &Path) -> Result<(File, Metadata), PhotoError> {
    let ordinary = |told: &Metadata| match told.len() {
        _ if !told.is_file() => Err(PhotoError::NotAFile),
        0 => Err(PhotoError::Empty),
        bytes if bytes > MOST_BYTES => Err(PhotoError::TooLarge),
        _ => Ok(()),
    };
    let reading = |error: io::Error| PhotoError::reading(&error);
    ordinary(&fs::metadata(path).map_err(reading)?)?;
    let file = File::open(path).map_err(reading)?;
    let told = file.metadata().map_err(reading)?;
    ordinary(&told)?;
    Ok((file, told))
}

/// Copies all that the reader gives, hashing on the way, and counts it. Errors tell which side failed.
fn copy_and_hash(mut source: impl Read, copy: &mut File) -> Result<(PhotoHash, u64), PhotoError> {
    let mut hasher = Hasher::default();
    let mut buffer = vec![0; CHUNK];
    let mut bytes = 0_u64;
    loop {
        let read = match source.read(&mut buffer) {
            Ok(0) => return Ok((hasher.finish(), bytes)),
            Ok(read) => read,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => return Err(PhotoError::reading(&error)),
        };
        bytes += read as u64;
        if bytes > MOST_BYTES {
            return Err(PhotoError::TooLarge);
        }
        let piece = buffer.get(..read).unwrap_or_default();
        hasher
            .write_all(piece)
            .and_then(|()| copy.write_all(piece))
            .map_err(|error| PhotoError::keeping(&error))?;
    }
}

fn mislabelled(path: &Path, is: Format) -> Option<PhotoWarning> {
    let named = path.extension().and_then(|extension| extension.to_str()).and_then(Format::from_extension)?;
    (named != is).then_some(PhotoWarning::Mislabelled { named, is })
}
