//! The picture of a PNG file: header, palette, pixels, end.
//!
//! # References
//! W3C *Portable Network Graphics (PNG) Specification (Third Edition)*, §5 and §11.

use std::io::{BufRead, Read, Write};

use flate2::read::ZlibDecoder;
use flate2::write::ZlibEncoder;
use flate2::{Compression, Crc};

use super::{Colours, StripError, bytes, exif, pass_over, piece};
use crate::photo::Orientation;

/// The longest chunk that is held: a palette has 768 bytes.
const MOST_HELD: u64 = 1 << 20;

/// Copies the picture.
pub(super) fn copy(
    source: &mut impl BufRead,
    out: &mut impl Write,
    orientation: Orientation,
) -> Result<Colours, StripError> {
    let signature = bytes::<8>(source)?;
    out.write_all(&signature).map_err(|error| StripError::writing(&error))?;
    // What must stand before the pixels is held until they come: the colours before the palette (§5.6).
    let mut held: Vec<([u8; 4], Vec<u8>)> = Vec::new();
    let mut colours = Colours::default();
    let mut drawn = false;
    loop {
        let length = u64::from(u32::from_be_bytes(bytes(source)?));
        let kind = bytes(source)?;
        match &kind {
            b"IDAT" => {
                if !drawn {
                    drawn = true;
                    begin(out, &held, orientation, colours)?;
                }
                pixels(source, out, length)?;
            }
            b"IEND" if drawn && length == 0 => {
                whole(source, kind, length)?;
                chunk(out, *b"IEND", &[])?;
                return Ok(colours);
            }
            b"IHDR" | b"PLTE" | b"tRNS" | b"sRGB" | b"gAMA" | b"cHRM" if !drawn && fits(kind, length) => {
                if (held.is_empty() != (kind == *b"IHDR")) || held.iter().any(|(known, _)| *known == kind) {
                    return Err(StripError::Damaged);
                }
                held.push((kind, whole(source, kind, length)?));
            }
            b"iCCP" if !drawn && length <= MOST_HELD => {
                colours = Colours::of(&inflated(&whole(source, kind, length)?));
            }
            // What nobody needs to draw the picture has a small first letter (§5.4); its checksum does not matter.
            [first, ..] if first.is_ascii_lowercase() => pass_over(source, length + 4)?,
            b"IHDR" | b"PLTE" | b"IEND" => return Err(StripError::Damaged),
            _ => return Err(StripError::Rare("a PNG with chunks of another standard")),
        }
    }
}

/// Whether a chunk may be as long as this (§11): nothing is hidden behind what it says.
fn fits(kind: [u8; 4], length: u64) -> bool {
    match &kind {
        b"IHDR" => length == 13,
        b"PLTE" => length <= 768 && length.is_multiple_of(3),
        b"tRNS" => length <= 256,
        b"sRGB" => length == 1,
        b"gAMA" => length == 4,
        b"cHRM" => length == 32,
        _ => false,
    }
}

/// Writes what stands before the pixels.
fn begin(
    out: &mut impl Write,
    held: &[([u8; 4], Vec<u8>)],
    orientation: Orientation,
    colours: Colours,
) -> Result<(), StripError> {
    let profile = colours.profile();
    let mut rest = held.iter();
    let (_, header) = rest.next().ok_or(StripError::Damaged)?;
    chunk(out, *b"IHDR", header)?;
    if let Some(profile) = &profile {
        let mut body = [colours.name().as_bytes(), &[0, 0]].concat();
        let mut packed = ZlibEncoder::new(&mut body, Compression::default());
        packed
            .write_all(profile)
            .and_then(|()| packed.try_finish())
            .map_err(|error| StripError::writing(&error))?;
        drop(packed);
        chunk(out, *b"iCCP", &body)?;
    }
    if let Some(exif) = exif(orientation) {
        chunk(out, *b"eXIf", &exif)?;
    }
    for (kind, body) in rest {
        if profile.is_none() || matches!(kind, b"PLTE" | b"tRNS") {
            chunk(out, *kind, body)?;
        }
    }
    Ok(())
}

/// Copies a chunk of pixels, of any length, and checks it on the way.
fn pixels(source: &mut impl BufRead, out: &mut impl Write, length: u64) -> Result<(), StripError> {
    let stated = u32::try_from(length).map_err(|_| StripError::Damaged)?;
    let mut sum = Crc::new();
    sum.update(b"IDAT");
    let begun = out.write_all(&stated.to_be_bytes()).and_then(|()| out.write_all(b"IDAT"));
    begun.map_err(|error| StripError::writing(&error))?;
    let mut left = length;
    while left > 0 {
        let held = source.fill_buf().map_err(|error| StripError::reading(&error))?;
        let take = usize::try_from(left).unwrap_or(usize::MAX).min(held.len());
        let Some(part) = held.get(..take).filter(|part| !part.is_empty()) else {
            return Err(StripError::Damaged);
        };
        sum.update(part);
        out.write_all(part).map_err(|error| StripError::writing(&error))?;
        source.consume(take);
        left -= take as u64;
    }
    if u32::from_be_bytes(bytes(source)?) != sum.sum() {
        return Err(StripError::Damaged);
    }
    out.write_all(&sum.sum().to_be_bytes()).map_err(|error| StripError::writing(&error))
}

/// The body of a chunk whose length and kind were read, if its checksum is right.
fn whole(source: &mut impl BufRead, kind: [u8; 4], length: u64) -> Result<Vec<u8>, StripError> {
    let body = piece(source, length)?;
    if u32::from_be_bytes(bytes(source)?) == sum(kind, &body) { Ok(body) } else { Err(StripError::Damaged) }
}

fn chunk(out: &mut impl Write, kind: [u8; 4], body: &[u8]) -> Result<(), StripError> {
    let length = u32::try_from(body.len()).map_err(|_| StripError::Damaged)?.to_be_bytes();
    let written = [&length[..], &kind, body, &sum(kind, body).to_be_bytes()].concat();
    out.write_all(&written).map_err(|error| StripError::writing(&error))
}

fn sum(kind: [u8; 4], body: &[u8]) -> u32 {
    let mut sum = Crc::new();
    sum.update(&kind);
    sum.update(body);
    sum.sum()
}

/// The profile in a chunk after its name and the way that it is packed; as much of it as can be read.
fn inflated(chunk: &[u8]) -> Vec<u8> {
    let mut profile = Vec::new();
    let name = chunk.iter().position(|byte| *byte == 0).unwrap_or(chunk.len());
    let packed = chunk.get(name + 2..).unwrap_or_default();
    // A profile that breaks off is none of the standard ones.
    let _ = ZlibDecoder::new(packed).take(MOST_HELD).read_to_end(&mut profile);
    profile
}
