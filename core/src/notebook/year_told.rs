//! The year as it is told: plain answers, and what they have in common.

use std::collections::HashMap;

use jiff::civil::Date;

use super::FindRecord;
use crate::allowance::GoesBy;
use crate::patch::{Many, Season};
use crate::place::Position;
use crate::year::{Came, Cell, Key, Laid, Pick, Row, Runs, twelve};

/// By what the year is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// By fungus.
    Fungus,
    /// By place.
    Place,
}

/// What is asked of the year.
#[derive(Debug, Clone, PartialEq)]
pub struct AskedOfYear {
    /// By what it is told.
    pub by: By,
    /// One season, as it is named; none for all of them laid over each other, as for one that is not there.
    pub season: Option<String>,
    /// What is told more of.
    pub more_of: Option<Key>,
}

/// The year.
#[derive(Debug, Clone, PartialEq)]
pub struct Year {
    /// Every season that there is, the latest first.
    pub seasons: Vec<Season>,
    /// The one that is told.
    pub season: Option<Season>,
    /// All finds together.
    pub all: YearLine,
    /// Each fungus or place of which there is something to tell, in the order of the year.
    pub lines: Vec<YearLine>,
    /// More of one of them, or of all.
    pub more: Option<YearMore>,
}

/// One fungus or place.
#[derive(Debug, Clone, PartialEq)]
pub struct YearLine {
    /// Which.
    pub title: Title,
    /// Its twelve months, July to June.
    pub months: Vec<Laid>,
    /// What they come to together.
    pub sum: Cell,
    /// What those that were left weigh, by what those of the same fungus weighed that were taken.
    pub left: LeftWeight,
}

/// More of one fungus or place.
#[derive(Debug, Clone, PartialEq)]
pub struct YearMore {
    /// What its page says anyway.
    pub line: YearLine,
    /// What each season came to, the latest first.
    pub seasons: Vec<(Season, Cell, LeftWeight)>,
    /// First and last days.
    pub runs: Runs,
}

/// What a line is called.
#[derive(Debug, Clone, PartialEq)]
pub struct Title {
    /// What it is of.
    pub key: Key,
    /// Of a patch, what its owner calls it.
    pub name: Option<String>,
    /// Of a patch, what is looked for there.
    pub kind: Option<String>,
    /// Of a patch without a name, where it is.
    pub centre: Option<Position>,
}

/// What was left weighs about so much. An estimate, from what was weighed and counted: whoever takes the largest leaves less.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct LeftWeight {
    /// Grams, at least.
    pub least: f64,
    /// Grams, at most; none if more may have been there than anybody counted.
    pub most: Option<f64>,
    /// Something was left of which none was ever counted and weighed: it is not in these numbers.
    pub lacks_some: bool,
}

/// The finds of a month, and the looks that found nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthOf {
    /// Of what.
    pub title: Title,
    /// Which.
    pub pick: Pick,
    /// What it came to.
    pub cell: Cell,
    /// Its finds, the latest first, and what each goes by.
    pub finds: Vec<(FindRecord, GoesBy)>,
    /// How many more finds there are.
    pub more: u32,
    /// The looks that found nothing of it, or something that nobody counted; the latest first.
    pub looked: Vec<(Date, Title, Came)>,
}

/// What all lines of one answer have in common.
#[derive(Debug, Clone)]
pub(super) struct Telling {
    /// What one fruitbody weighs in the mean, in grams, by fungus.
    pub means: HashMap<Key, f64>,
    pub season: Option<Season>,
    pub today: Date,
}

impl Telling {
    pub fn line(&self, fungi: &[Row], row: &Row, title: Title) -> YearLine {
        YearLine {
            title,
            months: twelve(&row.course, self.season, self.today),
            sum: self.sum(row),
            left: self.left(fungi, row),
        }
    }

    pub fn sum(&self, row: &Row) -> Cell {
        row.course.sum(|month| self.season.is_none_or(|season| month.season() == season))
    }

    /// Only of one fungus is a mean worth anything: all together are the sum of each.
    pub fn left(&self, fungi: &[Row], row: &Row) -> LeftWeight {
        match row.key {
            Key::All => fungi
                .iter()
                .map(|fungus| self.left(fungi, fungus))
                .fold(LeftWeight::nothing(), LeftWeight::and),
            _ => LeftWeight::of(self.sum(row).amounts.left(), self.means.get(&row.key).copied()),
        }
    }
}

impl LeftWeight {
    fn nothing() -> Self {
        Self { least: 0.0, most: Some(0.0), lacks_some: false }
    }

    fn of(left: Many, mean: Option<f64>) -> Self {
        match mean {
            _ if left.is_none() => Self::nothing(),
            Some(mean) => Self {
                least: f64::from(left.least) * mean,
                most: left.most.map(|most| f64::from(most) * mean),
                lacks_some: false,
            },
            None => Self { lacks_some: true, ..Self::nothing() },
        }
    }

    fn and(self, other: Self) -> Self {
        Self {
            least: self.least + other.least,
            most: self.most.zip(other.most).map(|(one, other)| one + other),
            lacks_some: self.lacks_some || other.lacks_some,
        }
    }
}

/// What one fruitbody of each fungus weighs in the mean, in grams. Of what has no name, a mean would be worth nothing.
pub(super) fn means(fungi: &[Row]) -> HashMap<Key, f64> {
    let named = fungi.iter().filter(|row| row.key != Key::Unnamed);
    named.filter_map(|row| Some((row.key.clone(), row.course.sum(|_| true).mean_grams()?))).collect()
}
