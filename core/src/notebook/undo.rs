//! Undo: an act is taken back by a new act that says what it undoes. Nothing is ever taken out of the log.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

use super::act::Edit;
use super::finds::FindRecord;
use super::{Desk, Notebook, kind};
use crate::change::{Change, ChangeId, DELETED};
use crate::error::Error;
use crate::id::{FindId, RecordId};

impl Notebook {
    /// Takes back the last thing done to a find that has not been taken back yet: an amendment, a name, photos, a
    /// deletion, or the adding of the find itself.
    ///
    /// # Errors
    /// [`Error::NothingToUndo`], [`Error::NotFound`].
    pub fn undo_find(&self, id: FindId) -> Result<FindRecord, Error> {
        self.undo(kind::FIND, "find", |_| Ok(id.into()))?;
        self.find(id)
    }

    /// Whether anything done to a find is left to take back.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn can_undo_find(&self, id: FindId) -> Result<bool, Error> {
        self.decide_and_keep(|desk| {
            desk.find(id)?;
            let changes = all_done(desk, kind::FIND, id.into())?;
            Ok((Vec::new(), last_standing_act(&changes).is_some()))
        })
    }

    /// Takes back the last thing done to a record or to what belongs to it; answers which record that was.
    pub(super) fn undo(
        &self,
        kind: &str,
        what: &'static str,
        which: impl Fn(&Desk) -> Result<RecordId, Error>,
    ) -> Result<RecordId, Error> {
        self.decide_and_keep(|desk| {
            let id = which(desk)?;
            desk.record(kind, id, what)?;
            let changes = all_done(desk, kind, id)?;
            let act = last_standing_act(&changes).ok_or(Error::NothingToUndo { what })?;
            Ok((act.iter().rev().map(|change| inverse(change, &changes)).collect(), id))
        })
    }
}

/// The kinds of record that belong to one of this kind, and are undone with it.
fn belonging(kind: &str) -> &'static [&'static str] {
    match kind {
        kind::FIND => &[kind::PHOTO, kind::DETERMINATION],
        kind::PATCH => &[kind::VISIT, kind::PATCH],
        _ => &[],
    }
}

/// Everything done to a record and to what belongs to it, in order.
pub(super) fn all_done(desk: &Desk, kind: &str, id: RecordId) -> Result<Vec<Change>, Error> {
    let mut changes = Vec::new();
    gather(desk, kind, id, &mut changes)?;
    changes.sort_by_key(Change::id);
    Ok(changes)
}

/// Adds everything done to a record and to what belongs to it.
fn gather(desk: &Desk, kind: &str, id: RecordId, changes: &mut Vec<Change>) -> Result<(), Error> {
    // Two devices may have merged patches into each other.
    if changes.iter().any(|change| change.kind == kind && change.record == id) {
        return Ok(());
    }
    changes.extend(desk.view.history(kind, id)?);
    for belongs in belonging(kind) {
        for record in desk.view.once_children(belongs, id)? {
            gather(desk, belongs, record, changes)?;
        }
    }
    Ok(())
}

/// The changes of the last act that somebody asked for and that is neither an undo nor undone.
pub(super) fn last_standing_act(history: &[Change]) -> Option<&[Change]> {
    let undone: BTreeSet<ChangeId> = history.iter().filter_map(|change| change.undoes).collect();
    let stands =
        |change: &Change| change.undoes.is_none() && !change.unasked && !undone.contains(&change.id());
    let last = history.iter().rposition(stands)?;
    // An act counts down to nought in the stamps of one device, one after the other: a part of it that is about another record
    // is not here, and what came later is no part of it.
    let mut first = last;
    while let Some(before) = first.checked_sub(1).and_then(|before| Some((before, history.get(before)?))) {
        let (index, change) = before;
        let follows = history.get(first).is_some_and(|next| {
            change.device == next.device && change.more == next.more + 1 && change.stamp.next() == next.stamp
        });
        if !follows || !stands(change) {
            break;
        }
        first = index;
    }
    history.get(first..=last)
}

/// The edit that brings back what a change replaced.
fn inverse(change: &Change, history: &[Change]) -> Edit {
    let made_the_record =
        !history.iter().any(|other| other.record == change.record && other.id() < change.id());
    let set: Map<String, Value> = if made_the_record {
        [(DELETED.to_owned(), true.into())].into_iter().collect()
    } else {
        change.set.keys().map(|field| (field.clone(), before(change, field, history))).collect()
    };
    Edit { undoes: Some(change.id()), ..Edit::new(&change.kind, change.record, set) }
}

/// What a field held before a change: the latest value that it replaced.
fn before(change: &Change, field: &str, history: &[Change]) -> Value {
    let replaced = history.iter().filter(|other| {
        other.record == change.record && other.kind == change.kind && change.replaces.contains(&other.id())
    });
    replaced.filter_map(|other| other.set.get(field)).next_back().cloned().unwrap_or(Value::Null)
}
