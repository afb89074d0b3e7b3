//! Outings: started, ended, shown.

use serde::Serialize;

use super::act::Edit;
use super::record::{Kept, fields};
use super::{Notebook, kind};
use crate::error::Error;
use crate::find::FieldError;
use crate::id::{OutingId, RecordId};
use crate::moment::Moment;
use crate::outing::Outing;
use crate::store::Record;
use uuid::Uuid;

/// An outing as kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OutingRecord {
    /// Its id.
    pub id: OutingId,
    /// Its fields.
    #[serde(flatten)]
    pub outing: Kept<Outing>,
}

impl From<&Record> for OutingRecord {
    fn from(record: &Record) -> Self {
        Self { id: record.id.into(), outing: Kept::from(record) }
    }
}

impl Notebook {
    /// Begins an outing, now unless it says when. One that was still on is ended at that moment.
    ///
    /// # Errors
    /// [`Error::Field`] if it ends before it begins; whatever the disk says.
    pub fn start_outing(&self, mut outing: Outing) -> Result<OutingRecord, Error> {
        let start = *outing.start.get_or_insert(self.now());
        ordered(start, outing.end)?;
        let id = OutingId::new();
        self.decide_and_keep(|desk| {
            let mut edits = Vec::new();
            if let Some(before) = desk.view.open_outing()? {
                let began = Kept::<Outing>::from(&before).value.start;
                let end = began.map_or(start, |began| began.max(start));
                edits.push(Edit::field(kind::OUTING, before.id, "end", end.to_string()));
            }
            edits.push(Edit::new(kind::OUTING, id, fields(&outing)?));
            Ok((edits, ()))
        })?;
        self.outing(id)
    }

    /// Ends the outing that is on, now unless told when.
    ///
    /// # Errors
    /// [`Error::NotFound`] if none is on; [`Error::Field`] if it would end before it began.
    pub fn end_outing(&self, at: Option<Moment>) -> Result<OutingRecord, Error> {
        let end = at.unwrap_or_else(|| self.now());
        let id = self.decide_and_keep(|desk| {
            let record = desk.view.open_outing()?.ok_or(Error::NotFound { what: "outing that is on" })?;
            if let Some(start) = Kept::<Outing>::from(&record).value.start {
                ordered(start, Some(end))?;
            }
            Ok((vec![Edit::field(kind::OUTING, record.id, "end", end.to_string())], record.id))
        })?;
        self.outing(id.into())
    }

    /// The outing that is on.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn current_outing(&self) -> Result<Option<OutingRecord>, Error> {
        Ok(self.read(crate::store::View::open_outing)?.as_ref().map(OutingRecord::from))
    }

    /// One outing.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn outing(&self, id: OutingId) -> Result<OutingRecord, Error> {
        let record = self.read(|view| view.record(kind::OUTING, id.into()))?;
        record.as_ref().map(OutingRecord::from).ok_or(Error::NotFound { what: "outing" })
    }

    /// Every outing, oldest first.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn outings(&self) -> Result<Vec<OutingRecord>, Error> {
        let records = self.read(|view| view.matching(kind::OUTING, &crate::store::Criteria::default()))?;
        Ok(records.iter().map(OutingRecord::from).collect())
    }

    /// The outing whose id begins like this.
    ///
    /// # Errors
    /// [`Error::NotFound`] or [`Error::Ambiguous`].
    pub fn outing_beginning(&self, beginning: &str) -> Result<OutingId, Error> {
        self.beginning(kind::OUTING, "outing", beginning).map(OutingId::from)
    }

    /// The one record of a kind whose id begins like this.
    pub(super) fn beginning(
        &self,
        kind: &str,
        what: &'static str,
        beginning: &str,
    ) -> Result<RecordId, Error> {
        let figures: String = beginning.trim().chars().filter(|c| *c != '-').collect();
        let written = (1..=32).contains(&figures.len()) && figures.bytes().all(|b| b.is_ascii_hexdigit());
        let end = |fill: &str| Uuid::parse_str(&format!("{figures}{}", fill.repeat(32 - figures.len()))).ok();
        let (Some(from), Some(to)) =
            (written.then(|| end("0")).flatten(), written.then(|| end("f")).flatten())
        else {
            return Err(Error::NotFound { what });
        };
        match self.read(|view| view.beginning(kind, from, to))?.as_slice() {
            [] => Err(Error::NotFound { what }),
            [one] => Ok(*one),
            _ => Err(Error::Ambiguous { what }),
        }
    }
}

fn ordered(start: Moment, end: Option<Moment>) -> Result<(), FieldError> {
    match end {
        Some(end) if end < start => Err(FieldError {
            field: "end",
            why: "an outing cannot end before it began: give a later time".into(),
        }),
        _ => Ok(()),
    }
}
