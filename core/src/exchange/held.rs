//! What a notebook holds, told in few words, so that another can tell what it need not send.
//!
//! A stamp alone would not do: a device may hold the later changes of another and lack earlier ones, which came by a way of their
//! own. So the changes up to the stamp are told by their hash, and whoever holds others takes it for nothing said.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::change::{Stamp, hex};
use crate::id::DeviceId;
use crate::photo::PhotoHash;

/// All changes of one device up to a stamp, and no others.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Span {
    /// The stamp of the last.
    pub to: Stamp,
    /// The hash over their lines, in order of stamps, line ends included.
    pub sha256: String,
}

/// Changes and photos that a notebook holds.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Held {
    /// Of each device, up to where.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub changes: BTreeMap<DeviceId, Span>,
    /// The photos.
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    pub photos: BTreeSet<PhotoHash>,
}

impl Held {
    /// Nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.changes.is_empty() && self.photos.is_empty()
    }
}

/// What stands in a bundle's `holds.json`.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Holdings {
    /// What the notebook that wrote it holds.
    pub holds: Held,
    /// What was left out because the one whom it is for has said that they hold it.
    #[serde(default, skip_serializing_if = "Held::is_empty")]
    pub left_out: Held,
}

/// Takes a device's lines in order, and tells what they come to; and whether they begin with a span that somebody told of.
pub struct Spanning<'a> {
    told: Option<&'a Span>,
    hash: Sha256,
    last: Option<Stamp>,
    begins: bool,
}

impl<'a> Spanning<'a> {
    /// Nothing taken yet.
    #[must_use]
    pub fn new(told: Option<&'a Span>) -> Self {
        Self { told, hash: Sha256::new(), last: None, begins: false }
    }

    /// Takes the next line.
    pub fn take(&mut self, stamp: Stamp, line: &str) {
        self.hash.update(line.as_bytes());
        self.hash.update(b"\n");
        self.last = Some(stamp);
        if let Some(told) = self.told.filter(|told| told.to == stamp) {
            self.begins = hex(&self.hash.clone().finalize()) == told.sha256;
        }
    }

    /// The span of all lines, and whether they begin with the one that was told of.
    #[must_use]
    pub fn finish(self) -> (Option<Span>, bool) {
        let sha256 = hex(&self.hash.finalize());
        (self.last.map(|to| Span { to, sha256 }), self.begins)
    }
}
