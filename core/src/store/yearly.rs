//! What the year is counted from, row by row: nothing is held here that counting does not keep.

use std::collections::BTreeMap;

use jiff::civil::Date;
use rusqlite::{Row, params, params_from_iter};
use uuid::Uuid;

use super::{StoreError, View, amount};
use crate::id::{FindId, OutingId, PatchId};
use crate::moment::Moment;
use crate::patch::Outcome;
use crate::year::{Ground, Pick, Sum, Visited, Went};

/// A find, as the sums have it.
#[derive(Debug, Clone, Copy)]
pub struct Summed<'a> {
    /// Which.
    pub find: FindId,
    /// What it comes to by itself.
    pub sum: Sum<'a>,
}

/// A name given to a find, as the records have it.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct GivenName {
    /// The taxon or group as named; none for "unknown".
    pub taxon: Option<String>,
    /// How it was reached.
    pub how: Option<String>,
}

/// The columns that [`sum`] reads.
const COLUMNS: &str =
    "t.patch, t.day, t.outing, t.taxon, t.gatherer, t.finds, t.seen, t.seen_most, t.uncounted, t.taken,
    t.unnumbered, t.specimens, t.milligrams, t.unweighed";

impl View {
    /// Everything that finds come to, in no order that means anything.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn each_sum(&self, each: &mut dyn FnMut(&Sum<'_>)) -> Result<(), StoreError> {
        let mut statement = self.db.prepare_cached(&format!("SELECT {COLUMNS} FROM tally AS t"))?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            each(&sum(row)?);
        }
        Ok(())
    }

    /// Every find of the months that are meant.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn each_find_of(&self, pick: Pick, each: &mut dyn FnMut(&Summed<'_>)) -> Result<(), StoreError> {
        // Days are written as 2026-10-18.
        let (of_day, wanted) = match pick {
            Pick::One(month) => ("substr(t.day, 1, 7)", month.to_string()),
            Pick::Every(month) => ("substr(t.day, 6, 2)", format!("{month:02}")),
        };
        self.each_summed(&format!("{of_day} = ?"), &[&wanted], each)
    }

    /// Every find of which no table knows whether its name is settled.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn each_doubtful(&self, each: &mut dyn FnMut(&Summed<'_>)) -> Result<(), StoreError> {
        self.each_summed("t.doubtful", &[], each)
    }

    fn each_summed(
        &self,
        which: &str,
        values: &[&str],
        each: &mut dyn FnMut(&Summed<'_>),
    ) -> Result<(), StoreError> {
        let sql = format!("SELECT {COLUMNS}, r.id FROM amount AS t JOIN record AS r USING (n) WHERE {which}");
        let mut statement = self.db.prepare_cached(&sql)?;
        let mut rows = statement.query(params_from_iter(values))?;
        while let Some(row) = rows.next()? {
            each(&Summed { find: FindId(row.get(14)?), sum: sum(row)? });
        }
        Ok(())
    }

    /// Every visit that says which patch and when.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn each_visit(&self, each: &mut dyn FnMut(&Visited)) -> Result<(), StoreError> {
        let mut statement = self.db.prepare_cached(
            "SELECT t.patch, t.outing, r.state ->> '$.at[0].value', r.state ->> '$.outcome[0].value'
             FROM timed AS t JOIN record AS r USING (n)
             WHERE t.kind = 'visit' AND t.at IS NOT NULL AND t.patch IS NOT NULL",
        )?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            let Some(day) = day(&row.get::<_, String>(2)?) else { continue };
            let outcome = text(row, 3)?.and_then(|word| word.parse().ok()).unwrap_or(Outcome::Nothing);
            let outing = row.get::<_, Option<Uuid>>(1)?.map(OutingId);
            each(&Visited { patch: PatchId(row.get(0)?), outing, day, outcome });
        }
        Ok(())
    }

    /// Every outing.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn each_outing(&self, each: &mut dyn FnMut(&Went<'_>)) -> Result<(), StoreError> {
        let mut statement = self.db.prepare_cached(
            "SELECT r.id, r.state ->> '$.start[0].value', r.state ->> '$.where[0].value', r.state ->> '$.end[0].value'
             FROM timed AS t JOIN record AS r USING (n) WHERE t.kind = 'outing'",
        )?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            let (began, place, ended) = (text(row, 1)?, text(row, 2)?, text(row, 3)?);
            each(&Went {
                outing: OutingId(row.get(0)?),
                day: began.as_deref().and_then(day),
                place: place.as_deref().unwrap_or_default(),
                is_over: ended.is_some(),
            });
        }
        Ok(())
    }

    /// Every patch that is there, those that were merged into others too.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn grounds(&self) -> Result<BTreeMap<PatchId, Ground>, StoreError> {
        let mut statement = self.db.prepare_cached(
            "SELECT id, parent, state ->> '$.name[0].value', state ->> '$.taxon[0].value' FROM record
             WHERE kind = 'patch' AND NOT deleted",
        )?;
        let mut rows = statement.query([])?;
        let mut grounds = BTreeMap::new();
        while let Some(row) = rows.next()? {
            let merged_into = row.get::<_, Option<Uuid>>(1)?.map(PatchId);
            let ground = Ground { name: text(row, 2)?, merged_into, kind: text(row, 3)? };
            grounds.insert(PatchId(row.get(0)?), ground);
        }
        Ok(grounds)
    }

    /// The names given to a find that were not taken back, oldest first.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn names_of(&self, find: FindId) -> Result<Vec<GivenName>, StoreError> {
        let mut statement = self.db.prepare_cached(
            "SELECT state ->> '$.taxon[0].value', state ->> '$.how[0].value' FROM record
             WHERE parent = ?1 AND kind = 'determination' AND NOT deleted
               AND state ->> '$.withdrawn[0].value' IS NOT 1 ORDER BY id",
        )?;
        let mut rows = statement.query(params![find.0])?;
        let mut names = Vec::new();
        while let Some(row) = rows.next()? {
            names.push(GivenName { taxon: text(row, 0)?, how: text(row, 1)? });
        }
        Ok(names)
    }
}

fn sum<'a>(row: &'a Row<'_>) -> Result<Sum<'a>, StoreError> {
    let text = |column: usize| -> Result<&'a str, StoreError> {
        row.get_ref(column)?.as_str().map_err(|_| StoreError::Damaged)
    };
    let id = |column: usize| -> Result<Option<Uuid>, StoreError> {
        let bytes = row.get_ref(column)?.as_blob().map_err(|_| StoreError::Damaged)?;
        if bytes.is_empty() {
            Ok(None)
        } else {
            Uuid::from_slice(bytes).map(Some).map_err(|_| StoreError::Damaged)
        }
    };
    Ok(Sum {
        patch: id(0)?.map(PatchId),
        day: text(1)?.parse().map_err(|_| StoreError::Damaged)?,
        outing: id(2)?.map(OutingId),
        taxon: text(3)?,
        by_others: !text(4)?.is_empty(),
        amounts: amount::amounts(row, 5)?,
    })
}

/// A text; none where there is nothing, or something else.
fn text(row: &Row<'_>, column: usize) -> Result<Option<String>, StoreError> {
    Ok(row.get_ref(column)?.as_str_or_null().ok().flatten().map(str::to_owned))
}

/// The day that a clock showed.
fn day(at: &str) -> Option<Date> {
    at.parse::<Moment>().ok().map(Moment::day)
}
