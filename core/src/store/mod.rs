//! The view: SQLite tables folded from the change log, for reading, and the second copy of every change.
//!
//! The only room with SQL in it. Nothing here is the truth by itself: a view that is missing, damaged or of another version
//! is built afresh from the log, after the changes that only it still held have been given back.

mod amount;
mod apply;
mod arrive;
mod compare;
mod error;
mod folded;
mod pass_on;
mod query;
mod rebuild;
mod row;
mod schema;
mod search;
mod second_copy;
mod wording;
mod yearly;

pub use amount::Span;
pub use arrive::{Arrival, Presence, Unfit};
pub use compare::differs_from_its_changes;
pub use error::StoreError;
pub use folded::Folded;
pub use query::{Criteria, Record, Within};
pub use rebuild::{Fresh, build};
pub use search::{Hit, Term, Wanted};
pub use second_copy::{Beyond, SecondCopy, SegmentCopy};
pub use yearly::{GivenName, Summed};

use std::path::Path;

use rusqlite::{Connection, OpenFlags};

use crate::change::{Line, Stamp};
use crate::id::DeviceId;
use crate::log::Appended;

/// The view of one notebook, open for reading and writing by one writer.
#[derive(Debug)]
pub struct View {
    db: Connection,
}

impl View {
    /// Opens a view of this version.
    ///
    /// # Errors
    /// [`StoreError::Missing`], [`StoreError::OtherVersion`] or [`StoreError::Damaged`] call for building it afresh.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        if !path.exists() {
            return Err(StoreError::Missing);
        }
        let db = Connection::open_with_flags(
            path,
            OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX,
        )?;
        schema::prepare(&db)?;
        schema::require_this_version(&db)?;
        Ok(Self { db })
    }

    /// A second, read-only connection, whose snapshot does not hinder the writer.
    ///
    /// # Errors
    /// If it cannot be opened.
    pub fn snapshot(path: &Path) -> Result<Self, StoreError> {
        let db = Connection::open_with_flags(
            path,
            OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX,
        )?;
        schema::keep_plans(&db)?;
        schema::require_this_version(&db)?;
        db.execute_batch("BEGIN; SELECT 1 FROM segment LIMIT 1;")?;
        Ok(Self { db })
    }

    /// Folds one act in, all of it or nothing.
    ///
    /// # Errors
    /// [`StoreError`]; then the view is as before.
    pub fn fold_in(&mut self, lines: &[Line], at: Appended) -> Result<(), StoreError> {
        apply::fold_in(&mut self.db, lines, at)
    }

    /// What has been folded of each segment.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn folded(&self) -> Result<Vec<Folded>, StoreError> {
        folded::all(&self.db)?.into_iter().collect()
    }

    /// The highest stamp of one device, or of all others: where the clock goes on from.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn last_stamps(&self) -> Result<Vec<(DeviceId, Stamp)>, StoreError> {
        let mut statement = self.db.prepare("SELECT device, max(stamp) FROM segment GROUP BY device")?;
        let rows =
            statement.query_map([], |row| Ok((DeviceId(row.get(0)?), Stamp::from_bits(row.get(1)?))))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Moves everything from the write-ahead file into the main file and closes.
    ///
    /// # Errors
    /// If it could not be moved: nothing is lost, but the side files remain.
    pub fn close(self) -> Result<(), StoreError> {
        self.db.execute_batch("PRAGMA wal_checkpoint(TRUNCATE);")?;
        self.db.close().map_err(|(_, error)| error.into())
    }
}
