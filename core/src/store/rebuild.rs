//! Building a view afresh: every change in, then every record folded once.

use std::path::{Path, PathBuf};
use std::{fs, io};

use rusqlite::{Connection, params};
use tempfile::TempPath;

use super::{StoreError, apply, folded, row, schema, wording};
use crate::change::{Change, Line, fold};
use crate::disk::DiskError;
use crate::id::RecordId;
use crate::log::{Appended, SegmentId};
use crate::progress::Progress;

/// A view that has been built and waits to take its place; one that is dropped is gone.
#[derive(Debug)]
pub struct Fresh {
    building: TempPath,
    place: PathBuf,
}

/// Builds a view in a file beside `path`.
///
/// # Errors
/// [`StoreError`], or whatever the segments bring; the view at `path` is untouched.
pub fn build<E: From<StoreError>>(
    path: &Path,
    segments: impl IntoIterator<Item = Result<(SegmentId, Vec<Line>), E>>,
    progress: &dyn Progress,
) -> Result<Fresh, E> {
    let building = path.with_extension("building");
    let _ = fs::remove_file(&building); // left by a build that was interrupted
    let scrap = TempPath::try_from_path(&building)
        .map_err(|source| StoreError::from(DiskError { doing: "make room for the view", source }))?;
    fill(&building, segments, progress)?;
    Ok(Fresh { building: scrap, place: path.to_owned() })
}

impl Fresh {
    /// Takes the place of the view that was there, which nobody may have open.
    ///
    /// # Errors
    /// [`StoreError`]; then there may be no view, and the next opening builds one.
    pub fn put_in_place(self) -> Result<(), StoreError> {
        let Self { building, place } = self;
        let put = || {
            fs::File::open(&building)?.sync_all()?;
            for side in ["sqlite-wal", "sqlite-shm"] {
                match fs::remove_file(place.with_extension(side)) {
                    Err(e) if e.kind() != io::ErrorKind::NotFound => return Err(e),
                    _ => {}
                }
            }
            building.persist(&place).map_err(|e| e.error)?;
            place.parent().map_or(Ok(()), crate::disk::sync_folder)
        };
        put().map_err(|source: io::Error| {
            StoreError::from(DiskError { doing: "put the view in its place", source })
        })
    }
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
    schema::keep_plans(db)?;
    schema::create(db)?;
    db.execute_batch("BEGIN")?;
    Ok(())
}

fn take_segment(db: &Connection, segment: SegmentId, lines: &[Line]) -> Result<(), StoreError> {
    for line in lines {
        apply::insert(db, line, segment)?;
    }
    let after = lines.iter().map(|line| line.text().len() as u64 + 1).sum();
    folded::note(db, lines, Appended { segment, before: 0, after })
}

/// Folds every record that `from` holds changes of into the empty tables of `to`.
pub fn fold_all(from: &Connection, to: &Connection, progress: &dyn Progress) -> Result<(), StoreError> {
    // Finds come last: the names by which they are summed up are there then.
    fold_kinds(from, to, "kind <> 'find'", progress)?;
    fold_kinds(from, to, "kind = 'find'", progress)?;
    schema::begin_sums(to)
}

fn fold_kinds(
    from: &Connection,
    to: &Connection,
    which: &str,
    progress: &dyn Progress,
) -> Result<(), StoreError> {
    let sql = format!("SELECT record, kind, text FROM change WHERE {which} ORDER BY record, stamp, device");
    let mut statement = from.prepare(&sql)?;
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
        row::write_new(to, &kind, record, &fold(same))?;
        *changes = others;
    }
    Ok(())
}

/// The rows of a view in the order of their keys, without the numbers that differ from one building to the next.
pub fn logical_rows(db: &Connection, mut each: impl FnMut(String)) -> Result<(), StoreError> {
    for (table, columns) in [
        ("record", "quote(r.state) || r.deleted || quote(r.parent)"),
        ("timed", "quote(t.at) || quote(t.outing) || quote(t.patch)"),
        (
            "place",
            "quote(t.south) || quote(t.north) || quote(t.west) || quote(t.east) || quote(t.latitude) || quote(t.longitude)",
        ),
        ("photo", "t.sha256"),
        ("amount", &format!("{AMOUNT} || ' ' || t.doubtful")),
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
    let mut sums =
        db.prepare(&format!("SELECT {AMOUNT} FROM tally AS t ORDER BY patch, day, outing, taxon, gatherer"))?;
    let mut rows = sums.query(params![])?;
    while let Some(row) = rows.next()? {
        each(format!("tally {}", row.get::<_, String>(0)?));
    }
    let (count, sum) = wording::sum(db)?;
    each(format!("wording {count} {sum:032x}"));
    Ok(())
}

const AMOUNT: &str =
    "concat_ws(' ', hex(t.patch), t.day, hex(t.outing), quote(t.taxon), quote(t.gatherer), t.finds, t.seen,
    t.seen_most, t.uncounted, t.taken, t.unnumbered, t.specimens, t.milligrams, t.unweighed)";
