//! A ZIP writer that writes whatever it is told, right or wrong: for hostile files.

use std::io::Write;

use flate2::Compression;
use flate2::write::DeflateEncoder;

/// An entry, with everything about it that a header can lie about.
#[derive(Debug, Clone)]
pub struct Entry {
    /// Its name, in any bytes.
    pub name: Vec<u8>,
    /// What it unpacks to.
    pub content: Vec<u8>,
    /// Whether it is deflated.
    pub deflated: bool,
    /// The method that the headers name, if not the true one.
    pub method: Option<u16>,
    /// General purpose flags: 1 is "encrypted", 0x800 "the name is UTF-8".
    pub flags: u16,
    /// The file's mode as Unix has it.
    pub mode: u32,
    /// The checksum that the headers give, if not the true one.
    pub crc: Option<u32>,
    /// The length that the headers give, if not the true one.
    pub length: Option<u32>,
    /// The length of the packed bytes that the headers give, if not the true one.
    pub packed: Option<u32>,
    /// Where the directory says that it begins, if not where it does.
    pub offset: Option<u32>,
    /// Extra field of the directory's entry.
    pub extra: Vec<u8>,
}

impl Entry {
    /// An honest one.
    #[must_use]
    pub fn new(name: &str, content: impl Into<Vec<u8>>) -> Self {
        Self {
            name: name.into(),
            content: content.into(),
            deflated: false,
            method: None,
            flags: 0,
            mode: 0o100_644,
            crc: None,
            length: None,
            packed: None,
            offset: None,
            extra: Vec::new(),
        }
    }
}

/// The bytes of an archive of these entries.
#[must_use]
pub fn zip(entries: &[Entry]) -> Vec<u8> {
    let (mut out, mut directory) = (Vec::new(), Vec::new());
    for entry in entries {
        let begins = u32::try_from(out.len()).unwrap();
        let packed = if entry.deflated { deflate(&entry.content) } else { entry.content.clone() };
        let method = entry.method.unwrap_or(if entry.deflated { 8 } else { 0 });
        let crc = entry.crc.unwrap_or_else(|| crc32(&entry.content));
        let short = |n: usize| u16::try_from(n).unwrap().to_le_bytes();
        let mut common = Vec::new();
        common.extend([20, 0]); // version needed
        common.extend(entry.flags.to_le_bytes());
        common.extend(method.to_le_bytes());
        common.extend([0, 0, 0x21, 0]); // 1980-01-01 00:00
        common.extend(crc.to_le_bytes());
        common.extend(entry.packed.unwrap_or_else(|| u32::try_from(packed.len()).unwrap()).to_le_bytes());
        common.extend(
            entry.length.unwrap_or_else(|| u32::try_from(entry.content.len()).unwrap()).to_le_bytes(),
        );
        common.extend(short(entry.name.len()));
        out.extend(b"PK\x03\x04");
        out.extend(&common);
        out.extend([0, 0]); // no extra field
        out.extend(&entry.name);
        out.extend(&packed);
        directory.extend(b"PK\x01\x02");
        directory.extend([20, 3]); // made by version 2.0, on Unix
        directory.extend(&common);
        directory.extend(short(entry.extra.len()));
        directory.extend([0; 6]); // no comment, first disk, binary
        directory.extend((entry.mode << 16).to_le_bytes());
        directory.extend(entry.offset.unwrap_or(begins).to_le_bytes());
        directory.extend(&entry.name);
        directory.extend(&entry.extra);
    }
    let at = u32::try_from(out.len()).unwrap();
    let count = u16::try_from(entries.len()).unwrap().to_le_bytes();
    out.extend(&directory);
    out.extend(b"PK\x05\x06\0\0\0\0");
    out.extend(count);
    out.extend(count);
    out.extend(u32::try_from(directory.len()).unwrap().to_le_bytes());
    out.extend(at.to_le_bytes());
    out.extend([0, 0]);
    out
}

fn deflate(bytes: &[u8]) -> Vec<u8> {
    let mut encoder = DeflateEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes).unwrap();
    encoder.finish().unwrap()
}

fn crc32(bytes: &[u8]) -> u32 {
    let mut crc = flate2::Crc::new();
    crc.update(bytes);
    crc.sum()
}
