//! Months of the calendar, and their places in the year as fungi have it.

use std::fmt;
use std::str::FromStr;

use jiff::civil::Date;

use crate::id::NotAnId;
use crate::patch::Season;

/// One month of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Month {
    /// The year.
    pub year: i16,
    /// 1 to 12.
    pub month: i8,
}

impl Month {
    /// The month that a day lies in.
    #[must_use]
    pub fn of(day: Date) -> Self {
        Self { year: day.year(), month: day.month() }
    }

    /// Its first day.
    #[must_use]
    pub fn first(self) -> Date {
        Date::new(self.year, self.month, 1).unwrap_or(Date::MIN)
    }

    /// Its last day.
    #[must_use]
    pub fn last(self) -> Date {
        self.first().last_of_month()
    }

    /// The season that it lies in: seasons turn between months.
    #[must_use]
    pub fn season(self) -> Season {
        Season::of(self.first())
    }
}

impl fmt::Display for Month {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}", self.year, self.month)
    }
}

/// Which months are meant: one, or the same one of every year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pick {
    /// One month of the calendar.
    One(Month),
    /// This month, 1 to 12, of every year.
    Every(i8),
}

impl Pick {
    /// Whether a day lies in what is meant.
    #[must_use]
    pub fn holds(self, day: Date) -> bool {
        match self {
            Self::One(month) => Month::of(day) == month,
            Self::Every(month) => day.month() == month,
        }
    }

    /// The month, 1 to 12.
    #[must_use]
    pub fn month(self) -> i8 {
        match self {
            Self::One(month) => month.month,
            Self::Every(month) => month,
        }
    }
}

impl fmt::Display for Pick {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::One(month) => month.fmt(f),
            Self::Every(month) => write!(f, "every-{month:02}"),
        }
    }
}

impl FromStr for Pick {
    type Err = NotAnId;

    fn from_str(text: &str) -> Result<Self, NotAnId> {
        let (year, month) = text.rsplit_once('-').ok_or(NotAnId)?;
        let month: i8 = month.parse().map_err(|_| NotAnId)?;
        if year == "every" {
            return if (1..=12).contains(&month) { Ok(Self::Every(month)) } else { Err(NotAnId) };
        }
        let first = Date::new(year.parse().map_err(|_| NotAnId)?, month, 1).map_err(|_| NotAnId)?;
        Ok(Self::One(Month::of(first)))
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn a_month_ends_with_its_last_day_in_leap_years_too() {
        for (day, last, season) in [
            (date(2024, 2, 3), date(2024, 2, 29), "2023/24"),
            (date(2026, 2, 28), date(2026, 2, 28), "2025/26"),
            (date(2026, 6, 30), date(2026, 6, 30), "2025/26"),
            (date(2026, 7, 1), date(2026, 7, 31), "2026/27"),
            (date(1999, 12, 31), date(1999, 12, 31), "1999/00"),
        ] {
            let month = Month::of(day);
            assert_eq!((month.last(), month.season().to_string()), (last, season.to_owned()), "{day}");
        }
    }

    #[test]
    fn a_pick_reads_back_as_written_and_nonsense_is_refused() {
        for text in ["2026-01", "0999-12", "every-02"] {
            assert_eq!(text.parse::<Pick>().unwrap().to_string(), text);
        }
        for bad in ["", "2026", "2026-13", "every-0", "every-13", "x-01", "2026-01-02", "2026-"] {
            assert_eq!(bad.parse::<Pick>(), Err(NotAnId), "{bad}");
        }
        let leap_day = date(2024, 2, 29);
        assert!("every-02".parse::<Pick>().unwrap().holds(leap_day));
        assert!("2024-02".parse::<Pick>().unwrap().holds(leap_day));
        assert!(!"2023-02".parse::<Pick>().unwrap().holds(leap_day));
    }
}
