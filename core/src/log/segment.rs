//! Reading a segment: which lines are whole, which bytes are damaged, and where a torn tail begins.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};
use std::ops::Range;
use std::path::Path;

use crate::change::{Line, NotALine, salvage};

/// Bytes that are no whole line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Damage {
    /// Which line of what was read, from 1.
    pub line: usize,
    /// Which bytes.
    pub bytes: Range<u64>,
}

/// What a segment holds.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Scan {
    /// The whole lines, in order, those saved from damaged bytes among them.
    pub lines: Vec<Line>,
    /// What could not be read.
    pub damage: Vec<Damage>,
    /// Damaged bytes gave up whole lines: nothing is lost by them, but the file is to be rewritten.
    pub salvaged: bool,
    /// Length of the part before a torn tail: an act that was never finished, so never acknowledged.
    pub whole: u64,
    /// Length of all that was read, room made ahead aside.
    pub length: u64,
}

impl Scan {
    /// Nothing to mend.
    #[must_use]
    pub fn is_clean(&self) -> bool {
        self.damage.is_empty() && !self.salvaged && self.whole == self.length
    }
}

impl Scan {
    /// Undamaged up to this byte at least.
    #[must_use]
    pub fn holds_whole(&self, bytes: u64) -> bool {
        self.damage.is_empty() && !self.salvaged && self.whole >= bytes
    }
}

pub(super) fn read_bytes(path: &Path, part: Range<u64>) -> io::Result<Vec<u8>> {
    let mut file = File::open(path)?;
    file.seek(SeekFrom::Start(part.start))?;
    let mut bytes = Vec::new();
    file.take(part.end.saturating_sub(part.start)).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Makes sense of the bytes of a segment.
#[must_use]
pub fn scan(bytes: &[u8]) -> Scan {
    let bytes = without_padding(bytes);
    let mut found = Scan::default();
    // Where the last finished act ends, in bytes and in lines: a tail that stops inside an act is torn from there.
    let mut act = (0, 0);
    let mut unfinished = false;
    for (index, piece) in bytes.split_inclusive(|byte| *byte == b'\n').enumerate() {
        let start = found.length;
        found.length += piece.len() as u64;
        let ended = piece.strip_suffix(b"\n");
        match line(ended.unwrap_or(piece)) {
            // A last line that lacks nothing but its end is whole.
            Ok(line) if ended.is_some() || line.change.more == 0 => {
                unfinished = line.change.more > 0;
                found.salvaged |= ended.is_none();
                found.lines.push(line);
            }
            Err(_) if ended.is_some() => {
                let saved = salvage(piece);
                if saved.is_empty() {
                    found.damage.push(Damage { line: index + 1, bytes: start..found.length });
                }
                found.salvaged |= !saved.is_empty();
                found.lines.extend(saved);
                unfinished = false;
            }
            _ => unfinished = true,
        }
        if !unfinished {
            act = (found.length, found.lines.len());
        }
    }
    found.whole = found.length;
    if unfinished {
        found.whole = act.0;
        found.lines.truncate(act.1);
    }
    found
}

/// NULs at the end are room that was made ahead of need; no line holds one.
fn without_padding(bytes: &[u8]) -> &[u8] {
    let end = bytes.iter().rposition(|byte| *byte != 0).map_or(0, |last| last + 1);
    bytes.get(..end).unwrap_or(bytes)
}

fn line(text: &[u8]) -> Result<Line, NotALine> {
    Line::read(std::str::from_utf8(text).map_err(|_| NotALine::Damaged)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::change::{Change, Stamp};
    use crate::id::{DeviceId, RecordId};
    use proptest::prelude::*;
    use uuid::Uuid;

    fn numbered(n: u32, more: u32) -> Line {
        Line::write(Change {
            kind: "find".into(),
            record: RecordId(Uuid::from_u128(1)),
            set: [("taken".to_owned(), n.into())].into_iter().collect(),
            stamp: Stamp::at(i64::from(n)),
            device: DeviceId(Uuid::from_u128(2)),
            replaces: [].into(),
            undoes: None,
            unasked: false,
            more,
        })
        .unwrap()
    }

    /// An act of one, an act of three, an act of one.
    fn lines() -> Vec<Line> {
        [(1, 0), (2, 2), (3, 1), (4, 0), (5, 0)].map(|(n, more)| numbered(n, more)).to_vec()
    }

    fn bytes(lines: &[Line]) -> Vec<u8> {
        lines.iter().flat_map(|line| [line.text().as_bytes(), b"\n"].concat()).collect()
    }

    #[test]
    fn an_undamaged_segment_reads_whole() {
        let scan = scan(&bytes(&lines()));
        assert!(scan.is_clean());
        assert_eq!(scan.lines, lines());
    }

    #[test]
    fn room_made_ahead_is_no_damage() {
        let scan = scan(&[bytes(&lines()), vec![0; 5000]].concat());
        assert!(scan.is_clean());
        assert_eq!(scan.lines, lines());
    }

    #[test]
    fn wherever_the_tail_is_torn_only_whole_acts_remain() {
        let all = bytes(&lines());
        let ends = [0, 1, 4, 5].map(|n| bytes(&lines()[..n]).len());
        for cut in 0..all.len() {
            let scan = scan(&all[..cut]);
            // A line whose end alone is missing is whole.
            let acts = ends.iter().rposition(|end| *end <= cut || (*end > 0 && *end - 1 == cut)).unwrap();
            assert_eq!(scan.lines, lines()[..[0, 1, 4, 5][acts]], "cut at {cut}");
            assert_eq!(scan.whole, (ends[acts] as u64).min(cut as u64), "cut at {cut}");
            assert!(scan.damage.is_empty(), "cut at {cut}");
        }
    }

    proptest! {
        #[test]
        fn a_flipped_byte_costs_at_most_the_lines_it_touches(at in any::<prop::sample::Index>(), bit in 0u8..8) {
            let mut all = bytes(&lines());
            let at = at.index(all.len() - 1); // the last line end has its own test above
            all[at] ^= 1 << bit;
            let scan = scan(&all);
            let kept = lines().iter().filter(|line| scan.lines.contains(line)).count();
            prop_assert!(kept >= 4, "kept {kept} of 5");
            prop_assert!(!scan.is_clean());
        }
    }
}
