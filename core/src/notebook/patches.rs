//! Patches and visits, as records; what is made of them comes elsewhere.

use serde::Serialize;

use super::act::Edit;
use super::record::{Kept, fields};
use super::{Notebook, kind};
use crate::error::Error;
use crate::id::{PatchId, VisitId};
use crate::patch::{Patch, Visit};
use crate::store::{Criteria, Record};

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

impl Notebook {
    /// Keeps a patch.
    ///
    /// # Errors
    /// Whatever the disk says.
    pub fn add_patch(&self, patch: &Patch) -> Result<PatchRecord, Error> {
        let id = PatchId::new();
        self.keep(&[Edit::new(kind::PATCH, id, fields(patch)?)])?;
        let record = self.read(|view| view.record(kind::PATCH, id.into()))?;
        record.as_ref().map(PatchRecord::from).ok_or(Error::NotFound { what: "patch" })
    }

    /// Patches that meet the criteria: near a point, nearest first; otherwise all, oldest first.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn patches(&self, criteria: &Criteria) -> Result<Vec<PatchRecord>, Error> {
        let records = self.read(|view| match criteria.within {
            Some(_) => view.matching(kind::PATCH, criteria),
            None => view.all(kind::PATCH),
        })?;
        Ok(records.iter().map(PatchRecord::from).collect())
    }

    /// Keeps a look at a patch, "nothing there" included; now unless it says when.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a patch that is not there.
    pub fn add_visit(&self, mut visit: Visit) -> Result<VisitRecord, Error> {
        visit.at = visit.at.or_else(|| Some(self.now()));
        let patch = visit.patch.ok_or(Error::NotFound { what: "patch" })?;
        let id = VisitId::new();
        self.decide_and_keep(|desk| {
            desk.record(kind::PATCH, patch.into(), "patch")?;
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
