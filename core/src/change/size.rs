//! How large changes may be: whoever reads them elsewhere has to hold them.

/// Bytes that the lines of an act come to at most.
const LONGEST_ACT: usize = 8 << 20;
/// Bytes that an act, or all changes of one record, take in memory at most, by the estimate below.
const HEAVIEST: usize = 32 << 20;
/// Bytes that one JSON value takes in memory, its name and its share of what holds it included: measured.
const VALUE: usize = 80;

/// What lines come to together.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Size {
    bytes: usize,
    weight: usize,
}

impl Size {
    /// Adds a line, or the beginning of one. Each value, and each name of one, has a comma, a colon or a bracket before it.
    pub fn add(&mut self, text: &[u8]) {
        let values = text.iter().filter(|byte| matches!(byte, b',' | b':' | b'[')).count();
        self.bytes += text.len();
        self.weight += text.len() + VALUE * values;
    }

    /// The two together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self { bytes: self.bytes + other.bytes, weight: self.weight + other.weight }
    }

    /// More than an act may come to.
    #[must_use]
    pub fn is_beyond_an_act(self) -> bool {
        self.bytes > LONGEST_ACT || self.weight > HEAVIEST
    }

    /// More than the changes of one record may come to.
    #[must_use]
    pub fn is_beyond_a_record(self) -> bool {
        self.weight > HEAVIEST
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    #[test]
    fn values_weigh_what_they_are_said_to() {
        assert!(size_of::<Value>() <= VALUE, "{}", size_of::<Value>());
        let of = |text: &str| {
            let mut size = Size::default();
            size.add(text.as_bytes());
            size
        };
        let noughts = "0,".repeat(1 << 20);
        assert!(of(&noughts).is_beyond_an_act() && of(&noughts).is_beyond_a_record());
        let words = "word ".repeat(1 << 20);
        assert!(!of(&words).is_beyond_an_act());
        assert!(of(&words).and(of(&words)).is_beyond_an_act(), "too many bytes");
        assert!(!of(&words).and(of(&words)).is_beyond_a_record());
    }
}
