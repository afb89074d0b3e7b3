//! Building a view afresh: every change in, then every record folded once.

use std::fs;
use std::path::Path;

use rusqlite::{Connection, params};

use super::{StoreError, apply, row, schema};
use crate::change::{Change, Line, fold};
use crate::id::RecordId;
use crate::log::{Appended, SegmentId};
use crate::progress::Progress;

/// Builds a view in a new file beside `path` and puts it there once it is whole.
///
/// # Errors
/// [`StoreError`]; whatever was at `path` is untouched then.
pub fn build<E: From<StoreError>>(
    path: &Path,
    segments: impl IntoIterator<Item = Result<(SegmentId, Vec<Line>), E>>,
    progress: &dyn Progress,
) -> Result<(), E> {
    let building = path.with_extension("building");
    let _ = fs::remove_file(&building); // left by a build that was interrupted
    let built =
        fill(&building, segments, progress).and_then(|()| put_in_place(&building, path).map_err(E::from));
    if built.is_err() {
        let _ = fs::remove_file(&building);
    }
    built
}

fn fill<E: From<StoreError>>(
    path: &Path,
    segments: impl IntoIterator<Item = Result<(SegmentId, Vec<Line>), E>>,
    progress: &dyn Progress,
) -> Result<(), E> {
    let db = Connection::open(path).map_err(StoreError::from)?;
    bulk(&db)?;
    for segment in segments {
        let (segment, lines) = segment?;
        take_segment(&db, segment, &lines)?;
        progress.step("reading the log").map_err(StoreError::from)?;
    }
    fold_all(&db, &db, progress)?;
    db.execute_batch("COMMIT").map_err(StoreError::from)?;
    db.close().map_err(|(_, error)| StoreError::from(error))?;
    Ok(())
}

/// Speed without safety: a file that is not yet in place may be lost.
pub fn bulk(db: &Connection) -> Result<(), StoreError> {
    db.execute_batch("PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF; PRAGMA cache_size=-32000;")?;
    db.set_prepared_statement_cache_capacity(64);
    schema::create(db)?;
    db.execute_batch("BEGIN")?;
    Ok(())
}

fn take_segment(db: &Connection, segment: SegmentId, lines: &[Line]) -> Result<(), StoreError> {
    for line in lines {
        apply::insert(db, line, segment)?;
    }
    let after = lines.iter().map(|line| line.text().len() as u64 + 1).sum();
    apply::note_segment(db, lines, Appended { segment, before: 0, after })
}

/// Folds every record that `from` holds changes of into the tables of `to`.
pub fn fold_all(from: &Connection, to: &Connection, progress: &dyn Progress) -> Result<(), StoreError> {
    let mut statement =
        from.prepare("SELECT record, kind, text FROM change ORDER BY record, stamp, device")?;
    let mut rows = statement.query([])?;
    // The changes of one id, by kind: nearly always one, but two kinds may share an id without disturbing each other.
    let mut changes: Vec<Change> = Vec::new();
    while let Some(next) = rows.next()? {
        let record = RecordId(next.get(0)?);
        if changes.first().is_some_and(|first| first.record != record) {
            write_records(to, &mut changes)?;
            progress.step("folding records")?;
        }
        changes.push(serde_json::from_str(next.get_ref(2)?.as_str().map_err(|_| StoreError::Damaged)?)?);
    }
    write_records(to, &mut changes)
}

fn write_records(to: &Connection, changes: &mut Vec<Change>) -> Result<(), StoreError> {
    while let Some(first) = changes.first() {
        let (kind, record) = (first.kind.clone(), first.record);
        let (same, others): (Vec<_>, Vec<_>) = changes.drain(..).partition(|change| change.kind == kind);
        row::write(to, &kind, record, &fold(&same))?;
        *changes = others;
    }
    Ok(())
}

fn put_in_place(building: &Path, path: &Path) -> Result<(), StoreError> {
    let place = || {
        fs::File::open(building)?.sync_all()?;
        for side in ["sqlite-wal", "sqlite-shm"] {
            match fs::remove_file(path.with_extension(side)) {
                Err(e) if e.kind() != std::io::ErrorKind::NotFound => return Err(e),
                _ => {}
            }
        }
        fs::rename(building, path)?;
        path.parent().map_or(Ok(()), crate::disk::sync_folder)
    };
    place().map_err(|error: std::io::Error| match error.kind() {
        std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => StoreError::Full,
        _ => StoreError::Other(rusqlite::Error::ToSqlConversionFailure(Box::new(error))),
    })
}

/// The rows of a view in the order of their keys, without the numbers that differ from one building to the next.
pub fn logical_rows(db: &Connection, mut each: impl FnMut(String)) -> Result<(), StoreError> {
    for (table, columns) in [
        ("record", "quote(r.state) || r.deleted || quote(r.parent)"),
        ("timed", "quote(t.at) || quote(t.outing) || quote(t.patch)"),
        ("located", "quote(t.latitude) || ' ' || quote(t.longitude)"),
        ("place", "quote(t.south) || ' ' || quote(t.north) || ' ' || quote(t.west) || ' ' || quote(t.east)"),
        ("photo", "t.sha256"),
    ] {
        let join = if table == "record" { String::new() } else { format!("JOIN {table} AS t USING (n)") };
        let sql =
            format!("SELECT r.kind, hex(r.id), {columns} FROM record AS r {join} ORDER BY r.id, r.kind");
        let mut statement = db.prepare(&sql)?;
        let mut rows = statement.query(params![])?;
        while let Some(row) = rows.next()? {
            let (kind, id, rest): (String, String, String) = (row.get(0)?, row.get(1)?, row.get(2)?);
            each(format!("{table} {kind} {id} {rest}"));
        }
        let strays: i64 = db.query_row(
            &format!("SELECT count(*) FROM {table} WHERE n NOT IN (SELECT n FROM record)"),
            [],
            |row| row.get(0),
        )?;
        each(format!("{table} strays {strays}"));
    }
    Ok(())
}
