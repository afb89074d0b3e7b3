//! Undo: an act is taken back by a new act that says what it undoes. Nothing is ever taken out of the log.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

use super::act::Edit;
use super::finds::FindRecord;
use super::{Desk, Notebook, kind};
use crate::change::{Change, ChangeId, DELETED};
use crate::error::Error;
use crate::id::FindId;

impl Notebook {
    /// Takes back the last thing done to a find that has not been taken back yet: an amendment, a name, photos, a
    /// deletion, or the adding of the find itself.
    ///
    /// # Errors
    /// [`Error::NothingToUndo`], [`Error::NotFound`].
    pub fn undo_find(&self, id: FindId) -> Result<FindRecord, Error> {
        self.decide_and_keep(|desk| {
            let history = history(desk, id)?;
            let act = last_standing_act(&history).ok_or(Error::NothingToUndo)?;
            Ok((act.iter().rev().map(|change| inverse(change, &history)).collect(), ()))
        })?;
        self.find(id)
    }
}

/// Everything done to a find and to what belongs to it, in order of stamps.
fn history(desk: &Desk, id: FindId) -> Result<Vec<Change>, Error> {
    let find = desk.find(id)?;
    let mut changes = desk.view.history(kind::FIND, find.id)?;
    for belongs in [kind::PHOTO, kind::DETERMINATION] {
        for record in desk.view.once_children(belongs, find.id)? {
            changes.extend(desk.view.history(belongs, record)?);
        }
    }
    changes.sort_by_key(Change::id);
    Ok(changes)
}

/// The changes of the last act that is neither an undo nor undone.
fn last_standing_act(history: &[Change]) -> Option<&[Change]> {
    let undone: BTreeSet<ChangeId> = history.iter().filter_map(|change| change.undoes).collect();
    let stands = |change: &Change| change.undoes.is_none() && !undone.contains(&change.id());
    let last = history.iter().rposition(stands)?;
    // An act counts down to nought in the stamps of one device.
    let mut first = last;
    while let Some(before) = first.checked_sub(1).and_then(|before| Some((before, history.get(before)?))) {
        let (index, change) = before;
        let follows = history
            .get(first)
            .is_some_and(|next| change.device == next.device && change.more == next.more + 1);
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
