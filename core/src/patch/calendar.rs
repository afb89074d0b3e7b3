//! Seasons as the rows of a picture: those that nobody looked in stand in it too, because an empty row means "not looked".

use jiff::civil::Date;

use super::{Season, SeasonAtPatch};

/// One row of the picture.
#[derive(Debug, Clone, PartialEq)]
pub enum Row {
    /// A season in which somebody looked.
    Looked(SeasonAtPatch),
    /// A season, or several running, in which nobody did.
    NotLooked {
        /// The latest of them.
        latest: Season,
        /// The earliest of them: the same one where there is but one.
        earliest: Season,
    },
}

/// The rows of a history, the latest season first: from the season of today, or a later one on record, back to the first
/// in which somebody looked.
///
/// A run of seasons without a look is one row, however long it is: a wrong clock of long ago must not fill the page.
#[must_use]
pub fn rows(history: &[SeasonAtPatch], today: Date) -> Vec<Row> {
    let mut rows = Vec::new();
    let now = Season::of(today);
    let mut next = now;
    for season in history {
        if season.season < next {
            rows.push(Row::NotLooked { latest: next, earliest: season.season.after() });
        }
        rows.push(Row::Looked(season.clone()));
        next = season.season.before().min(next);
    }
    // Nothing on record, or only of days to come by a wrong clock: the season of today is not looked in yet.
    if next == now {
        rows.push(Row::NotLooked { latest: next, earliest: next });
    }
    rows
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use proptest::prelude::*;

    use super::*;
    use crate::patch::Amounts;

    fn looked(year: i16) -> SeasonAtPatch {
        let season = Season::of(date(year, 10, 1));
        SeasonAtPatch { season, looked: 1, nothing: 1, amounts: Amounts::default(), looks: Vec::new() }
    }

    fn drawn(years: &[i16], today: Date) -> String {
        let history: Vec<SeasonAtPatch> = years.iter().map(|year| looked(*year)).collect();
        let word = |row: &Row| match row {
            Row::Looked(season) => season.season.to_string(),
            Row::NotLooked { latest, earliest } if latest == earliest => format!("-{latest}"),
            Row::NotLooked { latest, earliest } => format!("-{latest} to {earliest}"),
        };
        rows(&history, today).iter().map(word).collect::<Vec<_>>().join(", ")
    }

    #[test]
    fn seasons_without_a_look_have_a_row_and_long_runs_of_them_one() {
        let winter = date(2027, 1, 1);
        for (years, expected) in [
            (&[][..], "-2026/27"),
            (&[2026], "2026/27"),
            (&[2025], "-2026/27, 2025/26"),
            (&[2026, 2024], "2026/27, -2025/26, 2024/25"),
            (&[2026, 1998], "2026/27, -2025/26 to 1999/00, 1998/99"),
            (&[2028], "2028/29, -2026/27"),
            (&[2028, 2025], "2028/29, -2026/27, 2025/26"),
        ] {
            assert_eq!(drawn(years, winter), expected);
        }
    }

    proptest! {
        #[test]
        fn no_season_on_record_is_left_out_and_none_stands_twice(
            mut years in prop::collection::btree_set(1900i16..2100, 0..8), today in 1900i16..2100,
        ) {
            let history: Vec<SeasonAtPatch> = years.iter().rev().map(|year| looked(*year)).collect();
            let mut last: Option<Season> = None;
            for row in rows(&history, date(today, 8, 1)) {
                let (latest, earliest) = match &row {
                    Row::Looked(season) => {
                        prop_assert!(years.remove(&season.season.first().year()));
                        (season.season, season.season)
                    }
                    Row::NotLooked { latest, earliest } => (*latest, *earliest),
                };
                prop_assert!(earliest <= latest && last.is_none_or(|last| latest < last));
                last = Some(earliest);
            }
            prop_assert!(years.is_empty());
        }
    }
}
