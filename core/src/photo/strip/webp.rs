//! The picture of a WebP file: one still picture, with its transparency.
//!
//! # References
//! RFC 9649, §2.

use std::io::{BufRead, Seek, SeekFrom, Write};

use super::{Colours, StripError, bytes, exif, piece};
use crate::photo::Orientation;

/// No still picture has more.
const MOST_CHUNKS: usize = 1_000;
const MOST_PROFILE: u64 = 1 << 20;

// The flags of an extended header (§2.7.1).
const HAS_PROFILE: u8 = 0x20;
const HAS_ALPHA: u8 = 0x10;
const HAS_EXIF: u8 = 0x08;
const MOVES: u8 = 0x02;

/// Where a chunk's body is.
struct Chunk {
    kind: [u8; 4],
    at: u64,
    length: u32,
}

/// What a file holds of a picture.
#[derive(Default)]
struct Found {
    /// The extended header's flags and size, if there is one.
    extended: Option<[u8; 10]>,
    profile: Vec<u8>,
    picture: Vec<Chunk>,
}

/// Copies the picture.
pub(super) fn copy(
    source: &mut (impl BufRead + Seek),
    out: &mut impl Write,
    orientation: Orientation,
) -> Result<Colours, StripError> {
    let found = find(source)?;
    let colours = Colours::of(&found.profile);
    let profile = colours.profile();
    let exif = exif(orientation);
    let mut before = Vec::new();
    if let Some(mut header) = header(source, &found, profile.is_some() || exif.is_some())? {
        let [flags, ..] = &mut header;
        *flags = (*flags & HAS_ALPHA)
            | if profile.is_some() { HAS_PROFILE } else { 0 }
            | if exif.is_some() { HAS_EXIF } else { 0 };
        chunk(&mut before, *b"VP8X", &header);
    }
    if let Some(profile) = profile {
        chunk(&mut before, *b"ICCP", &profile);
    }
    let mut after = Vec::new();
    if let Some(exif) = exif {
        chunk(&mut after, *b"EXIF", &exif);
    }
    let pictures: u64 = found.picture.iter().map(|part| 8 + padded(part.length)).sum();
    let whole = 4 + before.len() as u64 + pictures + after.len() as u64;
    let size = u32::try_from(whole).map_err(|_| StripError::Damaged)?.to_le_bytes();
    out.write_all(&[b"RIFF", &size[..], b"WEBP", &before].concat())
        .map_err(|error| StripError::writing(&error))?;
    for part in &found.picture {
        let head = [&part.kind[..], &part.length.to_le_bytes()].concat();
        out.write_all(&head).map_err(|error| StripError::writing(&error))?;
        source.seek(SeekFrom::Start(part.at)).map_err(|error| StripError::reading(&error))?;
        copy_body(source, out, part.length)?;
    }
    out.write_all(&after).map_err(|error| StripError::writing(&error))?;
    Ok(colours)
}

/// Looks a file through, up to where it says that it ends.
fn find(source: &mut (impl BufRead + Seek)) -> Result<Found, StripError> {
    let _riff: [u8; 4] = bytes(source)?;
    let end = 8 + u64::from(u32::from_le_bytes(bytes(source)?));
    let _webp: [u8; 4] = bytes(source)?;
    let mut found = Found::default();
    let mut at = 12;
    for _ in 0..MOST_CHUNKS {
        if at + 8 > end {
            let drawn = found.picture.iter().filter(|part| part.kind != *b"ALPH").count();
            return if drawn == 1 { Ok(found) } else { Err(StripError::Damaged) };
        }
        let kind = bytes(source)?;
        let length = u32::from_le_bytes(bytes(source)?);
        let next = at + 8 + padded(length);
        match &kind {
            b"VP8X" if length == 10 && at == 12 => {
                let header: [u8; 10] = bytes(source)?;
                if header.first().is_some_and(|flags| flags & MOVES != 0) {
                    return Err(StripError::Rare("a moving picture"));
                }
                found.extended = Some(header);
            }
            b"ICCP" if u64::from(length) <= MOST_PROFILE => found.profile = piece(source, length.into())?,
            b"VP8 " | b"VP8L" | b"ALPH" => found.picture.push(Chunk { kind, at: at + 8, length }),
            b"ANIM" | b"ANMF" => return Err(StripError::Rare("a moving picture")),
            b"VP8X" => return Err(StripError::Damaged),
            _ => {}
        }
        // The padding of the last chunk is often left out.
        if next > end + 1 {
            return Err(StripError::Damaged);
        }
        source.seek(SeekFrom::Start(next)).map_err(|error| StripError::reading(&error))?;
        at = next;
    }
    Err(StripError::Rare("too many chunks"))
}

/// The extended header, made where there was none and one is needed.
fn header(
    source: &mut (impl BufRead + Seek),
    found: &Found,
    needed: bool,
) -> Result<Option<[u8; 10]>, StripError> {
    if let Some(extended) = found.extended {
        let mut kept = extended;
        kept.iter_mut().skip(1).take(3).for_each(|reserved| *reserved = 0);
        return Ok(Some(kept));
    }
    if !needed {
        return Ok(None);
    }
    let part = found.picture.first().ok_or(StripError::Damaged)?;
    source.seek(SeekFrom::Start(part.at)).map_err(|error| StripError::reading(&error))?;
    let (width, height, alpha) = if part.kind == *b"VP8L" {
        // A signature, then 14 bits each of width and height less one, and whether alpha is used (§3.4).
        let [_signature] = bytes(source)?;
        let bits = u32::from_le_bytes(bytes(source)?);
        (bits & 0x3fff, (bits >> 14) & 0x3fff, bits >> 28 & 1 == 1)
    } else {
        // Three bytes of frame tag, three of start code, then 14 bits each of width and height (RFC 6386 §9.1).
        let _start: [u8; 6] = bytes(source)?;
        let mut side = || {
            (u32::from(u16::from_le_bytes(bytes(source)?)) & 0x3fff).checked_sub(1).ok_or(StripError::Damaged)
        };
        let (width, height) = (side()?, side()?);
        (width, height, false)
    };
    // Flags, three bytes in reserve, then 24 bits each of width and height less one.
    let sides = (u64::from(width) | u64::from(height) << 24).to_le_bytes();
    let mut header = [if alpha { HAS_ALPHA } else { 0 }, 0, 0, 0, 0, 0, 0, 0, 0, 0];
    header.iter_mut().skip(4).zip(sides).for_each(|(to, from)| *to = from);
    Ok(Some(header))
}

/// Copies a body with its padding, which is nought whatever it was.
fn copy_body(source: &mut impl BufRead, out: &mut impl Write, length: u32) -> Result<(), StripError> {
    let mut left = u64::from(length);
    while left > 0 {
        let held = source.fill_buf().map_err(|error| StripError::reading(&error))?;
        let take = usize::try_from(left).unwrap_or(usize::MAX).min(held.len());
        let Some(part) = held.get(..take).filter(|part| !part.is_empty()) else {
            return Err(StripError::Damaged);
        };
        out.write_all(part).map_err(|error| StripError::writing(&error))?;
        source.consume(take);
        left -= take as u64;
    }
    let padding: &[u8] = if length.is_multiple_of(2) { &[] } else { &[0] };
    out.write_all(padding).map_err(|error| StripError::writing(&error))
}

fn chunk(out: &mut Vec<u8>, kind: [u8; 4], body: &[u8]) {
    out.extend(kind);
    out.extend(u32::try_from(body.len()).unwrap_or(u32::MAX).to_le_bytes());
    out.extend(body);
    out.resize(out.len() + body.len() % 2, 0);
}

fn padded(length: u32) -> u64 {
    u64::from(length) + u64::from(length % 2)
}
