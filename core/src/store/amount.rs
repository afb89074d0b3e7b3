//! What each find comes to, and the sums of these by patch and day, which the tables keep up themselves.

use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, Row, ToSql, params, params_from_iter};
use serde_json::Value;
use uuid::Uuid;

use super::query::FAMILY;
use super::{StoreError, View, row};
use crate::change::State;
use crate::find::{Find, How};
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
    let name = standing_name(db, find.0)?;
    db.prepare_cached(
        "INSERT INTO amount VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16)",
    )?
    .execute(params![
        n,
        id("patch"),
        day.to_string(),
        id("outing"),
        name.taxon,
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
        name.is_doubtful,
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
    let mut same = db.prepare_cached("SELECT 1 FROM amount WHERE n = ?1 AND taxon = ?2 AND doubtful = ?3")?;
    let name = standing_name(db, find)?;
    if same.exists(params![n, name.taxon, name.is_doubtful])? {
        return Ok(());
    }
    db.prepare_cached("DELETE FROM amount WHERE n = ?1")?.execute([n])?;
    write(db, n, RecordId(find), &serde_json::from_str(&state)?)
}

/// The name that a find is summed up under.
struct StandingName {
    /// The latest name given to it that was not withdrawn; empty if there is none.
    taxon: String,
    /// Another name stands beside it, the last word was that it is unknown, or nobody said how it was reached: whether it is settled
    /// then depends on what the names stand for, which no table knows.
    is_doubtful: bool,
}

fn standing_name(db: &Connection, find: Uuid) -> Result<StandingName, StoreError> {
    let mut names = db.prepare_cached(
        "SELECT iif(json_type(state, '$.taxon[0].value') IS 'text', state ->> '$.taxon[0].value', NULL),
           state ->> '$.how[0].value'
         FROM record WHERE parent = ?1 AND kind = 'determination' AND NOT deleted
           AND state ->> '$.withdrawn[0].value' IS NOT 1 ORDER BY id",
    )?;
    let mut rows = names.query([find])?;
    let mut standing = StandingName { taxon: String::new(), is_doubtful: false };
    let (mut is_disputed, mut is_open) = (false, false);
    while let Some(row) = rows.next()? {
        let (taxon, how): (Option<String>, Option<rusqlite::types::Value>) = (row.get(0)?, row.get(1)?);
        is_open = taxon.is_none() || !is_way(how.as_ref());
        if let Some(taxon) = taxon {
            is_disputed |= !standing.taxon.is_empty() && standing.taxon != taxon;
            standing.taxon = taxon;
        }
    }
    standing.is_doubtful = !standing.taxon.is_empty() && (is_disputed || is_open);
    Ok(standing)
}

/// Whether this is a way of reaching a name that this version knows.
fn is_way(how: Option<&rusqlite::types::Value>) -> bool {
    matches!(how, Some(rusqlite::types::Value::Text(how)) if How::ALL.iter().any(|known| known.word() == how))
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
    Ok(Tally {
        patch: id(0)?.map(PatchId),
        day: text(1)?.and_then(|day| day.parse().ok()).ok_or(StoreError::Damaged)?,
        outing: id(2)?.map(OutingId),
        taxon: text(3)?,
        by: text(4)?,
        amounts: amounts(row, 5)?,
    })
}

/// The amounts of a row of sums, from the column where they begin.
pub(super) fn amounts(row: &Row<'_>, from: usize) -> Result<Amounts, StoreError> {
    let number = |column: usize| -> Result<u32, StoreError> {
        Ok(u32::try_from(row.get::<_, i64>(from + column)?).unwrap_or(u32::MAX))
    };
    let many = |least, most: u32, open: u32| Many { least, most: (open == 0).then_some(most) };
    let taken = number(4)?;
    Ok(Amounts {
        finds: number(0)?,
        seen: many(number(1)?, number(2)?, number(3)?),
        taken: many(taken, taken, number(5)?),
        specimens: number(6)?,
        milligrams: row::unsigned(row.get(from + 7)?),
        unweighed: number(8)?,
    })
}
