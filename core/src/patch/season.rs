//! The year as fungi have it: from one summer to the next, so that New Year does not part a winter's gathering.

use std::fmt;

use jiff::civil::Date;
use serde::{Serialize, Serializer};

/// A season: 1 July to 30 June, named by both its years, "2026/27".
///
/// Something fruits in every month, so any cut parts something. This one stands between the last of the spring flush and
/// the first of the autumn's, and leaves velvet shank and elf cups, which fruit across New Year, whole (common practice,
/// no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Season(i16);

const FIRST_MONTH: i8 = 7;

impl Season {
    /// The season that a day lies in.
    #[must_use]
    pub fn of(day: Date) -> Self {
        Self(if day.month() >= FIRST_MONTH { day.year() } else { day.year().saturating_sub(1) })
    }

    /// Its first day.
    #[must_use]
    pub fn first(self) -> Date {
        Date::new(self.0, FIRST_MONTH, 1).unwrap_or(Date::MIN)
    }

    /// Its last day.
    #[must_use]
    pub fn last(self) -> Date {
        Date::new(self.0.saturating_add(1), FIRST_MONTH - 1, 30).unwrap_or(Date::MAX)
    }

    /// The season before this one.
    #[must_use]
    pub fn before(self) -> Self {
        Self(self.0.saturating_sub(1))
    }

    /// The season after this one.
    #[must_use]
    pub fn after(self) -> Self {
        Self(self.0.saturating_add(1))
    }

    /// How far through its season a day lies, in a picture that gives every month the same room: a twelfth a month, from 0 on
    /// 1 July up to, not including, 1.
    #[must_use]
    pub fn across(day: Date) -> f64 {
        let month = f64::from((day.month() - FIRST_MONTH).rem_euclid(12));
        (month + f64::from(day.day() - 1) / f64::from(day.days_in_month())) / 12.0
    }
}

impl fmt::Display for Season {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{}/{:02}", self.0, self.0.saturating_add(1).rem_euclid(100)))
    }
}

impl Serialize for Season {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn new_year_parts_nothing_and_midsummer_does() {
        for (day, season) in [
            (date(2026, 12, 31), "2026/27"),
            (date(2027, 1, 1), "2026/27"),
            (date(2027, 6, 30), "2026/27"),
            (date(2027, 7, 1), "2027/28"),
            (date(1999, 11, 5), "1999/00"),
            (date(2024, 2, 29), "2023/24"),
        ] {
            assert_eq!(Season::of(day).to_string(), season, "{day}");
        }
    }

    #[test]
    fn a_picture_of_a_season_runs_from_july_to_june_and_on_over_new_year() {
        for (day, months) in [
            (date(2026, 7, 1), 0.0),
            (date(2026, 12, 31), 5.0 + 30.0 / 31.0),
            (date(2027, 1, 1), 6.0),
            (date(2028, 2, 29), 7.0 + 28.0 / 29.0),
            (date(2027, 6, 30), 11.0 + 29.0 / 30.0),
        ] {
            assert!((Season::across(day) * 12.0 - months).abs() < 1e-9, "{day}");
        }
    }

    proptest! {
        #[test]
        fn a_later_day_of_a_season_lies_further_across(year in -9998i16..9998, month in 1i8..=12, day in 1i8..=28) {
            let day = date(year, month, day);
            let (here, next) = (Season::across(day), day.tomorrow().unwrap());
            prop_assert!((0.0..1.0).contains(&here));
            prop_assert!(Season::of(next) != Season::of(day) || Season::across(next) > here);
        }

        #[test]
        fn every_day_lies_in_its_season_and_seasons_follow_without_a_gap(
            year in -9998i16..9998, month in 1i8..=12, day in 1i8..=28,
        ) {
            let day = date(year, month, day);
            let season = Season::of(day);
            prop_assert!(season.first() <= day && day <= season.last());
            prop_assert_eq!(Season::of(season.last().tomorrow().unwrap()).first(), season.last().tomorrow().unwrap());
        }

        #[test]
        fn no_day_is_beyond_it(year in prop::sample::select(vec![-9999i16, 9999]), month in 1i8..=12) {
            let season = Season::of(date(year, month, 1));
            prop_assert!(season.first() <= season.last());
        }
    }
}
