//! The changes that a view holds, read row by row, so that a damaged page costs only the rows on it.

use std::collections::{BTreeMap, HashMap};
use std::path::Path;

use rusqlite::{Connection, OpenFlags};
use uuid::Uuid;

use super::{StoreError, folded};
use crate::change::Line;
use crate::id::DeviceId;
use crate::log::SegmentId;

/// More unreadable rows than a whole interior page covers: beyond that, the view has nothing more to give.
const FAILURES_AT_MOST: u32 = 50_000;

/// What a view knows of one segment.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct SegmentCopy {
    /// Rows of `change` that belong to it.
    rows: Vec<i64>,
    /// Up to which byte it had been folded; nought if the view does not say.
    pub bytes: u64,
    /// How many changes it had then.
    pub lines: u64,
}

/// Read access to the changes of a view, whatever its version and however damaged.
#[derive(Debug)]
pub struct SecondCopy {
    db: Option<Connection>,
    segments: BTreeMap<SegmentId, SegmentCopy>,
    damaged: bool,
}

impl SecondCopy {
    /// Looks at a view file; one that is missing or beyond reading is an empty copy.
    #[must_use]
    pub fn of(path: &Path) -> Self {
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        match Connection::open_with_flags(path, flags) {
            Ok(db) if path.exists() => Self::in_database(db),
            _ => Self { db: None, segments: BTreeMap::new(), damaged: path.exists() },
        }
    }

    /// The copy inside an open view, seen through that view's snapshot.
    #[must_use]
    pub fn in_view(view: super::View) -> Self {
        Self::in_database(view.db)
    }

    fn in_database(db: Connection) -> Self {
        let mut copy = Self { db: None, segments: BTreeMap::new(), damaged: false };
        copy.damaged |= copy.list_segments(&db).is_err();
        copy.damaged |= copy.list_changes(&db).is_err();
        copy.db = Some(db);
        copy
    }

    fn list_segments(&mut self, db: &Connection) -> Result<(), StoreError> {
        for row in folded::all(db)? {
            let Ok(folded) = row else {
                self.damaged = true;
                continue;
            };
            let copy = self.segments.entry(folded.segment).or_default();
            (copy.bytes, copy.lines) = (folded.bytes, folded.lines);
        }
        Ok(())
    }

    fn list_changes(&mut self, db: &Connection) -> Result<(), StoreError> {
        let mut statement = db.prepare("SELECT n, device, segment FROM change WHERE n > ?1 ORDER BY n")?;
        let last = db.query_row("SELECT coalesce(max(n), 0) FROM change", [], |row| row.get(0));
        self.damaged |= last.is_err();
        let last: i64 = last.unwrap_or(i64::MAX);
        let mut n = 0;
        let mut failures = 0;
        // After an unreadable row, go on behind it; a damaged `last` must not make that a walk without end.
        while n < last && failures < FAILURES_AT_MOST {
            let mut rows = statement.query([n])?;
            loop {
                match rows.next() {
                    Ok(Some(next)) => {
                        let here: i64 = next.get(0)?;
                        if here <= n {
                            return Err(StoreError::Damaged); // rows that go backwards would go round for ever
                        }
                        n = here;
                        let at = (next.get(1), next.get(2));
                        let (Ok(device), Ok(number)) = at else {
                            self.damaged = true;
                            continue;
                        };
                        let segment = SegmentId { device: DeviceId(device), number };
                        self.segments.entry(segment).or_default().rows.push(n);
                    }
                    Ok(None) => return Ok(()),
                    Err(_) => {
                        self.damaged = true;
                        failures += 1;
                        n += 1;
                        break;
                    }
                }
            }
        }
        Ok(())
    }

    /// Something in it could not be read.
    #[must_use]
    pub fn is_damaged(&self) -> bool {
        self.damaged
    }

    /// The segments that it knows of.
    #[must_use]
    pub fn segments(&self) -> &BTreeMap<SegmentId, SegmentCopy> {
        &self.segments
    }

    /// Lays this copy of a segment beside the log's: what it has beyond those lines, and whether all its rows are whole.
    #[must_use]
    pub fn beyond(&self, segment: SegmentId, log: &[Line]) -> Beyond {
        let mut found = Beyond { lines: Vec::new(), matched: 0, whole: true };
        let (Some(db), Some(copy)) = (&self.db, self.segments.get(&segment)) else { return found };
        let in_log: HashMap<&str, &Line> = log.iter().map(|line| (line.text(), line)).collect();
        for n in &copy.rows {
            match read_row(db, *n) {
                // The log's line has been proved already.
                Ok(row) if in_log.contains_key(row.text.as_str()) => {
                    found.matched += 1;
                    found.whole &= in_log.get(row.text.as_str()).is_some_and(|line| row.is_filed_right(line));
                }
                Ok(row) => match Line::read(&row.text) {
                    Ok(line) => {
                        found.whole &= row.is_filed_right(&line);
                        found.lines.push(line);
                    }
                    Err(_) => found.whole = false,
                },
                Err(_) => found.whole = false,
            }
        }
        found
    }
}

/// A row of `change`, as far as it repeats what its text says.
struct FiledLine {
    text: String,
    record: Uuid,
    kind: String,
    stamp: i64,
    device: Uuid,
}

fn read_row(db: &Connection, n: i64) -> Result<FiledLine, rusqlite::Error> {
    db.prepare_cached("SELECT text, record, kind, stamp, device FROM change WHERE n = ?1")?.query_row(
        [n],
        |row| {
            Ok(FiledLine {
                text: row.get(0)?,
                record: row.get(1)?,
                kind: row.get(2)?,
                stamp: row.get(3)?,
                device: row.get(4)?,
            })
        },
    )
}

impl FiledLine {
    /// The columns by which the change is found agree with what it says.
    fn is_filed_right(&self, line: &Line) -> bool {
        let change = &line.change;
        self.record == change.record.0
            && self.kind == change.kind
            && self.stamp == change.stamp.to_bits()
            && self.device == change.device.0
    }
}

/// What the view's copy of a segment has beyond the log's.
#[derive(Debug, Clone, PartialEq)]
pub struct Beyond {
    /// Whole changes that the log lacks.
    pub lines: Vec<Line>,
    /// How many changes both have, to the letter.
    pub matched: usize,
    /// Every row could be read and its hash holds.
    pub whole: bool,
}
