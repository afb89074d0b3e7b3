//! A patch that is gone back to, and the visits paid to it: without absences nothing can be learned.
//!
//! [`propose`] says which patch a find belongs to, [`history`] what came of it season by season, [`rows`] how that is drawn,
//! [`survivor`] which patch stands for one that was merged, [`Way`] how to get there, [`Sorting`] in which order they are listed.

mod calendar;
mod history;
mod merged;
mod order;
mod propose;
mod season;
mod tally;
mod typed;
mod way;

pub use calendar::{Row, rows};
pub use history::{Look, SeasonAtPatch, history, looks};
pub use merged::survivor;
pub use order::{Listed, Sorting};
pub use propose::{Near, Proposal, VAGUE_METRES, propose};
pub use season::Season;
pub use tally::{Amounts, Many, Tally};
pub use way::{Inside, Way};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::find::{FieldError, Find, Host, LONGEST_TEXT, Substrate};
use crate::id::{OutingId, PatchId};
use crate::moment::Moment;
use crate::place::Position;
use crate::units::Metres;
use crate::words::words;

/// One patch: a log, a stump, the ground round a tree; a place to stand at, not a wood.
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
    /// What is looked for there, where it is one thing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taxon: Option<String>,
    /// It rests until this day: the first on which it may be gathered from again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rests_until: Option<Date>,
    /// The patch that it turned out to be one with, and that now stands for both.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub merged_into: Option<PatchId>,
    /// Anything else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

/// The names of a patch's fields that its owner sets.
pub const FIELDS: [&str; 8] = ["name", "centre", "radius", "host", "on", "taxon", "rests_until", "note"];

/// How far a patch reaches if nobody has said: a log and what lies round it (common practice, no source).
const USUAL_REACH: f64 = 10.0;

impl Patch {
    /// The farthest a patch may reach, in metres. Beyond, it is a wood, and its finds would say nothing of one another.
    pub const FARTHEST_REACH: f64 = 500.0;

    /// How far it reaches from its middle.
    #[must_use]
    pub fn reach(&self) -> Metres {
        self.radius.unwrap_or_else(|| Metres::nearest(USUAL_REACH))
    }

    /// It rests on this day.
    #[must_use]
    pub fn rests_on(&self, day: Date) -> bool {
        self.rests_until.is_some_and(|until| day < until)
    }

    /// Checks what its fields may hold.
    ///
    /// # Errors
    /// [`FieldError`] names the field.
    pub fn validate(&self) -> Result<(), FieldError> {
        let wrong = |field, why: &str| Err(FieldError { field, why: why.to_owned() });
        if self.radius.is_some_and(|radius| radius.get() > Self::FARTHEST_REACH) {
            return wrong("radius", "a patch reaches 500 m at most: make a wood an area, or several patches");
        }
        if self.name.as_ref().is_some_and(|name| name.trim().is_empty() || name.len() > 200) {
            return wrong("name", "give a name of at most 200 bytes");
        }
        if self.note.as_ref().is_some_and(|note| note.len() > LONGEST_TEXT) {
            return wrong("note", "too long: keep it under 20000 bytes");
        }
        if self.host.as_ref().is_some_and(|host| host.tree.trim().is_empty() || host.tree.len() > 200) {
            return wrong("host", "give the tree's name in at most 200 bytes");
        }
        Ok(())
    }

    /// Where the patch itself says nothing, what a find says of it: its place, its tree and what it grows on.
    #[must_use]
    pub fn completed_from(mut self, find: &Find) -> Self {
        self.centre = self.centre.or_else(|| find.position.as_ref().map(|at| at.position));
        self.host = self.host.or_else(|| find.host.clone());
        self.on = self.on.or(find.on);
        self
    }

    /// What this patch takes over from one that is merged into it: a reach that takes both in, and whatever it does not
    /// say itself.
    ///
    /// # Errors
    /// [`FieldError`] if the two lie too far apart to be one patch.
    pub fn taking_in(&self, other: &Self) -> Result<Self, FieldError> {
        let radius = match (self.centre, other.centre) {
            (Some(here), Some(there)) => {
                let over = crate::place::distance(here, there).get() + other.reach().get();
                if over > Self::FARTHEST_REACH {
                    let why = "these lie too far apart to be one patch, which reaches 500 m at most";
                    return Err(FieldError { field: "radius", why: why.to_owned() });
                }
                (over > self.reach().get()).then(|| Metres::nearest(over.ceil()))
            }
            _ => None,
        };
        let missing = |here: bool, there: &Option<String>| if here { None } else { there.clone() };
        Ok(Self {
            radius: radius.or_else(|| if self.centre.is_none() { other.radius } else { None }),
            centre: if self.centre.is_some() { None } else { other.centre },
            host: if self.host.is_some() { None } else { other.host.clone() },
            on: if self.on.is_some() { None } else { other.on },
            name: missing(self.name.is_some(), &other.name),
            taxon: missing(self.taxon.is_some(), &other.taxon),
            ..Self::default()
        })
    }
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
    /// Who looked; absent for the notebook's owner.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// Anything else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}
