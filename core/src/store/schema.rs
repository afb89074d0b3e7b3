//! The tables. A change here is a new [`VERSION`], and a new version is a view built afresh, never a migration.

use rusqlite::Connection;
use rusqlite::config::DbConfig;

use super::StoreError;

/// Counts up with every change of the tables or of how they are folded.
pub const VERSION: i64 = 5;

/// `change` and `segment` keep their shape in every version: the second copy of the truth must be readable by all of them.
/// The words in `wording` are folded already: its tokenizer has only to find the blanks between them.
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

CREATE TABLE amount(
  n INTEGER PRIMARY KEY,
  patch BLOB NOT NULL, day TEXT NOT NULL, outing BLOB NOT NULL, taxon TEXT NOT NULL, gatherer TEXT NOT NULL,
  finds INTEGER NOT NULL, seen INTEGER NOT NULL, seen_most INTEGER NOT NULL, uncounted INTEGER NOT NULL,
  taken INTEGER NOT NULL, unnumbered INTEGER NOT NULL, specimens INTEGER NOT NULL, milligrams INTEGER NOT NULL,
  unweighed INTEGER NOT NULL, doubtful INTEGER NOT NULL) STRICT;
CREATE INDEX amount_doubtful ON amount(n) WHERE doubtful;

CREATE TABLE tally(
  patch BLOB NOT NULL, day TEXT NOT NULL, outing BLOB NOT NULL, taxon TEXT NOT NULL, gatherer TEXT NOT NULL,
  finds INTEGER NOT NULL, seen INTEGER NOT NULL, seen_most INTEGER NOT NULL, uncounted INTEGER NOT NULL,
  taken INTEGER NOT NULL, unnumbered INTEGER NOT NULL, specimens INTEGER NOT NULL, milligrams INTEGER NOT NULL,
  unweighed INTEGER NOT NULL, PRIMARY KEY(patch, day, outing, taxon, gatherer)) STRICT, WITHOUT ROWID;
CREATE INDEX tally_by_day ON tally(day);

CREATE TABLE photo(n INTEGER PRIMARY KEY, sha256 TEXT NOT NULL) STRICT;
CREATE INDEX photo_by_hash ON photo(sha256);

CREATE VIRTUAL TABLE wording USING fts5(find, patch, about, outing,
  content='', contentless_delete=1, detail=column, tokenize=\"ascii tokenchars '=-'\");
CREATE VIRTUAL TABLE vocabulary USING fts5vocab(wording, row);
CREATE VIRTUAL TABLE word_in_record USING fts5vocab(wording, instance);
";

/// What a find comes to is added to the sums of its patch and day when its row comes, and taken off when it goes: a season
/// of ten thousand finds is read as its days. Whole numbers, so that the sums do not depend on the order.
const SUMS: &str = "
CREATE TRIGGER amount_comes AFTER INSERT ON amount BEGIN
  INSERT INTO tally VALUES (NEW.patch, NEW.day, NEW.outing, NEW.taxon, NEW.gatherer, NEW.finds, NEW.seen, NEW.seen_most,
    NEW.uncounted, NEW.taken, NEW.unnumbered, NEW.specimens, NEW.milligrams, NEW.unweighed)
  ON CONFLICT DO UPDATE SET finds = finds + NEW.finds, seen = seen + NEW.seen, seen_most = seen_most + NEW.seen_most,
    uncounted = uncounted + NEW.uncounted, taken = taken + NEW.taken, unnumbered = unnumbered + NEW.unnumbered,
    specimens = specimens + NEW.specimens, milligrams = milligrams + NEW.milligrams, unweighed = unweighed + NEW.unweighed;
END;
CREATE TRIGGER amount_goes AFTER DELETE ON amount BEGIN
  UPDATE tally SET finds = finds - OLD.finds, seen = seen - OLD.seen, seen_most = seen_most - OLD.seen_most,
    uncounted = uncounted - OLD.uncounted, taken = taken - OLD.taken, unnumbered = unnumbered - OLD.unnumbered,
    specimens = specimens - OLD.specimens, milligrams = milligrams - OLD.milligrams, unweighed = unweighed - OLD.unweighed
  WHERE patch = OLD.patch AND day = OLD.day AND outing = OLD.outing AND taxon = OLD.taxon AND gatherer = OLD.gatherer;
  DELETE FROM tally WHERE finds = 0
    AND patch = OLD.patch AND day = OLD.day AND outing = OLD.outing AND taxon = OLD.taxon AND gatherer = OLD.gatherer;
END;
";

/// Keeps prepared statements prepared. Otherwise SQLite plans one anew at every use if a value bound to it might matter for its
/// plan, and that is a third of what folding costs; nothing here needs it, for there are no statistics to plan by.
pub fn keep_plans(db: &Connection) -> Result<(), StoreError> {
    db.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_QPSG, true)?;
    db.set_prepared_statement_cache_capacity(64);
    Ok(())
}

/// Settings that a connection needs.
pub fn prepare(db: &Connection) -> Result<(), StoreError> {
    // What a power cut takes from a view in this mode, the log gives back.
    db.execute_batch(
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA temp_store=MEMORY; PRAGMA cell_size_check=ON;
         PRAGMA cache_size=-8000; PRAGMA wal_autocheckpoint=4000;",
    )?;
    db.busy_timeout(std::time::Duration::from_secs(5))?;
    keep_plans(db)
}

/// Makes the tables in an empty file. Sums are not kept up until [`begin_sums`].
pub fn create(db: &Connection) -> Result<(), StoreError> {
    db.execute_batch(TABLES)?;
    db.pragma_update(None, "user_version", VERSION)?;
    Ok(())
}

/// Sums up the amounts that are there, once, and has the tables keep the sums up from then on.
pub fn begin_sums(db: &Connection) -> Result<(), StoreError> {
    db.execute_batch(
        "INSERT INTO tally SELECT patch, day, outing, taxon, gatherer, sum(finds), sum(seen), sum(seen_most), sum(uncounted),
           sum(taken), sum(unnumbered), sum(specimens), sum(milligrams), sum(unweighed)
         FROM amount GROUP BY patch, day, outing, taxon, gatherer",
    )?;
    db.execute_batch(SUMS)?;
    Ok(())
}

/// Refuses a view that another version made.
pub fn require_this_version(db: &Connection) -> Result<(), StoreError> {
    let found: i64 = db.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if found == VERSION { Ok(()) } else { Err(StoreError::OtherVersion { found }) }
}
