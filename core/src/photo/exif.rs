//! The EXIF block of a picture file, and its fields as plain numbers and text.
//!
//! Files lie: every field may be absent, of the wrong type, or nonsense. Absent is `Ok(None)`, nonsense is
//! [`Senseless`], and only what can be right comes out as a value.

use std::io::{BufRead, Seek};

use exif::{DateTime as ExifDateTime, Error as ExifError, Exif, In, Reader, Tag, Value};
use image::ImageDecoder;
use image::codecs::webp::WebPDecoder;
use jiff::civil::{Date, DateTime, Time, date};
use jiff::fmt::strtime;
use jiff::tz::Offset;
use jiff::{SignedDuration, Timestamp};

use super::PhotoWarning;

/// A field that is there but says nothing that could be right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Senseless;

/// A field's value, nothing, or nonsense.
pub(super) type Field<T> = Result<Option<T>, Senseless>;

/// A file's EXIF fields.
pub(super) struct Fields(Exif);

impl Fields {
    /// Reads the EXIF block as far as it can be read; `None` where there is none.
    pub(super) fn read(file: &mut (impl BufRead + Seek), warnings: &mut Vec<PhotoWarning>) -> Option<Self> {
        let mut damaged = false;
        let mut reader = Reader::new();
        reader.continue_on_error(true);
        let read = match reader.read_from_container(file) {
            Err(ExifError::InvalidFormat(why)) => match marked_block(file) {
                Some(block) => reader.read_raw(block),
                None => Err(ExifError::InvalidFormat(why)),
            },
            read => read,
        };
        let read = read.or_else(|error| error.distill_partial_result(|_| damaged = true));
        let (fields, damaged) = match read {
            Ok(exif) => (Some(Self(exif)), damaged),
            Err(ExifError::NotFound(_)) => (None, false),
            Err(_) => (None, true),
        };
        if damaged {
            warnings.push(PhotoWarning::ExifDamaged);
        }
        fields
    }

    fn value(&self, tag: Tag) -> Option<&Value> {
        self.0.get_field(tag, In::PRIMARY).map(|field| &field.value)
    }

    /// Text, without the blanks and noughts that cameras fill fields with; `None` when nothing is left.
    pub(super) fn text(&self, tag: Tag) -> Field<&[u8]> {
        match self.value(tag) {
            None => Ok(None),
            Some(Value::Ascii(parts)) => {
                let text = parts.first().map_or(&[][..], |text| text.trim_ascii_end());
                Ok((!text.is_empty()).then_some(text))
            }
            Some(_) => Err(Senseless),
        }
    }

    /// The first letter of a text, as the fields that end in `Ref` have it.
    pub(super) fn letter(&self, tag: Tag) -> Field<u8> {
        Ok(self.text(tag)?.and_then(|text| text.first()).map(u8::to_ascii_uppercase))
    }

    /// A whole number.
    pub(super) fn whole(&self, tag: Tag) -> Field<u32> {
        self.value(tag).map(|value| value.get_uint(0).ok_or(Senseless)).transpose()
    }

    /// `N` rational numbers, none negative and none a division by nought.
    pub(super) fn ratios<const N: usize>(&self, tag: Tag) -> Field<[f64; N]> {
        let ratios: Vec<f64> = match self.value(tag) {
            None => return Ok(None),
            Some(Value::Rational(ratios)) => ratios.iter().map(exif::Rational::to_f64).collect(),
            Some(Value::SRational(ratios)) => ratios.iter().map(exif::SRational::to_f64).collect(),
            Some(_) => return Err(Senseless),
        };
        let ratios: [f64; N] = ratios.try_into().map_err(|_| Senseless)?;
        let sound = ratios.iter().all(|ratio| ratio.is_finite() && *ratio >= 0.0);
        if sound { Ok(Some(ratios)) } else { Err(Senseless) }
    }

    /// One such number.
    pub(super) fn ratio(&self, tag: Tag) -> Field<f64> {
        Ok(self.ratios::<1>(tag)?.map(|[ratio]| ratio))
    }

    /// A latitude or longitude in degrees: positive towards the first of the two letters.
    pub(super) fn degrees(&self, tag: Tag, towards: Tag, letters: [u8; 2], most: f64) -> Field<f64> {
        let Some([degrees, minutes, seconds]) = self.ratios::<3>(tag)? else { return Ok(None) };
        let size = degrees + minutes / 60.0 + seconds / 3600.0;
        // Some writers round up to a whole sixty.
        if minutes > 60.0 || seconds > 60.0 || size > most {
            return Err(Senseless);
        }
        let [positive, negative] = letters;
        match self.letter(towards)? {
            Some(letter) if letter == positive => Ok(Some(size)),
            Some(letter) if letter == negative => Ok(Some(-size)),
            _ => Err(Senseless),
        }
    }

    /// A time on the camera's clock. A blank one means that the camera did not know.
    pub(super) fn local_time(&self, time: Tag, fraction: Tag) -> Field<DateTime> {
        let Some(text) = self.text(time)? else { return Ok(None) };
        let mut read = match ExifDateTime::from_ascii(text) {
            Ok(read) => read,
            Err(ExifError::BlankValue(_)) => return Ok(None),
            Err(_) if text.iter().all(|byte| b" :".contains(byte)) => return Ok(None),
            Err(_) => return Err(Senseless),
        };
        // A fraction that cannot be read costs the fraction, not the time.
        if let Ok(Some(text)) = self.text(fraction)
            && read.parse_subsec(text).is_err()
        {
            read.nanosecond = None;
        }
        let small = |number: u8| i8::try_from(number).map_err(|_| Senseless);
        let year = i16::try_from(read.year).map_err(|_| Senseless)?;
        // A year of nought is a clock that was never set.
        if year < 1900 {
            return Err(Senseless);
        }
        DateTime::new(
            year,
            small(read.month)?,
            small(read.day)?,
            small(read.hour)?,
            small(read.minute)?,
            // A leap second is the last of its minute.
            small(read.second.min(if read.second == 60 { 59 } else { u8::MAX }))?,
            read.nanosecond.and_then(|fraction| i32::try_from(fraction).ok()).unwrap_or(0),
        )
        .map(Some)
        .map_err(|_| Senseless)
    }

    /// An offset from UTC. Blanks mean that the camera did not know.
    pub(super) fn offset(&self, tag: Tag) -> Field<Offset> {
        let Some(text) = self.text(tag)? else { return Ok(None) };
        if text.iter().all(|byte| b" :".contains(byte)) {
            return Ok(None);
        }
        if text == b"Z" {
            return Ok(Some(Offset::UTC));
        }
        let offset =
            std::str::from_utf8(text).ok().and_then(|text| strtime::parse("%:z", text).ok()?.offset());
        // No place on Earth is further from UTC (IANA time zone database).
        offset
            .filter(|offset| (-12 * 3600..=14 * 3600).contains(&offset.seconds()))
            .map(Some)
            .ok_or(Senseless)
    }

    /// The instant by GPS, where both its date and its time of day are there.
    pub(super) fn gps_time(&self) -> Field<Timestamp> {
        let (Some(text), Some([hours, minutes, seconds])) =
            (self.text(Tag::GPSDateStamp)?, self.ratios::<3>(Tag::GPSTimeStamp)?)
        else {
            return Ok(None);
        };
        if hours > 23.0 || minutes > 59.0 || seconds > 61.0 {
            return Err(Senseless);
        }
        let text = std::str::from_utf8(text).map_err(|_| Senseless)?;
        // The standard's colons, and the hyphens and strokes of those who did not read it.
        let day = Date::strptime("%Y-%m-%d", text.replace([':', '/'], "-")).map_err(|_| Senseless)?;
        // GPS time began on 6 January 1980 (IS-GPS-200).
        if day < date(1980, 1, 6) {
            return Err(Senseless);
        }
        let since_midnight = SignedDuration::try_from_secs_f64(hours * 3600.0 + minutes * 60.0 + seconds)
            .map_err(|_| Senseless)?;
        let midnight = Offset::UTC.to_timestamp(day.to_datetime(Time::midnight()));
        midnight.and_then(|midnight| midnight.checked_add(since_midnight)).map(Some).map_err(|_| Senseless)
    }
}

/// The EXIF block of a WebP whose writer put a JPEG's marker before it, as libvips does against RFC 9649.
fn marked_block(file: &mut (impl BufRead + Seek)) -> Option<Vec<u8>> {
    file.rewind().ok()?;
    let chunk = WebPDecoder::new(file).ok()?.exif_metadata().ok()??;
    chunk.strip_prefix(b"Exif\0\0").map(<[u8]>::to_vec)
}
