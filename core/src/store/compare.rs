//! Proving the tables: folded afresh from their own changes, they must come out the same.

use std::path::Path;

use rusqlite::Connection;
use sha2::{Digest, Sha256};

use super::rebuild::{bulk, fold_all, logical_rows};
use super::{StoreError, View};
use crate::progress::Progress;

/// Folds every change of the view into a scratch file and compares the rows.
///
/// # Errors
/// [`StoreError`]; damage that keeps the view from being read at all is one.
pub fn differs_from_its_changes(
    view: &View,
    scratch: &Path,
    progress: &dyn Progress,
) -> Result<bool, StoreError> {
    let sound: String = view.db.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
    if sound != "ok" {
        return Ok(true);
    }
    let fresh = Connection::open(scratch)?;
    bulk(&fresh)?;
    fold_all(&view.db, &fresh, progress)?;
    Ok(digest(&view.db)? != digest(&fresh)?)
}

fn digest(db: &Connection) -> Result<[u8; 32], StoreError> {
    let mut hasher = Sha256::new();
    logical_rows(db, |row| {
        hasher.update(row.as_bytes());
        hasher.update(b"\n");
    })?;
    Ok(hasher.finalize().into())
}

impl View {
    /// Every logical row, ordered by key: for tests that fold both ways and compare.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn logical_rows(&self) -> Result<Vec<String>, StoreError> {
        let mut rows = Vec::new();
        logical_rows(&self.db, |row| rows.push(row))?;
        Ok(rows)
    }
}
