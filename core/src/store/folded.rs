//! What was folded of each segment. From these rows follows what may be missing, so each proves itself by a seal.

use rusqlite::{Connection, OptionalExtension, Row, params};
use sha2::{Digest, Sha256};

use super::{StoreError, row};
use crate::change::{Line, Stamp};
use crate::id::DeviceId;
use crate::log::{Appended, SegmentId};

/// What was folded of one segment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Folded {
    /// The segment.
    pub segment: SegmentId,
    /// Up to which byte.
    pub bytes: u64,
    /// How many changes.
    pub lines: u64,
    /// The highest stamp among them.
    pub stamp: Stamp,
    /// The last bytes of its last line: a cheap sign that the file is still the one that was folded.
    pub last: String,
}

const COLUMNS: &str = "device, number, bytes, lines, stamp, last, seal";

impl Folded {
    /// A short hash over the whole row.
    fn seal(&self) -> i64 {
        let Self { segment, bytes, lines, stamp, last } = self;
        let text = format!("{} {} {bytes} {lines} {stamp} {last}", segment.device, segment.number);
        let hash = Sha256::digest(text.as_bytes());
        hash.as_slice().first_chunk().map_or(0, |first| i64::from_be_bytes(*first))
    }

    /// Reads a row; one whose seal does not hold is damage.
    fn read(found: &Row<'_>) -> Result<Self, StoreError> {
        let folded = Self {
            segment: SegmentId { device: DeviceId(found.get(0)?), number: found.get(1)? },
            bytes: row::unsigned(found.get(2)?),
            lines: row::unsigned(found.get(3)?),
            stamp: Stamp::from_bits(found.get(4)?),
            last: found.get(5)?,
        };
        if folded.seal() == found.get::<_, i64>(6)? { Ok(folded) } else { Err(StoreError::Damaged) }
    }

    fn of(db: &Connection, segment: SegmentId) -> Result<Option<Self>, StoreError> {
        let sql = format!("SELECT {COLUMNS} FROM segment WHERE device = ?1 AND number = ?2");
        let found = db
            .prepare_cached(&sql)?
            .query_row(params![segment.device.0, segment.number], |found| Ok(Self::read(found)))
            .optional()?;
        found.transpose()
    }
}

/// Every row, by device and number, as far as it can be read.
pub fn all(db: &Connection) -> Result<Vec<Result<Folded, StoreError>>, StoreError> {
    let mut statement =
        db.prepare_cached(&format!("SELECT {COLUMNS} FROM segment ORDER BY device, number"))?;
    let rows = statement.query_map([], |found| Ok(Folded::read(found)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Remembers up to where a segment has been folded.
pub fn note(db: &Connection, lines: &[Line], at: Appended) -> Result<(), StoreError> {
    let Some(last) = lines.last() else { return Ok(()) };
    let before = Folded::of(db, at.segment)?;
    let (known, highest) = before.map_or((0, Stamp::ZERO), |before| (before.lines, before.stamp));
    let now = Folded {
        segment: at.segment,
        bytes: at.after,
        lines: known + lines.len() as u64,
        stamp: lines.iter().map(|line| line.change.stamp).fold(highest, Stamp::max),
        last: ending(last.text()).to_owned(),
    };
    db.prepare_cached(&format!("REPLACE INTO segment({COLUMNS}) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)"))?
        .execute(params![
            now.segment.device.0,
            now.segment.number,
            row::signed(now.bytes),
            row::signed(now.lines),
            now.stamp.to_bits(),
            now.last,
            now.seal()
        ])?;
    Ok(())
}

/// The last bytes of a line, hash and all.
fn ending(text: &str) -> &str {
    let from = text.len().saturating_sub(66);
    text.get(from..).unwrap_or(text)
}
