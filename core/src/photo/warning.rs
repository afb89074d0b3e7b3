//! What a person should know about a photograph that was taken in all the same.

use std::fmt;

use jiff::SignedDuration;
use jiff::tz::Offset;
use serde::{Deserialize, Serialize};

use super::Format;

/// A fact that a file's EXIF should give.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fact {
    /// When it was taken, by the camera's clock.
    Time,
    /// The camera clock's offset from UTC.
    Offset,
    /// When it was taken, by GPS.
    GpsTime,
    /// Where it was taken.
    Position,
    /// How exact that is.
    Accuracy,
    /// How high.
    Altitude,
    /// Which way the camera looked.
    Direction,
    /// Which way up it was held.
    Orientation,
}

impl fmt::Display for Fact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Time => "time",
            Self::Offset => "time zone",
            Self::GpsTime => "GPS time",
            Self::Position => "position",
            Self::Accuracy => "accuracy of the position",
            Self::Altitude => "altitude",
            Self::Direction => "direction",
            Self::Orientation => "orientation",
        })
    }
}

/// Why there is no thumbnail.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, thiserror::Error,
)]
#[serde(rename_all = "kebab-case")]
pub enum NoThumbnail {
    /// HEIC is stored, not drawn.
    #[error("HEIC pictures are kept but not drawn here")]
    Heic,
    /// More picture than a phone has memory for.
    #[error("it has too many pixels to draw")]
    TooManyPixels,
    /// Broken, cut short, or coded in a way that is not understood.
    #[error("it is damaged, cut short or of a rare kind")]
    Unreadable,
    /// Made to keep a reader busy.
    #[error("drawing it takes too long")]
    TooSlow,
    /// No room for it, or no right to write it.
    #[error("there is no room for it, or it cannot be written")]
    NotWritten,
}

/// Something odd about a photograph that is stored, whole and unaltered. Carries no place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum PhotoWarning {
    /// The name says one format, the bytes another; it is stored as what it is.
    Mislabelled {
        /// What its name says.
        named: Format,
        /// What it is.
        is: Format,
    },
    /// The photo is stored, but there is no small picture of it to show.
    NoThumbnail(NoThumbnail),
    /// The EXIF block, or part of it, cannot be read.
    ExifDamaged,
    /// A fact is there, but cannot be right; it is left out.
    Senseless(Fact),
    /// The time has no offset; it is read as the time of the zone given.
    ZoneAssumed(Offset),
    /// The time falls in the hour that the zone's clocks show twice, or skip.
    HourUnsure(Offset),
    /// The time has no offset, and GPS shows another than that of the zone given.
    OffsetFromGps(Offset),
    /// The camera's clock and GPS disagree; GPS is taken.
    ClockDisagrees {
        /// How far the camera's clock is ahead of GPS; negative when behind.
        ahead: SignedDuration,
    },
    /// The position was measured against another model of the Earth; it is left out.
    OtherDatum,
    /// The receiver had lost its fix: the position is an old one.
    StaleFix,
    /// The stored copy had gone bad; this good one took its place, and the bad one is kept aside.
    Mended,
}

impl PhotoWarning {
    /// A stable name for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Mislabelled { .. } => "photo-mislabelled",
            Self::NoThumbnail(_) => "photo-no-thumbnail",
            Self::ExifDamaged => "photo-exif-damaged",
            Self::Senseless(_) => "photo-senseless",
            Self::ZoneAssumed(_) => "photo-zone-assumed",
            Self::HourUnsure(_) => "photo-hour-unsure",
            Self::OffsetFromGps(_) => "photo-offset-from-gps",
            Self::ClockDisagrees { .. } => "photo-clock-disagrees",
            Self::OtherDatum => "photo-other-datum",
            Self::StaleFix => "photo-stale-fix",
            Self::Mended => "photo-mended",
        }
    }
}

impl fmt::Display for PhotoWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mislabelled { named, is } => {
                write!(f, "the photo is named as {named} but is {is}: stored as {is}")
            }
            Self::NoThumbnail(why) => write!(f, "the photo is stored, but has no thumbnail: {why}"),
            Self::ExifDamaged => f.write_str("the photo's EXIF is damaged: time and place may be missing"),
            Self::Senseless(fact) => write!(f, "the photo's {fact} makes no sense and is left out"),
            Self::ZoneAssumed(offset) => {
                write!(f, "the photo's time names no time zone: taken as UTC{}", hours(*offset))
            }
            Self::HourUnsure(offset) => {
                write!(
                    f,
                    "the clocks changed in that hour: the photo's time is taken as UTC{}",
                    hours(*offset)
                )
            }
            Self::OffsetFromGps(offset) => {
                write!(f, "by GPS, the camera's clock showed the time of UTC{}", hours(*offset))
            }
            Self::ClockDisagrees { ahead } => {
                let way = if ahead.is_negative() { "behind" } else { "ahead of" };
                write!(f, "the camera's clock is {} {way} GPS: GPS time is taken", gap(*ahead))
            }
            Self::OtherDatum => {
                f.write_str("the photo's position was measured on another model of the Earth and is left out")
            }
            Self::StaleFix => {
                f.write_str("the receiver had lost its fix: the photo's position may be an old one")
            }
            Self::Mended => f.write_str("the stored copy was damaged: replaced by this one and kept aside"),
        }
    }
}

/// An offset as people write it: `+01:00`.
fn hours(offset: Offset) -> String {
    let minutes = offset.seconds() / 60;
    let sign = if minutes < 0 { '-' } else { '+' };
    format!("{sign}{:02}:{:02}", minutes.abs() / 60, minutes.abs() % 60)
}

/// A span in its two largest units.
fn gap(span: SignedDuration) -> String {
    let seconds = span.unsigned_abs().as_secs();
    let (days, hours, minutes) = (seconds / 86_400, seconds / 3600 % 24, seconds / 60 % 60);
    match (days, hours) {
        (0, 0) => format!("{minutes} min {} s", seconds % 60),
        (0, _) => format!("{hours} h {minutes} min"),
        _ => format!("{days} d {hours} h"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_disagreement_is_told_in_words() {
        for (seconds, said) in [
            (3725, "the camera's clock is 1 h 2 min ahead of GPS: GPS time is taken"),
            (-150, "the camera's clock is 2 min 30 s behind GPS: GPS time is taken"),
            (-86_400 * 365, "the camera's clock is 365 d 0 h behind GPS: GPS time is taken"),
        ] {
            let warning = PhotoWarning::ClockDisagrees { ahead: SignedDuration::from_secs(seconds) };
            assert_eq!(warning.to_string(), said);
        }
        let west = Offset::from_seconds(-(9 * 3600 + 1800)).unwrap();
        assert!(PhotoWarning::ZoneAssumed(west).to_string().ends_with("UTC-09:30"));
    }
}
