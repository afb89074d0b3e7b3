//! What was read from other programs' files, kept as patches and areas; what is here already is left as it is.

use std::collections::BTreeSet;

use serde::Serialize;

use super::act::Edit;
use super::record::fields;
use super::{Notebook, kind};
use crate::area::Area;
use crate::code;
use crate::error::Error;
use crate::id::{AreaId, PatchId, RecordId};
use crate::import::{Mark, id_of};
use crate::patch::Patch;
use crate::place::Position;
use crate::store::{StoreError, View};

/// A patch that an import adds.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NewPatch {
    /// Its id.
    pub id: PatchId,
    /// What the file says of it.
    #[serde(flatten)]
    pub mark: Mark,
}

/// An area that an import adds.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NewArea {
    /// Its id.
    pub id: AreaId,
    /// What the file and its reader say of it.
    #[serde(flatten)]
    pub area: Area,
}

/// What an import adds.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Imported {
    /// New patches.
    pub patches: Vec<NewPatch>,
    /// New areas.
    pub areas: Vec<NewArea>,
    /// How many were read before, whatever became of them since.
    pub already_there: usize,
}

/// What an import keeps.
struct Plan {
    edits: Vec<Edit>,
    imported: Imported,
}

impl Notebook {
    /// What an import would add.
    ///
    /// # Errors
    /// As [`Notebook::import`].
    pub fn preview_import(&self, marks: &[Mark], areas: &[Area]) -> Result<Imported, Error> {
        let (patches, areas) = vetted(marks, areas)?;
        let known = self.read(|view| known(view, &patches, &areas))?;
        Ok(plan(&patches, &areas, &known)?.imported)
    }

    /// Keeps marks as patches, and areas: all of them, or none. What was read before is left as it is, renamed, moved or deleted as it may
    /// be since.
    ///
    /// # Errors
    /// [`Error::Field`]; [`Error::Code`] for a code that is not there.
    pub fn import(&self, marks: &[Mark], areas: &[Area]) -> Result<Imported, Error> {
        let (patches, areas) = vetted(marks, areas)?;
        self.decide_and_keep(|desk| {
            let Plan { edits, imported } = plan(&patches, &areas, &known(&desk.view, &patches, &areas)?)?;
            Ok((edits, imported))
        })
    }
}

type WithIds<'a, T> = Vec<(RecordId, &'a T)>;

/// All that a file holds, each with the id that its content has, none twice.
fn vetted<'a>(marks: &'a [Mark], areas: &'a [Area]) -> Result<(WithIds<'a, Mark>, WithIds<'a, Area>), Error> {
    let mut seen = BTreeSet::new();
    let mut patches = Vec::with_capacity(marks.len());
    for mark in marks {
        Patch::from(mark).validate()?;
        let [latitude, longitude] = degrees(mark.centre);
        let id = id_of(kind::PATCH, &[mark.name.as_deref().unwrap_or_default(), &latitude, &longitude]);
        if seen.insert(id) {
            patches.push((id, mark));
        }
    }
    let mut drawn = Vec::with_capacity(areas.len());
    for area in areas {
        area.validate()?;
        if let Some(code) = &area.code {
            code::by_id(code::shipped()?, code)?;
        }
        let outline = serde_json::to_string(&area.outline).map_err(|error| Error::View(error.into()))?;
        let id = id_of(kind::AREA, &[area.name.as_deref().unwrap_or_default(), &outline]);
        if seen.insert(id) {
            drawn.push((id, area));
        }
    }
    Ok((patches, drawn))
}

/// To a centimetre: programs write the same place with more or fewer noughts.
fn degrees(position: Position) -> [String; 2] {
    [position.latitude(), position.longitude()].map(|degrees| format!("{degrees:.7}"))
}

/// Which of these records are there, deleted or not.
fn known(
    view: &View,
    patches: &WithIds<'_, Mark>,
    areas: &WithIds<'_, Area>,
) -> Result<BTreeSet<RecordId>, StoreError> {
    let patches = patches.iter().map(|(id, _)| (kind::PATCH, *id));
    let areas = areas.iter().map(|(id, _)| (kind::AREA, *id));
    let mut known = BTreeSet::new();
    for (kind, id) in patches.chain(areas) {
        if view.record(kind, id)?.is_some() {
            known.insert(id);
        }
    }
    Ok(known)
}

fn plan(
    patches: &WithIds<'_, Mark>,
    areas: &WithIds<'_, Area>,
    known: &BTreeSet<RecordId>,
) -> Result<Plan, Error> {
    let mut plan = Plan { edits: Vec::new(), imported: Imported::default() };
    let imported = &mut plan.imported;
    for (id, mark) in patches.iter().filter(|(id, _)| !known.contains(id)) {
        plan.edits.push(Edit::new(kind::PATCH, *id, fields(&Patch::from(*mark))?));
        imported.patches.push(NewPatch { id: (*id).into(), mark: (*mark).clone() });
    }
    for (id, area) in areas.iter().filter(|(id, _)| !known.contains(id)) {
        plan.edits.push(Edit::new(kind::AREA, *id, fields(area)?));
        imported.areas.push(NewArea { id: (*id).into(), area: (*area).clone() });
    }
    imported.already_there = known.len();
    Ok(plan)
}
