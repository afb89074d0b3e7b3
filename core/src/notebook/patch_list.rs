//! Patches as they are listed: each with the way there and the last look, in the order that is asked for.

use super::patches::{came_of, standing, survivors};
use super::{Notebook, PatchRecord, kind};
use crate::error::Error;
use crate::id::PatchId;
use crate::pack::Pack;
use crate::patch::{Listed, Look, Patch, Sorting, Way, looks};
use crate::place::Position;
use crate::store::{Criteria, StoreError, View, Within};
use crate::units::Metres;

/// A patch in a list.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedPatch {
    /// The patch.
    pub record: PatchRecord,
    /// The way there; `None` where nobody knows from where, or where to.
    pub way: Option<Way>,
    /// The latest look at it.
    pub last_look: Option<Look>,
}

impl Notebook {
    /// All patches, without those that were merged into others, seen from here if somebody knows where that is.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn patch_list(
        &self,
        pack: &Pack,
        here: Option<Position>,
        order: Listed,
    ) -> Result<Vec<ListedPatch>, Error> {
        self.read(|view| {
            let records = survivors(view, &view.all(kind::PATCH)?)?;
            let mut all = Vec::with_capacity(records.len());
            for record in records {
                let one = listed(view, record, here)?;
                all.push((sorting(pack, &one), one));
            }
            all.sort_by(|(a, _), (b, _)| a.compare(b, order));
            Ok(all.into_iter().map(|(_, one)| one).collect())
        })
    }

    /// One patch as it is listed; for one that was merged, that which stands for it.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn listed_patch(&self, id: PatchId, here: Option<Position>) -> Result<ListedPatch, Error> {
        let found = self.read(|view| {
            let record = view.record(kind::PATCH, standing(view, id)?.into())?;
            record.as_ref().map(|record| listed(view, PatchRecord::from(record), here)).transpose()
        })?;
        found.ok_or(Error::NotFound { what: "patch" })
    }

    /// The patches that this one may turn out to be one with, the nearest first, with the way from its middle: those near
    /// enough, and those whose place nobody knows.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn merge_choices(&self, id: PatchId) -> Result<Vec<ListedPatch>, Error> {
        let own = self.listed_patch(id, None)?.record;
        let patch = &own.patch.value;
        self.read(|view| {
            let mut records = match patch.centre {
                Some(of) => {
                    let within = Within { of, metres: Metres::nearest(Patch::FARTHEST_REACH) };
                    view.matching(kind::PATCH, &Criteria { within: Some(within), ..Criteria::default() })?
                }
                None => view.all(kind::PATCH)?,
            };
            if patch.centre.is_some() {
                let unplaced = view.all(kind::PATCH)?.into_iter();
                records.extend(unplaced.filter(|one| PatchRecord::from(one).patch.value.centre.is_none()));
            }
            let others = survivors(view, &records)?.into_iter();
            others
                .filter(|one| one.id != own.id && one.patch.value.taking_in(patch).is_ok())
                .map(|one| listed(view, one, patch.centre))
                .collect()
        })
    }
}

pub(super) fn listed(
    view: &View,
    record: PatchRecord,
    here: Option<Position>,
) -> Result<ListedPatch, StoreError> {
    let (tallies, visits) = came_of(view, record.id)?;
    let last_look = looks(&tallies, &visits).into_iter().next();
    let way = here.and_then(|here| Way::to(&record.patch.value, here));
    Ok(ListedPatch { record, way, last_look })
}

fn sorting(pack: &Pack, one: &ListedPatch) -> Sorting {
    let patch = &one.record.patch.value;
    let english = |taxon: &String| pack.named(taxon).map_or_else(|| taxon.clone(), |named| named.english);
    Sorting {
        kind: patch.taxon.as_ref().map(english),
        name: patch.name.clone(),
        metres: one.way.map(|way| way.distance.get()),
        looked: one.last_look.as_ref().map(|look| look.day),
        id: one.record.id,
    }
}
