//! A course laid over the twelve months of the year as fungi have it, July to June.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::{Came, Cell, Counted, Course, Key, Month, Pick, Row};
use crate::patch::Season;

/// The month that the year begins with: that of every [`Season`].
pub(super) const FIRST: i8 = 7;

/// From how many fruitbodies on a month is of the next level: roughly threefold each, so that one pasture does not flatten all else.
pub const LEVELS: [u32; 5] = [1, 3, 10, 30, 100];

/// One of the twelve months.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// Which.
    pub pick: Pick,
    /// What it came to; of several seasons what they came to together.
    pub cell: Cell,
    /// In how many seasons it was found in this month.
    pub found_in: u32,
    /// In how many it was looked for, or found.
    pub looked_in: u32,
    /// It has not come yet.
    pub is_ahead: bool,
}

/// The months of a year, 1 to 12, from the one it begins with.
pub(super) fn months_from(first: i8) -> impl Iterator<Item = i8> {
    (0..12).map(move |step| (first - 1 + step).rem_euclid(12) + 1)
}

/// The twelve months of one season, or of all of them laid over each other, from July to June.
#[must_use]
pub fn twelve(course: &Course, season: Option<Season>, today: Date) -> Vec<Laid> {
    let laid = |month: i8| {
        let pick = season.map_or(Pick::Every(month), |season| {
            let year = if month < FIRST { season.last().year() } else { season.first().year() };
            Pick::One(Month { year, month })
        });
        let held = course.months.iter().filter(|(month, _)| pick.holds(month.first()));
        let (mut cell, mut found_in, mut looked_in) = (Cell::default(), 0, 0);
        for (_, one) in held {
            cell += *one;
            found_in += u32::from(one.came() == Came::Found);
            looked_in += u32::from(one.came() != Came::NotLooked);
        }
        let is_ahead = matches!(pick, Pick::One(month) if month.first() > today && looked_in == 0);
        Laid { pick, cell, found_in, looked_in, is_ahead }
    };
    months_from(FIRST).map(laid).collect()
}

/// How tall a month stands: 0 for nothing, and up to 5 by how many fruitbodies were seen at least ([`LEVELS`]).
#[must_use]
pub fn level(cell: &Cell) -> u8 {
    let seen = if cell.came() == Came::Found { cell.amounts.seen.least.max(1) } else { 0 };
    LEVELS.iter().map(|from| u8::from(seen >= *from)).sum()
}

/// Every season in which something was found or somebody looked, and the one that is on; the latest first.
#[must_use]
pub fn seasons(counted: &Counted, today: Date) -> Vec<Season> {
    let rows = counted.places.iter().chain([&counted.all]);
    let seasons = rows.flat_map(|row| row.course.months.keys()).map(|month| month.season());
    let all: BTreeSet<Season> = seasons.chain([Season::of(today)]).collect();
    all.into_iter().rev().collect()
}

/// Fungi in the order in which the year brings them, so that the page reads as the year does: by the first month in which they were
/// found, then the last, then by name; those that were only looked for after them, and what has no name at the end. Places come by
/// name, and elsewhere at the end.
pub fn order(rows: &mut [Row], season: Option<Season>, name: impl Fn(&Key) -> String) {
    rows.sort_by_cached_key(|row| {
        let months = row.course.months.iter();
        let held = months.filter(|(month, _)| season.is_none_or(|season| month.season() == season));
        let found: BTreeSet<i8> = held
            .filter(|(_, cell)| cell.came() == Came::Found)
            .map(|(month, _)| (month.month - FIRST).rem_euclid(12))
            .collect();
        let is_fungus = matches!(row.key, Key::Fungus(_));
        let by_time = found.first().zip(found.last()).filter(|_| is_fungus);
        let is_last = matches!(row.key, Key::Unnamed | Key::Elsewhere);
        (
            is_last,
            is_fungus && by_time.is_none(),
            by_time.map(|(one, other)| (*one, *other)),
            name(&row.key).to_lowercase(),
        )
    });
}
