//! What each find comes to, and the sums of these by patch and day, which the tables keep up themselves.

use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, Row, ToSql, params, params_from_iter};
use serde_json::Value;
use uuid::Uuid;

use super::query::FAMILY;
use super::{StoreError, View, row};
use crate::change::State;
use crate::find::Find;
use crate::id::{OutingId, PatchId, RecordId};
use crate::moment::Moment;
use crate::patch::{Amounts, Many, Tally};

/// Which sums are asked for: days from one to another, both included, and perhaps one patch with those merged into it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// The first day.
    pub from: Date,
    /// The last day.
    pub to: Date,
    /// Of one patch only.
    pub patch: Option<PatchId>,
}

impl Default for Span {
    /// Everything.
    fn default() -> Self {
        Self { from: Date::ZERO, to: Date::MAX, patch: None }
    }
}

/// Writes what a find comes to, under the name that stands for it.
pub fn write(db: &Connection, n: i64, find: RecordId, state: &State) -> Result<(), StoreError> {
    let Some(day) = day(find, state) else { return Ok(()) };
    let amounts = Amounts::of(&read(state));
    let id = |field| row::id(state, field).map(|id| id.as_bytes().to_vec()).unwrap_or_default();
    let by = state.shown("by").and_then(Value::as_str).unwrap_or_default();
    db.prepare_cached(
        "INSERT INTO amount VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)",
    )?
    .execute(params![
        n,
        id("patch"),
        day.to_string(),
        id("outing"),
        standing_name(db, find.0)?,
        by,
        amounts.finds,
        amounts.seen.least,
        amounts.seen.most.unwrap_or(0),
        amounts.seen.most.is_none(),
        amounts.taken.least,
        amounts.taken.most.is_none(),
        amounts.specimens,
        row::signed(amounts.milligrams),
        amounts.unweighed,
    ])?;
    Ok(())
}

/// Brings the name of a find's row up to date, after a name was given to it or taken back.
pub fn rename(db: &Connection, find: Uuid) -> Result<(), StoreError> {
    let mut known =
        db.prepare_cached("SELECT n, state FROM record WHERE id = ?1 AND kind = 'find' AND NOT deleted")?;
    let found =
        known.query_row([find], |row| Ok((row.get::<_, i64>(0)?, row.get::<_, String>(1)?))).optional()?;
    let Some((n, state)) = found else { return Ok(()) };
    let mut same = db.prepare_cached("SELECT 1 FROM amount WHERE n = ?1 AND taxon = ?2")?;
    if same.exists(params![n, standing_name(db, find)?])? {
        return Ok(());
    }
    db.prepare_cached("DELETE FROM amount WHERE n = ?1")?.execute([n])?;
    write(db, n, RecordId(find), &serde_json::from_str(&state)?)
}

/// The latest name given to a find that was not withdrawn; empty if there is none.
fn standing_name(db: &Connection, find: Uuid) -> Result<String, StoreError> {
    let mut names = db.prepare_cached(
        "SELECT state ->> '$.taxon[0].value' AS taxon FROM record
         WHERE parent = ?1 AND kind = 'determination' AND NOT deleted
           AND typeof(taxon) = 'text' AND state ->> '$.withdrawn[0].value' IS NOT 1 ORDER BY id DESC LIMIT 1",
    )?;
    Ok(names.query_row([find], |row| row.get(0)).optional()?.unwrap_or_default())
}

/// The day of a find by the clock that was carried; without a time, the day on which its id was made.
fn day(find: RecordId, state: &State) -> Option<Date> {
    let noted = state.shown("at").and_then(Value::as_str).and_then(|at| at.parse::<Moment>().ok());
    noted.map(Moment::day).or_else(|| find.made())
}

/// The fields that amounts are made of, each by itself: one that a later version wrote does not hide the others.
fn read(state: &State) -> Find {
    fn one<T: serde::de::DeserializeOwned>(state: &State, field: &str) -> Option<T> {
        T::deserialize(state.shown(field)?).ok()
    }
    Find {
        seen: one(state, "seen"),
        taken: one(state, "taken"),
        specimens: one(state, "specimens"),
        grams: one(state, "grams"),
        ..Find::default()
    }
}

impl View {
    /// The sums over finds, by day, then patch, outing, name and gatherer.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn tallies(&self, span: &Span) -> Result<Vec<Tally>, StoreError> {
        let (from, to) = (span.from.to_string(), span.to.to_string());
        let patch = span.patch.map(|id| id.0);
        let mut values: Vec<&dyn ToSql> = vec![&from, &to];
        values.extend(patch.as_ref().map(|patch| patch as &dyn ToSql));
        let of_patch = if patch.is_some() { format!("AND patch IN ({FAMILY})") } else { String::new() };
        let sql = format!(
            "SELECT * FROM tally WHERE day BETWEEN ? AND ? {of_patch} ORDER BY day, patch, outing, taxon, gatherer"
        );
        let mut statement = self.db.prepare_cached(&sql)?;
        let mut rows = statement.query(params_from_iter(values))?;
        let mut tallies = Vec::new();
        while let Some(row) = rows.next()? {
            tallies.push(tally(row)?);
        }
        Ok(tallies)
    }
}

fn tally(row: &Row<'_>) -> Result<Tally, StoreError> {
    let id = |column| -> Result<Option<Uuid>, StoreError> {
        let bytes = row.get_ref(column)?.as_blob().map_err(|_| StoreError::Damaged)?;
        Ok(if bytes.is_empty() {
            None
        } else {
            Some(Uuid::from_slice(bytes).map_err(|_| StoreError::Damaged)?)
        })
    };
    let text = |column| -> Result<Option<String>, StoreError> {
        Ok(Some(row.get::<_, String>(column)?).filter(|text| !text.is_empty()))
    };
    let number = |column| -> Result<u32, StoreError> {
        Ok(u32::try_from(row.get::<_, i64>(column)?).unwrap_or(u32::MAX))
    };
    let many = |least, most: u32, open: u32| Many { least, most: (open == 0).then_some(most) };
    let taken = number(9)?;
    Ok(Tally {
        patch: id(0)?.map(PatchId),
        day: text(1)?.and_then(|day| day.parse().ok()).ok_or(StoreError::Damaged)?,
        outing: id(2)?.map(OutingId),
        taxon: text(3)?,
        by: text(4)?,
        amounts: Amounts {
            finds: number(5)?,
            seen: many(number(6)?, number(7)?, number(8)?),
            taken: many(taken, taken, number(10)?),
            specimens: number(11)?,
            milligrams: row::unsigned(row.get(12)?),
            unweighed: number(13)?,
        },
    })
}
