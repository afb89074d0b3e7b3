//! The copy for somebody else: an allow-list of what a find says, under a new id.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use uuid::Uuid;

use super::{Ids, Naming, SharedPlace, Terms};
use crate::find::{Count, Determination, Find, Ground, Growth, Host, Stage, Substrate, Width};
use crate::id::FindId;
use crate::moment::Moment;
use crate::pack::Pack;
use crate::place::Error;
use crate::units::Grams;

/// A kept find, as the notebook holds it.
#[derive(Debug, Clone, Copy)]
pub struct Original<'a> {
    /// Its id, which does not leave.
    pub id: FindId,
    /// Its fields.
    pub find: &'a Find,
    /// The names given to it, oldest first.
    pub names: &'a [&'a Determination],
}

/// A find as told to somebody else. What is not a field here does not leave.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Copied {
    /// A new id.
    pub id: Uuid,
    /// The day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub day: Option<Date>,
    /// The time with its offset, if ticked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time: Option<Moment>,
    /// What it is called.
    pub name: Naming,
    /// Where.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<SharedPlace>,
    /// What it grows on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on: Option<Substrate>,
    /// The tree.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub host: Option<Host>,
    /// The ground.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ground: Option<Ground>,
    /// How the fruitbodies stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub growth: Option<Growth>,
    /// How many were there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seen: Option<Count>,
    /// How many of each stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stages: Option<BTreeMap<Stage, u32>>,
    /// Cap widths, in millimetres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<Width>,
    /// How many were taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taken: Option<u32>,
    /// What those weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grams: Option<Grams>,
    /// How many were taken for study.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub specimens: Option<u32>,
    /// Whose record it is, if ticked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recorder: Option<String>,
    /// The surroundings in words, if notes are ticked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub habitat: Option<String>,
    /// The note, if ticked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// The copy of a find under its owner's terms.
///
/// # Errors
/// None in practice: every position lies in a square.
pub fn copy(original: Original<'_>, terms: &Terms, ids: &Ids, pack: &Pack) -> Result<Copied, Error> {
    let Original { id, find, names } = original;
    let place = find.position.as_ref().map(|at| SharedPlace::of(at.position, terms.place)).transpose()?;
    let ticked = |text: &Option<String>| text.clone().filter(|_| terms.notes);
    Ok(Copied {
        id: ids.of(id),
        day: find.at.map(Moment::day),
        time: find.at.filter(|_| terms.time),
        name: Naming::of(names, pack),
        place,
        on: find.on,
        host: find.host.clone(),
        ground: find.ground,
        growth: find.growth,
        seen: find.seen,
        stages: find.stages.clone(),
        width: find.width,
        taken: find.taken,
        grams: find.grams,
        specimens: find.specimens,
        recorder: terms.name.clone(),
        habitat: ticked(&find.habitat),
        note: ticked(&find.note),
    })
}

/// By what the copies themselves show, then by id: the order in a file tells no time that the file does not.
#[must_use]
pub fn sorted(mut copies: Vec<Copied>) -> Vec<Copied> {
    copies.sort_by_key(|copy| (copy.day.is_none(), copy.day, copy.time, copy.id));
    copies
}

impl Copied {
    /// When, as ISO 8601 writes it: the day, or the time with its offset where that was ticked.
    #[must_use]
    pub fn when(&self) -> Option<String> {
        self.time.map(|time| time.to_string()).or_else(|| self.day.map(|day| day.to_string()))
    }
}
