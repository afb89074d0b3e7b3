//! Everything that an answer depends on, as plain data.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::facts::Facts;
use crate::code::Code;
use crate::find::{Count, Growth, Hazard, Host, How, Sure, Width};
use crate::moment::Moment;
use crate::outing::Permission;
use crate::place::Position;
use crate::stage::Stage;
use crate::units::Grams;

/// One question: may some of this be taken, here and now?
#[derive(Debug, Clone)]
pub struct Asked<'a> {
    /// What it is, or is taken for. `None` if nobody has a name for it.
    pub fungus: Option<&'a Facts>,
    /// How that name was reached.
    pub naming: Naming,
    /// What it could be instead; none of these may be protected if a specimen is taken.
    pub or: &'a [&'a Facts],
    /// What stands there.
    pub there: There,
    /// Where it stands.
    pub site: Site<'a>,
    /// The time and day, by the clock of that place.
    pub now: Moment,
    /// What was taken before.
    pub past: Past<'a>,
    /// The codes in force, the owner's own rules among them.
    pub codes: &'a [&'a Code],
    /// Ids of own rules that this version cannot read: they are never judged by half.
    pub unread: &'a [String],
}

/// How far a name can be relied on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Naming {
    /// Something else still fits, or nobody has a name.
    NotSettled,
    /// By the key, or by someone; then it is that person's word, and leaves every look-alike open.
    By(How),
}

/// The fruitbodies.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct There {
    /// How many there were at arrival. The low end rules.
    pub seen: Option<Count>,
    /// How old they are.
    pub maturity: Maturity,
    /// How wide, in millimetres.
    pub width: Option<Width>,
    /// How high, in millimetres.
    pub height: Option<Width>,
    /// What one of them weighs, if that is known.
    pub each: Option<Grams>,
    /// How they stand.
    pub growth: Option<Growth>,
}

/// How old the fruitbodies are.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum Maturity {
    /// It cannot be told.
    #[default]
    Unknown,
    /// All alike.
    All(Stage),
    /// So many of each stage, as they were at arrival.
    Mixed(BTreeMap<Stage, u32>),
    /// Several stages, and nobody counted.
    Uncounted,
}

/// The place, as far as rules ask after it.
#[derive(Debug, Clone)]
pub struct Site<'a> {
    /// May I pick here?
    pub land: Permission,
    /// Areas on record that this place lies in, or may lie in.
    pub areas: &'a [AreaHere],
    /// What makes the ground unfit, as far as it was noted.
    pub hazards: &'a [Hazard],
    /// The tree.
    pub host: Option<&'a Host>,
    /// Where, for the sun.
    pub position: Option<Position>,
}

/// An area on record, and how this place lies to it.
#[derive(Debug, Clone, PartialEq)]
pub struct AreaHere {
    /// What its owner calls it.
    pub name: String,
    /// Whether nothing may be gathered there.
    pub closed: bool,
    /// How this place lies to it.
    pub whereto: Whereto,
}

/// How a place lies to an area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Whereto {
    /// In it.
    Inside,
    /// Out of it by so many metres, and too near to be sure.
    Near(f64),
    /// Nobody knows where this place is.
    Unknown,
}

/// What was taken before.
#[derive(Debug, Clone, Copy, Default)]
pub struct Past<'a> {
    /// Every taking of the last twelve months and more.
    pub takes: &'a [Take],
    /// The fungi that takings name.
    pub fungi: &'a [&'a Facts],
    /// The patch rests until this day.
    pub rest_until: Option<Date>,
}

/// One taking.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Take {
    /// The day, by the clock that was carried.
    pub day: Date,
    /// Position in [`Past::fungi`]; `None` for what had no name, which then may be anything.
    pub fungus: Option<usize>,
    /// On this visit.
    pub visit: bool,
    /// From this patch, or from where this stands.
    pub here: bool,
    /// By the person who asks.
    pub mine: bool,
    /// How many; `None` if nobody counted.
    pub count: Option<u32>,
    /// How heavy together; `None` if nobody weighed.
    pub grams: Option<Grams>,
    /// How many for study besides, apart from food.
    pub specimens: u32,
}

impl Take {
    /// Whether anything was taken for food.
    pub(super) fn took(&self) -> bool {
        match self.count {
            Some(count) => count > 0,
            None => self.grams.is_some_and(|grams| grams.get() > 0.0),
        }
    }
}

impl There {
    /// The low end of their number.
    pub(super) fn least(&self) -> Option<u32> {
        self.seen.map(Count::least)
    }
}

impl Site<'_> {
    /// The tree, if somebody is more than guessing.
    pub(super) fn tree(&self) -> Option<&str> {
        self.host.filter(|host| host.sure != Sure::Guess).map(|host| host.tree.trim())
    }
}
