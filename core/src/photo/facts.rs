//! What a photograph says about itself: when, where, which way, which way up.
//!
//! # References
//! CIPA DC-008 *Exif 2.32* (2019), §4.6.5 and §4.6.6 (tags and their meanings).

use std::io::{BufRead, Seek};
use std::panic::{AssertUnwindSafe, catch_unwind};

use exif::Tag;
use jiff::tz::TimeZone;
use serde::{Deserialize, Serialize};

use super::clock::{self, Shown};
use super::exif::{Field, Fields, Senseless};
use super::{Fact, PhotoWarning};
use crate::moment::Moment;
use crate::place::Position;
use crate::units::Metres;

/// Which north a direction is counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum North {
    /// The pole.
    True,
    /// The compass.
    Magnetic,
}

/// Which way the camera looked.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Direction {
    /// Degrees clockwise from north, from 0 up to 360.
    pub degrees: f64,
    /// Which north.
    pub north: North,
}

/// How a stored picture must be turned to be upright: EXIF's 1 to 8.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "u32", into = "u32")]
pub struct Orientation(u8);

impl Orientation {
    /// As it is stored.
    pub const UPRIGHT: Self = Self(1);

    /// EXIF's number, from 1 to 8.
    #[must_use]
    pub fn number(self) -> u8 {
        self.0
    }

    /// Whether the upright picture is as wide as the stored one is high.
    #[must_use]
    pub fn swaps_sides(self) -> bool {
        self.0 >= 5
    }
}

impl Default for Orientation {
    fn default() -> Self {
        Self::UPRIGHT
    }
}

impl TryFrom<u32> for Orientation {
    type Error = &'static str;

    fn try_from(number: u32) -> Result<Self, &'static str> {
        match u8::try_from(number) {
            Ok(number @ 1..=8) => Ok(Self(number)),
            _ => Err("an orientation is a number from 1 to 8"),
        }
    }
}

impl From<Orientation> for u32 {
    fn from(orientation: Orientation) -> u32 {
        orientation.0.into()
    }
}

/// What a photograph says about itself. Nothing here is guessed: what cannot be right is left out.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct PhotoFacts {
    /// When it was taken.
    pub taken: Option<Moment>,
    /// Where it was taken, with the accuracy that the receiver gave.
    pub position: Option<Position>,
    /// Metres above the sea; negative below it.
    pub altitude_m: Option<f64>,
    /// Which way the camera looked.
    pub direction: Option<Direction>,
    /// How the stored picture must be turned.
    pub orientation: Orientation,
    /// Pixels across, as stored.
    pub width: Option<u32>,
    /// Pixels down, as stored.
    pub height: Option<u32>,
}

impl PhotoFacts {
    /// Reads as [`PhotoFacts::read`] does, and never panics, whatever the bytes.
    pub fn read_safely(
        file: &mut (impl BufRead + Seek),
        zone: &TimeZone,
        warnings: &mut Vec<PhotoWarning>,
    ) -> Self {
        let read = catch_unwind(AssertUnwindSafe(|| {
            let mut found = Vec::new();
            (Self::read(file, zone, &mut found), found)
        }));
        let (facts, found) = read.unwrap_or_else(|_| (Self::default(), vec![PhotoWarning::ExifDamaged]));
        warnings.extend(found);
        facts
    }

    /// Reads what a picture file says. A time without an offset is read as the zone's.
    ///
    /// Width and height are the EXIF's word, which editors often leave wrong: the picture's own is better.
    pub fn read(file: &mut (impl BufRead + Seek), zone: &TimeZone, warnings: &mut Vec<PhotoWarning>) -> Self {
        let Some(fields) = Fields::read(file, warnings) else { return Self::default() };
        let mut keep = Sieve(warnings);
        let stale = keep.sound(Fact::Position, fields.letter(Tag::GPSStatus)) == Some(b'V');
        let position = keep.position(&fields, stale);
        let gps = keep.sound(Fact::GpsTime, fields.gps_time()).filter(|_| !stale);
        let shown = keep.shown(&fields);
        Self {
            taken: clock::settle(shown, gps, zone, keep.0),
            position,
            altitude_m: keep.sound(Fact::Altitude, altitude(&fields)),
            direction: keep.sound(Fact::Direction, direction(&fields)),
            orientation: keep.sound(Fact::Orientation, orientation(&fields)).unwrap_or_default(),
            width: fields.whole(Tag::PixelXDimension).ok().flatten(),
            height: fields.whole(Tag::PixelYDimension).ok().flatten(),
        }
    }
}

/// Lets sense through and turns nonsense into warnings.
struct Sieve<'w>(&'w mut Vec<PhotoWarning>);

impl Sieve<'_> {
    fn sound<T>(&mut self, fact: Fact, field: Field<T>) -> Option<T> {
        field.unwrap_or_else(|Senseless| {
            self.0.push(PhotoWarning::Senseless(fact));
            None
        })
    }

    fn position(&mut self, fields: &Fields, stale: bool) -> Option<Position> {
        let position = self.sound(Fact::Position, coordinates(fields))?;
        if !is_wgs84(fields) {
            self.0.push(PhotoWarning::OtherDatum);
            return None;
        }
        if stale {
            self.0.push(PhotoWarning::StaleFix);
        }
        let accuracy = self.sound(Fact::Accuracy, accuracy(fields));
        Some(accuracy.map_or(position, |accuracy| position.within(accuracy)))
    }

    /// The camera's clock: of the three times that EXIF knows, the first that is there.
    fn shown(&mut self, fields: &Fields) -> Option<Shown> {
        const CLOCKS: [[Tag; 3]; 3] = [
            [Tag::DateTimeOriginal, Tag::SubSecTimeOriginal, Tag::OffsetTimeOriginal],
            [Tag::DateTimeDigitized, Tag::SubSecTimeDigitized, Tag::OffsetTimeDigitized],
            [Tag::DateTime, Tag::SubSecTime, Tag::OffsetTime],
        ];
        CLOCKS.into_iter().find_map(|[time, fraction, offset]| {
            let local = self.sound(Fact::Time, fields.local_time(time, fraction))?;
            let offset = self.sound(Fact::Offset, fields.offset(offset));
            Some(Shown { local, offset })
        })
    }
}

/// Both coordinates or neither. Nought by nought is what receivers write that have no fix.
fn coordinates(fields: &Fields) -> Field<Position> {
    let latitude = fields.degrees(Tag::GPSLatitude, Tag::GPSLatitudeRef, *b"NS", 90.0)?;
    let longitude = fields.degrees(Tag::GPSLongitude, Tag::GPSLongitudeRef, *b"EW", 180.0)?;
    match (latitude, longitude) {
        (None, None) => Ok(None),
        (Some(latitude), Some(longitude)) if latitude != 0.0 || longitude != 0.0 => {
            Position::new(latitude, longitude).map(Some).map_err(|_| Senseless)
        }
        _ => Err(Senseless),
    }
}

/// Whether the position is on WGS84: said so in any spelling, or nothing said, as most phones do.
fn is_wgs84(fields: &Fields) -> bool {
    let Ok(datum) = fields.text(Tag::GPSMapDatum) else { return false };
    let letters = |text: &[u8]| -> Vec<u8> {
        text.iter().filter(|byte| byte.is_ascii_alphanumeric()).map(u8::to_ascii_uppercase).collect()
    };
    datum.map(letters).is_none_or(|name| name.is_empty() || name.starts_with(b"WGS84"))
}

fn accuracy(fields: &Fields) -> Field<Metres> {
    match fields.ratio(Tag::GPSHPositioningError)? {
        None => Ok(None),
        // No receiver is right to the last atom: nought means that it did not know.
        Some(0.0) => Err(Senseless),
        Some(metres) => Metres::new(metres).map(Some).map_err(|_| Senseless),
    }
}

/// Height above the sea: the reference is even above it and odd below. (Exif 3.0 added 2 and 3, and has 0 and 1 mean
/// the ellipsoid; nearly all writers still mean the sea by them.)
fn altitude(fields: &Fields) -> Field<f64> {
    let Some(metres) = fields.ratio(Tag::GPSAltitude)? else { return Ok(None) };
    let metres = match fields.whole(Tag::GPSAltitudeRef)? {
        None | Some(0 | 2) => metres,
        Some(1 | 3) => -metres,
        Some(_) => return Err(Senseless),
    };
    // From the shore of the Dead Sea to an airliner's ceiling, with room to spare.
    if (-500.0..=15_000.0).contains(&metres) { Ok(Some(metres)) } else { Err(Senseless) }
}

fn direction(fields: &Fields) -> Field<Direction> {
    let Some(degrees) = fields.ratio(Tag::GPSImgDirection)? else { return Ok(None) };
    let north = match fields.letter(Tag::GPSImgDirectionRef)? {
        Some(b'T') => North::True,
        Some(b'M') => North::Magnetic,
        _ => return Err(Senseless),
    };
    if degrees <= 360.0 { Ok(Some(Direction { degrees: degrees % 360.0, north })) } else { Err(Senseless) }
}

fn orientation(fields: &Fields) -> Field<Orientation> {
    fields.whole(Tag::Orientation)?.map(|number| number.try_into().map_err(|_| Senseless)).transpose()
}
