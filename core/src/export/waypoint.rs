//! A patch as told to somebody else.

use serde::Serialize;

use super::{SharedPlace, Terms};
use crate::find::{Host, Substrate};
use crate::patch::Patch;
use crate::place::Error;

/// A patch that leaves. What is not a field here does not leave.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Waypoint {
    /// Where.
    pub place: SharedPlace,
    /// Its owner's name for it, if notes are ticked: such names tell places.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// What it grows on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on: Option<Substrate>,
    /// The tree.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub host: Option<Host>,
    /// Whose it is, if ticked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recorder: Option<String>,
    /// The note, if ticked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// The waypoint of a patch under its owner's terms; none for a patch without a place.
///
/// # Errors
/// None in practice: every position lies in a square.
pub fn waypoint(patch: &Patch, terms: &Terms) -> Result<Option<Waypoint>, Error> {
    let Some(centre) = patch.centre else { return Ok(None) };
    let ticked = |text: &Option<String>| text.clone().filter(|_| terms.notes);
    Ok(Some(Waypoint {
        place: SharedPlace::of(centre, terms.place)?,
        name: ticked(&patch.name),
        on: patch.on,
        host: patch.host.clone(),
        recorder: terms.name.clone(),
        note: ticked(&patch.note),
    }))
}
