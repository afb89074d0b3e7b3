//! From a folded record to the rows that find it again.

use rusqlite::{Connection, OptionalExtension, params};
use serde_json::Value;
use uuid::Uuid;

use super::{StoreError, amount, wording};
use crate::change::State;
use crate::id::RecordId;
use crate::moment::Moment;

/// Counts and lengths are never negative; a damaged one reads as nought and is caught by the check.
pub fn unsigned(n: i64) -> u64 {
    u64::try_from(n).unwrap_or(0)
}

/// The inverse, for lengths far below 2^63.
pub fn signed(n: u64) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}

/// Which record this one belongs to: a photo, a name or advice to its find, a visit to its patch, a patch to the one it was merged
/// into.
fn parent(kind: &str, state: &State) -> Option<Uuid> {
    match kind {
        "photo" | "determination" | "advice" => id(state, "find"),
        "visit" => id(state, "patch"),
        "patch" => id(state, "merged_into"),
        _ => None,
    }
}

pub fn id(state: &State, field: &str) -> Option<Uuid> {
    state.shown(field)?.as_str()?.parse().ok()
}

fn millis(state: &State, field: &str) -> Option<i64> {
    Some(state.shown(field)?.as_str()?.parse::<Moment>().ok()?.millis())
}

fn degrees(state: &State) -> Option<(f64, f64)> {
    let at = state.shown("position").or_else(|| state.shown("centre"))?;
    let number = |name| at.get(name).and_then(Value::as_f64);
    let (latitude, longitude) = (number("latitude")?, number("longitude")?);
    let on_earth = (-90.0..=90.0).contains(&latitude) && (-180.0..=180.0).contains(&longitude);
    on_earth.then_some((latitude, longitude))
}

/// Writes all rows of one record, in place of those it had.
pub fn write(db: &Connection, kind: &str, record: RecordId, state: &State) -> Result<(), StoreError> {
    let mut known = db.prepare_cached("SELECT n, parent, state FROM record WHERE id = ?1 AND kind = ?2")?;
    let known = known
        .query_row(params![record.0, kind], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))
        .optional()?;
    let Some((n, before, said)): Option<(i64, Option<Uuid>, String)> = known else {
        return write_new(db, kind, record, state);
    };
    db.prepare_cached("UPDATE record SET parent = ?2, deleted = ?3, state = ?4 WHERE n = ?1")?
        .execute(params![n, parent(kind, state), state.deleted(), serde_json::to_string(state)?])?;
    for table in ["timed", "place", "photo", "amount"] {
        db.prepare_cached(&format!("DELETE FROM {table} WHERE n = ?1"))?.execute([n])?;
    }
    index(db, n, kind, record, state)?;
    if !wording::is_same(kind, &serde_json::from_str(&said)?, state) {
        wording::remove(db, n)?;
        wording::write(db, n, kind, record.0, state)?;
    }
    match before.filter(|find| kind == "determination" && parent(kind, state) != Some(*find)) {
        Some(find) => rename(db, find),
        None => Ok(()),
    }
}

/// Brings up to date what the rows of a find say of its names.
fn rename(db: &Connection, find: Uuid) -> Result<(), StoreError> {
    amount::rename(db, find)?;
    wording::rename(db, find)
}

/// Writes the rows of a record that has none yet.
pub fn write_new(db: &Connection, kind: &str, record: RecordId, state: &State) -> Result<(), StoreError> {
    db.prepare_cached("INSERT INTO record(kind, id, parent, deleted, state) VALUES (?1, ?2, ?3, ?4, ?5)")?
        .execute(params![
            kind,
            record.0,
            parent(kind, state),
            state.deleted(),
            serde_json::to_string(state)?
        ])?;
    let n = db.last_insert_rowid();
    index(db, n, kind, record, state)?;
    wording::write(db, n, kind, record.0, state)
}

/// The rows by which a record is found; one that is deleted is found by its id alone.
fn index(db: &Connection, n: i64, kind: &str, record: RecordId, state: &State) -> Result<(), StoreError> {
    if let ("determination", Some(find)) = (kind, parent(kind, state)) {
        rename(db, find)?;
    }
    if state.deleted() {
        return Ok(());
    }
    if let "find" | "visit" | "outing" = kind {
        let at = millis(state, if kind == "outing" { "start" } else { "at" });
        db.prepare_cached("INSERT INTO timed(n, kind, at, outing, patch) VALUES (?1, ?2, ?3, ?4, ?5)")?
            .execute(params![n, kind, at, id(state, "outing"), id(state, "patch")])?;
    }
    if kind == "find" {
        amount::write(db, n, record, state)?;
    }
    if let ("find" | "patch", Some((latitude, longitude))) = (kind, degrees(state)) {
        // The R*Tree rounds outwards to 32 bits and finds candidates; the exact degrees beside it decide.
        db.prepare_cached(
            "INSERT INTO place(n, south, north, west, east, kind, latitude, longitude)
             VALUES (?1, ?2, ?2, ?3, ?3, ?4, ?2, ?3)",
        )?
        .execute(params![n, latitude, longitude, kind])?;
    }
    if let ("photo", Some(hash)) = (kind, state.shown("sha256").and_then(Value::as_str)) {
        db.prepare_cached("INSERT INTO photo(n, sha256) VALUES (?1, ?2)")?.execute(params![n, hash])?;
    }
    Ok(())
}
