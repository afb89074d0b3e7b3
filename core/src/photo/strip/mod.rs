//! A copy of a photo that holds the picture and nothing else, for somebody else.
//!
//! Only what is on a list goes into the copy: what draws the picture, which way up it is, and in which of a few standard colour
//! spaces. All else stays behind: places, times, serial numbers, owners, makers' notes, XMP, IPTC, comments,
//! embedded thumbnails, second pictures, whatever stands after the picture's end. The picture's own coded bytes are copied as they
//! are, so its pixels are the same.

mod colours;
mod error;
mod jpeg;
mod png;
mod webp;

pub use colours::Colours;
pub use error::StripError;

use std::io::{BufRead, BufWriter, Read, Seek, Write};

use jiff::tz::TimeZone;

use super::{Format, HEAD, Orientation, PhotoFacts};

/// A photo of which only the picture was copied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stripped {
    /// What kind of picture it is, as before.
    pub format: Format,
    /// In which colours it is to be shown.
    pub colours: Colours,
}

/// Copies the picture and nothing else. Needs little memory, however large the photo is.
///
/// # Errors
/// [`StripError`]; what was written by then is no picture.
pub fn strip(source: &mut (impl BufRead + Seek), out: &mut impl Write) -> Result<Stripped, StripError> {
    let mut head = Vec::with_capacity(HEAD);
    source.by_ref().take(HEAD as u64).read_to_end(&mut head).map_err(|error| StripError::reading(&error))?;
    let format = Format::sniff(&head).ok_or(StripError::NotAPhoto)?;
    source.rewind().map_err(|error| StripError::reading(&error))?;
    let orientation = PhotoFacts::read_safely(source, &TimeZone::UTC, &mut Vec::new()).orientation;
    source.rewind().map_err(|error| StripError::reading(&error))?;
    let mut out = BufWriter::new(out);
    let colours = match format {
        Format::Jpeg => jpeg::copy(source, &mut out, orientation),
        Format::Png => png::copy(source, &mut out, orientation),
        Format::WebP => webp::copy(source, &mut out, orientation),
        Format::Heic => Err(StripError::Heic),
    }?;
    out.flush().map_err(|error| StripError::writing(&error))?;
    Ok(Stripped { format, colours })
}

/// An EXIF block that says which way up a picture is and nothing else; none for one that is upright.
///
/// # References
/// CIPA DC-008 *Exif 2.32* (2019), §4.5 and §4.6.4.
fn exif(orientation: Orientation) -> Option<[u8; 26]> {
    #[rustfmt::skip]
    let block = [
        b'M', b'M', 0, 42, 0, 0, 0, 8, // big-endian TIFF, whose first directory is at 8
        0, 1, // of one field
        0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation.number(), 0, 0, // the orientation, one short number
        0, 0, 0, 0, // and no further directory
    ];
    (orientation != Orientation::UPRIGHT).then_some(block)
}

/// Reads `N` bytes.
fn bytes<const N: usize>(source: &mut impl Read) -> Result<[u8; N], StripError> {
    let mut bytes = [0; N];
    source.read_exact(&mut bytes).map_err(|error| StripError::reading(&error))?;
    Ok(bytes)
}

/// Reads a piece of known length that is small enough to be held.
fn piece(source: &mut impl Read, length: u64) -> Result<Vec<u8>, StripError> {
    let mut piece = Vec::new();
    let read = source.take(length).read_to_end(&mut piece).map_err(|error| StripError::reading(&error))?;
    if read as u64 == length { Ok(piece) } else { Err(StripError::Damaged) }
}

/// Passes over a piece of known length.
fn pass_over(source: &mut impl BufRead, length: u64) -> Result<(), StripError> {
    let passed = std::io::copy(&mut source.take(length), &mut std::io::sink())
        .map_err(|error| StripError::reading(&error))?;
    if passed == length { Ok(()) } else { Err(StripError::Damaged) }
}
