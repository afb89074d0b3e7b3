//! An exchange folder: one folder that some file-syncing program carries between one owner's devices.
//!
//! ```text
//! <folder>/<device>/<32 hex figures>.age     a piece: a sealed, signed bundle of one segment of the log, or of one photo
//! ```
//!
//! A device writes in its own subfolder alone. A piece never changes once it is written, its name stands for its whole content,
//! and what it holds is a set of changes: so it is no matter when, in what order, how often or under what name pieces arrive,
//! and one that is not all there yet is read another time. Nothing is believed because of a name or a place in the folder.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use serde::{Deserialize, Serialize};

use crate::id::DeviceId;
use crate::photo::PhotoHash;

/// How deep pieces are looked for: a device's subfolder, and one more should a program make one for what it could not place.
const DEPTH: u32 = 3;
const ENDING: &str = ".age";
const FIGURES: usize = 32;

/// A file in the folder.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Found {
    /// Its path from the folder on, with `/` between the names.
    pub name: String,
    /// Where it is.
    pub path: PathBuf,
    /// By what it is known again: its length, and when it was last written to, in nanoseconds.
    pub looks: (u64, u64),
}

impl Found {
    /// The subfolder that it is in, if any.
    fn place(&self) -> &str {
        self.name.split_once('/').map_or("", |(place, _)| place)
    }
}

/// The folder, as one device sees it.
#[derive(Debug, Clone)]
pub struct ExchangeFolder {
    root: PathBuf,
    own: String,
}

impl ExchangeFolder {
    /// The folder must be there: making it here could put it where no program carries it.
    ///
    /// # Errors
    /// If it is not there or cannot be looked into.
    pub fn open(root: &Path, device: DeviceId) -> io::Result<Self> {
        let root = fs::canonicalize(root)?;
        fs::read_dir(&root)?;
        Ok(Self { root, own: device.to_string() })
    }

    /// Where it is, links resolved.
    #[must_use]
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The own device's subfolder.
    #[must_use]
    pub fn own(&self) -> PathBuf {
        self.root.join(&self.own)
    }

    /// The path of a piece of ours, from the folder on.
    #[must_use]
    pub fn name(&self, piece: &str) -> String {
        format!("{}/{piece}{ENDING}", self.own)
    }

    /// Whether a file is named as the own device names its pieces.
    #[must_use]
    pub fn is_own(&self, found: &Found) -> bool {
        let stem = found.name.strip_prefix(&self.own).and_then(|rest| rest.strip_prefix('/'));
        let stem = stem.and_then(|rest| rest.strip_suffix(ENDING));
        stem.is_some_and(|stem| stem.len() == FIGURES && stem.bytes().all(|byte| byte.is_ascii_hexdigit()))
    }

    /// Every file, by name. Hidden ones belong to other programs, and links lead who knows where: neither is looked at.
    ///
    /// # Errors
    /// If the folder itself cannot be read; what vanishes or cannot be read meanwhile is not there.
    pub fn files(&self) -> io::Result<Vec<Found>> {
        let mut found = Vec::new();
        walk(&self.root, "", DEPTH, &mut found)?;
        found.sort_unstable();
        Ok(found)
    }
}

fn walk(folder: &Path, below: &str, depth: u32, found: &mut Vec<Found>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let Ok(name) = entry.file_name().into_string() else { continue };
        let (Ok(kind), false) = (entry.file_type(), name.starts_with('.')) else { continue };
        let name = if below.is_empty() { name } else { format!("{below}/{name}") };
        if kind.is_dir() && depth > 1 {
            // A folder that vanishes meanwhile is not there.
            let _ = walk(&entry.path(), &name, depth - 1, found);
        } else if kind.is_file()
            && let Ok(metadata) = entry.metadata()
        {
            let written = metadata.modified().ok().and_then(|time| time.duration_since(UNIX_EPOCH).ok());
            let written = written.map_or(0, |time| u64::try_from(time.as_nanos()).unwrap_or(u64::MAX));
            found.push(Found { name, path: entry.path(), looks: (metadata.len(), written) });
        }
    }
    Ok(())
}

/// What a notebook remembers of one exchange folder, so as not to do everything anew each time. Lost, it costs nothing but
/// that: everything is read and some is written once more.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Known {
    /// Files that were read to their end, or found whole, by name; and their looks then.
    #[serde(default)]
    files: BTreeMap<String, (u64, u64)>,
    /// Segments that came from the folder, `device/number`, and in which subfolder: whose it is sees to them.
    #[serde(default)]
    segments: BTreeMap<String, String>,
    /// Photos that came from it, likewise.
    #[serde(default)]
    photos: BTreeMap<PhotoHash, String>,
}

impl Known {
    /// Whether this very file has been seen to.
    #[must_use]
    pub fn knows(&self, found: &Found) -> bool {
        self.files.get(&found.name) == Some(&found.looks)
    }

    /// It has.
    pub fn note(&mut self, found: &Found) {
        self.files.insert(found.name.clone(), found.looks);
    }

    /// Forgets files that are gone, and what came from subfolders that are: nobody else sees to it any more.
    pub fn keep_only(&mut self, files: &[Found]) {
        let there: BTreeSet<&str> = files.iter().map(|found| found.name.as_str()).collect();
        self.files.retain(|name, _| there.contains(name.as_str()));
        let places: BTreeSet<&str> = files.iter().map(Found::place).collect();
        self.segments.retain(|_, place| places.contains(place.as_str()));
        self.photos.retain(|_, place| places.contains(place.as_str()));
    }

    /// Segments and photos came out of this file.
    pub fn came(
        &mut self,
        from: &Found,
        segments: impl IntoIterator<Item = String>,
        photos: impl IntoIterator<Item = PhotoHash>,
    ) {
        let place = from.place();
        self.segments.extend(segments.into_iter().map(|segment| (segment, place.to_owned())));
        self.photos.extend(photos.into_iter().map(|photo| (photo, place.to_owned())));
    }

    /// Whether a segment came from the folder.
    #[must_use]
    pub fn has_segment(&self, segment: &str) -> bool {
        self.segments.contains_key(segment)
    }

    /// Whether a photo came from the folder.
    #[must_use]
    pub fn has_photo(&self, photo: &PhotoHash) -> bool {
        self.photos.contains_key(photo)
    }
}
