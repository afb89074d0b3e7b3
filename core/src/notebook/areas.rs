//! Areas: kept, listed, removed, and which of them a place lies in.

use serde::Serialize;

use super::act::Edit;
use super::record::{Kept, fields};
use super::{Notebook, kind};
use crate::allowance::{AreaHere, Whereto};
use crate::area::{Area, Lies};
use crate::change::DELETED;
use crate::code::{self, Code};
use crate::error::Error;
use crate::id::AreaId;
use crate::place::Position;
use crate::store::Record;

/// An area as kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AreaRecord {
    /// Its id.
    pub id: AreaId,
    /// Its fields.
    #[serde(flatten)]
    pub area: Kept<Area>,
}

impl From<&Record> for AreaRecord {
    fn from(record: &Record) -> Self {
        Self { id: record.id.into(), area: Kept::from(record) }
    }
}

impl AreaRecord {
    /// The name it goes by: its own, or its id.
    #[must_use]
    pub fn name(&self) -> String {
        self.area.value.name.clone().unwrap_or_else(|| self.id.to_string())
    }
}

/// What the areas on record say of a place.
#[derive(Debug, Default)]
pub(super) struct Ground {
    /// Those that it lies in, or may lie in.
    pub here: Vec<AreaHere>,
    /// The codes that hold there besides.
    pub codes: Vec<&'static Code>,
    /// Areas whose outline or code this version does not know: they are never judged by half.
    pub unread: Vec<String>,
}

impl Notebook {
    /// Keeps areas: all of them, or none.
    ///
    /// # Errors
    /// [`Error::Field`]; [`Error::Code`] for a code that is not there.
    pub fn add_areas(&self, areas: &[Area]) -> Result<Vec<AreaRecord>, Error> {
        let mut edits = Vec::new();
        let mut ids = Vec::new();
        for area in areas {
            area.validate()?;
            if let Some(code) = &area.code {
                code::by_id(code::shipped()?, code)?;
            }
            let id = AreaId::new();
            ids.push(id);
            edits.push(Edit::new(kind::AREA, id, fields(area)?));
        }
        self.keep(&edits)?;
        let all = self.areas()?;
        Ok(all.into_iter().filter(|area| ids.contains(&area.id)).collect())
    }

    /// The areas, oldest first.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn areas(&self) -> Result<Vec<AreaRecord>, Error> {
        let records = self.read(|view| view.all(kind::AREA))?;
        Ok(records.iter().map(AreaRecord::from).collect())
    }

    /// Takes an area away, by its name or the beginning of its id.
    ///
    /// # Errors
    /// [`Error::NotFound`] or [`Error::Ambiguous`].
    pub fn remove_area(&self, name: &str) -> Result<(), Error> {
        let named: Vec<AreaRecord> =
            self.areas()?.into_iter().filter(|area| area.name().eq_ignore_ascii_case(name.trim())).collect();
        let id = match named.as_slice() {
            [] => self.beginning(kind::AREA, "area", name)?,
            [one] => one.id.into(),
            _ => return Err(Error::Ambiguous { what: "area" }),
        };
        self.keep(&[Edit::field(kind::AREA, id, DELETED, true)])
    }

    /// What the areas on record say of a place; of one that nobody knows, which closed areas it might lie in.
    pub(super) fn ground(&self, place: Option<Position>) -> Result<Ground, Error> {
        let mut ground = Ground::default();
        for record in self.areas()? {
            let name = record.name();
            let area = record.area.value;
            let closed = area.closed == Some(true);
            let Some(outline) = &area.outline else {
                ground.unread.push(name);
                continue;
            };
            let whereto = match place.map(|place| outline.whereto(place)) {
                Some(Lies::Inside) => Whereto::Inside,
                Some(Lies::Near(metres)) => Whereto::Near(metres),
                None if closed => Whereto::Unknown,
                Some(Lies::Outside) | None => continue,
            };
            match area.code.map(|code| code::by_id(code::shipped()?, &code)) {
                Some(Ok(code)) => ground.codes.push(code),
                Some(Err(_)) => ground.unread.push(name.clone()),
                None => {}
            }
            ground.here.push(AreaHere { name, closed, whereto });
        }
        Ok(ground)
    }
}
