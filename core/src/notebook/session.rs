//! A session at the key: the answers about a find, kept as they are given and taken back, long before anything is named.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::act::Edit;
use super::{Notebook, kind};
use crate::error::Error;
use crate::id::FindId;
use crate::key::stream::Request;

/// The session about a find. Its record bears the find's id, so that there is one for each, on all devices together.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub(super) struct Session {
    /// All that the key was told, last.
    #[serde(skip_serializing_if = "Option::is_none")]
    asked: Option<Request>,
    /// Fields of a later version.
    #[serde(flatten)]
    further: Map<String, Value>,
}

impl Notebook {
    /// Keeps what the key was told about a find so far. What it was told before stays in the log.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn note_session(&self, id: FindId, request: &Request) -> Result<(), Error> {
        let told = serde_json::to_value(request).map_err(|error| Error::View(error.into()))?;
        self.decide_and_keep(|desk| {
            desk.find(id)?;
            let before = desk.view.record(kind::SESSION, id.into())?;
            let is_new = before.is_none_or(|record| record.state.shown("asked") != Some(&told));
            let edit = is_new.then(|| Edit::field(kind::SESSION, id, "asked", told.clone()));
            Ok((edit.into_iter().collect(), ()))
        })
    }

    /// What the key was last told about a find; nothing if it never was, or in a way that this version cannot read.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn session(&self, id: FindId) -> Result<Option<Request>, Error> {
        let record = self.read(|view| view.record(kind::SESSION, id.into()))?;
        let asked = record.and_then(|record| record.state.shown("asked").cloned());
        Ok(asked.and_then(|asked| serde_json::from_value(asked).ok()))
    }
}
