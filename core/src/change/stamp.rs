//! A hybrid-logical-clock stamp: milliseconds and a counter, in one sortable number.
//!
//! # References
//! Kulkarni, Demirbas, Madeppa, Avva and Leone 2014, "Logical Physical Clocks" (algorithm from memory).

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// A text that is not a stamp.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("not a stamp: expected milliseconds, a dot and a counter of five figures")]
pub struct NotAStamp;

/// 47 bits of milliseconds since 1970 and 16 bits of counter: good until the year 6429, and never negative in an `i64`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stamp(i64);

impl Stamp {
    /// Before any other.
    pub const ZERO: Self = Self(0);
    const MOST_MILLIS: i64 = (1 << 47) - 1;

    /// The first stamp of a millisecond; times outside 1970 to 6429 are moved to the nearest end.
    #[must_use]
    pub fn at(millis: i64) -> Self {
        Self(millis.clamp(0, Self::MOST_MILLIS) << 16)
    }

    /// The least stamp above this one; a full counter runs over into the next millisecond.
    #[must_use]
    pub fn next(self) -> Self {
        Self(self.0.saturating_add(1))
    }

    /// Milliseconds since 1970-01-01T00:00:00Z.
    #[must_use]
    pub fn millis(self) -> i64 {
        self.0 >> 16
    }

    /// The whole as one number, for columns.
    #[must_use]
    pub fn to_bits(self) -> i64 {
        self.0
    }

    /// From [`Self::to_bits`]; a negative number becomes nought.
    #[must_use]
    pub fn from_bits(bits: i64) -> Self {
        Self(bits.max(0))
    }
}

impl fmt::Display for Stamp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:013}.{:05}", self.millis(), self.0 & 0xffff)
    }
}

impl FromStr for Stamp {
    type Err = NotAStamp;

    /// Only the form that [`fmt::Display`] writes is read, so that one stamp has one text.
    fn from_str(text: &str) -> Result<Self, NotAStamp> {
        let (millis, counter) = text.split_once('.').ok_or(NotAStamp)?;
        let millis: i64 = millis.parse().map_err(|_| NotAStamp)?;
        let counter: u16 = counter.parse().map_err(|_| NotAStamp)?;
        let stamp = Self(Self::at(millis).0 | i64::from(counter));
        if stamp.to_string() == text { Ok(stamp) } else { Err(NotAStamp) }
    }
}

impl Serialize for Stamp {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Stamp {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        std::borrow::Cow::<'de, str>::deserialize(deserializer)?.parse().map_err(de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn text_and_number_order_alike(a in 0..i64::MAX, b in 0..i64::MAX) {
            let (a, b) = (Stamp::from_bits(a), Stamp::from_bits(b));
            prop_assert_eq!(a.to_string().parse::<Stamp>(), Ok(a));
            prop_assert_eq!(a.cmp(&b), a.to_bits().cmp(&b.to_bits()));
            prop_assert!(a.next() >= a);
        }
    }

    #[test]
    fn one_stamp_has_one_text() {
        for bad in
            ["1.2", "+764061200123.00004", "1764061200123.4", "1764061200123", "-000000000001.00000", ""]
        {
            assert_eq!(bad.parse::<Stamp>(), Err(NotAStamp), "{bad}");
        }
        assert_eq!("1764061200123.00004".parse::<Stamp>().map(Stamp::millis), Ok(1_764_061_200_123));
    }
}
