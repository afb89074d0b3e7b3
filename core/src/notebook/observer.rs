//! How often the key is to think its observer wrong: kept with the notebook, because it goes with the eyes and not with the phone.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::act::Edit;
use super::record::{Kept, fields};
use super::{Notebook, kind};
use crate::error::Error;
use crate::id::ObserverId;
use crate::key::ObserverError;
use crate::moment::Moment;

/// What is assumed from then on.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
struct Assumed {
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<ObserverError>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<Moment>,
    /// Fields of a later version.
    #[serde(flatten)]
    further: Map<String, Value>,
}

impl Notebook {
    /// From now on the key assumes this error of its observer; [`ObserverError`] is never below the least.
    ///
    /// # Errors
    /// [`Error::NoRoom`]; whatever the disk says.
    pub fn assume_observer(&self, error: ObserverError) -> Result<(), Error> {
        let assumed = Assumed { error: Some(error), at: Some(self.now()), further: Map::new() };
        self.keep(&[Edit::new(kind::OBSERVER, ObserverId::new(), fields(&assumed)?)])
    }

    /// The error that was last set for its observer; the least if none ever was. Where a later version wrote what this one cannot
    /// read, the most: it is never taken for more certain than it was.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn observer(&self) -> Result<ObserverError, Error> {
        let records = self.read(|view| view.all(kind::OBSERVER))?;
        let Some(last) = records.last() else { return Ok(ObserverError::default()) };
        let most = ObserverError::new(ObserverError::MOST).unwrap_or_default();
        Ok(Kept::<Assumed>::from(last).value.error.unwrap_or(most))
    }
}
