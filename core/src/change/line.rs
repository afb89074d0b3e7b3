//! The written form of a change: one line of JSON whose last member is the SHA-256 of all before it.
//!
//! ```text
//! {"kind":"find","record":"…","set":{…},"stamp":"…","device":"…","hash":"<64 hex>"}
//! ```
//!
//! The hash is taken over the bytes before `,"hash"`, so no canonical form is needed and members that this version does
//! not know survive untouched: the text is kept and passed on as it was written.

use sha2::{Digest, Sha256};

use super::{Change, Size};

const START: &str = "{\"kind\":\"";
const HASH: &str = ",\"hash\":\"";
const HEX: usize = 64;
/// `,"hash":"` + 64 hex figures + `"}`.
const TAIL: usize = HASH.len() + HEX + 2;

/// A text that is not a whole, undamaged change.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotALine {
    /// No hash at its end.
    #[error("the line does not end in a hash")]
    NoHash,
    /// The hash does not fit the bytes: something was altered.
    #[error("the line does not fit its hash: it was damaged or altered")]
    Damaged,
    /// The bytes are as written, but they are not a change.
    #[error("the line is whole but is not a change: {0}")]
    NotAChange(String),
}

/// A change together with the exact text it was written as (without line end).
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it says.
    pub change: Change,
    text: String,
}

impl Line {
    /// Writes a change.
    ///
    /// # Errors
    /// If it cannot be put as JSON, which no change built here can cause.
    pub fn write(change: Change) -> Result<Self, serde_json::Error> {
        let mut text = serde_json::to_string(&change)?;
        text.pop(); // the closing brace comes back after the hash
        let hash = hex(&Sha256::digest(text.as_bytes()));
        text.push_str(HASH);
        text.push_str(&hash);
        text.push_str("\"}");
        Ok(Self { change, text })
    }

    /// Reads a line and proves its hash.
    ///
    /// # Errors
    /// [`NotALine`] says whether it is torn, damaged, or something else altogether.
    pub fn read(text: &str) -> Result<Self, NotALine> {
        prove(text)?;
        let change = serde_json::from_str(text).map_err(|e| NotALine::NotAChange(e.to_string()))?;
        Ok(Self { change, text: text.to_owned() })
    }

    /// The text, without line end.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// How large it is.
    #[must_use]
    pub fn size(&self) -> Size {
        let mut size = Size::default();
        size.add(self.text.as_bytes());
        size
    }
}

/// The hash holds; what it says is not looked at.
fn prove(text: &str) -> Result<(), NotALine> {
    let cut = text.len().checked_sub(TAIL).ok_or(NotALine::NoHash)?;
    let (body, tail) = text.split_at_checked(cut).ok_or(NotALine::NoHash)?;
    let hash = tail.strip_prefix(HASH).and_then(|t| t.strip_suffix("\"}")).ok_or(NotALine::NoHash)?;
    if hex(&Sha256::digest(body.as_bytes())) == hash { Ok(()) } else { Err(NotALine::Damaged) }
}

/// The whole changes inside damaged bytes: a lost line end runs two lines into one, and both may still be whole.
#[must_use]
pub fn salvage(junk: &[u8]) -> Vec<Line> {
    let text = String::from_utf8_lossy(junk);
    let starts = text.match_indices(START).map(|(at, _)| at);
    starts
        .filter_map(|start| {
            let rest = text.get(start..)?;
            let end = rest.find(HASH)? + TAIL;
            Line::read(rest.get(..end)?).ok()
        })
        .collect()
}

/// The hexadecimal text of bytes.
pub(crate) fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write;
    bytes.iter().fold(String::with_capacity(bytes.len() * 2), |mut out, byte| {
        let _ = write!(out, "{byte:02x}"); // writing to a String cannot fail
        out
    })
}

#[cfg(test)]
mod tests {
    use super::super::Stamp;
    use super::*;
    use crate::id::{DeviceId, RecordId};
    use proptest::prelude::*;

    fn line(note: &str) -> Line {
        Line::write(Change {
            kind: "find".into(),
            record: RecordId::new(),
            set: [("note".to_owned(), note.into())].into_iter().collect(),
            stamp: Stamp::at(1_764_061_200_123),
            device: DeviceId::new(),
            replaces: [].into(),
            undoes: None,
            unasked: false,
            more: 0,
        })
        .unwrap()
    }

    #[test]
    fn what_is_written_reads_the_same() {
        let written = line("under the \"old\" elder\n,\"hash\":\"");
        assert!(!written.text().contains('\n'));
        assert_eq!(Line::read(written.text()), Ok(written));
    }

    #[test]
    fn members_from_a_later_version_are_kept_to_the_letter() {
        let body = line("x").text().replace("\"set\":", "\"later\":{\"a\":[1]},\"set\":");
        let body = body.split(HASH).next().unwrap();
        let text = format!("{body}{HASH}{}\"}}", hex(&Sha256::digest(body.as_bytes())));
        assert_eq!(Line::read(&text).unwrap().text(), text);
    }

    proptest! {
        #[test]
        fn no_flipped_byte_goes_unseen(at in 0usize..300, bit in 0u8..8) {
            let written = line("elder by the gate");
            let mut bytes = written.text().as_bytes().to_vec();
            let at = at % bytes.len();
            bytes[at] ^= 1 << bit;
            prop_assert!(std::str::from_utf8(&bytes).is_err() || Line::read(std::str::from_utf8(&bytes).unwrap()).is_err());
        }

        #[test]
        fn nonsense_never_panics(junk in prop::collection::vec(any::<u8>(), 0..400)) {
            let _ = salvage(&junk);
            let _ = Line::read(&String::from_utf8_lossy(&junk));
        }
    }

    #[test]
    fn a_lost_line_end_loses_no_line() {
        let (a, b) = (line("one"), line("two"));
        let run_together = format!("{}#{}", a.text(), b.text());
        assert_eq!(salvage(run_together.as_bytes()), vec![a, b]);
    }
}
