//! What a month came to.

use std::collections::BTreeMap;
use std::ops::AddAssign;

use jiff::civil::Date;

use super::Month;
use crate::patch::Amounts;

/// What came of looking, in the order in which one hides the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Came {
    /// Nobody looked.
    NotLooked,
    /// It was looked for, and was not there.
    Nothing,
    /// Something was there that nobody counted, or that has no name yet.
    Noted,
    /// It was found.
    Found,
}

/// What a month, or several, came to.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Cell {
    /// What the finds come to, whoever made them.
    pub amounts: Amounts,
    /// Of these, what others gathered.
    pub by_others: Amounts,
    /// Finds that count here by the last name given to them and are not settled.
    pub unsettled: u32,
    /// How often somebody looked: at one place on one outing or, without one, on one day.
    pub looks: u32,
    /// How many of the looks found nothing of it.
    pub nothing: u32,
    /// How many found something that nobody counted, or that has no name yet.
    pub noted: u32,
    /// Fruitbodies taken of which the weight is known, and ...
    pub weighed: u64,
    /// ... what those weigh, in milligrams.
    pub weighed_milligrams: u64,
}

impl Cell {
    /// What finds come to that are counted together.
    pub(super) fn of(amounts: Amounts, by_others: bool) -> Self {
        let is_weighed = amounts.unweighed == 0 && amounts.taken.most == Some(amounts.taken.least);
        let (weighed, weighed_milligrams) =
            if is_weighed { (u64::from(amounts.taken.least), amounts.milligrams) } else { (0, 0) };
        let others = if by_others { amounts } else { Amounts::default() };
        Self { amounts, by_others: others, weighed, weighed_milligrams, ..Self::default() }
    }

    /// What came of looking. A walk past the midnight that ends a month is a look in the one and may be a find in the other; the first
    /// is then no absence.
    #[must_use]
    pub fn came(&self) -> Came {
        if self.amounts.finds > 0 && !self.amounts.seen.is_none() {
            Came::Found
        } else if self.noted > 0 {
            Came::Noted
        } else if self.nothing > 0 {
            Came::Nothing
        } else {
            Came::NotLooked
        }
    }

    /// What one fruitbody weighs in the mean, of those taken that were counted and weighed.
    ///
    /// # Units
    /// Grams.
    #[must_use]
    #[allow(clippy::cast_precision_loss, reason = "exact up to nine million tonnes")]
    pub fn mean_grams(&self) -> Option<f64> {
        let (number, milligrams) = (self.weighed as f64, self.weighed_milligrams as f64);
        (self.weighed > 0 && self.weighed_milligrams > 0).then(|| milligrams / number / 1000.0)
    }
}

impl AddAssign for Cell {
    fn add_assign(&mut self, other: Self) {
        self.amounts += other.amounts;
        self.by_others += other.by_others;
        self.unsettled = self.unsettled.saturating_add(other.unsettled);
        self.looks = self.looks.saturating_add(other.looks);
        self.nothing = self.nothing.saturating_add(other.nothing);
        self.noted = self.noted.saturating_add(other.noted);
        self.weighed = self.weighed.saturating_add(other.weighed);
        self.weighed_milligrams = self.weighed_milligrams.saturating_add(other.weighed_milligrams);
    }
}

/// Month by month, what came of one fungus or place.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Course {
    /// The months in which somebody looked or something was found.
    pub months: BTreeMap<Month, Cell>,
    /// The days on which it was there, in order, each once.
    pub days: Vec<Date>,
}

impl Course {
    /// The months that are wanted, added up.
    #[must_use]
    pub fn sum(&self, mut wanted: impl FnMut(Month) -> bool) -> Cell {
        let mut sum = Cell::default();
        for (_, cell) in self.months.iter().filter(|(month, _)| wanted(**month)) {
            sum += *cell;
        }
        sum
    }
}
