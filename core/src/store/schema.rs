//! The tables. A change here is a new [`VERSION`], and a new version is a view built afresh, never a migration.

use rusqlite::Connection;

use super::StoreError;

/// Counts up with every change of the tables or of how they are folded.
pub const VERSION: i64 = 1;

/// `change` and `segment` keep their shape in every version: the second copy of the truth must be readable by all of them.
const TABLES: &str = "
CREATE TABLE change(
  n INTEGER PRIMARY KEY,
  record BLOB NOT NULL, kind TEXT NOT NULL, stamp INTEGER NOT NULL, device BLOB NOT NULL,
  segment INTEGER NOT NULL, text TEXT NOT NULL) STRICT;
CREATE UNIQUE INDEX change_by_record ON change(record, stamp, device);

CREATE TABLE segment(
  device BLOB NOT NULL, number INTEGER NOT NULL,
  bytes INTEGER NOT NULL, lines INTEGER NOT NULL, stamp INTEGER NOT NULL, last TEXT NOT NULL,
  seal INTEGER NOT NULL, PRIMARY KEY(device, number)) STRICT, WITHOUT ROWID;

CREATE TABLE record(
  n INTEGER PRIMARY KEY,
  kind TEXT NOT NULL, id BLOB NOT NULL, parent BLOB, deleted INTEGER NOT NULL, state TEXT NOT NULL) STRICT;
CREATE UNIQUE INDEX record_by_id ON record(id, kind);
CREATE INDEX record_by_parent ON record(parent, kind) WHERE parent IS NOT NULL;

CREATE TABLE timed(
  n INTEGER PRIMARY KEY,
  kind TEXT NOT NULL, at INTEGER, outing BLOB, patch BLOB) STRICT;
CREATE INDEX timed_by_time ON timed(kind, at);
CREATE INDEX timed_by_outing ON timed(outing, at) WHERE outing IS NOT NULL;
CREATE INDEX timed_by_patch ON timed(patch, at) WHERE patch IS NOT NULL;

CREATE VIRTUAL TABLE place USING rtree(n, south, north, west, east, +kind TEXT, +latitude REAL, +longitude REAL);

CREATE TABLE photo(n INTEGER PRIMARY KEY, sha256 TEXT NOT NULL) STRICT;
CREATE INDEX photo_by_hash ON photo(sha256);
";

/// Settings that a connection needs.
pub fn prepare(db: &Connection) -> Result<(), StoreError> {
    // What a power cut takes from a view in this mode, the log gives back.
    db.execute_batch(
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA temp_store=MEMORY; PRAGMA cell_size_check=ON;
         PRAGMA cache_size=-8000; PRAGMA wal_autocheckpoint=4000;",
    )?;
    db.busy_timeout(std::time::Duration::from_secs(5))?;
    db.set_prepared_statement_cache_capacity(64);
    Ok(())
}

/// Makes the tables in an empty file.
pub fn create(db: &Connection) -> Result<(), StoreError> {
    db.execute_batch(TABLES)?;
    db.pragma_update(None, "user_version", VERSION)?;
    Ok(())
}

/// Refuses a view that another version made.
pub fn require_this_version(db: &Connection) -> Result<(), StoreError> {
    let found: i64 = db.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if found == VERSION { Ok(()) } else { Err(StoreError::OtherVersion { found }) }
}
