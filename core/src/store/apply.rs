//! Folding one act into the tables, and any record into its rows.

use rusqlite::{Connection, Transaction, TransactionBehavior, params};

use super::{StoreError, folded, row};
use crate::change::{Change, Line, fold};
use crate::id::RecordId;
use crate::log::{Appended, SegmentId};

/// All of an act, or nothing.
pub fn fold_in(db: &mut Connection, lines: &[Line], at: Appended) -> Result<(), StoreError> {
    let act = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
    for line in lines {
        insert(&act, line, at.segment)?;
    }
    folded::note(&act, lines, at)?;
    let mut touched: Vec<_> = lines.iter().map(|line| (line.change.record, &line.change.kind)).collect();
    touched.sort_unstable();
    touched.dedup();
    for (record, kind) in touched {
        refold(&act, record, kind)?;
    }
    act.commit()?;
    Ok(())
}

/// Adds a change; one that is there already stays as it is.
pub fn insert(db: &Connection, line: &Line, segment: SegmentId) -> Result<bool, StoreError> {
    let change = &line.change;
    let added = db
        .prepare_cached(
            "INSERT INTO change(record, kind, stamp, device, segment, text) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
             ON CONFLICT DO NOTHING",
        )?
        .execute(params![
            change.record.0,
            change.kind,
            change.stamp.to_bits(),
            change.device.0,
            segment.number,
            line.text()
        ])?;
    Ok(added > 0)
}

/// Folds one record from all its changes: order-free, so always right.
fn refold(act: &Transaction<'_>, record: RecordId, kind: &str) -> Result<(), StoreError> {
    let mut statement = act.prepare_cached("SELECT text FROM change WHERE record = ?1 AND kind = ?2")?;
    let texts = statement.query_map(params![record.0, kind], |row| row.get::<_, String>(0))?;
    let mut changes: Vec<Change> = Vec::new();
    for text in texts {
        changes.push(serde_json::from_str(&text?)?);
    }
    row::write(act, kind, record, &fold(changes))
}
