//! An instant together with the offset of the clock that showed it.
//!
//! A find at five to midnight belongs to that day wherever its record is read later, so the offset is kept.

use std::fmt;
use std::str::FromStr;

use jiff::Timestamp;
use jiff::civil::{Date, Time};
use jiff::fmt::temporal::DateTimeParser;
use jiff::tz::{Offset, TimeZone};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// A text that is not a time with an offset.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("not a time with its offset: write it like 2026-10-18T14:05:09+01:00")]
pub struct NotAMoment;

/// An instant and the offset it was written with; ordered by the instant.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Moment {
    instant: Timestamp,
    offset: Offset,
}

impl Moment {
    /// The instant as a clock at this offset shows it.
    #[must_use]
    pub fn new(instant: Timestamp, offset: Offset) -> Self {
        Self { instant, offset }
    }

    /// The instant as a clock in this zone shows it.
    #[must_use]
    pub fn in_zone(instant: Timestamp, zone: &TimeZone) -> Self {
        Self::new(instant, zone.to_offset(instant))
    }

    /// The instant, offset aside.
    #[must_use]
    pub fn instant(self) -> Timestamp {
        self.instant
    }

    /// The offset of the clock that showed it.
    #[must_use]
    pub fn offset(self) -> Offset {
        self.offset
    }

    /// The day that clock showed.
    #[must_use]
    pub fn day(self) -> Date {
        self.offset.to_datetime(self.instant).date()
    }

    /// The time that clock showed.
    #[must_use]
    pub fn time(self) -> Time {
        self.offset.to_datetime(self.instant).time()
    }

    /// Milliseconds since 1970-01-01T00:00:00Z, rounded towards zero.
    #[must_use]
    pub fn millis(self) -> i64 {
        self.instant.as_millisecond()
    }
}

impl Ord for Moment {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.instant.cmp(&other.instant).then_with(|| self.offset.cmp(&other.offset))
    }
}

impl PartialOrd for Moment {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.instant.display_with_offset(self.offset).fmt(f)
    }
}

impl fmt::Debug for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for Moment {
    type Err = NotAMoment;

    /// Reads RFC 3339, offset and all; `Z` is an offset of nought.
    fn from_str(text: &str) -> Result<Self, NotAMoment> {
        static PARSER: DateTimeParser = DateTimeParser::new();
        let pieces = PARSER.parse_pieces(text).map_err(|_| NotAMoment)?;
        let offset = pieces.to_numeric_offset().ok_or(NotAMoment)?;
        let time = pieces.time().ok_or(NotAMoment)?;
        let instant = offset.to_timestamp(pieces.date().to_datetime(time)).map_err(|_| NotAMoment)?;
        Ok(Self { instant, offset })
    }
}

impl Serialize for Moment {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Moment {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
        text.parse().map_err(de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_offset_survives_a_round_trip() {
        for text in ["2026-10-18T14:05:09.25+01:00", "2026-10-25T01:30:00+00:00", "1999-12-31T23:59:59-09:30"]
        {
            assert_eq!(text.parse::<Moment>().unwrap().to_string(), text);
        }
        assert_eq!(
            "2026-01-02T03:04:05Z".parse::<Moment>().unwrap().to_string(),
            "2026-01-02T03:04:05+00:00"
        );
    }

    #[test]
    fn the_day_is_the_day_of_the_clock_that_showed_it() {
        let late: Moment = "2026-10-18T23:55:00+01:00".parse().unwrap();
        let same: Moment = "2026-10-19T00:25:00+01:30".parse().unwrap();
        assert_eq!(late.instant(), same.instant());
        assert_eq!(
            (late.day().to_string(), same.day().to_string()),
            ("2026-10-18".into(), "2026-10-19".into())
        );
    }

    #[test]
    fn a_time_without_offset_is_refused() {
        for text in ["2026-10-18T14:05:09", "2026-10-18", "", "yesterday", "2026-10-18T25:00:00Z"] {
            assert_eq!(text.parse::<Moment>(), Err(NotAMoment), "{text}");
        }
    }
}
