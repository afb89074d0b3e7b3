//! How much light is left.

use super::sun::{Sun, sun};
use crate::moment::Moment;
use crate::place::Position;

/// The light of a day at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Light {
    /// The sun on that day.
    pub sun: Sun,
    /// Whole minutes until it sets, below 0 once it has; `None` where it does not rise and set.
    pub minutes_left: Option<i64>,
}

/// The light that is left on the day of a moment, by the clock that was carried.
///
/// `None` for a day that no calendar has at that place; see [`sun`].
#[must_use]
pub fn light(at: Position, now: Moment) -> Option<Light> {
    let sun = sun(at, now.day())?;
    let minutes_left = match sun {
        Sun::Rises { set, .. } => Some((set.as_second() - now.instant().as_second()).div_euclid(60)),
        Sun::NeverSets | Sun::NeverRises => None,
    };
    Some(Light { sun, minutes_left })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn minutes(latitude: f64, longitude: f64, now: &str) -> Option<i64> {
        light(Position::new(latitude, longitude).unwrap(), now.parse().unwrap()).unwrap().minutes_left
    }

    /// Greenwich, 21 June 2024: sunset 21:22 BST (from memory; to the minute or two).
    #[test]
    fn an_hour_before_sunset_an_hour_is_left() {
        let left = minutes(51.48, 0.0, "2024-06-21T20:22:00+01:00").unwrap();
        assert!((58..=62).contains(&left), "{left}");
        let dark = minutes(51.48, 0.0, "2024-06-21T23:00:00+01:00").unwrap();
        assert!((-102..=-95).contains(&dark), "{dark}");
    }

    #[test]
    fn where_the_sun_stays_up_there_is_no_end_to_count_to() {
        assert_eq!(minutes(75.0, 20.0, "2024-06-21T20:22:00+02:00"), None);
    }
}
