//! The picture of a JPEG file: its tables, frames and scans, up to the end of the first picture.
//!
//! # References
//! ITU-T T.81 (ISO/IEC 10918-1) annex B; JFIF 1.02; ICC.1:2010 annex B.4 (profiles in segments); the Adobe segment from memory.

use std::io::{BufRead, Write};

use super::{Colours, StripError, bytes, exif, pass_over, piece};
use crate::photo::Orientation;

const ICC: &[u8] = b"ICC_PROFILE\0";

/// All tables of a picture fit in far less.
const MOST_TABLES: usize = 1 << 20;
/// A profile with curves alone is a few kilobytes; larger ones hold tables that make no standard space.
const MOST_PROFILE: usize = 1 << 20;

const JFIF: [u8; 14] = *b"JFIF\0\x01\x01\0\0\x01\0\x01\0\0";

/// What stands before the first scan.
#[derive(Default)]
struct Header {
    jfif: bool,
    adobe: Option<u8>,
    profile: Vec<u8>,
    tables: Vec<u8>,
}

/// Copies the picture.
pub(super) fn copy(
    source: &mut impl BufRead,
    out: &mut impl Write,
    orientation: Orientation,
) -> Result<Colours, StripError> {
    if bytes(source)? != [0xff, 0xd8] {
        return Err(StripError::Damaged);
    }
    let (header, mut scan) = header(source)?;
    let colours = Colours::of(&header.profile);
    header.write(out, orientation, colours).map_err(|error| StripError::writing(&error))?;
    loop {
        segment(out, 0xda, &scan)?;
        let mut marker = entropy(source, out)?;
        loop {
            match marker {
                0xd9 => {
                    out.write_all(&[0xff, 0xd9]).map_err(|error| StripError::writing(&error))?;
                    return Ok(colours);
                }
                0xda => break,
                _ => {
                    if let Some(table) = table(source, marker)? {
                        segment(out, marker, &table)?;
                    }
                }
            }
            marker = next_marker(source)?;
        }
        scan = body(source)?;
        vet(0xda, &scan)?;
    }
}

/// Everything up to the first scan, with that scan's parameters.
fn header(source: &mut impl BufRead) -> Result<(Header, Vec<u8>), StripError> {
    let mut header = Header::default();
    let mut framed = false;
    loop {
        let marker = next_marker(source)?;
        match marker {
            0xe0 => header.jfif |= body(source)?.starts_with(b"JFIF\0"),
            0xe2 => {
                let body = body(source)?;
                let profile = body.strip_prefix(ICC).and_then(|rest| rest.get(2..));
                // The parts of a profile stand in their order in all files that were ever seen (from memory).
                header.profile.extend(profile.unwrap_or_default());
                if header.profile.len() > MOST_PROFILE {
                    return Err(StripError::Rare("a very large colour profile"));
                }
            }
            0xee => {
                let body = body(source)?;
                if body.starts_with(b"Adobe") {
                    header.adobe = body.get(11).copied();
                }
            }
            0xda if framed => {
                let scan = body(source)?;
                vet(marker, &scan)?;
                return Ok((header, scan));
            }
            0xc0..=0xc2 if !framed => {
                framed = true;
                let frame = body(source)?;
                vet(marker, &frame)?;
                segment(&mut header.tables, marker, &frame)?;
            }
            _ => {
                if let Some(table) = table(source, marker)? {
                    segment(&mut header.tables, marker, &table)?;
                }
                if header.tables.len() > MOST_TABLES {
                    return Err(StripError::Rare("too many tables"));
                }
            }
        }
    }
}

impl Header {
    fn write(&self, out: &mut impl Write, orientation: Orientation, colours: Colours) -> std::io::Result<()> {
        let mut said = vec![0xff, 0xd8];
        let mut say = |marker: u8, parts: &[&[u8]]| {
            let body = parts.concat();
            said.extend([0xff, marker]);
            said.extend(u16::try_from(body.len() + 2).unwrap_or(u16::MAX).to_be_bytes());
            said.extend(body);
        };
        if self.jfif {
            say(0xe0, &[&JFIF]);
        }
        if let Some(exif) = exif(orientation) {
            say(0xe1, &[b"Exif\0\0", &exif]);
        }
        if let Some(profile) = colours.profile() {
            say(0xe2, &[ICC, &[1, 1], &profile]);
        }
        if let Some(transform) = self.adobe {
            say(0xee, &[b"Adobe", &[0, 100, 0, 0, 0, 0, transform]]);
        }
        out.write_all(&said)?;
        out.write_all(&self.tables)
    }
}

/// A table that the picture is drawn with, or nothing of a segment that it is not.
fn table(source: &mut impl BufRead, marker: u8) -> Result<Option<Vec<u8>>, StripError> {
    match marker {
        0xc4 | 0xdb | 0xdd => {
            let body = body(source)?;
            vet(marker, &body)?;
            Ok(Some(body))
        }
        // Applications' own, and comments.
        0xe0..=0xef | 0xfe => {
            let length = length(source)?;
            pass_over(source, length)?;
            Ok(None)
        }
        0xc0..=0xcf => Err(StripError::Rare("a JPEG that is neither baseline nor progressive")),
        _ => Err(StripError::Damaged),
    }
}

/// Whether a segment holds what its kind says, to the byte: nothing is hidden behind it.
fn vet(marker: u8, body: &[u8]) -> Result<(), StripError> {
    let counted = |at: usize, each: usize, more: usize| {
        body.get(at).is_some_and(|count| body.len() == more + each * usize::from(*count))
    };
    let sound = match marker {
        0xc0..=0xc2 => counted(5, 3, 6),
        0xda => counted(0, 2, 4),
        0xdd => body.len() == 2,
        0xdb => made_of(body, |table| Some(if table.first()? >> 4 == 0 { 65 } else { 129 })),
        0xc4 => made_of(body, |table| {
            Some(17 + table.get(1..17)?.iter().map(|count| usize::from(*count)).sum::<usize>())
        }),
        _ => false,
    };
    if sound { Ok(()) } else { Err(StripError::Damaged) }
}

/// Whether these bytes are whole tables, one after another.
fn made_of(mut body: &[u8], length: impl Fn(&[u8]) -> Option<usize>) -> bool {
    while !body.is_empty() {
        let Some(rest) = length(body).and_then(|length| body.get(length..)) else { return false };
        body = rest;
    }
    true
}

/// Copies coded pixels up to the next marker that is not a restart, and gives that.
fn entropy(source: &mut impl BufRead, out: &mut impl Write) -> Result<u8, StripError> {
    loop {
        let held = source.fill_buf().map_err(|error| StripError::reading(&error))?;
        let plain = held.iter().position(|byte| *byte == 0xff).unwrap_or(held.len());
        if held.is_empty() {
            return Err(StripError::Damaged);
        }
        let is_marked = plain < held.len();
        out.write_all(held.get(..plain).unwrap_or_default()).map_err(|error| StripError::writing(&error))?;
        source.consume(plain + usize::from(is_marked));
        if is_marked {
            match code(source)? {
                stuffed @ (0 | 0xd0..=0xd7) => {
                    out.write_all(&[0xff, stuffed]).map_err(|error| StripError::writing(&error))?;
                }
                other => return Ok(other),
            }
        }
    }
}

fn next_marker(source: &mut impl BufRead) -> Result<u8, StripError> {
    if bytes(source)? == [0xff] { code(source) } else { Err(StripError::Damaged) }
}

/// The code of a marker whose first byte was read; any number of further ones may fill (§B.1.1.2).
fn code(source: &mut impl BufRead) -> Result<u8, StripError> {
    loop {
        let [code] = bytes(source)?;
        if code != 0xff {
            return Ok(code);
        }
    }
}

fn length(source: &mut impl BufRead) -> Result<u64, StripError> {
    u64::from(u16::from_be_bytes(bytes(source)?)).checked_sub(2).ok_or(StripError::Damaged)
}

fn body(source: &mut impl BufRead) -> Result<Vec<u8>, StripError> {
    let length = length(source)?;
    piece(source, length)
}

fn segment(out: &mut impl Write, marker: u8, body: &[u8]) -> Result<(), StripError> {
    let length = u16::try_from(body.len() + 2).map_err(|_| StripError::Damaged)?.to_be_bytes();
    let written = out.write_all(&[0xff, marker]).and_then(|()| out.write_all(&length));
    written.and_then(|()| out.write_all(body)).map_err(|error| StripError::writing(&error))
}
