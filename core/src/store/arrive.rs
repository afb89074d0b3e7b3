//! Changes from elsewhere, folded in together or not at all: what they claim is held against what is known before it counts.

use std::collections::BTreeMap;

use rusqlite::{OptionalExtension, Transaction, TransactionBehavior, params};
use uuid::Uuid;

use super::{StoreError, View, apply, folded, row};
use crate::change::{Change, ChangeId, Line, Size, fold};
use crate::id::RecordId;
use crate::log::Appended;
use crate::progress::Progress;

/// Changes that may be awaited: more than any merge of honest notebooks, and little enough memory.
const MOST_AWAITED: usize = 500_000;

/// Why changes from elsewhere are not folded in. Nothing of them is.
#[derive(Debug, thiserror::Error)]
pub enum Unfit {
    /// The view refused.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// They do not agree with one another, or with what is here.
    #[error("a change {why}")]
    Claim {
        /// What is wrong.
        why: &'static str,
    },
}

impl From<rusqlite::Error> for Unfit {
    fn from(error: rusqlite::Error) -> Self {
        Self::Store(error.into())
    }
}

/// Whether a change is here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Presence {
    /// It is not.
    Absent,
    /// It is, to the letter.
    Here,
    /// One of its name is, and says something else.
    Another,
}

/// An arrival that is under way; one that is dropped has not been.
#[derive(Debug)]
pub struct Arrival<'a> {
    act: Transaction<'a>,
    /// The last row before it.
    last: i64,
}

/// A change of a record that something arrived for.
struct Known {
    change: Change,
    /// It arrived now.
    is_new: bool,
}

impl View {
    /// Begins an arrival.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn arrival(&mut self) -> Result<Arrival<'_>, StoreError> {
        let act = self.db.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let last = act.query_row("SELECT coalesce(max(n), 0) FROM change", [], |row| row.get(0))?;
        act.execute_batch(
            "CREATE TEMP TABLE IF NOT EXISTS absent(stamp INTEGER, device BLOB, PRIMARY KEY(stamp, device)) WITHOUT ROWID;
             DELETE FROM temp.absent;",
        )?;
        Ok(Arrival { act, last })
    }
}

impl Arrival<'_> {
    /// Whether there was a record of this id, of whatever kind, before anything arrived.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn knows(&self, record: Uuid) -> Result<bool, StoreError> {
        let mut statement = self.act.prepare_cached("SELECT 1 FROM record WHERE id = ?1")?;
        Ok(statement.exists(params![record])?)
    }

    /// Whether there is a record of this kind and id now that is not marked as deleted.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn stands(&self, kind: &str, record: RecordId) -> Result<bool, StoreError> {
        let mut statement =
            self.act.prepare_cached("SELECT 1 FROM record WHERE id = ?1 AND kind = ?2 AND NOT deleted")?;
        Ok(statement.exists(params![record.0, kind])?)
    }

    /// Whether a change is here already.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn presence(&self, line: &Line) -> Result<Presence, StoreError> {
        let Change { record, stamp, device, .. } = &line.change;
        let mut statement = self.act.prepare_cached(
            "SELECT text = ?4 FROM change WHERE record = ?1 AND stamp = ?2 AND device = ?3",
        )?;
        let same =
            statement.query_row(params![record.0, stamp.to_bits(), device.0, line.text()], |row| row.get(0));
        Ok(match same.optional()? {
            None => Presence::Absent,
            Some(true) => Presence::Here,
            Some(false) => Presence::Another,
        })
    }

    /// Adds the changes of a segment that the log is about to get.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn add(&self, lines: &[Line], at: Appended) -> Result<(), StoreError> {
        for line in lines {
            apply::insert(&self.act, line, at.segment)?;
        }
        folded::note(&self.act, lines, at)
    }

    /// Folds every record that something arrived for, and proves what the new changes say they replace. Changes that are not
    /// known yet may be replaced: they are still on their way.
    ///
    /// # Errors
    /// [`Unfit`].
    pub fn fold(&self, progress: &dyn Progress) -> Result<(), Unfit> {
        let mut awaited = 0;
        // Finds come last: the names by which they are summed up are there then.
        for finds in [false, true] {
            // Read along the index, which is in order already: to sort what arrived would hold all of it.
            let mut touched = self.act.prepare(
                "SELECT record FROM change INDEXED BY change_by_record GROUP BY record HAVING max(n) > ?1",
            )?;
            let mut rows = touched.query([self.last])?;
            while let Some(next) = rows.next()? {
                self.fold_record(RecordId(next.get(0)?), finds, &mut awaited)?;
                progress.step("folding records").map_err(StoreError::from)?;
            }
        }
        self.prove_absent(awaited)
    }

    /// Folds what has one id: nearly always one record, but two kinds may share an id without disturbing each other.
    fn fold_record(&self, record: RecordId, finds: bool, awaited: &mut usize) -> Result<(), Unfit> {
        let mut statement = self
            .act
            .prepare_cached("SELECT n, kind, text FROM change WHERE record = ?1 AND (kind = 'find') = ?2")?;
        let mut rows = statement.query(params![record.0, finds])?;
        let mut kinds: BTreeMap<String, Vec<Known>> = BTreeMap::new();
        let mut size = Size::default();
        while let Some(next) = rows.next()? {
            let is_new = next.get::<_, i64>(0)? > self.last;
            let text = |column| next.get_ref(column)?.as_str().map_err(|_| StoreError::Damaged);
            let (kind, text) = (text(1)?, text(2)?);
            size.add(text.as_bytes());
            if size.is_beyond_a_record() {
                return Err(Unfit::Claim { why: "is one of more to a single record than any device makes" });
            }
            let change = serde_json::from_str(text).map_err(StoreError::from)?;
            match kinds.get_mut(kind) {
                Some(known) => known.push(Known { change, is_new }),
                None => drop(kinds.insert(kind.to_owned(), vec![Known { change, is_new }])),
            }
        }
        for (kind, known) in kinds.into_iter().filter(|(_, known)| known.iter().any(|one| one.is_new)) {
            if known.iter().any(|one| one.is_new && !one.change.replaces.is_empty()) {
                self.prove(&known, awaited)?;
            }
            let state = fold(known.into_iter().map(|one| one.change).collect());
            row::write(&self.act, &kind, record, &state)?;
        }
        Ok(())
    }

    /// What is said to be replaced is of the same record and shares a field, and nothing replaces itself by a detour.
    fn prove(&self, changes: &[Known], awaited: &mut usize) -> Result<(), Unfit> {
        let known: BTreeMap<ChangeId, &Change> =
            changes.iter().map(|one| (one.change.id(), &one.change)).collect();
        for Known { change, .. } in changes.iter().filter(|one| one.is_new) {
            for old in &change.replaces {
                match known.get(old) {
                    Some(old) if old.set.keys().any(|field| change.set.contains_key(field)) => {}
                    Some(_) => return Err(Unfit::Claim { why: "replaces one of another field" }),
                    None => self.await_absent(*old, awaited)?,
                }
            }
        }
        if has_circle(&known) {
            Err(Unfit::Claim { why: "replaces itself by way of others" })
        } else {
            Ok(())
        }
    }

    /// Remembers a change that is not where it should be: it is still on its way, or belongs to another record.
    fn await_absent(&self, id: ChangeId, awaited: &mut usize) -> Result<(), Unfit> {
        *awaited += self
            .act
            .prepare_cached("INSERT OR IGNORE INTO temp.absent(stamp, device) VALUES (?1, ?2)")?
            .execute(params![id.stamp.to_bits(), id.device.0])?;
        if *awaited > MOST_AWAITED {
            return Err(Unfit::Claim { why: "replaces more than a device can have seen" });
        }
        Ok(())
    }

    /// None of the changes that are awaited is here, in another record. Asked once, for there is no index by stamp.
    fn prove_absent(&self, awaited: usize) -> Result<(), Unfit> {
        let mut elsewhere = self.act.prepare(
            "SELECT 1 FROM change AS c CROSS JOIN temp.absent AS a ON a.stamp = c.stamp AND a.device = c.device",
        )?;
        if awaited > 0 && elsewhere.exists([])? {
            return Err(Unfit::Claim { why: "replaces one of another record" });
        }
        Ok(())
    }

    /// Makes it so.
    ///
    /// # Errors
    /// [`StoreError`]; then nothing has arrived.
    pub fn commit(self) -> Result<(), StoreError> {
        Ok(self.act.commit()?)
    }
}

/// Whether the changes of one record replace one another in a circle: what nobody has seen, nobody can have replaced.
fn has_circle(known: &BTreeMap<ChangeId, &Change>) -> bool {
    // Taking away what replaces nothing that is left, until nothing more can be taken away (Kahn 1962).
    let mut waiting: BTreeMap<ChangeId, usize> = BTreeMap::new();
    let mut replacers: BTreeMap<ChangeId, Vec<ChangeId>> = BTreeMap::new();
    for (id, change) in known {
        let olds = change.replaces.iter().filter(|old| known.contains_key(old));
        for old in olds.clone() {
            replacers.entry(*old).or_default().push(*id);
        }
        waiting.insert(*id, olds.count());
    }
    let mut free: Vec<ChangeId> = waiting.iter().filter(|(_, n)| **n == 0).map(|(id, _)| *id).collect();
    let mut taken = 0;
    while let Some(id) = free.pop() {
        taken += 1;
        for replacer in replacers.remove(&id).unwrap_or_default() {
            if let Some(left) = waiting.get_mut(&replacer) {
                *left -= 1;
                if *left == 0 {
                    free.push(replacer);
                }
            }
        }
    }
    taken < known.len()
}
