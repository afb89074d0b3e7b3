//! A patch that is gone back to, and the visits paid to it: without absences nothing can be learned.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::find::{Host, Substrate};
use crate::id::{OutingId, PatchId};
use crate::moment::Moment;
use crate::place::Position;
use crate::units::Metres;
use crate::words::words;

/// One patch.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Patch {
    /// What its owner calls it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Its middle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub centre: Option<Position>,
    /// How far it reaches from there, in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub radius: Option<Metres>,
    /// The tree it belongs to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub host: Option<Host>,
    /// The log, stump or ground it grows on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on: Option<Substrate>,
    /// Anything else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

words!(
    /// What came of a look at a patch.
    Outcome, "outcome", {
        /// Nothing there.
        Nothing = "nothing",
        /// Something there, left alone.
        Seen = "seen",
        /// Something there, and some of it taken.
        Taken = "taken",
    }
);

/// One look at a patch.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Visit {
    /// The patch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub patch: Option<PatchId>,
    /// The outing it was part of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outing: Option<OutingId>,
    /// When.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<Moment>,
    /// What came of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outcome: Option<Outcome>,
    /// Anything else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}
