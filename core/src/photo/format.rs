//! What kind of picture a file is, told from its first bytes and never from its name.

use std::fmt;

use serde::{Deserialize, Serialize};

/// How many of a file's first bytes [`Format::sniff`] wants to see.
pub const HEAD: usize = 4096;

/// A kind of picture that is taken in, and stored as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Format {
    /// JPEG (ISO/IEC 10918-1).
    Jpeg,
    /// HEIF holding HEVC (ISO/IEC 23008-12), as some phones write.
    Heic,
    /// PNG (ISO/IEC 15948).
    Png,
    /// WebP (RFC 9649).
    WebP,
}

impl Format {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Jpeg, Self::Heic, Self::Png, Self::WebP];

    /// Tells the format from a file's first bytes, [`HEAD`] of them where there are so many.
    #[must_use]
    pub fn sniff(head: &[u8]) -> Option<Self> {
        if head.starts_with(b"\xff\xd8\xff") {
            Some(Self::Jpeg)
        } else if head.starts_with(b"\x89PNG\r\n\x1a\n") {
            Some(Self::Png)
        } else if head.starts_with(b"RIFF") && head.get(8..12) == Some(b"WEBP") {
            Some(Self::WebP)
        } else {
            is_heic(head).then_some(Self::Heic)
        }
    }

    /// The file name extension that it is stored with.
    #[must_use]
    pub fn extension(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Heic => "heic",
            Self::Png => "png",
            Self::WebP => "webp",
        }
    }

    /// What a file with this extension claims to be, in any case.
    #[must_use]
    pub fn from_extension(extension: &str) -> Option<Self> {
        match extension.to_ascii_lowercase().as_str() {
            "jpg" | "jpeg" | "jpe" | "jfif" => Some(Self::Jpeg),
            "heic" | "heif" | "hif" => Some(Self::Heic),
            "png" => Some(Self::Png),
            "webp" => Some(Self::WebP),
            _ => None,
        }
    }
}

impl fmt::Display for Format {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Jpeg => "JPEG",
            Self::Heic => "HEIC",
            Self::Png => "PNG",
            Self::WebP => "WebP",
        })
    }
}

/// Whether the file opens with an ISO base media `ftyp` box that names HEVC pictures.
///
/// The generic brands `mif1` and `msf1` are enough unless others say that the pictures are coded as AV1, AVC
/// or JPEG.
///
/// # References
/// ISO/IEC 14496-12 §4.3 (`ftyp`); ISO/IEC 23008-12 annexes B to E (brands). Brands written from memory.
fn is_heic(head: &[u8]) -> bool {
    let (Some(size), Some(b"ftyp")) = (head.first_chunk::<4>(), head.get(4..8)) else { return false };
    let size = usize::try_from(u32::from_be_bytes(*size)).unwrap_or(usize::MAX);
    let Some(body) = head.get(8..size.min(head.len())) else { return false };
    let brands = || {
        let (major, rest) = body.split_at(body.len().min(4));
        std::iter::once(major).chain(rest.get(4..).unwrap_or_default().chunks_exact(4))
    };
    let any = |wanted: &[&[u8; 4]]| brands().any(|brand| wanted.iter().any(|w| w.as_slice() == brand));
    any(&[b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs"])
        || any(&[b"mif1", b"msf1"]) && !any(&[b"avif", b"avis", b"avci", b"avcs", b"jpeg", b"jpgs"])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ftyp(major: &str, compatible: &[&str]) -> Vec<u8> {
        let brands = [&[major, "\0\0\0\0"], compatible].concat().concat();
        let size = u32::try_from(8 + brands.len()).unwrap();
        [&size.to_be_bytes()[..], b"ftyp", brands.as_bytes(), b"\0\0\0\x10metaheic"].concat()
    }

    #[test]
    fn first_bytes_tell_the_format() {
        for (head, format) in [
            (b"\xff\xd8\xff\xe1\0\0Exif".to_vec(), Some(Format::Jpeg)),
            (b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec(), Some(Format::Png)),
            (b"RIFF\x10\0\0\0WEBPVP8 ".to_vec(), Some(Format::WebP)),
            (ftyp("heic", &["mif1", "heic"]), Some(Format::Heic)),
            (ftyp("mif1", &["mif1", "heic"]), Some(Format::Heic)),
            (ftyp("mif1", &["mif1"]), Some(Format::Heic)),
            (ftyp("msf1", &["hevc"]), Some(Format::Heic)),
            (ftyp("heix", &[]), Some(Format::Heic)),
            (ftyp("avif", &["mif1", "miaf"]), None),
            (ftyp("mif1", &["avif"]), None),
            (ftyp("isom", &["iso2", "avc1", "mp41"]), None),
            (b"RIFF\x10\0\0\0WAVEfmt ".to_vec(), None),
            (b"II*\0".to_vec(), None),
            (b"GIF89a".to_vec(), None),
            (b"\0\0\0\x04ftypheic".to_vec(), None),
            (b"\0\0\0\x18ftyp".to_vec(), None),
            (b"\xff\xd8".to_vec(), None),
            (b"a note, not a picture".to_vec(), None),
            (Vec::new(), None),
        ] {
            assert_eq!(Format::sniff(&head), format, "{}", head.escape_ascii());
        }
    }

    #[test]
    fn a_stored_name_claims_what_it_is() {
        for format in Format::ALL {
            assert_eq!(Format::from_extension(format.extension()), Some(format));
        }
        assert_eq!(Format::from_extension("JPEG"), Some(Format::Jpeg));
        assert_eq!(Format::from_extension("txt"), None);
    }
}
