//! First and last days, year by year: what a diary of the seasons (phenology) is kept for.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::twelve::{FIRST, months_from};

/// When something was there, year by year.
#[derive(Debug, Clone, PartialEq)]
pub struct Runs {
    /// The month that its years begin with, 1 to 12.
    pub turns: i8,
    /// One for each year in which it was found, the latest first.
    pub years: Vec<Run>,
}

/// One year of something.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// The year: "2025/26"; "2025" where it begins with another month than a season and all of it lay in one year.
    pub name: String,
    /// The first day on which it was there.
    pub first: Date,
    /// The last.
    pub last: Date,
    /// The year is not over.
    pub is_on: bool,
    /// Where each day stands on a line of twelve equal months, from 0 to below 12, in order.
    pub days: Vec<f64>,
    /// Where the last day ends on it.
    pub end: f64,
}

/// First and last days, year by year, of the days on which something was there, in order.
///
/// A year is a season, July to June, unless that would part a run of it: then its years begin with the month after the longest gap in
/// which it was never found. Something that was found in every month has no gap, and keeps the season.
#[must_use]
pub fn runs(days: &[Date], today: Date) -> Runs {
    let turns = turn(&days.iter().map(|day| day.month()).collect());
    let year_of = |day: Date| if day.month() >= turns { day.year() } else { day.year().saturating_sub(1) };
    let mut years: Vec<Run> = Vec::new();
    for of_year in days.chunk_by(|one, other| year_of(*one) == year_of(*other)) {
        let (Some(first), Some(last)) = (of_year.first().copied(), of_year.last().copied()) else { continue };
        let year = year_of(first);
        let is_split = turns == FIRST || first.year() != last.year();
        let next = year.saturating_add(1).rem_euclid(100);
        years.push(Run {
            name: if is_split { format!("{year}/{next:02}") } else { first.year().to_string() },
            first,
            last,
            is_on: year == year_of(today),
            days: of_year.iter().map(|day| place(*day, turns)).collect(),
            end: place(last, turns) + 1.0 / f64::from(last.days_in_month()),
        });
    }
    years.reverse();
    Runs { turns, years }
}

/// The month that the years of something begin with, by the months in which it was ever found.
fn turn(found: &BTreeSet<i8>) -> i8 {
    if !(found.contains(&before(FIRST)) && found.contains(&FIRST)) {
        return FIRST;
    }
    let gap = |month: i8| {
        let back = std::iter::successors(Some(before(month)), |month| Some(before(*month)));
        back.take(11).take_while(|month| !found.contains(month)).count()
    };
    let longest = months_from(FIRST).filter(|month| found.contains(month)).map(|month| (gap(month), month));
    // Of gaps of one length the first that ends after midsummer.
    let longest = longest.reduce(|best, next| if next.0 > best.0 { next } else { best });
    longest.filter(|(gap, _)| *gap > 0).map_or(FIRST, |(_, month)| month)
}

fn before(month: i8) -> i8 {
    if month == 1 { 12 } else { month - 1 }
}

/// Where a day begins on a line of twelve equal months.
fn place(day: Date, turns: i8) -> f64 {
    let month = (day.month() - turns).rem_euclid(12);
    f64::from(month) + f64::from(day.day() - 1) / f64::from(day.days_in_month())
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use proptest::prelude::*;

    use super::*;

    fn told(days: &[Date], today: Date) -> (i8, Vec<String>) {
        let runs = runs(days, today);
        let line = |run: &Run| {
            format!("{}: {} to {}{}", run.name, run.first, run.last, if run.is_on { ", so far" } else { "" })
        };
        (runs.turns, runs.years.iter().map(line).collect())
    }

    /// Worked by hand: velvet shank over two winters.
    #[test]
    fn a_winter_is_one_run_across_new_year() {
        let days = [
            date(2024, 11, 20),
            date(2025, 1, 3),
            date(2025, 3, 2),
            date(2025, 10, 30),
            date(2025, 12, 31),
            date(2026, 1, 1),
        ];
        assert_eq!(
            told(&days, date(2026, 2, 1)),
            (
                7,
                vec![
                    "2025/26: 2025-10-30 to 2026-01-01, so far".into(),
                    "2024/25: 2024-11-20 to 2025-03-02".into()
                ]
            )
        );
    }

    /// Worked by hand: chicken of the woods, from May to September. Its gap is from October to April.
    #[test]
    fn a_summer_is_one_run_across_midsummer() {
        let days = [
            date(2024, 5, 20),
            date(2024, 6, 30),
            date(2024, 7, 1),
            date(2024, 9, 9),
            date(2025, 6, 2),
            date(2025, 8, 3),
        ];
        assert_eq!(
            told(&days, date(2026, 5, 1)),
            (5, vec!["2025: 2025-06-02 to 2025-08-03".into(), "2024: 2024-05-20 to 2024-09-09".into()])
        );
    }

    #[test]
    fn the_longest_gap_decides_and_without_one_the_season_stays() {
        let found = |months: &[i8]| turn(&months.iter().copied().collect());
        for (months, turns) in [
            (&[][..], 7),
            (&[7], 7),
            (&[6], 7),
            (&[4, 5, 6], 7),
            (&[10, 11, 12, 1, 2, 3], 7),
            (&[6, 7], 6),
            (&[5, 6, 7, 8, 9], 5),
            (&[3, 6, 7, 12], 12), // gaps: August to November (4), January to February, April to May
            (&[6, 7, 9, 11, 1, 3], 6), // April and May (2)
            (&[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12], 7),
            (&[1, 2, 3, 4, 5, 6, 7, 9, 10, 11, 12], 9), // August
        ] {
            assert_eq!(found(months), turns, "{months:?}");
        }
    }

    #[test]
    fn a_day_stands_where_it_falls_in_its_month_on_leap_days_too() {
        for (day, turns, at) in [
            (date(2026, 7, 1), 7, 0.0),
            (date(2026, 6, 16), 7, 11.5),
            (date(2024, 2, 29), 7, 7.0 + 28.0 / 29.0),
            (date(2025, 2, 15), 7, 7.5),
            (date(2026, 4, 30), 5, 11.0 + 29.0 / 30.0),
        ] {
            assert!((place(day, turns) - at).abs() < 1e-12, "{day}");
        }
    }

    proptest! {
        #[test]
        fn every_day_lies_in_one_run_and_within_the_line(
            mut days in prop::collection::vec((2000i16..2030, 1i8..=12, 1i8..=28).prop_map(|(y, m, d)| date(y, m, d)), 0..40),
        ) {
            days.sort_unstable();
            days.dedup();
            let runs = runs(&days, date(2026, 1, 1));
            prop_assert_eq!(runs.years.iter().map(|run| run.days.len()).sum::<usize>(), days.len());
            for run in &runs.years {
                prop_assert!(run.first <= run.last && run.end <= 12.0 + 1e-9);
                prop_assert!(run.days.windows(2).all(|two| two[0] < two[1]));
                prop_assert!(run.days.iter().all(|at| (0.0..run.end).contains(at)));
            }
            prop_assert!(runs.years.windows(2).all(|two| two[1].last < two[0].first));
        }
    }
}
