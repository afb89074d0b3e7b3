//! An outing: a walk with a start and an end, to which finds belong. A find needs none.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::moment::Moment;
use crate::words::words;

words!(
    /// May I pick here?
    Permission, "answer to \"may I pick here?\"", {
        /// My own land.
        Own = "own",
        /// The owner said yes.
        Permitted = "permitted",
        /// Access land, or a byelaw to check.
        Open = "open",
        /// Not known.
        Unknown = "unknown",
    }
);

/// One outing.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Outing {
    /// When it began.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start: Option<Moment>,
    /// When it ended; absent while it goes on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub end: Option<Moment>,
    /// Where, in words.
    #[serde(rename = "where", skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// May I pick here?
    #[serde(skip_serializing_if = "Option::is_none")]
    pub permission: Option<Permission>,
    /// Who came along, as named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub people: Option<Vec<String>>,
    /// Anything else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}
