//! A row of *the year*: what it is of, its twelve months, what they come to.

use trug::notebook::LeftWeight;
use trug::patch::Many;
use trug::year::{Came, Cell, Key, Laid, Pick, level};

use crate::shared::NameShown;

/// What came of looking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum YearCame {
    /// Nobody looked.
    NotLooked,
    /// It was looked for, and was not there.
    Nothing,
    /// Something was there that nobody counted, or that has no name yet.
    Noted,
    /// It was found.
    Found,
    /// The month has not come yet.
    Ahead,
}

/// What a row is of.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Enum)]
pub enum YearOf {
    /// All finds together.
    All,
    /// A fungus.
    Fungus {
        /// Which.
        name: NameShown,
    },
    /// What has no name.
    Unnamed,
    /// A patch.
    Patch {
        /// Its id.
        id: String,
        /// What its owner calls it.
        name: Option<String>,
        /// What is looked for there.
        kind: Option<NameShown>,
        /// Of one without a name, where it is: a grid reference, or degrees.
        place: Option<String>,
    },
    /// Where outings were, as their owner wrote it: what belongs to no patch.
    Outing {
        /// Where.
        place: String,
    },
    /// What belongs to no patch, and to no outing that says where it was.
    Elsewhere,
}

/// A row of the year.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct YearRow {
    /// Names it to `year_page`.
    pub id: String,
    /// What it is of.
    pub of: YearOf,
    /// Its twelve months, July to June.
    pub months: Vec<YearMonth>,
    /// What they come to.
    pub sum: YearSum,
}

/// A month of a row.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct YearMonth {
    /// Names it to `month_page`.
    pub id: String,
    /// 1 to 12.
    pub month: u8,
    /// The year; none where all seasons are laid over each other.
    pub year: Option<i16>,
    /// What came of looking.
    pub came: YearCame,
    /// How tall it stands: 0 for what was not found, else 1 to 5: from 1, 3, 10, 30, 100 fruitbodies on.
    pub level: u8,
    /// Finds.
    pub finds: u32,
    /// Fruitbodies seen, at least.
    pub seen: u32,
    /// Whether there may have been more.
    pub or_more: bool,
    /// How often somebody looked.
    pub looks: u32,
    /// How many of these looks found nothing of it.
    pub nothing: u32,
    /// In how many seasons it was found in this month.
    pub found_in: u32,
    /// In how many it was looked for in this month, or found.
    pub looked_in: u32,
}

/// How many: from here to there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Record)]
pub struct HowMany {
    /// At least.
    pub least: u32,
    /// At most; none where not all were counted.
    pub most: Option<u32>,
}

/// What several months come to.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct YearSum {
    /// Finds.
    pub finds: u32,
    /// Of these, those that count by the last name given to them and are not settled.
    pub unsettled: u32,
    /// Fruitbodies seen.
    pub seen: HowMany,
    /// Taken for the table.
    pub taken: HowMany,
    /// Taken for study.
    pub specimens: u32,
    /// Left where they grew.
    pub left: HowMany,
    /// What was taken weighs, in grams, as far as it was weighed.
    pub grams: f64,
    /// Finds of which something was taken and not weighed.
    pub unweighed: u32,
    /// Of what was taken, what others took; what it weighs, in grams.
    pub others: HowMany,
    /// What that weighs, in grams.
    pub others_grams: f64,
    /// What was left weighs about so many grams at least, by the mean of those of the same fungus that were taken and weighed; none
    /// where nothing is known of that.
    pub left_grams: Option<f64>,
    /// Whether it may be more, because not all were counted, or because of some fungus none was ever weighed.
    pub left_or_more: bool,
    /// How often somebody looked.
    pub looks: u32,
    /// How many of these looks found nothing of it.
    pub nothing: u32,
}

/// A month of a row.
pub(crate) fn month_of(key: &Key, laid: &Laid) -> YearMonth {
    let Laid { pick, cell, found_in, looked_in, is_ahead } = laid;
    YearMonth {
        id: format!("{pick} {key}"),
        month: number(pick.month()),
        year: year_of_pick(*pick),
        came: if *is_ahead { YearCame::Ahead } else { cell.came().into() },
        level: level(cell),
        finds: cell.amounts.finds,
        seen: cell.amounts.seen.least,
        or_more: cell.amounts.seen.most != Some(cell.amounts.seen.least),
        looks: cell.looks,
        nothing: cell.nothing,
        found_in: *found_in,
        looked_in: *looked_in,
    }
}

/// The year, where one is meant.
pub(crate) fn year_of_pick(pick: Pick) -> Option<i16> {
    match pick {
        Pick::One(month) => Some(month.year),
        Pick::Every(_) => None,
    }
}

/// Months are 1 to 12.
pub(crate) fn number(month: i8) -> u8 {
    month.unsigned_abs()
}

impl YearSum {
    pub(crate) fn of(cell: &Cell, left: Option<LeftWeight>) -> Self {
        let amounts = &cell.amounts;
        Self {
            finds: amounts.finds,
            unsettled: cell.unsettled,
            seen: amounts.seen.into(),
            taken: amounts.taken.into(),
            specimens: amounts.specimens,
            left: amounts.left().into(),
            grams: amounts.grams(),
            unweighed: amounts.unweighed,
            others: cell.by_others.taken.into(),
            others_grams: cell.by_others.grams(),
            left_grams: left.filter(|left| left.least > 0.0).map(|left| left.least),
            left_or_more: left.is_some_and(|left| left.most != Some(left.least) || left.lacks_some),
            looks: cell.looks,
            nothing: cell.nothing,
        }
    }
}

impl From<Many> for HowMany {
    fn from(many: Many) -> Self {
        Self { least: many.least, most: many.most }
    }
}

impl From<Came> for YearCame {
    fn from(came: Came) -> Self {
        match came {
            Came::NotLooked => Self::NotLooked,
            Came::Nothing => Self::Nothing,
            Came::Noted => Self::Noted,
            Came::Found => Self::Found,
        }
    }
}
