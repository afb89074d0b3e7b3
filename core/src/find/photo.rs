//! A photo of a find: the record that ties a file on the shelf to the find. One file may have several.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::id::FindId;
use crate::moment::Moment;
use crate::photo::{Direction, Format, PhotoHash, Role};
use crate::place::Position;

/// One photo of one find.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Photo {
    /// The find that it shows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub find: Option<FindId>,
    /// The hash of the file's bytes, by which it stands on the shelf.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sha256: Option<PhotoHash>,
    /// What it shows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub role: Option<Role>,
    /// Kind of file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub format: Option<Format>,
    /// Length of the file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bytes: Option<u64>,
    /// When it was taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taken: Option<Moment>,
    /// Where it was taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub position: Option<Position>,
    /// How high, in metres above the sea.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub altitude_m: Option<f64>,
    /// Which way the camera looked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub direction: Option<Direction>,
    /// Pixels across, as stored.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<u32>,
    /// Pixels down, as stored.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height: Option<u32>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}
