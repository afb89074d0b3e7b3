//! A name given to a find: added, perhaps withdrawn, never deleted.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::{How, Sure};
use crate::id::FindId;
use crate::moment::Moment;

/// One person's or one key's word on what a find is.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Determination {
    /// The find it speaks of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub find: Option<FindId>,
    /// The taxon or group as named; absent means "unknown".
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taxon: Option<String>,
    /// The pack whose taxon it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack: Option<String>,
    /// That pack's version.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack_version: Option<String>,
    /// How sure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sure: Option<Sure>,
    /// How it was reached.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub how: Option<How>,
    /// What it rests on, as it was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub evidence: Option<Value>,
    /// Who says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub who: Option<String>,
    /// When.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<Moment>,
    /// Taken back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub withdrawn: Option<bool>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}
