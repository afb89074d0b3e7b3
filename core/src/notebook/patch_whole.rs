//! A patch with all that its page shows, and what is done there.

use jiff::civil::Date;

use super::act::Edit;
use super::finds::{FindRecord, outing_on};
use super::patch_list::ListedPatch;
use super::patches::{came_of, standing};
use super::today::named;
use super::undo::{all_done, last_standing_act};
use super::{Heedless, Notebook, PatchRecord, VisitRecord, kind};
use crate::allowance::GoesBy;
use crate::change::{Change, DELETED};
use crate::error::Error;
use crate::id::{PatchId, RecordId};
use crate::moment::Moment;
use crate::pack::Pack;
use crate::patch::{Look, Outcome, Row, Visit, looks, rows};
use crate::place::Position;
use crate::store::Criteria;

/// So long a page offers to take an act back: nobody undoes last winter's look by a touch in passing (common practice, no source).
const OFFERED_MILLIS: i64 = 24 * 3_600_000;

/// A patch with all that belongs to it.
#[derive(Debug, Clone)]
pub struct PatchWhole {
    /// The patch, the way there, and the last look.
    pub listed: ListedPatch,
    /// The patches that were merged into it.
    pub merged: Vec<PatchRecord>,
    /// Its history as it is drawn, the latest season first.
    pub rows: Vec<Row>,
    /// Its finds, the latest first, with what each goes by.
    pub finds: Vec<(FindRecord, GoesBy)>,
    /// What was taken there against advice, oldest first.
    pub against_advice: Vec<Heedless>,
    /// The last thing done to it that undo takes back, if that is to be offered: done within a day, or its deletion.
    pub last_act: Option<PatchAct>,
}

/// What was done to a patch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PatchAct {
    /// It was founded.
    Founded,
    /// Its fields were changed.
    Amended,
    /// It was let rest, or its rest ended.
    Rested,
    /// It was looked at.
    Looked,
    /// Another was merged into it.
    Merged,
    /// It was marked as deleted.
    Deleted,
}

impl PatchWhole {
    /// The finds of a look, the latest first.
    pub fn finds_of<'a>(&'a self, look: &'a Look) -> impl Iterator<Item = &'a (FindRecord, GoesBy)> {
        self.finds
            .iter()
            .filter(|(record, _)| day(record).is_some_and(|day| look.holds(record.find.value.outing, day)))
    }
}

/// The day of a find by the clock that was carried; without a time, the day on which its id was made, as sums have it.
fn day(record: &FindRecord) -> Option<Date> {
    record.find.value.at.map(Moment::day).or_else(|| RecordId::from(record.id).made())
}

impl Notebook {
    /// A patch with all that belongs to it, seen from here if somebody knows where that is; for one that was merged, that which
    /// stands for it.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn patch_whole(&self, pack: &Pack, id: PatchId, here: Option<Position>) -> Result<PatchWhole, Error> {
        let listed = self.listed_patch(id, here)?;
        let id = listed.record.id;
        let history = self.patch_history(id)?;
        let now = self.now();
        let offered = |&(act, made): &(PatchAct, i64)| {
            act == PatchAct::Deleted || now.millis().saturating_sub(made) < OFFERED_MILLIS
        };
        let finds = self.finds(&Criteria { patch: Some(id), ..Criteria::default() })?.into_iter().rev();
        Ok(PatchWhole {
            rows: rows(&history.seasons, now.day()),
            finds: finds
                .map(|record| (named(pack, &record), record))
                .map(|(name, find)| (find, name))
                .collect(),
            merged: history.merged,
            against_advice: history.against_advice,
            last_act: self.last_act_at_patch(id)?.filter(offered).map(|(act, _)| act),
            listed,
        })
    }

    /// Keeps a look at a patch, made here and now, unless that was noted already on this outing, or without one on this day: a
    /// second touch says nothing new. `None` where nothing was kept.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a patch that is not there.
    pub fn look_once(&self, patch: PatchId, outcome: Outcome) -> Result<Option<VisitRecord>, Error> {
        let now = self.now();
        let known = self.read(|view| {
            let (tallies, visits) = came_of(view, standing(view, patch)?)?;
            let outing = outing_on(view, now)?;
            Ok(looks(&tallies, &visits).into_iter().find(|look| look.holds(outing, now.day())))
        })?;
        if known.is_some_and(|look| look.outcome >= outcome) {
            return Ok(None);
        }
        let (patch, outcome) = (Some(patch), Some(outcome));
        self.add_visit(Visit { patch, outcome, at: Some(now), ..Visit::default() }).map(Some)
    }

    /// Marks a patch as deleted, and with it those that were merged into it. Its finds stay, and undo brings it back.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn delete_patch(&self, id: PatchId) -> Result<PatchRecord, Error> {
        let id = self.decide_and_keep(|desk| {
            let id = standing(&desk.view, id)?;
            desk.record(kind::PATCH, id.into(), "patch")?;
            let merged = desk.view.merged_into(id)?.into_iter().map(|record| record.id);
            let all = merged.chain([id.into()]);
            Ok((all.map(|one| Edit::field(kind::PATCH, one, DELETED, true)).collect(), id))
        })?;
        self.patch(id)
    }

    /// The last thing done to a patch that undo would take back, and when, in milliseconds since 1970; `None` if nothing is left.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn last_act_at_patch(&self, id: PatchId) -> Result<Option<(PatchAct, i64)>, Error> {
        self.decide_and_keep(|desk| {
            let id = standing(&desk.view, id)?.into();
            desk.record(kind::PATCH, id, "patch")?;
            let changes = all_done(desk, kind::PATCH, id)?;
            let act = last_standing_act(&changes).and_then(|act| {
                let made = act.last()?.stamp.millis();
                Some((told(act, &changes), made))
            });
            Ok((Vec::new(), act))
        })
    }
}

/// What an act did.
fn told(act: &[Change], history: &[Change]) -> PatchAct {
    let sets = |field: &str| act.iter().any(|change| change.set.contains_key(field));
    let made = |change: &Change| {
        !history.iter().any(|other| other.record == change.record && other.id() < change.id())
    };
    if act.iter().any(|change| change.kind == kind::VISIT) {
        PatchAct::Looked
    } else if act.iter().any(made) {
        PatchAct::Founded
    } else if sets(DELETED) {
        PatchAct::Deleted
    } else if sets("merged_into") {
        PatchAct::Merged
    } else if act.iter().all(|change| change.set.keys().all(|field| field == "rests_until")) {
        PatchAct::Rested
    } else {
        PatchAct::Amended
    }
}
