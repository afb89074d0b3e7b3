//! What counting is told.

use jiff::civil::Date;

use super::{Key, Pick};
use crate::id::{OutingId, PatchId};
use crate::patch::{Amounts, Outcome};

/// What the finds of one patch, day, outing, name and gatherer come to.
#[derive(Debug, Clone, Copy)]
pub struct Sum<'a> {
    /// The patch, if they belong to one.
    pub patch: Option<PatchId>,
    /// The day, by the clock that was carried.
    pub day: Date,
    /// The outing, if they were made on one.
    pub outing: Option<OutingId>,
    /// The latest name given to them that stands; empty where nobody has named them.
    pub taxon: &'a str,
    /// Whether somebody else gathered.
    pub by_others: bool,
    /// How much.
    pub amounts: Amounts,
}

/// A look at a patch that was noted by itself.
#[derive(Debug, Clone, Copy)]
pub struct Visited {
    /// The patch.
    pub patch: PatchId,
    /// The outing, if it was part of one.
    pub outing: Option<OutingId>,
    /// The day, by the clock that was carried.
    pub day: Date,
    /// What came of it.
    pub outcome: Outcome,
}

/// An outing that is over.
#[derive(Debug, Clone, Copy)]
pub struct Went<'a> {
    /// Which.
    pub outing: OutingId,
    /// The day on which it began; none if nobody knows.
    pub day: Option<Date>,
    /// Where it was, in its owner's words; empty if they said nothing.
    pub place: &'a str,
    /// Whether it has come to its end.
    pub is_over: bool,
}

/// A patch, as far as it matters here.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Ground {
    /// What its owner calls it.
    pub name: Option<String>,
    /// The patch that it was merged into.
    pub merged_into: Option<PatchId>,
    /// What is looked for there, where it is one thing.
    pub kind: Option<String>,
}

/// What a name stands for.
#[derive(Debug, Clone, PartialEq)]
pub struct Called {
    /// What it is counted under.
    pub id: String,
    /// This and everything that no look parts it from: its group, or its members.
    pub one_with: Vec<String>,
}

/// Looks that are to be told one by one: at or for something, in some month.
#[derive(Debug, Clone, PartialEq)]
pub struct Watched {
    /// At or for what.
    pub key: Key,
    /// When.
    pub pick: Pick,
}
