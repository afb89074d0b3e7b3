//! The names that may stand in a bundle: a short list, so that no other can do harm.

use std::fmt;

use crate::id::DeviceId;
use crate::photo::{Format, PhotoHash};

/// The files beside the payload, by name.
pub const TAGS: [&str; 8] = [
    "bag-info.txt",
    "bagit.txt",
    "holds.json",
    "manifest-sha256.txt",
    "manifest-sha512.txt",
    "signature.json",
    "tagmanifest-sha256.txt",
    "tagmanifest-sha512.txt",
];

/// A name below the bag's folder. Their order is that of their texts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Name {
    /// One of [`TAGS`].
    Tag(&'static str),
    /// A device's changes.
    Changes(DeviceId),
    /// A photo.
    Photo(PhotoHash, Format),
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Tag(name) => f.write_str(name),
            Self::Changes(device) => write!(f, "data/changes/{device}.jsonl"),
            Self::Photo(hash, format) => write!(f, "data/photos/{hash}.{}", format.extension()),
        }
    }
}

impl Name {
    /// Reads a name below the bag's folder. Only the exact form counts: every file has one name.
    pub fn read(text: &str) -> Option<Self> {
        if let Some(tag) = TAGS.into_iter().find(|tag| *tag == text) {
            return Some(Self::Tag(tag));
        }
        let (part, file) = text.strip_prefix("data/")?.split_once('/')?;
        let (stem, extension) = file.rsplit_once('.')?;
        let name = match part {
            "changes" => Self::Changes(stem.parse().ok()?),
            "photos" => Self::Photo(stem.parse().ok()?, Format::from_extension(extension)?),
            _ => return None,
        };
        (name.to_string() == text).then_some(name)
    }

    /// Below `data/`: listed in the manifests.
    pub fn is_payload(&self) -> bool {
        !matches!(self, Self::Tag(_))
    }

    /// What to call it in an error.
    pub fn part(&self) -> &'static str {
        match self {
            Self::Tag(name) => name,
            Self::Changes(_) => "a file of changes",
            Self::Photo(..) => "a photo",
        }
    }
}

/// What is wrong with an entry's name as such, whatever it names.
pub fn fault(raw: &[u8]) -> Option<&'static str> {
    let Ok(name) = std::str::from_utf8(raw) else { return Some("is not text") };
    let parts = || name.strip_suffix('/').unwrap_or(name).split('/');
    if !name.is_ascii() {
        Some("is not in plain letters")
    } else if name.contains('\\') {
        Some("is written with backslashes")
    } else if name.contains(':') {
        Some("names a drive or a device")
    } else if name.starts_with('/') {
        Some("begins at the root of the disk")
    } else if name.bytes().any(|byte| byte.is_ascii_control()) {
        Some("holds control characters")
    } else if parts().any(|part| part == ".." || part == ".") {
        Some("leads out of its folder")
    } else if parts().any(str::is_empty) {
        Some("has an empty part")
    } else {
        None
    }
}
