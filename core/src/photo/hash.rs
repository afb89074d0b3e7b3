//! A photograph's name: the SHA-256 of its bytes.

use std::fmt;
use std::io::{self, Read};
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use sha2::{Digest, Sha256};

/// How much is read at a time: large enough that hashing, not asking, takes the time.
pub(super) const CHUNK: usize = 256 * 1024;

/// A text that is not a SHA-256 in hexadecimal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("not a photo's hash: give its 64 hexadecimal digits")]
pub struct NotAHash;

/// The SHA-256 of a file's bytes; ordered as its hexadecimal text is.
///
/// # References
/// NIST FIPS 180-4, *Secure Hash Standard* (2015).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PhotoHash([u8; 32]);

impl PhotoHash {
    /// The hash of these bytes.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// The hash of all that a reader gives, held a piece at a time.
    ///
    /// # Errors
    /// Whatever the reader fails with.
    pub fn of_reader(mut reader: impl Read) -> io::Result<Self> {
        let mut hasher = Hasher::default();
        io::copy(&mut reader, &mut hasher)?;
        Ok(hasher.finish())
    }

    /// The 32 bytes.
    #[must_use]
    pub fn bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

/// Hashes what is written to it.
#[derive(Default)]
pub(super) struct Hasher(Sha256);

impl Hasher {
    /// The hash of all that was written.
    pub(super) fn finish(self) -> PhotoHash {
        PhotoHash(self.0.finalize().into())
    }
}

impl io::Write for Hasher {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.update(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl fmt::Display for PhotoHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for PhotoHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for PhotoHash {
    type Err = NotAHash;

    fn from_str(text: &str) -> Result<Self, NotAHash> {
        let digits = text.as_bytes();
        let mut bytes = [0; 32];
        if digits.len() != 2 * bytes.len() {
            return Err(NotAHash);
        }
        let digit = |byte: u8| char::from(byte).to_digit(16).and_then(|value| u8::try_from(value).ok());
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
            let [high, low] = pair else { return Err(NotAHash) };
            *byte = digit(*high).ok_or(NotAHash)? << 4 | digit(*low).ok_or(NotAHash)?;
        }
        Ok(Self(bytes))
    }
}

impl Serialize for PhotoHash {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for PhotoHash {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
        text.parse().map_err(de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST, *Example values for SHA-256*: the one-block and the two-block message.
    #[test]
    fn the_standards_own_examples() {
        for (message, hash) in [
            ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
            (
                "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
                "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
            ),
        ] {
            assert_eq!(PhotoHash::of(message.as_bytes()).to_string(), hash);
            assert_eq!(PhotoHash::of_reader(message.as_bytes()).unwrap().to_string(), hash);
            assert_eq!(hash.parse(), Ok(PhotoHash::of(message.as_bytes())));
            assert_eq!(hash.to_uppercase().parse(), Ok(PhotoHash::of(message.as_bytes())));
        }
    }

    #[test]
    fn what_is_not_a_hash_is_refused() {
        let whole = PhotoHash::of(b"").to_string();
        for bad in ["", "ba78", &whole[1..], &format!("{whole}0"), &whole.replace('e', "g"), &"é".repeat(32)]
        {
            assert_eq!(bad.parse::<PhotoHash>(), Err(NotAHash), "{bad}");
        }
        assert!(serde_json::from_str::<PhotoHash>("\"../../etc/passwd\"").is_err());
    }

    #[test]
    fn json_is_the_hexadecimal_text() {
        let hash = PhotoHash::of(b"abc");
        let json = serde_json::to_string(&hash).unwrap();
        assert_eq!(json, format!("\"{hash}\""));
        assert_eq!(serde_json::from_str::<PhotoHash>(&json).unwrap(), hash);
    }
}
