//! Changes: the one form in which everything that was ever recorded is kept, on disk, between devices and in bundles.
//!
//! A [`Change`] sets fields of one record and names the changes it **replaces**: those its author had seen for these fields.
//! Changes are a set that only grows; the state of a record is [`fold`] over its changes, in whatever order they come.

mod clock;
mod fold;
mod line;
mod size;
mod stamp;

pub use clock::Clock;
pub use fold::{Held, State, fold};
pub(crate) use line::hex;
pub use line::{Line, NotALine, salvage};
pub use size::Size;
pub use stamp::{NotAStamp, Stamp};

use std::collections::BTreeSet;
use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use serde_json::{Map, Value};

use crate::id::{DeviceId, RecordId};

/// Which change: no device gives the same stamp twice. Ordered by stamp, then device.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ChangeId {
    /// When, by the device's hybrid logical clock.
    pub stamp: Stamp,
    /// Where.
    pub device: DeviceId,
}

impl fmt::Display for ChangeId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}@{}", self.stamp, self.device)
    }
}

impl FromStr for ChangeId {
    type Err = NotAStamp;

    fn from_str(text: &str) -> Result<Self, NotAStamp> {
        let (stamp, device) = text.split_once('@').ok_or(NotAStamp)?;
        Ok(Self { stamp: stamp.parse()?, device: device.parse().map_err(|_| NotAStamp)? })
    }
}

impl Serialize for ChangeId {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for ChangeId {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        std::borrow::Cow::<'de, str>::deserialize(deserializer)?.parse().map_err(de::Error::custom)
    }
}

/// The field that marks a record as deleted: `true` or `false`.
pub const DELETED: &str = "deleted";

/// One edit of one record. Kinds and fields that this version does not know are carried all the same.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Change {
    /// What kind of record: `find`, `outing`, `photo` …
    pub kind: String,
    /// Which record.
    pub record: RecordId,
    /// The fields it sets; `null` empties one.
    pub set: Map<String, Value>,
    /// Its author's clock.
    pub stamp: Stamp,
    /// Its author.
    pub device: DeviceId,
    /// The changes to the same fields that its author had seen.
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    pub replaces: BTreeSet<ChangeId>,
    /// The change that this one takes back, if it is an undo.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub undoes: Option<ChangeId>,
    /// Whether nobody asked for it, as when a fix gets better by itself. Undo passes over it.
    #[serde(default, skip_serializing_if = "is_no")]
    pub unasked: bool,
    /// How many further changes of the same act follow it in the log: an act is kept whole or not at all.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub more: u32,
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "the shape serde asks for")]
fn is_zero(n: &u32) -> bool {
    *n == 0
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "the shape serde asks for")]
fn is_no(yes: &bool) -> bool {
    !*yes
}

impl Change {
    /// Its identity.
    #[must_use]
    pub fn id(&self) -> ChangeId {
        ChangeId { stamp: self.stamp, device: self.device }
    }
}
