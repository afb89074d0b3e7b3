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

use serde::{Deserialize, Serialize};

use crate::id::DeviceId;
use crate::photo::PhotoHash;

const ENDING: &str = ".age";
const FIGURES: usize = 32;

/// A file in the folder.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Found {
    /// Its path from the folder on, with `/` between the names.
    pub name: String,
    /// By what it is known again: its length, and when it was last written to, in nanoseconds; 0 if its keeper does not say.
    pub looks: (u64, u64),
}

impl Found {
    /// The subfolder that it is in, if any.
    fn place(&self) -> &str {
        self.name.split_once('/').map_or("", |(place, _)| place)
    }
}

/// How one device names its pieces.
#[derive(Debug, Clone)]
pub struct Naming {
    own: String,
}

impl Naming {
    /// That of this device.
    #[must_use]
    pub fn of(device: DeviceId) -> Self {
        Self { own: device.to_string() }
    }

    /// The path of a piece, from the folder on.
    #[must_use]
    pub fn name(&self, piece: &str) -> String {
        format!("{}/{piece}{ENDING}", self.own)
    }

    /// Whether a file is named as the device names its pieces.
    #[must_use]
    pub fn is_own(&self, found: &Found) -> bool {
        let stem = found.name.strip_prefix(&self.own).and_then(|rest| rest.strip_prefix('/'));
        let stem = stem.and_then(|rest| rest.strip_suffix(ENDING));
        stem.is_some_and(|stem| stem.len() == FIGURES && stem.bytes().all(|byte| byte.is_ascii_hexdigit()))
    }
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
