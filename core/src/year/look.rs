//! One look at one place, and what it says of each fungus.

use jiff::civil::Date;

use super::{Came, Cell};
use crate::id::OutingId;
use crate::patch::Outcome;

/// What makes finds and visits one look, as at a patch: the same outing or, without one, the same day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Occasion {
    Outing(OutingId),
    Day(Date),
}

/// One place, one occasion.
#[derive(Debug)]
pub(super) struct Look {
    pub day: Date,
    /// Rows of fungi that were there.
    pub there: Vec<usize>,
    /// Rows of fungi of which a find says that none was there.
    pub gone: Vec<usize>,
    /// Something without a name was there.
    pub nameless: bool,
    /// What was noted of the look itself.
    pub outcome: Outcome,
    pub has_finds: bool,
}

impl Look {
    pub fn on(day: Date) -> Self {
        Self {
            day,
            there: Vec::new(),
            gone: Vec::new(),
            nameless: false,
            outcome: Outcome::Nothing,
            has_finds: false,
        }
    }

    /// What a find, or several that are counted together, say of one fungus.
    pub fn says(&mut self, fungus: usize, is_there: bool, is_nameless: bool) {
        self.has_finds = true;
        self.nameless |= is_there && is_nameless;
        let list = if is_there { &mut self.there } else { &mut self.gone };
        if !list.contains(&fungus) {
            list.push(fungus);
        }
    }

    /// What came of the look at its place.
    pub fn came(&self) -> Came {
        if !self.there.is_empty() {
            Came::Found
        } else if !self.has_finds && self.outcome > Outcome::Nothing {
            Came::Noted
        } else {
            Came::Nothing
        }
    }

    /// What it says of one fungus. What no look parts from it may have been it, and so may something without a name.
    pub fn came_of(&self, fungus: usize, kin: &[Vec<String>]) -> Came {
        if self.there.contains(&fungus) {
            return Came::Found;
        }
        if self.gone.contains(&fungus) {
            return Came::Nothing;
        }
        let own = kin.get(fungus).map(Vec::as_slice).unwrap_or_default();
        let is_kin =
            |other: &usize| kin.get(*other).is_some_and(|other| other.iter().any(|id| own.contains(id)));
        if self.nameless || self.there.iter().any(is_kin) {
            return Came::Noted;
        }
        if !self.has_finds && self.outcome > Outcome::Nothing { Came::Noted } else { Came::Nothing }
    }
}

pub(super) fn counted(came: Came) -> Cell {
    Cell {
        looks: 1,
        nothing: u32::from(came == Came::Nothing),
        noted: u32::from(came == Came::Noted),
        ..Cell::default()
    }
}
