//! Patches: founded, amended, merged, looked at, and what came of them.

use serde::Serialize;

use super::act::Edit;
use super::advise::Given;
use super::finds::outing_at;
use super::record::{Kept, amended, emptied, fields};
use super::{Desk, Notebook, kind};
use crate::error::Error;
use crate::find::{FieldError, Find};
use crate::id::{FindId, PatchId, VisitId};
use crate::moment::Moment;
use crate::pack::Pack;
use crate::patch::{
    self, Look, Patch, Proposal, SeasonAtPatch, Tally, Visit, history, looks, propose, survivor,
};
use crate::store::{Criteria, Record, Span, StoreError, View, Within};
use crate::units::Metres;

/// A patch as kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PatchRecord {
    /// Its id.
    pub id: PatchId,
    /// Its fields.
    #[serde(flatten)]
    pub patch: Kept<Patch>,
}

impl From<&Record> for PatchRecord {
    fn from(record: &Record) -> Self {
        Self { id: record.id.into(), patch: Kept::from(record) }
    }
}

/// A visit as kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct VisitRecord {
    /// Its id.
    pub id: VisitId,
    /// Its fields.
    #[serde(flatten)]
    pub visit: Kept<Visit>,
}

impl From<&Record> for VisitRecord {
    fn from(record: &Record) -> Self {
        Self { id: record.id.into(), visit: Kept::from(record) }
    }
}

/// A patch with all that belongs to it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PatchHistory {
    /// The patch.
    pub patch: PatchRecord,
    /// The patches that were merged into it, as they are kept.
    pub merged: Vec<PatchRecord>,
    /// What came of it, the latest season first.
    pub seasons: Vec<SeasonAtPatch>,
    /// What was taken there against advice, oldest first.
    pub against_advice: Vec<Heedless>,
}

/// A find of which more was taken than the advice for it allowed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Heedless {
    /// The find.
    pub find: FindId,
    /// When it was made.
    pub at: Option<Moment>,
    /// How many were taken.
    pub taken: Option<u32>,
    /// What was advised, in a line.
    pub advice: String,
    /// Why it was not heeded, if that was said.
    pub because: Option<String>,
}

impl Notebook {
    /// Keeps a patch.
    ///
    /// # Errors
    /// [`Error::Field`].
    pub fn add_patch(&self, patch: &Patch) -> Result<PatchRecord, Error> {
        patch.validate()?;
        let id = PatchId::new();
        self.keep(&[Edit::new(kind::PATCH, id, fields(patch)?)])?;
        self.patch(id)
    }

    /// Founds a patch on a find, which then belongs to it. What the patch does not say itself is taken from the find; its kind from
    /// the find's name, if that is settled.
    ///
    /// # Errors
    /// [`Error::Field`]; [`Error::NotFound`] for a find that is not there.
    pub fn found_patch(&self, pack: &Pack, find: FindId, patch: &Patch) -> Result<PatchRecord, Error> {
        let id = PatchId::new();
        let goes_by = self.judged(pack, find)?.goes_by;
        let named = goes_by.name.filter(|_| goes_by.how.is_some());
        self.decide_and_keep(|desk| {
            let patch = Patch { taxon: patch.taxon.clone().or_else(|| named.clone()), ..patch.clone() };
            let patch = patch.completed_from(&Kept::from(&desk.find(find)?).value);
            patch.validate()?;
            let join = Edit::field(kind::FIND, find, "patch", id.to_string());
            Ok((vec![Edit::new(kind::PATCH, id, fields(&patch)?), join], ()))
        })?;
        self.patch(id)
    }

    /// One patch as kept, merged or not.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn patch(&self, id: PatchId) -> Result<PatchRecord, Error> {
        let record = self.read(|view| view.record(kind::PATCH, id.into()))?;
        record.as_ref().map(PatchRecord::from).ok_or(Error::NotFound { what: "patch" })
    }

    /// Patches that meet the criteria, without those that were merged into others: near a point, nearest first; otherwise
    /// all, oldest first.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn patches(&self, criteria: &Criteria) -> Result<Vec<PatchRecord>, Error> {
        self.read(|view| {
            let records = match criteria.within {
                Some(_) => view.matching(kind::PATCH, criteria)?,
                None => view.all(kind::PATCH)?,
            };
            survivors(view, &records)
        })
    }

    /// The patch that stands for this one: itself, unless it was merged into another.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn standing_patch(&self, id: PatchId) -> Result<PatchId, Error> {
        self.read(|view| standing(view, id))
    }

    /// A patch with its history; for one that was merged, that of the patch which stands for it.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn patch_history(&self, id: PatchId) -> Result<PatchHistory, Error> {
        let found = self.read(|view| {
            let id = standing(view, id)?;
            let Some(record) = view.record(kind::PATCH, id.into())? else { return Ok(None) };
            let of_patch = Criteria { patch: Some(id), ..Criteria::default() };
            let (tallies, visits) = came_of(view, id)?;
            let merged = view.merged_into(id)?.iter().map(PatchRecord::from).collect();
            let patch = PatchRecord::from(&record);
            let seasons = history(&tallies, &visits);
            Ok(Some(PatchHistory { patch, merged, seasons, against_advice: heedless(view, &of_patch)? }))
        })?;
        found.ok_or(Error::NotFound { what: "patch" })
    }

    /// The latest look at a patch; for one that was merged, at that which stands for it.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn last_look(&self, id: PatchId) -> Result<Option<Look>, Error> {
        self.read(|view| {
            let (tallies, visits) = came_of(view, standing(view, id)?)?;
            Ok(looks(&tallies, &visits).into_iter().next())
        })
    }

    /// What finds come to, by day, patch, outing, name and gatherer.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn tallies(&self, span: &Span) -> Result<Vec<Tally>, Error> {
        self.read(|view| view.tallies(span))
    }

    /// Which patch a find belongs to; `named` is the taxon it goes by.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn patch_for(&self, find: &Find, named: Option<&str>) -> Result<Proposal, Error> {
        self.read(|view| patch_for(view, find, named))
    }

    /// Sets fields of a patch and empties others: renames, moves, lets it rest.
    ///
    /// # Errors
    /// [`Error::Field`], [`Error::NotFound`]; then nothing is changed.
    pub fn amend_patch(&self, id: PatchId, changes: &Patch, empty: &[String]) -> Result<PatchRecord, Error> {
        let set = emptied(fields(changes)?, empty, "patch", &patch::FIELDS)?;
        self.decide_and_keep(|desk| {
            let record = desk.record(kind::PATCH, id.into(), "patch")?;
            let Some((set, whole)) = amended::<Patch>(&record, &set) else { return Ok((Vec::new(), ())) };
            whole.validate()?;
            Ok((vec![Edit::new(kind::PATCH, id, set)], ()))
        })?;
        self.patch(id)
    }

    /// Lets a patch rest for so many days from today, or ends its rest.
    ///
    /// # Errors
    /// [`Error::NotFound`]; [`Error::Field`] for more days than there are.
    pub fn rest_patch(&self, id: PatchId, days: Option<u32>) -> Result<PatchRecord, Error> {
        let Some(days) = days else {
            return self.amend_patch(id, &Patch::default(), &["rests_until".to_owned()]);
        };
        let until = self.now().day().checked_add(jiff::SignedDuration::from_hours(24 * i64::from(days)));
        let too_long = |_| FieldError { field: "rests_until", why: "give fewer days".into() };
        let rests_until = Some(until.map_err(too_long)?);
        self.amend_patch(id, &Patch { rests_until, ..Patch::default() }, &[])
    }

    /// Makes one patch of two: finds and visits of both then stand under `into`, which reaches as far as both did. Nothing
    /// is moved; what another device still notes for the merged one is seen here as well.
    ///
    /// # Errors
    /// [`Error::NotFound`]; [`Error::Field`] if they are one already or too far apart.
    pub fn merge_patches(&self, merged: PatchId, into: PatchId) -> Result<PatchRecord, Error> {
        let id = self.decide_and_keep(|desk| {
            let (merged, into) = (standing(&desk.view, merged)?, standing(&desk.view, into)?);
            let patch = |id: PatchId| -> Result<Patch, Error> {
                Ok(Kept::from(&desk.record(kind::PATCH, id.into(), "patch")?).value)
            };
            let (one, other) = (patch(into)?, patch(merged)?);
            if merged == into {
                let why = "these two are one patch already".to_owned();
                return Err(FieldError { field: "into", why }.into());
            }
            let taken_in = fields(&one.taking_in(&other)?)?;
            let mut edits = vec![Edit::field(kind::PATCH, merged, "merged_into", into.to_string())];
            if !taken_in.is_empty() {
                edits.insert(0, Edit::new(kind::PATCH, into, taken_in));
            }
            Ok((edits, into))
        })?;
        self.patch(id)
    }

    /// Takes back the last thing done to a patch that has not been taken back yet: an amendment, a merge, a visit, or the
    /// adding of the patch itself.
    ///
    /// # Errors
    /// [`Error::NothingToUndo`], [`Error::NotFound`].
    pub fn undo_patch(&self, id: PatchId) -> Result<PatchRecord, Error> {
        // A merge is undone from the patch that stands for both.
        let undone = self.undo(kind::PATCH, "patch", |desk| Ok(standing(&desk.view, id)?.into()))?;
        self.patch(undone.into())
    }

    /// Keeps a look at a patch, "nothing there" included; now and on the outing that is on, unless it says otherwise.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a patch that is not there.
    pub fn add_visit(&self, mut visit: Visit) -> Result<VisitRecord, Error> {
        visit.at = visit.at.or_else(|| Some(self.now()));
        let patch = visit.patch.ok_or(Error::NotFound { what: "patch" })?;
        let id = VisitId::new();
        self.decide_and_keep(|desk| {
            desk.record(kind::PATCH, patch.into(), "patch")?;
            let mut visit = visit.clone();
            if visit.outing.is_none() {
                visit.outing = outing_at(desk, visit.at)?;
            }
            Ok((vec![Edit::new(kind::VISIT, id, fields(&visit)?)], ()))
        })?;
        let record = self.read(|view| view.record(kind::VISIT, id.into()))?;
        record.as_ref().map(VisitRecord::from).ok_or(Error::NotFound { what: "visit" })
    }

    /// Visits that meet the criteria, by time.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn visits(&self, criteria: &Criteria) -> Result<Vec<VisitRecord>, Error> {
        let records = self.read(|view| view.matching(kind::VISIT, criteria))?;
        Ok(records.iter().map(VisitRecord::from).collect())
    }

    /// The patch whose id begins like this.
    ///
    /// # Errors
    /// [`Error::NotFound`] or [`Error::Ambiguous`].
    pub fn patch_beginning(&self, beginning: &str) -> Result<PatchId, Error> {
        self.beginning(kind::PATCH, "patch", beginning).map(PatchId::from)
    }
}

impl Desk {
    /// Which patch a find belongs to.
    pub(super) fn patch_for(&self, find: &Find, named: Option<&str>) -> Result<Proposal, Error> {
        Ok(patch_for(&self.view, find, named)?)
    }
}

fn patch_for(view: &View, find: &Find, named: Option<&str>) -> Result<Proposal, StoreError> {
    let Some(here) = find.position.as_ref().map(|at| at.position) else { return Ok(Proposal::Unplaced) };
    // No patch reaches farther, and beyond this much doubt a place says nothing about patches that would not be asked anyway.
    let doubt = here.accuracy().map_or(0.0, Metres::get).min(Patch::FARTHEST_REACH);
    let metres = Metres::nearest(2.0 * Patch::FARTHEST_REACH + doubt);
    let near = Criteria { within: Some(Within { of: here, metres }), ..Criteria::default() };
    let patches = survivors(view, &view.matching(kind::PATCH, &near)?)?;
    Ok(propose(find, named, patches.iter().map(|record| (record.id, &record.patch.value))))
}

/// Those that were not merged into others.
fn survivors(view: &View, records: &[Record]) -> Result<Vec<PatchRecord>, StoreError> {
    let mut standing_ones = Vec::new();
    for record in records.iter().map(PatchRecord::from) {
        if record.patch.value.merged_into.is_none() || standing(view, record.id)? == record.id {
            standing_ones.push(record);
        }
    }
    Ok(standing_ones)
}

/// The patch that stands for this one. A merge into a patch that is not there, or not yet, does not count.
pub(super) fn standing(view: &View, id: PatchId) -> Result<PatchId, StoreError> {
    let there = |id: PatchId| -> Result<Option<Kept<Patch>>, StoreError> {
        Ok(view.record(kind::PATCH, id.into())?.as_ref().map(Kept::from).filter(|patch| !patch.deleted))
    };
    survivor(id, |id| {
        let Some(into) = there(id)?.and_then(|patch| patch.value.merged_into) else { return Ok(None) };
        Ok(there(into)?.map(|_| into))
    })
}

/// What finds at a patch come to, and the visits paid to it.
fn came_of(view: &View, id: PatchId) -> Result<(Vec<Tally>, Vec<Visit>), StoreError> {
    let visits = view.matching(kind::VISIT, &Criteria { patch: Some(id), ..Criteria::default() })?;
    let tallies = view.tallies(&Span { patch: Some(id), ..Span::default() })?;
    Ok((tallies, visits.iter().map(|visit| Kept::from(visit).value).collect()))
}

/// The finds there of which more was taken than was last advised.
fn heedless(view: &View, there: &Criteria) -> Result<Vec<Heedless>, StoreError> {
    let mut all = Vec::new();
    for record in view.matching(kind::FIND, there)? {
        let find: Find = Kept::from(&record).value;
        if find.taken.unwrap_or(0) == 0 && find.specimens.unwrap_or(0) == 0 {
            continue;
        }
        let given = view.children(kind::ADVICE, record.id)?;
        let Some(given) = given.last().map(|last| Kept::<Given>::from(last).value) else { continue };
        if given.is_followed_by(&find) == Some(false)
            && let Some(advice) = given.advice()
        {
            all.push(Heedless {
                find: record.id.into(),
                at: find.at,
                taken: find.taken,
                advice: advice.headline,
                because: given.because,
            });
        }
    }
    all.sort_by_key(|one| (one.at.map(Moment::millis), one.find));
    Ok(all)
}
