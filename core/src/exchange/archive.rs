//! The ZIP, looked at with suspicion: every entry is vetted by its header before a byte of it is unpacked.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Read, Seek, SeekFrom};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use zip::read::{ArchiveOffset, Config, ZipFileEntry};
use zip::result::ZipError;
use zip::{CompressionMethod, ZipArchive};

use super::Refused;
use super::name::{self, Name};
use crate::photo::MOST_BYTES;

/// Room for some 70,000 photos; it bounds the memory that listing the entries takes.
const LISTING_BYTES: u64 = 12 << 20;
/// Manifests are read whole.
const TAG_BYTES: u64 = 16 << 20;
/// Changes pack to a fifth or a tenth; nothing honest packs to less than this part of itself.
const RATIO: u64 = 200;
/// Below this a high ratio does no harm in one file.
const SMALL: u64 = 1 << 20;
/// And below this in all of them together.
const SMALL_IN_ALL: u64 = 64 << 20;

/// An archive whose entries are all known, allowed, and no larger than they may be.
pub struct Archive<R: Read + Seek> {
    zip: ZipArchive<Metered<R>>,
    entries: BTreeMap<Name, Entry>,
}

#[derive(Debug, Clone, Copy)]
struct Entry {
    index: usize,
    bytes: u64,
}

impl<R: Read + Seek> Archive<R> {
    /// Lists an archive.
    pub fn open(reader: R) -> Result<Self, Refused> {
        let left = Arc::new(AtomicU64::new(LISTING_BYTES));
        let metered = Metered { inner: reader, left: Arc::clone(&left) };
        // Nothing may stand before the first entry: such files are two things at once.
        let config = Config { archive_offset: ArchiveOffset::Known(0) };
        let mut zip = ZipArchive::with_config(config, metered).map_err(refused)?;
        if zip.has_duplicate_names() {
            return Err(Refused::Twice);
        }
        let entries = vet(&zip)?;
        left.store(u64::MAX, Ordering::Relaxed);
        if zip.has_overlapping_entries().map_err(refused)? {
            return Err(Refused::TooLarge { what: "entries that lie in one another" });
        }
        Ok(Self { zip, entries })
    }

    /// The names in it, in their order.
    pub fn names(&self) -> impl Iterator<Item = Name> {
        self.entries.keys().copied()
    }

    /// How many bytes a file has.
    pub fn bytes(&self, name: Name) -> Option<u64> {
        self.entries.get(&name).map(|entry| entry.bytes)
    }

    /// Reads a file piece by piece; its checksum and length are proved at its end.
    pub fn read<E: From<Refused>>(
        &mut self,
        name: Name,
        mut each: impl FnMut(&[u8]) -> Result<(), E>,
    ) -> Result<(), E> {
        let Some(entry) = self.entries.get(&name).copied() else {
            return Err(Refused::Bag { what: name.part(), why: "is missing" }.into());
        };
        let damaged = || E::from(Refused::Damaged { what: name.part() });
        let mut file = self.zip.by_index(entry.index).map_err(refused)?;
        let mut buffer = vec![0; 256 * 1024];
        let mut left = entry.bytes;
        loop {
            let read = match file.read(&mut buffer) {
                Ok(0) if left == 0 => return Ok(()),
                Ok(0) => return Err(damaged()),
                Ok(read) => read,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
                Err(error) if is_content(&error) => return Err(damaged()),
                Err(error) => return Err(Refused::Reading(error).into()),
            };
            left = left.checked_sub(read as u64).ok_or_else(damaged)?;
            each(buffer.get(..read).unwrap_or_default())?;
        }
    }

    /// Reads a tag file whole.
    pub fn text(&mut self, name: Name) -> Result<String, Refused> {
        let mut bytes = Vec::new();
        self.read(name, |piece| {
            bytes.extend_from_slice(piece);
            Ok::<_, Refused>(())
        })?;
        String::from_utf8(bytes).map_err(|_| Refused::Bag { what: name.part(), why: "is not text" })
    }
}

/// What the bytes themselves are to blame for.
fn is_content(error: &io::Error) -> bool {
    use io::ErrorKind::{InvalidData, InvalidInput, Other, UnexpectedEof};
    matches!(error.kind(), InvalidData | InvalidInput | Other | UnexpectedEof)
}

fn refused(error: ZipError) -> Refused {
    match error {
        ZipError::Io(error) if error.kind() == io::ErrorKind::FileTooLarge => {
            Refused::TooLarge { what: "too many entries" }
        }
        ZipError::Io(error) if !is_content(&error) => Refused::Reading(error),
        _ => Refused::NotABundle,
    }
}

/// Every entry's name, kind and size; and which folder the bag stands in.
fn vet<R: Read + Seek>(zip: &ZipArchive<R>) -> Result<BTreeMap<Name, Entry>, Refused> {
    let listing = zip.metadata();
    let mut names = BTreeSet::new();
    let (mut unpacked, mut packed) = (0_u64, 0_u64);
    for index in 0..listing.len() {
        let entry = listing.entry(index).map_err(refused)?;
        vet_entry(&entry, index + 1)?;
        unpacked = unpacked.saturating_add(entry.size());
        packed = packed.saturating_add(entry.compressed_size());
        if !names.insert(entry.name_raw().to_ascii_lowercase()) {
            return Err(Refused::Twice);
        }
    }
    if unpacked > SMALL_IN_ALL && unpacked / RATIO > packed {
        return Err(Refused::TooLarge { what: "files that unpack to far more than they are" });
    }
    let base = base(names.iter().map(Vec::as_slice))?.len();
    let mut entries = BTreeMap::new();
    let mut folder: Option<Vec<u8>> = None;
    for index in 0..listing.len() {
        let entry = listing.entry(index).map_err(refused)?;
        let outside = || Refused::Name { entry: index + 1, why: "does not belong in a bundle" };
        let raw = entry.name_raw();
        let (before, text) = raw.split_at_checked(base).ok_or_else(outside)?;
        if folder.get_or_insert_with(|| before.to_vec()) != before {
            return Err(outside());
        }
        let text = std::str::from_utf8(text).map_err(|_| outside())?;
        if matches!(text, "" | "data/" | "data/changes/" | "data/photos/") && entry.size() == 0 {
            continue;
        }
        let name = Name::read(text).ok_or_else(outside)?;
        entries.insert(name, Entry { index, bytes: entry.size() });
    }
    for (name, entry) in &entries {
        let most = match name {
            Name::Tag(_) => TAG_BYTES,
            Name::Photo(..) => MOST_BYTES,
            Name::Changes(_) => u64::MAX,
        };
        if entry.bytes > most {
            return Err(Refused::TooLarge { what: "a file larger than any that Trug writes" });
        }
    }
    Ok(entries)
}

/// The folder that the bag stands in, with its slash: where `bagit.txt` is.
fn base<'a>(mut names: impl Iterator<Item = &'a [u8]>) -> Result<&'a [u8], Refused> {
    let declared = names.find_map(|name| {
        let base = name.strip_suffix(b"bagit.txt")?;
        let is_one_deep = base.strip_suffix(b"/").is_some_and(|folder| !folder.contains(&b'/'));
        (base.is_empty() || is_one_deep).then_some(base)
    });
    declared.ok_or(Refused::NotABundle)
}

fn vet_entry(entry: &ZipFileEntry<'_>, number: usize) -> Result<(), Refused> {
    let kind = |what| Err(Refused::Kind { entry: number, what });
    if let Some(why) = name::fault(entry.name_raw()) {
        return Err(Refused::Name { entry: number, why });
    }
    if entry.encrypted() {
        return kind("locked with a password");
    }
    let is_folder = entry.name_raw().ends_with(b"/");
    match entry.unix_mode().map_or(0, |mode| mode & 0o170_000) {
        0o120_000 => return kind("a link"),
        0 | 0o100_000 if !is_folder => {}
        0 | 0o040_000 if is_folder => {}
        _ => return kind("no plain file"),
    }
    if !matches!(entry.compression(), CompressionMethod::Stored | CompressionMethod::Deflated) {
        return kind("packed in a way that bundles are not");
    }
    if entry.size() > SMALL && entry.size() / RATIO > entry.compressed_size() {
        return Err(Refused::TooLarge { what: "a file that unpacks to far more than it is" });
    }
    Ok(())
}

/// A reader that gives out at most so many bytes: while the entries are listed.
struct Metered<R> {
    inner: R,
    left: Arc<AtomicU64>,
}

impl<R: Read> Read for Metered<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let left = self.left.load(Ordering::Relaxed);
        if left == 0 {
            return Err(io::Error::from(io::ErrorKind::FileTooLarge));
        }
        let read = self.inner.read(buffer)?;
        self.left.store(left.saturating_sub(read as u64), Ordering::Relaxed);
        Ok(read)
    }
}

impl<R: Seek> Seek for Metered<R> {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.inner.seek(to)
    }
}
