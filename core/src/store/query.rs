//! Questions to the view.

use rusqlite::{OptionalExtension, Row, ToSql, params, params_from_iter};
use uuid::Uuid;

use super::{StoreError, View};
use crate::change::{Change, State};
use crate::id::{OutingId, PatchId, RecordId};
use crate::place::{Position, distance};
use crate::units::Metres;

/// A record as folded.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Which.
    pub id: RecordId,
    /// Its fields with everything held.
    pub state: State,
}

/// Round a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Within {
    /// The point.
    pub of: Position,
    /// How far.
    pub metres: Metres,
}

/// Which finds (or visits, outings, patches) are asked for; what is not given does not narrow.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Criteria {
    /// Not before, in milliseconds since 1970.
    pub from: Option<i64>,
    /// Before.
    pub until: Option<i64>,
    /// Of this outing.
    pub outing: Option<OutingId>,
    /// Of this patch, and of those that were merged into it.
    pub patch: Option<PatchId>,
    /// Near a point.
    pub within: Option<Within>,
}

/// A patch and all that were merged into it, also by way of others. A ring of patches merged into each other comes to its end.
pub(super) const FAMILY: &str = "WITH RECURSIVE family(id) AS (VALUES(?) UNION
    SELECT r.id FROM record AS r JOIN family AS f ON r.parent = f.id WHERE r.kind = 'patch') SELECT id FROM family";

/// Metres to a degree of latitude, at the equator where they are fewest (110,574 by WGS84), rounded down.
const METRES_A_DEGREE: f64 = 110_500.0;

impl Within {
    /// Degrees that surely enclose the circle: south, north, and one or two spans of longitude.
    fn boxes(self) -> (f64, f64, Vec<(f64, f64)>) {
        let up = self.metres.get() / METRES_A_DEGREE;
        let (south, north) = (self.of.latitude() - up, self.of.latitude() + up);
        let poleward = south.abs().max(north.abs());
        let across = if poleward < 89.0 { up / poleward.to_radians().cos() } else { 360.0 };
        let (west, east) = (self.of.longitude() - across, self.of.longitude() + across);
        let spans = if east - west >= 360.0 {
            vec![(-180.0, 180.0)]
        } else if west < -180.0 {
            vec![(-180.0, east), (west + 360.0, 180.0)]
        } else if east > 180.0 {
            vec![(west, 180.0), (-180.0, east - 360.0)]
        } else {
            vec![(west, east)]
        };
        (south, north, spans)
    }
}

fn record(row: &Row<'_>) -> Result<Record, StoreError> {
    let state = serde_json::from_str(row.get_ref(1)?.as_str().map_err(|_| StoreError::Damaged)?)?;
    Ok(Record { id: RecordId(row.get(0)?), state })
}

impl View {
    /// One record, deleted or not.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn record(&self, kind: &str, id: RecordId) -> Result<Option<Record>, StoreError> {
        let mut statement =
            self.db.prepare_cached("SELECT id, state FROM record WHERE id = ?1 AND kind = ?2")?;
        let mut rows = statement.query(params![id.0, kind])?;
        rows.next()?.map(record).transpose()
    }

    /// The records of a kind that belong to another, oldest first, deleted ones left out.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn children(&self, kind: &str, parent: RecordId) -> Result<Vec<Record>, StoreError> {
        self.records(
            "SELECT id, state FROM record WHERE parent = ?1 AND kind = ?2 AND NOT deleted ORDER BY id",
            &[&parent.0, &kind],
        )
    }

    /// The ids of the records of a kind that belong to another, deleted ones too.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn once_children(&self, kind: &str, parent: RecordId) -> Result<Vec<RecordId>, StoreError> {
        let mut statement =
            self.db.prepare_cached("SELECT id FROM record WHERE parent = ?1 AND kind = ?2 ORDER BY id")?;
        let ids = statement.query_map(params![parent.0, kind], |row| Ok(RecordId(row.get(0)?)))?;
        Ok(ids.collect::<Result<_, _>>()?)
    }

    /// The patches that were merged into this one, also by way of others, oldest first, deleted ones left out.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn merged_into(&self, patch: PatchId) -> Result<Vec<Record>, StoreError> {
        let sql = format!(
            "SELECT id, state FROM record WHERE id IN ({FAMILY}) AND id <> ? AND kind = 'patch' AND NOT deleted ORDER BY id"
        );
        self.records(&sql, &[&patch.0, &patch.0])
    }

    /// Every record of a kind, oldest first, deleted ones left out.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn all(&self, kind: &str) -> Result<Vec<Record>, StoreError> {
        self.records("SELECT id, state FROM record WHERE kind = ?1 AND NOT deleted ORDER BY id", &[&kind])
    }

    /// The ids of every record of a kind, oldest first, deleted ones left out.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn ids(&self, kind: &str) -> Result<Vec<RecordId>, StoreError> {
        let mut statement =
            self.db.prepare_cached("SELECT id FROM record WHERE kind = ?1 AND NOT deleted ORDER BY id")?;
        let ids = statement.query_map([kind], |row| Ok(RecordId(row.get(0)?)))?;
        Ok(ids.collect::<Result<_, _>>()?)
    }

    /// The ids of a kind that begin like this, at most two: enough to tell one from several.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn beginning(&self, kind: &str, from: Uuid, to: Uuid) -> Result<Vec<RecordId>, StoreError> {
        let mut statement = self
            .db
            .prepare_cached("SELECT id FROM record WHERE id BETWEEN ?1 AND ?2 AND kind = ?3 LIMIT 2")?;
        let ids = statement.query_map(params![from, to, kind], |row| Ok(RecordId(row.get(0)?)))?;
        Ok(ids.collect::<Result<_, _>>()?)
    }

    /// The records of a kind that meet all criteria, by time; those without a time last. Near a point: nearest first.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn matching(&self, kind: &str, criteria: &Criteria) -> Result<Vec<Record>, StoreError> {
        match criteria.within {
            None => self.by_time(kind, criteria, ""),
            Some(within) => self.near(kind, criteria, within),
        }
    }

    fn by_time(&self, kind: &str, criteria: &Criteria, also: &str) -> Result<Vec<Record>, StoreError> {
        let outing = criteria.outing.map(|id| id.0);
        let patch = criteria.patch.map(|id| id.0);
        let mut sql =
            "SELECT r.id, r.state FROM timed AS t JOIN record AS r USING (n) WHERE t.kind = ?".to_owned();
        let mut values: Vec<&dyn ToSql> = vec![&kind];
        let of_patch = format!(" AND t.patch IN ({FAMILY})");
        let narrowing: [(&str, Option<&dyn ToSql>); 4] = [
            (" AND t.at >= ?", criteria.from.as_ref().map(|v| v as &dyn ToSql)),
            (" AND t.at < ?", criteria.until.as_ref().map(|v| v as &dyn ToSql)),
            (" AND t.outing = ?", outing.as_ref().map(|v| v as &dyn ToSql)),
            (&of_patch, patch.as_ref().map(|v| v as &dyn ToSql)),
        ];
        for (clause, value) in narrowing {
            if let Some(value) = value {
                sql.push_str(clause);
                values.push(value);
            }
        }
        sql.push_str(also);
        sql.push_str(" ORDER BY t.at IS NULL, t.at, r.id");
        self.records(&sql, &values)
    }

    fn near(&self, kind: &str, criteria: &Criteria, within: Within) -> Result<Vec<Record>, StoreError> {
        let mut found: Vec<(f64, i64)> = Vec::new();
        let (south, north, spans) = within.boxes();
        let mut statement = self.db.prepare_cached(
            "SELECT n, latitude, longitude FROM place
             WHERE north >= ?1 AND south <= ?2 AND east >= ?3 AND west <= ?4 AND kind = ?5",
        )?;
        for (west, east) in spans {
            let mut rows = statement.query(params![south, north, west, east, kind])?;
            while let Some(row) = rows.next()? {
                let there = Position::new(row.get(1)?, row.get(2)?).map_err(|_| StoreError::Damaged)?;
                let away = distance(within.of, there).get();
                if away <= within.metres.get() {
                    found.push((away, row.get(0)?));
                }
            }
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let narrowed = Criteria { within: None, ..criteria.clone() };
        let mut records = Vec::with_capacity(found.len());
        for (_, n) in found {
            if narrowed == Criteria::default() {
                records.extend(self.records("SELECT id, state FROM record WHERE n = ?1", &[&n])?);
            } else {
                records.extend(self.by_time(kind, &narrowed, &format!(" AND t.n = {n}"))?);
            }
        }
        Ok(records)
    }

    /// The photo records of a file, whichever finds they belong to.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn photos_of_file(&self, sha256: &str) -> Result<Vec<Record>, StoreError> {
        self.records(
            "SELECT r.id, r.state FROM photo AS p JOIN record AS r USING (n) WHERE p.sha256 = ?1 ORDER BY r.id",
            &[&sha256],
        )
    }

    /// The hash of every file that some find owns.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn owned_files(&self) -> Result<Vec<String>, StoreError> {
        let mut statement = self.db.prepare("SELECT DISTINCT sha256 FROM photo ORDER BY sha256")?;
        let hashes = statement.query_map([], |row| row.get(0))?;
        Ok(hashes.collect::<Result<_, _>>()?)
    }

    /// Everything that was ever done to a record, in order of stamps.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn history(&self, kind: &str, id: RecordId) -> Result<Vec<Change>, StoreError> {
        let mut statement = self.db.prepare_cached(
            "SELECT text FROM change WHERE record = ?1 AND kind = ?2 ORDER BY stamp, device",
        )?;
        let mut rows = statement.query(params![id.0, kind])?;
        let mut changes = Vec::new();
        while let Some(row) = rows.next()? {
            changes.push(serde_json::from_str(row.get_ref(0)?.as_str().map_err(|_| StoreError::Damaged)?)?);
        }
        Ok(changes)
    }

    /// The outing that has begun and not ended, the latest if there are several.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn open_outing(&self) -> Result<Option<Record>, StoreError> {
        let mut statement = self.db.prepare_cached(
            "SELECT r.id, r.state FROM timed AS t JOIN record AS r USING (n)
             WHERE t.kind = 'outing' AND r.state ->> '$.end[0].value' IS NULL ORDER BY t.at DESC, r.id DESC LIMIT 1",
        )?;
        let mut rows = statement.query([])?;
        rows.next()?.map(record).transpose()
    }

    /// How many records of a kind there are, deleted ones left out.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn count(&self, kind: &str) -> Result<u64, StoreError> {
        let n = self
            .db
            .query_row("SELECT count(*) FROM record WHERE kind = ?1 AND NOT deleted", [kind], |row| {
                row.get(0)
            })
            .optional()?;
        Ok(super::row::unsigned(n.unwrap_or(0)))
    }

    fn records(&self, sql: &str, values: &[&dyn ToSql]) -> Result<Vec<Record>, StoreError> {
        let mut statement = self.db.prepare_cached(sql)?;
        let mut rows = statement.query(params_from_iter(values.iter()))?;
        let mut records = Vec::new();
        while let Some(row) = rows.next()? {
            records.push(record(row)?);
        }
        Ok(records)
    }
}
