//! Which time a photograph was taken at, when the camera's clock and GPS may each know, and may disagree.
//!
//! Pure: what the file says goes in, a moment and what to warn of come out.

use jiff::civil::DateTime;
use jiff::tz::{Offset, TimeZone};
use jiff::{SignedDuration, Timestamp};

use super::PhotoWarning;
use crate::moment::Moment;

/// How far a camera's clock may be from GPS before it counts as wrong.
///
/// Phones write the time of the last fix, up to a minute or two before the picture (common practice, no source).
pub const TOLERANCE: SignedDuration = SignedDuration::from_mins(2);

/// After how long an old receiver's ten-bit week number begins again, and its date with it.
///
/// # References
/// IS-GPS-200, §20.3.3.3.1.1 (from memory): 1,024 weeks.
const ROLLOVER: SignedDuration = SignedDuration::from_hours(1024 * 7 * 24);

/// What a camera's clock showed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shown {
    /// The time on its face.
    pub local: DateTime,
    /// Its offset from UTC, where the camera wrote one.
    pub offset: Option<Offset>,
}

/// Settles on one moment. A zone is needed where the file gives none.
///
/// GPS beats a clock that differs from it by more than [`TOLERANCE`]; a clock that agrees is kept, because it
/// shows when the shutter opened and with what fraction of a second.
pub fn settle(
    shown: Option<Shown>,
    gps: Option<Timestamp>,
    zone: &TimeZone,
    warnings: &mut Vec<PhotoWarning>,
) -> Option<Moment> {
    let Some(shown) = shown else { return gps.map(|gps| Moment::in_zone(gps, zone)) };
    let (clock, doubt) = read(shown, zone);
    let Some(gps) = gps else {
        warnings.extend(doubt);
        return clock;
    };
    let Some(clock) = clock else { return Some(Moment::in_zone(gps, zone)) };

    let ahead = clock.instant().duration_since(gps);
    if ahead.abs() <= TOLERANCE {
        return Some(clock);
    }
    if is_rollover(ahead) {
        warnings.push(PhotoWarning::Senseless(super::Fact::GpsTime));
        warnings.extend(doubt);
        return Some(clock);
    }
    if shown.offset.is_none()
        && let Some(revealed) = offset_between(shown.local, gps)
        && let Ok(instant) = revealed.to_timestamp(shown.local)
    {
        // In the hour that comes twice, GPS tells which; that is no news.
        if zone.to_offset(instant) != revealed {
            warnings.push(PhotoWarning::OffsetFromGps(revealed));
        }
        return Some(Moment::new(instant, revealed));
    }
    warnings.push(PhotoWarning::ClockDisagrees { ahead });
    Some(match shown.offset {
        Some(offset) => Moment::new(gps, offset),
        None => Moment::in_zone(gps, zone),
    })
}

/// The moment that the clock alone gives, and what is doubtful about it.
fn read(shown: Shown, zone: &TimeZone) -> (Option<Moment>, Option<PhotoWarning>) {
    if let Some(offset) = shown.offset {
        let moment = offset.to_timestamp(shown.local).ok().map(|instant| Moment::new(instant, offset));
        return (moment, None);
    }
    let ambiguous = zone.to_ambiguous_timestamp(shown.local);
    let unsure = ambiguous.is_ambiguous();
    let Ok(instant) = ambiguous.compatible() else { return (None, None) };
    let moment = Moment::in_zone(instant, zone);
    let doubt = if unsure {
        PhotoWarning::HourUnsure(moment.offset())
    } else {
        PhotoWarning::ZoneAssumed(moment.offset())
    };
    (Some(moment), Some(doubt))
}

/// The offset that the clock must have been set to, if there is one that explains what it showed.
///
/// Offsets in use are whole quarters of an hour, from -12:00 to +14:00 (IANA time zone database).
fn offset_between(local: DateTime, gps: Timestamp) -> Option<Offset> {
    const QUARTER: i64 = 15 * 60;
    let shown = Offset::UTC.to_timestamp(local).ok()?.duration_since(gps).as_secs();
    let offset = (shown + QUARTER / 2).div_euclid(QUARTER) * QUARTER;
    let explained =
        (shown - offset).abs() <= TOLERANCE.as_secs() && (-12 * 3600..=14 * 3600).contains(&offset);
    explained.then(|| Offset::from_seconds(i32::try_from(offset).ok()?).ok()).flatten()
}

/// Whether GPS is behind by some whole number of its week counter's rounds, to the day.
fn is_rollover(ahead: SignedDuration) -> bool {
    let past = ahead.as_secs().rem_euclid(ROLLOVER.as_secs());
    let day = 86_400;
    ahead.as_secs() > ROLLOVER.as_secs() - day && (past <= day || past >= ROLLOVER.as_secs() - day)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn london() -> TimeZone {
        TimeZone::get("Europe/London").unwrap()
    }

    fn settled(local: &str, offset: Option<i8>, gps: Option<&str>) -> (Option<String>, Vec<&'static str>) {
        let shown = Shown { local: local.parse().unwrap(), offset: offset.map(jiff::tz::offset) };
        let mut warnings = Vec::new();
        let gps = gps.map(|gps| gps.parse().unwrap());
        let moment = settle(Some(shown), gps, &london(), &mut warnings);
        (moment.map(|m| m.to_string()), warnings.iter().map(PhotoWarning::code).collect())
    }

    #[test]
    fn which_time_wins() {
        for (local, offset, gps, moment, warned) in [
            // The clock's own offset is believed.
            ("2026-10-18T14:05:09.25", Some(1), None, "2026-10-18T14:05:09.25+01:00", ""),
            // Agreement keeps the clock and its fraction.
            (
                "2026-10-18T14:05:09.25",
                Some(1),
                Some("2026-10-18T13:05:00Z"),
                "2026-10-18T14:05:09.25+01:00",
                "",
            ),
            ("2026-10-18T14:05:09", Some(1), Some("2026-10-18T13:03:09Z"), "2026-10-18T14:05:09+01:00", ""),
            // Beyond the tolerance GPS wins.
            (
                "2026-10-18T14:05:10",
                Some(1),
                Some("2026-10-18T13:03:09Z"),
                "2026-10-18T14:03:09+01:00",
                "photo-clock-disagrees",
            ),
            (
                "2021-01-01T00:00:00",
                Some(0),
                Some("2026-10-18T13:05:09Z"),
                "2026-10-18T13:05:09+00:00",
                "photo-clock-disagrees",
            ),
            // No offset: that of the zone on that day.
            ("2026-07-01T12:00:00", None, None, "2026-07-01T12:00:00+01:00", "photo-zone-assumed"),
            ("2026-12-01T12:00:00", None, None, "2026-12-01T12:00:00+00:00", "photo-zone-assumed"),
            // British clocks go back at 02:00 on 25 October 2026 and forward at 01:00 on 29 March 2026.
            ("2026-10-25T01:30:00", None, None, "2026-10-25T01:30:00+01:00", "photo-hour-unsure"),
            ("2026-03-29T01:30:00", None, None, "2026-03-29T02:30:00+01:00", "photo-hour-unsure"),
            ("2026-10-25T01:30:00", None, Some("2026-10-25T01:30:05Z"), "2026-10-25T01:30:00+00:00", ""),
            // No offset, and GPS agrees with the zone, or reveals another.
            ("2026-10-18T14:05:09", None, Some("2026-10-18T13:05:20Z"), "2026-10-18T14:05:09+01:00", ""),
            (
                "2026-10-18T15:05:09",
                None,
                Some("2026-10-18T13:05:20Z"),
                "2026-10-18T15:05:09+02:00",
                "photo-offset-from-gps",
            ),
            (
                "2026-10-18T09:20:00",
                None,
                Some("2026-10-18T03:35:00Z"),
                "2026-10-18T09:20:00+05:45",
                "photo-offset-from-gps",
            ),
            (
                "2026-10-18T03:35:00",
                None,
                Some("2026-10-18T13:05:00Z"),
                "2026-10-18T03:35:00-09:30",
                "photo-offset-from-gps",
            ),
            // No offset explains it: the clock is wrong.
            (
                "2026-10-18T14:12:00",
                None,
                Some("2026-10-18T13:05:00Z"),
                "2026-10-18T14:05:00+01:00",
                "photo-clock-disagrees",
            ),
            // A receiver 1,024 weeks behind is not believed.
            (
                "2026-10-18T14:05:09",
                Some(1),
                Some("2007-03-04T13:05:09Z"),
                "2026-10-18T14:05:09+01:00",
                "photo-senseless",
            ),
        ] {
            let warned: Vec<_> = warned.split_terminator(' ').collect();
            assert_eq!(
                settled(local, offset, gps),
                (Some(moment.to_owned()), warned),
                "{local} {offset:?} {gps:?}"
            );
        }
    }

    #[test]
    fn gps_alone_is_shown_in_the_zone() {
        let moment = settle(None, Some("2026-07-01T12:00:00Z".parse().unwrap()), &london(), &mut Vec::new());
        assert_eq!(moment.unwrap().to_string(), "2026-07-01T13:00:00+01:00");
        assert_eq!(settle(None, None, &london(), &mut Vec::new()), None);
    }

    proptest! {
        /// Whatever the clock shows, what is settled on is never further from GPS than the tolerance,
        /// week-counter faults aside; and a word is said whenever the clock was not simply believed.
        #[test]
        fn gps_is_never_overruled(clock in 1_500_000_000_i64..1_900_000_000, apart in -90_000_000_i64..500_000_000, hours in proptest::option::of(-12_i8..=14)) {
            let gps = Timestamp::from_second(clock + apart).unwrap();
            let local = Offset::UTC.to_datetime(Timestamp::from_second(clock).unwrap());
            let shown = Shown { local, offset: hours.map(jiff::tz::offset) };
            let mut warnings = Vec::new();
            let moment = settle(Some(shown), Some(gps), &london(), &mut warnings).unwrap();
            prop_assert!(moment.instant().duration_since(gps).abs() <= TOLERANCE);
            if hours.is_some_and(|hours| (clock - i64::from(hours) * 3600 - gps.as_second()).abs() > 120) {
                prop_assert_eq!(warnings.len(), 1);
            }
        }
    }
}
