//! Public keys as text: one line to hand over, and figures to compare by eye.

use std::fmt;
use std::str::FromStr;

use bech32::{Bech32, Hrp};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use sha2::{Digest, Sha256};

/// Bytes of either half.
pub(super) const HALF: usize = 32;
const TEXT_BEGINS: Hrp = Hrp::parse_unchecked("trug");
const AGE_BEGINS: Hrp = Hrp::parse_unchecked("age");

/// A text that is no key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NotAKey {
    /// Not even of the form.
    #[error("not a key: copy the whole line that begins with trug1 or age1; a slip in it shows")]
    Text,
    /// It can be sealed to, but signs nothing.
    #[error(
        "a key that begins with age1 can be sealed to but not be paired with: ask for the line that begins with trug1"
    )]
    SealsOnly,
}

impl NotAKey {
    /// A stable word for programs.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::Text => "not-a-key",
            Self::SealsOnly => "seals-only",
        }
    }
}

/// What a notebook shows of its key: whom to seal to, and whose signatures to believe. Written as one line, `trug1…`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PublicKey {
    /// X25519 (RFC 7748).
    pub(super) sealing: [u8; HALF],
    /// Ed25519 (RFC 8032).
    pub(super) signing: [u8; HALF],
}

impl PublicKey {
    /// The sealing half as any age program takes it: `age1…`.
    #[must_use]
    pub fn age(&self) -> String {
        written(AGE_BEGINS, &self.sealing)
    }

    /// Thirty figures to compare by eye or by telephone: whoever would put another key in this one's place would have to find
    /// one with the same figures, among 10³⁰.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let hash = Sha256::new().chain_update(b"trug fingerprint 1\n").chain_update(self.bytes()).finalize();
        let group = |five: &[u8]| {
            let number = five.iter().fold(0_u64, |number, byte| number << 8 | u64::from(*byte));
            // Forty bits for five figures: no group is noticeably likelier than another.
            format!("{:05}", number % 100_000)
        };
        hash.chunks_exact(5).map(group).collect::<Vec<_>>().join(" ")
    }

    /// Both halves.
    #[must_use]
    pub fn bytes(&self) -> [u8; 2 * HALF] {
        let mut both = [0; 2 * HALF];
        for (to, from) in both.iter_mut().zip(self.sealing.iter().chain(&self.signing)) {
            *to = *from;
        }
        both
    }
}

/// Encoding fails only where the text would be longer than Bech32 allows, which these lengths are not.
pub(super) fn written(begins: Hrp, bytes: &[u8]) -> String {
    bech32::encode::<Bech32>(begins, bytes).unwrap_or_default()
}

impl fmt::Display for PublicKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&written(TEXT_BEGINS, &self.bytes()))
    }
}

impl fmt::Debug for PublicKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "PublicKey({self})")
    }
}

/// The bytes of a text in Bech32 proper, and how it begins.
pub(super) fn read(text: &str) -> Option<(Hrp, Vec<u8>)> {
    let parsed = bech32::primitives::decode::CheckedHrpstring::new::<Bech32>(text).ok()?;
    Some((parsed.hrp(), parsed.byte_iter().collect()))
}

impl FromStr for PublicKey {
    type Err = NotAKey;

    fn from_str(text: &str) -> Result<Self, NotAKey> {
        let (begins, bytes) = read(text.trim()).ok_or(NotAKey::Text)?;
        if begins == AGE_BEGINS {
            return Err(NotAKey::SealsOnly);
        }
        let (sealing, signing) = bytes.split_at_checked(HALF).ok_or(NotAKey::Text)?;
        let half = |bytes: &[u8]| bytes.try_into().map_err(|_| NotAKey::Text);
        let key = Self { sealing: half(sealing)?, signing: half(signing)? };
        // A signing half that is no point of the curve would sign nothing.
        let is_point =
            ed25519_dalek::VerifyingKey::from_bytes(&key.signing).is_ok_and(|point| !point.is_weak());
        if begins == TEXT_BEGINS && is_point { Ok(key) } else { Err(NotAKey::Text) }
    }
}

impl Serialize for PublicKey {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for PublicKey {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        std::borrow::Cow::<'de, str>::deserialize(deserializer)?.parse().map_err(de::Error::custom)
    }
}

/// A key to seal to: another notebook's, or that of anybody who uses age.
#[derive(Clone)]
pub struct Recipient(pub(super) age::x25519::Recipient);

impl fmt::Debug for Recipient {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Recipient({})", self.0)
    }
}

impl FromStr for Recipient {
    type Err = NotAKey;

    /// Reads `age1…` or `trug1…`.
    fn from_str(text: &str) -> Result<Self, NotAKey> {
        let age = match PublicKey::from_str(text) {
            Ok(key) => key.age(),
            Err(NotAKey::SealsOnly) => text.trim().to_owned(),
            Err(error) => return Err(error),
        };
        age.parse().map(Self).map_err(|_| NotAKey::Text)
    }
}

impl TryFrom<&PublicKey> for Recipient {
    type Error = NotAKey;

    fn try_from(key: &PublicKey) -> Result<Self, NotAKey> {
        key.age().parse().map(Self).map_err(|_| NotAKey::Text)
    }
}
