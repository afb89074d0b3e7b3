//! *The year*: what was found, when and where; and the page of one month.

use trug::notebook::{AskedOfYear, By, LeftWeight, MonthOf, Title, Year, YearLine, YearMore};
use trug::place::Place;
use trug::year::{Came, Cell, Key, Pick, Run};

use crate::now::FindLine;
use crate::shared::NameShown;
use crate::year_row::{YearCame, YearOf, YearRow, YearSum, month_of, number, year_of_pick};
use crate::{Book, TrugError};

/// By what the year is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum YearBy {
    /// By fungus.
    Fungus,
    /// By place.
    Place,
}

/// The page of the year.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct YearPage {
    /// Every season that there is, the latest first: 2026/27. A season is July to June.
    pub seasons: Vec<String>,
    /// The one that is shown; none where all are laid over each other.
    pub season: Option<String>,
    /// All finds together.
    pub all: YearRow,
    /// Each fungus or place, in the order of the year.
    pub rows: Vec<YearRow>,
    /// More of one of them, if that was asked for and is there.
    pub more: Option<YearRowMore>,
}

/// More of one row.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct YearRowMore {
    /// The row.
    pub row: YearRow,
    /// What each season came to, the latest first.
    pub seasons: Vec<SeasonSum>,
    /// The month that the years of `runs` begin with: 7, unless a season would part its time; then the first after its longest gap.
    pub turns: u8,
    /// First and last days, the latest year first.
    pub runs: Vec<YearRun>,
}

/// What one season came to.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct SeasonSum {
    /// Which: 2026/27.
    pub season: String,
    /// What it came to.
    pub sum: YearSum,
}

/// First and last days of one year.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct YearRun {
    /// The year: 2026/27, or 2026.
    pub name: String,
    /// The first day: 2026-10-18.
    pub first: String,
    /// The last.
    pub last: String,
    /// The year is not over.
    pub is_on: bool,
    /// Where each day on which it was there begins on a line of twelve equal months, from 0 to 12.
    pub days: Vec<f64>,
    /// Where the last of them ends.
    pub end: f64,
}

/// The page of one month.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MonthPage {
    /// Of what.
    pub of: YearOf,
    /// 1 to 12.
    pub month: u8,
    /// The year; none for that month of every year.
    pub year: Option<i16>,
    /// What it came to.
    pub sum: YearSum,
    /// Its finds, the latest first.
    pub finds: Vec<FindLine>,
    /// How many more there are.
    pub more: u32,
    /// The looks that found nothing of it, or something that nobody counted; the latest first.
    pub looks: Vec<LookLine>,
}

/// A look that found nothing, or something that nobody counted.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct LookLine {
    /// The day: 2026-10-18.
    pub day: String,
    /// Where.
    pub at: YearOf,
    /// What came of it.
    pub came: YearCame,
}

#[uniffi::export]
impl Book {
    /// The year: one season, or all of them laid over each other; with more of one row, if one is named.
    ///
    /// # Errors
    /// `paused`, `view`; `not-an-id` for what names no row.
    pub fn year_page(
        &self,
        by: YearBy,
        season: Option<String>,
        more_of: Option<String>,
    ) -> Result<YearPage, TrugError> {
        let by = if by == YearBy::Fungus { By::Fungus } else { By::Place };
        let more_of = more_of.map(|id| id.parse::<Key>()).transpose()?;
        let year = self.notebook.year(self.pack, &AskedOfYear { by, season, more_of })?;
        Ok(self.year_shown(&year))
    }

    /// The finds of one month, at most so many, the latest first; `id` is a month's of the page of the year.
    ///
    /// # Errors
    /// `not-an-id` for what names no month, `paused`, `view`.
    pub fn month_page(&self, id: String, most: u32) -> Result<MonthPage, TrugError> {
        let (pick, key) = id.split_once(' ').unwrap_or_default();
        let (pick, key) = (pick.parse::<Pick>()?, key.parse::<Key>()?);
        let most = usize::try_from(most).unwrap_or(usize::MAX);
        let month = self.notebook.month(self.pack, &key, pick, most)?;
        Ok(self.month_shown(&month))
    }
}

impl Book {
    fn year_shown(&self, year: &Year) -> YearPage {
        YearPage {
            seasons: year.seasons.iter().map(ToString::to_string).collect(),
            season: year.season.map(|season| season.to_string()),
            all: self.year_row(&year.all),
            rows: year.lines.iter().map(|line| self.year_row(line)).collect(),
            more: year.more.as_ref().map(|more| self.year_more(more)),
        }
    }

    fn year_row(&self, line: &YearLine) -> YearRow {
        let key = &line.title.key;
        YearRow {
            id: key.to_string(),
            of: self.year_of(&line.title),
            months: line.months.iter().map(|laid| month_of(key, laid)).collect(),
            sum: YearSum::of(&line.sum, Some(line.left)),
        }
    }

    fn year_more(&self, more: &YearMore) -> YearRowMore {
        let of_season = |(season, cell, left): &(trug::patch::Season, Cell, LeftWeight)| SeasonSum {
            season: season.to_string(),
            sum: YearSum::of(cell, Some(*left)),
        };
        YearRowMore {
            row: self.year_row(&more.line),
            seasons: more.seasons.iter().map(of_season).collect(),
            turns: number(more.runs.turns),
            runs: more.runs.years.iter().map(YearRun::from).collect(),
        }
    }

    fn year_of(&self, title: &Title) -> YearOf {
        match &title.key {
            Key::All => YearOf::All,
            Key::Fungus(id) => YearOf::Fungus { name: NameShown::of(self.pack, id) },
            Key::Unnamed => YearOf::Unnamed,
            Key::Patch(id) => YearOf::Patch {
                id: id.to_string(),
                name: title.name.clone(),
                kind: title.kind.as_deref().map(|kind| NameShown::of(self.pack, kind)),
                place: title.centre.map(|centre| Place::told(centre).name()),
            },
            Key::Outing(place) => YearOf::Outing { place: place.clone() },
            Key::Elsewhere => YearOf::Elsewhere,
        }
    }

    fn month_shown(&self, month: &MonthOf) -> MonthPage {
        let look = |(day, at, came): &(jiff::civil::Date, Title, Came)| LookLine {
            day: day.to_string(),
            at: self.year_of(at),
            came: YearCame::from(*came),
        };
        MonthPage {
            of: self.year_of(&month.title),
            month: number(month.pick.month()),
            year: year_of_pick(month.pick),
            sum: YearSum::of(&month.cell, None),
            finds: month.finds.iter().map(|(record, name)| self.line(record, name)).collect(),
            more: month.more,
            looks: month.looked.iter().map(look).collect(),
        }
    }
}

impl From<&Run> for YearRun {
    fn from(run: &Run) -> Self {
        Self {
            name: run.name.clone(),
            first: run.first.to_string(),
            last: run.last.to_string(),
            is_on: run.is_on,
            days: run.days.clone(),
            end: run.end,
        }
    }
}
