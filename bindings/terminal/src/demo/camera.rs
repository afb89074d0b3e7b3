//! An invented camera: a drawn picture becomes a JPEG with real EXIF in it.

use std::io::{self, Cursor};

use exif::experimental::Writer;
use exif::{Field, In, Rational, SRational, Tag, Value};
use image::{DynamicImage, ImageFormat};
use jiff::civil::DateTime;

/// What the camera notes: when, by a clock at UTC, as Britain's are in winter, and where.
pub struct Shot {
    pub at: DateTime,
    pub latitude: f64,
    pub longitude: f64,
}

/// The picture as a file.
pub fn jpeg(picture: &DynamicImage, shot: &Shot) -> io::Result<Vec<u8>> {
    let mut plain = Cursor::new(Vec::new());
    picture.write_to(&mut plain, ImageFormat::Jpeg).map_err(io::Error::other)?;
    let block = exif_block(shot)?;
    let length = u16::try_from(block.len() + 8).map_err(io::Error::other)?;
    let plain = plain.into_inner();
    let (start, rest) = plain.split_at_checked(2).ok_or_else(|| io::Error::other("no JPEG"))?;
    Ok([start, &[0xff, 0xe1], &length.to_be_bytes(), b"Exif\0\0", &block, rest].concat())
}

fn exif_block(shot: &Shot) -> io::Result<Vec<u8>> {
    let text = |at: DateTime, format: &str| Value::Ascii(vec![at.strftime(format).to_string().into_bytes()]);
    let whole = |n: i8| Rational { num: u32::from(n.unsigned_abs()), denom: 1 };
    let clock = vec![whole(shot.at.hour()), whole(shot.at.minute()), whole(shot.at.second())];
    let letter = |text: &str| Value::Ascii(vec![text.as_bytes().to_vec()]);
    let fields = [
        (Tag::Orientation, Value::Short(vec![1])),
        (Tag::Make, letter("Invented")),
        (Tag::DateTimeOriginal, text(shot.at, "%Y:%m:%d %H:%M:%S")),
        (Tag::OffsetTimeOriginal, letter("+00:00")),
        (Tag::ExposureBiasValue, Value::SRational(vec![SRational { num: 0, denom: 1 }])),
        (Tag::GPSVersionID, Value::Byte(vec![2, 3, 0, 0])),
        (Tag::GPSLatitudeRef, letter(if shot.latitude < 0.0 { "S" } else { "N" })),
        (Tag::GPSLatitude, degrees(shot.latitude)),
        (Tag::GPSLongitudeRef, letter(if shot.longitude < 0.0 { "W" } else { "E" })),
        (Tag::GPSLongitude, degrees(shot.longitude)),
        (Tag::GPSTimeStamp, Value::Rational(clock)),
        (Tag::GPSDateStamp, text(shot.at, "%Y:%m:%d")),
        (Tag::GPSHPositioningError, Value::Rational(vec![Rational { num: 6, denom: 1 }])),
    ];
    let fields = fields.map(|(tag, value)| Field { tag, ifd_num: In::PRIMARY, value });
    let mut writer = Writer::new();
    for field in &fields {
        writer.push_field(field);
    }
    let mut block = Cursor::new(Vec::new());
    writer.write(&mut block, false).map_err(io::Error::other)?;
    Ok(block.into_inner())
}

/// Degrees, minutes and ten-thousandths of a second, as cameras write them.
fn degrees(angle: f64) -> Value {
    let angle = angle.abs();
    let minutes = angle.fract() * 60.0;
    let part = |value: f64, denom: u32| {
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "below 600,000 and not negative"
        )]
        let num = (value * f64::from(denom)).round() as u32;
        Rational { num, denom }
    };
    Value::Rational(vec![
        part(angle.trunc(), 1),
        part(minutes.trunc(), 1),
        part(minutes.fract() * 60.0, 10_000),
    ])
}
