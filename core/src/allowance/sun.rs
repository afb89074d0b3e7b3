//! When the sun rises and sets.

use chrono::NaiveDate;
use jiff::Timestamp;
use jiff::civil::Date;
use sunrise::{Coordinates, SolarDay, SolarEvent};

use crate::place::Position;

/// The sun on one day at one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sun {
    /// It rises and sets.
    Rises {
        /// When its upper rim appears.
        rise: Timestamp,
        /// When its upper rim is gone.
        set: Timestamp,
    },
    /// It stays up all day.
    NeverSets,
    /// It stays down all day.
    NeverRises,
}

/// Seconds.
const DAY: i64 = 86_400;
/// Seconds a year by which the sun of the sunrise equation falls behind the sun of the date: it counts its longitude from the
/// equinox of 2000, which moves 50.29 arc seconds a year, and the sun takes 1,224 s for those.
const PRECESSION: i64 = 1_224;

/// The sun on a day of the local calendar, at height 0.
///
/// `None` for a day that no calendar has at that place; every real day has its answer.
///
/// # References
/// The sunrise equation, as the crate `sunrise` solves it for the sun that stands there at noon, brought to the sun of the hour:
/// within 15 s of NREL's method and 35 s of NOAA's at the latitudes of Britain.
#[must_use]
pub fn sun(at: Position, day: Date) -> Option<Sun> {
    let here = Coordinates::new(at.latitude(), at.longitude())?;
    let seconds = |day: Date, event: SolarEvent| {
        let month = u32::try_from(day.month()).ok()?;
        let date = NaiveDate::from_ymd_opt(day.year().into(), month, u32::try_from(day.day()).ok()?)?;
        Some(SolarDay::new(here, date).event_time(event)?.timestamp())
    };
    let (rise, set) = (seconds(day, SolarEvent::Sunrise), seconds(day, SolarEvent::Sunset));
    let (Some(rise), Some(set)) = (rise, set) else {
        // The equinoxes part the half of the year in which the north has its midnight sun from that of the south.
        let northern_summer = (80..266).contains(&day.day_of_year());
        return Some(if (at.latitude() > 0.0) == northern_summer { Sun::NeverSets } else { Sun::NeverRises });
    };
    // Half the day's length lies between noon and either of them; so much of the way to the next day's sun.
    let years = i64::from(day.year()) - 2000;
    let (from_noon, behind) = ((set - rise) / 2, years * PRECESSION);
    let brought = |event: SolarEvent, noon: i64, on: i64| {
        let other = if on < 0 { day.yesterday() } else { day.tomorrow() };
        let drift =
            other.ok().and_then(|other| seconds(other, event)).map_or(0, |other| (other - noon).abs() - DAY);
        Timestamp::from_second(noon + drift * on / DAY).ok()
    };
    Some(Sun::Rises {
        rise: brought(SolarEvent::Sunrise, rise, behind - from_noon)?,
        set: brought(SolarEvent::Sunset, set, behind + from_noon)?,
    })
}
